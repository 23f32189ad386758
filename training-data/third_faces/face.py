"""The broken face of a coupon, drawn on its own plane: relief, bands, light, colour and dirt."""

from dataclasses import dataclass
from typing import NamedTuple

import cv2
import numpy as np

from .bands import hollow_chip, lay_bands
from .carbon import shares_at
from .dirt import dirtied
from .light import BELOW_MM, shine, unshadowed
from .planes import SINGLE, blurred, inked, mixed, rise, slopes
from .relief import Finish, case_layer, core_layer, run_from
from .surface import Outline, Plane, Surface

BEYOND = 9.0  # depth of a face without any case, in depths of a case
WIDTH_OF_LOGISTIC = 4.394  # from a tenth to nine tenths, in its own unit
STEEL = (1.0, 0.985, 0.965)  # red, green and blue


class Cased(NamedTuple):
    """How deep each place lies, 1 at the border of the case; its share of case, and that without the grains in it."""

    depth: np.ndarray
    share: np.ndarray
    even: np.ndarray


@dataclass
class Face:
    """A face as it is seen from the camera, still on its own plane."""

    plane: Plane
    picture: np.ndarray  # linear light, about 1
    cover: np.ndarray  # how much of each place is face
    outside: np.ndarray  # distance from the outline, mm
    depth: np.ndarray  # as in `Cased`
    bands: list
    chip: np.ndarray
    level: float = 1.0  # how light it is in the scene


def cased(plane, outline, coupon, noise):
    """Where the case of a coupon is."""
    x, y = plane.x, plane.y
    if coupon.has_border:
        depth = shares_at(coupon.case, coupon.section, x, y, noise)
    else:
        depth = np.zeros_like(x) if coupon.is_through else np.full_like(x, BEYOND)
    grain = 0.5 * coupon.case.mixing + 0.02
    mixing = noise.layered(x / grain, y / grain, 2)
    if coupon.is_through:
        middle = outline.formed.min()
        near_middle = np.exp(-((middle - outline.formed) ** 2) / (0.35 * middle) ** 2)
        share = np.clip(1 - 0.35 * coupon.relief.soft_middle * near_middle * (1 + 0.5 * mixing), 0, 1).astype(SINGLE)
        return Cased(depth, share, share)
    transition = coupon.case.transition
    unit = transition / WIDTH_OF_LOGISTIC
    grained = np.clip((depth - 1 + 0.28 * transition * mixing) / (unit * 0.93), -30, 30)
    even = np.clip((depth - 1) / (unit * 1.1), -30, 30)
    return Cased(depth, (1 / (1 + np.exp(grained))).astype(SINGLE), (1 / (1 + np.exp(even))).astype(SINGLE))


def waves(plane, coupon, run, case, noise):
    """The large ups and downs of the surface, and ridges that run out from where the crack began; less in the case."""
    x, y, relief = plane.x, plane.y, coupon.relief
    size = 0.45 * coupon.section.size[1] + 1.2
    high = noise.layered(x / size, y / size, 4, 0.42) * relief.high
    turn = run.turn + 0.28 / relief.ridges * noise.layered(x / 1.5, y / 1.5, 3)
    broad = noise.smooth(turn * relief.ridges, run.logarithm * 2.3)
    narrow = 0.5 * noise.smooth(turn * relief.ridges * 2.1, run.logarithm * 4.2)
    ridges = (broad + narrow) * relief.ridge_height * rise(run.distance, 0.8, 4.0)
    return (high + ridges * (1 - 0.55 * case.even)).astype(SINGLE)


def broken(plane, outline, coupon, run, case, large, noise, chance):
    """The surface of core and case; and how much the core is raised."""
    relief, per_mm = coupon.relief, plane.per_mm
    core = core_layer(plane, coupon, run, noise, chance)
    casing = case_layer(plane, coupon, run, noise, chance)
    width, height = coupon.section.size
    lean = relief.lean * noise.smooth(plane.x / (0.35 * width + 1), plane.y / (0.35 * height + 1))
    lean = lean * np.clip(outline.formed, -2 * coupon.case.depth, 0) * case.even
    raised = relief.case_raised * rise(case.depth, 0.7, 1.35 + coupon.case.transition)
    raised = raised * (1 + 0.3 * noise.smooth(plane.x / 0.4, plane.y / 0.4))
    bevel = outline.bevel
    in_core, in_case = 1 - case.even, case.even
    relief_of_core = (core.height - core.height.mean()) * in_core
    relief_of_case = (casing.height - casing.height.mean()) * in_case
    height = large + relief_of_core + relief_of_case + blurred(raised.astype(SINGLE), 0.04 * per_mm) + lean
    height -= bevel
    right, down = slopes(blurred((large + raised + lean - bevel).astype(SINGLE), 0.8), per_mm)
    right = right + core.right * (1 - case.share) + casing.right * case.share
    down = down + core.down * (1 - case.share) + casing.down * case.share
    finish = Finish(*(mixed(under, over, case.share) for under, over in zip(core.finish, casing.finish)))
    surface = Surface(height, right, down, finish)
    wide = np.clip(blurred(height, 0.12 * per_mm) - height, 0, 0.25)
    narrow = np.clip(blurred(height, 0.04 * per_mm) - height, 0, 0.2)
    surface.open = np.exp(-relief.hollows * wide * (1 - 0.6 * case.share)) * np.exp(-0.5 * relief.hollows * narrow)
    if core.edges is not None:
        surface.tone *= 1 - 0.45 * core.edges * (1 - case.share)
    if casing.edges is not None:
        surface.tone *= 1 - 0.5 * casing.edges * case.share
    return surface, raised


