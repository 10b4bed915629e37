"""The same network for photos seen at another scale.

usage: rescale.py IN.net OUT.net --store FOLDER [--px-per-mm P] [--pan P]

A network learns from pieces drawn at 0.72 to 1.25 of their size, so it may look at photos somewhat larger than those.
What is usual (see `ship.py`) is worked out anew, since features hang on the scale. Weights stay as they are.
"""

import argparse

import torch

import export
import net
import ship


def floats(whole):
    """The network that the whole numbers stand for. Of layers within it no unit is kept, and any does."""
    n, unit = net.Net(whole.layers, whole.outputs, 3, norm=False), {"rgb": whole.unit["rgb"]}
    for l in whole.layers:
        source = unit[l["from"][0]]
        if l["kind"] not in net.MACS:
            unit[l["name"]] = source
            continue
        unit[l["name"]] = whole.unit.get(l["name"], 1.0)
        w, b, shift = (torch.from_numpy(v.astype("f8")) for v in whole.learned[l["name"]])
        scale = unit[l["name"]] / 2.0**shift
        n.w[l["name"]].weight.copy_((w * scale.reshape(-1, 1, 1, 1) / source).float())
        n.w[l["name"]].bias.copy_((b * scale).float())
    return n.eval()


@torch.no_grad()
def main():
    ap = argparse.ArgumentParser()
    ap.add_argument("source")
    ap.add_argument("out")
    ap.add_argument("--store", required=True)
    ap.add_argument("--px-per-mm", type=float)
    ap.add_argument("--pan", type=float)
    A = ap.parse_args()
    torch.set_num_threads(1)
    head, whole = export.read(A.source)
    scale, pan = A.px_per_mm or head["px_per_mm"], A.pan or head["px_per_mm_pan"]
    net.FINDER_PX_PER_MM = scale
    usual = ship.of_all(floats(whole), ["first", "second", "third", "own"], A.store, pan)
    head.update(px_per_mm=scale, px_per_mm_pan=pan, novelty=ship.novelty(usual))
    print(A.out, len(usual), "photos say what is usual; d at 50, 90, 99 %:", [head["novelty"]["quantiles"][i] for i in (50, 90, 99)])
    rest = {k: head[k] for k in ("name", "learned", "px_per_mm", "px_per_mm_pan", "labels", "thresholds", "novelty") if k in head}
    export.write(A.out, whole, rest)


if __name__ == "__main__":
    main()
