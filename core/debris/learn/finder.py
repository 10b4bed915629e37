"""Learns the finder.

usage: finder.py --store FOLDER --run OUT.pt=LEFT+OUT@SECONDS[@START.pt] ...

Reads what `store.py` and `painted.py` have packed, and what they add while it runs. Ends by time: the learning rate
follows the share of time that is used. What is written, every now and then and in the end, are averaged weights.
"""

import argparse
import copy
import glob
import math
import multiprocessing
import os
import threading
import time

import cv2
import numpy as np
import torch
from torch.nn import functional as F

import alter
import net
import store
from bag import Bag

SHARES = dict(first=1.5, second=1.6, third=2.0, own=0.8, paint=2.1)


def loss_of(out, c):
    cover, ok = c["cover"], (c["ignore"] == 0).float()
    w = ok * (1 + (c["weight"] - 1) * cover)
    piece, inner = out["piece"].float(), out["inner"].float()
    bce = lambda y, t, w: (F.binary_cross_entropy_with_logits(y, t, reduction="none") * w).mean()
    # A place between touching pieces is rare and counts for more.
    seam = 1 + 6 * (c["seam"] > 0).float()
    p = torch.sigmoid(piece)
    dice = 1 - (2 * (p * cover * w).sum() + 1) / ((p * w).sum() + (cover * w).sum() + 1)
    k = out["class"].float()
    seen = (c["cls"] > 0).float() * F.avg_pool2d(c["weight"] * ok, 2)[:, 0]
    ce = F.cross_entropy(k, (c["cls"] - 1).clamp_min(0), reduction="none", label_smoothing=0.05)
    ce = (ce * seen).sum() / (seen.sum() + 1)
    return 6 * bce(piece, cover, w) + dice + 3 * bce(inner, c["inner"], w * seam) + 0.4 * ce


class Feed(threading.Thread):
    """Reads packed photos as they appear; `take` gives those that are read."""

    def __init__(self, folder, painters):
        super().__init__(daemon=True)
        self.folder, self.painters, self.seen, self.ready, self.lock, self.whole = folder, painters, set(), [], threading.Lock(), False

    def run(self):
        while True:
            new = [f for k in self.painters for f in sorted(glob.glob(f"{self.folder}/{k}/*.npz")) if f not in self.seen]
            for f in new:
                self.seen.add(f)
                try:
                    p = store.read(f)
                except (OSError, ValueError, KeyError, cv2.error) as e:
                    print(f, "left out:", repr(e), flush=True)
                    continue
                with self.lock:
                    self.ready.append(p)
            self.whole = True
            time.sleep(2)

    def take(self):
        with self.lock:
            out, self.ready = self.ready, []
        return out


class Pool:
    """Altered crops on the card. Altering costs more than a step of learning, so each crop serves some four steps, turned anew."""

    def __init__(self, size, device):
        self.size, self.filled, self.device, self.kept = size, 0, device, None

    @torch.no_grad()
    def put(self, c):
        n = len(c["rgb"])
        if self.kept is None:
            self.kept = {k: torch.zeros((self.size, *v.shape[1:]), dtype=torch.uint8 if k == "cls" else torch.float16, device=self.device) for k, v in c.items()}
        at = torch.arange(self.filled, self.filled + n, device=self.device) if self.filled + n <= self.size else torch.randperm(self.size, device=self.device)[:n]
        self.filled = min(self.size, self.filled + n)
        for k, v in c.items():
            self.kept[k][at] = v.to(self.kept[k].dtype)

    @torch.no_grad()
    def take(self, n, rng):
        at = torch.randint(0, self.filled, (n,), device=self.device)
        turn, mirror = int(rng.integers(4)), rng.random() < 0.5
        out = {}
        for k, v in self.kept.items():
            v = torch.rot90(v[at], turn, (-2, -1))
            v = v.flip(-1) if mirror else v
            out[k] = v.long() if k == "cls" else v.float()
        return out


@torch.no_grad()
def average(mean, n, keep):
    """Moves the averaged network towards the one that learns."""
    torch._foreach_lerp_(list(mean.parameters()), list(n.parameters()), 1 - keep)
    a, b = [v for v in mean.buffers() if v.dtype.is_floating_point], [v for v in n.buffers() if v.dtype.is_floating_point]
    if a:
        torch._foreach_lerp_(a, b, 1 - keep)


