"""What is no piece: writing, print, lines, threads, droplets, bubbles, card, tape, fingers, tools, shadows."""
import functools
import math
import os
import cv2
import numpy as np
from . import colours
from .noise import absorb, blur, curve, fbm, lines, log_uniform, pick, smooth, spot, step

INKS = [(.03, .03, .035), (.05, .08, .3), (.03, .05, .2), (.5, .05, .05), (.25, .25, .25), (.05, .25, .1), (.35, .15, .45), (.1, .08, .07)]
HERSHEY = [cv2.FONT_HERSHEY_SIMPLEX, cv2.FONT_HERSHEY_PLAIN, cv2.FONT_HERSHEY_DUPLEX, cv2.FONT_HERSHEY_COMPLEX, cv2.FONT_HERSHEY_TRIPLEX, cv2.FONT_HERSHEY_SCRIPT_SIMPLEX, cv2.FONT_HERSHEY_SCRIPT_COMPLEX, cv2.FONT_HERSHEY_COMPLEX | cv2.FONT_ITALIC]
LETTERS = list('abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789')
MARKS = list('.,:;-/#%+*()!?°=&\'"')


def words(rng):
    k = rng.random()
    many = lambda n, of: ''.join(pick(rng, of) for _ in range(n))
    if k < .35:
        return many(int(rng.integers(1, 8)), LETTERS)
    if k < .7:
        return many(int(rng.integers(1, 6)), list('0123456789')) + pick(rng, ['', ' km', ' l', ' mm', '.' + many(2, list('0123456789')), ':' + many(2, list('0123456789')), '/' + many(2, list('0123456789'))])
    return many(int(rng.integers(1, 5)), LETTERS) + pick(rng, [' ', '-', '. ', ' #']) + many(int(rng.integers(1, 4)), LETTERS + MARKS)


@functools.lru_cache(maxsize=1)
def faces():
    import matplotlib
    d = os.path.join(matplotlib.get_data_path(), 'fonts', 'ttf')
    keep = [f for f in sorted(os.listdir(d)) if f.startswith(('DejaVuSans', 'DejaVuSerif', 'STIXGeneral', 'cmr', 'cmss', 'cmtt', 'cmti')) and 'Display' not in f]
    return [os.path.join(d, f) for f in keep]


def write(rng, text, tall, thick):
    """A word `tall` px high as a mask, in one of many hands or faces."""
    k = rng.random()
    if k < .3:
        from PIL import Image, ImageDraw, ImageFont
        f = ImageFont.truetype(pick(rng, faces()), max(6, int(tall * 1.3)))
        x0, y0, x1, y1 = f.getbbox(text)
        im = Image.new('L', (max(4, int(x1 - x0) + 8), max(4, int(y1 - y0) + 8)))
        ImageDraw.Draw(im).text((4 - x0, 4 - y0), text, font=f, fill=255)
        return np.asarray(im)
    if k < .8:
        face = pick(rng, HERSHEY)
        sc = tall / 21
        (a, b), base = cv2.getTextSize(text, face, sc, thick)
        m = np.zeros((b + base + thick * 2 + 8, a + thick * 2 + 8), np.uint8)
        cv2.putText(m, text, (4 + thick, b + thick + 4), face, sc, 255, thick, cv2.LINE_AA)
        if rng.random() < .6:                                     # a hand that is not steady
            h, w = m.shape
            y, x = np.mgrid[:h, :w].astype(np.float32)
            d = tall * rng.uniform(.02, .12)
            m = cv2.remap(m, x + d * smooth(rng, h, w, max(3, tall * .6)) + (y - h / 2) * rng.uniform(-.5, .5), y + d * smooth(rng, h, w, max(3, tall * .6)), cv2.INTER_LINEAR)
        return m
    n = max(1, len(text))                                          # strokes of no alphabet
    m = np.zeros((int(tall * 2), int(tall * .8 * n) + 20), np.uint8)
    for i in range(n):
        for _ in range(int(rng.integers(1, 4))):
            q = curve(rng, tall * rng.uniform(.3, 1.8), rng.uniform(.2, 6), 14)
            lines(m, q + [10 + tall * .8 * (i + .4), tall * rng.uniform(.6, 1.3)], 255, thick)
    return m


