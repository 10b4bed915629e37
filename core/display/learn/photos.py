"""Photos to judge by: `python photos.py FACES_DIR OUT --count 1000 --seed 9001 [--held]`.

With `--held` the faces, ends of segments and letters are those that nothing learned from. The camera is another one
than `camera.py`: frames in colour, light and glare of its own, JPEG. `truth.jsonl` says what each shows, and whether a
person can read it (by its size, blur, contrast and grain; see `legible`)."""
import argparse
import json
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import cv2
import numpy as np

from paint.faces import Kit
from paint.meter import UNITS, draw

WIDE, HIGH = 960, 720


def pose(rng, face):
    """A homography from the face to the frame; tilt to 35 degrees."""
    height, width = face.grey.shape
    roll = np.radians(rng.normal(0, 5)) if rng.random() < 0.9 else np.radians(rng.uniform(-15, 15))
    lean, way = np.radians(35 * np.sqrt(rng.random())), rng.uniform(0, 2 * np.pi)
    turn = cv2.Rodrigues(np.array([lean * np.cos(way), lean * np.sin(way), 0]))[0] @ cv2.Rodrigues(np.array([0, 0, roll]))[0]
    far = width * np.exp(rng.uniform(np.log(1.0), np.log(3.5)))
    box = face.row or (120, 120, 400, 260)
    scale = min(np.exp(rng.uniform(np.log(22), np.log(190))) / (box[3] - box[1]), WIDE * 0.95 / (box[2] - box[0]))
    middle = np.array([(box[0] + box[2]) / 2, (box[1] + box[3]) / 2])
    reach = np.array([(box[2] - box[0]), (box[3] - box[1])]) * scale / 2 * 1.1 + 8
    size = np.array([WIDE, HIGH])
    to = reach + rng.random(2) * np.maximum(0, size - 2 * reach)
    to = to * 0.5 + size / 2 * 0.5 if rng.random() < 0.6 else to
    if rng.random() < 0.03:
        to = rng.random(2) * size
    plane = np.column_stack([turn[:, 0], turn[:, 1], [0, 0, far]])
    lens = np.array([[scale * far, 0, to[0]], [0, scale * far, to[1]], [0, 0, 1]])
    move = np.array([[1, 0, -middle[0]], [0, 1, -middle[1]], [0, 0, 1]])
    return lens @ plane @ move


