"""Single pieces of debris: outline, relief, colour, gloss, each drawn on a small canvas of its own and laid into the scene."""
import math
import cv2
import numpy as np
from skimage.measure import find_contours
from . import colours
from .noise import absorb, blur, curve, fbm, lines, log_uniform, pick, sign, smooth, step

CLASSES = ('steel_flake', 'steel_sliver', 'yellow_metal', 'light_metal', 'lining', 'plastic', 'elastomer', 'grit', 'lint')
FERROUS = ('steel_flake', 'steel_sliver')
MEDIAN = {'steel_flake': .65, 'steel_sliver': 1.2, 'yellow_metal': .65, 'light_metal': .7, 'lining': .75, 'plastic': 1.3, 'elastomer': 1.5, 'grit': .55, 'lint': 2.4}


class Canvas:
    """Coordinates in mm about the piece's middle, on n x n pixels of 1/q mm; `at` is where the middle falls (px)."""

    def __init__(self, rng, length, q, at, n):
        self.rng, self.length, self.q, self.at, self.n = rng, length, q, at, n
        y, x = np.mgrid[:n, :n].astype(np.float32)
        self.x, self.y = (x + float(.5 - at[0])) / q, (y + float(.5 - at[1])) / q

    def fill(self, polygon):
        m = np.zeros((self.n, self.n), np.uint8)
        p = (np.asarray(polygon) * self.q + self.at - .5) * 16
        cv2.fillPoly(m, [np.round(p).astype(np.int32)], 255, cv2.LINE_AA, 4)
        return m.astype(np.float32) / 255

    def noise(self, scale, octaves=3, gain=.55, **k):
        return fbm(self.rng, self.n, self.n, max(1.0, scale * self.q), octaves, gain, **k)


def torn(rng, aspect, corners, jag, points=64):
    """A torn outline of unit length: a rough polygon with bites and teeth, stretched along a random heading."""
    n = int(rng.integers(*corners))
    a = np.sort((np.arange(n) + rng.uniform(-.4, .4, n)) / n * 2 * math.pi)
    r = rng.uniform(.5, 1, n)
    p = np.stack([np.cos(a) * r, np.sin(a) * r], 1)
    p = np.vstack([p, p[:1]])
    s = np.r_[0, np.cumsum(np.linalg.norm(np.diff(p, axis=0), axis=1))]
    t = np.linspace(0, s[-1], points, endpoint=False)
    o = np.stack([np.interp(t, s, p[:, 0]), np.interp(t, s, p[:, 1])], 1)
    if rng.random() < .5:                                           # rounded
        k = int(rng.integers(2, 7))
        w = np.hanning(k + 2)[1:-1]
        w /= w.sum()
        o = np.stack([np.convolve(np.r_[o[-k:, i], o[:, i], o[:k, i]], w, 'same')[k:-k] for i in (0, 1)], 1)
    w = 2 * math.pi * t / s[-1]
    d = sum(rng.normal() * np.cos(k * w + rng.uniform(0, 6.3)) / k ** .7 for k in range(3, 18)) * jag
    if rng.random() < .4:
        c = rng.uniform(0, 6.28)
        d = d - rng.uniform(.1, .4) * np.exp(-(np.angle(np.exp(1j * (w - c))) / rng.uniform(.12, .35)) ** 2)
    o = o * (1 + d[:, None]) * [1, aspect]
    h = rng.uniform(0, 6.28)
    o = o @ np.array([[math.cos(h), -math.sin(h)], [math.sin(h), math.cos(h)]])
    return o - (o.max(0) + o.min(0)) / 2


def longest(p):
    h = cv2.convexHull(np.asarray(p, np.float32))[:, 0]
    return float(np.sqrt(((h[:, None] - h[None]) ** 2).sum(-1)).max())


