"""The two networks of the census, as plain layer graphs.

A network is a list of layers; each names its inputs. The same list is what `export.py` writes
and what the engine in Rust runs, so nothing here may use what the list can't say. Batch norm
exists while learning only: `fold` puts it into the weights in front of it.
"""

import math

import torch
from torch import nn

CLASSES = ["steel_flake", "steel_sliver", "yellow_metal", "light_metal", "lining", "plastic", "elastomer", "grit", "lint"]
FINDER_PX_PER_MM = 8.0
LOOKER_PX = 64
# Both networks see (srgb / 255 - MIDDLE) / SPREAD.
MIDDLE, SPREAD = 0.45, 0.25


def layer(name, kind, inputs, cin, cout, relu=True):
    """One layer. kind: conv3 (3 x 3, zeros around), dw3 (the same, each channel alone), conv1, max2, mean2,
    s2d2, d2s2, add_up2 (first + second doubled by nearest), mean (over the whole picture), fc."""
    return dict(name=name, kind=kind, inputs=inputs, cin=cin, cout=cout, relu=relu)


def finder_layers(c=(16, 32, 48, 64), head=32):
    a, b, d, e = c
    L = layer
    return [
        L("s2d", "s2d2", ["in"], 3, 12, False),
        L("e0a", "conv3", ["s2d"], 12, a),
        L("e0d", "dw3", ["e0a"], a, a, False),
        L("e0b", "conv1", ["e0d"], a, a),
        L("p1", "max2", ["e0b"], a, a, False),
        L("e1a", "conv3", ["p1"], a, b),
        L("e1b", "conv3", ["e1a"], b, b),
        L("p2", "max2", ["e1b"], b, b, False),
        L("e2a", "conv3", ["p2"], b, d),
        L("e2b", "conv3", ["e2a"], d, d),
        L("p3", "max2", ["e2b"], d, d, False),
        L("e3a", "conv3", ["p3"], d, e),
        L("e3b", "conv3", ["e3a"], e, e),
        L("e3c", "conv3", ["e3b"], e, e),
        L("e3d", "conv3", ["e3c"], e, e),
        L("u2p", "conv1", ["e3d"], e, d, False),
        L("u2", "add_up2", ["e2b", "u2p"], d, d, False),
        L("d2", "conv3", ["u2"], d, d),
        L("u1p", "conv1", ["d2"], d, b, False),
        L("u1", "add_up2", ["e1b", "u1p"], b, b, False),
        L("d1", "conv3", ["u1"], b, b),
        L("u0p", "conv1", ["d1"], b, a, False),
        L("u0", "add_up2", ["e0b", "u0p"], a, a, False),
        L("d0d", "dw3", ["u0"], a, a, False),
        L("d0", "conv1", ["d0d"], a, head),
        L("fine", "conv1", ["d0"], head, 8, False),
        L("class", "conv1", ["d0"], head, len(CLASSES), False),
        L("masks", "d2s2", ["fine"], 8, 2, False),
    ]


def looker_layers():
    L = layer
    return [
        L("a0", "conv3", ["in"], 5, 8),
        L("p1", "max2", ["a0"], 8, 8, False),
        L("a1a", "conv3", ["p1"], 8, 24),
        L("a1b", "conv3", ["a1a"], 24, 24),
        L("p2", "max2", ["a1b"], 24, 24, False),
        L("a2a", "conv3", ["p2"], 24, 48),
        L("a2b", "conv3", ["a2a"], 48, 48),
        L("p3", "max2", ["a2b"], 48, 48, False),
        L("a3a", "conv3", ["p3"], 48, 64),
        L("a3b", "conv3", ["a3a"], 64, 64),
        L("p4", "max2", ["a3b"], 64, 64, False),
        L("a4", "conv3", ["p4"], 64, 96),
        L("g", "mean", ["a4"], 96, 96, False),
        L("f1", "fc", ["g"], 96, 64),
        L("told", "fc", ["f1"], 64, len(CLASSES) + 1 + 2, False),
        L("u2p", "conv1", ["a3b"], 64, 48, False),
        L("u2", "add_up2", ["a2b", "u2p"], 48, 48, False),
        L("d2", "conv3", ["u2"], 48, 24),
        L("u1", "add_up2", ["a1b", "d2"], 24, 24, False),
        L("d1", "conv3", ["u1"], 24, 24),
        L("u0p", "conv1", ["d1"], 24, 8, False),
        L("u0", "add_up2", ["a0", "u0p"], 8, 8, False),
        L("d0", "conv3", ["u0"], 8, 8),
        L("border", "conv1", ["d0"], 8, 1, False),
    ]


