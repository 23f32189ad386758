"""A coin: a rim with teeth, a flower in the middle and marks that look like writing. It is of no country."""

import numpy as np

from .light import shine
from .planes import SINGLE, blurred, coloured, inked, mixed, places, rise, shifted, slopes
from .relief import Finish

METALS = [[1, 0.74, 0.38], [0.95, 0.95, 0.92], [0.8, 0.45, 0.27]]
FINISH = Finish(0.3, 0.3, 0.4)
FROM_ABOVE = np.array([0, 0, 1.0])
TEETH = 40
PETALS = 5
MARKS = 14
FIRST_MARK_RAD, NEXT_MARK_RAD = 3.6, 0.16  # where marks are round the coin
LEVEL = 0.22  # light of the coin


def relief_of_coin(right, down):
    """Rim, teeth and flower; places and heights are in radii of the coin."""
    off = np.hypot(right, down)
    turn = np.arctan2(down, right)
    rim = 0.05 * rise(off, 0.9, 0.93)
    teeth = 0.02 * rise(np.cos(turn * TEETH), 0.2, 0.6) * rise(off, 0.83, 0.85) * (1 - rise(off, 0.87, 0.89))
    petals = np.hypot(right, down * 1.1) - 0.33 - 0.12 * np.cos(PETALS * turn)
    middle = np.hypot(right - 0.02, down) - 0.14
    return rim + teeth + 0.06 * rise(-petals, -0.05, 0.08) + 0.035 * rise(-middle, -0.04, 0.05)


def with_marks(height, right, down, chance):
    """Round marks in a row along the rim, each of its own size."""
    for i in range(MARKS):
        at = FIRST_MARK_RAD + i * NEXT_MARK_RAD
        away = np.hypot(right - 0.68 * np.cos(at), down - 0.68 * np.sin(at))
        height = height + 0.03 * rise(-(away - chance.uniform(0.03, 0.05)), -0.015, 0.01)
    return height


def coin_height(right, down, radius, noise, chance):
    """How high each place of a worn coin is, px; places are in its radii, the radius in px."""
    height = with_marks(relief_of_coin(right, down), right, down, chance)
    worn = height + 0.0015 * noise.layered(right * 30, down * 30, 4, 0.7)
    return blurred(worn.astype(SINGLE), radius * 0.012) * radius


def with_coin(picture, light, noise, chance):
    """The picture with a coin in its middle."""
    h, w = picture.shape[:2]
    x, y = places(h, w)
    radius = chance.uniform(0.2, 0.42) * min(w, h)
    middle_x = w / 2 + chance.normal(0, 30)
    middle_y = h / 2 + chance.normal(0, 30)
    turn = chance.uniform(0, 6.28)
    c, s = np.cos(turn), np.sin(turn)
    from_x, from_y = (x - middle_x) / radius, (y - middle_y) / radius
    right, down = from_x * c - from_y * s, from_x * s + from_y * c
    off = np.hypot(right, down)
    height = coin_height(right, down, radius, noise, chance)
    direct, around = shine(*slopes(height, 1.0), FINISH, light, FROM_ABOVE)
    level = direct + around
    level = level / np.median(level[off < 0.95]) * LEVEL * (1 + 0.1 * noise.layered(right * 4, down * 4, 5, 0.6))
    metal = coloured(METALS[chance.integers(len(METALS))])
    cover = inked(1 - rise(off, 1 - 2 / radius, 1))
    away = -light.towards[:2] * radius * 0.1
    shadow = inked(blurred(shifted((off < 1).astype(SINGLE), *away), radius * 0.03)) * 0.6
    return mixed(picture * (1 - shadow), inked(level) * metal, cover)
