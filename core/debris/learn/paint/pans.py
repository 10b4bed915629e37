"""Floors of pans and housings: metal, paint, rust, varnish, oil, ribs, welds, bolts. No pieces are drawn here."""
import math
import cv2
import numpy as np
from . import colours
from .noise import absorb, blur, cells, curve, fbm, lines, log_uniform, pick, sign, smooth, spot, step

KINDS = {'painted': 3, 'cast': 2.5, 'brushed': 2, 'ground': 1, 'zinc': 1.5, 'rolled': 3, 'rusty': .8}


def lay(s, kind=None):
    rng, h, w, ppm = s.rng, s.h, s.w, s.ppm
    kind = kind or pick(rng, KINDS)
    s.notes['ground'] = kind
    base = colours.bare(rng)
    s.metal[:] = rng.uniform(.3, 1)
    s.rough[:] = rng.uniform(.25, .6)
    tone = 1 + rng.uniform(.01, .12) * fbm(rng, h, w, ppm * rng.uniform(5, 25), 4)
    tone += rng.uniform(.005, .05) * fbm(rng, h, w, ppm * log_uniform(rng, .1, .8), 2)
    z = log_uniform(rng, .0005, .006) * fbm(rng, h, w, ppm * log_uniform(rng, .2, 2), 4, .6)
    if kind == 'painted':
        base = colours.paint(rng)
        s.metal[:] = 0 if rng.random() < .7 else rng.uniform(0, .4)
        s.coat[:] = rng.uniform(0, 1)
        z += log_uniform(rng, .002, .02) * smooth(rng, h, w, ppm * rng.uniform(.4, 2))      # orange peel
    elif kind == 'cast':
        z += log_uniform(rng, .015, .1) * fbm(rng, h, w, ppm * log_uniform(rng, .25, 1.2), 3, .6)
        s.rough[:] = rng.uniform(.35, .7)
    elif kind in ('brushed', 'ground'):
        a = rng.uniform(0, math.pi)
        st = fbm(rng, h, w, max(1.3, ppm * rng.uniform(.05, .15)), 2, stretch=rng.uniform(20, 80), angle=a)
        if kind == 'ground' and rng.random() < .5:
            x, y = s.xy()
            c = spot(rng, w, h, -1, 2)
            r = np.hypot(x - c[0], y - c[1])
            st = np.interp(r.ravel(), np.arange(int(r.max()) + 2), rng.normal(size=int(r.max()) + 2)).reshape(h, w).astype(np.float32)
        tone += rng.uniform(.01, .08) * st
        z += log_uniform(rng, .0005, .004) * st
        s.rough += np.clip(.08 * st, -.1, .2)
    elif kind == 'zinc':
        label, _ = cells(rng, h, w, ppm * log_uniform(rng, 2, 10))
        v = rng.normal(size=int(label.max()) + 1).astype(np.float32)
        f = v[label]
        tone += rng.uniform(.04, .2) * f
        s.rough += .08 * f
        a = rng.normal(size=(int(label.max()) + 1, 2)).astype(np.float32) * rng.uniform(0, .03)
        z += blur((a[label][..., 0] + a[label][..., 1]), 1) * .3
    elif kind == 'rolled':
        tone += rng.uniform(.02, .1) * fbm(rng, h, w, ppm * .6, 3, stretch=rng.uniform(3, 12), angle=rng.uniform(0, math.pi))
    rgb = np.repeat(np.clip(tone, .2, 2)[..., None], 3, 2) * base
    s.albedo = np.clip(rgb, .01, .95)
    s.height += z
    if rng.random() < .5:
        s.height += rng.uniform(.05, .8) * smooth(rng, h, w, ppm * rng.uniform(15, 60))
    if kind == 'rusty' or rng.random() < .2:
        rust(s)
    for _ in range(int(pick(rng, {0: 3, 1: 4, 2: 2, 3: 1}))):
        mottle(s)
    if rng.random() < .5:
        tarnish(s)
    if rng.random() < .75:
        scratches(s)
    s.soft = rng.uniform(.6, 1.2)
    for f, p in ((ribs, .45), (weld, .1), (bolts, .25), (wall, .15), (embossed_figures, .06)):
        if rng.random() < p:
            f(s)


def patchy(rng, h, w, scale, share, sharp, octaves=5, gain=.55, stretch=1.0, angle=0.0):
    """A mask that covers about `share`; `sharp` px wide at its rim for a noise of this scale."""
    f = fbm(rng, h, w, scale, octaves, gain, stretch, angle)
    q = float(np.quantile(f[::5, ::5], 1 - share))
    return step(f, q - sharp, q + sharp)