def stamp(s, m, at, angle, colour, strength):
    """Lays a mask (uint8) into the colour, turned, in the scene's px."""
    h, w = m.shape
    t = cv2.getRotationMatrix2D((w / 2, h / 2), math.degrees(angle), 1)
    t[:, 2] += np.asarray(at) - [w / 2, h / 2]
    a = cv2.warpAffine(m, t, (s.w, s.h), flags=cv2.INTER_LINEAR).astype(np.float32) / 255 * strength
    s.albedo = s.albedo * (1 - a[..., None]) + colour * a[..., None]
    return a


def writing(s):
    rng, ppm = s.rng, s.ppm
    ink = colours.jitter(rng, pick(rng, INKS), .1, .3)
    a0 = rng.uniform(0, 6.28)
    at = np.array(spot(rng, s.w, s.h))
    tall = log_uniform(rng, 1.4, 12) * ppm
    thick = max(1, int(round(ppm * log_uniform(rng, .15, 1.1))))
    strength = rng.uniform(.3, 1)
    for i in range(int(pick(rng, {1: 4, 2: 2, 4: 1, 8: .6}))):
        m = write(rng, words(rng), tall, min(thick, max(1, int(tall / 5))))
        if rng.random() < .4:
            g = .75 + .35 * smooth(rng, *m.shape, max(2, ppm * .3))   # starved ink, pencil
            m = np.clip(m * g, 0, 255).astype(np.uint8)
        p = at + i * tall * 1.7 * np.array([-math.sin(-a0), math.cos(-a0)])
        a = stamp(s, m, p, a0 + rng.normal() * .02, ink, strength)
    if rng.random() < .15:
        s.metal = np.maximum(s.metal, a * .5)                          # pencil and silver pens shine


def strokes(s):
    """Pen, pencil, crayon lines, arrows, circles round something, ticks, dots."""
    rng, ppm = s.rng, s.ppm
    m = np.zeros((s.h, s.w), np.uint8)
    for _ in range(int(rng.integers(1, 6))):
        p = rng.uniform(-.1, 1.1, 2) * [s.w, s.h]
        wide, v = log_uniform(rng, .08, 1.2) * ppm, int(rng.integers(60, 255))
        k = rng.random()
        if k < .35:
            lines(m, curve(rng, rng.uniform(10, 140) * ppm, rng.uniform(0, .6), 12) + p, v, wide)
        elif k < .55:
            r = log_uniform(rng, .6, 20) * ppm
            t = np.linspace(0, rng.uniform(4, 7), 40) + rng.uniform(0, 6)
            q = np.stack([np.cos(t), np.sin(t)], 1) * r * (1 + .08 * np.cos(2 * t + rng.uniform(0, 6)))[:, None] * [1, rng.uniform(.5, 1)] + t[:, None] * rng.normal(size=2) * r * .02
            lines(m, q + p, v, wide)
        elif k < .75:
            lines(m, curve(rng, rng.uniform(2, 30) * ppm, rng.uniform(1, 9), 40) + p, v, wide)
        elif k < .9:
            for _ in range(int(rng.integers(1, 12))):                    # dots of a pen, ticks
                q = p + rng.normal(size=2) * 4 * ppm
                if rng.random() < .5:
                    cv2.circle(m, tuple(np.round(q).astype(int).tolist()), max(1, int(rng.uniform(.1, .4) * ppm)), v, -1, cv2.LINE_AA)
                else:
                    lines(m, curve(rng, rng.uniform(.5, 4) * ppm, .5, 6) + q, v, wide)
        else:
            a = rng.uniform(0, 6.28)
            step_ = rng.uniform(.5, 3) * ppm
            for i in range(int(rng.integers(4, 40))):                    # a scale's ticks
                q = p + i * step_ * np.array([math.cos(a), math.sin(a)])
                lines(m, [q, q + rng.uniform(.8, 1.2) * (2 if i % 5 else 3.5) * ppm * np.array([-math.sin(a), math.cos(a)])], v, min(wide, .3 * ppm))
    a = m.astype(np.float32) / 255 * rng.uniform(.25, 1)
    if rng.random() < .5:
        a = a * np.clip(.7 + .4 * smooth(rng, s.h, s.w, max(1.5, ppm * .15)), 0, 1)
    ink = colours.jitter(rng, pick(rng, INKS), .1, .3)
    s.albedo = s.albedo * (1 - a[..., None]) + ink * a[..., None]


