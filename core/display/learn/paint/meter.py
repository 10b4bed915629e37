"""A meter's face straight from above: body, window, the row of the number, unit, what else stands there."""
from dataclasses import dataclass, field

import cv2
import numpy as np

from .faces import SEGMENTS

WIDE, HIGH = 512, 384
UNITS = ['Ω', 'kΩ', 'MΩ', 'V', 'mV', 'A', 'mA', 'µA', 'Hz', 'kHz', 'MHz', 'F', 'nF', 'µF', 'mF', '%', '°C', '°F']
WORDS = ['Auto', 'Err', 'LoAd', 'diSC', 'LEAd', 'HoLd', 'OFF', 'FULL', 'CAP', 'bAtt', 'SEt', 'PASS', 'd-OF', 'FUSE', 'InrU',
         'oPEn', 'Shrt', 'CLr', 'dc', 'AC', 'no', 'yES', 'Pro', 'Hi', 'Lo', 'rEL', 'CAL', 'U-L']
BESIDE = ['AUTO', 'HOLD', 'REL', 'MAX', 'MIN', 'AC', 'DC', 'PK', 'TRMS', 'APO', 'LOW', '!', '+', 'BAT', 'RANGE', '>', 'Δ', '»']
PRINT = ['COM', 'V', 'mA', 'A', '10A', 'Ω', 'OFF', 'HOLD', 'RANGE', 'SELECT', '600V', '200', '20', '2k', '200k', '2M', 'MAX 500V',
         'FUSED', 'CAT III', 'V~', 'hFE', 'mV', 'Hz', '%', '°C', 'kΩ', 'DIGITAL', '1000', '60', '600m', 'REL', 'MODE', 'NCV', '20A']


@dataclass
class Face:
    grey: np.ndarray
    text: str = ''
    row: tuple = None  # left, top, right, bottom, px
    signs: list = field(default_factory=list)  # (sign, left, right), px
    unit: int = 0  # 1 + its place in UNITS; 0 without
    unit_at: tuple = None
    readable: bool = True


def number(rng):
    """A number as a meter shows it, over range, or no number at all; with the place of an odd sign."""
    kind = rng.random()
    if kind < 0.09:
        return rng.choice(['OL', '0L', 'O.L', '.0L', '0.L', '0L.', '0.0L', 'OL', '-OL', '-0L']), None
    if kind < 0.15:
        return rng.choice(WORDS), None
    if kind < 0.17:
        return rng.choice(['---', '----', '- - -'.replace(' ', '~'), '-', '12:34']), None
    count = rng.integers(3, 7) if rng.random() < 0.8 else rng.integers(1, 4)
    digits = [str(d) for d in rng.integers(0, 10, count)]
    if rng.random() < 0.15:
        digits[0] = '0'
    if rng.random() < 0.15:
        digits[0] = '1'
    if rng.random() < 0.08:
        digits = [digits[0]] * count
    if rng.random() < 0.88 and count > 1:
        digits.insert(rng.integers(0 if rng.random() < 0.15 else 1, count), '.')
    odd = None
    if rng.random() < 0.05:
        odd = int(rng.integers(0, count))
    if rng.random() < 0.25:
        digits.insert(0, '-')
        odd = None if odd is None else odd + 1
    return ''.join(digits), odd


def label(signs, dots):
    """What is to be read: `?` for what is no sign of a number. Seven segments show some letters as digits."""
    alike = {'O': '0'} if dots else {'O': '0', 'S': '5', 'b': '6', 'q': '9', 'I': '1', 'D': '0', 'B': '8'}
    return ''.join(alike.get(s, s if s in '0123456789-.L' else '?') for s in signs)


def lay(canvas, ink, at, tone, strength=1.0):
    """Blends ink of a tone into the canvas; gives its place, None where nothing of it is inside."""
    x, y = int(at[0]), int(at[1])
    h, w = ink.shape
    x0, y0, x1, y1 = max(0, x), max(0, y), min(canvas.shape[1], x + w), min(canvas.shape[0], y + h)
    if x1 - x0 < 1 or y1 - y0 < 1:
        return None
    part = ink[y0 - y:y1 - y, x0 - x:x1 - x] * strength
    canvas[y0:y1, x0:x1] += (tone - canvas[y0:y1, x0:x1]) * part
    return x0, y0, x1, y1


def slope(rng, shape, strength):
    h, w = shape
    turn = rng.uniform(0, 2 * np.pi)
    x, y = np.linspace(-1, 1, w, dtype=np.float32), np.linspace(-1, 1, h, dtype=np.float32)
    return strength * (np.cos(turn) * x[None, :] + np.sin(turn) * y[:, None])


