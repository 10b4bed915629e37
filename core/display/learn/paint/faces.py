"""Faces of displays: own segments, the DSEG faces, and dots. A face sets a text as ink, with the place of each sign.

`Row.ink` is 1 where something is lit, `Row.all` where a segment is at all (its ghost); both have the cell's height.
A sign's place is the extent of its ink from left to right. `~` stands for a blank cell."""
from dataclasses import dataclass, field
from pathlib import Path

import cv2
import numpy as np
from PIL import Image, ImageDraw, ImageFont

SHIFT = 4
SEGMENTS = {
    '0': 'abcdef', '1': 'bc', '2': 'abged', '3': 'abgcd', '4': 'fgbc', '5': 'afgcd', '6': 'afgedc', '7': 'abc',
    '8': 'abcdefg', '9': 'abcdfg', '-': 'g', 'L': 'def', 'A': 'abcefg', 'b': 'cdefg', 'C': 'adef', 'c': 'deg',
    'd': 'bcdeg', 'E': 'adefg', 'F': 'aefg', 'H': 'bcefg', 'h': 'cefg', 'n': 'ceg', 'o': 'cdeg', 'P': 'abefg',
    'r': 'eg', 't': 'defg', 'u': 'cde', 'U': 'bcdef', 'S': 'afgcd', 'y': 'bcdfg', 'J': 'bcde', 'q': 'abcfg', '~': '',
}
DIGITS = {frozenset(SEGMENTS[s]) for s in '0123456789'} | {frozenset('fgedc'), frozenset('abfgc'), frozenset('abcf')}
# Columns of five dots, seven high, a hexadecimal row each: of our own drawing.
DOTS = {
    '0': '0E 11 11 11 11 11 0E', '1': '04 0C 04 04 04 04 0E', '2': '0E 11 01 02 04 08 1F', '3': '1F 02 04 02 01 11 0E',
    '4': '02 06 0A 12 1F 02 02', '5': '1F 10 1E 01 01 11 0E', '6': '06 08 10 1E 11 11 0E', '7': '1F 01 02 04 08 08 08',
    '8': '0E 11 11 0E 11 11 0E', '9': '0E 11 11 0F 01 02 0C', '-': '00 00 00 1F 00 00 00', '.': '00 00 00 00 00 0C 0C',
    'O': '0E 11 11 11 11 11 0E', 'L': '10 10 10 10 10 10 1F', 'k': '10 10 12 14 18 14 12', 'M': '11 1B 15 15 11 11 11',
    'm': '00 00 1A 15 15 11 11', 'V': '11 11 11 11 11 0A 04', 'A': '0E 11 11 11 1F 11 11', 'Ω': '0E 11 11 11 11 0A 1B',
    'µ': '00 00 11 11 13 1D 10', 'H': '11 11 11 1F 11 11 11', 'z': '00 00 1F 02 04 08 1F', 'F': '1F 10 10 1E 10 10 10',
    'n': '00 00 16 19 11 11 11', '%': '18 19 02 04 08 13 03', '°': '0C 12 12 0C 00 00 00', 'C': '0E 11 10 10 10 11 0E',
    'D': '1C 12 11 11 11 12 1C', 'o': '00 00 0E 11 11 11 0E', 'h': '10 10 16 19 11 11 11', 'E': '1F 10 10 1E 10 10 1F',
    'R': '1E 11 11 1E 14 12 11', 'S': '0F 10 10 0E 01 01 1E', 'T': '1F 04 04 04 04 04 04', 'U': '11 11 11 11 11 11 0E',
    ' ': '00 00 00 00 00 00 00', 'r': '00 00 16 19 10 10 10', 'd': '01 01 0D 13 11 11 0F', '~': '00 00 00 00 00 00 00',
}
# A second drawing of those that are drawn in more than one way; the held-back set has it.
DOTS_OTHER = {
    '0': '0E 11 13 15 19 11 0E', '1': '0C 14 04 04 04 04 1F', '2': '1E 01 01 0E 10 10 1F', '3': '1E 01 01 0E 01 01 1E',
    '4': '11 11 11 1F 01 01 01', '6': '0E 10 10 1E 11 11 0E', '7': '1F 01 01 02 02 04 04', '9': '0E 11 11 0F 01 01 0E',
    '.': '00 00 00 00 00 00 08',
}


@dataclass
class Row:
    ink: np.ndarray
    all: np.ndarray
    signs: list = field(default_factory=list)  # (sign, left, right), px


def _extent(ink):
    at = np.flatnonzero(ink.max(axis=0) > 0.3)
    return (int(at[0]), int(at[-1]) + 1) if len(at) else None


def _poly(ink, points):
    cv2.fillPoly(ink, [np.round(np.asarray(points) * (1 << SHIFT)).astype(np.int32)], 255, cv2.LINE_AA, SHIFT)


