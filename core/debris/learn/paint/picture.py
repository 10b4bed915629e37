"""One picture with its truth: ground, pieces, distractors, light, phone."""
import math
from dataclasses import dataclass, field
import cv2
import numpy as np
from . import colours, distractors as dis, magnets, papers, pans, phone, pieces as pc, scene as sc
from .noise import blur, log_uniform, pick, smooth, step

KINDS = {'patch': 4, 'pan': 4, 'magnet': 1.2, 'negative': 1}


@dataclass
class Picture:
    rgb: np.ndarray                  # (h, w, 3) uint8 sRGB
    pieces: list                     # dicts as in the photos' truth
    ids: np.ndarray                  # (h, w) int16: number of the piece that shows there, 0 ground, -1 something laid over
    px_per_mm: float
    kind: str
    notes: dict = field(default_factory=dict)


def how_many(rng, mm2, kind):
    k = rng.random()
    if kind == 'negative' or k < .18:
        return 0
    return int(np.clip(log_uniform(rng, 4, 190) * mm2 / 4900, 1, 160))


def places(rng, s, lengths, region=None):
    """Middles in px: spread, clustered, or touching; some half outside."""
    h, w, ppm = s.h, s.w, s.ppm
    n = len(lengths)
    out, laid = [], []                                     # laid: (x, y, length) of those that found room
    c0 = [rng.uniform(0, 1, 2) * [w, h] for _ in range(int(rng.integers(1, 4)))]
    spread = rng.uniform(6, 25) * ppm
    mode = pick(rng, ['even', 'cloud', 'cloud', 'mixed'])
    touch = rng.uniform(0, .35) if rng.random() < .5 else .02
    for i in range(n):
        for _ in range(30):
            if laid and rng.random() < touch:
                q = pick(rng, laid)
                a = rng.uniform(0, 6.28)
                p = np.array(q[:2]) + (lengths[i] + q[2]) * .5 * ppm * rng.uniform(.6, 1.15) * np.array([math.cos(a), math.sin(a)])
                near = .5
            else:
                p = rng.uniform(-.01, 1.01, 2) * [w, h] if mode == 'even' or (mode == 'mixed' and rng.random() < .5) else c0[int(rng.integers(len(c0)))] + rng.normal(size=2) * spread
                near = 1.0
            if not (-.4 * lengths[i] * ppm < p[0] < w + .4 * lengths[i] * ppm and -.4 * lengths[i] * ppm < p[1] < h + .4 * lengths[i] * ppm):
                continue
            if region is not None and not region[int(np.clip(p[1], 0, h - 1)), int(np.clip(p[0], 0, w - 1))]:
                continue
            if all(math.hypot(p[0] - q[0], p[1] - q[1]) > near * .36 * (lengths[i] + q[2]) * ppm for q in laid):
                out.append((float(p[0]), float(p[1])))
                laid.append((*out[-1], lengths[i]))
                break
        else:
            out.append(None)
    return out


def textures(s, rng):
    """Grounds from the pictures that scikit-image carries: gravel, brick, grass, coins and the like."""
    rgb, name = photo_texture(pick(rng, TEXTURES))
    h, w = s.h, s.w
    scale = log_uniform(rng, .5, 3)
    m = cv2.getRotationMatrix2D((rgb.shape[1] / 2, rgb.shape[0] / 2), rng.uniform(0, 360), scale)
    m[:, 2] += [w / 2 - rgb.shape[1] / 2, h / 2 - rgb.shape[0] / 2]
    t = cv2.warpAffine(rgb, m, (w, h), flags=cv2.INTER_CUBIC, borderMode=cv2.BORDER_REFLECT)
    g = np.clip(t * rng.uniform(.5, 1.2) * (1 + rng.normal(size=3) * .1).astype(np.float32), .01, .95)
    s.albedo = g
    if rng.random() < .5:
        s.height += (blur(g.mean(2), .5) - .4) * rng.uniform(.05, .8)
    s.notes['ground'] = 'texture ' + name