def plate(c, aspect, corners, jag, thick, tilt, bend, dent):
    rng, length = c.rng, c.length
    o = torn(rng, aspect, corners, jag)
    o = o * length / longest(o)
    a = c.fill(o)
    t = (rng.normal(size=2) * tilt).tolist()
    z = thick + t[0] * c.x + t[1] * c.y + dent * length * c.noise(length * .35, 3)
    h = rng.uniform(0, 6.28)
    u = c.x * math.cos(h) + c.y * math.sin(h)
    z = z + bend * length * (2 * u / length) ** 2 * sign(rng)
    if rng.random() < .3:
        f = rng.uniform(-.25, .25) * length
        z = z + np.maximum(0, u - f) * rng.uniform(.2, .9) * sign(rng)
    inside = cv2.distanceTransform((a > .5).astype(np.uint8), cv2.DIST_L2, 3) / c.q
    e = max(thick * .6, .02)
    return a, z + e * (step(inside, 0, e) - 1)


def plain(c):
    """An even, flat piece with a smooth outline: nothing but its tone parts it from the ground."""
    rng = c.rng
    t = np.linspace(0, 2 * math.pi, 48, endpoint=False)
    k = rng.uniform(2, 2.6) if rng.random() < .7 else rng.uniform(2.6, 8)      # from an ellipse to a rounded block
    o = np.stack([np.sign(np.cos(t)) * np.abs(np.cos(t)) ** (2 / k), rng.uniform(.25, 1) * np.sign(np.sin(t)) * np.abs(np.sin(t)) ** (2 / k)], 1)
    h = rng.uniform(0, 6.28)
    o = o @ np.array([[math.cos(h), -math.sin(h)], [math.sin(h), math.cos(h)]])
    a = c.fill(o * c.length / longest(o))
    return a, np.full((c.n, c.n), .03, np.float32)


def ribbon(c, width, turn, twist, round_):
    """A strip along a curve: wire, needle, curl, string."""
    rng = c.rng
    n = 40
    t = np.linspace(0, 1, n)
    k = turn * (1 + .7 * np.cos(2 * math.pi * t * rng.uniform(.4, 1.8) + rng.uniform(0, 6.3)))
    th = rng.uniform(0, 6.28) + np.cumsum(k) / n
    p = np.stack([np.cumsum(np.cos(th)), np.cumsum(np.sin(th))], 1)
    if rng.random() < .12 and turn > 2:                             # a spiral seen from the side
        f = rng.uniform(2, 7)
        p = np.stack([t * n + np.cos(t * f * 6.28) * n / f * rng.uniform(.15, .5), np.sin(t * f * 6.28) * n / f * rng.uniform(.2, .6)], 1) @ np.array([[math.cos(th[0]), math.sin(th[0])], [-math.sin(th[0]), math.cos(th[0])]])
    p = p - (p.max(0) + p.min(0)) / 2
    p = p * max(.1, c.length - width) / longest(p)
    ends = np.minimum(1, np.minimum(t / rng.uniform(.03, .4), (1 - t) / rng.uniform(.03, .4))) ** .6
    w = width * np.clip(ends * (1 + .12 * np.cos(t * rng.uniform(10, 60) + rng.uniform(0, 6)) + rng.uniform(0, .12) * np.convolve(rng.normal(size=n + 2), [.3, .4, .3], 'valid')), .12, None)
    d = np.full((c.n, c.n), 1e6, np.float32)                        # distance to the line over the half width
    side, along = np.zeros_like(d), np.zeros_like(d)
    a = np.zeros((c.n, c.n), np.uint8)
    nrm = np.gradient(p, axis=0)
    nrm = np.stack([-nrm[:, 1], nrm[:, 0]], 1) / np.maximum(1e-6, np.linalg.norm(nrm, axis=1, keepdims=True))
    left, right = p + nrm * w[:, None] / 2, p - nrm * w[:, None] / 2
    for i in range(n - 1):
        quad = np.array([left[i], left[i + 1], right[i + 1], right[i]])
        cv2.fillConvexPoly(a, np.round((quad * c.q + c.at - .5) * 16).astype(np.int32), 255, cv2.LINE_AA, 4)
        cv2.line(a, *[tuple(np.round((p[j] * c.q + c.at - .5) * 16).astype(int).tolist()) for j in (i, i + 1)], 255, max(1, int(w[i] * c.q * .6)), cv2.LINE_AA, 4)
    px = np.clip(np.round(p * c.q + c.at - .5).astype(int), 0, c.n - 1)
    seed = np.full((c.n, c.n), 255, np.uint8)
    idx = {}
    for i in range(n):
        for f in np.linspace(0, 1, 4, endpoint=False):
            j = min(i + 1, n - 1)
            q = np.clip(np.round((p[i] * (1 - f) + p[j] * f) * c.q + c.at - .5).astype(int), 0, c.n - 1)
            seed[q[1], q[0]] = 0
            idx[(q[1], q[0])] = i + f
    d, label = cv2.distanceTransformWithLabels(seed, cv2.DIST_L2, 5, labelType=cv2.DIST_LABEL_PIXEL)
    table = np.zeros(int(label.max()) + 1, np.float32)
    for (yy, xx), i in idx.items():
        table[label[yy, xx]] = i
    along = table[label]
    i0 = np.clip(along.astype(int), 0, n - 1)
    side = ((c.x - p[i0, 0]) * nrm[i0, 0] + (c.y - p[i0, 1]) * nrm[i0, 1]) / np.maximum(w[i0] / 2, 1e-3)
    side = np.clip(side, -1, 1)
    wave = math.sin(rng.uniform(0, 6)) + twist * np.sin(along / n * 2 * math.pi * rng.uniform(.5, 2.5) + rng.uniform(0, 6))
    tall = width * log_uniform(rng, .06, .5)
    z = tall * (round_ * np.sqrt(np.clip(1 - side ** 2, .02, 1)) + (1 - round_) * side * wave * .7)
    z = z + .05 * c.length * np.sin(along / n * 6.28 * rng.uniform(.3, 1.2) + rng.uniform(0, 6)) * rng.uniform(0, 1)
    return a.astype(np.float32) / 255, blur(z.astype(np.float32), .8)