def droplets(s):
    """Drops and bubbles: a lens of oil with a dark rim, a glint and what it mirrors."""
    rng, ppm = s.rng, s.ppm
    o = s.notes.get('oil') if rng.random() < .6 else None
    o = colours.oil(rng) if o is None else o
    n = int(log_uniform(rng, 1, 30))
    big = log_uniform(rng, .25, 4)
    for _ in range(n):
        r = float(np.clip(big * math.exp(rng.normal() * .6), .12, 9)) * ppm
        c = spot(rng, s.w, s.h)
        k = int(r * 1.7) + 3
        x0, y0, x1, y1 = max(0, int(c[0]) - k), max(0, int(c[1]) - k), min(s.w, int(c[0]) + k), min(s.h, int(c[1]) + k)
        if x1 - x0 < 3 or y1 - y0 < 3:
            continue
        y, x = np.mgrid[y0:y1, x0:x1].astype(np.float32)
        a, asp = rng.uniform(0, 6.28), rng.uniform(.7, 1)
        u, v = (x - c[0]) * math.cos(a) + (y - c[1]) * math.sin(a), -(x - c[0]) * math.sin(a) + (y - c[1]) * math.cos(a)
        d = np.hypot(u, v / asp) / r
        t = np.arctan2(v, u)
        d = d * (1 + rng.uniform(0, .15) * np.cos(2 * t + rng.uniform(0, 6)) + rng.uniform(0, .1) * np.cos(3 * t + rng.uniform(0, 6)))
        sub = (slice(y0, y1), slice(x0, x1))
        m = step(d, 1 + .7 / max(1, r), 1 - .7 / max(1, r))
        hgt = np.sqrt(np.clip(1 - d * d, 0, 1)) * r / ppm * rng.uniform(.08, .6)
        deep = rng.uniform(.2, 1.4)
        s.albedo[sub] *= absorb(o, m * deep * (.35 + .65 * np.sqrt(np.clip(1 - d * d, 0, 1))))
        if rng.random() < .7:                                         # light is bent away at the rim
            s.albedo[sub] *= (1 - rng.uniform(.2, .9) * m * step(d, rng.uniform(.5, .9), 1))[..., None]
        if rng.random() < .4:                                         # and gathered on the far side
            q = np.exp(-(((x - c[0]) - .5 * r * math.cos(a)) ** 2 + ((y - c[1]) - .5 * r * math.sin(a)) ** 2) / (.3 * r) ** 2)
            s.albedo[sub] = np.clip(s.albedo[sub] * (1 + rng.uniform(0, 1.2) * q * m)[..., None], 0, .95)
        s.coat[sub] = np.maximum(s.coat[sub], m)
        s.coat_height[sub] += hgt
        s.metal[sub] *= 1 - .6 * m


def bubbles(s):
    rng, ppm = s.rng, s.ppm
    c0 = rng.uniform(0, 1, 2) * [s.w, s.h]
    for _ in range(int(log_uniform(rng, 3, 60))):
        c = (c0 + rng.normal(size=2) * rng.uniform(2, 8) * ppm).tolist()
        r = log_uniform(rng, .1, 1.5) * ppm
        k = int(r * 1.5) + 3
        x0, y0, x1, y1 = max(0, int(c[0]) - k), max(0, int(c[1]) - k), min(s.w, int(c[0]) + k), min(s.h, int(c[1]) + k)
        if x1 - x0 < 3 or y1 - y0 < 3:
            continue
        y, x = np.mgrid[y0:y1, x0:x1].astype(np.float32)
        d = np.hypot(x - c[0], y - c[1]) / r
        ring = np.exp(-((d - 1) / rng.uniform(.1, .3)) ** 2)
        sub = (slice(y0, y1), slice(x0, x1))
        s.albedo[sub] = np.clip(s.albedo[sub] * (1 + rng.uniform(-.7, .7) * ring)[..., None], 0, .95)
        s.coat[sub] = np.maximum(s.coat[sub], step(d, 1.1, .9) * .9)
        s.coat_height[sub] += np.sqrt(np.clip(1 - d * d, 0, 1)) * r / ppm * .5


