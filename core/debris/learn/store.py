"""Photos packed small, as the learner reads them: one file a photo, picture and map of pieces at most 12 px/mm.

usage: store.py STORE PAINTER=FOLDER[+raw] ... [--watch SECONDS] [--jobs N]

Packs each photo of each FOLDER into STORE/PAINTER/NAME.npz; `+raw` names what the second generator writes before its
`convert.py`. With --watch new photos are packed as they appear.
"""

import argparse
import glob
import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor

import cv2
import numpy as np

import photos

QUALITY = 86


def write(path, p):
    """`p` as `photos.prepare` gives it."""
    ok, rgb = cv2.imencode(".webp", p["rgb"][..., ::-1], [cv2.IMWRITE_WEBP_QUALITY, QUALITY])
    ok2, ids = cv2.imencode(".png", (p["ids"].astype(np.int32) + 1).astype(np.uint16), [cv2.IMWRITE_PNG_COMPRESSION, 9])
    if not (ok and ok2):
        raise ValueError(f"{path} could not be packed")
    rest = {k: (v.tolist() if isinstance(v, np.ndarray) else v) for k, v in p.items() if k not in ("rgb", "ids")}
    os.makedirs(os.path.dirname(path), exist_ok=True)
    with open(path + ".part", "wb") as f:
        np.savez(f, rgb=rgb, ids=ids, rest=np.frombuffer(json.dumps(rest).encode(), np.uint8))
    os.replace(path + ".part", path)


def read(path):
    with np.load(path) as z:
        p = json.loads(z["rest"].tobytes())
        p["rgb"] = np.ascontiguousarray(cv2.imdecode(z["rgb"], cv2.IMREAD_COLOR)[..., ::-1])
        p["ids"] = cv2.imdecode(z["ids"], cv2.IMREAD_UNCHANGED).astype(np.int32).astype(np.int16) - 1
    p["white"] = np.array(p["white"], float)
    p["centres"] = np.array(p["centres"], float).reshape(-1, 2)
    return p


def one(job):
    folder, name, painter, path = job
    cv2.setNumThreads(1)
    try:
        write(path, photos.prepare(folder, name, painter))
    except (OSError, ValueError, KeyError, cv2.error) as e:
        print(folder, name, "left out:", repr(e), flush=True)


def converted(raw, done):
    """New photos of the second generator, brought into the common form; gives their folder or None."""
    new = [f for f in sorted(glob.glob(raw + "/truth/*.json")) if f not in done and time.time() - os.path.getmtime(f) > 2 and os.path.exists(f"{raw}/{os.path.basename(f)[:-5]}.jpg")]
    if not new:
        return None
    done.update(new)
    here = tempfile.mkdtemp()
    os.makedirs(here + "/in/truth")
    for f in new:
        shutil.copy(f, here + "/in/truth")
        shutil.copy(f"{raw}/{os.path.basename(f)[:-5]}.jpg", here + "/in")
    tool = os.environ["CONVERT"]
    subprocess.run([sys.executable, tool, here + "/in", here + "/out"], check=True, stdout=subprocess.DEVNULL)
    return here + "/out"


def main():
    ap = argparse.ArgumentParser()
    ap.add_argument("store")
    ap.add_argument("sources", nargs="+")
    ap.add_argument("--watch", type=float, default=0)
    ap.add_argument("--jobs", type=int, default=2)
    A = ap.parse_args()
    begun, done, waiting = time.time(), set(), []
    with ProcessPoolExecutor(A.jobs) as pool:
        while True:
            jobs = []
            for s in A.sources:
                painter, folder = s.split("=")
                tag = os.path.basename(folder.removesuffix("+raw").rstrip("/"))
                if folder.endswith("+raw"):
                    folder = converted(folder.removesuffix("+raw"), done)
                    if folder is None:
                        continue
                elif not os.path.isdir(folder + "/truth"):
                    continue
                for n in photos.names(folder):
                    key = f"{folder}/{n}"
                    if key not in done and (not A.watch or time.time() - os.path.getmtime(f"{folder}/truth/{n}.json") > 2 or folder.startswith(tempfile.gettempdir() + "/tmp")):
                        done.add(key)
                        jobs.append((folder, n, painter, f"{A.store}/{painter}/{tag}-{n}.npz"))
            waiting = [w for w in waiting if not w.done()] + [pool.submit(one, j) for j in jobs]
            if time.time() - begun >= A.watch:
                for w in waiting:
                    w.result()
                break
            time.sleep(2)


if __name__ == "__main__":
    main()
