"""A coupon in its surroundings: what it lies on, what holds it, and the face on top, in linear light."""

from dataclasses import dataclass

import cv2
import numpy as np

from .grounds import SORTS, ground_of_picture
from .hands import with_finger
from .holding import with_bar, with_vice
from .planes import SINGLE, blurred, inked, mixed

VICE, FINGERS = "vice", "fingers"
SURROUNDINGS = SORTS + [VICE, FINGERS, VICE, FINGERS]
LENGTHS_MM = (4, 28)  # of coupons
IN_VICE_MM = 3.0  # so much of a bar is seen above a vice
CENTRES = np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]])  # from numbers of pixels to their middles


@dataclass
class Scene:
    """All that light and places of a picture are known of."""

    picture: np.ndarray  # linear light
    grid: tuple  # which place of the face's plane is seen at each pixel, mm
    surroundings: str


def between_fingers(picture, coupon, camera, light, noise, chance):
    """The picture with a finger on each of two sides of the coupon."""
    middle = camera.px([[0, 0]])[0]
    radius = chance.uniform(6.5, 9) * camera.px_per_mm() * 0.9
    radius = min(radius, 0.42 * min(camera.width, camera.height))
    turn = chance.uniform(0, 6.28)
    outline = camera.px(coupon.section.outline())
    for other in (0, np.pi * chance.uniform(0.85, 1.15)):
        away = np.array([np.cos(turn + other), np.sin(turn + other)])
        reach = max((outline - middle) @ away)
        tip = middle + away * (reach + radius * 0.55)
        root = tip + away * 4 * radius + chance.normal(0, radius * 0.6, 2)
        picture = with_finger(picture, root, tip, radius, light, noise)
    return blurred(picture.astype(SINGLE), chance.uniform(0.7, 2.2))


def drawn_surroundings(sort, coupon, camera, grid, light, noise, chance):
    """Everything but the face."""
    under = sort if sort in SORTS else chance.choice(SORTS)
    length = float(chance.uniform(*LENGTHS_MM))
    px_per_mm = camera.px_per_mm() * camera.above / (camera.above + length)
    in_picture = light.seen_by(camera)
    size = (camera.width, camera.height)
    picture = ground_of_picture(under, size, px_per_mm, in_picture, noise, chance) * chance.uniform(0.5, 1.1)
    out_of_focus = chance.uniform(0.8, 2.5) + (chance.uniform(2, 9) if sort in (VICE, FINGERS) else 0.12 * length)
    picture = blurred(picture, out_of_focus)
    if sort == VICE:
        picture = with_vice(picture, coupon, camera, grid, light, noise, chance).astype(SINGLE)
        picture = blurred(picture, chance.uniform(0.6, 1.8))
        length = IN_VICE_MM
    if sort == FINGERS:
        picture = between_fingers(picture, coupon, camera, in_picture, noise, chance)
    picture = with_bar(picture, coupon, camera, length, grid, light, noise)
    return blurred(picture.astype(SINGLE), 0.5)


def laid_on(picture, face, camera):
    """The face, from its own plane into the picture."""
    to_plane = face.plane.from_mm() @ camera.to_mm @ CENTRES
    size = (camera.width, camera.height)
    how = cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP
    light = face.picture * face.level
    finer = face.plane.per_mm / camera.px_per_mm()
    if finer > 1.25:  # or grains would turn into specks
        light = blurred(light.astype(SINGLE), 0.35 * finer)
    light = cv2.warpPerspective(light.astype(SINGLE), to_plane, size, flags=how, borderMode=cv2.BORDER_REPLICATE)
    cover = cv2.warpPerspective(face.cover, to_plane, size, flags=how, borderValue=0)
    return mixed(picture, light, inked(cover))


def drawn_scene(coupon, face, camera, light, noise, chance):
    """The whole scene; a lamp nearby shines less on what is farther from it."""
    grid = camera.mm_grid()
    sort = chance.choice(SURROUNDINGS)
    picture = drawn_surroundings(sort, coupon, camera, grid, light, noise, chance)
    picture = laid_on(picture, face, camera)
    nearer = grid[0] * light.towards[0] + grid[1] * light.towards[1]
    falling = 1 + chance.uniform(0, 0.25) * nearer / (max(coupon.section.size) * 0.5 + 6)
    return Scene(picture * inked(np.clip(falling, 0.45, 1.7)), grid, sort)