def lit(surface, plane, outline, light, camera):
    """How light each place is."""
    standing = np.where(outline.torn < 0, surface.height, BELOW_MM).astype(SINGLE)
    reached = unshadowed(standing, light, plane.per_mm)
    right, down = surface.right.astype(SINGLE), surface.down.astype(SINGLE)
    direct, around = shine(right, down, surface.finish, light, camera.towards)
    return (direct * (reached * 0.96 + 0.04) + around * surface.open) * surface.tone


def contrasted(shades, outline, coupon, case, banded):
    """Makes the case as much lighter or darker than the core as was asked, whatever light and relief made of it."""
    counted = (outline.left < -0.12) & (banded < 0.1)
    capped = np.clip(shades, 0, 3 * np.median(shades[counted]))
    in_core = counted & (case.depth > 1.25)
    of_case = capped[counted & (case.depth < 0.8)].mean()
    of_core = capped[in_core].mean() if in_core.sum() > 50 else of_case
    gain = np.clip(of_core / of_case * np.exp(coupon.look.contrast), 0.3, 3.5)
    return shades * gain ** (case.share * (1 - banded))


def tinted(shades, coupon, case, banded):
    """The colours of steel, the case with its own tint."""
    steel = np.stack([np.full_like(shades, part) for part in STEEL], -1)
    tint = np.array(coupon.look.case_tint, SINGLE)
    return inked(shades) * (steel * (1 + inked(case.share) * (1 - inked(banded)) * tint))


def drawn_face(coupon, camera, light, noise, chance):
    """The face of a coupon."""
    plane = Plane(coupon.section, camera.px_per_mm())
    outline = Outline(coupon, plane, noise)
    case = cased(plane, outline, coupon, noise)
    run = run_from(coupon.origin, plane.x, plane.y)
    large = waves(plane, coupon, run, case, noise)
    surface, raised = broken(plane, outline, coupon, run, case, large, noise, chance)
    bands = lay_bands(surface, coupon, plane, outline, large, noise)
    banded = np.zeros_like(plane.x)
    for band in bands:
        banded = np.maximum(banded, band)
    chip = hollow_chip(surface, plane, outline, noise)
    surface.height = surface.height.astype(SINGLE)
    shades = lit(surface, plane, outline, light, camera)
    if coupon.has_border:
        shades = contrasted(shades, outline, coupon, case, banded)
    patches = 1 + coupon.relief.patches * noise.layered(plane.x / 2.5, plane.y / 2.5, 4, 0.55)
    shades = shades * patches.clip(0.3, 2)
    shades /= np.median(shades[outline.left < -0.1])
    picture = dirtied(tinted(shades, coupon, case, banded), plane, coupon, noise, chance)
    relief = np.where(banded > 0.5, 0, large + raised)
    return seen(plane, outline, case, bands, chip, picture, relief, camera)


def seen(plane, outline, case, bands, chip, picture, relief, camera):
    """The face with all of it moved to where the camera sees it over the plane, since it is not flat."""
    high = blurred(relief.astype(SINGLE), 0.15 * plane.per_mm)
    column, row = plane.place(*camera.unlift(plane.x, plane.y, high))
    column, row = column.astype(SINGLE), row.astype(SINGLE)

    def moved(values, how=cv2.INTER_LINEAR):
        return cv2.remap(values.astype(SINGLE), column, row, how, borderMode=cv2.BORDER_REPLICATE)

    return Face(
        plane=plane,
        picture=moved(picture),
        cover=np.clip(0.5 - moved(outline.torn) * plane.per_mm, 0, 1).astype(SINGLE),
        outside=moved(outline.left),
        depth=moved(case.depth, cv2.INTER_CUBIC),
        bands=[moved(band) for band in bands],
        chip=moved(chip),
    )
