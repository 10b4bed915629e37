"""What is done to crops so that a network learns pieces and not a painter: all on the card, all by chance."""

import math

import cv2
import numpy as np
import torch
from torch.nn import functional as F


# ---- marks that are no pieces, drawn once

def marks(count, seed, side=320):
    """Layers of writing, print, pen and pencil lines, long threads, droplets and rims of stains at 8 px/mm: 128 changes nothing,
    less is darker, more is lighter."""
    rng = np.random.default_rng(seed)
    out = np.full((count, side, side), 128, np.uint8)
    fonts = [cv2.FONT_HERSHEY_SCRIPT_SIMPLEX, cv2.FONT_HERSHEY_SCRIPT_COMPLEX, cv2.FONT_HERSHEY_SIMPLEX, cv2.FONT_HERSHEY_PLAIN, cv2.FONT_HERSHEY_DUPLEX, cv2.FONT_HERSHEY_COMPLEX, cv2.FONT_ITALIC]
    signs = "abcdefghiklmnoprstuvwxz0123456789ABCDEFKLMOPRSTX.,:;-+/%()#=?!'\"*"
    for m in out:
        big = np.zeros((side * 2, side * 2), np.float32)
        for _ in range(rng.integers(1, 4)):
            what = rng.random()
            if what < 0.34:
                for _ in range(rng.integers(1, 4)):
                    size = rng.uniform(0.5, 4.5)
                    text = "".join(rng.choice(list(signs), rng.integers(2, 14)))
                    layer = np.zeros(big.shape, np.uint8)
                    cv2.putText(layer, text, (int(rng.uniform(-100, side)), int(rng.uniform(0, 2 * side))), fonts[rng.integers(len(fonts))], size, 255, int(rng.integers(1, 8)), cv2.LINE_AA)
                    big -= layer.astype(np.float32) / 255 * np.float32(rng.uniform(0.4, 1))
            elif what < 0.5:
                # Writing by hand: strokes that swing.
                x, y = rng.uniform(0, side), rng.uniform(0, 2 * side)
                t = np.linspace(0, 1, 400)
                w = rng.uniform(30, 110)
                px = x + t * rng.uniform(200, 600) + w * 0.4 * np.cumsum(rng.normal(size=400)) / 15
                py = y + w * 0.4 * np.sin(t * rng.uniform(30, 90) + np.cumsum(rng.normal(size=400)) * 0.25) * (0.5 + rng.random())
                p = np.stack([px, py], 1)
                cuts = np.sort(rng.integers(0, 400, rng.integers(0, 8)))
                for part in np.split(p, cuts):
                    cv2.polylines(big, [np.round(part * 16).astype(np.int32)], False, -float(rng.uniform(0.4, 1)), int(rng.integers(1, 8)), cv2.LINE_AA, 4)
            elif what < 0.66:
                # Lines: pen, pencil, folds, ticks, grids.
                a, d = rng.uniform(0, math.pi), rng.choice([-1, -1, 1]) * rng.uniform(0.15, 0.9)
                many, gap = (int(rng.integers(1, 4)), rng.uniform(10, 300)) if rng.random() < 0.7 else (14, rng.uniform(16, 80))
                c = rng.uniform(0, 2 * side, 2)
                long = rng.choice([2000, 2000, rng.uniform(20, 120)])
                for k in range(many):
                    o = c + gap * k * np.array([-math.sin(a), math.cos(a)])
                    u = np.array([math.cos(a), math.sin(a)]) * long / 2
                    cv2.line(big, tuple(int(v) for v in o - u), tuple(int(v) for v in o + u), float(d), int(rng.integers(1, 7)), cv2.LINE_AA)
            elif what < 0.72:
                # A thread, longer than any lint.
                p = np.cumsum(np.stack([np.cos(b := np.cumsum(rng.normal(0, 0.09, 500)) + rng.uniform(0, 6)), np.sin(b)], 1) * 2.2, 0) + rng.uniform(0, 2 * side, 2)
                cv2.polylines(big, [np.round(p * 16).astype(np.int32)], False, float(rng.choice([-1, 1]) * rng.uniform(0.3, 0.9)), int(rng.integers(1, 4)), cv2.LINE_AA, 4)
            elif what < 0.77:
                # Glints on scored or pitted metal: short bright strokes, some as rays around one place.
                for _ in range(rng.integers(1, 6)):
                    c, rays, lie = rng.uniform(0, 2 * side, 2), rng.random() < 0.4, rng.uniform(0, math.pi)
                    bright, wide = rng.uniform(0.3, 1), rng.uniform(4, 120)
                    for _ in range(rng.integers(2, 14)):
                        a = rng.uniform(0, math.pi) if rays else lie + rng.normal(0, 0.12)
                        o = c if rays else c + rng.normal(0, wide, 2)
                        u = np.array([math.cos(a), math.sin(a)]) * math.exp(rng.uniform(math.log(4), math.log(40)))
                        ends = [tuple(int(v * 16) for v in o + k * u) for k in (-rng.uniform(0, 1), 1)]
                        cv2.line(big, *ends, float(bright * rng.uniform(0.4, 1)), int(rng.integers(1, 4)), cv2.LINE_AA, 4)
                    if rays:
                        cv2.circle(big, tuple(int(v * 16) for v in c), int(rng.uniform(1, 9) * 16), float(bright), -1, cv2.LINE_AA, 4)
            elif what < 0.9:
                # Droplets: a dark rim, a brighter middle, a glint.
                for _ in range(rng.integers(1, 12)):
                    c, r = rng.uniform(0, 2 * side, 2), math.exp(rng.uniform(math.log(3), math.log(60)))
                    ci = tuple(int(v * 16) for v in c)
                    fill, rim = rng.uniform(-0.6, 0.25), rng.uniform(-0.9, 0.1)
                    if rng.random() < 0.75:
                        cv2.circle(big, ci, int(r * 16), float(fill), -1, cv2.LINE_AA, 4)
                    b = rng.uniform(0, 360)
                    cv2.ellipse(big, ci, (int(r * 16), int(r * rng.uniform(0.8, 1) * 16)), float(b), 0, float(rng.choice([360, rng.uniform(90, 300)])), float(rim), max(1, int(r * rng.uniform(0.08, 0.3))), cv2.LINE_AA, 4)
                    if rng.random() < 0.7:
                        o = c + r * rng.uniform(-0.5, 0.5, 2)
                        cv2.ellipse(big, tuple(int(v * 16) for v in o), (max(8, int(r * rng.uniform(0.05, 0.35) * 16)), max(8, int(r * rng.uniform(0.05, 0.25) * 16))), float(b), 0, 360, float(rng.uniform(0.3, 1)), -1, cv2.LINE_AA, 4)
            else:
                # The rim of a stain.
                c, r = rng.uniform(0, 2 * side, 2), rng.uniform(30, 300)
                a = np.linspace(0, 2 * math.pi, 200)
                q = r * (1 + sum(rng.normal(0, 0.12) * np.cos(k * a + rng.uniform(0, 6)) for k in range(1, 7)))
                p = np.stack([c[0] + q * np.cos(a), c[1] + q * np.sin(a)], 1)
                layer = np.zeros_like(big)
                if rng.random() < 0.7:
                    cv2.fillPoly(layer, [np.round(p).astype(np.int32)], float(rng.uniform(-0.5, -0.1)))
                cv2.polylines(layer, [np.round(p).astype(np.int32)], True, float(rng.uniform(-0.7, -0.1)), int(rng.integers(1, 14)), cv2.LINE_AA)
                big += cv2.GaussianBlur(layer, (0, 0), rng.uniform(0.6, 6))
        big = cv2.GaussianBlur(big, (0, 0), rng.uniform(0.5, 1.6))
        if rng.random() < 0.4:
            big *= np.clip(1 + rng.uniform(0.2, 0.8) * cv2.resize(rng.normal(size=(160, 160)).astype(np.float32), (2 * side, 2 * side)), 0, 1.3)
        m[:] = np.clip(128 + 127 * cv2.resize(big, (side, side), interpolation=cv2.INTER_AREA), 0, 255)
    return torch.from_numpy(out)