def cover(s, m, rgb, tall, rough=.6, metal=0., hide=True, soft=.15):
    """Something that lies over the picture: m is its mask; nothing below it is seen."""
    a = m[..., None]
    s.albedo = s.albedo * (1 - a) + rgb * a
    for k, v in ((s.rough, rough), (s.metal, metal), (s.coat, 0.)):
        k *= 1 - m
        k += v * m
    s.coat_height *= 1 - m
    s.normal *= 1 - a
    s.own *= 1 - m
    if s.glow is not None:
        s.glow = (s.glow[0] * (1 - a), s.glow[1] * (1 - m))
    h = blur(m, max(.5, soft * s.ppm)) * tall
    s.height = s.height * (1 - m) + np.where(m > 0, h, 0)
    s.top = np.maximum(s.top * (1 - m), np.where(m > .3, h, -9))
    if hide:
        s.ids[m > .5] = -1


def rounded(s, cx, cy, a, wide, tall, r):
    """A rectangle with round corners as a mask and its own coordinates in mm."""
    x, y = s.xy()
    u = ((x - cx) * math.cos(a) + (y - cy) * math.sin(a)) / s.ppm
    v = (-(x - cx) * math.sin(a) + (y - cy) * math.cos(a)) / s.ppm
    d = np.hypot(np.maximum(np.abs(u) - wide / 2 + r, 0), np.maximum(np.abs(v) - tall / 2 + r, 0)) - r
    return step(d, .5 / s.ppm, -.5 / s.ppm), u, v


def card(s):
    """A corner of a card with rings, patches, print: truth has nothing on it."""
    rng = s.rng
    wide, tall = rng.uniform(60, 95), rng.uniform(40, 60)
    e, quarter = rng.uniform(0, 6.28), rng.random() < .5                # which way out, and by which edge it looks in
    a = e + (math.pi / 2 if quarter else 0) + rng.normal() * .15
    k = (rng.uniform(.05, .48) * min(s.h, s.w)) + (tall if quarter else wide) / 2 * s.ppm
    o = rng.normal() * 20 * s.ppm
    c = (s.w / 2 + k * math.cos(e) - o * math.sin(e), s.h / 2 + k * math.sin(e) + o * math.cos(e))
    m, u, v = rounded(s, c[0], c[1], a, wide, tall, rng.uniform(0, 4))
    rgb = np.ones((s.h, s.w, 3), np.float32) * np.clip(rng.uniform(.6, .9) * (1 + rng.normal(size=3) * .02), 0, .95).astype(np.float32)

    def put(mask, col):
        nonlocal rgb
        rgb = rgb * (1 - mask[..., None]) + np.asarray(col, np.float32) * mask[..., None]
    e = .6 / s.ppm
    for cx, cy in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
        d = np.hypot(u - cx * (wide / 2 - 5), v - cy * (tall / 2 - 5))
        R = rng.uniform(2, 4)
        put(step(d, R + e, R - e) * step(d, R * .45 - e, R * .45 + e), rng.uniform(.01, .08, 3))
    for i in range(int(rng.integers(4, 14))):
        q, p = rng.uniform(-.4, .4) * wide, rng.uniform(-.35, .35) * tall
        b = rng.uniform(2, 7)
        put(step(np.abs(u - q), b / 2 + e, b / 2 - e) * step(np.abs(v - p), b / 2 + e, b / 2 - e), colours.jitter(rng, rng.uniform(.02, .7, 3)))
    if rng.random() < .7:                                             # squares of a code
        n, b = int(rng.integers(15, 30)), rng.uniform(.4, .8)
        q, p = rng.uniform(-.4, .1) * wide, rng.uniform(-.4, .1) * tall
        g = rng.random((n + 2, n + 2)) < .5
        g[[0, -1]] = False
        g[:, [0, -1]] = False
        k = g[np.clip(((v - p) / b).astype(int), 0, n + 1), np.clip(((u - q) / b).astype(int), 0, n + 1)].astype(np.float32)
        put(blur(k, .5), rng.uniform(.01, .06, 3))
    if rng.random() < .7:
        k = step(np.abs(u % 1 - .5), .1 + e, .1 - e) * step(np.abs(v - tall * .42), 1.5 + e, 1.5 - e) * (np.abs(u) < 30)
        put(k, (.05, .05, .05))
    old, s.albedo = s.albedo, rgb
    for _ in range(int(rng.integers(0, 4))):
        t = write(rng, words(rng), rng.uniform(1.2, 4) * s.ppm, max(1, int(.2 * s.ppm)))
        stamp(s, t, np.array(c) + rng.normal(size=2) * 12 * s.ppm, -a, np.full(3, .04, np.float32), 1)
    rgb, s.albedo = s.albedo, old
    cover(s, m, rgb, rng.uniform(.15, .6), rng.uniform(.3, .8), soft=.03)