class Segments:
    """Seven segments by proportions. `held` draws kinds of ends that nothing learns from."""

    def __init__(self, rng, held=False):
        self.kind = rng.choice(['round', 'slab'] if held else ['point', 'mitre', 'square'])
        self.wide = rng.uniform(0.46, 0.66)
        self.thick = rng.uniform(0.07, 0.17)
        self.upright = self.thick * (rng.uniform(0.65, 1.5) if self.kind == 'slab' else rng.uniform(0.85, 1.15))
        self.gap = rng.uniform(0.004, 0.035)
        self.pitch = self.wide + rng.uniform(0.13, 0.34)
        self.slant = rng.choice([0, rng.uniform(0.03, 0.2)])
        self.dot = rng.uniform(0.8, 1.5) * self.thick
        self.round_dot = rng.random() < 0.5
        self.tails = (rng.random() < 0.9, rng.random() < 0.9)
        self.seven = rng.random() < 0.12
        self.own_minus = rng.random() < 0.5
        self.dot_in_all = rng.random() < 0.7

    def _segments(self):
        w, t, u, g = self.wide, self.thick, self.upright, self.gap
        y = {'a': t / 2, 'g': 0.5, 'd': 1 - t / 2}
        out = {}
        for name in 'agd':
            out[name] = self._bar((u / 2 + g, y[name]), (w - u / 2 - g, y[name]), t, name)
        for name, x, top, end in (('f', u / 2, 'a', 'g'), ('b', w - u / 2, 'a', 'g'), ('e', u / 2, 'g', 'd'), ('c', w - u / 2, 'g', 'd')):
            out[name] = self._bar((x, y[top] + g), (x, y[end] - g), u, name)
        return out

    def _bar(self, a, b, t, name):
        (x0, y0), (x1, y1), h = a, b, t / 2
        flat = name in 'agd'
        if self.kind == 'point':
            if flat:
                return [(x0, y0), (x0 + h, y0 - h), (x1 - h, y0 - h), (x1, y0), (x1 - h, y0 + h), (x0 + h, y0 + h)]
            return [(x0, y0), (x0 + h, y0 + h), (x0 + h, y1 - h), (x0, y1), (x0 - h, y1 - h), (x0 - h, y0 + h)]
        if self.kind == 'square':
            if flat:
                return [(x0 + h, y0 - h), (x1 - h, y0 - h), (x1 - h, y0 + h), (x0 + h, y0 + h)]
            return [(x0 - h, y0 + h), (x0 + h, y0 + h), (x0 + h, y1 - h), (x0 - h, y1 - h)]
        if self.kind == 'round':
            turn = np.linspace(-np.pi / 2, np.pi / 2, 7)
            if flat:
                return [(x1 - h + h * np.cos(v), y0 + h * np.sin(v)) for v in turn] + [(x0 + h - h * np.cos(v), y0 - h * np.sin(v)) for v in turn]
            return [(x0 + h * np.sin(-v), y0 + h - h * np.cos(v)) for v in turn] + [(x0 + h * np.sin(v), y1 - h + h * np.cos(v)) for v in turn]
        # Mitred outwards, as most glass is: the outer side is the long one; the middle one is pointed.
        if name == 'g':
            return [(x0, y0), (x0 + h, y0 - h), (x1 - h, y0 - h), (x1, y0), (x1 - h, y0 + h), (x0 + h, y0 + h)]
        if flat:
            out = -h if name == 'a' else h
            return [(x0 - h, y0 + out), (x1 + h, y0 + out), (x1 - h, y0 - out), (x0 + h, y0 - out)]
        out = -h if name in 'fe' else h
        top, end = (-h, 0) if name in 'fb' else (0, h)
        return [(x0 + out, y0 + top), (x0 + out, y1 + end), (x0 - out, y1 - (h if name in 'ec' else h)), (x0 - out, y0 + h)]

    def lit(self, sign):
        segments = set(SEGMENTS[sign])
        if sign == '6' and not self.tails[0]:
            segments -= {'a'}
        if sign == '9' and not self.tails[1]:
            segments -= {'d'}
        if sign == '7' and self.seven:
            segments |= {'f'}
        return segments

    def row(self, text, height, rng, odd=None):
        """`odd` is a place whose segments are drawn at random, as a digit that is just changing."""
        h = height
        cells = [s for s in text if s not in '.:']
        lead = 0.0
        minus_first = cells and cells[0] == '-' and self.own_minus
        width = int(h * (self.pitch * (len(cells) + 1) + self.slant + 0.3)) + 4
        ink, all_, signs = np.zeros((h, width), np.uint8), np.zeros((h, width), np.uint8), []
        shapes = self._segments()
        lean = lambda points, at: [((x + at + self.slant * (1 - y)) * h, y * h) for x, y in points]
        at, place = lead + 0.06, -1
        for sign in text:
            one = np.zeros_like(ink)
            if sign in '.:':
                x, r = at - (self.pitch - self.wide) / 2, self.dot / 2
                spots = [(x, 1 - r)] if sign == '.' else [(x, 0.33), (x, 0.67)]
                for cx, cy in spots:
                    if self.round_dot:
                        turn = np.linspace(0, 2 * np.pi, 13)[:-1]
                        _poly(one, lean([(cx + r * np.cos(v), cy + r * np.sin(v)) for v in turn], 0))
                    else:
                        _poly(one, lean([(cx - r, cy - r), (cx + r, cy - r), (cx + r, cy + r), (cx - r, cy + r)], 0))
                all_ = np.maximum(all_, one)
            else:
                place += 1
                if sign == '-' and place == 0 and minus_first:
                    w = self.wide * rng.uniform(0.45, 0.8)
                    t = self.thick / 2
                    _poly(one, lean([(0, 0.5 - t), (w, 0.5 - t), (w, 0.5 + t), (0, 0.5 + t)], at))
                    all_ = np.maximum(all_, one)
                    at += w + rng.uniform(0.06, 0.3)
                else:
                    lit = self.lit(sign)
                    if odd == place:
                        lit = {s for s in 'abcdefg' if rng.random() < 0.6}
                        while frozenset(lit) in DIGITS or not lit or lit == {'g'} or lit == set('def'):
                            lit = {s for s in 'abcdefg' if rng.random() < 0.6}
                    for name, points in shapes.items():
                        shape = lean(points, at)
                        _poly(all_, shape)
                        if name in lit:
                            _poly(one, shape)
                    if self.dot_in_all:
                        x, r = at + self.pitch - (self.pitch - self.wide) / 2, self.dot / 2
                        _poly(all_, lean([(x - r, 1 - 2 * r), (x + r, 1 - 2 * r), (x + r, 1), (x - r, 1)], 0))
                    at += self.pitch
            ink = np.maximum(ink, one)
            extent = _extent(one / 255.0)
            if extent:
                signs.append(('?' if odd == place and sign != '.' else sign, *extent))
        return Row(ink / 255.0, all_ / 255.0, signs)


