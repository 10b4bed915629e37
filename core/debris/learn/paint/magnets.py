"""A magnet in the picture: its bare face and the paste on it, smooth, granular, ridged, bristly."""
import math
import numpy as np
from . import colours
from .distractors import rounded
from .noise import blur, fbm, log_uniform, pick, smooth, spot, step
from .pans import patchy


def lay(s):
    """Draws the magnet over the ground; returns (face mask, paste mask 0..1, form)."""
    rng, h, w, ppm = s.rng, s.h, s.w, s.ppm
    small = min(h, w) / ppm
    c = spot(rng, w, h, .35, .65)
    form = pick(rng, ['block', 'block', 'ring', 'disc'])
    a = rng.uniform(0, 6.28)
    size = min(rng.uniform(15, 50), small * rng.uniform(.5, 1.3))
    x, y = s.xy()
    if form == 'block':
        m, u, v = rounded(s, c[0], c[1], a, size, size * rng.uniform(.4, 1), rng.uniform(.1, 2.5))
    else:
        u, v = (x - c[0]) / ppm, (y - c[1]) / ppm
        r = np.hypot(u, v)
        e = .5 / ppm
        m = step(r, size / 2 + e, size / 2 - e)
        if form == 'ring':
            q = size * rng.uniform(.12, .3)
            m = m * step(r, q - e, q + e)
    side = rng.normal(size=2) * rng.uniform(0, 2.5) * ppm              # a side seen obliquely
    tall = rng.uniform(3, 8)
    g = rng.uniform(.12, .6)
    face = colours.jitter(rng, (g, g, g), .03, .2) if rng.random() < .8 else colours.jitter(rng, (.08, .08, .08), .05, .4)
    tone = 1 + rng.uniform(.01, .1) * fbm(rng, h, w, ppm * rng.uniform(.3, 5), 4)
    if rng.random() < .3:
        tone += .12 * fbm(rng, h, w, ppm * rng.uniform(.5, 2), 2)
    if np.hypot(*side) > .5:
        import cv2
        t = np.float32([[1, 0, side[0]], [0, 1, side[1]]])
        sm = cv2.warpAffine(m, t, (w, h))
        for k in (.33, .66):
            sm = np.maximum(sm, cv2.warpAffine(m, np.float32([[1, 0, side[0] * k], [0, 1, side[1] * k]]), (w, h)))
        sm = sm * (1 - m)
        s.albedo = s.albedo * (1 - sm[..., None]) + face * rng.uniform(.3, .9) * sm[..., None]
        s.height = s.height * (1 - sm) + tall * .5 * sm
        s.metal = s.metal * (1 - sm) + .3 * sm
        s.coat *= 1 - sm
    k = m[..., None]
    s.albedo = s.albedo * (1 - k) + np.clip(face * tone[..., None], .01, .9) * k
    s.metal = s.metal * (1 - m) + rng.uniform(0, .9) * m
    s.rough = s.rough * (1 - m) + rng.uniform(.2, .7) * m
    s.coat = s.coat * (1 - m) + m * (rng.uniform(0, 1) if rng.random() < .5 else 0)
    s.coat_height *= 1 - m
    z = log_uniform(rng, .0005, .01) * fbm(rng, h, w, ppm * .5, 3)
    s.height = s.height * (1 - m) + (tall + z) * m
    cover = pick(rng, {'none': 1.5, 'film': 1.5, 'paste': 4, 'bristle': 2.5, 'full': 1})
    p = np.zeros((h, w), np.float32)
    if cover != 'none':
        share = 1.0 if cover == 'full' else rng.uniform(.1, .95)
        p = m * (1 if share == 1 else patchy(rng, h, w, ppm * log_uniform(rng, .8, 14), share, log_uniform(rng, .02, .3), int(rng.integers(2, 6)), rng.uniform(.35, .65)))
        d = colours.jitter(rng, pick(rng, [(.025, .025, .027), (.04, .035, .03), (.08, .075, .07), (.015, .015, .017)]), .05, .4)
        thick = blur(p, ppm * rng.uniform(.15, .6)) * p
        bump = log_uniform(rng, .01, .15) if cover == 'film' else log_uniform(rng, .04, .5)
        kind = pick(rng, ['grain', 'ridge', 'hair', 'smooth']) if cover != 'bristle' else pick(rng, ['hair', 'ridge', 'grain'])
        if kind == 'grain':
            f = fbm(rng, h, w, ppm * log_uniform(rng, .2, 1.2), 3, .6)
        elif kind == 'ridge':
            f = fbm(rng, h, w, ppm * log_uniform(rng, .4, 2), 4, .55, ridged=True)
        elif kind == 'hair':
            f = fbm(rng, h, w, max(1.2, ppm * log_uniform(rng, .07, .25)), 3, .7, stretch=rng.uniform(2, 10), angle=a + rng.uniform(-.5, .5))
            f = f + .6 * fbm(rng, h, w, ppm * .8, 2)
        else:
            f = .3 * smooth(rng, h, w, ppm * 2)
        s.height += thick * rng.uniform(.05, .6) + p * bump * np.clip(f, -2, 3) * .4
        q = p[..., None] * rng.uniform(.8, 1)
        tone = np.clip(1 + rng.uniform(.05, .5) * f, .2, 3)[..., None]
        s.albedo = s.albedo * (1 - q) + np.clip(d * tone, .004, .6) * q
        s.metal = s.metal * (1 - p) + rng.uniform(0, .5) * p
        s.rough = s.rough * (1 - p) + rng.uniform(.25, .8) * p
        s.coat = s.coat * (1 - p) + (rng.uniform(.2, 1) if rng.random() < .6 else 0) * p
        s.soft = rng.uniform(.7, 1.2)
    s.notes['spread_px'] = 0
    s.notes['magnet'] = dict(form=form, cover=float((p * m).sum() / max(1, m.sum())))
    return m, p
