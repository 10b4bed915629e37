"""Writes a learned finder as the model file that the program reads. usage: ship.py IN.pt OUT.net "from what, when" """

import sys

import torch

import export
import net

# Shares of certainty; not yet chosen on painters left out.
LEVELS = dict(piece=0.5, peak=0.7, inner=0.5)


def main(source, out, learned):
    kept = torch.load(source, map_location="cpu")
    n = net.finder(**({"c": kept["widths"]} if kept["widths"] else {}))
    n.load_state_dict(kept["state"])
    n = export.halved(n.eval().fold())
    export.write(out, n, dict(name="finder", learned=learned, px_per_mm=net.FINDER_PX_PER_MM, px_per_mm_pan=6.0, labels=net.CLASSES, thresholds=LEVELS))


if __name__ == "__main__":
    main(*sys.argv[1:])
