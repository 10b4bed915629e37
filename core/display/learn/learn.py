"""Learns one of the networks: `python learn.py find|read DRAWN --out FILE.pt --seconds 400 --seed 1`."""
import argparse
import json
import math
import time
from pathlib import Path

import numpy as np
import torch
import torch.nn.functional as F

import camera
from nets import SIGNS, Find, Read, even

MOST_SIGNS = 10


class Drawn:
    """All drawn faces and what is known of them, on the device."""

    def __init__(self, folder, device, most=None):
        notes = json.loads((Path(folder) / 'notes.json').read_text())[:most]
        parts = sorted(Path(folder).glob('*.npy'))
        self.grey = torch.empty((len(notes), camera.HIGH, camera.WIDE), dtype=torch.uint8, device=device)
        at = 0
        for part in parts:
            if at >= len(notes):
                break
            some = torch.from_numpy(np.load(part))[:len(notes) - at]
            self.grey[at:at + len(some)] = some.to(device)
            at += len(some)
        n = len(notes)
        row = np.zeros((n, 4), np.float32)
        signs = np.zeros((n, MOST_SIGNS, 2), np.float32)
        codes = np.zeros((n, MOST_SIGNS), np.int64)
        for k, note in enumerate(notes):
            if note['row'] and 0 < len(note['signs']) <= MOST_SIGNS:
                row[k] = note['row']
                for m, (extent, sign) in enumerate(zip(note['signs'], note['text'])):
                    signs[k, m] = extent
                    codes[k, m] = 1 + SIGNS.index(sign)
        move = lambda a: torch.from_numpy(a).to(device)
        self.row, self.signs, self.codes = map(move, (row, signs, codes))
        self.with_row = torch.nonzero(self.row[:, 3] > 0)[:, 0]
        self.without = torch.nonzero(torch.tensor([not note['row'] for note in notes], device=device))[:, 0]
        self.aspect = (self.row[:, 2] - self.row[:, 0]) / (self.row[:, 3] - self.row[:, 1]).clamp(min=1)
        self.device = device

    def faces(self, index):
        x = self.grey[index].float()[:, None] / 255
        # Dark on light or light on dark: each face is either.
        flip = (torch.rand(len(index), device=self.device) < 0.15)[:, None, None, None]
        return torch.where(flip, 1 - x, x)


def among(indices, n):
    return indices[torch.randint(len(indices), (n,), device=indices.device)]


def corners(box):
    x0, y0, x1, y1 = box.unbind(-1)
    return torch.stack([torch.stack([x0, y0], -1), torch.stack([x1, y0], -1), torch.stack([x1, y1], -1), torch.stack([x0, y1], -1)], -2)


