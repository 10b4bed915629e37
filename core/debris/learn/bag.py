"""All photos in one flat store on the card, and crops cut from it under random turns, mirrors and scales."""

import math

import numpy as np
import torch

import net
from photos import IGNORE, SEAM

SIDE = 256
PAINTERS = ["first", "second", "third", "own", "paint"]


class Bag:
    def __init__(self, device):
        self.photos, self.device, self.end = [], device, 0
        self.rgb = torch.zeros((0, 3), dtype=torch.uint8, device=device)
        self.ids = torch.zeros(0, dtype=torch.int16, device=device)
        # Of each photo: where it starts in the store, height, width, gains of white, first row among the pieces.
        self.rows = torch.zeros((0, 7), dtype=torch.float64, device=device)
        # A bit for each painter, by photo.
        self.who = torch.zeros(0, dtype=torch.int32, device=device)
        self.cls, self.weight = torch.zeros(0, dtype=torch.long, device=device), torch.zeros(0, device=device)

    def add(self, photos):
        """Takes more photos up; their pictures stay on the card alone."""
        rows, cls, weight = [], [], []
        for p in photos:
            rows.append([self.end, *p["ids"].shape, *p["white"], len(self.cls) + len(cls)])
            self.end += p["ids"].size
            cls.append(0)
            weight.append(1.0)
            for c, a in zip(p["classes"], p["areas"]):
                cls.append(c + 1)
                weight.append(float(np.clip((0.35 / max(a, 1e-3)) ** 0.5, 1, 3)))
        on = lambda v: torch.from_numpy(v).to(self.device)
        self.rgb = torch.cat([self.rgb, on(np.concatenate([p["rgb"].reshape(-1, 3) for p in photos]))])
        self.ids = torch.cat([self.ids, on(np.concatenate([p["ids"].ravel() for p in photos]))])
        self.rows = torch.cat([self.rows, on(np.array(rows, np.float64))])
        self.cls = torch.cat([self.cls, on(np.array(cls, np.int64))])
        self.who = torch.cat([self.who, on(np.array([1 << PAINTERS.index(p["painter"]) for p in photos], np.int32))])
        self.weight = torch.cat([self.weight, on(np.array(weight, np.float32))])
        for p in photos:
            p["shape"] = p["ids"].shape
            del p["rgb"], p["ids"]
        self.photos += photos

    def shares(self, share):
        """Chance of each photo: `share` of the painter (less while there are few of it), spread evenly over its photos, clean ones twice."""
        # A pan has many times the area of a patch, and most of what is hard.
        w = np.array([(2.0 if p["clean"] else 1.0) * (2.0 if p["kind"] == "pan" and p["painter"] != "paint" else 1.0) for p in self.photos])
        who = np.array([p["painter"] for p in self.photos])
        out = np.zeros(len(w))
        for k, s in share.items():
            if (who == k).any():
                out[who == k] = s * min(1, ((who == k).sum() / 60) ** 0.5) * w[who == k] / w[who == k].sum()
        return out / out.sum()

    def draw(self, rng, n, chance, scales=(0.6, 1.35)):
        """n crops: which photo, where, how turned."""
        which = rng.choice(len(self.photos), n, p=chance)
        A = np.zeros((n, 2, 3), np.float32)
        for i, k in enumerate(which):
            p = self.photos[k]
            h, w = p["shape"]
            if len(p["centres"]) and rng.random() < 0.7:
                c = p["centres"][rng.integers(len(p["centres"]))] + rng.uniform(-90, 90, 2)
            else:
                c = rng.uniform([0, 0], [w, h])
            z = math.exp(rng.uniform(math.log(scales[0]), math.log(scales[1])))
            a = rng.uniform(0, 2 * math.pi)
            s = p["px_per_mm"] / (net.FINDER_PX_PER_MM * z)
            m = rng.choice([-1, 1])
            # Keep the crop within the photo where it fits.
            r = s * SIDE / 2
            c = np.clip(c, np.minimum(r, [w / 2, h / 2]), np.maximum([w - r, h - r], [w / 2, h / 2]))
            A[i] = [[s * math.cos(a), -m * s * math.sin(a), c[0]], [s * math.sin(a), m * s * math.cos(a), c[1]]]
        return torch.from_numpy(which).to(self.device), torch.from_numpy(A).to(self.device)

    def cut(self, which, A):
        """Crops: rgb (n, 3, SIDE, SIDE) 0..1 white balanced; cover of pieces, inner, ignored, weight; class 0 (none) to 9 at half the side."""
        n, dev = len(which), self.device
        row = self.rows[which]
        h, w = (row[:, k].long().reshape(n, 1, 1) for k in (1, 2))
        off = row[:, 0].long().reshape(n, 1, 1)

        def places(steps, shift=0.0):
            g = (torch.arange(SIDE * steps, device=dev) + 0.5) / steps - SIDE / 2 + shift
            x = A[:, 0, 0, None, None] * g[None, None, :] + A[:, 0, 1, None, None] * g[None, :, None] + A[:, 0, 2, None, None] - 0.5
            y = A[:, 1, 0, None, None] * g[None, None, :] + A[:, 1, 1, None, None] * g[None, :, None] + A[:, 1, 2, None, None] - 0.5
            return fold(x, w), fold(y, h)

        # Outside the photo it is mirrored.
        def fold(v, m):
            v = torch.remainder(v, 2 * m.float())
            return torch.minimum(torch.minimum(v, 2 * m - 1 - v).clamp_min(0), (m - 1).float())

        # An area average of two samples a pixel, beside the diagonal.
        rgb = 0
        for shift in (-0.25, 0.25):
            x, y = places(1, shift)
            x0, y0 = x.floor().long(), y.floor().long()
            fx, fy = (x - x0).unsqueeze(-1), (y - y0).unsqueeze(-1)
            x1, y1 = torch.minimum(x0 + 1, w - 1), torch.minimum(y0 + 1, h - 1)
            at = lambda a, b: self.rgb[off + b * w + a].float()
            rgb = rgb + torch.lerp(torch.lerp(at(x0, y0), at(x1, y0), fx), torch.lerp(at(x0, y1), at(x1, y1), fx), fy)
        rgb = rgb.permute(0, 3, 1, 2) / 510 * row[:, 3:6].float()[:, :, None, None]
        x, y = places(2)
        i = self.ids[off + y.round().long().minimum(h - 1) * w + x.round().long().minimum(w - 1)].long()
        ignore = i == IGNORE
        seam = i > SEAM
        k = torch.where(seam, i - SEAM, i.clamp_min(0))
        piece = k > 0
        lut = row[:, 6].long().reshape(n, 1, 1) + k
        cls, weight = self.cls[lut] * piece, self.weight[lut] * piece
        pool = lambda v: torch.nn.functional.avg_pool2d(v.float().unsqueeze(1), 2)
        return dict(
            seen=self.who[which], rgb=rgb.clamp(0, 1), cover=pool(piece), inner=pool(piece & ~seam), seam=pool(seam), ignore=pool(ignore),
            weight=torch.nn.functional.max_pool2d(weight.unsqueeze(1), 2).clamp_min(1), cls=torch.nn.functional.max_pool2d(cls.float().unsqueeze(1), 4).squeeze(1).long(),
        )