def mottle(s):
    """Varnish: dark or pale islets with crumbled rims, in clusters."""
    rng, h, w, ppm = s.rng, s.h, s.w, s.ppm
    m = patchy(rng, h, w, ppm * log_uniform(rng, .8, 10), rng.uniform(.02, .4), rng.uniform(.02, .4), int(rng.integers(3, 7)), rng.uniform(.45, .75), stretch=pick(rng, [1., 1., 1., 2., 4.]), angle=rng.uniform(0, math.pi))
    if rng.random() < .5:
        m = m * patchy(rng, h, w, ppm * rng.uniform(.25, .6), rng.uniform(.4, .95), .5, 2)        # crumbled
    if rng.random() < .4:
        m = m * step(smooth(rng, h, w, ppm * 20), -.5, .8)
    t = colours.jitter(rng, pick(rng, [(.25, .22, .2), (.3, .3, .3), (.4, .3, .15), (.5, .4, .2), (.15, .12, .1), (.6, .45, .3), (1.35, 1.35, 1.3)]), .08, .2)
    k = (m * rng.uniform(.25, 1))[..., None]
    s.albedo = np.clip(s.albedo * (1 - k + k * t * (1.3 if t.mean() > 1 else 1)), .01, .95)
    s.metal *= 1 - m * rng.uniform(0, .8)
    s.rough += m * rng.uniform(-.15, .25)
    if rng.random() < .4:
        s.height += m * rng.uniform(-.01, .02)


def tarnish(s):
    rng, h, w, ppm = s.rng, s.h, s.w, s.ppm
    m = step(fbm(rng, h, w, ppm * rng.uniform(8, 40), 4), rng.uniform(-.5, .8), rng.uniform(1, 2.2))[..., None]
    c = pick(rng, [(.25, .35, .5), (.4, .45, .5), (.1, .3, .6), (.5, .35, .1), (.2, .2, .2)])
    s.albedo *= 1 - m * np.array(c, np.float32) * rng.uniform(.4, 1)
    if rng.random() < .3:                               # heat or thin-film colours
        f = fbm(rng, h, w, ppm * rng.uniform(6, 25), 3)
        ph = f * rng.uniform(1, 4)
        irid = np.stack([np.cos(ph), np.cos(ph * 1.2 + .6), np.cos(ph * 1.45 + 1.2)], 2)
        s.albedo *= 1 + rng.uniform(.05, .35) * irid * m


def rust(s):
    rng, h, w, ppm = s.rng, s.h, s.w, s.ppm
    m = patchy(rng, h, w, ppm * log_uniform(rng, 1, 14), rng.uniform(.01, .5), rng.uniform(.05, .4), 6, .65)
    m *= .5 + .5 * patchy(rng, h, w, ppm * .5, .6, .5, 2)
    f = fbm(rng, h, w, ppm * .8, 4, .7)
    c = colours.jitter(rng, (.30, .11, .04), .15, .35) * np.clip(1 + .35 * f, .3, 2)[..., None]
    k = (m * rng.uniform(.4, 1))[..., None]
    s.albedo = s.albedo * (1 - k) + c * k
    s.metal *= 1 - m
    s.rough = np.maximum(s.rough, m * .8)
    s.height += m * rng.uniform(.002, .04) * np.clip(f, -1, 2)


def scratches(s):
    rng, h, w, ppm = s.rng, s.h, s.w, s.ppm
    m = np.zeros((h, w), np.uint8)
    a0 = rng.uniform(0, 6.28)
    spread = pick(rng, [.15, 3.0])
    for _ in range(int(log_uniform(rng, 2, 60))):
        a, n = a0 + rng.normal() * spread, log_uniform(rng, 1, 40) * ppm
        t = np.linspace(-.5, .5, 9)[:, None]
        b = rng.normal() * .15
        q = rng.uniform(0, 1, 2) * [w, h] + n * t * np.stack([np.cos(a + b * t[:, 0]), np.sin(a + b * t[:, 0])], 1)
        lines(m, q, int(rng.integers(40, 255)), rng.uniform(.03, .16) * ppm)
    m = m.astype(np.float32) / 255
    k = (m * rng.uniform(.2, .9))[..., None]
    s.albedo = np.clip(s.albedo * (1 - k) + k * (colours.bare(rng) if rng.random() < .7 else s.albedo * .4), .01, .95)
    s.height -= m * rng.uniform(.0, .03)
    s.metal = np.maximum(s.metal, m * .8)
    if rng.random() < .25:                              # dents
        x, y = s.xy()
        for _ in range(int(rng.integers(1, 8))):
            c, r = spot(rng, w, h), log_uniform(rng, .3, 4) * ppm
            s.height -= r / ppm * rng.uniform(.05, .3) * np.exp(-((x - c[0]) ** 2 + (y - c[1]) ** 2) / r ** 2)


