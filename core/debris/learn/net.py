"""The two networks of the census, as plain layer graphs.

A network is a list of layers; each names its inputs. The same list is what `export.py` writes
and what the engine in Rust runs, so nothing here may use what the list can't say. Batch norm
exists while learning only: `fold` puts it into the weights in front of it.
"""

import torch
from torch import nn
from torch.nn import functional as F

CLASSES = ["steel_flake", "steel_sliver", "yellow_metal", "light_metal", "lining", "plastic", "elastomer", "grit", "lint"]
FINDER_PX_PER_MM = 8.0
LOOKER_PX = 64
# Both networks see (srgb / 255 - MIDDLE) / SPREAD.
MIDDLE, SPREAD = 0.45, 0.25


MACS = {"conv3": lambda i, o: 9 * i * o, "depthwise3": lambda i, o: 9 * i, "conv1": lambda i, o: i * o, "linear": lambda i, o: i * o}


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


def looker_layers():
    """Reads a window of 64 x 64 px around one piece: rgb, the finder's probability of this piece, ln(px per mm / 16)."""
    return [
        conv("a0", "rgb", 8),
        layer("p1", "max_pool", "a0"),
        conv("a1a", "p1", 24),
        conv("a1b", "a1a", 24),
        layer("p2", "max_pool", "a1b"),
        conv("a2a", "p2", 48),
        conv("a2b", "a2a", 48),
        layer("p3", "max_pool", "a2b"),
        conv("a3a", "p3", 64),
        conv("a3b", "a3a", 64),
        layer("p4", "max_pool", "a3b"),
        conv("a4", "p4", 96),
        layer("g", "global_mean", "a4"),
        conv("f1", "g", 64, True, "linear"),
        conv("class", "f1", len(CLASSES) + 1, False, "linear"),
        conv("length", "f1", 2, False, "linear"),
        conv("u2p", "a3b", 48, False, "conv1"),
        layer("u2n", "upsample_nearest", "u2p"),
        layer("u2", "add", ["a2b", "u2n"]),
        conv("d2", "u2", 24),
        layer("u1n", "upsample_nearest", "d2"),
        layer("u1", "add", ["a1b", "u1n"]),
        conv("d1", "u1", 24),
        conv("u0p", "d1", 8, False, "conv1"),
        layer("u0n", "upsample_nearest", "u0p"),
        layer("u0", "add", ["a0", "u0n"]),
        conv("d0", "u0", 8),
        conv("border", "d0", 1, False, "conv1"),
    ]


class Net(nn.Module):
    """Runs a list of layers. `forward` gives the named outputs."""

    def __init__(self, layers, outputs, inputs, norm=True):
        super().__init__()
        self.layers, self.outputs, self.inputs = layers, outputs, inputs
        self.w, self.n = nn.ModuleDict(), nn.ModuleDict()
        wide = {"rgb": inputs}
        for l in layers:
            k, cin = l["kind"], wide[l["from"][0]]
            cout = {"space_to_depth": cin * 4, "pixel_shuffle": cin // 4, "concat": sum(wide[f] for f in l["from"])}.get(k, cin)
            if k in MACS:
                cout = cin if k == "depthwise3" else l["out"]
                if k == "linear":
                    m = nn.Linear(cin, cout)
                else:
                    side = 1 if k == "conv1" else 3
                    m = nn.Conv2d(cin, cout, side, padding=side // 2, groups=cin if k == "depthwise3" else 1)
                nn.init.kaiming_normal_(m.weight, nonlinearity="relu")
                nn.init.zeros_(m.bias)
                # A norm follows each layer with ReLU while learning; projections have none.
                if norm and l["relu"] and k != "linear":
                    self.n[l["name"]] = nn.BatchNorm2d(cout, momentum=0.02)
                self.w[l["name"]] = m
            wide[l["name"]] = cout
        self.wide = wide

    def forward(self, x):
        seen = {"rgb": x}
        for l in self.layers:
            v, k = [seen[i] for i in l["from"]], l["kind"]
            if k in MACS:
                y = self.w[l["name"]](v[0])
                if l["name"] in self.n:
                    y = self.n[l["name"]](y)
            elif k == "max_pool":
                y = F.max_pool2d(v[0], 2)
            elif k == "mean_pool":
                y = F.avg_pool2d(v[0], 2)
            elif k == "space_to_depth":
                y = F.pixel_unshuffle(v[0], 2)
            elif k == "pixel_shuffle":
                y = F.pixel_shuffle(v[0], 2)
            elif k == "upsample_nearest":
                y = F.interpolate(v[0], scale_factor=2, mode="nearest")
            elif k == "upsample_bilinear":
                y = F.interpolate(v[0], scale_factor=2, mode="bilinear", align_corners=False)
            elif k == "add":
                y = sum(v)
            elif k == "subtract":
                y = v[0] - v[1]
            elif k == "concat":
                y = torch.cat(v, 1)
            elif k == "global_mean":
                y = v[0].mean((2, 3))
            else:
                raise ValueError(f"unknown layer {k}")
            seen[l["name"]] = torch.relu(y) if l["relu"] else y
        return {o: seen[o] for o in self.outputs}

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
            s = s / 4 if k in ("space_to_depth", "max_pool", "mean_pool") else s * 4 if k in ("upsample_nearest", "upsample_bilinear", "pixel_shuffle") else s
            at[l["name"]] = s
            if k in MACS and k != "linear":
                total += s * MACS[k](self.wide[l["from"][0]], self.wide[l["name"]])
        return total


FINDER_OUT = ["piece", "inner", "class", "e3d"]
LOOKER_OUT = ["border", "class", "length"]


def finder(**k):
    return Net(finder_layers(**k), FINDER_OUT, 3)


def looker():
    return Net(looker_layers(), LOOKER_OUT, 5)
