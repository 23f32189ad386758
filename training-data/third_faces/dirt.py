"""What lies on a face: rust, oil, smears, colours of tempering, dark stains and dust."""

import cv2
import numpy as np

from .planes import SINGLE, blurred, coloured, inked, mixed, rise

RUST = coloured([0.5, 0.27, 0.13])
OIL = coloured([0.8, 1.0, 1.25])  # what it takes away of each colour
SMEAR = coloured([0.55, 0.52, 0.47])
DUST = coloured([1.15, 1.1, 1.0])
# Colours that a hot face takes on, the hotter the further down.
TEMPERED = coloured([[1, 1, 1], [1.12, 0.98, 0.7], [1.05, 0.78, 0.62], [0.75, 0.68, 1.0], [0.7, 0.88, 1.15]])
RUST_LESS = 0.6  # or too much of a face would be hidden
FIBRES = 0.25  # share of dust that is fibres


def rust(picture, light, plane, section, amount, noise, chance):
    spread = noise.layered(plane.x / 1.1, plane.y / 1.1, 5, 0.65)
    fine = noise.layered(plane.x / 0.12, plane.y / 0.12, 3, 0.7)
    share = inked(rise(spread + 0.35 * fine, 1.75 - amount, 2.25 - amount)) * 0.85
    grain = np.clip(noise.layered(plane.x / 0.2, plane.y / 0.2, 4, 0.7), -1.5, 1.8)
    colour = RUST * inked(0.75 + 0.35 * grain)
    return mixed(picture, colour * (0.55 + 0.55 * np.minimum(light, 1.6)), share)


def oil(picture, light, plane, section, amount, noise, chance):
    spread = noise.layered(plane.x / 2.6, plane.y / 2.6, 3, 0.4)
    share = inked(rise(spread, 0.9 - amount * 0.5, 1.1 - amount * 0.4))
    return picture * (1 - 0.28 * amount * share * OIL)


def smear(picture, light, plane, section, amount, noise, chance):
    """A streaked spot as a finger leaves it."""
    middle_x, middle_y = chance.uniform(-0.3, 0.3, 2) * section.size
    turn = chance.uniform(0, 3.14)
    radius = chance.uniform(1.5, 3.5)
    c, s = np.cos(turn), np.sin(turn)
    along = (plane.x - middle_x) * c + (plane.y - middle_y) * s
    across = -(plane.x - middle_x) * s + (plane.y - middle_y) * c
    spot = np.exp(-((along / radius / 1.5) ** 2) - (across / radius) ** 2)
    share = spot * (0.6 + 0.4 * np.sin(across * 12 + 2 * noise.smooth(plane.x / 1.2, plane.y / 1.2)) * 0.6)
    share = inked(share * amount * 0.5)
    return picture * (1 - share) + share * SMEAR * (0.4 + 0.6 * inked(blurred(light[..., 0], 3)))


def temper(picture, light, plane, section, amount, noise, chance):
    turn = chance.uniform(0, 6.28)
    along = (plane.x * np.cos(turn) + plane.y * np.sin(turn)) / max(section.size) * 1.6
    heat = along + 0.5 + 0.15 * noise.layered(plane.x / 2, plane.y / 2, 3)
    heat = inked(np.clip(heat, 0, 1))
    step = np.minimum((heat * 4).astype(int), 3)[..., 0]
    colour = mixed(TEMPERED[step], TEMPERED[step + 1], heat * 4 - inked(step))
    return picture * (1 + (colour - 1) * amount * 0.38)


def dark(picture, light, plane, section, amount, noise, chance):
    spread = noise.layered(plane.x / 1.7, plane.y / 1.7, 5, 0.6)
    return picture * (1 - inked(rise(spread, 1.0, 1.6)) * 0.5 * amount)


def dust(picture, light, plane, section, amount, noise, chance):
    """Grains and fibres."""
    count = int(chance.integers(8, 60) * amount)
    h, w = plane.x.shape
    per_mm = w / (plane.x[0, -1] - plane.x[0, 0])
    layer = np.zeros((h, w), SINGLE)
    for _ in range(count):
        at = (int(chance.uniform(0, w)), int(chance.uniform(0, h)))
        if chance.random() < FIBRES:
            steps = chance.normal(0, 0.25 * per_mm, (1, 2)) + chance.normal(0, 0.08 * per_mm, (5, 2))
            steps = steps + chance.normal(0, 0.12 * per_mm, (1, 2))
            points = np.cumsum(np.r_[[at], steps], 0).astype(np.int32)
            bright = float(chance.uniform(0.3, 0.8))
            cv2.polylines(layer, [points], False, bright, max(1, int(0.02 * per_mm)), cv2.LINE_AA)
        else:
            radius = max(1, int(chance.uniform(0.015, 0.06) * per_mm))
            cv2.circle(layer, at, radius, float(chance.uniform(0.4, 1)), -1, cv2.LINE_AA)
    layer = inked(blurred(layer, 0.7))
    return picture * (1 - layer) + layer * DUST * chance.uniform(0.7, 1.4)


# How each sort is drawn, and how often it is there.
SORTS = {
    "rust": (rust, 0.2),
    "oil": (oil, 0.15),
    "smear": (smear, 0.12),
    "temper": (temper, 0.07),
    "dark": (dark, 0.15),
    "dust": (dust, 0.3),
}


def drawn_dirt(chance):
    """Which sorts lie on a face, and how much of each."""
    dirt = []
    for sort, (_, often) in SORTS.items():
        if chance.random() < often:
            amount = float(chance.uniform(0.4, 1))
            dirt.append((sort, amount * (RUST_LESS if sort == "rust" else 1)))
    return dirt


def dirtied(picture, plane, coupon, noise, chance):
    """The picture of a face with all that lies on it."""
    light = picture.mean(-1, keepdims=True)
    for sort, amount in coupon.dirt:
        draw, _ = SORTS[sort]
        picture = draw(picture, light, plane, coupon.section, amount, noise, chance)
    return picture
