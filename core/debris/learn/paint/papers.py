"""Papers, wipes and cloths, dry or soaked: relief, colour and oil. No pieces are drawn here."""
import math
import cv2
import numpy as np
from . import colours
from .noise import absorb, blur, curve, fbm, lines, log_uniform, pick, sign, smooth, spot, step

KINDS = {'plain': 3, 'creped': 2, 'emboss': 3, 'woven': 2, 'mat': 2, 'ribbed': 1, 'card': 1, 'film': .4}


def lay(s, kind=None):
    rng, h, w, ppm = s.rng, s.h, s.w, s.ppm
    kind = kind or pick(rng, KINDS)
    s.notes['ground'] = kind
    base = colours.paper(rng)
    tone = 1 + rng.uniform(0, .02) * fbm(rng, h, w, ppm * rng.uniform(8, 30), 3)
    grain = fbm(rng, h, w, ppm * log_uniform(rng, .15, 1.2), 3)
    tone += rng.uniform(.002, .03) * grain
    z = log_uniform(rng, .001, .012) * fbm(rng, h, w, ppm * log_uniform(rng, .2, 1.5), 4, .55)
    hard = rng.random() < .4                     # how much of the relief the light shows
    relief = 1.0 if hard else rng.uniform(.15, .7)
    if kind == 'creped':
        z += relief * log_uniform(rng, .01, .07) * fbm(rng, h, w, ppm * log_uniform(rng, .3, 1.6), 3, .55, stretch=rng.uniform(2, 9), angle=rng.uniform(0, math.pi), ridged=rng.random() < .5)
    elif kind == 'emboss':
        e = emboss(rng, h, w, ppm)
        z += relief * log_uniform(rng, .03, .3) * sign(rng) * e
        tone -= rng.uniform(-.02, .05) * e
        if rng.random() < .5:
            z += .012 * fbm(rng, h, w, ppm * .7, 3, stretch=3, angle=rng.uniform(0, math.pi))
    elif kind == 'woven':
        e, tint = weave(rng, h, w, ppm)
        z += relief * log_uniform(rng, .02, .12) * e
        tone *= 1 - rng.uniform(0, .35) * (1 - e)
        if rng.random() < .3:
            s.albedo[:] = 1
            base = base * (1 + rng.normal() * .1)
            tone *= 1 + rng.uniform(.02, .2) * tint
    elif kind == 'mat':
        e = fibres(rng, h, w, ppm)
        z += relief * log_uniform(rng, .008, .05) * e
        tone += rng.uniform(-.01, .035) * e
    elif kind == 'ribbed':
        x, y = s.xy()
        a, pitch = rng.uniform(0, math.pi), rng.uniform(.8, 5) * ppm
        if rng.random() < .5:
            u = x * math.cos(a) + y * math.sin(a)
        else:
            c = spot(rng, w, h, -1, 2)
            u = np.arctan2(y - c[1], x - c[0]) * math.hypot(c[0] - w / 2, c[1] - h / 2)
        u = u + ppm * .4 * smooth(rng, h, w, ppm * 15)
        r = np.sin(u * 2 * math.pi / pitch)
        z += relief * log_uniform(rng, .02, .25) * (np.abs(r) if rng.random() < .4 else r)
    elif kind == 'card':
        tone += rng.uniform(.01, .07) * fbm(rng, h, w, ppm * .5, 2, stretch=8, angle=rng.uniform(0, math.pi))
    elif kind == 'film':
        s.rough[:] = rng.uniform(.1, .4)
        s.coat[:] = rng.uniform(.3, 1)
        z += log_uniform(rng, .02, .2) * smooth(rng, h, w, ppm * rng.uniform(4, 20))
    rgb = np.repeat(tone[..., None], 3, 2) * base
    if rng.random() < .25:
        rgb = flecks(s, rgb)
    s.albedo = np.clip(rgb, .01, .95)
    if rng.random() < .45:
        z += creases(s)
    if rng.random() < .6:
        z += rng.uniform(0, .5) * smooth(rng, h, w, ppm * rng.uniform(10, 40))
    s.height += z
    s.rough[:] = np.minimum(s.rough, rng.uniform(.6, .95))
    s.soft = rng.uniform(.5, 1.2) if hard else rng.uniform(.3, .9)
    s.notes['spread_px'] = rng.uniform(0, .15) * ppm
    if rng.random() < .12:
        ruled(s)


