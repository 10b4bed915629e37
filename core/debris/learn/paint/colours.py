"""Colours of grounds, fluids and pieces: linear reflectances, wide on purpose."""
import numpy as np
from .noise import pick


def lin(*c):
    v = np.asarray(c, np.float32) / 255
    return np.where(v <= 0.04045, v / 12.92, ((v + 0.055) / 1.055) ** 2.4).astype(np.float32)


def to_srgb(x):
    x = np.clip(x, 0, 1)
    return np.where(x <= 0.0031308, 12.92 * x, 1.055 * np.maximum(x, 1e-9) ** (1 / 2.4) - 0.055)


def jitter(rng, c, amount=0.08, gain=0.25):
    c = np.asarray(c, np.float32)
    return np.clip(c * (1 + rng.normal(size=3) * amount) * np.exp(rng.normal() * gain), 0.004, 0.95).astype(np.float32)


# transmittance of a full layer
OILS = [(.72, .16, .13), (.58, .13, .10), (.44, .15, .075), (.66, .36, .13), (.34, .17, .07), (.17, .085, .045), (.065, .045, .035), (.72, .42, .38), (.8, .6, .25), (.5, .5, .2), (.3, .3, .28), (.25, .32, .42)]


def oil(rng):
    return np.clip(jitter(rng, pick(rng, OILS), 0.12, 0.25), 0.02, 0.92)


def paper(rng):
    k = rng.random()
    if k < 0.62:
        c = rng.uniform(0.55, 0.86) * np.array([1, rng.uniform(.96, 1.01), rng.uniform(.88, 1.03)])
    elif k < 0.72:
        c = np.array(pick(rng, [(.45, .32, .2), (.55, .42, .28), (.62, .52, .38)])) * rng.uniform(.7, 1.15)     # kraft, filter
    elif k < 0.82:
        c = np.array(pick(rng, [(.25, .4, .62), (.35, .55, .75), (.2, .45, .5), (.5, .6, .7)])) * rng.uniform(.6, 1.2)
    elif k < 0.9:
        c = np.array(pick(rng, [(.7, .6, .25), (.75, .65, .45), (.4, .6, .35), (.75, .45, .45), (.6, .2, .15)])) * rng.uniform(.6, 1.2)
    else:
        c = np.full(3, rng.uniform(.06, .5)) * (1 + rng.normal(size=3) * .05)
    return np.clip(c, .02, .9).astype(np.float32)


PAINTS = [(.19, .2, .21), (.03, .03, .033), (.3, .31, .32), (.05, .08, .16), (.06, .12, .08), (.35, .32, .26), (.12, .10, .09), (.5, .5, .48), (.2, .06, .04), (.08, .09, .10)]


def paint(rng):
    return jitter(rng, pick(rng, PAINTS), .06, .35)


def bare(rng):
    """Metal of a floor: steel, zinc, aluminium, tarnished."""
    g = rng.uniform(.3, .8)
    return np.clip(g * np.array([1, .985, .965 + rng.normal() * .03]) * (1 + rng.normal(size=3) * .015), .1, .92).astype(np.float32)
