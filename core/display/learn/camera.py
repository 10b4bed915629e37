"""Drawn faces as a camera sees them, a batch at a time: pose, light, glare, blur, grain."""
import math

import torch
import torch.nn.functional as F

WIDE, HIGH = 512, 384


def uniform(n, low, high, device):
    return torch.rand(n, device=device) * (high - low) + low


def poses(centre, scale, to, roll, tilt, n, device):
    """Homographies from a face's pixels to the frame's: `scale` px of the frame a pixel of the face at `centre`."""
    turn = roll * torch.randn(n, device=device).clamp(-2, 2)
    lean, way = tilt * torch.rand(n, device=device), uniform(n, 0, 2 * math.pi, device)
    yaw, pitch = lean * way.cos(), lean * way.sin()
    far = WIDE * torch.exp(uniform(n, math.log(0.9), math.log(4), device))
    zero, one = torch.zeros(n, device=device), torch.ones(n, device=device)
    mat = lambda rows: torch.stack([torch.stack(r, -1) for r in rows], -2)
    about_z = mat([[turn.cos(), -turn.sin(), zero], [turn.sin(), turn.cos(), zero], [zero, zero, one]])
    about_y = mat([[yaw.cos(), zero, yaw.sin()], [zero, one, zero], [-yaw.sin(), zero, yaw.cos()]])
    about_x = mat([[one, zero, zero], [zero, pitch.cos(), -pitch.sin()], [zero, pitch.sin(), pitch.cos()]])
    turned = about_z @ about_y @ about_x
    plane = torch.stack([turned[..., 0], turned[..., 1], torch.stack([zero, zero, far], -1)], -1)
    lens = mat([[scale * far, zero, to[:, 0]], [zero, scale * far, to[:, 1]], [zero, zero, one]])
    move = mat([[one, zero, -centre[:, 0]], [zero, one, -centre[:, 1]], [zero, zero, one]])
    return lens @ plane @ move


def through(h, points):
    """Points (n, k, 2) through homographies."""
    out = torch.cat([points, torch.ones_like(points[..., :1])], -1) @ h.transpose(1, 2)
    return out[..., :2] / out[..., 2:].clamp(min=1e-6)


def from_quads(quads, width, height):
    """Homographies from the pixels of a rectangle to quads (n, 4, 2): top left, top right, bottom right, bottom left."""
    n, device = len(quads), quads.device
    src = torch.tensor([[0, 0], [width, 0], [width, height], [0, height]], dtype=torch.float32, device=device)
    rows = []
    for k in range(4):
        x, y = src[k]
        u, v = quads[:, k, 0], quads[:, k, 1]
        zero, one = torch.zeros(n, device=device), torch.ones(n, device=device)
        rows.append(torch.stack([x * one, y * one, one, zero, zero, zero, -x * u, -y * u], -1))
        rows.append(torch.stack([zero, zero, zero, x * one, y * one, one, -x * v, -y * v], -1))
    a = torch.stack(rows, 1)
    b = quads.reshape(n, 8, 1)
    h = torch.linalg.solve(a.double(), b.double()).float()[..., 0]
    return torch.cat([h, torch.ones(n, 1, device=device)], -1).reshape(n, 3, 3)


def sample(faces, to_face, width, height, over=2, pad='zeros'):
    """Faces (n, 1, H, W) where each pixel of a picture lies in them; and where that is inside."""
    n, device = len(faces), faces.device
    ys, xs = torch.meshgrid(torch.arange(height * over, device=device), torch.arange(width * over, device=device), indexing='ij')
    at = torch.stack([(xs + 0.5) / over, (ys + 0.5) / over, torch.ones_like(xs, dtype=torch.float32)], -1).float().reshape(1, -1, 3)
    p = at @ to_face.transpose(1, 2)
    p = p[..., :2] / torch.where(p[..., 2:].abs() < 1e-6, torch.full_like(p[..., 2:], 1e-6), p[..., 2:])
    size = torch.tensor([WIDE, HIGH], device=device)
    grid = (p / size * 2 - 1).clamp(-4, 4).reshape(n, height * over, width * over, 2)
    out = F.grid_sample(faces, grid, mode='bilinear', padding_mode='border', align_corners=False)
    inside = ((grid.abs() <= 1).all(-1, keepdim=True)).permute(0, 3, 1, 2).float()
    return F.avg_pool2d(out, over), F.avg_pool2d(inside, over)


