"""The truth beside a picture: outline, border and bands of the face, in mm and in px."""

from typing import NamedTuple

import cv2
import numpy as np
from scipy.ndimage import map_coordinates
from skimage.measure import approximate_polygon, find_contours

from .face import Face
from .planes import SINGLE, blurred
from .sides import told_sides

SHORTEST_BAND_MM = 0.8  # round it, shorter ones are left out
SHORTEST_BORDER_MM = 0.6
AROUND_CHIP_MM = 0.1  # so near to a chip nothing can be measured


class Measured(NamedTuple):
    """What is true of each place of a face, as the camera sees it."""

    face: Face
    outside: np.ndarray  # distance from the outline, mm
    depth: np.ndarray  # 1 at the border of the case
    banded: np.ndarray  # whether it is a lip or the nick
    near_band: np.ndarray
    near_chip: np.ndarray

    def along(self, values, points):
        """Values at points in mm."""
        column, row = self.face.plane.place(points[:, 0], points[:, 1])
        return map_coordinates(values, [row, column], order=1, mode="nearest")

    def touches(self, mask, points):
        """Whether any of these points is in a mask."""
        return bool((self.along(mask, points) > 0.4).any())


def measured(coupon, face):
    """Masks and smoothed planes from which the truth is read."""
    outside = blurred(face.outside, 1.0)
    banded = np.zeros(outside.shape, bool)
    for band in face.bands:
        banded |= band > 0.5
    close = np.ones((3, 3), np.uint8)
    near_chip = np.zeros(outside.shape, np.uint8)
    if coupon.chip:
        reach = int(AROUND_CHIP_MM * face.plane.per_mm) * 2 + 1
        near_chip = cv2.dilate((face.chip > 0.5).astype(np.uint8), close)
        near_chip = cv2.dilate(near_chip, np.ones((reach, reach), np.uint8))
    return Measured(
        face=face,
        outside=outside,
        depth=blurred(face.depth, 0.02 * face.plane.per_mm),
        banded=banded,
        near_band=cv2.dilate(banded.astype(np.uint8), close).astype(SINGLE),
        near_chip=near_chip.astype(SINGLE),
    )


def outline_of(true):
    """The outline that is seen, mm."""
    contours = find_contours(true.outside, 0)
    return true.face.plane.mm(approximate_polygon(max(contours, key=len), 0.35))


def bands_of(true):
    """Outlines of lips and nick, mm."""
    plane = true.face.plane
    bands = []
    for band in true.face.bands:
        on_face = np.pad(np.where(true.outside < 0, band, 0).astype(SINGLE), 1)
        for contour in find_contours(on_face, 0.5):
            contour = contour - 1
            points = plane.mm(approximate_polygon(contour, 0.4))
            if len(contour) > SHORTEST_BAND_MM * plane.per_mm and len(points) > 3:
                bands.append(points)
    return bands


def runs(contour, seen):
    """Parts of a contour that are seen; a closed one is not cut where it happens to begin."""
    if seen.all():
        return [contour]
    ends = np.flatnonzero(np.diff(np.r_[0, seen.astype(int), 0]))
    parts = [contour[first:last] for first, last in zip(ends[::2], ends[1::2])]
    if len(parts) > 1 and seen[0] and seen[-1] and np.allclose(contour[0], contour[-1]):
        return [np.r_[parts[-1], parts[0][1:]]] + parts[1:-1]
    return parts


def borders_of(true):
    """Lines between case and core where they are seen, mm."""
    plane = true.face.plane
    hidden = (true.outside > 0) | true.banded
    borders = []
    for contour in find_contours(true.depth, 1.0):
        row, column = np.clip(np.round(contour).astype(int), 0, np.array(hidden.shape) - 1).T
        for part in runs(contour, ~hidden[row, column]):
            if len(part) > SHORTEST_BORDER_MM * plane.per_mm:
                borders.append(plane.mm(approximate_polygon(part, 0.3)))
    return borders


def in_mm(points):
    return [[round(float(x), 4), round(float(y), 4)] for x, y in points]


def in_px(points, camera):
    return [[round(float(x), 2), round(float(y), 2)] for x, y in camera.px(points)]


def truth_of(coupon, camera, face):
    """All that is true of a face."""
    section, case = coupon.section, coupon.case
    true = measured(coupon, face)
    outline = outline_of(true)
    borders = borders_of(true) if coupon.has_border else []
    sides, depths = told_sides(coupon, true)
    corners = [] if section.is_round else section.corners()
    depth = round(float(np.median(depths)), 4) if depths else None
    return {
        "shape": section.shape,
        "class": coupon.kind.where,
        "thickness_mm": round(float(section.thickness), 4),
        "size_mm": [round(side, 4) for side in section.size],
        "px_per_mm": round(camera.px_per_mm(), 4),
        "homography": [[float(value) for value in row] for row in camera.to_px],
        "corners_mm": in_mm(corners),
        "corners_px": in_px(corners, camera),
        "outline_mm": in_mm(outline),
        "outline_px": in_px(outline, camera),
        "border_mm": [in_mm(line) for line in borders],
        "border_px": [in_px(line, camera) for line in borders],
        "bands_mm": [in_mm(band) for band in bands_of(true)],
        "sides": sides,
        "depth_mm": depth if coupon.has_border else None,
        "transition_mm": round(case.transition * case.depth, 4) if coupon.has_border else None,
        "case_grain": None,
        "core_grain": None,
        "nick": [coupon.nick.side, coupon.nick.depth] if coupon.nick else None,
    }
