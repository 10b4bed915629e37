"""What a phone makes of the light: lens, focus, motion, exposure, noise and its smoothing, tone, sharpening, JPEG."""
import math
import cv2
import numpy as np
from .colours import to_srgb
from .noise import blur, log_uniform, pick


class Bend:
    """Tilt of the phone and a lens that bends a little: where each pixel comes from, and where points go."""

    def __init__(self, rng, w, h):
        self.size, self.mid, self.far = (w, h), np.array([w / 2, h / 2]), math.hypot(w, h) / 2
        self.tilt = rng.normal(size=2) * .035                   # of scale, from the middle to a corner
        self.k1 = float(np.clip(rng.normal() * .012, -.03, .03))
        self.at = rng.normal(size=2) * .4                        # the lens's middle, from the picture's
        self.shear = np.eye(2) + rng.normal(size=(2, 2)) * .015
        e = np.linspace(-1, 1, 17)
        rim = np.concatenate([np.stack([x, y], -1) for x, y in ((e, 0 * e - 1), (e, 0 * e + 1), (0 * e - 1, e), (0 * e + 1, e))])
        half = self.mid / self.far
        self.shear /= max(1.0, float(np.abs(self._back(rim * half) / half).max()))      # nothing from beyond the border
        step = .01
        d = (self._back(np.array([[step, 0], [0, step]])) - self._back(-np.array([[step, 0], [0, step]]))) / (2 * step)
        self.zoom = 1 / math.sqrt(abs(float(np.linalg.det(d))))   # picture px a px of the scene, at the middle

    def _back(self, q):
        """Where the picture's places (in half diagonals about the middle) look."""
        r = q - self.at
        d = r * (1 + self.k1 * ((r * r).sum(-1, keepdims=True) - .5)) + self.at
        return (d @ self.shear.T) / (1 + (d * self.tilt).sum(-1, keepdims=True))

    def picture(self, a, how):
        w, h = self.size
        n = 16                                                     # smooth enough for a coarse grid
        x, y = np.meshgrid(np.linspace(0, w, n * 4), np.linspace(0, h, n * 4))
        b = self._back((np.stack([x, y], -1) - self.mid) / self.far) * self.far + self.mid
        fine = self._fine(b.astype(np.float32))
        return cv2.remap(a, fine[..., 0], fine[..., 1], how, borderMode=cv2.BORDER_REFLECT)

    def _fine(self, b):
        """The coarse grid at each pixel's middle."""
        w, h = self.size
        n = b.shape[0]
        x, y = np.meshgrid((np.arange(w, dtype=np.float32) + .5) * ((n - 1) / w), (np.arange(h, dtype=np.float32) + .5) * ((n - 1) / h))
        return cv2.remap(b, x, y, cv2.INTER_LINEAR) - .5

    def points(self, p):
        want = (np.asarray(p) - self.mid) / self.far
        q = want.copy()
        for _ in range(8):
            q = q + (want - self._back(q))
        return q * self.far + self.mid


