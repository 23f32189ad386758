"""The case: how deep it was meant to be at each place of the outline, and how deep carbon went from there.

Carbon comes in at the outline and spreads by diffusion. The border of the case is where its content has fallen to a certain
share of that at the outline; the solution for a flat surface (an error function) tells how far in that is.
"""

from dataclasses import dataclass

import cv2
import numpy as np
from scipy.special import erfc, erfcinv

from .kinds import PARTIAL
from .planes import SINGLE, angle_between, blurred, rise
from .section import is_horizontal

SHALLOWEST_MM, DEEPEST_MM = 0.25, 1.3  # what depths may be
USUAL_MM, SPREAD = 0.62, 0.42  # the spread is that of the natural logarithm
AT_BORDER = 0.6  # depth of the border in lengths of diffusion, as the error function takes them
STEP_BLUR_PLACES = 1.6  # one step of diffusion, standard deviation
FEWEST_STEPS = 6


@dataclass
class Case:
    """How deep the case is meant to be. Depths are in mm."""

    depth: float
    transition: float  # how wide the change to the core is, share of the depth
    mixing: float  # grain of the change, mm
    waver: float  # how much the depth goes up and down along the outline, share of it
    of_sides: list  # depth at each side, 0 where nothing was carburised
    uneven: float  # how much shallower a round one is on one side, share
    shallow_turn: float  # on which side, radians
    bare_arc: tuple | None = None  # of a round one: middle and half width of what was not carburised, radians
    gap_side: int | None = None  # side that is bare along a part of it
    gap: tuple | None = None  # middle of that part, share of the side, and half its width, mm

    def cased_sides(self):
        return [side for side in range(4) if self.of_sides[side] > 0]


def drawn_case(section, where, chance):
    """A case by chance; `where` it is, all round or not."""
    depth = float(np.clip(chance.lognormal(np.log(USUAL_MM), SPREAD), SHALLOWEST_MM, DEEPEST_MM))
    depth = min(depth, (0.22 if section.is_round else 0.27) * section.thickness)
    case = Case(
        depth=depth,
        transition=float(chance.uniform(0.08, 0.5)),
        mixing=chance.uniform(0.05, 0.12),
        waver=chance.uniform(0.02, 0.08),
        of_sides=[depth * chance.uniform(0.82, 1.0) for _ in range(4)],
        uneven=chance.uniform(0, 0.2),
        shallow_turn=chance.uniform(0, 6.28),
    )
    if chance.random() < 0.3:
        case.of_sides[chance.integers(4)] *= chance.uniform(0.5, 0.8)
    if where == PARTIAL:
        lay_bare(case, section, chance)
    return case


def lay_bare(case, section, chance):
    """Takes the case away from a part of the outline."""
    if section.is_round:
        case.bare_arc = (chance.uniform(0, 6.28), chance.uniform(0.75, 1.5))
        return
    count = chance.choice([1, 1, 2, 3])
    for side in chance.permutation(4)[:count]:
        case.of_sides[side] = 0.0
    if chance.random() < 0.35:
        case.gap_side = case.cased_sides()[0]
        case.gap = (chance.uniform(0.3, 0.7), chance.uniform(0.12, 0.22) * section.length(case.gap_side))


def round_depths(case, x, y, noise):
    """Of a round section: depth asked at each place, and whether its nearest outline was carburised."""
    turn = np.arctan2(y, x)
    carburised = np.ones_like(x)
    depths = case.depth * (1 - case.uneven * (0.5 + 0.5 * np.cos(turn - case.shallow_turn)))
    if case.bare_arc:
        middle, half = case.bare_arc
        away = angle_between(turn, middle)
        depths = depths * rise(away, half - 0.05, half + 0.28)
        carburised *= away > half + 0.04
    depths = depths * (1 + case.waver * noise.smooth(np.cos(turn) * 1.4, np.sin(turn) * 1.4))
    return depths, carburised