def within(quads, width, height, cell):
    """For each cell of a picture whether its middle lies in the quad."""
    device = quads.device
    ys, xs = torch.meshgrid(torch.arange(height // cell, device=device), torch.arange(width // cell, device=device), indexing='ij')
    at = (torch.stack([xs, ys], -1).float() + 0.5) * cell
    inside = torch.ones(len(quads), height // cell, width // cell, dtype=torch.bool, device=device)
    for k in range(4):
        a, b = quads[:, k, None, None], quads[:, (k + 1) % 4, None, None]
        inside &= (b - a)[..., 0] * (at - a)[..., 1] - (b - a)[..., 1] * (at - a)[..., 0] >= 0
    return inside


def around(box, high, room, amount, device):
    """The quad of a box with room around it (left, above, right, below, in its heights), somewhat off."""
    left, above, right, below = room
    grown = box + torch.stack([-left * high, -above * high, right * high, below * high], -1)
    return jittered(grown, high, device, amount)


def alike(drawn, n):
    """Rows of about one length, since a strip's width follows from it; and that length."""
    key = drawn.aspect[among(drawn.with_row, 1)]
    near = drawn.with_row[(drawn.aspect[drawn.with_row] / key - 1).abs() < 0.06]
    some = among(near, n)
    return some, drawn.aspect[some].mean().item()


def behind(drawn, to_face, n, width, height):
    """Faces under homographies, and another one without a row behind them."""
    index, homographies = to_face
    x, inside = camera.sample(drawn.faces(index), homographies, width, height)
    device = drawn.device
    ground, _ = camera.sample(drawn.faces(among(drawn.without, n)), torch.linalg.inv(camera.poses(
        camera.uniform(2 * n, 100, 400, device).reshape(n, 2), torch.exp(camera.uniform(n, math.log(0.4), math.log(3), device)),
        camera.uniform(2 * n, 0, 320, device).reshape(n, 2), 1.0, 0.6, n, device)), width, height, over=1)
    soft = camera.cloud(n, width, height, 24, device) * 0.2 + camera.uniform(n, 0, 1, device)[:, None, None, None]
    ground = torch.where((torch.rand(n, device=device) < 0.4)[:, None, None, None], soft, ground)
    return x * inside + ground * (1 - inside)


def lesson_find(drawn, n):
    """Half whole frames, half cuts around a row, as the second look has them."""
    device = drawn.device
    near = torch.rand(1).item() < 0.5
    width, height = (320, 96) if near else (320, 240)
    n = n * 2 if near else n
    some = among(drawn.with_row, n)
    none = torch.rand(n, device=device) < 0.07
    some = torch.where(none, among(drawn.without, n), some)
    box = drawn.row[some]
    has = box[:, 3] > 0
    box = torch.where(has[:, None], box, torch.tensor([180., 140., 330., 220.], device=device))
    high, wide = box[:, 3] - box[:, 1], box[:, 2] - box[:, 0]
    centre = torch.stack([box[:, [0, 2]].mean(1), box[:, [1, 3]].mean(1)], -1)
    if near:
        want = camera.uniform(n, 17, 44, device)
        to = torch.stack([160 + 25 * torch.randn(n, device=device), 48 + 7 * torch.randn(n, device=device)], -1)
        pose = dict(roll=math.radians(5), tilt=math.radians(36))
    else:
        low, top = [(7, 16), (12, 34), (28, 110)][torch.randint(3, (1,)).item()]
        want = torch.exp(camera.uniform(n, math.log(low), math.log(top), device))
        to = torch.stack([camera.uniform(n, 0.15, 0.85, device) * width, camera.uniform(n, 0.15, 0.85, device) * height], -1)
        pose = dict(roll=math.radians(9), tilt=math.radians(38))
    scale = torch.minimum(want / high, 300 / wide)
    h = camera.poses(centre, scale, to, n=n, device=device, **pose)
    if not near:
        # Most rows lie within the frame whole.
        quad = camera.through(h, corners(box))
        low_, top_ = quad.amin(1), quad.amax(1)
        edge = torch.tensor([width, height], device=device).float()
        move = (4 - low_).clamp(min=0) - (top_ - edge + 4).clamp(min=0)
        move = move * (torch.rand(n, 1, device=device) < 0.9)
        h = torch.cat([h[:, :2] + move[:, :, None] * h[:, 2:], h[:, 2:]], 1)
    x = behind(drawn, (some, torch.linalg.inv(h)), n, width, height)
    x, left = camera.expose(x, device, 1.2 if not near else 2.2)
    mask = within(camera.through(h, corners(box)), width, height, 4) & has[:, None, None]
    weight = F.avg_pool2d(left, 4)[:, 0].clamp(min=0.05)
    return even(x), mask.float(), weight


def seen_at(x, f, device, blur):
    """Through a camera that has `f` pixels for each of the strip's."""
    if f >= 1:
        return camera.expose(x, device, blur * 1.4)
    height, width = x.shape[2:]
    x = F.interpolate(x, (max(4, round(height * f)), max(4, round(width * f))), mode='area')
    back = lambda a: F.interpolate(a, (height, width), mode='bilinear', align_corners=False)
    x, left = camera.expose(x, device, blur)
    return back(x), back(left)


def loss_find(net, lesson):
    x, mask, weight = lesson
    out = net(x)[:, 0].float()
    bce = F.binary_cross_entropy_with_logits(out, mask, reduction='none') * weight
    p = out.sigmoid()
    both = (p * mask).sum((1, 2))
    dice = 1 - (2 * both + 8) / (p.sum((1, 2)) + mask.sum((1, 2)) + 8)
    return bce.mean() * 4 + dice.mean() * 0.5


def jittered(box, high, device, amount):
    """Corners of a box as the finder gives them: somewhat off."""
    n = len(box)
    quad = corners(box)
    quad = quad + amount * high[:, None, None] * torch.randn(n, 4, 2, device=device).clamp(-2, 2) * 0.6
    whole = amount * high[:, None] * torch.randn(n, 2, device=device).clamp(-2, 2) * 0.8
    return quad + whole[:, None]


def lesson_read(drawn, n):
    """Mostly whole rows; one time in six what lies beyond a row's end, as it is asked whether the number goes on there."""
    return lesson_row(drawn, n) if torch.rand(1).item() < 5 / 6 else lesson_beyond(drawn, n)


def lesson_row(drawn, n):
    device = drawn.device
    some, aspect = alike(drawn, n)
    box = drawn.row[some].clone()
    high = box[:, 3] - box[:, 1]
    # One in eight is cut wrongly, and then to be refused.
    cut = (torch.rand(n, 2, device=device) < 0.07) * torch.rand(n, 2, device=device) * torch.minimum(1.6 * high, 0.6 * (box[:, 2] - box[:, 0]))[:, None]
    box[:, 0] += cut[:, 0]
    box[:, 2] -= cut[:, 1]
    room = (0.25, 0.15, 0.25, 0.15) if torch.rand(1).item() < 0.6 else (0.3, 0.21, 0.3, 0.21)
    quad = around(box, high, room, 0.055, device)
    nothing = torch.rand(n, device=device) < 0.03
    width = max(32, int(round((aspect + room[0] + room[2]) * 32 / 8) * 8))
    return strips(drawn, some, quad, nothing, width)


def lesson_beyond(drawn, n):
    """As wide as it is high beside a row's end; at every third the row was found too short."""
    device = drawn.device
    some = among(drawn.with_row, n)
    box = drawn.row[some].clone()
    high, wide = box[:, 3] - box[:, 1], box[:, 2] - box[:, 0]
    short = (torch.rand(n, device=device) < 0.35) * torch.rand(n, device=device) * torch.minimum(1.6 * high, 0.9 * wide)
    left = torch.rand(n, device=device) < 0.4
    end = torch.where(left, box[:, 0] + short, box[:, 2] - short)
    box[:, 0] = torch.where(left, end - high, end)
    box[:, 2] = box[:, 0] + high
    quad = around(box, high, (0, 0.15, 0, 0.15), 0.055, device)
    return strips(drawn, some, quad, torch.zeros(n, dtype=torch.bool, device=device), 32)


def strips(drawn, some, quad, nothing, width):
    """What is seen in the quads, 32 px high, and the signs that are whole in it."""
    n, device = len(some), drawn.device
    some = torch.where(nothing, among(drawn.without, n), some)
    to_face = camera.from_quads(quad, width, 32)
    x, _ = camera.sample(drawn.faces(some), to_face, width, 32)
    # Pixels that the camera had, a row's height.
    native = math.exp(torch.empty(1).uniform_(math.log(9), math.log(40)).item())
    x, left = seen_at(x, native / 24.6, device, 1.3)
    # Where each sign came to lie.
    signs, codes = drawn.signs[some], drawn.codes[some]
    true_box = drawn.row[some]
    pts = lambda xs, ys: torch.stack([xs, ys], -1)
    mid = true_box[:, [1, 3]].mean(1, keepdim=True).expand(-1, MOST_SIGNS)
    to_strip = torch.linalg.inv(to_face)
    a = camera.through(to_strip, pts(signs[..., 0], mid))[..., 0]
    b = camera.through(to_strip, pts(signs[..., 1], mid))[..., 0]
    seen = (b.clamp(0, width) - a.clamp(0, width)).clamp(min=0) / (b - a).clamp(min=1e-3)
    boxes = torch.stack([a.clamp(1, width - 1), torch.full_like(a, 4.0), b.clamp(1, width - 1), torch.full_like(a, 28.0)], -1)
    clear = camera.least_left(left, boxes)
    odd = 1 + SIGNS.index('?')
    there = (codes > 0) & (seen > 0.06)
    codes = torch.where((seen < 0.93) & there, torch.full_like(codes, odd), codes)
    codes = torch.where((clear < 0.2) & there, torch.full_like(codes, odd), codes)
    weight = 1 - ((clear < 0.42) & (clear >= 0.2) & there).any(1).float()
    codes = codes * there
    # Nothing at all is one doubt.
    codes[nothing] = 0
    codes[nothing, 0] = odd
    there[nothing] = False
    there[nothing, 0] = True
    order = torch.argsort((~there).long(), dim=1, stable=True)
    codes = torch.gather(codes, 1, order)
    lengths = there.sum(1)
    codes[lengths == 0, 0] = odd
    return even(x), codes, lengths.clamp(min=1), weight


def loss_read(net, lesson):
    x, codes, lengths, weight = lesson
    out = net(x).float().log_softmax(1).permute(2, 0, 1)
    t = torch.full((out.shape[1],), out.shape[0], dtype=torch.long, device=x.device)
    loss = F.ctc_loss(out, codes, t, lengths, blank=0, reduction='none', zero_infinity=True)
    return (loss * weight).mean()


LESSONS = {'find': (lesson_find, loss_find, 48), 'read': (lesson_read, loss_read, 256)}


def net_of(what):
    return {'find': Find, 'read': Read}[what]()


def main():
    ask = argparse.ArgumentParser()
    ask.add_argument('what', choices=LESSONS)
    ask.add_argument('drawn')
    ask.add_argument('--out', required=True)
    ask.add_argument('--from', dest='start')
    ask.add_argument('--seconds', type=float, default=400)
    ask.add_argument('--steps', type=int, default=10 ** 9)
    ask.add_argument('--rate', type=float, default=2e-3)
    ask.add_argument('--seed', type=int, default=1)
    ask.add_argument('--batch', type=int)
    ask.add_argument('--most', type=int)
    ask = ask.parse_args()
    torch.manual_seed(ask.seed)
    device = 'cuda' if torch.cuda.is_available() else 'cpu'
    torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
    torch.backends.cudnn.benchmark = False
    drawn = Drawn(ask.drawn, device, ask.most)
    lesson_of, loss_of, batch = LESSONS[ask.what]
    batch = ask.batch or batch
    net = net_of(ask.what).to(device)
    if ask.start:
        net.load_state_dict(torch.load(ask.start, map_location=device))
    best = torch.optim.AdamW(net.parameters(), lr=ask.rate, weight_decay=1e-3)
    start, mean = time.time(), None
    for step in range(ask.steps):
        done = max((time.time() - start) / ask.seconds, step / ask.steps)
        if done >= 1:
            break
        rate = ask.rate * min(1, (step + 1) / 300) * (0.5 + 0.5 * math.cos(math.pi * done))
        for group in best.param_groups:
            group['lr'] = rate
        with torch.no_grad():
            lesson = lesson_of(drawn, batch)
        with torch.autocast(device, torch.bfloat16, enabled=device == 'cuda'):
            loss = loss_of(net, lesson)
        best.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 2.0)
        best.step()
        if step % 100 == 0:
            now = loss.item()
            mean = now if mean is None else 0.8 * mean + 0.2 * now
            print(f'{ask.what} {step} {time.time() - start:.0f} s loss {mean:.4f}', flush=True)
    torch.save(net.state_dict(), ask.out)


if __name__ == '__main__':
    main()