def lump(c, aspect, tall, planes, rough):
    rng, length = c.rng, c.length
    o = torn(rng, aspect, (6, 12) if planes else (8, 16), .03 + rough * .15)
    o = o * length / longest(o)
    a = c.fill(o)
    inside = cv2.distanceTransform((a > .5).astype(np.uint8), cv2.DIST_L2, 3) / c.q
    top = tall * length
    z = top * np.sqrt(np.clip(inside / max(inside.max(), 1e-3), 0, 1))
    if planes:
        for _ in range(planes):
            g = (rng.normal(size=2) * rng.uniform(.2, 1.6)).tolist()
            z = np.minimum(z, top * rng.uniform(.5, 1.2) + g[0] * c.x + g[1] * c.y)
        z = np.maximum(z, 0.02)
    z = z + rough * top * c.noise(length * .3, 4, .65)
    return a, z


def thread(c, width):
    """A fibre: one curled line, often thinner than a pixel."""
    rng = c.rng
    p = curve(rng, 1, rng.uniform(.3, 7), 60)
    p = (p - (p.max(0) + p.min(0)) / 2)
    p = p * c.length / longest(p)
    m = np.zeros((c.n, c.n), np.uint8)
    full = max(1.0, width * c.q)
    lines(m, p * c.q + c.at - .5, 255, round(full))
    if rng.random() < .25:                                          # split or doubled
        lines(m, (p + rng.normal(size=2) * width + curve(rng, c.length * .3, 3, 60) * .15) * c.q + c.at - .5, 200, 1)
    a = m.astype(np.float32) / 255
    return a, width * (1 + 2 * rng.random()) * (a > 0) + rng.uniform(0, .3) * np.abs(c.noise(c.length * .3, 2)) * (a > 0), min(1.0, width * c.q / max(1, round(full)))


