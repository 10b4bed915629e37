"""The network of the census, as a plain layer graph.

A network is a list of layers; each names its inputs. The same list is what `export.py` writes
and what the engine in Rust runs, so nothing here may use what the list can't say. Batch norm
exists while learning only: `fold` puts it into the weights in front of it.
"""

import torch
from torch import nn
from torch.nn import functional as F

CLASSES = ["steel_flake", "steel_sliver", "yellow_metal", "light_metal", "lining", "plastic", "elastomer", "grit", "lint"]
FINDER_PX_PER_MM = 9.5
# It sees (srgb / 255 - MIDDLE) / SPREAD.
MIDDLE, SPREAD = 0.45, 0.25


MACS = {"conv3": lambda i, o: 9 * i * o, "conv1": lambda i, o: i * o}


def layer(name, kind, source, out=None, relu=False):
    """One layer; `out` for those with weights that choose it, `relu` after it. Kinds as `core/debris/src/net` runs them."""
    return dict(name=name, kind=kind, **{"from": source if isinstance(source, list) else [source]}, out=out, relu=relu)


def conv(name, source, out, relu=True, kind="conv3"):
    return layer(name, kind, source, out, relu)


def finder_layers(c=(16, 32, 48, 96)):
    """Reads `rgb` at 8 px/mm; levels of 4, 2, 1 and 0.5 px/mm, a neighbourhood of some 40 mm."""
    a, b, d, e = c
    return [
        layer("s2d", "space_to_depth", "rgb"),
        conv("e0", "s2d", a),
        layer("p1", "max_pool", "e0"),
        conv("e1a", "p1", b),
        conv("e1b", "e1a", b),
        layer("p2", "max_pool", "e1b"),
        conv("e2a", "p2", d),
        conv("e2b", "e2a", d),
        layer("p3", "max_pool", "e2b"),
        conv("e3a", "p3", e),
        conv("e3b", "e3a", e),
        conv("e3c", "e3b", e),
        conv("e3d", "e3c", e),
        conv("u2p", "e3d", d, False, "conv1"),
        layer("u2n", "upsample_nearest", "u2p"),
        layer("u2", "add", ["e2b", "u2n"]),
        conv("d2", "u2", d),
        conv("u1p", "d2", b, False, "conv1"),
        layer("u1n", "upsample_nearest", "u1p"),
        layer("u1", "add", ["e1b", "u1n"]),
        conv("d1", "u1", b),
        conv("u0p", "d1", a, False, "conv1"),
        layer("u0n", "upsample_nearest", "u0p"),
        layer("u0", "add", ["e0", "u0n"]),
        conv("d0", "u0", a),
        conv("class", "d0", len(CLASSES), False, "conv1"),
        conv("piece4", "d0", 4, False, "conv1"),
        layer("piece", "pixel_shuffle", "piece4"),
        conv("inner4", "d0", 4, False, "conv1"),
        layer("inner", "pixel_shuffle", "inner4"),
    ]


def shaped(kind, v):
    """A layer that learns nothing."""
    if kind == "max_pool":
        return F.max_pool2d(v[0], 2)
    if kind == "space_to_depth":
        return F.pixel_unshuffle(v[0], 2)
    if kind == "pixel_shuffle":
        return F.pixel_shuffle(v[0], 2)
    if kind == "upsample_nearest":
        return F.interpolate(v[0], scale_factor=2, mode="nearest")
    if kind == "add":
        return sum(v)
    raise ValueError(f"unknown layer {kind}")


class Net(nn.Module):
    """Runs a list of layers. `forward` gives the named outputs."""

    def __init__(self, layers, outputs, inputs, norm=True):
        super().__init__()
        self.layers, self.outputs, self.inputs = layers, outputs, inputs
        self.w, self.n = nn.ModuleDict(), nn.ModuleDict()
        wide = {"rgb": inputs}
        for l in layers:
            k, cin = l["kind"], wide[l["from"][0]]
            cout = {"space_to_depth": cin * 4, "pixel_shuffle": cin // 4}.get(k, cin)
            if k in MACS:
                cout, side = l["out"], 1 if k == "conv1" else 3
                m = nn.Conv2d(cin, cout, side, padding=side // 2)
                nn.init.kaiming_normal_(m.weight, nonlinearity="relu")
                nn.init.zeros_(m.bias)
                # A norm follows each layer with ReLU while learning; projections have none.
                if norm and l["relu"]:
                    self.n[l["name"]] = nn.BatchNorm2d(cout, momentum=0.02)
                self.w[l["name"]] = m
            wide[l["name"]] = cout
        self.wide = wide

    def forward(self, x):
        return self.run(x, self.outputs)

    def run(self, x, names):
        """What the named layers give."""
        seen = {"rgb": x}
        for l in self.layers:
            y = self.learned(l, seen[l["from"][0]]) if l["kind"] in MACS else shaped(l["kind"], [seen[i] for i in l["from"]])
            seen[l["name"]] = torch.relu(y) if l["relu"] else y
        return {o: seen[o] for o in names}

    def learned(self, l, x):
        y = self.w[l["name"]](x)
        return self.n[l["name"]](y) if l["name"] in self.n else y

    @torch.no_grad()
    def fold(self):
        """The same network with its norms put into the weights in front of them."""
        out = Net(self.layers, self.outputs, self.inputs, norm=False)
        for name, m in self.w.items():
            w, b = m.weight.double(), m.bias.double()
            if name in self.n:
                n = self.n[name]
                g = n.weight.double() / torch.sqrt(n.running_var.double() + n.eps)
                w = w * g.reshape(-1, *[1] * (w.dim() - 1))
                b = (b - n.running_mean.double()) * g + n.bias.double()
            out.w[name].weight.copy_(w.float())
            out.w[name].bias.copy_(b.float())
        return out.eval()

    def macs(self):
        """Multiply-adds for one pixel of the input."""
        total, at = 0.0, {"rgb": 1.0}
        for l in self.layers:
            s = at[l["from"][0]]
            k = l["kind"]
            s = s / 4 if k in ("space_to_depth", "max_pool") else s * 4 if k in ("upsample_nearest", "pixel_shuffle") else s
            at[l["name"]] = s
            if k in MACS:
                total += s * MACS[k](self.wide[l["from"][0]], self.wide[l["name"]])
        return total


FINDER_OUT = ["piece", "inner", "class", "e3d"]


def finder(**k):
    return Net(finder_layers(**k), FINDER_OUT, 3)
