"""A scene as maps seen from above (height, colour, gloss), and its light.

Lengths in mm, heights above the plane of measurement; maps at `ppm` working pixels a mm; colours linear.
"""
import math
import cv2
import numpy as np
from .noise import blur, log_uniform, pick, step


class Scene:
    def __init__(self, rng, h, w, ppm):
        self.rng, self.h, self.w, self.ppm = rng, h, w, ppm
        full = lambda v: np.full((h, w), v, np.float32)
        self.albedo = np.full((h, w, 3), 0.7, np.float32)
        self.height = full(0)      # the ground's
        self.top = None            # ground and what lies on it, once pieces are laid
        self.rough = full(0.8)
        self.metal = full(0)
        self.coat = full(0)        # oil or varnish: a mirror of its own above the colour
        self.coat_height = full(0)
        self.shade = None          # light lost to a shadow from outside, for the first lamp
        self.normal = None         # (nx, ny) of pieces, with their mask
        self.own = full(0)
        self.glow = None           # added light: pasted photo pieces (rgb premultiplied, alpha)
        self.soft = 1.0            # how far light spreads within the ground: evens out small relief
        self.ids = np.zeros((h, w), np.int16)
        self.pieces = []
        self.notes = {}

    def xy(self):
        y, x = np.mgrid[:self.h, :self.w].astype(np.float32)
        return x, y

    def begin_pieces(self):
        self.top = self.height + self.coat_height
        self.normal = np.zeros((self.h, self.w, 2), np.float32)


def lights(rng, style=None):
    """Lamps (direction to the lamp, colour, softness) and an environment mirrored in gloss."""
    style = style or pick(rng, {'soft': 3, 'lamp': 4, 'rake': 2.5, 'flash': 1.5, 'two': 2, 'many': 1})
    lamps = []

    def lamp(el, power, soft, tint=0.06, az=None):
        az = rng.uniform(0, 2 * math.pi) if az is None else az
        e = math.radians(el)
        warm = rng.normal() * tint
        c = power * np.array([1 + warm, 1 + rng.normal() * tint * 0.3, 1 - warm], np.float32)
        lamps.append((np.array([math.cos(az) * math.cos(e), math.sin(az) * math.cos(e), math.sin(e)], np.float32), np.clip(c, 0.02, None), soft))

    u = rng.uniform
    ambient = u(0.25, 0.7)
    if style == 'soft':
        lamp(u(35, 80), u(0.2, 0.7), u(0.2, 0.7)); ambient = u(0.6, 1.0)
    elif style == 'lamp':
        lamp(u(25, 75), u(0.6, 1.6), u(0.02, 0.35))
    elif style == 'rake':
        lamp(u(7, 28), u(1.5, 4.5), u(0.01, 0.2)); ambient = u(0.1, 0.5)
    elif style == 'flash':
        lamp(u(74, 88), u(0.8, 1.8), u(0.005, 0.04)); ambient = u(0.05, 0.4)
        if rng.random() < 0.4:
            lamp(u(20, 60), u(0.2, 0.8), u(0.05, 0.4))
    elif style == 'two':
        for _ in range(2):
            lamp(u(15, 70), u(0.3, 1.1), u(0.02, 0.4))
    else:
        for _ in range(int(rng.integers(3, 5))):
            lamp(u(15, 75), u(0.15, 0.6), u(0.02, 0.3), 0.12)
    warm = rng.normal() * 0.05
    amb = ambient * np.array([1 + warm, 1, 1 - warm], np.float32)
    return lamps, amb, environment(rng, lamps, amb)


