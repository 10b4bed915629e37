"""Writes small random networks that hold the engine in Rust to PyTorch: NAME.net and NAME.json in a folder.

`tiny` has every kind of layer, `finder` and `looker` are the shapes that ship. The inputs are written out, so
that nothing hangs on a generator of chance.
usage: fixture.py FOLDER
"""

import json
import sys

import torch

import export
import net
from net import conv, layer


def every_kind():
    return [
        layer("s2d", "space_to_depth", "rgb"),
        conv("a", "s2d", 16),
        conv("dw", "a", None, True, "depthwise3"),
        layer("mean", "mean_pool", "dw"),
        layer("most", "max_pool", "dw"),
        layer("both", "concat", ["mean", "most"]),
        conv("b", "both", 16, True, "conv1"),
        layer("wide", "mean_pool", "b"),
        layer("smooth", "upsample_bilinear", "wide"),
        layer("rest", "subtract", ["b", "smooth"]),
        layer("plain", "upsample_nearest", "rest"),
        layer("sum", "add", ["dw", "plain"]),
        conv("c", "sum", 12, False),
        layer("fine", "pixel_shuffle", "c"),
        layer("g", "global_mean", "rest"),
        conv("told", "g", 5, False, "linear"),
    ]


def random(layers, outputs, inputs, seed):
    torch.manual_seed(seed)
    n = net.Net(layers, outputs, inputs)
    # Norms with statistics as after learning, so that folding is tested too.
    for m in n.n.values():
        m.running_mean.normal_(0, 0.3)
        m.running_var.uniform_(0.5, 2.0)
        torch.nn.init.uniform_(m.weight, 0.6, 1.4)
        torch.nn.init.normal_(m.bias, 0, 0.2)
    for m in n.w.values():
        torch.nn.init.normal_(m.bias, 0, 0.1)
    return n.eval()


@torch.no_grad()
def main(folder):
    for name, layers, outputs, shape, seed in (
        ("tiny", every_kind(), ["fine", "told", "rest"], (3, 48, 32), 3),
        ("finder", net.finder_layers(c=(16, 16, 16, 32)), net.FINDER_OUT, (3, 48, 32), 1),
        ("looker", net.looker_layers(), net.LOOKER_OUT, (5, 64, 64), 2),
    ):
        n = random(layers, outputs, shape[0], seed)
        mean, std = (torch.tensor(export.INPUT[shape[0]][k]).reshape(1, -1, 1, 1) for k in ("mean", "std"))
        # What goes in before mean and spread, to six digits as it is written.
        x = torch.rand(1, *shape).mul(1e6).round().div(1e6)
        before = n((x - mean) / std)
        n = export.halved(n.fold())
        y = n((x - mean) / std)
        for o in outputs:
            worst = (before[o] - y[o]).abs().max().item()
            assert worst < 0.05 * max(1.0, y[o].abs().max().item()), (name, o, worst)
        export.write(f"{folder}/{name}.net", n, dict(name=name, learned="nothing: random weights, for tests of the engine", px_per_mm=8.0, labels=net.CLASSES, thresholds={}))
        _, again = export.read(f"{folder}/{name}.net")
        for o, v in again((x - mean) / std).items():
            assert torch.allclose(v, y[o]), (name, o)
        flat = lambda t: [round(float(v), 6) for v in t.flatten()]
        out = dict(shape=list(shape), input=flat(x), outputs={o: dict(shape=list(y[o].shape[1:]), values=flat(y[o])) for o in outputs})
        json.dump(out, open(f"{folder}/{name}.json", "w"), separators=(",", ":"))


if __name__ == "__main__":
    main(sys.argv[1])
