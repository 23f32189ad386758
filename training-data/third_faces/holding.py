"""What is seen of a coupon besides its face: the sides of the bar behind it, its shadow, and the vice that holds it."""

import cv2
import numpy as np

from .grounds import drawn_ground
from .kinds import RECTANGLE
from .planes import SINGLE, blurred, coloured, inked, mixed, rise, shifted

MOST_SLICES = 420
MOST_POINTS = 400
SHADOW_STEPS = 14
SHADOW_HEIGHT_MM = 14  # what stands higher throws no longer shadow
NEAR_MM = 0.05  # over which the slope of the outline is taken


def slices(shape, camera, outline, length):
    """Which slice of the bar is seen at each pixel, 0 none, the last one the face; and how high each slice lies, mm."""
    behind = np.c_[camera.lift(outline[:, 0], outline[:, 1], -length)]
    count = int(np.abs(camera.px(behind) - camera.px(outline)).max() / 1.3) + 2
    heights = np.linspace(-length, 0, min(count, MOST_SLICES))
    number = np.full(shape, 0, np.uint16)
    points = outline[:: max(1, len(outline) // MOST_POINTS)]
    for i, height in enumerate(heights):
        seen = camera.px(np.c_[camera.lift(points[:, 0], points[:, 1], height)])
        cv2.fillPoly(number, [np.round((seen - 0.5) * 16).astype(np.int32)], i + 1, shift=4)
    return number, heights


def scaled(along, height, noise):
    """The colour of a wall with mill scale: dark, flaked off here and there, with some rust."""
    tone = noise.layered(along / 1.2, height / 1.2, 5, 0.65)
    colour = coloured([0.10, 0.10, 0.115]) * inked(1 + 0.35 * tone)
    flaked = inked(rise(noise.layered(along / 1.6, height / 1.6, 4, 0.6), 0.7, 1.1))
    colour = mixed(colour, coloured([0.26, 0.235, 0.22]), flaked)
    rust = inked(rise(noise.layered(along / 2, height / 2, 5, 0.65), 0.9, 1.8)) * 0.6
    return mixed(colour, coloured([0.25, 0.12, 0.06]), rust)


def scratched(along, height, lit, light, noise):
    """The colour of a wall that was ground bright."""
    tone = noise.smooth(height / 0.07, along / 4) * 0.5 + noise.smooth(height / 0.25, along / 8) * 0.4
    colour = coloured([0.33, 0.33, 0.33]) * inked(1 + 0.22 * tone)
    return colour * inked(1 + 0.9 * lit**3 * (1 - light.soft))


def shadow_of(bar, camera, length, light):
    """How dark the shadow of a bar is on what is behind it."""
    lamp, px_per_mm = light.towards, camera.px_per_mm()
    away = np.array([camera.rotation[0, :2] @ lamp[:2], camera.rotation[1, :2] @ lamp[:2]])
    flat = np.hypot(*lamp[:2]) + 1e-6
    reach = min(length, SHADOW_HEIGHT_MM) * flat / lamp[2]
    shadow = np.zeros_like(bar)
    for t in np.linspace(0, 1, SHADOW_STEPS):
        right, down = -away / flat * reach * t * px_per_mm * 0.8
        shadow = np.maximum(shadow, shifted(bar, right, down))
    return blurred(shadow, 0.5 * px_per_mm * (1 + 3 * light.soft)) * (0.82 - 0.5 * light.soft)


def with_bar(picture, coupon, camera, length, grid, light, noise):
    """The picture with the bar behind the face and its shadow; `grid` are the places seen, in mm of the face's plane."""
    section, lamp = coupon.section, light.towards
    number, heights = slices(picture.shape[:2], camera, section.outline(), length)
    height = heights[np.clip(number.astype(int) - 1, 0, len(heights) - 1)].astype(SINGLE)
    x, y = (place.astype(SINGLE) for place in camera.unlift(*grid, height))
    right = (section.outside(x + NEAR_MM, y) - section.outside(x - NEAR_MM, y)) / (2 * NEAR_MM)
    down = (section.outside(x, y + NEAR_MM) - section.outside(x, y - NEAR_MM)) / (2 * NEAR_MM)
    if section.is_round:
        along = np.arctan2(y, x) * section.size[0] / 2
    else:
        along = np.where(np.abs(right) > np.abs(down), y, x)
    lit = np.clip(right * lamp[0] + down * lamp[1], 0, 1)
    if coupon.wall == "scale":
        colour = scaled(along, height, noise)
    else:
        colour = scratched(along, height, lit, light, noise)
    level = lit * 1.6 * (1 - 0.7 * light.soft) + light.ambient + 0.2 + light.soft * 0.35
    level = level * (0.55 + 0.45 * np.exp(height / (length * 0.6 + 1)))
    bar = (number > 0).astype(SINGLE)
    picture = picture * (1 - inked(shadow_of(bar, camera, length, light)))
    return mixed(picture, colour * inked(level), inked(blurred(bar, 0.6)))


def with_vice(picture, coupon, camera, grid, light, noise, chance):
    """The picture with the jaws of a vice on both sides of the coupon, a little below its face."""
    section = coupon.section
    x, y = camera.unlift(*grid, -chance.uniform(1.5, 4))
    chance.random()  # not used, but what comes after depends on it
    if section.shape == RECTANGLE:
        across, along, gap = y, x, section.size[1] / 2
    else:
        across, along, gap = x, y, section.size[0] / 2
    px_per_mm = camera.px_per_mm()
    jaws = drawn_ground("steel", along.astype(SINGLE), across.astype(SINGLE), px_per_mm, light, noise, chance)
    from_edge = np.abs(across) - gap
    one_way = np.abs(np.sin((along + across) * 2.1 + 0.2 * noise.smooth(across / 2, along / 2)))
    other_way = np.abs(np.sin((along - across) * 2.1 + 0.2 * noise.smooth(across / 2, along / 2)))
    wide = chance.uniform(2.5, 5)
    grooves = np.maximum(1 - rise(one_way, 0, 0.35), 1 - rise(other_way, 0, 0.35)) * (1 - rise(from_edge, wide, wide + 0.2))
    grooves = grooves * (chance.random() < 0.5)
    shade = np.clip(1 - 0.3 * blurred(grooves.astype(SINGLE), 2.5), 0.3, 1.2)
    jaws = jaws * inked(shade * (0.55 + 0.45 * rise(from_edge, 0, 0.35)))
    between = np.full_like(picture, 0.012) + 0.25 * picture * 0.3
    return mixed(between, jaws, inked(rise(from_edge, -0.02, 0.05)))