def environment(rng, lamps, amb, n=128):
    """What is mirrored, by the sine of the angle from straight up: walls, lamps, windows, the phone above, who holds it."""
    y, x = np.mgrid[:n, :n].astype(np.float32) / (n - 1) * 2 - 1
    r = np.hypot(x, y)
    g = rng.normal(size=2) * 0.5
    e = (1 + g[0] * x + g[1] * y).clip(0.1) * (1 - rng.uniform(0, 0.6) * step(r, 0.5, 1.0))
    e = e[..., None] * amb
    for _ in range(int(rng.integers(0, 6))):                       # windows, lit walls, dark things
        c, s = rng.uniform(-1, 1, 2), rng.uniform(0.08, 0.6, 2)
        a = rng.uniform(0, math.pi)
        p, q = (x - c[0]) * math.cos(a) + (y - c[1]) * math.sin(a), -(x - c[0]) * math.sin(a) + (y - c[1]) * math.cos(a)
        m = (step(np.abs(p), s[0], s[0] * 0.8) * step(np.abs(q), s[1], s[1] * 0.8))[..., None]
        v = rng.choice([rng.uniform(0, 0.4), rng.uniform(1.2, 6)]) * amb * (1 + rng.normal(size=3) * 0.15)
        e = e * (1 - m) + m * v.clip(0).astype(np.float32)
    for d, c, soft in lamps:
        k = step(np.hypot(x - d[0], y - d[1]), 0.04 + soft * 0.5, 0.02 + soft * 0.3)[..., None]
        e = e + k * c * min(40.0, 0.5 / (0.04 + soft) ** 2)
    if rng.random() < 0.8:                                         # the phone
        s = rng.uniform(0.05, 0.35, 2)
        c = rng.normal(size=2) * 0.12
        m = (step(np.abs(x - c[0]), s[0] * 1.1, s[0]) * step(np.abs(y - c[1]), s[1] * 1.1, s[1]))[..., None]
        e = e * (1 - m * rng.uniform(0.6, 1))
    e = e.astype(np.float32)
    return [blur(e, 0.8), blur(e, 5.0), blur(e, 16.0)]


def _gradient(z, ppm):
    gx, gy = np.empty_like(z), np.empty_like(z)
    gx[:, 1:-1] = (z[:, 2:] - z[:, :-2]) * (0.5 * ppm)
    gx[:, 0], gx[:, -1] = gx[:, 1], gx[:, -2]
    gy[1:-1] = (z[2:] - z[:-2]) * (0.5 * ppm)
    gy[0], gy[-1] = gy[1], gy[-2]
    return gx, gy


def cast(top, ppm, toward, soft):
    """Share of a lamp's light that reaches each pixel over the heights between it and the lamp."""
    h, w = top.shape
    dx, dy, up = (float(v) for v in toward)
    flat = math.hypot(dx, dy)
    if flat < 1e-3:
        return np.ones_like(top)
    if ppm > 11 or (soft > .15 and ppm > 8):                      # coarser than the picture is fine enough for a shadow
        k = ppm / 9 if soft < .15 else ppm / 6
        small = cv2.resize(top, (max(8, int(w / k)), max(8, int(h / k))), interpolation=cv2.INTER_AREA)
        return cv2.resize(_march(small, ppm / k, dx / flat, dy / flat, up / flat, soft), (w, h), interpolation=cv2.INTER_LINEAR)
    return _march(top, ppm, dx / flat, dy / flat, up / flat, soft)


def _march(top, ppm, dx, dy, slope, soft):
    h, w = top.shape
    reach = min((float(np.percentile(top[::5, ::5], 99.8)) - float(np.percentile(top[::5, ::5], 2))) / slope, 14.0) * ppm
    out = np.ones_like(top)
    d = 1.0
    while d <= reach:
        sx, sy = int(round(dx * d)), int(round(dy * d))
        mm = d / ppm
        width = max(0.02, mm * soft)
        y0, y1, x0, x1 = max(0, -sy), min(h, h - sy), max(0, -sx), min(w, w - sx)
        if y1 <= y0 or x1 <= x0:
            break
        over = top[y0 + sy:y1 + sy, x0 + sx:x1 + sx] - top[y0:y1, x0:x1]
        over *= -1 / (2 * width)
        over += 0.5 + (mm * slope + 0.01) / (2 * width)
        part = out[y0:y1, x0:x1]
        np.minimum(part, over, out=part)
        d += max(1.0, d * 0.09)
    return blur(np.clip(out, 0, 1, out=out), .7)


def _unit(x, y):
    i = 1 / np.sqrt(x * x + y * y + 1)
    return x * i, y * i, i


def _mirrored(env, nx, ny, nz, vx, vy, vz, rough):
    """What a mirror of this normal shows, from the environment blurred by roughness; all one-dimensional."""
    n = env[0].shape[0]
    dot = 2 * (nx * vx + ny * vy + nz * vz)
    half = np.float32(.5 * (n - 1))
    q = np.clip((dot * nx - vx + 1) * half + .5, 0, n - 1).astype(np.int32)
    r = np.clip((dot * ny - vy + 1) * half + .5, 0, n - 1).astype(np.int32)
    i = r * n + q
    look = lambda e: e.reshape(-1, 3)[i]
    if rough is None:
        return look(env[0])
    t = np.clip(rough, 0, 1) * 2
    a, b = np.clip(1 - t, 0, 1)[:, None], np.clip(t - 1, 0, 1)[:, None]
    return look(env[0]) * a + look(env[1]) * (1 - a - b) + look(env[2]) * b