def noise(n, side, dev, low, high, stretch=None):
    """Noise of mean 0 and spread 1 of `n` pictures, its wavelengths between low and high px (tensors), some of it drawn out one way."""
    f = torch.fft.fftfreq(side, device=dev)
    fx, fy = f[None, None, : side // 2 + 1].abs(), f[None, :, None]
    fx = torch.fft.rfftfreq(side, device=dev)[None, None]
    a = torch.rand(n, 1, 1, device=dev) * math.pi
    u, v = fx * a.cos() + fy * a.sin(), fy * a.cos() - fx * a.sin()
    if stretch is not None:
        v = v * stretch.reshape(n, 1, 1)
    r = torch.sqrt(u * u + v * v) + 1e-6
    low, high = low.reshape(n, 1, 1), high.reshape(n, 1, 1)
    s = torch.exp(-((r * low * 0.7) ** 4)) * (1 - torch.exp(-((r * high) ** 4)))
    s = s / r.pow(torch.rand(n, 1, 1, device=dev) * 1.5)
    z = torch.fft.irfft2(torch.fft.rfft2(torch.randn(n, side, side, device=dev)) * s, s=(side, side))
    return ((z - z.mean((1, 2), keepdim=True)) / (z.std((1, 2), keepdim=True) + 1e-6)).unsqueeze(1)


def rand(n, dev, a, b):
    return (torch.rand(n, 1, 1, 1, device=dev) * (b - a) + a)


def logrand(n, dev, a, b):
    return torch.exp(rand(n, dev, math.log(a), math.log(b)))


def chance(n, dev, p):
    return (torch.rand(n, 1, 1, 1, device=dev) < p).float()


def relief(n, side, dev):
    """Shading of a lit relief: embossed dots, weave, crepe, casting, grain."""
    g = torch.arange(side, device=dev, dtype=torch.float32)
    a = torch.rand(n, 1, 1, 1, device=dev) * math.pi
    X, Y = g[None, None, None, :], g[None, None, :, None]
    warp = noise(n, side, dev, torch.full((n,), 20.0, device=dev), torch.full((n,), 120.0, device=dev)) * rand(n, dev, 0, 2.5)
    u, v = X * a.cos() + Y * a.sin() + warp, Y * a.cos() - X * a.sin() + warp.flip(2)
    period = logrand(n, dev, 5, 48)
    ratio = logrand(n, dev, 0.6, 1.7)
    wave = torch.cos(2 * math.pi * u / period), torch.cos(2 * math.pi * v / period / ratio)
    kind = torch.randint(0, 6, (n, 1, 1, 1), device=dev)
    power = logrand(n, dev, 1, 8)
    dots = ((wave[0] + wave[1] + 2) / 4).clamp(0, 1).pow(power)
    weave = torch.where((torch.remainder(u / period, 1) < 0.5) ^ (torch.remainder(v / period / ratio, 1) < 0.5), wave[0].abs(), wave[1].abs())
    lines = ((wave[0] + 1) / 2).pow(power)
    grain = noise(n, side, dev, logrand(n, dev, 2, 8).flatten(), logrand(n, dev, 10, 60).flatten(), logrand(n, dev, 1, 8).flatten())
    height = torch.where(kind == 0, dots * 3, torch.where(kind == 1, weave * 2, torch.where(kind == 2, lines * 2, grain)))
    height = torch.where(kind == 4, grain.clamp_min(rand(n, dev, -0.5, 1.2)), height) + 0.25 * rand(n, dev, 0, 1) * noise(n, side, dev, torch.full((n,), 2.0, device=dev), torch.full((n,), 12.0, device=dev))
    dx, dy = height - height.roll(1, 3), height - height.roll(1, 2)
    t = torch.rand(n, 1, 1, 1, device=dev) * 2 * math.pi
    slope = dx * t.cos() + dy * t.sin()
    slope = slope / (slope.std((2, 3), keepdim=True) + 1e-6)
    # Hard light leaves lit edges and shadows behind them; soft light only tone.
    hard = rand(n, dev, 0, 1.5)
    shade = slope + hard * torch.where(slope < -0.8, slope + 0.8, torch.zeros_like(slope))
    return shade.clamp(-5, 5)


def pools(n, side, dev):
    """Pools of oil: where they are, and where their rims and the swell of their middles mirror a lamp, both 0 to 1."""
    full = lambda v: v.flatten()
    z = noise(n, side, dev, full(logrand(n, dev, 14, 70)), full(logrand(n, dev, 100, 500)))
    z = z - rand(n, dev, -0.5, 1.6)
    gx, gy = (z.roll(-1, 3) - z.roll(1, 3)) / 2, (z.roll(-1, 2) - z.roll(1, 2)) / 2
    g = torch.sqrt(gx * gx + gy * gy) + 2e-3
    d = z / g
    inside = torch.sigmoid(d / logrand(n, dev, 0.3, 3))
    wide = logrand(n, dev, 0.6, 4)
    a = torch.rand(n, 1, 1, 1, device=dev) * 2 * math.pi
    faces = (gx * a.cos() + gy * a.sin()) / g + 0.25 * noise(n, side, dev, full(logrand(n, dev, 3, 8)), full(logrand(n, dev, 12, 60)))
    rim = torch.exp(-(((d - wide) / wide) ** 2).clamp_max(30)) * torch.sigmoid((faces - rand(n, dev, -0.3, 0.95)) / logrand(n, dev, 0.02, 0.2))
    swell = noise(n, side, dev, full(logrand(n, dev, 4, 16)), full(logrand(n, dev, 20, 120)), full(logrand(n, dev, 1, 4)))
    patches = inside * torch.sigmoid((swell - rand(n, dev, 1.6, 3.5)) / logrand(n, dev, 0.02, 0.3)) * chance(n, dev, 0.5)
    return inside, torch.maximum(rim * rand(n, dev, 0.3, 1), patches * rand(n, dev, 0.4, 1))


OILS = [(0.75, 0.12, 0.08), (0.55, 0.3, 0.12), (0.25, 0.14, 0.07), (0.12, 0.09, 0.07), (0.85, 0.65, 0.35), (0.95, 0.9, 0.8)]


def ground_of(x, cover):
    """The ground behind the pieces, by the mean of what is bare around."""
    open_ = 1 - F.max_pool2d(cover, 9, 1, 4)
    s = torch.cat([x * open_, open_], 1)
    for k in (8,):
        s = F.avg_pool2d(s, k)
        s = F.avg_pool2d(s, 5, 1, 2, count_include_pad=False)
    s = F.interpolate(s, scale_factor=8, mode="bilinear")
    return s[:, :3] / (s[:, 3:] + 1e-3), (s[:, 3:] > 0.02).float()


def paste(c, part):
    """Pieces of one crop laid on the ground of another, with the shadow beside them as a ratio to their ground."""
    n, dev = c["rgb"].shape[0], c["rgb"].device
    j = torch.randperm(n, device=dev)
    on = chance(n, dev, part)
    src = {k: v[j] for k, v in c.items()}
    ground, known = ground_of(src["rgb"], src["cover"])
    mine, _ = ground_of(c["rgb"], c["cover"])
    halo = F.avg_pool2d(F.max_pool2d(src["cover"], 9, 1, 4), 5, 1, 2) * known
    ratio = ((src["rgb"] + 0.03) / (ground + 0.03)).clamp(0.15, 1.8)
    free = 1 - F.max_pool2d(torch.maximum(c["cover"], c["ignore"]), 7, 1, 3)
    keep = on * (free > 0.5)
    # A piece is pasted whole or not: those that meet what lies there already are left where they would be cut.
    body = F.avg_pool2d(src["cover"], 3, 1, 1).clamp(0, 1) * (src["cover"] > 0).float()
    body = torch.maximum(body, src["cover"])
    light = (mine.mean((1, 2, 3), keepdim=True) / (ground.mean((1, 2, 3), keepdim=True) + 0.02)).clamp(0.5, 1.6)
    mixed = torch.where(chance(n, dev, 0.6) > 0, src["rgb"] * light, mine * ratio)
    out = c["rgb"] * (1 + keep * halo * (ratio - 1))
    out = out * (1 - keep * body) + mixed * keep * body
    c = dict(c)
    c["rgb"] = out.clamp(0, 1)
    for k in ("cover", "inner", "seam"):
        c[k] = torch.maximum(c[k], src[k] * keep)
    c["weight"] = torch.maximum(c["weight"], src["weight"] * keep)
    # Whose photos are in a crop: a network that leaves a painter out must not see one of its pieces either.
    c["seen"] = c["seen"] | torch.where(on.flatten() > 0, src["seen"], torch.zeros_like(src["seen"]))
    c["ignore"] = torch.maximum(c["ignore"], (src["ignore"] > 0).float() * on)
    half = F.max_pool2d(src["cover"] * keep, 2)[:, 0] > 0.2
    c["cls"] = torch.where(half & (src["cls"] > 0), src["cls"], c["cls"])
    return c


_DCT = None


def jpeg(x, quality):
    """What a JPEG of this quality (tensor) leaves."""
    global _DCT
    n, dev = x.shape[0], x.device
    if _DCT is None or _DCT[0].device != dev:
        k = torch.arange(8, device=dev).float()
        D = torch.cos((2 * k[None] + 1) * k[:, None] * math.pi / 16) * 0.5
        D[0] *= math.sqrt(0.5)
        q = torch.tensor([16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55, 14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22, 29, 51, 87, 80, 62, 18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92, 49, 64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99.0], device=dev).reshape(8, 8)
        c = torch.full((8, 8), 99.0, device=dev)
        c[:4, :4] = torch.tensor([[17, 18, 24, 47], [18, 21, 26, 66], [24, 26, 56, 99], [47, 66, 99, 99.0]], device=dev)
        M = torch.tensor([[0.299, 0.587, 0.114], [-0.1687, -0.3313, 0.5], [0.5, -0.4187, -0.0813]], device=dev)
        _DCT = D, torch.stack([q, c, c]), M, torch.linalg.inv(M)
    D, Q, M, inv = _DCT
    s = torch.where(quality < 50, 5000 / quality, 200 - 2 * quality) / 100
    q = (Q[None] * s.reshape(n, 1, 1, 1)).clamp_min(1)
    y = torch.einsum("ij,njhw->nihw", M, x) * 255
    y = torch.cat([y[:, :1], F.interpolate(F.avg_pool2d(y[:, 1:], 2), scale_factor=2, mode="bilinear")], 1)
    h, w = y.shape[2:]
    b = y.reshape(n, 3, h // 8, 8, w // 8, 8).permute(0, 1, 2, 4, 3, 5)
    f = D @ b @ D.T
    q = q[:, :, None, None]
    f = torch.round(f / q) * q
    b = D.T @ f @ D
    y = b.permute(0, 1, 2, 4, 3, 5).reshape(n, 3, h, w)
    return (torch.einsum("ij,njhw->nihw", inv, y) / 255).clamp(0, 1)


def blurred(x, sigma, stretch, angle, size=9):
    """Gauss by picture; drawn out one way."""
    n, dev = x.shape[0], x.device
    g = torch.arange(size, device=dev).float() - size // 2
    X, Y = g[None, None], g[None, :, None]
    a = angle.reshape(n, 1, 1)
    u, v = X * a.cos() + Y * a.sin(), Y * a.cos() - X * a.sin()
    s = sigma.reshape(n, 1, 1)
    k = torch.exp(-0.5 * ((u / (s * stretch.reshape(n, 1, 1))) ** 2 + (v / s) ** 2))
    k = (k / k.sum((1, 2), keepdim=True)).repeat_interleave(3, 0).unsqueeze(1)
    h, w = x.shape[2:]
    return F.conv2d(F.pad(x, [size // 2] * 4, mode="replicate").reshape(1, n * 3, h + size - 1, w + size - 1), k, groups=n * 3).reshape(n, 3, h, w)


def some(n, part, dev):
    """A part of the crops, as indices: what is costly is worked out for these alone."""
    k = min(n, 4 * round(np.random.binomial(n, min(1.0, part)) / 4))
    return torch.randperm(n, device=dev)[:k]


def alter(c, layers, strength=1.0, part_paste=0.35):
    """All of it. `c` is what `Bag.cut` gives; `layers` from `marks`."""
    c = paste(c, part_paste * strength)
    x = c["rgb"]
    n, _, side, _ = x.shape
    dev = x.device
    bare = 1 - F.max_pool2d(torch.maximum(c["cover"], (c["ignore"] > 0).float()), 3, 1, 1)
    bare = F.avg_pool2d(bare, 3, 1, 1, count_include_pad=False) * (1 - c["cover"])

    # The ground's own relief, and mottles, rust and grain in tone and colour; each on some of the crops.
    x = x.clone()
    if len(i := some(n, 0.4 * strength, dev)):
        k = len(i)
        x[i] = x[i] * (1 + bare[i] * logrand(k, dev, 0.015, 0.22) * relief(k, side, dev)).clamp(0.15, 2.2)
    if len(i := some(n, 0.35 * strength, dev)):
        k = len(i)
        z = noise(k, side, dev, logrand(k, dev, 2, 14).flatten(), logrand(k, dev, 12, 160).flatten(), logrand(k, dev, 1, 3).flatten())
        blot = torch.sigmoid((z - rand(k, dev, -0.5, 1.8)) / logrand(k, dev, 0.05, 2))
        tint = 1 + (torch.rand(k, 3, 1, 1, device=dev) - 0.5) * 0.5
        x[i] = (x[i] * (1 + bare[i] * blot * rand(k, dev, -0.6, 0.35) * tint)).clamp(0, 1)
    if len(i := some(n, 0.15 * strength, dev)):
        k = len(i)
        z = noise(k, side, dev, logrand(k, dev, 1.5, 5).flatten(), logrand(k, dev, 8, 30).flatten(), logrand(k, dev, 4, 40).flatten())
        x[i] = (x[i] * (1 + bare[i] * rand(k, dev, 0.03, 0.25) * z)).clamp(0, 1)

    # Oil with rims that mirror lamps.
    if len(i := some(n, 0.3 * strength, dev)):
        k = len(i)
        inside, glint = pools(k, side, dev)
        c_oil = torch.tensor(OILS, device=dev)[torch.randint(0, len(OILS), (k,), device=dev)].reshape(k, 3, 1, 1) * (1 + (torch.rand(k, 3, 1, 1, device=dev) - 0.5) * 0.3)
        y = x[i] * (1 - bare[i] * inside * rand(k, dev, 0, 1) * (1 - c_oil))
        x[i] = y + bare[i] * glint * (rand(k, dev, 0.7, 1.1) - y).clamp_min(0)

    # Marks.
    for part in (0.4, 0.12):
        if not len(i := some(n, part * strength, dev)):
            continue
        k = len(i)
        j = torch.randint(0, layers.shape[0], (k,), device=dev)
        big = layers.shape[-1]
        # Turned and scaled by chance.
        a, s = torch.rand(k, device=dev) * 2 * math.pi, torch.exp(torch.rand(k, device=dev) * 1.4 - 1.0) * side / big
        T = torch.zeros(k, 2, 3, device=dev)
        T[:, 0, 0], T[:, 0, 1], T[:, 1, 0], T[:, 1, 1] = s * a.cos(), -s * a.sin(), s * a.sin(), s * a.cos()
        T[:, :, 2] = (torch.rand(k, 2, device=dev) - 0.5) * 0.6
        m = (layers[j].float().unsqueeze(1) - 128) / 127
        m = F.grid_sample(m, F.affine_grid(T, (k, 1, side, side), align_corners=False), align_corners=False) * rand(k, dev, 0.25, 1) * bare[i]
        y = x[i]
        ink = torch.rand(k, 3, 1, 1, device=dev) * rand(k, dev, 0, 0.7)
        dark, lit = (-m).clamp_min(0), m.clamp_min(0)
        y = y * (1 - dark) + dark * ink * y.mean((1, 2, 3), keepdim=True) * 1.2
        x[i] = y + lit * (rand(k, dev, 0.6, 1.0) - y).clamp_min(0)

    # Light: falling off, a slow field, hard shadows.
    g = torch.linspace(-1, 1, side, device=dev)
    a = torch.rand(n, 1, 1, 1, device=dev) * 2 * math.pi
    ramp = g[None, None, None, :] * a.cos() + g[None, None, :, None] * a.sin()
    x = x * (1 + ramp * rand(n, dev, 0, 0.35) * chance(n, dev, 0.6 * strength))
    if len(i := some(n, 0.15 * strength, dev)):
        k = len(i)
        cut = (ramp[i] + 0.25 * noise(k, side, dev, torch.full((k,), 60.0, device=dev), torch.full((k,), 400.0, device=dev)) * chance(k, dev, 0.5) - rand(k, dev, -0.8, 0.8)) * side / 2
        x[i] = x[i] * (1 - rand(k, dev, 0.1, 0.65) * torch.sigmoid(cut / logrand(k, dev, 0.4, 12)))

    # Camera: gain, colour, gamma, contrast, saturation.
    x = x * torch.exp(rand(n, dev, -0.45, 0.3) * strength) * (1 + (torch.rand(n, 3, 1, 1, device=dev) - 0.5) * 0.24 * torch.where(chance(n, dev, 0.4) > 0, 1.6, 0.5) * strength)
    x = x.clamp(1e-4, 1.1).pow(torch.exp(rand(n, dev, -0.35, 0.35) * strength))
    mean = x.mean((2, 3), keepdim=True)
    x = (x - mean) * torch.exp(rand(n, dev, -0.4, 0.3) * strength) + mean
    grey = x.mean(1, keepdim=True)
    x = grey + (x - grey) * torch.exp(rand(n, dev, -0.8, 0.35) * strength)

    # Lens and phone: blur or sharpening, noise, JPEG.
    b = blurred(x, logrand(n, dev, 0.35, 1.3), torch.where(chance(n, dev, 0.2) > 0, logrand(n, dev, 1, 3), 1.0), torch.rand(n, device=dev) * math.pi)
    way = torch.rand(n, 1, 1, 1, device=dev)
    x = torch.where(way < 0.33, b, torch.where(way > 0.66, x + (x - b) * rand(n, dev, 0.1, 1.3), x))
    s = logrand(n, dev, 0.002, 0.035) * strength
    x = x + s * torch.randn_like(x) * (0.4 + x.clamp(0, 1).sqrt())
    coarse = F.interpolate(torch.randn(n, 3, side // 2, side // 2, device=dev), scale_factor=2, mode="bilinear")
    x = (x + chance(n, dev, 0.3) * s * coarse).clamp(0, 1)
    if len(i := some(n, 0.35 * strength, dev)):
        x[i] = jpeg(x[i], rand(len(i), dev, 55, 96))
    c["rgb"] = x.clamp(0, 1)
    return c
