"""Writes learned networks as the model files that `core/debris/src/net` reads (its `format.rs` says how).

A network is learned in floating point and runs in whole numbers: a layer's number times the layer's unit is what was
learned. Layers that are added, or that only move numbers about, share one unit.
"""

import hashlib
import json
import math
import struct

import numpy as np
import torch
from torch.nn import functional as F

import net

MAGIC, VERSION = b"SWARFNET", 2
# Furthest from nothing that an input or a convolution's output can be; the program knows the same number.
MOST = 4095
INPUT_UNIT = 1 / 1024
# Log odds are told from each other by so much.
LOGIT_UNIT = 1 / 256
LOGITS = ("piece", "inner", "class")
# Room above the most that was seen.
ROOM = 1.3


def groups(layers):
    """For each layer the one whose unit it shares."""
    of = {"rgb": "rgb"}

    def root(k):
        while of[k] != k:
            k = of[k]
        return k

    for l in layers:
        of[l["name"]] = l["name"]
        if l["kind"] not in net.MACS:
            for f in l["from"]:
                of[root(f)] = root(l["name"])
    return {k: root(k) for k in of}


@torch.no_grad()
def units(n, pictures):
    """A unit for each layer, from the most that its group gives over `pictures` (as they go in)."""
    group, most = groups(n.layers), {}
    names = [l["name"] for l in n.layers]
    for x in pictures:
        for k, v in n.run(x, names).items():
            most[group[k]] = max(most.get(group[k], 0.0), float(torch.quantile(v.abs().flatten()[:: max(1, v.numel() // 1_000_000)], 0.9999)))
    unit = {k: ROOM * m / MOST for k, m in most.items()}
    unit[group["rgb"]] = INPUT_UNIT
    for k in LOGITS:
        if k in group:
            unit[group[k]] = LOGIT_UNIT
    return {k: unit[g] for k, g in group.items()}


def whole(w, b, s_in, s_out, most):
    """Weights, biases and shifts of a convolution in whole numbers, as fine as the sums have room for."""
    w, b = w.double().numpy(), b.double().numpy()
    weights, biases, shifts = np.zeros(w.shape, np.int64), np.zeros(len(b), np.int64), np.zeros(len(b), np.int64)
    for o in range(len(b)):
        for shift in range(30, -1, -1):
            wq = np.rint(w[o] * 2.0**shift * s_in / s_out).astype(np.int64)
            bq = round(b[o] * 2.0**shift / s_out)
            half = 2 ** (shift - 1) if shift else 0
            if np.abs(wq).max() <= 32767 and int(np.abs(wq).sum()) * most + abs(bq) + half <= 2**31 - 1:
                weights[o], biases[o], shifts[o] = wq, bq, shift
                break
        else:
            raise ValueError("weights too large for whole numbers")
    return weights.astype("<i2"), biases.astype("<i4"), shifts.astype("u1")


class Whole:
    """A network in whole numbers, as the program runs it."""

    def __init__(self, layers, outputs, unit, learned):
        self.layers, self.outputs, self.unit, self.learned, self.device = layers, outputs, unit, learned, "cpu"

    @staticmethod
    def of(n, unit):
        learned, most = {}, {"rgb": MOST}
        for l in n.layers:
            m = most[l["from"][0]]
            if l["kind"] in net.MACS:
                c = n.w[l["name"]]
                learned[l["name"]] = whole(c.weight.detach(), c.bias.detach(), unit[l["from"][0]], unit[l["name"]], m)
                m = MOST
            elif l["kind"] == "add":
                m = sum(most[f] for f in l["from"])
            most[l["name"]] = m
        return Whole(n.layers, n.outputs, unit, learned)

    def to(self, device):
        self.device = device
        return self

    def parameters(self):
        yield torch.zeros((), device=self.device)

    @torch.no_grad()
    def run(self, x, names):
        """`x` and what the named layers give, in whole numbers (as float64, which holds them exactly)."""
        seen = {"rgb": x.double().to(self.device)}
        for l in self.layers:
            v = [seen[f] for f in l["from"]]
            if l["kind"] in net.MACS:
                w, b, shift = (torch.from_numpy(np.array(a, np.float64)).to(self.device) for a in self.learned[l["name"]])
                half = torch.where(shift > 0, 2.0 ** (shift - 1), torch.zeros_like(shift))
                y = F.conv2d(v[0], w, b + half, padding=w.shape[-1] // 2)
                y = torch.floor(y / (2.0**shift).reshape(1, -1, 1, 1)).clamp(0 if l["relu"] else -MOST, MOST)
            else:
                y = net.shaped(l["kind"], v)
            seen[l["name"]] = y
        return {k: seen[k] for k in names}

    def __call__(self, x):
        """As a network that was not made whole."""
        y = self.run(torch.floor(x / self.unit["rgb"] + 0.5).clamp(-MOST, MOST), self.outputs)
        return {k: (v * self.unit[k]).float() for k, v in y.items()}


def write(path, n, head):
    """`n`: whole; `head`: name, learned, px_per_mm, labels, thresholds and the like."""
    numbers, rows = bytearray(), []
    for l in n.layers:
        row = {k: l[k] for k in ("name", "kind", "from")}
        if l["kind"] in net.MACS:
            row.update(relu=l["relu"], out=l["out"])
            w, b, shift = n.learned[l["name"]]
            numbers += shift.tobytes() + b.tobytes() + w.tobytes()
        rows.append(row)
    outputs = {o: dict(layer=o, unit=n.unit[o]) for o in n.outputs}
    if head.get("novelty"):
        head["novelty"]["unit"] = n.unit[head["novelty"]["layer"]]
    head = dict(head, input=dict(name="rgb", mean=[net.MIDDLE] * 3, std=[net.SPREAD] * 3, unit=n.unit["rgb"]), layers=rows, outputs=outputs)
    text = json.dumps(head, separators=(",", ":")).encode()
    rest = struct.pack("<I", len(text)) + text + bytes(numbers)
    with open(path, "wb") as f:
        f.write(MAGIC + struct.pack("<I", VERSION) + hashlib.sha256(rest).digest() + rest)


def read(path):
    """Head and network of a model file."""
    data = open(path, "rb").read()
    if data[:8] != MAGIC or struct.unpack("<I", data[8:12])[0] != VERSION:
        raise ValueError(f"{path} is no model file of version {VERSION}")
    if hashlib.sha256(data[44:]).digest() != data[12:44]:
        raise ValueError(f"{path} is damaged")
    size = struct.unpack("<I", data[44:48])[0]
    head, at = json.loads(data[48 : 48 + size]), 48 + size
    layers = [dict(name=r["name"], kind=r["kind"], out=r.get("out"), relu=r.get("relu", False), **{"from": r["from"]}) for r in head["layers"]]
    wide, learned = {"rgb": len(head["input"]["mean"])}, {}
    for l in layers:
        cin = wide[l["from"][0]]
        wide[l["name"]] = {"space_to_depth": cin * 4, "pixel_shuffle": cin // 4}.get(l["kind"], l["out"] or cin)
        if l["kind"] in net.MACS:
            out, side = l["out"], 3 if l["kind"] == "conv3" else 1
            shift = np.frombuffer(data, "u1", out, at)
            b = np.frombuffer(data, "<i4", out, at + out)
            w = np.frombuffer(data, "<i2", out * cin * side * side, at + 5 * out).reshape(out, cin, side, side)
            at += 5 * out + 2 * w.size
            learned[l["name"]] = w, b, shift
    unit = {o["layer"]: o["unit"] for o in head["outputs"].values()} | {"rgb": head["input"]["unit"]}
    return head, Whole(layers, [o["layer"] for o in head["outputs"].values()], unit, learned)