class Typeface:
    """A face of DSEG (`eights` are its ghosts), or any other with letters."""
    cache = {}

    def __init__(self, file, squeeze=1.0, eights=True, spread=0.0):
        self.file, self.squeeze, self.eights, self.spread = str(file), squeeze, eights, spread

    def font(self, px):
        key = self.file, px
        if key not in Typeface.cache:
            if len(Typeface.cache) > 400:
                Typeface.cache.clear()
            Typeface.cache[key] = ImageFont.truetype(self.file, px)
        return Typeface.cache[key]

    def text(self, text, height):
        """The ink of a word, cut to its own extent, with capitals some `height` px high."""
        font = self.font(max(6, int(height * 1.38)))
        left, top, right, bottom = font.getbbox(text)
        picture = Image.new('L', (max(1, right - left), max(1, bottom - top)))
        ImageDraw.Draw(picture).text((-left, -top), text, fill=255, font=font)
        w = max(2, round(picture.width * self.squeeze))
        return np.asarray(picture.resize((w, picture.height)), np.float32) / 255

    def row(self, text, height, rng, odd=None):
        font = self.font(height)
        top = font.getbbox('8')[1]
        bottom = font.getbbox('8')[3]
        scale = height / max(1, bottom - top)
        font = self.font(max(6, round(height * scale)))
        box = font.getbbox('8')
        one_of = lambda s: '!' if s == '~' else ('0' if s == 'O' and self.eights else s)
        width = int(font.getlength(''.join(one_of(s) for s in text)) + height)
        ink = np.zeros((height, width), np.float32)
        all_ = np.zeros((height, width), np.float32)
        signs, at = [], height * 0.15
        for place, sign in enumerate(text):
            def set_(glyph):
                picture = Image.new('L', (width, height))
                ImageDraw.Draw(picture).text((at, -box[1]), glyph, fill=255, font=font)
                return np.asarray(picture, np.float32) / 255
            one = set_(one_of(sign)) if sign != '~' else np.zeros_like(ink)
            ink = np.maximum(ink, one)
            all_ = np.maximum(all_, set_('8' if sign not in '.:' else sign) if self.eights else one)
            extent = _extent(one)
            if extent:
                signs.append((sign, *extent))
            at += font.getlength(one_of(sign)) + self.spread * height
        return Row(ink, all_, signs)