def body(rng, kit, held):
    """What is around the window: tone, edges, print, keys, a dial."""
    canvas = np.full((HIGH, WIDE), rng.uniform(0.05, 0.9), np.float32)
    canvas += slope(rng, canvas.shape, rng.uniform(0, 0.15))
    ink_tone = 0.05 if canvas.mean() > 0.45 else 0.9
    for _ in range(rng.integers(0, 4)):
        x, y = rng.integers(0, WIDE), rng.integers(0, HIGH)
        tone = rng.uniform(0, 1)
        if rng.random() < 0.5:
            cv2.circle(canvas, (int(x), int(y)), int(rng.integers(15, 110)), tone, -1 if rng.random() < 0.6 else 3, cv2.LINE_AA)
        else:
            w, h = rng.integers(20, 200), rng.integers(15, 100)
            cv2.rectangle(canvas, (int(x), int(y)), (int(x + w), int(y + h)), tone, -1 if rng.random() < 0.6 else 2, cv2.LINE_AA)
    for _ in range(rng.integers(0, 14)):
        word = kit.letter_face(rng, held).text(rng.choice(PRINT), rng.integers(8, 42))
        lay(canvas, word, (rng.integers(-20, WIDE), rng.integers(-10, HIGH)), ink_tone if rng.random() < 0.8 else rng.uniform(0, 1))
    return canvas