def tape(s):
    rng = s.rng
    m, u, v = rounded(s, rng.uniform(0, 1) * s.w, rng.uniform(0, 1) * s.h, rng.uniform(0, 6.28), rng.uniform(20, 200), rng.uniform(6, 30), 0)
    k = (m * rng.uniform(.1, .9))[..., None]
    c = colours.jitter(rng, pick(rng, [(.8, .75, .5), (.6, .6, .6), (.05, .05, .06), (.1, .2, .5), (.7, .7, .2), (.85, .85, .85)]))
    s.albedo = s.albedo * (1 - k) + c * k
    s.height += m * .05
    s.rough = s.rough * (1 - m) + m * rng.uniform(.1, .5)
    s.coat = np.maximum(s.coat, m * rng.uniform(0, .7))


def intruder(s):
    """Fingers, gloves, tools, rims at the border of the picture."""
    rng = s.rng
    e = rng.uniform(0, 6.28)
    out = np.array([math.cos(e), math.sin(e)])
    tip = np.array([s.w / 2, s.h / 2]) + out * rng.uniform(.3, .52) * np.array([s.w, s.h])
    kind = pick(rng, ['finger', 'glove', 'tool', 'rag', 'rod'])
    x, y = s.xy()
    m, tall = np.zeros((s.h, s.w), np.float32), rng.uniform(2, 12)
    for i in range(int(rng.integers(1, 4)) if kind in ('finger', 'glove') else 1):
        a = math.atan2(out[1], out[0]) + rng.normal() * .35
        t = tip + i * rng.uniform(14, 20) * s.ppm * np.array([-out[1], out[0]]) + rng.normal(size=2) * 3 * s.ppm
        t = t.tolist()
        u, v = ((x - t[0]) * math.cos(a) + (y - t[1]) * math.sin(a)) / s.ppm, (-(x - t[0]) * math.sin(a) + (y - t[1]) * math.cos(a)) / s.ppm
        r = {'finger': rng.uniform(6, 10), 'glove': rng.uniform(7, 12), 'tool': rng.uniform(3, 12), 'rag': rng.uniform(20, 50), 'rod': rng.uniform(1.2, 4)}[kind]
        v = v + (.02 * u * u * rng.normal() * .2 if kind != 'tool' else 0)
        d = np.where(u > 0, np.abs(v), np.hypot(u, v)) if kind != 'tool' else np.maximum(np.abs(v), -u + r * rng.uniform(0, .5))
        if kind == 'rag':
            d = d + 4 * fbm(rng, s.h, s.w, 12 * s.ppm, 3)
        m = np.maximum(m, step(d, r + .5 / s.ppm, r - .5 / s.ppm))
        s_prof = np.sqrt(np.clip(1 - (d / r) ** 2, 0, 1))
        if i == 0:
            prof = s_prof * m
        else:
            prof = np.maximum(prof, s_prof * m)
    c = {'finger': pick(rng, [(.55, .33, .24), (.35, .19, .12), (.15, .08, .05), (.65, .45, .35)]), 'glove': pick(rng, [(.02, .02, .02), (.05, .15, .5), (.6, .6, .55), (.1, .35, .4), (.6, .25, .05)]), 'tool': pick(rng, [(.5, .5, .5), (.1, .1, .1), (.6, .05, .03), (.4, .4, .42)]), 'rag': pick(rng, [(.5, .1, .08), (.1, .2, .5), (.6, .6, .55), (.3, .3, .3)]), 'rod': pick(rng, [(.6, .6, .6), (.3, .3, .3), (.7, .6, .4)])}[kind]
    rgb = (1 + .08 * fbm(rng, s.h, s.w, s.ppm * rng.uniform(.4, 3), 4))[..., None] * colours.jitter(rng, c, .06, .2)
    shiny = kind in ('tool', 'rod')
    cover(s, m, np.clip(rgb, .01, .95), 0, rng.uniform(.15, .5) if shiny else rng.uniform(.4, .8), rng.uniform(.5, 1) if shiny and rng.random() < .7 else 0)
    h = prof * min(tall, 6.0)
    s.height += h
    s.top = np.maximum(s.top, s.height)


