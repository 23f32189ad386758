"""Pictures without a coupon: a bare bench, tools, a hand, a coin, a pebble, gravel."""

import numpy as np

from .coin import with_coin
from .grounds import SORTS as GROUNDS
from .grounds import ground_of_picture
from .hands import with_finger
from .light import drawn_light
from .noise import Noise
from .phone import drawn_phone, photo
from .planes import SINGLE
from .things import with_lump, with_rod

PICTURES_PX = [(1280, 960), (1440, 1080), (960, 1280)]  # width and height
CHARCOAL = (0.06, 0.06, 0.065)
HANDLE = (0.32, 0.18, 0.08)
TOOL_STEEL = (0.2, 0.2, 0.21)
PEBBLES = [(0.33, 0.31, 0.28), (0.24, 0.22, 0.21), (0.4, 0.33, 0.26)]
SCRAP = [(0.1, 0.1, 0.11), (0.16, 0.1, 0.07), (0.2, 0.2, 0.2)]
TIPS = [0.42, 0.3, 0.27, 0.38]  # how far down the tips of four fingers are, share of the picture
NOT_USED = [3, 4, 4]  # choices that are drawn from so many and left: what comes after depends on them


def bench(picture, light, noise, chance):
    """Only crumbs of charcoal, if anything."""
    h, w = picture.shape[:2]
    for _ in range(chance.integers(0, 5)):
        middle = (chance.uniform(0, w), chance.uniform(0, h))
        radius = chance.uniform(0.02, 0.06) * min(w, h)
        picture = with_lump(picture, middle, radius, CHARCOAL, light, noise, chance, rough=0.1, facets=0.25, gloss=0.2)
    return picture


def tools(picture, light, noise, chance):
    """Up to three tools, each a handle and a bar."""
    h, w = picture.shape[:2]
    shorter = min(w, h)
    for _ in range(chance.integers(1, 4)):
        turn = chance.uniform(0, 6.28)
        middle = np.array([w, h]) * chance.uniform(0.3, 0.7, 2)
        away = np.array([np.cos(turn), np.sin(turn)])
        radius = chance.uniform(0.04, 0.1) * shorter
        ends = middle - away * shorter * 0.7, middle + away * shorter * 0.05
        picture = with_rod(picture, *ends, radius * 0.8, HANDLE, light, noise, flat=0.1, taper=1.1, shines=False)
        ends = middle + away * shorter * 0.04, middle + away * shorter * chance.uniform(0.3, 0.8)
        flat, taper = chance.uniform(0.5, 0.9), chance.uniform(0.5, 1.0)
        picture = with_rod(picture, *ends, radius, TOOL_STEEL, light, noise, flat=flat, taper=taper)
    return picture


def hand(picture, light, noise, chance):
    """Four fingers and a thumb from below."""
    h, w = picture.shape[:2]
    radius = chance.uniform(0.08, 0.13) * min(w, h)
    first = w * chance.uniform(0.2, 0.35)
    for i, high in enumerate(TIPS):
        root = (first + i * 2.15 * radius + chance.normal(0, 8), h + radius)
        tip = (first + i * 2.2 * radius + chance.normal(0, 14), h * high + chance.normal(0, 15))
        picture = with_finger(picture, root, tip, radius, light, noise)
    root, tip = (first - 2 * radius, h * 1.1), (first - 1.7 * radius, h * 0.68)
    return with_finger(picture, root, tip, radius * 1.1, light, noise)


def pebble(picture, light, noise, chance):
    h, w = picture.shape[:2]
    middle = (w / 2 + chance.normal(0, 40), h / 2 + chance.normal(0, 40))
    radius = chance.uniform(0.2, 0.4) * min(w, h)
    colour = PEBBLES[chance.integers(len(PEBBLES))]
    return with_lump(picture, middle, radius, colour, light, noise, chance, rough=chance.uniform(0.01, 0.04))


def gravel(picture, light, noise, chance):
    """Gravel, or scrap, the larger lumps on top."""
    h, w = picture.shape[:2]
    is_scrap = chance.random() < 0.5
    count = int(chance.integers(60, 200))
    lumps = sorted([
        (chance.uniform(0.03, 0.11) * min(w, h), chance.uniform(0, w), chance.uniform(0, h))
        for _ in range(count)
    ])
    for radius, x, y in lumps:
        grey = chance.uniform(0.12, 0.45)
        if is_scrap:
            colour, facets, gloss = SCRAP[chance.integers(len(SCRAP))], 0.3, 0.35
        else:
            colour, facets, gloss = (grey, grey * 0.96, grey * 0.9), 0.12, 0
        lump = {"rough": 0.05, "facets": facets, "gloss": gloss}
        picture = with_lump(picture, (x, y), radius, colour, light, noise, chance, **lump)
    return picture


SORTS = {
    "no_coupon_bench": bench,
    "no_coupon_tools": tools,
    "no_coupon_hand": hand,
    "coin": with_coin,
    "pebble": pebble,
    "gravel": gravel,
}


def empty_picture(seed):
    """A photo without a coupon, and what is true of it."""
    sort = list(SORTS)[int(np.random.default_rng(seed).integers(len(SORTS)))]
    chance = np.random.default_rng(seed * 13 + 1)
    for count in NOT_USED:
        chance.choice(count)
    noise = Noise(chance)
    light = drawn_light(chance)
    w, h = PICTURES_PX[chance.integers(len(PICTURES_PX))]
    px_per_mm = chance.uniform(14, 40)
    phone = drawn_phone(light, chance)
    blur = np.full((h, w), chance.uniform(0.5, 1.3), SINGLE)
    ground = str(chance.choice(GROUNDS))
    picture = ground_of_picture(ground, (w, h), px_per_mm, light, noise, chance)
    picture = SORTS[sort](picture, light, noise, chance)
    taken = photo(picture.astype(SINGLE), phone, blur, chance)
    conditions = {"sort": sort, "light": light.kind, "camera": phone.told()}
    return taken, phone, {"usable": False, "kind": "NoFace", "difficulty": 1, "face": None, "conditions": conditions}