def draw(rng, cls, length, q, at, n, oil, wet, flat=False):
    """alpha, outline alpha, height, albedo, rough, metal, coat of one piece on its canvas; `flat` where it is `plain`."""
    c = Canvas(rng, length, q, at, n)
    u = rng.uniform
    metal, rough, coat, thin = 0.0, .6, 0.0, 1.0
    grain = lambda amt, s=.25: np.ones((n, n, 1), np.float32) if flat else np.clip(1 + amt * c.noise(length * s, 4, .65), .15, 2.2)[..., None]
    if flat and cls != 'lint':
        a, z = plain(c)
    elif cls == 'steel_flake':
        a, z = plate(c, u(.35, 1), (5, 13), u(.01, .08), min(u(.02, .18), .3 * length), u(0, .3), u(0, .12), u(.003, .04))
    elif cls == 'steel_sliver':
        k = rng.random()
        a, z = ribbon(c, max(.03, length * (u(.03, .1) if k < .35 else u(.06, .22))), u(0, .8) if k < .4 else u(.5, 6.5), u(0, 1.5), u(0, 1))
    elif cls == 'yellow_metal':
        k = rng.random()
        if k < .18:
            a, z = ribbon(c, max(.04, length * u(.1, .3)), u(0, 4), u(0, 1), u(0, 1))
        elif k < .3:
            a, z = lump(c, u(.5, 1), u(.15, .4), int(rng.integers(0, 7)), u(0, .1))
        else:
            a, z = plate(c, u(.35, 1), (6, 15), u(.02, .09), min(u(.02, .12), .25 * length), u(0, .3), u(0, .15), u(.005, .05))
    elif cls == 'light_metal':
        if rng.random() < .45:
            a, z = lump(c, u(.5, .95), u(.15, .5), int(rng.integers(5, 12)), u(.02, .12))
        else:
            a, z = plate(c, u(.4, 1), (5, 12), u(.02, .08), min(u(.04, .25), .3 * length), u(0, .3), u(0, .1), u(.01, .05))
    elif cls == 'lining':
        a, z = lump(c, u(.4, 1), u(.1, .45), int(rng.integers(0, 9)), u(.08, .3))
        if rng.random() < .6:
            m = np.zeros((n, n), np.uint8)
            for _ in range(int(rng.integers(2, 14))):
                h = u(0, 6.28)
                s = length * u(.2, .5)
                lines(m, (curve(rng, min(.4, .3 * length), 2, 8) + [s * math.cos(h), s * .7 * math.sin(h)]) * q + at - .5, int(rng.integers(90, 255)), max(1, .018 * q))
            z = np.maximum(z, .05 * length * (m > 60))
            c.whiskers = m.astype(np.float32) / 255
    elif cls == 'plastic':
        k = rng.random()
        a, z = lump(c, u(.35, 1), u(.1, .4), int(rng.integers(3, 12)), u(0, .06)) if k < .55 else ribbon(c, length * u(.08, .3), u(0, 4), u(0, 1), u(0, 1)) if k < .68 else plate(c, u(.3, 1), (4, 9), u(.005, .04), min(.3, .2 * length), u(0, .25), u(0, .08), u(.002, .02))
    elif cls == 'elastomer':
        k = rng.random()
        a, z = lump(c, u(.3, .9), u(.15, .4), int(rng.integers(0, 9)), u(.03, .14)) if k < .55 else ribbon(c, length * u(.1, .32), u(0, 4), u(0, .7), u(.6, 1))
    elif cls == 'grit':
        a, z = lump(c, u(.55, 1), u(.3, .7), int(rng.integers(4, 12)), u(.01, .1))
    else:
        a, z, thin = thread(c, log_uniform(rng, .015, .07))
    tint = lambda col, amount=.06, gain=.2: colours.jitter(rng, col, amount, gain)
    if cls in FERROUS:
        k = rng.random()
        if k < .5:
            col, rough = tint([u(.42, .68)] * 3, .02), u(.1, .4)
        elif k < .78:
            col, rough = tint([u(.15, .4)] * 3, .03), u(.25, .65)
        elif k < .9:
            col, rough = tint((.3, .2, .12), .1), u(.3, .7)
        else:
            col, rough = tint(pick(rng, [(.15, .18, .35), (.35, .25, .12), (.25, .15, .3), (.08, .08, .08)])), u(.2, .5)
        metal = u(.8, 1)
        rgb = grain(u(.02, .3), .4) * col
        if rng.random() < .4:                                        # soot or stain on part of it
            m = step(c.noise(length * .5, 3), u(-.5, 1), u(1, 2))[..., None]
            rgb = rgb * (1 - .8 * m)
        z = z + u(0, .012) * length ** .5 * c.noise(length * .12, 3, .6, stretch=u(2, 10), angle=u(0, 3.14))
    elif cls == 'yellow_metal':
        col = tint(pick(rng, [(.80, .62, .30), (.72, .49, .28), (.83, .68, .40), (.74, .40, .26), (.62, .50, .26), (.55, .35, .12), (.9, .7, .25)]), .06, .2)
        metal, rough = u(.8, 1), u(.15, .55)
        rgb = grain(u(.03, .25), .4) * col
        if rng.random() < .45:
            m = step(c.noise(length * .5, 3), u(-.5, 1), u(1, 2))[..., None]
            rgb = rgb * (1 - m * np.array([.5, .58, .7]))
        z = z + u(0, .012) * length ** .5 * c.noise(length * .12, 3, .6)
    elif cls == 'light_metal':
        col = tint([u(.65, .9)] * 3, .02, .08)
        metal, rough = u(.4, 1), u(.3, .75)
        rgb = grain(u(.02, .2), .3) * col
        z = z + u(0, .02) * length ** .5 * c.noise(length * .1, 3, .65)
    elif cls == 'lining':
        col = tint(np.array([1.35, 1, .75]) * u(.012, .07), .08, .2) if rng.random() < .7 else tint(pick(rng, [(.17, .1, .06), (.3, .2, .12), (.1, .1, .1), (.12, .14, .1), (.25, .22, .15)]), .08, .3)
        rough = u(.6, .95)
        rgb = grain(u(.15, .5), .15) * col
        wet = wet * .6
    elif cls == 'plastic':
        col = tint(pick(rng, [(.82, .80, .74), (.82, .80, .74), (.93, .80, .48), (.88, .62, .3), (.035, .035, .04), (.05, .35, .12), (.05, .12, .5), (.6, .06, .05), (.5, .5, .52), (.75, .7, .2)]), .08, .25)
        rough, coat = u(.1, .5), u(0, 1)
        rgb = grain(u(0, .08), .4) * col
    elif cls == 'elastomer':
        col = tint(pick(rng, [(.02, .02, .021), (.02, .02, .021), (.04, .04, .045), (.03, .09, .38), (.62, .17, .035), (.10, .05, .03), (.05, .2, .08), (.4, .08, .06), (.25, .1, .05)]), .08, .25)
        rough, coat = u(.35, .75), u(0, .3)
        rgb = grain(u(.02, .15), .3) * col
    elif cls == 'grit':
        col = tint(pick(rng, [(.55, .50, .42), (.40, .30, .2), (.62, .6, .57), (.22, .2, .18), (.75, .72, .68), (.12, .11, .1), (.5, .35, .2)]), .05, .25)
        rough, coat = u(.2, .7), u(0, .5)
        rgb = grain(u(.05, .3), .3) * col
    else:
        col = tint(pick(rng, [(.75, .74, .72), (.8, .8, .78), (.12, .12, .13), (.2, .3, .55), (.6, .2, .15), (.4, .35, .3), (.05, .05, .05)]), .08, .25)
        rough = .7
        rgb = np.ones((n, n, 1), np.float32) * col
    if wet > 0 and oil is not None and rng.random() < .5 + wet * .5:
        k = wet * u(.1, .9)
        rgb = rgb * np.power(oil, k * .7)
        coat = max(coat, wet * u(.2, 1))
    seen = a * thin * (u(.45, 1) if cls == 'lint' else 1)
    if hasattr(c, 'whiskers'):
        seen = np.maximum(seen, c.whiskers * u(.3, .9))
    edge = a
    return seen.astype(np.float32), edge, z.astype(np.float32), np.clip(rgb, .003, .95).astype(np.float32), rough, metal, coat