def bench(rng, kit, held):
    """What lies behind the meter: a bench top, with edges and another face far out of focus."""
    base = np.full((HIGH, WIDE), rng.uniform(0.1, 0.8), np.float32)
    for _ in range(rng.integers(1, 6)):
        points = (rng.random((rng.integers(3, 6), 2)) * [WIDE, HIGH]).astype(np.int32)
        cv2.fillPoly(base, [cv2.convexHull(points)], rng.uniform(0, 1))
    base += cv2.resize(rng.normal(0, 0.08, (HIGH // 6, WIDE // 6)).astype(np.float32), (WIDE, HIGH))
    return cv2.GaussianBlur(base, (0, 0), rng.uniform(0.5, 6))


def glare(rng):
    veil = np.zeros((HIGH, WIDE), np.float32)
    if rng.random() < 0.35:
        for _ in range(rng.integers(1, 3)):
            if rng.random() < 0.5:
                centre = (int(rng.integers(0, WIDE)), int(rng.integers(0, HIGH)))
                cv2.ellipse(veil, centre, (int(rng.integers(20, 260)), int(rng.integers(10, 120))), rng.uniform(0, 180), 0, 360, float(rng.uniform(0.1, 1)), -1)
            else:
                x, y, a = rng.uniform(0, WIDE), rng.uniform(0, HIGH), rng.uniform(0, np.pi)
                dx, dy = 1500 * np.cos(a), 1500 * np.sin(a)
                cv2.line(veil, (int(x - dx), int(y - dy)), (int(x + dx), int(y + dy)), float(rng.uniform(0.1, 1)), int(rng.integers(10, 120)))
        veil = cv2.GaussianBlur(veil, (0, 0), rng.uniform(3, 50))
    return np.clip(veil, 0, 0.98)


def photo(rng, kit, held):
    face = draw(rng, kit, held)
    h = pose(rng, face)
    grey = cv2.resize(face.grey, None, fx=4, fy=4, interpolation=cv2.INTER_CUBIC)
    bigger = h @ np.diag([0.25, 0.25, 1])
    # Drawn twice as large and reduced, so that no edge is stepped.
    twice = np.diag([2, 2, 1]) @ bigger
    size = (2 * WIDE, 2 * HIGH)
    seen = cv2.warpPerspective(grey, twice, size, flags=cv2.INTER_LINEAR)
    there = cv2.warpPerspective(np.ones_like(grey), twice, size, flags=cv2.INTER_LINEAR)
    half = lambda a: cv2.resize(a, (WIDE, HIGH), interpolation=cv2.INTER_AREA)
    seen, there = half(seen), half(there)
    seen = seen + bench(rng, kit, held) * (1 - there)
    yy, xx = np.mgrid[-1:1:HIGH * 1j, -1:1:WIDE * 1j].astype(np.float32)
    seen *= 1 + rng.uniform(0, 0.3) * (np.cos(rng.uniform(0, 6)) * xx + np.sin(rng.uniform(0, 6)) * yy) / 1.4
    gain = np.exp(rng.uniform(np.log(0.35), np.log(1.2)))
    veil = glare(rng)
    lit = np.clip(seen, 0, 1.2) * gain * (1 - veil) + veil * rng.uniform(0.8, 1.1)
    lit = np.clip(lit, 0, 1) ** rng.uniform(0.7, 1.3)
    blur = 0.4 + 2.6 * rng.random() ** 2
    motion = int(rng.integers(2, 9)) if rng.random() < 0.25 else 0
    lit = cv2.GaussianBlur(lit, (0, 0), blur)
    if motion:
        kernel = np.zeros((2 * motion + 1,) * 2, np.float32)
        a = rng.uniform(0, np.pi)
        d = motion / 2 * np.array([np.cos(a), np.sin(a)])
        mid = np.array([motion, motion])
        cv2.line(kernel, tuple(np.round(mid - d).astype(int).tolist()), tuple(np.round(mid + d).astype(int).tolist()), 1.0)
        lit = cv2.filter2D(lit, -1, kernel / kernel.sum())
    grain = 0.035 * rng.random() ** 2
    # Whites and lamps of any colour; the tone that is read is the mean of the three.
    tint = 1 - rng.uniform(0, 0.7) * rng.random(3) if rng.random() < 0.5 else np.ones(3)
    colour = lit[..., None] * (tint / tint.mean()).astype(np.float32)
    colour = colour + rng.normal(0, grain, colour.shape).astype(np.float32) * 1.4
    frame = np.round(np.clip(colour, 0, 1) * 255).astype(np.uint8)
    return frame, truth_of(face, h, lit, 1 - veil, np.hypot(blur, motion / 3.5), grain)


def truth_of(face, h, lit, left, blur, grain):
    if not face.row:
        return {'text': None, 'unit': None, 'legible': False, 'why': 'no display'}
    a, b, c, d = face.row
    corners = cv2.perspectiveTransform(np.float32([[[a, b], [c, b], [c, d], [a, d]]]), h)[0]
    high = (np.linalg.norm(corners[3] - corners[0]) + np.linalg.norm(corners[2] - corners[1])) / 2
    wide = np.linalg.norm(corners[1] - corners[0])
    unit = UNITS[face.unit - 1] if face.unit else None
    why = []
    number = face.text
    bare = number.replace('.', '')
    over = bare in ('0L', '-0L')
    digits = number.lstrip('-')
    if not over and not (digits.replace('.', '', 1).isdigit() and digits[-1] != '.' and number.count('-') <= 1):
        why.append('no number')
    low, top = corners.min(0), corners.max(0)
    if (low < 0.06 * high).any() or (top > np.array([WIDE, HIGH]) - 0.06 * high).any():
        why.append('cut off')
    if high < 20:
        why.append('small')
    if blur > 0.07 * high:
        why.append('blurred')
    mask = np.zeros(lit.shape, np.uint8)
    cv2.fillConvexPoly(mask, np.round(corners).astype(np.int32), 1)
    inside = mask > 0
    if inside.sum() > 20:
        tones = lit[inside]
        contrast = np.percentile(tones, 95) - np.percentile(tones, 5)
        if contrast < max(0.07, 6 * grain):
            why.append('faint')
        if np.percentile(left[inside], 1) < 0.4:
            why.append('glare')
    return {'text': number.replace('0L', 'OL').replace('0.L', 'O.L') if over else number, 'over': over, 'unit': unit,
            'corners': corners.round(1).tolist(), 'high': round(float(high), 1), 'legible': not why, 'why': ' '.join(why)}


def part(job):
    folder, out, seed, numbers, held = job
    cv2.setNumThreads(1)
    kit = Kit(folder)
    lines = []
    for n in numbers:
        rng = np.random.default_rng([seed, n])
        frame, truth = photo(rng, kit, held)
        name = f'{n:05}.jpg'
        cv2.imwrite(str(Path(out) / name), frame, [cv2.IMWRITE_JPEG_QUALITY, int(rng.integers(70, 96))])
        lines.append({'file': name, **truth})
    return lines


def main():
    ask = argparse.ArgumentParser()
    ask.add_argument('faces')
    ask.add_argument('out')
    ask.add_argument('--count', type=int, default=1000)
    ask.add_argument('--seed', type=int, default=9001)
    ask.add_argument('--held', action='store_true')
    ask.add_argument('--workers', type=int, default=2)
    ask = ask.parse_args()
    Path(ask.out).mkdir(parents=True, exist_ok=True)
    jobs = [(ask.faces, ask.out, ask.seed, range(n, min(n + 50, ask.count)), ask.held) for n in range(0, ask.count, 50)]
    with ProcessPoolExecutor(ask.workers) as pool:
        lines = [line for some in pool.map(part, jobs) for line in some]
    (Path(ask.out) / 'truth.jsonl').write_text(''.join(json.dumps(line) + '\n' for line in lines))
    print(sum(line['legible'] for line in lines), 'legible of', len(lines))


if __name__ == '__main__':
    main()
