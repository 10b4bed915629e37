"""The two networks: where a row of figures is, and what it says."""
import torch
from torch import nn

SIGNS = '0123456789-.L?'  # with the blank of CTC before them


class Layer(nn.Module):
    """A convolution that keeps the size but for its stride, its scale, and a rectifier."""

    def __init__(self, come, go, size=3, stride=1, dilation=1, last=False, valid=False):
        super().__init__()
        kh, kw = size if isinstance(size, tuple) else (size, size)
        pad = (0 if valid else dilation * (kh // 2), dilation * (kw // 2))
        self.conv = nn.Conv2d(come, go, (kh, kw), stride, pad, dilation, bias=last)
        self.norm = None if last else nn.BatchNorm2d(go)

    def forward(self, x, more=None):
        x = self.conv(x)
        if self.norm is not None:
            x = self.norm(x)
        if more is not None:
            x = nn.functional.interpolate(x, scale_factor=2, mode='nearest') + more
        return x if self.norm is None else torch.relu(x)


class Find(nn.Module):
    """A frame -> log odds that a cell of four pixels belongs to the row of figures."""

    def __init__(self):
        super().__init__()
        self.layers = nn.ModuleList([
            Layer(1, 8, 5, 2), Layer(8, 16, 3, 2), Layer(16, 16), Layer(16, 32, 3, 2), Layer(32, 32), Layer(32, 48, 3, 2),
            Layer(48, 48), Layer(48, 48, dilation=2), Layer(48, 48, dilation=4), Layer(48, 32, 1), Layer(32, 32),
            Layer(32, 16, 1), Layer(16, 16), Layer(16, 1, 1, last=True)])

    def forward(self, x):
        n = self.layers
        at4 = n[2](n[1](n[0](x)))
        at8 = n[4](n[3](at4))
        deep = n[8](n[7](n[6](n[5](at8))))
        up = n[10](n[9](deep, at8))
        return n[13](n[12](n[11](up, at4)))


class Read(nn.Module):
    """A strip 32 pixels high -> for each four columns the log odds of the signs."""

    def __init__(self):
        super().__init__()
        self.layers = nn.Sequential(
            Layer(1, 24, 5, 2), Layer(24, 40), Layer(40, 64, 3, 2), Layer(64, 64), Layer(64, 80, 3, (2, 1)),
            Layer(80, 80, (4, 3), valid=True), Layer(80, 64, (1, 5)), Layer(64, 64, (1, 5)), Layer(64, 64, (1, 5), dilation=2),
            Layer(64, 64, (1, 5), dilation=4), Layer(64, 1 + len(SIGNS), 1, last=True))

    def forward(self, x):
        return self.layers(x)[:, :, 0]


def even(x):
    """Each picture of a batch with mean 0 and spread 1."""
    mean = x.mean(dim=(1, 2, 3), keepdim=True)
    return (x - mean) / (x.std(dim=(1, 2, 3), keepdim=True, unbiased=False) + 0.02)