def emboss(rng, h, w, ppm):
    """A pressed pattern, 0..1: dots, rings, bars, diamonds, quilts, on square or staggered lattices."""
    d = int(math.hypot(h, w)) + 2
    pitch = log_uniform(rng, 1.2, 12) * ppm
    ratio = rng.uniform(.6, 1.6)
    py, px = pitch, pitch * ratio
    y, x = np.mgrid[:d, :d].astype(np.float32)
    wob = ppm * rng.uniform(0, .25)
    if wob > .02 * ppm:
        x = x + wob * smooth(rng, d, d, pitch * 1.3)
        y = y + wob * smooth(rng, d, d, pitch * 1.3)
    kind = pick(rng, ['dot', 'dot', 'ring', 'bar', 'diamond', 'quilt', 'wave', 'petal', 'hex'])
    row = np.floor(y / py)
    if rng.random() < .6:
        x = x + (row % 2) * px / 2
    u, v = (x / px) % 1 - .5, (y / py) % 1 - .5
    r = np.hypot(u * px, v * py) / min(px, py)
    size, edge = rng.uniform(.12, .42), rng.uniform(.05, .3)
    if kind == 'dot':
        out = step(r, size + edge / 2, size - edge / 2)
    elif kind == 'ring':
        out = np.exp(-((r - size) / (edge * .5 + .03)) ** 2)
    elif kind == 'bar':
        a = rng.uniform(0, math.pi)
        p, q = u * math.cos(a) + v * math.sin(a), -u * math.sin(a) + v * math.cos(a)
        out = step(np.abs(p), size, size * .6) * step(np.abs(q), size * .35, size * .1)
    elif kind == 'diamond':
        k = np.minimum(np.abs((x / px + y / py) % 1 - .5), np.abs((x / px - y / py) % 1 - .5))
        out = step(k, edge * .5 + .04, 0)
    elif kind == 'quilt':
        out = np.abs(np.sin((x / px + y / py) * math.pi) * np.sin((x / px - y / py) * math.pi)) ** rng.uniform(.3, 1)
    elif kind == 'wave':
        k = np.abs((y / py + .25 * np.sin(x / px * 2 * math.pi)) % 1 - .5)
        out = step(k, edge * .5 + .05, 0)
    elif kind == 'petal':
        t = np.arctan2(v, u)
        out = step(r, size * (1 + .4 * np.cos(int(rng.integers(3, 7)) * t)) + .03, 0)
    else:
        c = np.stack([np.cos(x / pitch * 2 * math.pi), np.cos((x / 2 + y * .866) / pitch * 2 * math.pi), np.cos((x / 2 - y * .866) / pitch * 2 * math.pi)]).sum(0)
        out = step(c, -1.2 + edge, -.6 + edge) if rng.random() < .5 else step(c, .8, 2)
    m = cv2.getRotationMatrix2D((d / 2, d / 2), rng.uniform(0, 180), 1)
    m[:, 2] += [w / 2 - d / 2, h / 2 - d / 2]
    out = cv2.warpAffine(out.astype(np.float32), m, (w, h), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REFLECT)
    if rng.random() < .4:
        out = out * step(smooth(rng, h, w, pitch * 2), -1.5, .5)
    return blur(out, ppm * rng.uniform(.02, .25))


def weave(rng, h, w, ppm):
    d = int(math.hypot(h, w)) + 2
    p = log_uniform(rng, .35, 1.8) * ppm
    y, x = np.mgrid[:d, :d].astype(np.float32)
    x, y = x + p * .25 * smooth(rng, d, d, p * 5), y + p * .25 * smooth(rng, d, d, p * 5)
    shift = pick(rng, [1, 1, 1, 2])                     # plain or twill
    i, j = np.floor(x / p), np.floor(y / p)
    u, v = (x / p) % 1, (y / p) % 1
    warp, weft = np.sin(u * math.pi), np.sin(v * math.pi)
    over = ((i + j * shift) % (shift + 1)) < 1
    up = np.where(over, warp * (.6 + .4 * weft), weft * (.6 + .4 * warp)).astype(np.float32)
    tint = np.where(over, 1, -1).astype(np.float32)
    m = cv2.getRotationMatrix2D((d / 2, d / 2), rng.uniform(0, 180), 1)
    m[:, 2] += [w / 2 - d / 2, h / 2 - d / 2]
    turn = lambda a: cv2.warpAffine(a, m, (w, h), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REFLECT)
    return blur(turn(up), .3), turn(tint)