TEXTURES = ['gravel', 'brick', 'grass', 'coins', 'coffee', 'moon', 'cell', 'immunohistochemistry', 'hubble_deep_field', 'page', 'text', 'retina', 'colorwheel']
_textures = {}


def photo_texture(name):
    if name not in _textures:
        import os
        import skimage
        d = os.path.join(os.path.dirname(skimage.__file__), 'data')
        file = {'immunohistochemistry': 'ihc.png', 'hubble_deep_field': 'hubble_deep_field.jpg', 'retina': 'retina.jpg', 'colorwheel': 'color.png'}.get(name, name + '.png')
        im = cv2.imread(os.path.join(d, file))
        v = im[..., ::-1].astype(np.float32) / 255
        _textures[name] = np.where(v <= .04045, v / 12.92, ((v + .055) / 1.055) ** 2.4).astype(np.float32)
    return _textures[name], name


def draw(rng, kind=None, px_per_mm=None, size_px=None, photos=None):
    """One picture of `size_px` (h, w) at about `px_per_mm` (a lens that bends changes it by some %: the picture says its own);
    `photos` are Cutouts or None."""
    kind = kind or pick(rng, KINDS)
    ppm = px_per_mm or float(log_uniform(rng, 8, 20))
    if size_px is None:
        side = min(rng.uniform(50, 80) * ppm, 1100)
        size_px = (int(side * rng.uniform(.75, 1)), int(side))
    ss = max(1.0, 12 / ppm)                                   # drawn somewhat finer than it is taken
    h, w = int(round(size_px[0] * ss)), int(round(size_px[1] * ss))
    s = sc.Scene(rng, h, w, ppm * ss)
    mm2 = h * w / s.ppm ** 2
    s.notes['kind'] = kind
    floor = kind == 'pan' or (kind in ('magnet', 'negative') and rng.random() < .4)
    if kind == 'negative' and rng.random() < .35 or kind == 'patch' and rng.random() < .05:
        textures(s, rng)
        wet = np.zeros((h, w), np.float32)
    elif floor:
        pans.lay(s)
        wet = pans.oil(s) if rng.random() < .8 else np.zeros((h, w), np.float32)
        if rng.random() < .15:
            wet = np.maximum(wet, pans.oil(s))
    else:
        papers.lay(s)
        wet = papers.soak(s) if rng.random() < .75 else np.zeros((h, w), np.float32)
    p = lambda x: rng.random() < x
    if p(.18 if floor else .35):
        dis.writing(s)
    if p(.06):
        dis.writing(s)
    if p(.12 if floor else .3):
        dis.strokes(s)
    if p(.4 if floor else .25):
        dis.droplets(s)
    if p(.08 if floor else .02):
        dis.bubbles(s)
    if p(.3):
        dis.smears(s)
    if not floor and p(.08):
        dis.loose_weave(s)
    if p(.06):
        dis.tape(s)
    region, paste = None, None
    if kind == 'magnet':
        face, paste = magnets.lay(s)
        region = face > .5 if p(.8) else None
        wet = np.where(face > .5, paste, wet)
        mm2 = float(face.sum()) / s.ppm ** 2 * 4 if region is not None else mm2
    s.begin_pieces()
    n = how_many(rng, mm2, kind)
    mix = rng.dirichlet(np.full(len(pc.CLASSES), .6))
    if p(.5):
        mix = mix * .4 + .6 * np.array([.22, .1, .1, .12, .22, .06, .06, .08, .1])
    if kind == 'magnet' and p(.7):
        mix = mix * .3 + .7 * np.array([.5, .4, .02, .02, .04, 0, 0, .02, 0])
    cls = [pc.CLASSES[i] for i in rng.choice(len(pc.CLASSES), n, p=mix / mix.sum())]
    scale = math.exp(rng.normal() * .3)
    lengths = [float(np.clip(pc.size(rng, c) * scale, .2, 12)) for c in cls]
    order = np.argsort([-v for v in lengths])
    cls, lengths = [cls[i] for i in order], [lengths[i] for i in order]
    wetness = rng.uniform(0, 1)
    buried = rng.uniform(0, .5) if (kind == 'magnet' and p(.7)) or p(.05) else 0
    cut = rng.uniform(.3, 1) if photos is not None and p(.5) else 0
    flat = rng.uniform(.3, 1) if p(.1) else 0
    for c, length, at in zip(cls, lengths, places(rng, s, lengths, region)):
        if at is None:
            continue
        k = float(wet[int(np.clip(at[1], 0, h - 1)), int(np.clip(at[0], 0, w - 1))])
        if cut and rng.random() < cut:
            photos.put(s, c, length, *at)
        else:
            pc.put(s, c, length, *at, wetness * (.3 + .7 * k), bury=buried * rng.random(), flat=flat > 0 and rng.random() < flat)
    if s.pieces and p(.7):
        pc.halo(s, None, blur(np.clip(wet, 0, 1), 2))
    if p(.15 if kind != 'magnet' else .05):
        dis.card(s)
    if p(.12):
        dis.intruder(s)
    if p(.18):
        dis.shadow(s)
    lamps, amb, env = sc.lights(rng)
    light = sc.shade(s, lamps, amb, env)
    bend = phone.Bend(rng, w, h) if p(.6) else None
    ids = s.ids
    if bend:
        ppm *= bend.zoom
        light, ids = bend.picture(light, cv2.INTER_LINEAR), bend.picture(ids, cv2.INTER_NEAREST)
        for t in s.pieces:
            t['poly'] = bend.points(t['poly'])
    if ss > 1:
        light = cv2.resize(light, (size_px[1], size_px[0]), interpolation=cv2.INTER_AREA)
        ids = cv2.resize(ids, (size_px[1], size_px[0]), interpolation=cv2.INTER_NEAREST)
    rgb = phone.take(rng, light)
    return Picture(rgb, truth(s, ss, rgb, ids), ids, ppm, kind, s.notes)