def sided_depths(case, section, x, y, pitch, noise):
    """The same of a section with sides."""
    width, height = section.size
    nearest = np.argmin(np.stack(section.from_sides(x, y)), 0)
    depths = np.zeros_like(x)
    carburised = np.zeros_like(x)
    for side in range(4):
        along = (x / width + 0.5) if is_horizontal(side) else (y / height + 0.5)
        if side in (2, 3):
            along = 1 - along
        depth = case.of_sides[side] * (1 + case.waver * noise.smooth(along * 2.2, along * 0 + side * 7.3))
        open_there = np.full_like(x, float(case.of_sides[side] > 0))
        if side == case.gap_side:
            middle, half = case.gap
            away = np.abs(along - middle) * section.length(side)
            depth = depth * rise(away, half - 0.05, half + 0.9 * case.depth)
            open_there = open_there * (away > half + 0.03)
        depths = np.where(nearest == side, depth, depths)
        carburised = np.where(nearest == side, open_there, carburised)
    depths = blurred(depths.astype(SINGLE), 0.35 * case.depth / pitch)
    return depths, carburised.astype(SINGLE)


def content_at_outline(case, depths):
    """What content brings the border to the depths asked."""
    border = erfc(AT_BORDER)
    share = np.clip(depths / case.depth, 0, 1.3)
    content = np.clip(border / np.maximum(erfc(AT_BORDER * share), 1e-3), 0, 2.6).astype(SINGLE)
    return np.where(depths < 0.08 * case.depth, content * 0.8, content)


def depth_shares(case, section, noise):
    """How deep each place lies, 1 at the border of the case; on a coarse grid with its first place and its pitch, mm."""
    width, height = section.size
    pitch = max(case.depth * 0.1, 0.018)
    around = 8 * pitch
    columns = np.arange(-width / 2 - around, width / 2 + around, pitch)
    rows = np.arange(-height / 2 - around, height / 2 + around, pitch)
    x, y = np.meshgrid(columns, rows)
    x = x.astype(SINGLE)
    y = y.astype(SINGLE)
    on_face = np.clip(0.5 - section.outside(x, y) / pitch, 0, 1).astype(SINGLE)
    if section.is_round:
        depths, carburised = round_depths(case, x, y, noise)
    else:
        depths, carburised = sided_depths(case, section, x, y, pitch, noise)
    source = ((1 - on_face) * np.clip(carburised, 0, 1)).astype(SINGLE)
    fed = content_at_outline(case, depths) * source
    diffusion = case.depth / (2 * AT_BORDER)
    steps = max(int(round(diffusion**2 / pitch**2 / STEP_BLUR_PLACES**2)), FEWEST_STEPS)
    # Nothing passes where no carbon is kept: blurs are divided by how much of their reach counts.
    counted = blurred(on_face + source, STEP_BLUR_PLACES) + 1e-6
    content = np.zeros_like(on_face)
    for _ in range(steps):
        content = blurred(content * on_face + fed, STEP_BLUR_PLACES) / counted
    spread = STEP_BLUR_PLACES * STEP_BLUR_PLACES * steps / 2
    reached = 2 * np.sqrt(spread) * pitch * erfcinv(np.clip(content, 1e-7, 1.999))
    return (reached / case.depth).astype(SINGLE), (columns[0], rows[0]), pitch


def shares_at(case, section, x, y, noise):
    """How deep places of the face lie, 1 at the border."""
    shares, first, pitch = depth_shares(case, section, noise)
    column = ((x - first[0]) / pitch).astype(SINGLE)
    row = ((y - first[1]) / pitch).astype(SINGLE)
    shares = cv2.remap(shares, column, row, cv2.INTER_CUBIC, borderMode=cv2.BORDER_REPLICATE)
    return shares + 0.035 * noise.layered(x / 0.5, y / 0.5, 3)
