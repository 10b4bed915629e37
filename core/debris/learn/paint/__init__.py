"""Paints pictures of debris with exact truth, to learn from: grounds, pieces, distractors and phones far wider than real ones.

    from paint import crop, draw
    rgb, pieces = crop(numpy.random.default_rng(seed), px_per_mm=8, size_px=(512, 512))
"""
from .picture import KINDS, Picture, draw


def crop(rng, px_per_mm=8.0, size_px=(512, 512), kind=None, photos=None):
    """(rgb uint8 (h, w, 3), pieces as in the photos' truth). The same generator state gives the same picture."""
    p = draw(rng, kind, px_per_mm, size_px, photos)
    return p.rgb, p.pieces