class Dots:
    """A matrix of dots; of our own drawing, or a typeface set so small that its pixels are the dots."""

    def __init__(self, rng, held=False, small=None):
        self.glyphs = {**DOTS, **(DOTS_OTHER if held else {})}
        self.small = small
        self.round = held or rng.random() < 0.2
        self.gap = rng.uniform(0.0, 0.3)
        self.space = rng.integers(1, 3)
        self.ghosts = rng.random() < 0.7
        self.across = rng.uniform(0.85, 1.1)

    def cells(self, sign):
        if self.small:
            return self.small[sign] if sign != '~' else np.zeros_like(self.small['8'])
        rows = [int(row, 16) for row in self.glyphs.get(sign, self.glyphs[' ']).split()]
        cells = np.array([[(row >> bit) & 1 for bit in range(4, -1, -1)] for row in rows], np.float32)
        # A point takes only the room that it needs, on some.
        return cells[:, 1:3] if sign == '.' and self.gap > 0.1 and cells.any() else cells

    def row(self, text, height, rng, odd=None):
        blocks = [self.cells(sign) for sign in text]
        rows = blocks[0].shape[0]
        dot = height / rows
        step = dot * self.across
        total = sum(b.shape[1] + self.space for b in blocks)
        width = int(step * (total + 2)) + 2
        ink, all_ = np.zeros((height, width), np.uint8), np.zeros((height, width), np.uint8)
        signs, at = [], 1
        for sign, block in zip(text, blocks):
            one = np.zeros_like(ink)
            for r in range(rows):
                for c in range(block.shape[1]):
                    x0, y0 = (at + c) * step, r * dot
                    x1, y1 = x0 + step * (1 - self.gap), y0 + dot * (1 - self.gap)
                    if self.round:
                        turn = np.linspace(0, 2 * np.pi, 9)[:-1]
                        points = [((x0 + x1) / 2 + (x1 - x0) / 1.9 * np.cos(v), (y0 + y1) / 2 + (y1 - y0) / 1.9 * np.sin(v)) for v in turn]
                    else:
                        points = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
                    if block[r, c]:
                        _poly(one, points)
                    elif self.ghosts:
                        _poly(all_, points)
            ink = np.maximum(ink, one)
            extent = _extent(one / 255.0)
            if extent:
                signs.append((sign, *extent))
            at += block.shape[1] + self.space
        return Row(ink / 255.0, np.maximum(all_, ink) / 255.0, signs)

    def text(self, text, height):
        row = self.row(text, max(8, height), None)
        left, right = (_extent(row.ink) or (0, 2))
        return row.ink[:, left:right]


def small_cells(file, rows, signs):
    """A typeface as dots, all signs of one height."""
    size, top, bottom = rows, 0, 0
    while bottom - top < rows:
        size += 1
        font = ImageFont.truetype(str(file), size)
        picture = Image.new('1', (40, 40))
        draw = ImageDraw.Draw(picture)
        draw.fontmode = '1'
        draw.text((2, 0), 'E8', fill=1, font=font)
        top, bottom = picture.getbbox()[1], picture.getbbox()[3]
    out = {}
    for sign in signs:
        wide = max(1, round(font.getlength(sign)))
        picture = Image.new('1', (wide, rows))
        draw = ImageDraw.Draw(picture)
        draw.fontmode = '1'
        draw.text((0, -top), sign, fill=1, font=font)
        out[sign] = np.asarray(picture, np.float32)
    return out


class Kit:
    """All typefaces; those of the held-back set are others."""

    def __init__(self, folder):
        folder = Path(folder)
        segments = sorted(folder.glob('DSEG*.ttf'))
        self.dseg = {held: [f for f in segments if ('Modern' in f.name) == held and 'Weather' not in f.name] for held in (False, True)}
        letters = sorted(set(folder.glob('*.ttf')) - set(segments))
        self.letters = {held: [f for f in letters if ('SourceSans' in f.name) == held] for held in (False, True)}
        self.mono = {held: [f for f in letters if ('Mono' in f.name and 'Bold' in f.name) == held and ('Mono' in f.name or held)] for held in (False, True)}
        if not all(self.dseg.values()) or not all(self.letters.values()):
            raise SystemExit(f'{folder}: typefaces are missing; see learn/README.md')
        signs = [s for s in DOTS if s not in '~']
        self.small = {held: [small_cells(f, rows, signs) for f in self.mono[held][:6] for rows in ((9, 11) if not held else (10,))] for held in (False, True)}

    def letter_face(self, rng, held):
        files = self.letters[held]
        return Typeface(files[rng.integers(len(files))], squeeze=rng.uniform(0.7, 1.15), eights=False)

    def number_face(self, rng, held):
        """(face, whether it is of dots)"""
        kind = rng.random()
        if kind < 0.5:
            return Segments(rng, held), False
        if kind < 0.76:
            files = self.dseg[held]
            return Typeface(files[rng.integers(len(files))], spread=rng.choice([0, rng.uniform(0, 0.12)])), False
        small = self.small[held]
        return Dots(rng, held, small[rng.integers(len(small))] if rng.random() < 0.4 else None), True
