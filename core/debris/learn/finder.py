"""Learns the finder.

usage: finder.py --store FOLDER --seconds S --run OUT.pt[,without=LEFT+OUT][,start=START.pt][,from=OTHER.pt@SHARE][,width=16-48-96-128] ...

Reads what `store.py` and `painted.py` have packed, and what they add while it runs. Ends by time: the learning rate
follows the share of time that is used. What is written, every now and then and in the end, are averaged weights.
`from` starts a network as a copy of another run when SHARE of the time is used: until then both are one, and cost one.
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
from bag import PAINTERS, Bag

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
    """Altered crops on the card. Altering costs more than a step of learning, so each crop serves several steps, turned anew."""

    def __init__(self, size, device):
        self.size, self.filled, self.device, self.kept = size, 0, device, None

    @torch.no_grad()
    def put(self, c):
        n = len(c["rgb"])
        if self.kept is None:
            kind = lambda k: {"cls": torch.uint8, "seen": torch.int32}.get(k, torch.float16)
            self.kept = {k: torch.zeros((self.size, *v.shape[1:]), dtype=kind(k), device=self.device) for k, v in c.items()}
        at = torch.arange(self.filled, self.filled + n, device=self.device) if self.filled + n <= self.size else torch.randperm(self.size, device=self.device)[:n]
        self.filled = min(self.size, self.filled + n)
        for k, v in c.items():
            self.kept[k][at] = v.to(self.kept[k].dtype)

    @torch.no_grad()
    def take(self, n, rng, barred):
        """`n` crops in which none of the painters `barred` (bits) is seen."""
        free = (self.kept["seen"][: self.filled] & barred) == 0
        at = (torch.rand(self.filled, device=self.device) + free).topk(n).indices
        turn, mirror = int(rng.integers(4)), rng.random() < 0.5
        out = {}
        for k, v in self.kept.items():
            if k == "seen":
                continue
            v = torch.rot90(v[at], turn, (-2, -1))
            v = v.flip(-1) if mirror else v
            out[k] = v.long() if k == "cls" else v.float()
        return out


class Learner:
    """One network that learns from crops in which the painters it leaves out are not seen."""

    def __init__(self, out, without, widths, state, rate, batch, seed, device, fused=False):
        torch.manual_seed(seed)
        self.out, self.without, self.widths, self.seed, self.device, self.batch = out, without, widths, seed, device, batch
        self.barred = sum(1 << k for k, p in enumerate(PAINTERS) if p in without.split("+"))
        self.net = net.finder(**({"c": widths} if widths else {})).to(device, memory_format=torch.channels_last)
        if state is not None:
            self.net.load_state_dict(state)
        self.mean = copy.deepcopy(self.net)
        self.rate, self.lr = rate, torch.tensor(rate, device=device)
        self.opt = torch.optim.AdamW(self.net.parameters(), lr=self.lr, weight_decay=0.01, fused=device.startswith("cuda"), capturable=device.startswith("cuda"))
        self.steps, self.sum, self.told, self.held, self.graph = 0, torch.zeros((), device=device), 0, None, None
        # Norms, ReLU and their gradients in one pass over memory each, which is what a step waits for.
        self.run = torch.compile(self.net) if fused else self.net

    def copy(self, out, without, seed):
        """A network that goes on from here, with the painters but `without`."""
        other = Learner(out, without, self.widths, self.net.state_dict(), self.rate, self.batch, seed, self.device, self.run is not self.net)
        other.mean.load_state_dict(self.mean.state_dict())
        other.opt.load_state_dict(copy.deepcopy(self.opt.state_dict()))
        for group in other.opt.param_groups:
            group["lr"] = other.lr
        other.steps = other.told = self.steps
        return other

    def forth(self):
        """One step over `held`."""
        c = self.held
        x = (c["rgb"] - net.MIDDLE) / net.SPREAD
        with torch.autocast(self.device.split(":")[0], dtype=torch.bfloat16, cache_enabled=False):
            out = self.run(x.contiguous(memory_format=torch.channels_last))
        loss = loss_of(out, c)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(self.net.parameters(), 2.0)
        self.opt.step()
        self.sum += loss.detach()

    def warm(self):
        """Steps that choose kernels, as a recording needs them."""
        side = torch.cuda.Stream(self.device)
        side.wait_stream(torch.cuda.current_stream(self.device))
        with torch.cuda.stream(side):
            for _ in range(4):
                self.opt.zero_grad(set_to_none=True)
                self.forth()
        torch.cuda.current_stream(self.device).wait_stream(side)

    def capture(self):
        """Records a step once: its many small kernels take longer to start than to run."""
        try:
            self.warm()
        except Exception as e:
            if self.run is self.net:
                raise
            # No compiler for the card, or one that can't: slower, but the same network.
            print(self.out, "is not compiled:", repr(e)[:500], flush=True)
            self.run = self.net
            self.warm()
        self.opt.zero_grad(set_to_none=True)
        self.graph = torch.cuda.CUDAGraph()
        with torch.cuda.graph(self.graph):
            self.forth()

    def step(self, pool, rng, used):
        c = pool.take(self.batch, rng, self.barred)
        self.lr.fill_(self.rate * min(1, self.steps / 500 + 0.02) * (0.5 * (1 + math.cos(math.pi * used)) + 0.01))
        if self.held is None:
            self.held = {k: v.clone() for k, v in c.items()}
        for k, v in c.items():
            self.held[k].copy_(v)
        if not self.device.startswith("cuda"):
            self.opt.zero_grad(set_to_none=True)
            self.forth()
        else:
            if self.graph is None:
                self.capture()
            self.graph.replay()
        self.steps += 1
        if self.steps % 4 == 0:
            average(self.mean, self.net, min(0.999, (1 + self.steps) / (20 + self.steps)) ** 4)

    def say(self, used, photos):
        n = max(1, self.steps - self.told)
        print(f"{os.path.basename(self.out)} {used:.0%} step {self.steps} loss {self.sum.item() / n:.4f} of {photos}", flush=True)
        self.told = self.steps
        self.sum.zero_()

    def keep(self, photos):
        state = {k: v.detach().cpu().contiguous() for k, v in self.mean.state_dict().items()}
        painters = [k for k in SHARES if k not in self.without.split("+")]
        painted = {k: sum(p["painter"] == k for p in photos) for k in painters}
        torch.save(dict(state=state, widths=self.widths, without=self.without, shares={k: SHARES[k] for k in painters}, photos=painted, seed=self.seed), self.out + ".part")
        os.replace(self.out + ".part", self.out)


@torch.no_grad()
def average(mean, n, keep):
    """Moves the averaged network towards the one that learns."""
    torch._foreach_lerp_(list(mean.parameters()), list(n.parameters()), 1 - keep)
    a, b = [v for v in mean.buffers() if v.dtype.is_floating_point], [v for v in n.buffers() if v.dtype.is_floating_point]
    if a:
        torch._foreach_lerp_(a, b, 1 - keep)


def learn(feed, seconds, seed, learners, forks, layers, device, every=4, pool=4096, scales=(0.72, 1.25)):
    """All networks of one card learn side by side from one pool of crops, until `seconds` are over; `forks` join them later."""
    torch.manual_seed(seed)
    np.random.seed(seed)
    rng = np.random.default_rng(seed)
    begun = time.time()
    torch.backends.cudnn.benchmark = True
    bag, chance, crops, batch = Bag(device), None, Pool(pool, device), learners[0].batch
    step, told, looked, saved = 0, 0.0, 0.0, 0.0
    while (used := (time.time() - begun) / seconds) < 1:
        if chance is None or time.time() - looked > 20:
            new = feed.take() if feed.whole or chance is not None else []
            looked = time.time()
            if new:
                bag.add(new)
                chance = bag.shares(SHARES)
            if chance is None:
                time.sleep(0.5)
                continue
        while crops.filled < min(pool, 16 * batch) or step % every == 0:
            which, A = bag.draw(rng, batch, chance, scales)
            # Some are altered but a little: what phones give is no worse than that for the most part.
            with torch.no_grad():
                crops.put(alter.alter(bag.cut(which, A), layers, 0.3 if rng.random() < 0.4 else 0.85))
            if crops.filled >= min(pool, 16 * batch):
                break
        for fork in [f for f in forks if used >= f["share"]]:
            forks.remove(fork)
            source = next(l for l in learners if l.out == fork["source"])
            learners.append(source.copy(fork["out"], fork["without"], fork["seed"]))
        for l in learners:
            l.step(crops, rng, used)
        step += 1
        if used - told > 0.05:
            told = used
            for l in learners:
                l.say(used, len(bag.photos))
        if used - saved > 0.12:
            saved = used
            for l in learners:
                l.keep(bag.photos)
    for l in learners:
        l.say(1, len(bag.photos))
        l.keep(bag.photos)


def task(A, layers, runs, number):
    """One card: its networks, from all painters but those that each leaves out."""
    torch.set_num_threads(1)
    device = f"cuda:{number}" if A.device == "cuda" else A.device
    if A.device == "cuda":
        torch.cuda.set_device(number)
    feed = Feed(A.store, list(SHARES))
    feed.start()
    learners, forks = [], []
    for k, (out, o) in enumerate(runs):
        if "from" in o:
            source, share = o["from"].split("@")
            barred = set(dict(runs)[source].get("without", "").split("+"))
            if set(o.get("without", "").split("+")) - barred - {""}:
                raise SystemExit(f"{source} will have seen a painter that {out} leaves out")
            forks.append(dict(out=out, without=o.get("without", ""), source=source, share=float(share), seed=A.seed + 10 * number + k))
            continue
        without, widths, state = o.get("without", ""), tuple(int(v) for v in o.get("width", A.width).split("-")), None
        if "start" in o:
            kept = torch.load(o["start"], map_location="cpu")
            # A network that goes on learning must not have seen what is left out now.
            if set(without.split("+")) - set(kept["without"].split("+")) - {""}:
                raise SystemExit(f"{o['start']} has seen a painter that {out} leaves out")
            state, widths = kept["state"], kept["widths"]
        learners.append(Learner(out, without, widths, state, float(o.get("rate", A.rate)), A.batch, A.seed + 10 * number + k, device, A.fused))
    learn(feed, A.seconds, A.seed + number, learners, forks, layers.to(device), device, A.every, A.pool)


def main():
    ap = argparse.ArgumentParser()
    ap.add_argument("--store", required=True)
    ap.add_argument("--seconds", type=float, required=True)
    ap.add_argument("--run", nargs="+", required=True, help="OUT.pt[,without=PAINTERS][,start=START.pt][,from=OTHER.pt@SHARE][,width=...]; all side by side, spread over the cards")
    ap.add_argument("--seed", type=int, default=1)
    ap.add_argument("--batch", type=int, default=64)
    ap.add_argument("--rate", type=float, default=3e-3)
    ap.add_argument("--width", default="16-48-96-128")
    ap.add_argument("--every", type=int, default=4, help="steps that new crops are altered after")
    ap.add_argument("--pool", type=int, default=4096)
    ap.add_argument("--device", default="cuda")
    ap.add_argument("--cards", type=int, default=1)
    ap.add_argument("--marks", type=int, default=1500)
    ap.add_argument("--fused", action="store_true", help="compile the network for the card first")
    A = ap.parse_args()
    # Before the forks, or those fail that set it.
    cv2.setNumThreads(1)
    layers = alter.marks(A.marks, 7)
    runs = []
    for r in A.run:
        out, *rest = r.split(",")
        runs.append((out, dict(v.split("=") for v in rest)))
    children = []
    for i in range(min(A.cards, len(runs))):
        # Forked before the card is touched.
        child = multiprocessing.get_context("fork").Process(target=task, args=(A, layers, runs[i :: A.cards], i))
        child.start()
        children.append(child)
    for child in children:
        child.join()
    raise SystemExit(max(abs(c.exitcode or 0) for c in children))


if __name__ == "__main__":
    main()
