"""Pieces cut out of photos by their truth, to be laid on other grounds. Only the named folders are used, so that one
painter can be left out wholly."""
import functools
import json
import math
import os
import cv2
import numpy as np
from .colours import lin
from .noise import blur, pick
from .pieces import FERROUS, longest, put as put_drawn


class Cutouts:
    """Read once, before workers are forked: all share the memory."""

    def __init__(self, folders):
        self.by_class = {}
        for folder in folders:
            for name in sorted(os.listdir(os.path.join(folder, 'truth'))):
                with open(os.path.join(folder, 'truth', name)) as f:
                    t = json.load(f)
                good = [p for p in t['particles'] if p['visible'] >= .75 and p['visible_px'] >= 30 and len(p['polygon_px']) > 3]
                if good:
                    self._cut(t, upright(os.path.join(folder, t['file'])), good)

    @classmethod
    @functools.lru_cache(maxsize=4)
    def of(cls, folders):
        return cls(folders)

    def _cut(self, t, rgb, good):
        h, w = rgb.shape[:2]
        small = cv2.resize(rgb, (w // 8, h // 8), interpolation=cv2.INTER_AREA).reshape(-1, 3)
        white = np.maximum(lin(*np.percentile(small, 96, axis=0)), .08) / .8
        for p in good:
            q = np.asarray(p['polygon_px'], float)
            x0, y0 = np.floor(q.min(0)).astype(int) - 4
            x1, y1 = np.ceil(q.max(0)).astype(int) + 4
            if x0 < 0 or y0 < 0 or x1 > w or y1 > h or max(x1 - x0, y1 - y0) > 500:
                continue
            self.by_class.setdefault(p['class'], []).append((p['feret_max_mm'], t['px_per_mm_centre'], rgb[y0:y1, x0:x1].copy(), q - [x0, y0], white))

    def put(self, s, cls, length, cx, cy):
        """Lays a piece of this class and about this length; draws one where there is none. Its truth, or None."""
        rng = s.rng
        fit = [c for c in self.by_class.get(cls, []) if .65 < length / c[0] < 1.5]
        if not fit:
            return put_drawn(s, cls, length, cx, cy, 0.3)
        feret, ppm, rgb, poly, white = pick(rng, fit)
        k = length / feret * s.ppm / ppm                         # working px a photo px
        n = int(math.ceil(length * s.ppm * .56)) + 3
        x0, y0 = int(math.floor(cx)) - n, int(math.floor(cy)) - n
        mid = (poly.max(0) + poly.min(0)) / 2
        a = rng.uniform(0, 2 * math.pi)
        flip = -1.0 if rng.random() < .5 else 1.0
        turn = k * np.array([[math.cos(a) * flip, -math.sin(a)], [math.sin(a) * flip, math.cos(a)]])
        place = np.array([cx - x0, cy - y0])
        ov = 2 if k < 1 else 1                                  # reduced: sampled finer, then averaged
        m = np.hstack([turn * ov, ((place - turn @ mid) * ov + turn @ [.5, .5] * ov - .5)[:, None]])
        size = ((2 * n + 1) * ov,) * 2
        rough = cv2.GaussianBlur(rgb, (0, 0), .35 / (k * ov)) if k * ov < .7 else rgb
        t = cv2.warpAffine(rough, m, size, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
        q = (poly - mid) @ turn.T + place
        mask = np.zeros(size[::-1], np.uint8)
        cv2.fillPoly(mask, [np.round((q * ov - .5) * 16).astype(np.int32)], 255, cv2.LINE_AA, 4)
        v = t.astype(np.float32) / 255
        v = np.where(v <= .04045, v / 12.92, ((v + .055) / 1.055) ** 2.4).astype(np.float32) / white
        if cls in ('plastic', 'elastomer', 'lint') and rng.random() < .4:
            v = v[..., rng.permutation(3)]
        v = np.clip(v * (np.exp(rng.normal() * .25 + rng.normal(size=3) * .05)).astype(np.float32), .002, 2.5)
        side = (2 * n + 1, 2 * n + 1)
        alpha = blur(mask.astype(np.float32) / 255, rng.uniform(.3, .8) * ov)
        if ov > 1:
            v, alpha = cv2.resize(v, side, interpolation=cv2.INTER_AREA), cv2.resize(alpha, side, interpolation=cv2.INTER_AREA)
            mask = cv2.resize(mask, side, interpolation=cv2.INTER_AREA)
        X0, Y0, X1, Y1 = max(0, x0), max(0, y0), min(s.w, x0 + side[0]), min(s.h, y0 + side[1])
        if X1 <= X0 or Y1 <= Y0:
            return None
        sub, loc = (slice(Y0, Y1), slice(X0, X1)), (slice(Y0 - y0, Y1 - y0), slice(X0 - x0, X1 - x0))
        alpha, v, hard = alpha[loc], v[loc], mask[loc] > 100
        if s.glow is None:
            s.glow = (np.zeros((s.h, s.w, 3), np.float32), np.zeros((s.h, s.w), np.float32))
        A = alpha[..., None]
        s.glow[0][sub] = s.glow[0][sub] * (1 - A) + v * A
        s.glow[1][sub] = np.maximum(s.glow[1][sub] * (1 - alpha), alpha)
        s.own[sub] = np.maximum(s.own[sub], alpha)
        under = float(np.median(s.top[sub]))
        s.top[sub] = np.where(hard, under + min(.4, length * rng.uniform(.05, .25)), s.top[sub])
        s.ids[sub] = np.where(hard, len(s.pieces) + 1, s.ids[sub])
        poly = q + [x0, y0]
        truth = dict(cls=cls, poly=poly, feret=length, whole=float((mask > 100).sum()), ferrous=cls in FERROUS)
        s.pieces.append(truth)
        return truth


def upright(path):
    """The photo as it is meant to be seen: OpenCV turns it by its EXIF orientation."""
    return cv2.imread(path, cv2.IMREAD_COLOR)[..., ::-1]
