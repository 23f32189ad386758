"""Things that are no coupon: lumps, such as pebbles and crumbs of charcoal, and handles and bars of tools."""

import numpy as np

from .hands import rod
from .light import highlight
from .noise import NUMBERS
from .planes import SINGLE, blurred, coloured, inked, mixed, rise, shifted, slopes

AROUND = 1.9  # so far around a lump is drawn, in its radii
LEAST_PX = 4  # of a lump, less is not drawn
ROUGHNESS = 0.3  # of what is glossy


def lump_height(right, down, radius, rough, facets, noise, chance):
    """How far each place is from the middle of a lump, in its radii, and how high; places are given in radii too."""
    turn = np.arctan2(down, right)
    off = np.hypot(right, down) / (1 + 0.13 * noise.smooth(np.cos(turn) * 1.3, np.sin(turn) * 1.3))
    dome = np.sqrt(np.clip(1 - np.minimum(off, 1) ** 2.4, 0, 1))
    height = dome * radius * 0.75 + rough * radius * noise.layered(right * 2.2, down * 2.2, 6, 0.6)
    if facets:
        cells = noise.cells(right * 1.9 + 0.2 * noise.smooth(right * 3, down * 3), down * 1.9)
        lean_right, lean_down = chance.standard_normal((2, NUMBERS)).astype(SINGLE)
        leaning = cells.right * lean_right[cells.number] + cells.down * lean_down[cells.number]
        height = height + facets * radius * leaning
    return off, height


def box_around(middle, radius, size):
    """Slices of rows and columns of a picture in which a lump and its shadow lie."""
    reach = radius * AROUND
    first_x, first_y = (max(int(at - reach), 0) for at in middle)
    last_x, last_y = (min(int(at + reach) + 1, most) for at, most in zip(middle, size))
    return slice(first_y, last_y), slice(first_x, last_x)


def lit_lump(right, down, height, radius, colour, gloss, light, noise):
    """The light that comes from each place of a lump."""
    slope_right, slope_down = slopes(height.astype(SINGLE), 1.0)
    up = 1 / np.sqrt(1 + slope_right * slope_right + slope_down * slope_down)
    around = (light.ambient + 0.2 + 0.5 * light.soft) * (0.4 + 0.6 * up)
    level = light.on_slopes(slope_right, slope_down, up) * 1.6 * (1 - 0.7 * light.soft) + around
    speckled = 1 + 0.2 * noise.layered(right * 3, down * 3, 5, 0.65)
    speckled = speckled + 0.13 * noise.smooth(right * radius / 3, down * radius / 3)
    glint = highlight(-slope_right * up, -slope_down * up, up, light.half(), ROUGHNESS)
    return np.clip(coloured(colour) * inked(speckled), 0.01, 1) * inked(level) + gloss * inked(glint) * 0.3


def with_lump(picture, middle, radius, colour, light, noise, chance, rough, facets=0.0, gloss=0.0):
    """Lays a lump into the picture, which is changed, with its shadow; middle and radius in px."""
    rows, columns = box_around(middle, radius, (picture.shape[1], picture.shape[0]))
    if rows.stop - rows.start < LEAST_PX or columns.stop - columns.start < LEAST_PX:
        return picture
    y, x = np.mgrid[rows, columns].astype(SINGLE)
    turn = chance.uniform(0, 3.14)
    flat = chance.uniform(0.68, 0.98)
    c, s = np.cos(turn), np.sin(turn)
    right = ((x - middle[0]) * c + (y - middle[1]) * s) / radius
    down = (-(x - middle[0]) * s + (y - middle[1]) * c) / radius / flat
    off, height = lump_height(right, down, radius, rough, facets, noise, chance)
    lump = lit_lump(right, down, height, radius, colour, gloss, light, noise)
    cover = 1 - rise(off, 1 - 2.5 / radius, 1 + 0.5 / radius)
    lamp = light.towards[:2]
    away = -lamp / (np.hypot(*lamp) + 1e-6) * radius * 0.5
    shadow = blurred(shifted((off < 1).astype(SINGLE), *away), radius * 0.12) * (0.8 - 0.5 * light.soft)
    picture[rows, columns] = mixed(picture[rows, columns] * inked(1 - shadow), lump, inked(cover))
    return picture


def lit_rod(bar, radius, colour, light, noise, flat, shines):
    """The light that comes from each place of a rod, streaked along it."""
    off = np.clip(bar.across / radius, -1, 1)
    lean = np.sign(off) * np.clip((np.abs(off) - flat) / (1 - flat), 0, 1) * 1.5
    right, down = -bar.direction[1] * lean, bar.direction[0] * lean
    up = 1 / np.sqrt(1 + right * right + down * down)
    lit = light.on_slopes(-right, -down, up)
    streaks = noise.smooth(bar.along / (radius * 0.8), bar.across / (radius * 0.03)) * 0.1
    tone = streaks + noise.layered(bar.along / radius, bar.across / radius * 2, 4, 0.6) * 0.15
    drawn = coloured(colour) * inked(1 + tone) * inked(lit * 1.5 + 0.35)
    if shines:
        drawn += inked(highlight(right * up, down * up, up, light.half(), ROUGHNESS) * 0.12)
    return drawn


def with_rod(picture, start, end, radius, colour, light, noise, flat, taper, shines=True):
    """The picture with a rod of a tool in it, `flat` the share of its width that is level; places and radius in px."""
    bar = rod(picture.shape, start, end, radius, radius * taper)
    half = radius * (1 + (taper - 1) * np.clip(bar.along / bar.length, 0, 1))
    on_bar = (np.abs(bar.across) < half) & (bar.along > 0) & (bar.along < bar.length)
    cover = blurred(on_bar.astype(SINGLE), 0.8)
    drawn = lit_rod(bar, radius, colour, light, noise, flat, shines)
    away = -light.towards[:2] * radius * 0.8
    shadow = blurred(shifted(cover, *away), radius * 0.2) * 0.65
    return mixed(picture * inked(1 - shadow), drawn, inked(cover))