def shade(s, lamps, amb, env):
    """Light from the maps, linear, about 1 for a white sheet."""
    rng, ppm, h, w = s.rng, s.ppm, s.h, s.w
    top, own = s.top, s.own
    gx, gy = _gradient(blur(s.height, s.notes.get('spread_px', 0)), ppm)
    keep = s.soft * (1 - own)
    nx, ny, nz = _unit(s.normal[..., 0] - gx * keep, s.normal[..., 1] - gy * keep)
    occl = 1 - np.clip((blur(top, 1.6 * ppm) - top) * (1 / 1.2), 0, .55) - np.clip((blur(top, .35 * ppm) - top) * (1 / .35), 0, .5)
    occl = np.clip(occl, .12, 1)
    ax, ay = (rng.normal(size=2) * .25).tolist()
    diffuse = ((.75 + .25 * nz + ax * nx + ay * ny) * occl)[..., None] * amb
    lit = []
    for k, (d, c, soft) in enumerate(lamps):
        q = cast(top, ppm, d, soft)
        if k == 0 and s.shade is not None:
            q = q * s.shade
        lit.append(q)
        dx, dy, dz = (float(v) for v in d)
        diffuse += (np.clip(nx * dx + ny * dy + nz * dz, 0, None) * q)[..., None] * c
    out = s.albedo * diffuse
    # where the camera looks from: over the middle or beside it, so that mirrors differ across the picture
    far = rng.uniform(110, 220) * ppm
    ox, oy = (rng.normal(size=2) * 25 * ppm + [w / 2, h / 2]).tolist()
    x, y = s.xy()
    vx, vy, vz = _unit((ox - x) / far, (oy - y) / far)

    def lobes(i, mx, my, mz, p):
        total = np.zeros((len(mx), 3), np.float32)
        for (d, c, soft), q in zip(lamps, lit):
            dx, dy, dz = (float(v) for v in d)
            hx, hy, hz = vx[i] + dx, vy[i] + dy, vz[i] + dz
            dot = (mx * hx + my * hy + mz * hz) / np.sqrt(hx * hx + hy * hy + hz * hz)
            pw = 2 / (p + (soft * .25) ** 2)
            total += ((pw + 8) * (1 / 25) * np.exp(np.maximum(pw * (np.minimum(dot, 1) - 1), -40)) * q[i])[:, None] * c
        return total

    shiny = (s.metal > .02) | (s.rough < .55) | (own > .05)
    if shiny.any():
        i = np.nonzero(shiny)
        m, r, alb = s.metal[i], s.rough[i], s.albedo[i]
        mx, my, mz = nx[i], ny[i], nz[i]
        spec = np.minimum(lobes(i, mx, my, mz, np.maximum(r ** 4, .001)), 12) + _mirrored(env, mx, my, mz, vx[i], vy[i], vz[i], r) * occl[i][:, None]
        gloss = (1 - r) * (1 - m) + m
        out[i] = out[i] * (1 - m * .92)[:, None] + (alb * m[:, None] + (.04 * (1 - m))[:, None]) * spec * gloss[:, None]
    wet = s.coat > .01
    if wet.any():
        i = np.nonzero(wet)
        cgx, cgy = _gradient(s.coat_height, ppm)
        follow = own[i] * .48 + .12                                # oil follows the relief only a little
        mx, my, mz = _unit(-cgx[i] + nx[i] / nz[i] * follow, -cgy[i] + ny[i] / nz[i] * follow)
        a, b, c = vx[i], vy[i], vz[i]
        fres = ((.03 + .5 * np.clip(1 - (mx * a + my * b + mz * c), 0, 1) ** 4) * s.coat[i])[:, None]
        out[i] = out[i] * (1 - fres) + fres * (_mirrored(env, mx, my, mz, a, b, c, None) + np.minimum(lobes(i, mx, my, mz, .0015), 60))
    if s.glow is not None:
        rgb, a = s.glow
        out = out * (1 - a[..., None]) + rgb * blur(diffuse, 1.5 * ppm)
    return np.maximum(out, 0)
