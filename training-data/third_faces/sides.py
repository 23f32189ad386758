"""How deep the case truly is along each side of a face: samples close together, each straight in from the outline."""

from typing import NamedTuple

import numpy as np

from .kinds import NONE

NAMES = ["top", "right", "bottom", "left"]
SAMPLES, SAMPLES_ROUND = 80, 160  # of a side, and of a round outline
BEFORE_MM, BEYOND_MM = 0.7, 0.6  # how far outside the form a ray begins and ends
STEP_PLACES = 0.3  # of a ray
LEAST_DEPTH_MM = 0.03  # less is none
BESIDE_MM = 0.15  # where there is no depth, so far in a place still has to be unspoiled
CORNER_DEPTHS = 1.5  # so near to a corner carbon came from two sides


class Side(NamedTuple):
    """One side, or the whole outline of a round section."""

    index: int
    name: str
    length: float  # mm
    across: float  # how far it is to the other side, mm
    starts: list  # where rays begin, and which way they go
    alongs: list  # how far along they are, mm


class Ray(NamedTuple):
    """A line straight into the face: distances from the form, and which of its points is the first on the face."""

    start: np.ndarray
    inward: np.ndarray
    distances: np.ndarray
    first: int
    last: int
    edge: float  # where exactly the face begins, mm from `start`

    def points(self):
        return self.start + self.distances[:, None] * self.inward


def straight_side(section, index):
    """A side and the rays that go in from it."""
    corners = section.corners()
    first, second = corners[index], corners[(index + 1) % 4]
    length = float(np.hypot(*(second - first)))
    along = (second - first) / length
    inward = np.array([-along[1], along[0]])
    alongs = [(i + 0.5) / SAMPLES * length for i in range(SAMPLES)]
    starts = [(first + along * at, inward) for at in alongs]
    return Side(index, NAMES[index], length, section.size[1 - index % 2], starts, alongs)


def round_side(section):
    """The outline of a round section and the rays that go in from it, first at the top."""
    width = section.size[0]
    length = np.pi * width
    alongs = [(i + 0.5) / SAMPLES_ROUND * length for i in range(SAMPLES_ROUND)]
    starts = []
    for along in alongs:
        turn = -np.pi / 2 + along / length * 2 * np.pi
        start = np.array([np.cos(turn), np.sin(turn)]) * width / 2
        starts.append((start, -start / (width / 2)))
    return Side(0, "round", length, width, starts, alongs)


def ray_into(start, inward, across, true):
    """A ray into the face; None if it does not meet it."""
    distances = np.arange(-BEFORE_MM, across + BEYOND_MM, STEP_PLACES / true.face.plane.per_mm)
    outside = true.along(true.outside, start + distances[:, None] * inward)
    on_face = np.flatnonzero(outside < 0)
    if not len(on_face):
        return None
    first = on_face[0]
    back = 0
    if first > 0:
        step = distances[first] - distances[first - 1]
        back = step * (outside[first] / (outside[first] - outside[first - 1]))
    return Ray(start, inward, distances, first, on_face[-1], distances[first] - back)


def depth_along(ray, coupon, across, true):
    """Depth of the case along a ray, mm: 0 if there is none, None if it does not end on the face."""
    if coupon.kind.where == NONE:
        return 0.0
    if coupon.is_through:
        return None
    depth = true.along(true.depth, ray.points())
    distances = ray.distances
    begin = ray.first + 2
    if depth[min(begin, len(depth) - 1)] >= 1:
        return 0.0
    end = ray.last
    if coupon.section.is_round:
        end = min(end, np.searchsorted(distances, across))
    in_core = np.flatnonzero(depth[begin:end] >= 1)
    if not len(in_core):
        return None
    after = begin + in_core[0]
    before = after - 1
    step = distances[after] - distances[before]
    back = step * (depth[after] - 1) / (depth[after] - depth[before] + 1e-9)
    found = float(distances[after] - back - ray.edge)
    return 0.0 if found < LEAST_DEPTH_MM else found


def sample_of(side, i, coupon, true):
    """What is true at one place of a side; None if no face is there."""
    ray = ray_into(*side.starts[i], side.across, true)
    if ray is None:
        return None
    depth = depth_along(ray, coupon, side.across, true)
    along = side.alongs[i]
    at = ray.start + ray.edge * ray.inward
    looked_at = at + np.linspace(0, (depth if depth else BESIDE_MM) + 0.05, 12)[:, None] * ray.inward
    near_corner = False
    if not coupon.section.is_round:
        size = coupon.case.depth if coupon.has_border else coupon.section.corner_radius / 1.5
        near_corner = bool(min(along, side.length - along) < CORNER_DEPTHS * size)
    return {
        "along": round(along, 4),
        "at": [round(float(part), 4) for part in at],
        "depth": None if depth is None else round(depth, 4),
        "corner": near_corner,
        "spoiled": true.touches(true.near_band, looked_at) or true.touches(true.near_chip, looked_at),
    }


def is_cased(sample):
    return sample["depth"] is None or sample["depth"] > 0


def told_side(side, coupon, true):
    """What is true of one side, and depths that can be measured there."""
    found = (sample_of(side, i, coupon, true) for i in range(len(side.starts)))
    samples = [sample for sample in found if sample]
    fair = [sample for sample in samples if not sample["corner"] and not sample["spoiled"]]
    depths = [sample["depth"] for sample in fair if sample["depth"]]
    counted = fair or [sample for sample in samples if not sample["spoiled"]] or samples
    chipped = any(true.touches(true.near_chip, np.array([sample["at"]])) for sample in samples)

    def share_below(percent):
        return round(float(np.percentile(depths, percent)), 4) if depths else None

    told = {
        "index": side.index,
        "name": side.name,
        "length_mm": round(float(side.length), 4),
        "nicked": bool(coupon.nick and coupon.nick.side == side.index),
        "chipped": bool(coupon.chip and chipped),
        "median_mm": share_below(50),
        "p10_mm": share_below(10),
        "p90_mm": share_below(90),
        "cased": round(float(np.mean([is_cased(sample) for sample in counted])), 4),
        "samples": samples,
    }
    return told, depths


def told_sides(coupon, true):
    """What is true of all sides, and all depths that can be measured."""
    section = coupon.section
    sides = [round_side(section)] if section.is_round else [straight_side(section, index) for index in range(4)]
    told, depths = [], []
    for side in sides:
        one, found = told_side(side, coupon, true)
        told.append(one)
        depths += found
    return told, depths