def ribs(s):
    rng = s.rng
    x, y = s.xy()
    a, pitch = rng.uniform(0, math.pi), rng.uniform(14, 60) * s.ppm
    u, v = x * math.cos(a) + y * math.sin(a) + rng.uniform(0, 1) * pitch, -x * math.sin(a) + y * math.cos(a)
    wide, amp, flat = rng.uniform(.6, 5) * s.ppm, rng.uniform(.3, 2.5) * pick(rng, [1., 1., -1.]), rng.uniform(.1, .7)
    q = np.abs((u + pitch / 2) % pitch - pitch / 2)
    r = step(q, wide, wide * flat)
    if rng.random() < .3:
        r = r * step(np.abs(v - s.h / 2), rng.uniform(10, 40) * s.ppm, 6 * s.ppm)
    if rng.random() < .25:
        p2 = pitch * rng.uniform(.8, 2)
        r = np.maximum(r, step(np.abs((v + p2 / 2) % p2 - p2 / 2), wide, wide * flat))
    s.height += amp * r
    s.notes['high'] = np.maximum(s.notes.get('high', 0), abs(amp) * r)


def weld(s):
    rng = s.rng
    c = np.zeros((s.h, s.w), np.float32)
    q = curve(rng, rng.uniform(15, 80) * s.ppm, rng.uniform(.2, 2), 160) + rng.uniform(.2, .8, 2) * [s.w, s.h]
    r = rng.uniform(1, 3.5) * s.ppm
    for p in q:
        cv2.circle(c, tuple(np.round(p + rng.normal(size=2) * .06 * r).astype(int)), int(r * rng.uniform(.85, 1.05)), float(rng.uniform(.7, 1)), -1, cv2.LINE_AA)
    b = blur(c, r * .35)
    s.height += b * rng.uniform(.4, 1.2) * step(c, 0, .3)
    s.albedo *= (1 - .5 * step(blur(c, r * 1.5), .02, .5) * rng.uniform(0, 1))[..., None]


def bolts(s):
    """Heads of bolts, plugs, holes, washers: round or hexagonal, higher than a piece and larger."""
    rng = s.rng
    x, y = s.xy()
    for _ in range(int(rng.integers(1, 4))):
        c, r, a = spot(rng, s.w, s.h), rng.uniform(2.5, 11) * s.ppm, rng.uniform(0, 6.28)
        d = np.hypot(x - c[0], y - c[1])
        t = np.arctan2(y - c[1], x - c[0]) - a
        hexa = d * np.cos((t + math.pi / 6) % (math.pi / 3) - math.pi / 6)
        tall = rng.uniform(.5, 3) * pick(rng, [1., 1., 1., -1.])
        kind = rng.random()
        edge = rng.uniform(.2, .8) * s.ppm
        m = step(hexa if kind < .5 else d, r + edge * .5, r - edge * .5)
        s.height += tall * m
        if kind < .5 and rng.random() < .6:
            s.height += rng.uniform(.2, 1) * step(d, r * 1.5, r * 1.45)
        if rng.random() < .5:                            # recess
            k = d if rng.random() < .5 else hexa
            s.height -= rng.uniform(.3, 1.5) * step(k, r * .55, r * .5) * math.copysign(1, tall)
        if rng.random() < .5:                            # rings turned in
            s.height += .02 * np.sin(d / s.ppm * rng.uniform(4, 20)) * m
        if rng.random() < .6:
            k = (m * rng.uniform(.3, 1))[..., None]
            s.albedo = s.albedo * (1 - k) + k * (colours.bare(rng) if rng.random() < .6 else colours.paint(rng))
            s.metal = s.metal * (1 - m) + m * rng.uniform(.2, 1)
        s.notes['high'] = np.maximum(s.notes.get('high', 0), step(d, r * 1.6, r * 1.5) * abs(tall))


def wall(s):
    """Where the floor turns up into the side, or a flange with its edge."""
    rng = s.rng
    x, y = s.xy()
    a = rng.uniform(0, 6.28)
    d = ((x - s.w / 2) * math.cos(a) + (y - s.h / 2) * math.sin(a)) / s.ppm - rng.uniform(.15, .45) * min(s.h, s.w) / s.ppm
    if rng.random() < .5:
        v = (-(x - s.w / 2) * math.sin(a) + (y - s.h / 2) * math.cos(a)) / s.ppm
        d = d + rng.normal() * .01 * v * v
    wide = rng.uniform(2, 10)
    rise = rng.uniform(1.5, 6)
    s.height += rise * step(d, 0, wide)
    k = step(d, 0, 1)[..., None] * rng.uniform(0, .6)
    st = 1 + .25 * fbm(rng, s.h, s.w, s.ppm * 1.5, 3, stretch=6, angle=a)
    s.albedo = np.clip(s.albedo * (1 - k + k * st[..., None]), .01, .95)
    s.notes['high'] = np.maximum(s.notes.get('high', 0), rise * step(d, 0, wide))