def fibres(rng, h, w, ppm):
    """A mat of fibres that lie on one another."""
    c = np.zeros((h, w), np.uint8)
    for _ in range(int(min(1500, h * w / ppm ** 2 * rng.uniform(.2, .6)))):
        q = curve(rng, rng.uniform(3, 12) * ppm, 1.5, 7) + rng.uniform(0, 1, 2) * [w, h]
        lines(c, q, int(rng.integers(60, 255)), max(1, ppm * rng.uniform(.03, .1)))
    return blur(c.astype(np.float32) / 255, .6) + .3 * smooth(rng, h, w, ppm * 2)


def flecks(s, rgb):
    """Recycled paper: small flat flecks and hairs, thinner and fainter than a piece."""
    rng, h, w, ppm = s.rng, s.h, s.w, s.ppm
    m = np.zeros((h, w), np.uint8)
    for _ in range(int(h * w / ppm ** 2 * log_uniform(rng, .01, .25))):
        p = rng.uniform(0, 1, 2) * [w, h]
        if rng.random() < .6:
            cv2.circle(m, (int(p[0] * 8), int(p[1] * 8)), int(rng.uniform(.03, .13) * ppm * 8), int(rng.integers(40, 180)), -1, cv2.LINE_AA, 3)
        else:
            lines(m, curve(rng, rng.uniform(.3, 2.5) * ppm, 1.5, 8) + p, int(rng.integers(30, 110)), 1)
    c = colours.jitter(rng, pick(rng, [(.2, .15, .1), (.1, .1, .12), (.3, .25, .5), (.8, .8, .78)]), .1, .3)
    a = (m.astype(np.float32) / 255 * rng.uniform(.3, .8))[..., None]
    return rgb * (1 - a) + c * a


def creases(s):
    rng = s.rng
    x, y = s.xy()
    z = np.zeros((s.h, s.w), np.float32)
    for _ in range(int(rng.integers(1, 6))):
        a = rng.uniform(0, math.pi)
        d = (x * math.cos(a) + y * math.sin(a) - rng.uniform(0, 1) * (s.w * abs(math.cos(a)) + s.h * abs(math.sin(a)))) / s.ppm
        d = d + .5 * smooth(rng, s.h, s.w, 12 * s.ppm)
        wide, amp = log_uniform(rng, .15, 3), log_uniform(rng, .02, .6)
        z += sign(rng) * amp * min(1, wide) * np.exp(-np.abs(d / wide) ** rng.uniform(1, 2))
        if rng.random() < .5:
            s.albedo *= (1 - rng.uniform(-.05, .2) * np.exp(-(d / rng.uniform(.08, .4)) ** 2))[..., None]
    return z


def ruled(s):
    """Printed lines or squares of a notebook, or a print of dots."""
    rng = s.rng
    x, y = s.xy()
    a, p = float(rng.normal()) * .1 + float(rng.choice([0, math.pi / 2])), rng.uniform(3, 10) * s.ppm
    u, v = x * math.cos(a) + y * math.sin(a), -x * math.sin(a) + y * math.cos(a)
    wide = rng.uniform(.1, .3) * s.ppm
    m = step(np.abs(u % p - p / 2), wide, wide * .4)
    k = rng.random()
    if k < .4:
        m = np.maximum(m, step(np.abs(v % p - p / 2), wide, wide * .4))
    elif k < .7:
        m = step(np.hypot(u % p - p / 2, v % p - p / 2), wide * 2.2, wide * 1.4)
    c = colours.jitter(rng, pick(rng, [(.2, .35, .6), (.3, .3, .3), (.6, .3, .3), (.25, .5, .3)]))
    m = (m * rng.uniform(.15, .7))[..., None]
    s.albedo = s.albedo * (1 - m) + c * m


