"""Judges a learned finder on photos with truth, by a plain copy of the census's steps after the network.

usage: judge.py MODEL.pt|MODEL.net FOLDER OUT.jsonl [--levels PIECE PEAK INNER] [--cache FOLDER]

Writes lines in the form that the scoring tool reads. The card and what lies beside a magnet's face are left out by
the truth's own corners, so that only the finder is judged; lengths are those of whole pixels, classes by the sum
of the logits. The program's own census has finer borders, so its figures differ.
"""

import argparse
import json
import os

import cv2
import numpy as np
import torch
from scipy import ndimage

import export
import net
import photos

PAN_PX_PER_MM = 6.0


def network(path):
    if path.endswith(".net"):
        return export.read(path)[1]
    kept = torch.load(path, map_location="cpu")
    n = net.finder(**({"c": kept["widths"]} if kept["widths"] else {}))
    n.load_state_dict(kept["state"])
    return n.eval().fold()


def taken(folder, name, cache=None):
    """The photo at the finder's scale, its truth, and the factor from photo to picture; kept in `cache`."""
    t = json.load(open(f"{folder}/truth/{name}.json"))
    want = PAN_PX_PER_MM if t["kind"] == "pan" else net.FINDER_PX_PER_MM
    f = want / t["px_per_mm_centre"]
    at = cache and f"{cache}/{os.path.basename(folder.rstrip('/'))}-{name}.png"
    if at and os.path.exists(at):
        small = cv2.imread(at)[..., ::-1]
    else:
        rgb = photos.load(f"{folder}/{t['file']}")
        h, w = rgb.shape[:2]
        small = cv2.resize(rgb, (round(w * f), round(h * f)), interpolation=cv2.INTER_AREA if f < 1 else cv2.INTER_LINEAR)
        card = t.get("card")
        g = photos.white(rgb, card["corners_px"]) if card else None
        small = np.clip(np.round(small * (np.ones(3) if g is None else g)), 0, 255).astype(np.uint8)
        if at:
            os.makedirs(cache, exist_ok=True)
            cv2.imwrite(at, small[..., ::-1])
    return t, small, f


def barred(t, shape, f):
    """What is not searched: the card, and on magnets all but the face."""
    m = np.zeros(shape, np.uint8)
    if t.get("magnet") and t["magnet"].get("face_px"):
        m[:] = 1
        for k, q in enumerate(t["magnet"]["face_px"]):
            cv2.fillPoly(m, [np.round(np.array(q) * f).astype(np.int32)], int(k > 0))
    if t.get("card"):
        cv2.fillPoly(m, [np.round(np.array(t["card"]["corners_px"]) * f).astype(np.int32)], 1)
        m = cv2.dilate(m, np.ones((5, 5), np.uint8)) if not t.get("magnet") else m
    return m > 0


@torch.no_grad()
def outputs(n, rgb):
    h, w = rgb.shape[:2]
    x = torch.from_numpy(rgb.astype(np.float32) / 255).permute(2, 0, 1)[None].to(next(n.parameters()).device)
    x = torch.nn.functional.pad(x, (0, -w % 16, 0, -h % 16), mode="replicate")
    o = n((x - net.MIDDLE) / net.SPREAD)
    return {k: torch.sigmoid(o[k].float())[0, 0, :h, :w].cpu().numpy() for k in ("piece", "inner")} | {"class": o["class"][0].float().cpu().numpy()}


def pieces(o, bar, levels):
    """Pixels that belong to each piece: seeds by `inner`, grown within `piece`."""
    piece, peak, inner = levels
    p = np.where(bar, 0, o["piece"])
    body = p > piece
    seeds, n = ndimage.label(body & (o["inner"] > inner), np.ones((3, 3)))
    blobs, m = ndimage.label(body, np.ones((3, 3)))
    # Blobs without a seed are their own.
    bare = np.setdiff1d(np.arange(1, m + 1), np.unique(blobs[seeds > 0]))
    extra = np.zeros(m + 1, np.int32)
    extra[bare] = n + 1 + np.arange(len(bare))
    seeds = np.where(seeds > 0, seeds, extra[blobs])
    near = ndimage.distance_transform_edt(seeds == 0, return_distances=False, return_indices=True)
    lab = np.where(body, seeds[near[0], near[1]], 0)
    # A pixel takes a seed of its own blob only.
    lab[(lab > 0) & (blobs[near[0], near[1]] != blobs)] = 0
    total = n + len(bare)
    if total == 0:
        return lab, []
    best = ndimage.maximum(p, lab, np.arange(1, total + 1))
    size = ndimage.sum(lab > 0, lab, np.arange(1, total + 1))
    return lab, [k + 1 for k in range(total) if best[k] >= peak and size[k] >= 3]


def census(n, t, rgb, f, levels, o=None):
    o = o or outputs(n, rgb)
    lab, good = pieces(o, barred(t, rgb.shape[:2], f), levels)
    P, boxes = [], ndimage.find_objects(lab)
    ppm = t["px_per_mm_centre"] * f
    for k in good:
        s = boxes[k - 1]
        y, x = np.nonzero(lab[s] == k)
        y, x = y + s[0].start, x + s[1].start
        corners = np.concatenate([np.stack([x + a, y + b], 1) for a in (0.15, 0.85) for b in (0.15, 0.85)]).astype(np.float32)
        hull = cv2.convexHull(corners)[:, 0]
        feret = np.sqrt(((hull[:, None] - hull[None]) ** 2).sum(2)).max() / ppm
        v = o["class"][:, np.minimum(y // 2, o["class"].shape[1] - 1), np.minimum(x // 2, o["class"].shape[2] - 1)]
        v = v - np.log(np.exp(v).sum(0))
        w = o["piece"][y, x]
        c = np.exp((v * w).sum(1) / w.sum())
        c = c / c.sum()
        P.append({"class": net.CLASSES[int(c.argmax())], "p": {a: float(b) for a, b in zip(net.CLASSES, c)}, "x_px": float((x.mean() + 0.5) / f), "y_px": float((y.mean() + 0.5) / f), "feret_max_mm": float(feret), "peak": float(w.max()), "sure": float(np.sort(w)[-max(1, len(w) // 2):].mean())})
    return dict(file=t["file"], particles=P)


def main():
    ap = argparse.ArgumentParser()
    ap.add_argument("model")
    ap.add_argument("folder")
    ap.add_argument("out")
    ap.add_argument("--levels", nargs=3, type=float, default=(0.5, 0.95, 0.5))
    ap.add_argument("--cache")
    ap.add_argument("--threads", type=int, default=1)
    A = ap.parse_args()
    torch.set_num_threads(A.threads)
    n = network(A.model)
    with open(A.out, "w") as f:
        for name in photos.names(A.folder):
            t, rgb, k = taken(A.folder, name, A.cache)
            f.write(json.dumps(census(n, t, rgb, k, A.levels)) + "\n")


if __name__ == "__main__":
    main()
