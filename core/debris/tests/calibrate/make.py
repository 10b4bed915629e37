"""What a reading said of the pieces of a painter that it never met, beside what they are.

`make.py LINES.jsonl TRUTH_FOLDER OUT.json`: lines of `census_lines --finder MODEL --proposals TREES`, models and trees that
never met the painter; the truth as the painter wrote it. Needs numpy and SciPy. Pieces are paired with the truth one to one,
the nearest first, within half their length or 0.3 mm; what lies on a piece that is hidden or hardly seen is left out.
"""

import json
import pathlib
import sys

import numpy
from scipy.optimize import linear_sum_assignment

lines, truths, out = map(pathlib.Path, sys.argv[1:])
photos = []
for line in lines.read_text().splitlines():
    census = json.loads(line)
    pieces = census["particles"]
    if census["problem"] or not pieces:
        continue
    truth = json.loads((truths / census["file"]).with_suffix(".json").read_text())
    real = truth["particles"]
    found = [None] * len(pieces)
    if real:
        at = lambda some: numpy.array([[piece["x_px"], piece["y_px"]] for piece in some])
        apart = numpy.linalg.norm(at(pieces)[:, None] - at(real)[None], axis=2) / truth["px_per_mm_centre"]
        reach = numpy.array([max(0.5 * piece["feret_max_mm"], 0.3) for piece in real])
        cost = numpy.where(apart <= reach, apart, 1e4)
        for own, other in zip(*linear_sum_assignment(cost)):
            if cost[own, other] < 1e4:
                found[own] = real[other]
    told = []
    for piece, one in zip(pieces, found):
        if one and (one["visible"] < 0.5 or one["visible_px"] < 12):
            continue
        p = {name: round(value, 4) for name, value in piece["p"].items()}
        told.append({"p": p, "is": one["class"] if one else None})
    photos.append(told)
text = ",\n".join(json.dumps(photo, separators=(",", ":")) for photo in photos)
out.write_text(f"[{text}]\n")