def size(rng, cls):
    if rng.random() < .25:
        return log_uniform(rng, .2, 12)
    return float(np.clip(MEDIAN[cls] * math.exp(rng.normal() * .65), .2, 12))


def put(s, cls, length, cx, cy, wet, bury=0.0, base=None, flat=False):
    """Draws one piece at (cx, cy) working px. Returns its truth, or None where nothing of it shows."""
    rng, ppm = s.rng, s.ppm
    ov = int(np.clip(math.ceil((70 if cls == 'lint' else 44) / (length * ppm)), 2 if length < 5 else 1, 6))
    if cls == 'lint':
        ov = max(ov, 2)
    half = int(math.ceil(length * .56 * ppm)) + 3
    x0, y0 = int(math.floor(cx)) - half, int(math.floor(cy)) - half
    n = 2 * half + 1
    at = np.array([(cx - x0) * ov, (cy - y0) * ov])
    seen, edge, z, rgb, rough, metal, coat = draw(rng, cls, length, ppm * ov, at, n * ov, s.notes.get('oil'), wet, flat)
    hard = (edge > .5).astype(np.float32)
    count, label, stats, _ = cv2.connectedComponentsWithStats((edge > .4).astype(np.uint8), connectivity=8)
    if count > 2:                                                    # torn off by its own roughness: keep the largest
        big = 1 + int(np.argmax(stats[1:, cv2.CC_STAT_AREA]))
        edge = edge * (label == big)
        if cls != 'lint':
            seen = seen * (cv2.dilate((label == big).astype(np.uint8), np.ones((3, 3), np.uint8)) > 0)
    ring = find_contours(np.pad(edge, 1), .5)
    if not ring:
        return None
    ring = max(ring, key=len)
    poly = np.stack([(ring[:, 1] - .5) / ov + x0, (ring[:, 0] - .5) / ov + y0], 1)      # px edges
    down = lambda m: cv2.resize(m, (n, n), interpolation=cv2.INTER_AREA)
    z = np.where(hard > 0, z, 0)
    even = blur(z, .7) / (blur(hard, .7) + 1e-3)                     # no cliff at the rim but the shape's own
    gx, gy = np.gradient(even, axis=1) * (ppm * ov), np.gradient(even, axis=0) * (ppm * ov)
    lim = 2.2
    gx, gy = np.clip(gx, -lim, lim), np.clip(gy, -lim, lim)
    w = hard + 1e-3
    wd = down(w)
    gx, gy, z1 = down(gx * w) / wd, down(gy * w) / wd, down(z * hard)
    col = down(rgb * w[..., None]) / wd[..., None]
    a = down(seen)
    X0, Y0, X1, Y1 = max(0, x0), max(0, y0), min(s.w, x0 + n), min(s.h, y0 + n)
    if X1 <= X0 or Y1 <= Y0:
        return None
    sub = (slice(Y0, Y1), slice(X0, X1))
    loc = (slice(Y0 - y0, Y1 - y0), slice(X0 - x0, X1 - x0))
    a, gx, gy, z1, col = a[loc], gx[loc], gy[loc], z1[loc], col[loc]
    e = down(edge)[loc]
    whole = float(edge.sum()) / ov ** 2
    if bury > 0:
        k = fbm(rng, *a.shape, max(2.0, length * ppm * .4), 3)
        k = step(k, float(np.quantile(k, bury)) - .15, float(np.quantile(k, bury)) + .15)
        a, e = a * k, e * k
    A = a[..., None]
    s.albedo[sub] = s.albedo[sub] * (1 - A) + col * A
    for m, v in ((s.rough, rough), (s.metal, metal), (s.coat, coat)):
        m[sub] = m[sub] * (1 - a) + v * a
    s.own[sub] = np.maximum(s.own[sub] * (1 - a), a)
    s.normal[sub] = s.normal[sub] * (1 - A) + np.stack([-gx, -gy], 2) * A
    under = float(np.median(s.top[sub][a > .3])) if (a > .3).any() else 0.0
    if z1.max() > 0:
        lift = rng.uniform(0, .08) if cls != 'lint' else rng.uniform(0, .5)
        z1 = np.where(a > .25, z1 + lift, 0)
        s.top[sub] = np.where(a > .3, under + np.maximum(z1, .01), s.top[sub])
    index = len(s.pieces) + 1
    s.ids[sub] = np.where(e > .4, index, s.ids[sub])
    t = dict(cls=cls, poly=poly, feret=longest(poly) / ppm, whole=whole, ferrous=cls in FERROUS)
    s.pieces.append(t)
    return t


def halo(s, boxes, wet):
    """Oil drawn up around pieces: darker paper, a sloping rim that mirrors."""
    m = s.own
    d = blur(m, s.ppm * s.rng.uniform(.12, .5))
    k = np.clip(d * 2, 0, 1) * (1 - m) * wet
    o = s.notes.get('oil')
    if o is None:
        return
    s.albedo = s.albedo * absorb(o, k * s.rng.uniform(.1, .8))
    if s.rng.random() < .6:
        s.coat = np.maximum(s.coat, k * s.rng.uniform(.3, 1))
        s.coat_height += blur(m * wet, s.ppm * s.rng.uniform(.1, .35)) * s.rng.uniform(.02, .35)