def cloud(n, width, height, cells, device):
    """Soft noise with mean 0 and spread 1."""
    small = torch.randn(n, 1, max(2, height // cells), max(2, width // cells), device=device)
    return F.interpolate(small, (height, width), mode='bicubic', align_corners=False)


def kernels(n, most, device, size=11):
    """Blurs: some round, some in one direction."""
    along = most * torch.rand(n, device=device) ** 1.5 + 0.01
    across = torch.where(torch.rand(n, device=device) < 0.6, along, along * torch.rand(n, device=device) + 0.01)
    way = uniform(n, 0, math.pi, device)
    v = torch.arange(size, device=device) - size // 2
    y, x = torch.meshgrid(v.float(), v.float(), indexing='ij')
    a = x * way.cos()[:, None, None] + y * way.sin()[:, None, None]
    b = -x * way.sin()[:, None, None] + y * way.cos()[:, None, None]
    k = torch.exp(-0.5 * ((a / along[:, None, None]) ** 2 + (b / across[:, None, None]) ** 2))
    return k / k.sum(dim=(1, 2), keepdim=True)


def glare(n, width, height, device):
    """How much of the contrast is left at each pixel (1: all), and what light is added."""
    ys, xs = torch.meshgrid(torch.linspace(0, 1, height, device=device), torch.linspace(0, 1, width, device=device), indexing='ij')
    veil = torch.zeros(n, height, width, device=device)
    for _ in range(2):
        cx, cy = uniform(n, -0.1, 1.1, device), uniform(n, -0.1, 1.1, device)
        way, long, wide = uniform(n, 0, math.pi, device), uniform(n, 0.05, 0.6, device), uniform(n, 0.02, 0.25, device)
        x, y = xs[None] - cx[:, None, None], (ys[None] - cy[:, None, None]) * height / width
        a = x * way.cos()[:, None, None] + y * way.sin()[:, None, None]
        b = -x * way.sin()[:, None, None] + y * way.cos()[:, None, None]
        r = (a / long[:, None, None]) ** 2 + (b / wide[:, None, None]) ** 2
        soft = torch.where(torch.rand(n, device=device) < 0.5, 1.0, 4.0)[:, None, None]
        strength = uniform(n, 0, 1.1, device) * (torch.rand(n, device=device) < 0.22)
        veil = torch.maximum(veil, strength[:, None, None] * torch.exp(-0.5 * r ** soft))
    return veil.clamp(0, 0.98)[:, None]


def expose(x, device, blur):
    """Light, glare, blur and grain on (n, 1, h, w); with the share of contrast that is left where."""
    n, _, h, w = x.shape
    shade = 1 + uniform(n, 0, 0.25, device)[:, None, None, None] * cloud(n, w, h, max(h, w) // 2, device)
    x = x * shade.clamp(0.2, 1.8)
    low = uniform(n, 0, 0.12, device)[:, None, None, None]
    gain = torch.exp(uniform(n, math.log(0.25), math.log(1.3), device))[:, None, None, None]
    x = (x * gain + low * gain).clamp(min=0)
    veil = glare(n, w, h, device)
    x = x * (1 - veil) + veil * uniform(n, 0.7, 1.2, device)[:, None, None, None]
    x = x.clamp(0, 1) ** uniform(n, 0.6, 1.5, device)[:, None, None, None]
    k = kernels(n, blur, device)
    x = F.conv2d(F.pad(x.reshape(1, n, h, w), (5, 5, 5, 5), mode='replicate'), k[:, None], groups=n).reshape(n, 1, h, w)
    grain = uniform(n, 0, 1, device)[:, None, None, None] ** 2 * 0.07
    x = x + grain * (0.7 * torch.randn_like(x) + 0.5 * cloud(n, w, h, 2, device))
    return (x.clamp(0, 1) * 255).round() / 255, 1 - veil


def least_left(left, boxes):
    """The least share of contrast left within boxes (n, k, 4) of the picture's pixels."""
    n, k, _ = boxes.shape
    h, w = left.shape[2:]
    steps = torch.linspace(0, 1, 5, device=left.device)
    fy, fx = torch.meshgrid(steps, steps, indexing='ij')
    x = boxes[..., 0, None] + (boxes[..., 2] - boxes[..., 0])[..., None] * fx.reshape(-1)
    y = boxes[..., 1, None] + (boxes[..., 3] - boxes[..., 1])[..., None] * fy.reshape(-1)
    grid = torch.stack([x / w * 2 - 1, y / h * 2 - 1], -1)
    return F.grid_sample(left, grid, padding_mode='border', align_corners=False)[:, 0].amin(-1)
