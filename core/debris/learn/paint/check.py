"""Checks of the painter, in some seconds: python -m paint.check [PHOTOS...]"""
import os
import sys
import tempfile
import cv2
import numpy as np
from skimage.draw import polygon
from . import pieces as pc, scene as sc
from .picture import KINDS, draw, how_many


def same_seed_same_picture():
    a, b, c = (draw(np.random.default_rng([7, i]), 'patch', 8, (160, 160)) for i in (0, 0, 1))
    assert np.array_equal(a.rgb, b.rgb) and a.pieces == b.pieces
    assert not np.array_equal(a.rgb, c.rgb)


def every_kind_can_be_drawn():
    """Small pictures, so that pieces crowd."""
    for i in range(40):
        p = draw(np.random.default_rng([6, i]), list(KINDS)[i % len(KINDS)], 8, (96, 110))
        assert p.rgb.shape == (96, 110, 3) and len(np.unique(p.rgb)) > 8


def outlines_lie_on_what_shows():
    """Polygon filled anew against the labels of what shows, pieces that nothing hides, through tilt and lens."""
    fits, shift = [], []
    for i in range(12):
        p = draw(np.random.default_rng([8, i]), 'patch', 12, (360, 360))
        assert p.rgb.dtype == np.uint8 and p.ids.shape == p.rgb.shape[:2]
        for q in p.pieces:
            poly = np.array(q['polygon_px'])
            inside = (poly > 2).all() and (poly < 358).all()
            if not inside or q['visible'] < .97 or q['visible_px'] < 60 or q['class'] == 'lint':
                continue
            m = np.zeros(p.ids.shape, bool)
            m[polygon(poly[:, 1] - .5, poly[:, 0] - .5, m.shape)] = True        # pixels whose middle lies inside
            k = p.ids == q['id']
            fits.append((m & k).sum() / (m | k).sum())
            shift.append(np.argwhere(m).mean(0) - np.argwhere(k).mean(0))
            assert abs(cv2.contourArea(poly.astype(np.float32)) / k.sum() - 1) < .3
    assert np.abs(np.mean(shift, 0)).max() < .1, np.mean(shift, 0)
    assert len(fits) > 20 and np.mean(fits) > .92 and min(fits) > .7, (len(fits), np.mean(fits), min(fits))


def lengths_are_those_of_the_outline():
    """Without tilt or lens the outline's greatest distance is the stated length; with them it is near it."""
    off = []
    for i in range(6):
        p = draw(np.random.default_rng([9, i]), 'pan', 12, (360, 360))
        for q in p.pieces:
            off.append(pc.longest(q['polygon_px']) / p.px_per_mm / q['feret_max_mm'] - 1)
    assert len(off) > 20 and np.abs(np.median(off)) < .02 and np.quantile(np.abs(off), .9) < .1, (len(off), np.median(off), np.quantile(np.abs(off), .9))


def asked_lengths_are_drawn():
    rng = np.random.default_rng(10)
    for cls in pc.CLASSES:
        ratio = []
        for length in (.4, 1, 3):
            for _ in range(4):
                s = sc.Scene(rng, 120, 120, 15)
                s.begin_pieces()
                t = pc.put(s, cls, length, 60.3, 59.6, 0)
                ratio.append(t['feret'] / length)
        assert .8 < np.median(ratio) < 1.25, (cls, ratio)


def a_share_is_clean():
    rng = np.random.default_rng(11)
    w = np.array(list(KINDS.values())) / sum(KINDS.values())
    n = [how_many(rng, 3600, k) for k in rng.choice(list(KINDS), 4000, p=w)]
    assert np.mean(np.array(n) == 0) >= .25, np.mean(np.array(n) == 0)
    assert all(not draw(np.random.default_rng([12, i]), 'negative', 8, (120, 120)).pieces for i in range(3))


def files_have_the_form_of_the_photos_truth():
    import json
    from .__main__ import one
    with tempfile.TemporaryDirectory() as d:
        os.makedirs(os.path.join(d, 'truth'))
        for i, kind in enumerate(('patch', 'pan', 'magnet')):
            one((d, 13, i, kind, [], 10.0, (200, 240)))
        for name in os.listdir(os.path.join(d, 'truth')):
            with open(os.path.join(d, 'truth', name)) as f:
                t = json.load(f)
            im = cv2.imread(os.path.join(d, t['file']))
            assert [im.shape[1], im.shape[0]] == t['size_px'] == [240, 200]
            for q in t['particles']:
                assert q['class'] in pc.CLASSES and len(q['polygon_px']) >= 3 and .1 < q['feret_max_mm'] < 16 and 0 <= q['visible'] <= 1
                assert {'id', 'class', 'ferrous', 'x_px', 'y_px', 'visible_px'} <= set(q)
            assert (t['kind'] == 'magnet') == ('magnet' in t)


def only_the_named_folders_are_cut(folder):
    from .cutouts import Cutouts
    all_of = Cutouts((folder,))
    assert sum(map(len, all_of.by_class.values())) > 20
    assert not Cutouts(()).by_class
    a = draw(np.random.default_rng([14, 3]), 'patch', 10, (300, 300), all_of)
    b = draw(np.random.default_rng([14, 3]), 'patch', 10, (300, 300), all_of)
    assert np.array_equal(a.rgb, b.rgb)


CHECKS = [every_kind_can_be_drawn, same_seed_same_picture, outlines_lie_on_what_shows, lengths_are_those_of_the_outline, asked_lengths_are_drawn, a_share_is_clean, files_have_the_form_of_the_photos_truth]


def main():
    cv2.setNumThreads(1)
    for c in CHECKS:
        c()
        print('ok', c.__name__)
    for f in sys.argv[1:]:
        only_the_named_folders_are_cut(f)
        print('ok', only_the_named_folders_are_cut.__name__, f)


if __name__ == '__main__':
    main()
