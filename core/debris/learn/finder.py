"""Learns the finder.

usage: finder.py --data FOLDER=PAINTER[*SHARE] ... --run OUT.pt=LEFT+OUT@SECONDS ...

Ends by time: the learning rate follows the share of time that is used. What is written are the averaged weights.
"""

import argparse
import copy
import math
import multiprocessing
import time
from concurrent.futures import ProcessPoolExecutor

import numpy as np
import torch
from torch.nn import functional as F

import alter
import net
import photos
from bag import Bag


def loss_of(out, c, ppm_class_weight=0.6):
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
    return 6 * bce(piece, cover, w) + dice + 3 * bce(inner, c["inner"], w * seam) + ppm_class_weight * 0.5 * ce


def prepared(jobs, workers=16):
    with ProcessPoolExecutor(workers) as pool:
        return [p for p in pool.map(one, jobs, chunksize=2) if p is not None]


def one(job):
    try:
        return photos.prepare(*job)
    except (OSError, ValueError, KeyError) as e:
        print(job, "left out:", e, flush=True)
        return None


def jobs_of(data):
    jobs, shares = [], {}
    for d in data:
        folder, rest = d.rsplit("=", 1)
        painter, _, share = rest.partition("*")
        jobs += [(folder, n, painter) for n in photos.names(folder)]
        shares[painter] = max(float(share or 1), shares.get(painter, 0))
    return jobs, shares


def learn(bag, shares, seconds, seed, batch=64, rate=3e-3, widths=None, device="cuda", log=print, layers=None, start=None, strength=1.0):
    torch.manual_seed(seed)
    rng = np.random.default_rng(seed)
    n = net.finder(**({"c": widths} if widths else {})).to(device, memory_format=torch.channels_last)
    if start is not None:
        n.load_state_dict(start)
    mean = copy.deepcopy(n)
    opt = torch.optim.AdamW(n.parameters(), lr=rate, weight_decay=0.01)
    chance = bag.shares(shares)
    begun, step, said = time.time(), 0, 0.0
    run = []
    while True:
        used = (time.time() - begun) / seconds
        if used >= 1:
            break
        for g in opt.param_groups:
            g["lr"] = rate * min(1, step / 200 + 0.02) * (0.5 * (1 + math.cos(math.pi * used)) + 0.01)
        which, A = bag.draw(rng, batch, chance)
        with torch.no_grad():
            c = alter.alter(bag.cut(which, A), layers, strength)
            x = (c["rgb"] - net.MIDDLE) / net.SPREAD
        with torch.autocast(device, dtype=torch.bfloat16):
            out = n(x.contiguous(memory_format=torch.channels_last))
        loss = loss_of(out, c)
        opt.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(n.parameters(), 2.0)
        opt.step()
        keep = min(0.998, (1 + step) / (20 + step))
        with torch.no_grad():
            for a, b in zip(mean.state_dict().values(), n.state_dict().values()):
                if a.dtype.is_floating_point:
                    a.lerp_(b.to(a.dtype), 1 - keep)
                else:
                    a.copy_(b)
        run.append(loss.detach())
        step += 1
        if used - said > 0.1:
            said = used
            log(f"{used:.0%} step {step} loss {torch.stack(run).mean().item():.4f}", flush=True)
            run = []
    log(f"{step} steps in {time.time() - begun:.0f} s", flush=True)
    return mean


def task(loaded, shares, A, out, without, seconds, seed):
    """Learns one network from all painters but `without` and writes it."""
    mine = {k: v for k, v in shares.items() if k not in without.split("+")}
    bag = Bag([p for p in loaded if p["painter"] in mine], A.device)
    layers = alter.marks(A.marks, 7).to(A.device)
    w = tuple(int(v) for v in A.width.split(",")) if A.width else None
    start = torch.load(A.start, map_location="cpu")["state"] if A.start else None
    say = lambda *a, **k: print(without or "all", *a, **k)
    m = learn(bag, mine, seconds, seed, A.batch, A.rate, widths=w, device=A.device, layers=layers, log=say, start=start)
    torch.save(dict(state=m.cpu().state_dict(), widths=w, without=without, shares=mine, photos=len(bag.photos)), out)


def main():
    ap = argparse.ArgumentParser()
    ap.add_argument("--data", nargs="+", required=True)
    ap.add_argument("--run", nargs="+", required=True, help="OUT.pt=PAINTERS+LEFT+OUT@SECONDS; all side by side")
    ap.add_argument("--seed", type=int, default=1)
    ap.add_argument("--batch", type=int, default=64)
    ap.add_argument("--rate", type=float, default=3e-3)
    ap.add_argument("--width", default="")
    ap.add_argument("--start", default="")
    ap.add_argument("--device", default="cuda")
    ap.add_argument("--workers", type=int, default=16)
    ap.add_argument("--marks", type=int, default=1500)
    A = ap.parse_args()
    jobs, shares = jobs_of(A.data)
    t = time.time()
    loaded = prepared(jobs, A.workers)
    print(f"{len(jobs)} photos in {time.time() - t:.0f} s", shares, {k: sum(p["painter"] == k for p in loaded) for k in shares}, flush=True)
    children = []
    for i, r in enumerate(A.run):
        out, rest = r.split("=")
        without, seconds = rest.split("@")
        # Forked before the card is touched: the photos are shared.
        child = multiprocessing.get_context("fork").Process(target=task, args=(loaded, shares, A, out, without, float(seconds), A.seed + i))
        child.start()
        children.append(child)
    for child in children:
        child.join()
    raise SystemExit(max(abs(c.exitcode or 0) for c in children))


if __name__ == "__main__":
    main()