def shadow(s):
    """A shadow from outside over part of the picture: an edge, a phone, an arm, slats."""
    rng = s.rng
    x, y = s.xy()
    a = rng.uniform(0, 6.28)
    u = ((x - s.w / 2) * math.cos(a) + (y - s.h / 2) * math.sin(a)) / s.ppm
    v = (-(x - s.w / 2) * math.sin(a) + (y - s.h / 2) * math.cos(a)) / s.ppm
    soft = log_uniform(rng, .1, 15)
    k = rng.random()
    o = rng.normal() * 12
    if k < .45:
        m = step(u, o - soft, o + soft)
    elif k < .75:
        w = rng.uniform(3, 30)
        m = step(np.abs(u - o + .01 * v * v * rng.normal() * .3), w + soft, w - soft * .5)
    elif k < .88:
        p = rng.uniform(4, 30)
        m = step(np.abs(u % p - p / 2), p * .3 + soft * .1, p * .3 - soft * .1)
    else:
        f = fbm(rng, s.h, s.w, s.ppm * rng.uniform(5, 25), 4)
        m = step(f, 0, .2 + soft * .05)
    d = 1 - m * rng.uniform(.3, 1)
    s.shade = d if s.shade is None else s.shade * d


def smears(s):
    """Fingerprints, wiped streaks, dust, tiny glitter below the size that counts."""
    rng, h, w, ppm = s.rng, s.h, s.w, s.ppm
    k = rng.random()
    if k < .4:
        a = rng.uniform(0, 3.14)
        f = fbm(rng, h, w, ppm * log_uniform(rng, .3, 3), 3, stretch=rng.uniform(8, 40), angle=a)
        m = step(f, rng.uniform(.2, 1), 2.2) * step(smooth(rng, h, w, ppm * 18), 0, 1)
        c = colours.jitter(rng, pick(rng, [(.05, .05, .05), (.15, .1, .06), (.5, .45, .4), (.3, .1, .08)]))
        m = (m * rng.uniform(.1, .8))[..., None]
        s.albedo = s.albedo * (1 - m) + c * m
    elif k < .6:
        x, y = s.xy()
        c = spot(rng, w, h)
        a = rng.uniform(0, 6.28)
        u, v = ((x - c[0]) * math.cos(a) + (y - c[1]) * math.sin(a)) / ppm, (-(x - c[0]) * math.sin(a) + (y - c[1]) * math.cos(a)) / ppm
        r = np.hypot(u, v / 1.35)
        ridge = np.sin((np.hypot(u + 2, v) + .4 * smooth(rng, h, w, ppm * 3)) * 6.28 / rng.uniform(.45, .7))
        m = step(r, 8, 6) * step(ridge, 0, .7) * rng.uniform(.05, .4)
        s.albedo = s.albedo * (1 - m[..., None] * .8)
        s.rough += .15 * m
    else:
        n = (rng.random((h, w), dtype=np.float32) < log_uniform(rng, .0002, .004)).astype(np.float32)
        if rng.random() < .5:
            n = n * step(smooth(rng, h, w, ppm * 10), 0, 1)
        b = max(.4, rng.uniform(.015, .045) * ppm)
        n = np.clip(blur(n, b) * b * b * 6.28, 0, 1)
        if rng.random() < .5:
            s.albedo *= (1 - rng.uniform(.2, .85) * n)[..., None]
        else:
            s.albedo = np.clip(s.albedo * (1 - n[..., None]) + n[..., None] * rng.uniform(.4, .95), 0, .95)
            s.metal = np.maximum(s.metal, n * .5)


def loose_weave(s):
    """A snagged thread of the wipe itself: of its colour, low, no shadow to speak of."""
    rng, ppm = s.rng, s.ppm
    m = np.zeros((s.h, s.w), np.uint8)
    for _ in range(int(rng.integers(1, 5))):
        a = rng.uniform(0, 3.14)
        q = np.linspace(-.5, .5, 20)[:, None] * np.array([math.cos(a), math.sin(a)]) * rng.uniform(20, 120) * ppm
        q = q + np.cumsum(rng.normal(size=(20, 2)), 0) * .1 * ppm + rng.uniform(0, 1, 2) * [s.w, s.h]
        lines(m, q, 255, rng.uniform(.1, .4) * ppm)
    k = m.astype(np.float32) / 255
    s.height += blur(k, .6) * rng.uniform(.01, .08)
    s.albedo = np.clip(s.albedo * (1 + k * rng.uniform(-.12, .12))[..., None], 0, .95)
