"""Packs the networks into the file that ships: `python export.py FIND.pt READ.pt ../src/display.net`.

Weights of a layer's output are bytes with one scale; the norm is folded in. Little endian."""
import struct
import sys

import numpy as np
import torch

from learn import net_of
from nets import Layer


def folded(layer):
    weight = layer.conv.weight.detach().double().numpy()
    if layer.norm is None:
        return weight, layer.conv.bias.detach().double().numpy()
    norm = layer.norm
    scale = (norm.weight / torch.sqrt(norm.running_var + norm.eps)).detach().double().numpy()
    return weight * scale[:, None, None, None], (norm.bias.detach().double().numpy() - norm.running_mean.double().numpy() * scale)


def packed(layer):
    weight, bias = folded(layer)
    go, come, kh, kw = weight.shape
    conv = layer.conv
    valid = conv.padding[0] == 0 and kh > 1
    head = struct.pack('<HHBBBBBBB', come, go, kh, kw, *conv.stride, conv.dilation[0], valid, layer.norm is not None)
    most = np.abs(weight).reshape(go, -1).max(1)
    scale = np.maximum(most, 1e-12) / 127
    whole = np.clip(np.round(weight / scale[:, None, None, None]), -127, 127).astype(np.int8)
    return head + scale.astype('<f4').tobytes() + bias.astype('<f4').tobytes() + whole.tobytes()


def main():
    *files, out = sys.argv[1:]
    body = b'SWDN\x01' + bytes([len(files)])
    for what, file in zip(('find', 'read'), files):
        net = net_of(what)
        net.load_state_dict(torch.load(file, map_location='cpu'))
        layers = [m for m in net.modules() if isinstance(m, Layer)]
        body += struct.pack('<H', len(layers)) + b''.join(packed(layer) for layer in layers)
    open(out, 'wb').write(body)
    print(len(body), 'bytes')


if __name__ == '__main__':
    main()
