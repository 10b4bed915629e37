"""Writes small random networks that the engine in Rust is compared on: NAME.net and NAME.json in a folder.

`tiny` has every kind of layer, `finder` is the shape that ships. The inputs are written out, so that nothing hangs
on a generator of chance; what comes out is by PyTorch, in whole numbers.
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
        conv("a", "s2d", 20),
        layer("most", "max_pool", "a"),
        conv("b", "most", 16),
        conv("c", "b", 20, False, "conv1"),
        layer("plain", "upsample_nearest", "c"),
        layer("sum", "add", ["a", "plain"]),
        conv("d", "sum", 12, False),
        layer("fine", "pixel_shuffle", "d"),
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
        ("tiny", every_kind(), ["fine", "sum", "c"], (3, 48, 32), 3),
        ("finder", net.finder_layers(c=(16, 16, 16, 32)), net.FINDER_OUT, (3, 48, 32), 1),
    ):
        n = random(layers, outputs, shape[0], seed)
        x = torch.rand(1, *shape).sub(net.MIDDLE).div(net.SPREAD).div(export.INPUT_UNIT).round()
        before = n(x * export.INPUT_UNIT)
        folded = n.fold()
        q = export.Whole.of(folded, export.units(folded, [x * export.INPUT_UNIT]))
        y = q.run(x, outputs)
        for o in outputs:
            # Random weights give log odds beyond those that a whole number can be.
            there = before[o].clamp(-export.MOST * q.unit[o], export.MOST * q.unit[o])
            off = (there - y[o] * q.unit[o]).abs().max().item()
            assert off < 0.01 * there.abs().max().item(), (name, o, off)
        export.write(f"{folder}/{name}.net", q, dict(name=name, learned="nothing: random weights, for tests of the engine", px_per_mm=8.0, labels=net.CLASSES, thresholds={}))
        _, again = export.read(f"{folder}/{name}.net")
        for o, v in again.run(x, outputs).items():
            assert torch.equal(v, y[o]), (name, o)
        flat = lambda t: [int(v) for v in t.flatten()]
        out = dict(shape=list(shape), input=flat(x), outputs={o: dict(shape=list(y[o].shape[1:]), values=flat(y[o])) for o in outputs})
        json.dump(out, open(f"{folder}/{name}.json", "w"), separators=(",", ":"))


if __name__ == "__main__":
    main(sys.argv[1])
