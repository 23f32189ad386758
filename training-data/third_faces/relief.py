"""Relief of core and case: grains that were torn, split along crystals, or are too fine to see."""

from typing import NamedTuple

import numpy as np

from .look import CRYSTAL, HARD, MIXED, TORN
from .noise import NUMBERS
from .planes import SINGLE, blurred, rise, slopes

SILK_GRAIN_MM = 0.03
STEEPEST_SLOPE = 1.7  # torn metal comes near to it


class Finish(NamedTuple):
    """How metal shines: how wide its highlight is, how much it scatters, how much it mirrors."""

    roughness: float
    matt: float
    gloss: float


class Layer(NamedTuple):
    """Height, mm, slopes and finish of one sort of surface; and how near a place is to an edge of a grain, 0 to 1."""

    height: np.ndarray
    right: np.ndarray
    down: np.ndarray
    finish: Finish
    edges: np.ndarray | None = None


class Run(NamedTuple):
    """Where each place is from where the crack began."""

    turn: np.ndarray  # radians
    distance: np.ndarray  # mm
    logarithm: np.ndarray  # of the distance


def run_from(origin, x, y):
    turn = np.arctan2(y - origin[1], x - origin[0])
    distance = np.hypot(x - origin[0], y - origin[1])
    return Run(turn.astype(SINGLE), distance.astype(SINGLE), np.log(distance + 0.5).astype(SINGLE))


def facets(plane, noise, chance, grain, steep, finish, inner=0.22, warp=0.05, river=0.13):
    """Crystals split flat: tilted facets, smaller ones in them, and river lines on some."""
    x, y = plane.x / grain, plane.y / grain
    warped_x = x + warp * noise.smooth(x * 1.7, y * 1.7) + 0.28 * noise.smooth(x / 5, y / 5)
    warped_y = y + warp * noise.smooth(x * 1.7, y * 1.7) + 0.28 * noise.smooth(x / 5, y / 5)
    cells = noise.cells(warped_x, warped_y)
    lean_right, lean_down, step, river_turn = chance.standard_normal((4, NUMBERS)).astype(SINGLE)
    right = np.clip(lean_right, -1.9, 1.9)[cells.number] * steep
    down = np.clip(lean_down, -1.9, 1.9)[cells.number] * steep
    step = step[cells.number]
    height = (cells.right * right + cells.down * down) * grain + step * grain * steep * 0.22
    size = 0.38
    small = noise.cells(warped_x / size + 3.3, warped_y / size + 1.7)
    small_right, small_down = chance.standard_normal((2, NUMBERS)).astype(SINGLE)
    fine = grain / 0.035
    fine_x, fine_y = warped_x * fine, warped_y * fine
    right = right + small_right[small.number] * steep * inner + 0.10 * noise.smooth(fine_x, fine_y)
    down = down + small_down[small.number] * steep * inner + 0.10 * noise.smooth(fine_x, fine_y)
    turn = river_turn[cells.number] * 3
    phase = (cells.right * np.cos(turn) + cells.down * np.sin(turn)) * 9 + 0.8 * noise.smooth(warped_x * 3, warped_y * 3)
    lines = np.sin(phase * 2.2) * river * steep * (np.abs(step) > 0.5)
    right = right + lines * np.cos(turn)
    down = down + lines * np.sin(turn)
    edges = np.exp(-(((cells.second - cells.nearest) / 0.07) ** 2))
    return Layer(height.astype(SINGLE), right.astype(SINGLE), down.astype(SINGLE), finish, edges.astype(SINGLE))


def torn(plane, noise, chance, run, grain, strength, finish):
    """Tough metal pulled apart: bowls of several sizes with sharp ridges between them, drawn out along one direction."""
    x, y = plane.x, plane.y
    warp = 1.1 * grain
    warped_x = x + warp * 0.6 * noise.layered(x / (2.2 * grain), y / (2.2 * grain), 2)
    warped_y = y + warp * 0.6 * noise.layered(x / (2.2 * grain), y / (2.2 * grain), 2)
    height = np.zeros_like(x)
    turn = chance.uniform(0, 6.28)
    c, s = float(np.cos(turn)), float(np.sin(turn))
    drawn_out = chance.uniform(1.1, 1.9)
    for size, weight in ((2.6, 1.0), (1.0, 0.62), (0.45, 0.34)):
        along = (warped_x * c + warped_y * s) / (grain * size * drawn_out)
        across = (-warped_x * s + warped_y * c) / (grain * size)
        cells = noise.cells(along, across)
        deep = chance.uniform(0.2, 1.6, NUMBERS).astype(SINGLE)[cells.number]
        bowl = np.minimum(cells.nearest, 1.1) ** 1.6 * deep * 0.9 + 0.2 * deep
        height += bowl * grain * size * weight * strength * 0.8
    height += noise.layered(x / (4.5 * grain), y / (4.5 * grain), 4, 0.6) * grain * strength * 0.75
    tears = noise.smooth(run.turn * 60 / np.maximum(grain * 14, 0.5), run.logarithm * 3.0)
    height += np.abs(tears) * grain * strength * 0.28
    right, down = slopes(blurred(height, 0.5), plane.per_mm)
    steep = np.sqrt(right * right + down * down) + 1e-6
    lessened = np.tanh(steep / STEEPEST_SLOPE) * STEEPEST_SLOPE / steep
    return Layer(height, right * lessened, down * lessened, finish)