def learn(feed, seconds, seed, keep_at, batch=64, rate=3e-3, widths=None, device="cuda", log=print, layers=None, start=None, pool=2048):
    torch.manual_seed(seed)
    np.random.seed(seed)
    rng = np.random.default_rng(seed)
    begun = time.time()
    n = net.finder(**({"c": widths} if widths else {})).to(device, memory_format=torch.channels_last)
    if start is not None:
        n.load_state_dict(start)
    mean = copy.deepcopy(n)
    torch.backends.cudnn.benchmark = True
    opt = torch.optim.AdamW(n.parameters(), lr=rate, weight_decay=0.01, fused=device.startswith("cuda"))
    bag, chance, crops = Bag(device), None, Pool(pool, device)
    step, told, looked, saved, run = 0, 0.0, 0.0, 0.0, []
    while (used := (time.time() - begun) / seconds) < 1:
        if chance is None or time.time() - looked > 20:
            new = feed.take() if feed.whole or chance is not None else []
            looked = time.time()
            if new:
                bag.add(new)
                if device.startswith("cuda"):
                    torch.cuda.empty_cache()
                chance = bag.shares(SHARES)
            if chance is None:
                time.sleep(0.5)
                continue
        for g in opt.param_groups:
            g["lr"] = rate * min(1, step / 200 + 0.02) * (0.5 * (1 + math.cos(math.pi * used)) + 0.01)
        while crops.filled < min(pool, 8 * batch) or (step % 4 == 0 and crops.filled):
            which, A = bag.draw(rng, batch, chance)
            # Some are altered but a little: what phones give is no worse than that for the most part.
            with torch.no_grad():
                crops.put(alter.alter(bag.cut(which, A), layers, 0.3 if rng.random() < 0.4 else 0.85))
            if crops.filled >= min(pool, 8 * batch):
                break
        c = crops.take(batch, rng)
        x = (c["rgb"] - net.MIDDLE) / net.SPREAD
        with torch.autocast(device.split(":")[0], dtype=torch.bfloat16):
            out = n(x.contiguous(memory_format=torch.channels_last))
        loss = loss_of(out, c)
        opt.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(n.parameters(), 2.0)
        opt.step()
        average(mean, n, min(0.998, (1 + step) / (20 + step)))
        run.append(loss.detach())
        step += 1
        if used - told > 0.1:
            told = used
            log(f"{used:.0%} step {step} loss {torch.stack(run).mean().item():.4f} of {len(bag.photos)}", flush=True)
            run = []
        if used - saved > 0.24:
            saved = used
            keep_at(mean, bag)
    log(f"{step} steps in {time.time() - begun:.0f} s, {len(bag.photos)} photos", flush=True)
    keep_at(mean, bag)


def task(A, layers, out, without, seconds, start, number):
    """Learns one network from all painters but `without` and writes it."""
    torch.set_num_threads(1)
    # Several cards share the runs.
    device, seed = f"cuda:{number % torch.cuda.device_count()}" if A.device == "cuda" else A.device, A.seed + number
    painters = [k for k in SHARES if k not in without.split("+")]
    feed = Feed(A.store, painters)
    feed.start()
    widths = tuple(int(v) for v in A.width.split(",")) if A.width else None
    state = None
    if start:
        kept = torch.load(start, map_location="cpu")
        # A network that goes on learning must not have seen what is left out now.
        if set(without.split("+")) - set(kept["without"].split("+")) - {""}:
            raise SystemExit(f"{start} has seen a painter that {out} leaves out")
        state, widths = kept["state"], kept["widths"]

    def keep_at(mean, bag):
        state = {k: v.detach().cpu().contiguous() for k, v in mean.state_dict().items()}
        painted = {k: sum(p["painter"] == k for p in bag.photos) for k in painters}
        torch.save(dict(state=state, widths=widths, without=without, shares={k: SHARES[k] for k in painters}, photos=painted, seed=seed), out + ".part")
        os.replace(out + ".part", out)

    say = lambda *a, **k: print(without or "all", *a, **k)
    learn(feed, seconds, seed, keep_at, A.batch, A.rate, widths, device, say, layers.to(device), state)


def main():
    ap = argparse.ArgumentParser()
    ap.add_argument("--store", required=True)
    ap.add_argument("--run", nargs="+", required=True, help="OUT.pt=PAINTERS+LEFT+OUT@SECONDS[@START.pt]; all side by side")
    ap.add_argument("--seed", type=int, default=1)
    ap.add_argument("--batch", type=int, default=64)
    ap.add_argument("--rate", type=float, default=3e-3)
    ap.add_argument("--width", default="16,32,48,96")
    ap.add_argument("--device", default="cuda")
    ap.add_argument("--marks", type=int, default=1500)
    A = ap.parse_args()
    # Before the forks, or those fail that set it.
    cv2.setNumThreads(1)
    layers = alter.marks(A.marks, 7)
    children = []
    for i, r in enumerate(A.run):
        out, rest = r.split("=")
        without, seconds, *start = rest.split("@")
        # Forked before the card is touched.
        child = multiprocessing.get_context("fork").Process(target=task, args=(A, layers, out, without, float(seconds), start[0] if start else None, i))
        child.start()
        children.append(child)
    for child in children:
        child.join()
    raise SystemExit(max(abs(c.exitcode or 0) for c in children))


if __name__ == "__main__":
    main()