def take(rng, light, hard=1.0):
    """Linear light (h, w, 3) to sRGB 8 bit. `hard` scales how bad the camera may be."""
    h, w = light.shape[:2]
    u = rng.uniform
    a = light
    lum = a.mean(2)[::4, ::4]
    ref, hi = float(np.percentile(lum, u(40, 75))), float(np.percentile(lum, u(93, 99.5)))
    gain = min(u(.22, .55) / max(ref, 1e-4), u(.85, 1.3) / max(hi, 1e-4)) * math.exp(rng.normal() * .25)
    a = a * gain
    tint = np.array([math.exp(rng.normal() * .09), 1, math.exp(rng.normal() * .09)], np.float32)
    if rng.random() < .12:                                         # light of a colour, not balanced away
        tint = tint * np.array(pick(rng, [(1.3, 1, .6), (.75, .95, 1.3), (1.25, .95, .8), (.85, 1.1, .85), (1.1, .85, 1.15)]), np.float32)
    a = a * tint
    y, x = np.mgrid[:h, :w].astype(np.float32)
    cx, cy = u(-.6, 1.6) * w, u(-.6, 1.6) * h                     # the crop lies anywhere in the photo
    r2 = ((x - cx) ** 2 + (y - cy) ** 2) / (max(h, w) * 1.4) ** 2
    a = a * (1 - u(0, .4) * np.clip(r2, 0, 1))[..., None]
    if rng.random() < .3:                                          # a lamp's fall-off across the picture
        g = (rng.normal(size=2) * .4).tolist()
        a = a * np.exp(g[0] * (x / w - .5) + g[1] * (y / h - .5))[..., None]
    if rng.random() < .12:                                         # the flash's hot spot
        r = np.hypot(x - u(0, 1) * w, y - u(0, 1) * h) / (u(.2, .7) * max(h, w))
        a = a * (1 + u(.2, 1.5) * np.exp(-r * r))[..., None]
    g = blur(np.minimum(a, 6), max(h, w) * .03)
    a = a + u(0, .03) * g + u(0, .03) * a.mean((0, 1))
    if rng.random() < .15:
        a = a * (1 - u(.1, .5)) + u(.05, .3) * a.mean()            # haze on the lens
    s = abs(rng.normal()) * .55 * hard
    if rng.random() < .12:
        s += u(.5, 1.8) * hard
    a = blur(a, s) if s > .3 else a
    if rng.random() < .15:
        n = int(u(2, 6) * hard) | 1
        if n >= 3:
            k = np.zeros((n, n), np.float32)
            t = u(0, math.pi)
            c = n // 2
            cv2.line(k, (int(round(c - c * math.cos(t))), int(round(c - c * math.sin(t)))), (int(round(c + c * math.cos(t))), int(round(c + c * math.sin(t)))), 1.0, 1)
            a = cv2.filter2D(a, -1, k / k.sum())
    if rng.random() < .2:                                          # colour fringes
        for i in (0, 2):
            m = np.float32([[1, 0, rng.normal() * .35], [0, 1, rng.normal() * .35]])
            a[..., i] = cv2.warpAffine(np.ascontiguousarray(a[..., i]), m, (w, h), flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    a = np.clip(a, 0, 1.4)
    shot, read = 10 ** u(-4.6, -2.7) * hard, 10 ** u(-3.3, -2.0) * hard
    n = rng.standard_normal((h, w, 3), dtype=np.float32)
    gr = u(.3, .9)
    n = cv2.GaussianBlur(n, (0, 0), gr) * (1 + 2.2 * max(0, gr - .35))
    a = np.maximum(a + n * np.sqrt(shot * a + read ** 2), 0)
    v = to_srgb(a / (1 + u(0, .6) * np.maximum(a - .6, 0) ** 1.5)).astype(np.float32)
    if rng.random() < .7:                                          # noise smoothed away, with fine texture
        yy = v @ np.array([.3, .59, .11], np.float32)
        c = blur(v - yy[..., None], u(.5, 3))
        k = u(0, 1)
        if rng.random() < .6:
            f = cv2.bilateralFilter(yy, 5, u(.02, .09), u(1, 3)) if rng.random() < .7 else cv2.medianBlur(yy, 3)
            yy = yy * (1 - k) + k * f
        v = yy[..., None] + c
    ct = u(-.15, .5)
    v = np.clip(v, 0, 1)
    v = v + ct * (v - .5) * v * (1 - v) * 2
    lm = v.mean(2, keepdims=True)
    v = lm + (v - lm) * u(.55, 1.35)
    if rng.random() < .75:                                         # sharpening and its halos
        b = blur(lm[..., 0], u(.7, 2.2))
        d = lm[..., 0] - b
        v = v + (u(.2, 1.8) * np.clip(d, -.18, .18))[..., None]
    if rng.random() < .3:                                          # HDR: local contrast and wide halos
        b = blur(lm[..., 0], u(6, 40))
        v = v + u(.05, .4) * (lm - b[..., None])
    if rng.random() < .15:
        v = v ** u(.75, 1.3) if v.min() >= 0 else np.clip(v, 0, 1) ** u(.75, 1.3)
    out = (np.clip(v, 0, 1) * 255 + .5).astype(np.uint8)
    q = int(u(60, 98))
    ok, buf = cv2.imencode('.jpg', out[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, q])
    return cv2.imdecode(buf, cv2.IMREAD_COLOR)[..., ::-1].copy()
