"""The mean of networks of one shape that learned one after the other, each from where the one before stopped.

usage: mean.py OUT.pt IN.pt IN.pt ...

Weights and the norms' statistics are averaged. What OUT leaves out is what all of them leave out. Networks that
did not grow out of one another have nothing that a mean could keep.
"""

import sys

import torch


def mean(kept):
    last = kept[-1]
    if len({tuple(k["widths"]) for k in kept}) > 1:
        raise SystemExit("they are not of one shape")
    if len({k["without"] for k in kept}) > 1:
        raise SystemExit("they leave out different painters")
    state = {n: sum(k["state"][n] for k in kept) / len(kept) if v.dtype.is_floating_point else v for n, v in last["state"].items()}
    return {**last, "state": state}


def main():
    out, *sources = sys.argv[1:]
    torch.save(mean([torch.load(s, map_location="cpu") for s in sources]), out)


if __name__ == "__main__":
    main()
