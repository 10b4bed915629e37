"""Writes a learned finder as the model file that the program reads.

usage: ship.py IN.pt OUT.net "from what, when" --store FOLDER [--usual FILE.npy] [--pan PX_PER_MM]

FOLDER (see `store.py`) has the photos that say what is usual: for each the mean and the spread of the features at the
coarsest level, in the picture; `d` is the mean of their squared distances in spreads. The quantiles of `d` are those of
each half of the photos by the statistics of the other half, for a network knows what it learned from better than what
is like it. Painted crops are left out: they are no whole photos. Their features are kept in FILE.npy, so that they can be
worked out beside the learner, where all photos are: `ship.py IN.pt FILE.npy --store FOLDER`.
"""

import argparse
import glob

import cv2
import numpy as np
import torch

import export
import net
import store

# Proposals are plenty; the census decides on them with what it measures of each.
LEVELS = dict(piece=0.1, peak=0.1, inner=0.3)
LAYER = "e3d"


def picture(p, pan):
    """A packed photo as it goes in."""
    f = (pan if p["kind"] == "pan" else net.FINDER_PX_PER_MM) / p["px_per_mm"]
    rgb = cv2.resize(p["rgb"], None, fx=f, fy=f, interpolation=cv2.INTER_AREA if f < 1 else cv2.INTER_LINEAR)
    x = torch.from_numpy(np.clip(rgb / 255 * p["white"], 0, 1).astype(np.float32)).permute(2, 0, 1)[None]
    h, w = x.shape[2:]
    x = torch.nn.functional.pad(x, (0, -w % 16, 0, -h % 16), mode="replicate")
    return (x - net.MIDDLE) / net.SPREAD, [max(1, h // 16), max(1, w // 16)]


@torch.no_grad()
def features(n, p, pan):
    x, (h, w) = picture(p, pan)
    e = n(x.to(next(n.parameters()).device))[LAYER][0][:, :h, :w].flatten(1).float()
    return torch.cat([e.mean(1), e.std(1, unbiased=False)]).cpu().numpy()


def of_all(n, painters, folder, pan):
    files = [f for k in painters for f in sorted(glob.glob(f"{folder}/{k}/*.npz"))]
    return np.array([features(n, store.read(f), pan) for f in files])


def moments(v):
    s = v.std(0)
    # A feature that hardly stirs would make much of nothing.
    return v.mean(0), np.sqrt(s**2 + (0.3 * s.mean()) ** 2)


def unusual(v, by):
    mean, std = moments(by)
    return (((v - mean) / std) ** 2).mean(1)


def novelty(v):
    v = v[np.random.default_rng(1).permutation(len(v))]
    a, b = v[::2], v[1::2]
    d = np.concatenate([unusual(a, b), unusual(b, a)])
    mean, std = moments(v)
    r = lambda x: [round(float(q), 5) for q in x]
    return dict(layer=LAYER, mean=r(mean), std=r(std), quantiles=r(np.quantile(d, np.linspace(0, 1, 101))))


@torch.no_grad()
def main():
    ap = argparse.ArgumentParser()
    ap.add_argument("source")
    ap.add_argument("out")
    ap.add_argument("learned", nargs="?")
    ap.add_argument("--store", required=True)
    ap.add_argument("--usual")
    ap.add_argument("--pan", type=float, default=9.5)
    A = ap.parse_args()
    torch.set_num_threads(1)
    kept = torch.load(A.source, map_location="cpu")
    n = net.finder(**({"c": kept["widths"]} if kept["widths"] else {}))
    n.load_state_dict(kept["state"])
    n = n.eval().fold()
    painters = [k for k in kept["shares"] if k != "paint"]
    if A.out.endswith(".npy"):
        np.save(A.out, of_all(n.to("cuda" if torch.cuda.is_available() else "cpu"), painters, A.store, A.pan))
        return
    seen_by = np.load(A.usual) if A.usual else of_all(n, painters, A.store, A.pan)
    usual = novelty(seen_by)
    print(A.out, len(seen_by), "photos say what is usual; d at 50, 90, 99 %:", [usual["quantiles"][i] for i in (50, 90, 99)], flush=True)
    some = sorted(f for k in painters for f in glob.glob(f"{A.store}/{k}/*.npz"))
    seen = [picture(store.read(f), A.pan)[0][..., :640, :640] for f in some[:: max(1, len(some) // 60)]]
    q = export.Whole.of(n, export.units(n, seen))
    off = torch.cat([(n(x)["piece"] - q(x)["piece"]).abs().flatten() for x in seen[::6]])
    print("log odds of a piece, whole numbers against floats: off by", [round(float(off.quantile(v)), 4) for v in (0.5, 0.99)], "at 50, 99 %", flush=True)
    export.write(A.out, q, dict(name="finder", learned=A.learned, px_per_mm=net.FINDER_PX_PER_MM, px_per_mm_pan=A.pan, labels=net.CLASSES, thresholds=LEVELS, novelty=usual))


if __name__ == "__main__":
    main()
