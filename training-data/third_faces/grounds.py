"""What a coupon lies on: wood, cloth, paper, concrete, leather or a plate of steel, in linear light.

Each function takes places in mm and gives the colour and the height, mm, of each.
"""

import numpy as np

from .light import highlight
from .planes import SINGLE, coloured, inked, rise, slopes

LEVEL = 1.7  # how light a ground is that the lamp shines on squarely
STEEPEST_SLOPE = 1.2  # more would give specks
GLOSS = {"leather": 0.05, "steel": 0.25}
ROUGHNESS = 0.35  # of what is glossy
CLOTHS = coloured([[0.1, 0.13, 0.2], [0.4, 0.38, 0.33], [0.16, 0.06, 0.05], [0.05, 0.05, 0.055]])


def wood(x, y, noise, chance):
    """Rings, fibres, pores and dark stains."""
    bent = y + 1.6 * noise.layered(x / 40, y / 12, 3)
    rings = noise.smooth(bent / 2.4, x / 160) * 0.6 + noise.smooth(bent / 0.7, x / 60) * 0.4
    fibres = noise.smooth(y / 0.15, x / 5) * 0.5 + noise.smooth(y / 0.4, x / 14) * 0.5
    tone = inked(0.5 + 0.22 * rings + 0.14 * fibres)
    colour = coloured([0.36, 0.21, 0.11]) * (0.35 + 1.1 * np.clip(tone, 0.05, 1.4)) * chance.uniform(0.55, 1.3)
    colour = colour * inked(1 - 0.55 * rise(noise.layered(x / 9, y / 9, 5, 0.6), 0.6, 1.6))
    pores = rise(noise.smooth(y / 0.12, x / 2.2), 1.1, 1.9)
    return colour * (1 - 0.5 * inked(pores)), fibres * 0.05 + rings * 0.06


def cloth(x, y, noise, chance):
    """Threads over and under each other, and folds."""
    pitch = chance.uniform(0.5, 1.3)
    across = (x + 0.3 * noise.layered(x / 8, y / 8, 3)) / pitch
    down = (y + 0.3 * noise.layered(x / 8, y / 8, 3)) / pitch
    over = (np.floor(across) + np.floor(down)) % 2 > 0
    threads = np.where(over, np.abs(np.sin(np.pi * across)), np.abs(np.sin(np.pi * down))) * 0.16 * pitch
    height = threads + 0.06 * noise.smooth(x / 0.15, y / 0.15) + 1.2 * noise.layered(x / 14, y / 14, 3)
    colour = CLOTHS[chance.integers(len(CLOTHS))] * inked(1 + 0.25 * noise.smooth(across, down))
    return colour * inked(0.7 + 0.3 * np.abs(np.sin(np.pi * (across + down)))), height


def paper(x, y, noise, chance):
    """White, a little stained, sometimes with squares of 5 mm."""
    height = 0.02 * noise.layered(x / 0.4, y / 0.4, 4, 0.7) + 0.3 * noise.layered(x / 25, y / 25, 2)
    colour = coloured([0.78, 0.77, 0.73]) * inked(1 + 0.015 * noise.layered(x / 0.3, y / 0.3, 3))
    colour = colour * inked(1 - 0.12 * rise(noise.layered(x / 12, y / 12, 4), 0.9, 1.8))
    if chance.random() < 0.4:
        from_line = np.minimum(np.abs(np.mod(x, 5) - 2.5), np.abs(np.mod(y, 5) - 2.5))
        line = inked(1 - rise(from_line, 0.08, 0.16)) * 0.35
        colour = colour * (1 - line * coloured([1, 0.7, 0.35]))
    return colour, height


