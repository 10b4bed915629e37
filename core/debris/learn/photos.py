"""Photos with their truth, as the networks learn from them.

A painter's folder has NAME.jpg and truth/NAME.json (the form that `render_debris` writes). `prepare` reads one
photo into numbers at 12 px/mm, or at its own scale where that is coarser.
"""

import json
import os

import cv2
import numpy as np
from PIL import Image, ImageOps

import net

SOURCE_PX_PER_MM = 12.0
SEAM, IGNORE = 4000, -1
GREYS = [(14, 243), (24, 200), (34, 160), (44, 122), (54, 85), (64, 52)]


def linear(v):
    v = np.asarray(v, float) / 255
    return np.where(v <= 0.04045, v / 12.92, ((v + 0.055) / 1.055) ** 2.4)


def load(path):
    return np.asarray(ImageOps.exif_transpose(Image.open(path)).convert("RGB"))


def white(rgb, corners):
    """Gains in sRGB's space by the card's grey steps and paper, their geometric mean 1; None where they can't be seen."""
    mm = np.float32([[0, 0], [85.6, 0], [85.6, 53.98], [0, 53.98]])
    H = cv2.getPerspectiveTransform(mm, np.float32(corners))
    ratios = []
    for x, y, nominal in [(a + 3.5, 6.5, v) for a, v in GREYS] + [(x, 6.5, 246) for x in (22.5, 42.5, 62.5)]:
        at = np.float32([[[x + i * 0.24, y + j * 0.6] for i in range(-3, 4) for j in range(-3, 4)]])
        p = cv2.perspectiveTransform(at, H)[0]
        if (p < 0).any() or (p[:, 0] >= rgb.shape[1]).any() or (p[:, 1] >= rgb.shape[0]).any():
            continue
        seen = np.median(linear(rgb[p[:, 1].astype(int), p[:, 0].astype(int)]), axis=0)
        ratios.append(0.9 * float(linear(nominal)) / np.maximum(seen, 1e-4))
    if len(ratios) < 4:
        return None
    g = np.median(ratios, axis=0)
    return (g / g.prod() ** (1 / 3)) ** (1 / 2.2)


def resampled(rgb, factor):
    """Area average by a factor of at most 1."""
    if factor >= 0.999:
        return rgb
    h, w = rgb.shape[:2]
    return cv2.resize(rgb, (max(1, round(w * factor)), max(1, round(h * factor))), interpolation=cv2.INTER_AREA)


# Pieces that nobody could see or that are too small to ask for are passed over in learning: below this length, and
# where neither tone nor spread of tones differs from what is around.
LEAST_MM, LEAST_CONTRAST = 0.2, 0.35


def neutral(q):
    return q["visible"] < 0.5 or q["visible_px"] < 12


def contrast(rgb, m, k, box):
    """How piece `k` of the map differs from the ground around it, in spreads of that ground."""
    x0, y0, x1, y1 = box
    pad = 3 + int(0.2 * max(x1 - x0, y1 - y0))
    x0, y0, x1, y1 = max(x0 - pad, 0), max(y0 - pad, 0), x1 + pad, y1 + pad
    i, v = m[y0:y1, x0:x1], rgb[y0:y1, x0:x1]
    inside, around = v[i == k].astype(np.float32), v[i == 0].astype(np.float32)
    if len(inside) < 1 or len(around) < 4:
        return 9.0
    spread = float(around.std(0).mean())
    texture = float(inside.std(0).mean()) - spread if len(inside) > 3 else 0.0
    return max(float(np.abs(inside.mean(0) - around.mean(0)).max()), texture) / (spread + 3)


def ids(truth, rgb, factor):
    """Map of pieces: 0 ground, k piece k, k + SEAM a place within 0.15 mm of another piece, IGNORE what is hidden for the most part."""
    shape = rgb.shape[:2]
    m = np.zeros(shape, np.int16)
    fine, boxes = 4, {}
    for k, q in enumerate(truth["particles"], 1):
        if len(q["polygon_px"]) < 3:
            continue
        p = np.array(q["polygon_px"], float) * factor
        x0, y0 = np.floor(p.min(0)).astype(int) - 1
        x1, y1 = np.ceil(p.max(0)).astype(int) + 2
        x0, y0, x1, y1 = max(x0, 0), max(y0, 0), min(x1, shape[1]), min(y1, shape[0])
        if x1 <= x0 or y1 <= y0:
            continue
        big = np.zeros(((y1 - y0) * fine, (x1 - x0) * fine), np.uint8)
        cv2.fillPoly(big, [np.round((p - [x0, y0]) * fine - 0.5).astype(np.int32)], 255)
        cover = cv2.resize(big, (x1 - x0, y1 - y0), interpolation=cv2.INTER_AREA)
        here = cover >= 102
        if q["class"] in ("lint", "steel_sliver") or here.sum() < 3:
            # Thinner than a pixel: keep it in one part.
            line = np.zeros((y1 - y0, x1 - x0), np.uint8)
            cv2.fillPoly(line, [np.round(p - [x0, y0] - 0.5).astype(np.int32)], 255)
            here |= line > 0
        m[y0:y1, x0:x1][here] = IGNORE if neutral(q) or q["feret_max_mm"] < LEAST_MM else k
        boxes[k] = x0, y0, x1, y1
    for k, box in boxes.items():
        x0, y0, x1, y1 = box
        mine = m[y0:y1, x0:x1]
        if (mine == k).any() and contrast(rgb, m, k, box) < LEAST_CONTRAST:
            mine[mine == k] = IGNORE
    return seamed(m, factor * truth["px_per_mm_centre"])


def seamed(m, px_per_mm):
    """Marks what lies within 0.15 mm of another piece."""
    r = 1 if px_per_mm < 9.5 else 2
    kernel = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * r + 1, 2 * r + 1))
    v = np.where(m > 0, m, 0).astype(np.uint16)
    high = cv2.dilate(v, kernel)
    low = cv2.erode(np.where(m > 0, m, 30000).astype(np.uint16), kernel)
    seam = (m > 0) & ((high != v) | (low != v))
    m[seam] += SEAM
    return m


def prepare(folder, name, painter):
    t = json.load(open(f"{folder}/truth/{name}.json"))
    rgb = load(f"{folder}/{t['file']}")
    ppm = t["px_per_mm_centre"]
    f = min(1.0, SOURCE_PX_PER_MM / ppm)
    small = resampled(rgb, f)
    card = t.get("card")
    g = white(rgb, card["corners_px"]) if card else None
    P = t["particles"]
    return dict(
        name=name, painter=painter, kind=t["kind"], rgb=small, ids=ids(t, small, f), px_per_mm=ppm * f, factor=f,
        white=np.ones(3) if g is None else g, card=None if not card else np.array(card["corners_px"]) * f,
        classes=[net.CLASSES.index(q["class"]) for q in P], areas=[q.get("area_mm2", 0.4 * q["feret_max_mm"] ** 2) for q in P], ferets=[q["feret_max_mm"] for q in P],
        centres=np.array([[q["x_px"], q["y_px"]] for q in P if not neutral(q)], float).reshape(-1, 2) * f, clean=not any(not neutral(q) for q in P),
    )


def names(folder):
    return sorted(f[:-5] for f in os.listdir(f"{folder}/truth") if f.endswith(".json") and os.path.exists(f"{folder}/{f[:-5]}.jpg"))
