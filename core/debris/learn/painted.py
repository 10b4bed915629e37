"""Pictures of `paint` straight into a store. usage: painted.py STORE SEED SECONDS JOBS"""

import multiprocessing
import sys
import time

import cv2
import numpy as np

import net
import photos
import store

PX_PER_MM, SIDE = 12.0, 512
# Floors and papers without pieces are what keeps a clean photo clean.
KINDS = {"patch": 4, "pan": 5, "magnet": 2, "negative": 1}


def one(seed, i):
    from paint import draw

    rng = np.random.default_rng([seed, i])
    kind = list(KINDS)[rng.choice(len(KINDS), p=np.array(list(KINDS.values())) / sum(KINDS.values()))]
    p = draw(rng, kind, PX_PER_MM, (SIDE, SIDE))
    m = p.ids.astype(np.int16)
    for q in p.pieces:
        if photos.neutral(q) or q["feret_max_mm"] < photos.LEAST_MM or (q["contrast"] or 0) < photos.LEAST_CONTRAST:
            m[m == q["id"]] = photos.IGNORE
    # What was laid over (card, tape, finger) is ground that one sees.
    m[p.ids == -1] = 0
    left = set(np.unique(m[m > 0]).tolist())
    P = p.pieces
    return dict(
        name=f"paint-{seed}-{i}", painter="paint", kind=p.kind, rgb=p.rgb, ids=photos.seamed(m, p.px_per_mm), px_per_mm=float(p.px_per_mm), factor=1.0,
        white=np.ones(3), card=None, classes=[net.CLASSES.index(q["class"]) for q in P], areas=[0.4 * q["feret_max_mm"] ** 2 for q in P], ferets=[q["feret_max_mm"] for q in P],
        centres=[[q["x_px"], q["y_px"]] for q in P if q["id"] in left], clean=not left,
    )


def work(folder, seed, number, jobs, until):
    cv2.setNumThreads(1)
    i = number
    while time.time() < until:
        try:
            p = one(seed, i)
            store.write(f"{folder}/paint/{p['name']}.npz", p)
        except (ValueError, IndexError, cv2.error) as e:
            print("paint", seed, i, repr(e), flush=True)
        i += jobs


def main():
    folder, seed, seconds, jobs = sys.argv[1], int(sys.argv[2]), float(sys.argv[3]), int(sys.argv[4])
    until = time.time() + seconds
    children = [multiprocessing.Process(target=work, args=(folder, seed, k, jobs, until)) for k in range(jobs)]
    for c in children:
        c.start()
    for c in children:
        c.join()


if __name__ == "__main__":
    main()