def soak(s):
    """Oil in the paper: stains with ragged or soft rims, rings, clouds, streaks of paste. Returns where it is wet."""
    rng, h, w, ppm = s.rng, s.h, s.w, s.ppm
    x, y = s.xy()
    wet = np.zeros((h, w), np.float32)
    z = np.clip(s.height - blur(s.height, ppm * 1.5), -.15, .15)
    oil = colours.oil(rng)
    for k in range(int(pick(rng, {1: 4, 2: 3, 3: 2, 5: 1}))):
        if k and rng.random() < .3:
            oil = colours.oil(rng)
        big = k == 0 or rng.random() < .4
        r = (rng.uniform(12, 60) if big else log_uniform(rng, .8, 10)) * ppm
        c = spot(rng, w, h, -.2, 1.2) if big else spot(rng, w, h)
        asp, a = rng.uniform(.6, 1), rng.uniform(0, math.pi)
        u, v = (x - c[0]) * math.cos(a) + (y - c[1]) * math.sin(a), -(x - c[0]) * math.sin(a) + (y - c[1]) * math.cos(a)
        d = np.hypot(u, v / asp) / r
        rag = rng.uniform(.02, .35) if big else rng.uniform(.02, .2)
        d = d + rag * fbm(rng, h, w, max(r * rng.uniform(.3, 1.2), 4), int(rng.integers(2, 6)), rng.uniform(.35, .6))
        edge = log_uniform(rng, .01, .5)
        t = step(d, 1 + edge * .3, 1 - edge)
        depth = rng.uniform(.15, 1.3)
        t = t * depth * (rng.uniform(.4, 1) + (1 - rng.uniform(.4, 1)) * step(d, 1, .2) + rng.uniform(0, .25) * fbm(rng, h, w, ppm * rng.uniform(2, 12), 4))
        if rng.random() < .5:
            t = t + rng.uniform(.05, .5) * np.exp(-((d - .985) / rng.uniform(.01, .04)) ** 2)
        if rng.random() < .25:
            t = t + rng.uniform(.05, .3) * np.exp(-((d - rng.uniform(.6, .9)) / .02) ** 2)
        if rng.random() < .4:
            t = t + rng.uniform(.03, .2) * step(d, 1.4, 1)
        t = np.clip(t - rng.uniform(0, 3) * z * (t > .05), 0, 2.2)
        s.albedo = s.albedo * absorb(oil, t) * np.exp(-.15 * np.clip(t * 3, 0, 1))[..., None]
        wet = np.maximum(wet, np.clip(t, 0, 1))
    if rng.random() < .55:                           # fine paste: streaks, clouds, grey haze, specks below size
        a = rng.uniform(0, math.pi)
        f = fbm(rng, h, w, ppm * log_uniform(rng, .8, 8), 5, rng.uniform(.45, .65), stretch=pick(rng, [1.0, 1.0, 3.0, 6.0, 10.0]), angle=a)
        near = step(blur(wet, ppm * 3), .05, .6) if rng.random() < .7 else 1
        q = np.clip(f * rng.uniform(.2, .6) + rng.uniform(-.3, .3) - 2 * z * rng.uniform(0, 1), 0, 1.3) * near * rng.uniform(.3, 1)
        s.albedo = s.albedo * (1 - .85 * np.clip(q, 0, 1))[..., None]
    if rng.random() < .4:
        sp = (rng.random((h, w), dtype=np.float32) < log_uniform(rng, .0004, .01)).astype(np.float32) * np.clip(.3 + wet, 0, 1)
        b = max(.45, rng.uniform(.02, .05) * ppm)
        sp = blur(sp, b) * b * b * 6.28
        s.albedo = s.albedo * (1 - np.clip(sp * rng.uniform(.2, .8), 0, .75))[..., None]
    s.rough -= .2 * wet
    if rng.random() < .35:                           # stands on the paper: mirrors
        s.coat = np.maximum(s.coat, step(wet, rng.uniform(.4, .7), 1) * rng.uniform(.1, .9))
    s.notes['oil'] = oil
    return wet
