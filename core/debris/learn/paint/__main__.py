"""python -m paint OUT COUNT SEED [--kind patch|pan|magnet|negative] [--photos FOLDER...] [--jobs N]"""
import argparse
import json
import multiprocessing
import os
import sys
import time
import cv2
import numpy as np
from .picture import KINDS, draw


def one(job):
    out, seed, i, kind, folders, ppm, size = job
    cv2.setNumThreads(1)
    photos = None
    if folders:
        from .cutouts import Cutouts
        photos = Cutouts.of(tuple(folders))
    name = f'{seed}-{i:05d}'
    p = draw(np.random.default_rng([seed, i]), kind, ppm, size, photos)
    name = f'{p.kind}-{name}'
    cv2.imwrite(os.path.join(out, name + '.jpg'), p.rgb[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, 97])
    t = {'name': name, 'file': name + '.jpg', 'kind': p.kind, 'size_px': [p.rgb.shape[1], p.rgb.shape[0]], 'rendered': 'painted by core/debris/learn/paint; not a photograph',
         'coordinates': 'pixels, origin at the outer corner of the top left pixel', 'px_per_mm_centre': p.px_per_mm, 'ground': p.notes.get('ground'), 'particles': p.pieces}
    if 'magnet' in p.notes:
        t['magnet'] = p.notes['magnet']
    with open(os.path.join(out, 'truth', name + '.json'), 'w') as f:
        json.dump(t, f)


def main():
    a = argparse.ArgumentParser(prog='paint', description=__doc__)
    a.add_argument('out')
    a.add_argument('count', type=int)
    a.add_argument('seed', type=int)
    a.add_argument('--kind', choices=list(KINDS))
    a.add_argument('--photos', nargs='+', default=[], help='folders whose truth/ pieces may be cut out and pasted')
    a.add_argument('--jobs', type=int, default=os.cpu_count())
    a.add_argument('--px-per-mm', type=float)
    a.add_argument('--size', type=int, nargs=2, metavar=('H', 'W'))
    A = a.parse_args()
    os.makedirs(os.path.join(A.out, 'truth'), exist_ok=True)
    jobs = [(A.out, A.seed, i, A.kind, A.photos, A.px_per_mm, A.size) for i in range(A.count)]
    if A.photos:
        from .cutouts import Cutouts
        Cutouts.of(tuple(A.photos))                            # before the workers are forked
    t = time.time()
    if A.jobs <= 1:
        for j in jobs:
            one(j)
    else:
        with multiprocessing.Pool(A.jobs) as pool:
            for _ in pool.imap_unordered(one, jobs, chunksize=4):
                pass
    print(f'{A.count} pictures in {time.time() - t:.1f} s', file=sys.stderr)


if __name__ == '__main__':
    main()