def bar(rng, shape):
    """A bar graph with its ticks, as ink."""
    h, w = shape
    ink = np.zeros(shape, np.float32)
    step = int(rng.integers(5, 10))
    full = rng.uniform(0, 1) * w
    for n, x in enumerate(range(0, w - 2, step)):
        tall = h if n % 5 == 0 else h // 2
        ink[h - tall:, x:x + max(1, step // 4)] = rng.uniform(0.6, 1) if rng.random() < 0.9 else 0
    if rng.random() < 0.8:
        top = ink[:max(2, h // 2)]
        for x in range(0, int(full), step):
            top[:, x:x + max(2, step - rng.integers(1, 3))] = 1
    return ink


def draw(rng, kit, held=False):
    canvas = body(rng, kit, held)
    if rng.random() < 0.06:
        return Face(np.clip(canvas, 0, 1))
    # The window, with its frame.
    w = int(WIDE * rng.uniform(0.55, 0.94))
    h = int(np.clip(w / rng.uniform(1.35, 3.6), 90, HIGH * 0.94))
    x0, y0 = int(rng.integers(4, WIDE - w - 3)), int(rng.integers(3, max(4, HIGH - h - 3)))
    edge = int(rng.integers(0, 18))
    if edge:
        cv2.rectangle(canvas, (x0 - edge, y0 - edge), (x0 + w + edge, y0 + h + edge), rng.uniform(0, 1), -1)
    negative = rng.random() < 0.35
    if negative:
        ground, tone = rng.uniform(0, 0.3), rng.uniform(0.4, 1.0)
        tone = max(tone, ground + 0.25)
    else:
        ground = rng.uniform(0.3, 0.95)
        tone = ground * rng.uniform(0.02, 0.6)
    ghost = rng.choice([0, rng.uniform(0, 0.1), rng.uniform(0, 0.28)], p=[0.4, 0.35, 0.25])
    panel = np.full((h, w), ground, np.float32) + slope(rng, (h, w), rng.uniform(0, 0.2) * ground)
    if rng.random() < 0.3:
        # Light from one side, or from behind with a middle that is brighter.
        yy, xx = np.mgrid[-1:1:h * 1j, -1:1:w * 1j]
        panel *= (1 - rng.uniform(0, 0.35) * ((xx - rng.uniform(-1, 1)) ** 2 + yy ** 2) / 2).astype(np.float32)
    face, dots = kit.number_face(rng, held)
    letters = face if dots and rng.random() < 0.5 else kit.letter_face(rng, held)
    text, odd = number(rng)
    if dots:
        text = ''.join(s if s in face.glyphs or (face.small and s in face.small) else '0' for s in text)
        odd = None
    else:
        # Seven segments have not every letter; those of a typeface are its own.
        text = ''.join(s if s in SEGMENTS or s in '.:O' else 'E' for s in text)
        text = text.replace('O', '0')
    cells = sum(s not in '.:' for s in text)
    blanks = int(rng.integers(0, 3)) if not text.startswith('-') and cells < 6 else 0
    # A point of a typeface stands behind something.
    blanks = max(blanks, 1) if text.startswith('.') else blanks
    shown = '~' * blanks + text
    size = int(h * rng.uniform(0.3, 0.82))
    in_line = rng.random() < 0.55
    row = face.row(shown, 100, rng, None if odd is None else odd + blanks)
    room = w * (rng.uniform(0.62, 0.86) if in_line else rng.uniform(0.75, 0.96))
    size = int(np.clip(min(size, 100 * room / row.ink.shape[1]), 16, h - 6))
    row = face.row(shown, size, rng, None if odd is None else odd + blanks)
    ink, ghosts = row.ink.astype(np.float32), row.all.astype(np.float32)
    # Multiplexed figures are not all as bright as one another; a segment's ink fades at its edge.
    if negative and rng.random() < 0.5:
        for sign, left, right in row.signs:
            ink[:, left:right] *= rng.uniform(0.55, 1)
    top_room = h - size
    gx = int(rng.uniform(2, max(3, (w - ink.shape[1]) * (0.25 if in_line else 0.9))))
    gy = int(rng.uniform(0.05, 0.95) * top_room)
    if not negative and rng.random() < 0.45:
        # The shadow of dark segments on what lies behind them.
        shade = cv2.GaussianBlur(ink, (0, 0), rng.uniform(0.8, 3))
        lay(panel, shade, (gx + rng.integers(-6, 7), gy + rng.integers(0, 8)), tone, rng.uniform(0.08, 0.3))
    lay(panel, ghosts, (gx, gy), tone, ghost)
    lay(panel, ink, (gx, gy), tone)
    left, right = min((s[1] for s in row.signs), default=0), max((s[2] for s in row.signs), default=0)
    taken = [(gx - 3, gy - 2, gx + right + 3, gy + size + 2)]

    def free(x, y, ww, hh):
        return x >= 0 and y >= 0 and x + ww <= w and y + hh <= h and all(
            x >= c or x + ww <= a or y >= d or y + hh <= b for a, b, c, d in taken)

    def put(ink, places, strength=1.0):
        for x, y in places:
            if free(x, y, ink.shape[1], ink.shape[0]):
                taken.append((x - 3, y - 2, x + ink.shape[1] + 3, y + ink.shape[0] + 2))
                return lay(panel, ink, (x, y), tone, strength)
        return None

    def around(ww, hh):
        at_right = [(gx + right + int(rng.uniform(0.06, 0.5) * size), gy + int(rng.uniform(0, 1) * max(1, size - hh)))]
        above = [(int(rng.uniform(0, max(1, w - ww))), max(0, gy - hh - int(rng.uniform(2, 10))))]
        below = [(int(rng.uniform(0, max(1, w - ww))), gy + size + int(rng.uniform(2, 12)))]
        return at_right, above, below

    unit, unit_at = 0, None
    if rng.random() < 0.82:
        # Ohms most of the time: that is what is read here.
        choice = int(rng.integers(0, 3) if rng.random() < 0.4 else rng.integers(0, len(UNITS)))
        name = UNITS[choice]
        if 'Ω' in name and letters is not face and rng.random() < 0.06:
            name = name.replace('Ω', rng.choice(['Ohm', 'ohm', 'OHM']))
        if letters is face or (dots and rng.random() < 0.5):
            high = size
        else:
            high = int(np.clip(size * rng.uniform(0.2, 0.62), 9, 90))
        word = letters.text(name, high)
        right_, above, below = around(word.shape[1], word.shape[0])
        places = right_ if in_line else rng.permutation(np.array(above + below + right_)).tolist()
        unit_at = put(word, [tuple(int(v) for v in p) for p in places] + right_ + below + above)
        unit = choice + 1 if unit_at else 0
        if unit_at and name in ('V', 'mV', 'A', 'mA', 'µA') and rng.random() < 0.5:
            more = letters.text(rng.choice(['DC', 'AC', '~', '=']) if letters is not face else rng.choice(['DC', 'AC']), high)
            put(more, [(unit_at[2] + int(high * rng.uniform(0.02, 0.4)), unit_at[1]), (unit_at[0] - more.shape[1] - 4, unit_at[1])])
    if rng.random() < 0.5 and h > 110:
        tall = int(rng.integers(6, 18))
        put(bar(rng, (tall, int(w * rng.uniform(0.5, 0.9)))), [(int(w * 0.05), h - tall - 3), (int(w * 0.05), 3)])
    for _ in range(rng.integers(0, 6)):
        word = kit.letter_face(rng, held).text(rng.choice(BESIDE), int(np.clip(size * rng.uniform(0.12, 0.35), 7, 40)))
        put(word, [p for three in (around(word.shape[1], word.shape[0]) for _ in range(3)) for one in three[1:] for p in one])
    if ghost > 0.02:
        for _ in range(rng.integers(0, 5)):
            word = kit.letter_face(rng, held).text(rng.choice(UNITS), int(np.clip(size * rng.uniform(0.2, 0.45), 8, 60)))
            put(word, [p for three in (around(word.shape[1], word.shape[0]) for _ in range(2)) for one in three for p in one], ghost)
    canvas[y0:y0 + h, x0:x0 + w] = panel
    signs = [(s, x0 + gx + a, x0 + gx + b) for s, a, b in row.signs]
    # Print outside the window that looks like a unit is none of it.
    out = Face(np.clip(canvas, 0, 1), label([s[0] for s in signs], dots))
    out.row = (x0 + gx + left, y0 + gy, x0 + gx + right, y0 + gy + size)
    out.signs = signs
    out.unit = unit
    out.unit_at = unit_at and (unit_at[0] + x0, unit_at[1] + y0, unit_at[2] + x0, unit_at[3] + y0)
    out.readable = bool(text)
    return out
