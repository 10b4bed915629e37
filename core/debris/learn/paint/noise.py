"""Seeded noise on pixel grids. Everything is float32; scales are pixels."""
import math
import cv2
import numpy as np


def step(x, a, b):
    """0 at `a`, 1 at `b` (either may be the larger), smooth between."""
    t = np.clip((x - a) / (b - a), 0, 1)
    return t * t * (3 - 2 * t)


def blur(x, sigma):
    """Gaussian; wide ones on a reduced picture."""
    if sigma < 0.3:
        return x
    k = int(sigma // 6)
    if k < 2:
        return cv2.GaussianBlur(x, (0, 0), sigma)
    h, w = x.shape[:2]
    small = cv2.resize(x, (max(2, w // k), max(2, h // k)), interpolation=cv2.INTER_AREA)
    return cv2.resize(cv2.GaussianBlur(small, (0, 0), sigma / k), (w, h), interpolation=cv2.INTER_LINEAR)


def _octaves(rng, h, w, sy, sx, octaves, gain, ridged):
    """Lattices of half the spacing each, the coarse ones enlarged into the fine: one full enlargement for all of them."""
    sy, sx = max(sy, 1.0), max(sx, 1.0)
    n = 1
    while n < octaves and sy / 2 ** n >= 1 and sx / 2 ** n >= 1:
        n += 1
    out = None
    gh, gw = int(h / sy) + 4, int(w / sx) + 4
    for k in range(n):
        g = rng.standard_normal((gh, gw), dtype=np.float32)
        if ridged:
            g = 1 - 2 * np.abs(g)
        out = g if out is None else cv2.resize(out, (gw, gh), interpolation=cv2.INTER_CUBIC) + np.float32(gain ** k) * g
        if k < n - 1:
            gh, gw = gh * 2, gw * 2
    ty, tx = sy / 2 ** (n - 1), sx / 2 ** (n - 1)
    if ty <= 1.0 and tx <= 1.0:
        return out[:h, :w]
    nh, nw = min(gh, int(h / ty) + 3), min(gw, int(w / tx) + 3)
    y, x = int(rng.integers(0, gh - nh + 1)), int(rng.integers(0, gw - nw + 1))
    H, W = max(h, int(nh * ty)), max(w, int(nw * tx))
    big = cv2.resize(out[y:y + nh, x:x + nw], (W, H), interpolation=cv2.INTER_CUBIC if max(ty, tx) > 2 else cv2.INTER_LINEAR)
    y, x = int(rng.integers(0, H - h + 1)), int(rng.integers(0, W - w + 1))
    return big[y:y + h, x:x + w]


def _turned(make, h, w, angle):
    """What `make(h, w)` gives, turned by `angle` (rad)."""
    if abs(math.sin(angle)) < 1e-3:
        return make(h, w)
    d = int(math.hypot(h, w)) + 2
    m = cv2.getRotationMatrix2D((d / 2, d / 2), math.degrees(angle), 1)
    m[:, 2] += [w / 2 - d / 2, h / 2 - d / 2]
    return cv2.warpAffine(make(d, d), m, (w, h), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REFLECT)


def smooth(rng, h, w, scale, stretch=1.0, angle=0.0):
    """One octave, about unit variance; `stretch` makes it longer along `angle`."""
    return fbm(rng, h, w, scale, 1, 1.0, stretch, angle)


def fbm(rng, h, w, scale, octaves=4, gain=0.5, stretch=1.0, angle=0.0, ridged=False):
    """Octaves from `scale` down, unit variance and no mean."""
    make = lambda a, b: _octaves(rng, a, b, scale, scale * stretch, octaves, gain, ridged)
    out = make(h, w) if stretch == 1.0 else _turned(make, h, w, angle)
    k = 3 if h * w > 40000 else 1
    part = out[::k, ::k]
    return (out - np.float32(part.mean())) * np.float32(1 / (part.std() + 1e-6))


def cells(rng, h, w, size, jitter=1.0, reduce=2):
    """Cells about random points: (label, distance to the nearest point in px)."""
    a, b = max(2, h // reduce), max(2, w // reduce)
    n = max(1, int(h * w / size ** 2))
    seed = np.full((a, b), 255, np.uint8)
    seed[rng.integers(0, a, n), rng.integers(0, b, n)] = 0
    d, label = cv2.distanceTransformWithLabels(seed, cv2.DIST_L2, 5, labelType=cv2.DIST_LABEL_PIXEL)
    up = lambda x, i: cv2.resize(x, (w, h), interpolation=i)
    return up(label.astype(np.float32), cv2.INTER_NEAREST).astype(np.int32), up(d, cv2.INTER_LINEAR) * reduce


def curve(rng, length, kink, n=24):
    """Points of a random curve about the origin, as long as `length`."""
    t = np.linspace(0, 1, n)
    a = rng.uniform(0, 2 * math.pi) + np.cumsum(rng.normal(size=n)) * kink / n ** 0.5 * 0.5 + t * rng.normal() * kink
    p = np.stack([np.cumsum(np.cos(a)), np.cumsum(np.sin(a))], 1)
    p *= length / max(1e-6, np.linalg.norm(np.diff(p, axis=0), axis=1).sum())
    return p - p.mean(0)


def lines(canvas, points, value, width):
    """A polyline to a part of a pixel."""
    cv2.polylines(canvas, [np.round(np.asarray(points) * 8).astype(np.int32)], False, value, max(1, int(round(width))), cv2.LINE_AA, 3)


def pick(rng, options):
    """One of a list, or by weight of a dict {option: weight}."""
    if isinstance(options, dict):
        k = list(options)
        p = np.array([options[i] for i in k], float)
        return k[int(rng.choice(len(k), p=p / p.sum()))]
    return options[int(rng.integers(len(options)))]


def log_uniform(rng, a, b):
    return float(math.exp(rng.uniform(math.log(a), math.log(b))))


def sign(rng):
    return 1.0 if rng.random() < 0.5 else -1.0


def spot(rng, w, h, lo=0.0, hi=1.0):
    """A random place, as plain floats (numpy's own scalars would make single precision double)."""
    return float(rng.uniform(lo, hi) * w), float(rng.uniform(lo, hi) * h)


def absorb(colour, depth):
    """colour ** depth for each channel, as light passes through `depth` layers."""
    return np.exp(np.log(np.asarray(colour, np.float32)) * np.asarray(depth, np.float32)[..., None])
