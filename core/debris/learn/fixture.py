"""Writes the tiny random network that holds the engine in Rust to PyTorch: ../tests/net/tiny.net and tiny.json.

Every kind of layer is in it. The inputs are written out, so that nothing hangs on a generator of chance.
usage: fixture.py FOLDER
"""

import json
import sys

import torch

import export
import net


def tiny(layers, outputs, seed):
    torch.manual_seed(seed)
    n = net.Net(layers, outputs)
    # Norms with statistics as after learning, so that folding is tested too.
    for m in n.n.values():
        m.running_mean.normal_(0, 0.3)
        m.running_var.uniform_(0.5, 2.0)
        torch.nn.init.uniform_(m.weight, 0.6, 1.4)
        torch.nn.init.normal_(m.bias, 0, 0.2)
    for m in n.w.values():
        torch.nn.init.normal_(m.bias, 0, 0.1)
    return n.eval()


def main(folder):
    out, nets = {}, {}
    for name, layers, outputs, shape, seed in (
        ("finder", net.finder_layers(c=(4, 8, 8, 12), head=8), net.FINDER_OUT, (3, 64, 48), 1),
        ("looker", net.looker_layers(), net.LOOKER_OUT, (5, 64, 64), 2),
    ):
        n = tiny(layers, outputs, seed)
        x = torch.randn(1, *shape).half().float()
        before = n(x)
        n = export.halved(n.fold())
        y = n(x)
        for o in outputs:
            worst = (before[o] - y[o]).abs().max().item()
            assert worst < 0.05 * max(1.0, y[o].abs().max().item()), (name, o, worst)
        nets[name] = (n, {"px_per_mm": 8.0} if name == "finder" else {"px": 64})
        flat = lambda t: [round(float(v), 6) for v in t.flatten()]
        out[name] = dict(shape=list(shape), input=flat(x), outputs={o: dict(shape=list(y[o].shape[1:]), values=flat(y[o])) for o in outputs})
    export.write(f"{folder}/tiny.net", nets, dict(about="random weights, for tests of the engine", labels=net.CLASSES))
    _, again = export.read(f"{folder}/tiny.net")
    for name, (n, _) in nets.items():
        x = torch.tensor(out[name]["input"]).reshape(1, *out[name]["shape"])
        for o, v in again[name](x).items():
            assert torch.allclose(v, n(x)[o]), (name, o)
    json.dump(out, open(f"{folder}/tiny.json", "w"), separators=(",", ":"))


if __name__ == "__main__":
    main(sys.argv[1])