WEIGHED = ("conv3", "dw3", "conv1", "fc")


class Net(nn.Module):
    """Runs a list of layers. `forward` gives the named outputs."""

    def __init__(self, layers, outputs, norm=True):
        super().__init__()
        self.layers, self.outputs = layers, outputs
        self.w, self.n = nn.ModuleDict(), nn.ModuleDict()
        for l in layers:
            if l["kind"] not in WEIGHED:
                continue
            if l["kind"] == "fc":
                m = nn.Linear(l["cin"], l["cout"])
            else:
                k = 1 if l["kind"] == "conv1" else 3
                groups = l["cin"] if l["kind"] == "dw3" else 1
                # A norm follows each layer with ReLU and takes the place of its bias; projections keep theirs.
                m = nn.Conv2d(l["cin"], l["cout"], k, padding=k // 2, groups=groups, bias=True)
                nn.init.kaiming_normal_(m.weight, nonlinearity="relu")
                nn.init.zeros_(m.bias)
                if norm and l["relu"]:
                    self.n[l["name"]] = nn.BatchNorm2d(l["cout"], momentum=0.02)
            self.w[l["name"]] = m

    def forward(self, x):
        seen = {"in": x}
        for l in self.layers:
            v = [seen[i] for i in l["inputs"]]
            k = l["kind"]
            if k in WEIGHED:
                y = self.w[l["name"]](v[0])
                if l["name"] in self.n:
                    y = self.n[l["name"]](y)
            elif k == "max2":
                y = nn.functional.max_pool2d(v[0], 2)
            elif k == "mean2":
                y = nn.functional.avg_pool2d(v[0], 2)
            elif k == "s2d2":
                y = nn.functional.pixel_unshuffle(v[0], 2)
            elif k == "d2s2":
                y = nn.functional.pixel_shuffle(v[0], 2)
            elif k == "add_up2":
                y = v[0] + nn.functional.interpolate(v[1], scale_factor=2, mode="nearest")
            elif k == "mean":
                y = v[0].mean((2, 3))
            else:
                raise ValueError(f"unknown layer {k}")
            seen[l["name"]] = torch.relu(y) if l["relu"] else y
        return {o: seen[o] for o in self.outputs}

    @torch.no_grad()
    def fold(self):
        """The same network with its norms put into the weights in front of them."""
        out = Net(self.layers, self.outputs, norm=False)
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
        """Multiply-adds for one position of the first layer's output."""
        total, at = 0.0, {"in": 1.0}
        for l in self.layers:
            s = at[l["inputs"][0]]
            s = {"s2d2": s / 4, "max2": s / 4, "mean2": s / 4, "d2s2": s * 4}.get(l["kind"], s)
            at[l["name"]] = s
            total += s * {"conv3": 9 * l["cin"] * l["cout"], "dw3": 9 * l["cin"], "conv1": l["cin"] * l["cout"]}.get(l["kind"], 0)
        return total / at[self.layers[0]["name"]]


FINDER_OUT = ["masks", "class", "e3d"]
LOOKER_OUT = ["border", "told"]


def finder(**k):
    return Net(finder_layers(**k), FINDER_OUT)


def looker():
    return Net(looker_layers(), LOOKER_OUT)