def concrete(x, y, noise, chance):
    """Grey and grainy, with pits."""
    grain = noise.layered(x / 1.5, y / 1.5, 6, 0.65)
    height = 0.06 * grain + 0.4 * noise.layered(x / 10, y / 10, 3)
    colour = coloured([0.33, 0.32, 0.3]) * inked(1 + 0.10 * noise.layered(x / 0.5, y / 0.5, 5, 0.7) + 0.10 * grain)
    pits = rise(noise.smooth(x / 1.4, y / 1.4) + 0.5 * noise.smooth(x / 0.5, y / 0.5), 1.9, 2.3)
    return colour * (1 - 0.6 * inked(pits)), height - 0.4 * pits


def leather(x, y, noise, chance):
    """Small cushions with furrows between them."""
    cells = noise.cells(x / 0.7 + 0.12 * noise.smooth(x, y), y / 0.7 + 0.12 * noise.smooth(x, y))
    from_furrow = cells.second - cells.nearest
    height = 0.09 * rise(from_furrow, 0, 0.35) + 0.5 * noise.layered(x / 9, y / 9, 3)
    colour = coloured([0.17, 0.105, 0.065]) * float(chance.uniform(0.35, 1.1))
    colour = colour * inked(1 + 0.18 * noise.layered(x / 3, y / 3, 4))
    return colour * inked(0.8 + 0.2 * rise(from_furrow, 0, 0.2)), height


def steel(x, y, noise, chance):
    """A plate with scratches along one direction, a little or much rusted."""
    scratches = noise.smooth(x / 0.06, y / 7) * 0.5 + noise.smooth(x / 0.3, y / 20) * 0.4
    height = 0.012 * scratches + 0.05 * noise.layered(x / 6, y / 6, 3)
    colour = coloured([0.2, 0.2, 0.2]) * inked(1 + 0.22 * noise.layered(x / 4, y / 4, 5, 0.6) + 0.10 * scratches)
    spots = inked(rise(noise.layered(x / 6, y / 6, 6, 0.7), 0.9, 2.4))
    rust = spots * (0.8 if chance.random() < 0.5 else 0.12)
    grain = inked(1 + 0.3 * noise.layered(x / 0.4, y / 0.4, 3))
    return colour * (1 - rust) + rust * coloured([0.15, 0.095, 0.06]) * grain, height


GROUNDS = {"wood": wood, "cloth": cloth, "paper": paper, "concrete": concrete, "leather": leather, "steel": steel}
SORTS = list(GROUNDS)


def turned_places(w, h, px_per_mm, chance):
    """Places of a picture in mm of a ground that lies turned by chance."""
    turn = chance.uniform(0, 6.28)
    x, y = np.meshgrid(np.arange(w, dtype=SINGLE), np.arange(h, dtype=SINGLE))
    x = x / px_per_mm
    y = y / px_per_mm
    return x * np.cos(turn) - y * np.sin(turn), x * np.sin(turn) + y * np.cos(turn)


def drawn_ground(sort, x, y, px_per_mm, light, noise, chance):
    """A ground of a sort at places in mm, lit."""
    colour, height = GROUNDS[sort](x, y, noise, chance)
    right, down = slopes(height.astype(SINGLE), px_per_mm)
    right = np.clip(right, -STEEPEST_SLOPE, STEEPEST_SLOPE)
    down = np.clip(down, -STEEPEST_SLOPE, STEEPEST_SLOPE)
    up = 1 / np.sqrt(1 + right * right + down * down)
    around = (light.ambient + 0.35 + light.soft * 0.6) * (0.6 + 0.4 * up)
    level = light.on_slopes(right, down, up) * (1 - light.soft * 0.85) * LEVEL + around
    ground = np.clip(colour, 0.004, 1.2) * inked(level)
    if sort in GLOSS:
        glint = highlight(-right * up, -down * up, up, light.half(), ROUGHNESS)
        ground = ground + GLOSS[sort] * 0.25 * inked(glint)
    return ground.astype(SINGLE)


def ground_of_picture(sort, size, px_per_mm, light, noise, chance):
    """A ground that fills a picture of this width and height."""
    x, y = turned_places(*size, px_per_mm, chance)
    return drawn_ground(sort, x, y, px_per_mm, light, noise, chance)