def silky(plane, noise, run, grain, strength, finish):
    """Hardened metal: grains too fine to see on a surface that rolls gently, with faint lines along the crack's run."""
    x, y = plane.x, plane.y
    rolling = noise.layered(x / 1.3, y / 1.3, 4, 0.42) * 0.028
    turn = run.turn + 0.018 * noise.layered(x / 0.8, y / 0.8, 3)
    broad = noise.smooth(turn * 18, run.logarithm * 2.2) * 0.006
    narrow = noise.smooth(turn * 41, run.logarithm * 5) * 0.0025
    height = rolling + (broad + narrow) * rise(run.distance, 0.6, 2.5)
    right, down = slopes(height.astype(SINGLE), plane.per_mm)
    fine_x, fine_y = x / grain, y / grain
    fine = noise.smooth(fine_x, fine_y), noise.smooth(fine_x, fine_y)
    wide = noise.smooth(fine_x / 2.3, fine_y / 2.3), noise.smooth(fine_x / 2.3, fine_y / 2.3)
    right = right + strength * (fine[0] + 0.7 * wide[0])
    down = down + strength * (fine[1] + 0.7 * wide[1])
    return Layer(height.astype(SINGLE), right, down, finish)


def core_layer(plane, coupon, run, noise, chance):
    """Relief of the core; where the case goes all through, a silky one in its place."""
    look = coupon.look
    if coupon.is_through:
        return silky(plane, noise, run, SILK_GRAIN_MM, 0.1, Finish(0.45, 0.55, 0.3))
    if look.core == TORN:
        return torn(plane, noise, chance, run, look.core_grain, look.core_strength, Finish(0.5, 0.75, 0.16))
    if look.core == CRYSTAL:
        finish = Finish(look.core_roughness, 0.3, 0.42)
        return facets(plane, noise, chance, look.core_grain, look.core_strength, finish)
    if look.core == MIXED:
        return torn_and_split(plane, look, run, noise, chance)
    assert look.core == HARD
    return hardened(plane, look, run, noise, chance)


def torn_and_split(plane, look, run, noise, chance):
    """A torn core with patches of crystals."""
    finish = Finish(0.32, 0.5, 0.32)
    under = torn(plane, noise, chance, run, look.core_grain, 0.8, finish)
    over = facets(plane, noise, chance, look.core_grain * 1.3, 0.5, finish)
    share = rise(noise.layered(plane.x / 1.6, plane.y / 1.6, 4, 0.6), -0.25, 0.35)
    height, right, down = (low + (high - low) * share for low, high in zip(under[:3], over[:3]))
    return Layer(height, right, down, finish, over.edges * share)


def hardened(plane, look, run, noise, chance):
    """A core hardened too, a little coarser than the case."""
    finish = Finish(0.42, 0.55, 0.3)
    coarse = facets(plane, noise, chance, look.core_grain, look.core_strength, finish, river=0.1)
    fine = silky(plane, noise, run, SILK_GRAIN_MM, 0.2, finish)
    height = coarse.height * 0.6 + fine.height
    return Layer(height, coarse.right + fine.right, coarse.down + fine.down, finish, coarse.edges * 0.4)


def case_layer(plane, coupon, run, noise, chance):
    """Relief of the case."""
    look = coupon.look
    if look.case_is_coarse:
        finish = Finish(0.27, 0.35, 0.4)
        return facets(plane, noise, chance, look.case_grain, look.case_strength, finish, inner=0.12, river=0.05, warp=0.1)
    return silky(plane, noise, run, look.case_grain, look.case_strength, Finish(look.case_roughness, 0.55, 0.3))
