"""Draws faces to learn from: `python draw.py FACES_DIR OUT --count 100000 --seed 1`.

Each worker has its own seed, so that the same call draws the same faces."""
import argparse
import json
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import cv2
import numpy as np

from paint.faces import Kit
from paint.meter import HIGH, WIDE, draw

PART = 1000


def part(job):
    folder, out, seed, index, held = job
    cv2.setNumThreads(1)
    kit = Kit(folder)
    rng = np.random.default_rng([seed, index])
    greys = np.zeros((PART, HIGH, WIDE), np.uint8)
    notes = []
    for n in range(PART):
        face = draw(rng, kit, held)
        greys[n] = np.round(face.grey * 255)
        notes.append({'text': face.text, 'row': face.row and [int(v) for v in face.row], 'signs': [[int(a), int(b)] for _, a, b in face.signs],
                      'unit': face.unit, 'unit_at': face.unit_at and [int(v) for v in face.unit_at]})
    np.save(Path(out) / f'{index:04}.npy', greys)
    return notes


def main():
    ask = argparse.ArgumentParser()
    ask.add_argument('faces')
    ask.add_argument('out')
    ask.add_argument('--count', type=int, default=100_000)
    ask.add_argument('--seed', type=int, default=1)
    ask.add_argument('--workers', type=int, default=16)
    ask = ask.parse_args()
    Path(ask.out).mkdir(parents=True, exist_ok=True)
    jobs = [(ask.faces, ask.out, ask.seed, n, False) for n in range(ask.count // PART)]
    with ProcessPoolExecutor(ask.workers) as pool:
        notes = [note for some in pool.map(part, jobs) for note in some]
    (Path(ask.out) / 'notes.json').write_text(json.dumps(notes))


if __name__ == '__main__':
    main()
