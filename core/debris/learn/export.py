"""Writes learned networks as the model files that `core/debris/src/net` reads (its `format.rs` says how)."""

import hashlib
import json
import struct

import numpy as np
import torch

import net

MAGIC, VERSION = b"SWARFNET", 1
INPUT = {3: dict(name="rgb", mean=[net.MIDDLE] * 3, std=[net.SPREAD] * 3), 5: dict(name="rgb", mean=[net.MIDDLE] * 3 + [0.0, 0.0], std=[net.SPREAD] * 3 + [1.0, 1.0])}


def halved(n):
    """The network as it will be read: weights rounded to f16."""
    with torch.no_grad():
        for m in n.w.values():
            m.weight.copy_(m.weight.half().float())
    return n


def write(path, n, head):
    """`n`: a folded network; `head`: name, learned, px_per_mm, labels, thresholds and the like."""
    numbers, rows = bytearray(), []
    for l in n.layers:
        row = {k: l[k] for k in ("name", "kind", "from")}
        if l["kind"] in net.MACS:
            m = n.w[l["name"]]
            row.update(relu=l["relu"], weights="f16")
            if l["kind"] != "depthwise3":
                row["out"] = l["out"]
            numbers += m.weight.detach().half().numpy().astype("<f2").tobytes() + m.bias.detach().numpy().astype("<f4").tobytes()
        rows.append(row)
    head = dict(head, input=INPUT[n.inputs], layers=rows, outputs={o: o for o in n.outputs})
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
    n = net.Net(layers, list(head["outputs"].values()), len(head["input"]["mean"]), norm=False)
    for l in layers:
        if l["kind"] in net.MACS:
            m = n.w[l["name"]]
            w = np.frombuffer(data, "<f2", m.weight.numel(), at).astype("f4").reshape(m.weight.shape)
            at += 2 * m.weight.numel()
            b = np.frombuffer(data, "<f4", m.bias.numel(), at)
            at += 4 * m.bias.numel()
            with torch.no_grad():
                m.weight.copy_(torch.from_numpy(w.copy()))
                m.bias.copy_(torch.from_numpy(b.copy()))
    return head, n.eval()
