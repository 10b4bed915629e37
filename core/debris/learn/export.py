"""Writes learned networks as the model file that `core/debris/src/net` reads.

File: b"SWARFNET", u32 version, SHA-256 of all that follows it, u32 length of the header, the header
(JSON, UTF-8), then the numbers; all little-endian. A network's layer names byte offsets into the
numbers: weights f16 as [out][in][ky][kx] (dw3: [channel][ky][kx]; fc: [out][in]), biases f32.
"""

import hashlib
import json
import struct

import numpy as np
import torch

import net

MAGIC, VERSION = b"SWARFNET", 1


def halved(n):
    """The network as it will be read: weights rounded to f16."""
    with torch.no_grad():
        for m in n.w.values():
            m.weight.copy_(m.weight.half().float())
    return n


def write(path, nets, about):
    """`nets`: name -> (folded network, what else its header says); `about`: what the file's header says."""
    numbers, header = bytearray(), dict(about)
    header["networks"] = {}
    for name, (n, more) in nets.items():
        rows = []
        for l in n.layers:
            row = {k: l[k] for k in ("name", "kind", "inputs", "cin", "cout", "relu")}
            if l["kind"] in net.WEIGHED:
                m = n.w[l["name"]]
                row["weights_at"] = len(numbers)
                numbers += m.weight.detach().half().numpy().astype("<f2").tobytes()
                numbers += b"\0" * (-len(numbers) % 4)
                row["biases_at"] = len(numbers)
                numbers += m.bias.detach().numpy().astype("<f4").tobytes()
            rows.append(row)
        header["networks"][name] = dict(more, layers=rows, outputs=n.outputs, middle=net.MIDDLE, spread=net.SPREAD)
    text = json.dumps(header, separators=(",", ":")).encode()
    rest = struct.pack("<I", len(text)) + text + bytes(numbers)
    with open(path, "wb") as f:
        f.write(MAGIC + struct.pack("<I", VERSION) + hashlib.sha256(rest).digest() + rest)


def read(path):
    """Header and networks of a model file: what the tests of the format compare with."""
    data = open(path, "rb").read()
    if data[:8] != MAGIC or struct.unpack("<I", data[8:12])[0] != VERSION:
        raise ValueError(f"{path} is no model file of version {VERSION}")
    if hashlib.sha256(data[44:]).digest() != data[12:44]:
        raise ValueError(f"{path} is damaged")
    size = struct.unpack("<I", data[44:48])[0]
    header, numbers = json.loads(data[48 : 48 + size]), data[48 + size :]
    nets = {}
    for name, h in header["networks"].items():
        n = net.Net([{k: r[k] for k in ("name", "kind", "inputs", "cin", "cout", "relu")} for r in h["layers"]], h["outputs"], norm=False)
        for r in h["layers"]:
            if r["kind"] in net.WEIGHED:
                m = n.w[r["name"]]
                w = np.frombuffer(numbers, "<f2", m.weight.numel(), r["weights_at"]).astype("f4").reshape(m.weight.shape)
                b = np.frombuffer(numbers, "<f4", m.bias.numel(), r["biases_at"])
                with torch.no_grad():
                    m.weight.copy_(torch.from_numpy(w.copy()))
                    m.bias.copy_(torch.from_numpy(b.copy()))
        nets[name] = n.eval()
    return header, nets