def embossed_figures(s):
    rng = s.rng
    m = np.zeros((s.h, s.w), np.uint8)
    text = ''.join(pick(rng, list('0123456789ABCEFHKLMRTX-/')) for _ in range(int(rng.integers(2, 8))))
    cv2.putText(m, text, (int(rng.uniform(0, .4) * s.w), int(rng.uniform(.3, .9) * s.h)), cv2.FONT_HERSHEY_DUPLEX, s.ppm * rng.uniform(.15, .5), 255, max(2, int(s.ppm * rng.uniform(.4, 1))), cv2.LINE_AA)
    s.height += blur(m.astype(np.float32) / 255, s.ppm * rng.uniform(.05, .2)) * rng.uniform(.1, .6) * sign(rng)


def meniscus(s, pool):
    """The rim of a pool, as steep as oil stands on metal: a thin line that mirrors lamps, broken where it faces elsewhere; its
    middle may heave a little and mirror them in patches."""
    rng, h, w, ppm = s.rng, s.h, s.w, s.ppm
    d = cv2.distanceTransform(pool.astype(np.uint8), cv2.DIST_L2, 5) / ppm
    d = np.maximum(0, blur(d, .6) * (1 + rng.uniform(0, .5) * smooth(rng, h, w, ppm * log_uniform(rng, .3, 3))))
    r = log_uniform(rng, .08, .7)
    s.coat_height += r * math.tan(math.radians(rng.uniform(12, 55))) * (1 - np.exp(-d / r))
    if rng.random() < .5:
        z = log_uniform(rng, .4, 6)
        s.coat_height += step(d, 0, r) * z * log_uniform(rng, .01, .12) * smooth(rng, h, w, ppm * z)
    # Lamps and windows are brighter than the environment says.
    s.coat = np.maximum(s.coat, step(d, 0, .1) * (rng.uniform(.7, 1) + np.exp(-d / r) * log_uniform(rng, .5, 10)))


def oil(s):
    """Oil on the floor: pools with a rim of their own that mirrors, films, drying rims, rainbow, black paste in it."""
    rng, h, w, ppm = s.rng, s.h, s.w, s.ppm
    c = colours.oil(rng)
    share = rng.uniform(.05, .9)
    f = fbm(rng, h, w, ppm * log_uniform(rng, 4, 35), int(rng.integers(2, 6)), rng.uniform(.3, .6), stretch=pick(rng, [1., 1., 2.]), angle=rng.uniform(0, math.pi))
    low = blur(s.height, ppm * 2)
    f = f - rng.uniform(0, 1.5) * (low - low.mean())
    q = float(np.quantile(f[::5, ::5], 1 - share))
    soft = log_uniform(rng, .02, .8)
    m = step(f, q, q + soft)
    deep = m * (rng.uniform(.2, 1) + rng.uniform(0, .5) * np.clip(f - q, 0, 2))
    if rng.random() < .5:
        deep = deep * (1 + .25 * fbm(rng, h, w, ppm * rng.uniform(1, 8), 4))
    deep = np.clip(deep, 0, 2)
    s.albedo = s.albedo * absorb(c, deep * rng.uniform(.5, 1.3))
    s.coat = np.maximum(s.coat, step(m, .02, .3) * rng.uniform(.5, 1))
    s.metal *= 1 - .5 * np.clip(deep, 0, 1)
    k = rng.random()
    if k < .3:                                            # the edge of a pool stands up
        s.coat_height += blur(step(f, q - .02, q + rng.uniform(.05, .4)), rng.uniform(.1, .5) * ppm) * rng.uniform(.03, .5)
    elif k < .85:
        meniscus(s, f > q)
    if rng.random() < .3:
        rim = np.exp(-((f - q) / rng.uniform(.01, .06)) ** 2)[..., None] * rng.uniform(.1, .7)
        s.albedo *= 1 - rim
    if rng.random() < .12:
        ph = deep * rng.uniform(5, 25)
        irid = np.stack([np.cos(ph), np.cos(ph * 1.2), np.cos(ph * 1.45)], 2)
        s.albedo = np.clip(s.albedo * (1 + .3 * irid * m[..., None]), .01, .95)
    if rng.random() < .3:                                 # paste that settled in the pools
        k = patchy(rng, h, w, ppm * rng.uniform(3, 15), rng.uniform(.05, .4), .3) * step(m, .3, .9)
        g = np.clip(k * (1 + .4 * rng.standard_normal((h, w), dtype=np.float32)), 0, 1) if rng.random() < .6 else k
        s.albedo *= (1 - .9 * g)[..., None]
        s.height += .02 * k * rng.standard_normal((h, w), dtype=np.float32)
    s.notes['oil'] = c
    return np.clip(deep, 0, 1)