def truth(s, ss, rgb, ids):
    """What the photos' truth says of each piece, and how it stands out: `contrast` is the difference of its tones from
    those around it (mean or spread) over the spread around it; below about 0.5 nobody could see it."""
    seen = np.bincount(np.clip(s.ids, 0, None).ravel(), minlength=len(s.pieces) + 1)
    out = []
    for i, t in enumerate(s.pieces, 1):
        p = np.asarray(t['poly']) / ss
        c = cv2.moments(p.astype(np.float32).reshape(-1, 1, 2))
        mid = (c['m10'] / c['m00'], c['m01'] / c['m00']) if c['m00'] > 1e-6 else p.mean(0)
        out.append({'id': i, 'class': t['cls'], 'ferrous': t['ferrous'], 'x_px': round(float(mid[0]), 2), 'y_px': round(float(mid[1]), 2),
                    'feret_max_mm': round(t['feret'], 4), 'visible': round(min(1.0, float(seen[i]) / max(t['whole'], 1e-6)), 3), 'visible_px': int(round(seen[i] / ss ** 2)),
                    'contrast': contrast(rgb, ids, i, p), 'polygon_px': [[round(float(a), 2), round(float(b), 2)] for a, b in thin_out(p)]})
    return out


def contrast(rgb, ids, i, p):
    h, w = ids.shape
    pad = 3 + int(.2 * float(np.ptp(p, axis=0).max()))
    x0, y0 = np.maximum(np.floor(p.min(0)).astype(int) - pad, 0)
    x1, y1 = np.ceil(p.max(0)).astype(int) + pad
    k, v = ids[y0:min(h, y1), x0:min(w, x1)], rgb[y0:min(h, y1), x0:min(w, x1)]
    inside, around = v[k == i].astype(np.float32), v[k == 0].astype(np.float32)
    if len(inside) < 1 or len(around) < 4:
        return None
    spread = float(around.std(0).mean())
    return round(max(float(np.abs(inside.mean(0) - around.mean(0)).max()), float(inside.std(0).mean()) - spread if len(inside) > 3 else 0.0) / (spread + 3), 2)


def thin_out(p):
    """Fewer corners, within 0.08 px."""
    q = cv2.approxPolyDP(np.asarray(p, np.float32).reshape(-1, 1, 2), .08, True)[:, 0]
    return q if len(q) >= 3 else p
