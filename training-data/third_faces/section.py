"""The section of a coupon: its form and size, and where a place is in it.

Places are in mm from the middle of the face, to the right and downwards. Sides are numbered 0 to 3: top, right, bottom, left.
"""

from dataclasses import dataclass

import numpy as np

from .kinds import RECTANGLE, ROUND, SQUARE

LONGEST_MM = 30.0
OVAL_SHARE = 0.006  # how far a round section is from a circle, of its radius
OUTWARDS = [(0, -1), (1, 0), (0, 1), (-1, 0)]  # away from the face at each side
CORNER_POINTS = 8  # points of an outline at each rounded corner
EDGE_POINTS = 12  # points between any two of these


@dataclass
class Section:
    """Form and size of a section."""

    shape: str
    size: list  # mm, width and height
    corner_radius: float  # mm
    oval_turn: float  # where a round section is widest, radians

    @property
    def is_round(self):
        return self.shape == ROUND

    @property
    def thickness(self):
        return min(self.size)

    def length(self, side):
        """Length of a side, mm."""
        return self.size[side % 2]

    def outside(self, x, y):
        """Distance from the outline, mm: negative on the face, positive beside it."""
        width, height = self.size
        if self.is_round:
            turn = np.arctan2(y, x)
            return np.hypot(x, y) - width / 2 * (1 + OVAL_SHARE * np.cos(2 * turn + self.oval_turn))
        radius = self.corner_radius
        over_x = np.abs(x) - width / 2 + radius
        over_y = np.abs(y) - height / 2 + radius
        at_corner = np.hypot(np.maximum(over_x, 0), np.maximum(over_y, 0))
        return at_corner + np.minimum(np.maximum(over_x, over_y), 0) - radius

    def from_sides(self, x, y):
        """Distance from each of the four sides, mm."""
        width, height = self.size
        return [y + height / 2, width / 2 - x, height / 2 - y, x + width / 2]

    def corners(self, more=0):
        """Corners of the section grown by `more` mm; points round it, if it has none."""
        width, height = self.size
        w = width / 2 + more
        h = height / 2 + more
        if self.is_round:
            turns = np.linspace(0, 6.28, 40)
            return np.c_[w * np.cos(turns), w * np.sin(turns)]
        return np.array([[-w, -h], [w, -h], [w, h], [-w, h]])

    def outline(self):
        """Points close together along the outline, round its corners too."""
        if self.is_round:
            return np.array(self.corners())
        width, height = self.size
        radius = self.corner_radius
        bends = []
        for right, down, turn in ((1, -1, -np.pi / 2), (1, 1, 0), (-1, 1, np.pi / 2), (-1, -1, np.pi)):
            for angle in np.linspace(turn, turn + np.pi / 2, CORNER_POINTS):
                x = right * (width / 2 - radius) + radius * np.cos(angle)
                y = down * (height / 2 - radius) + radius * np.sin(angle)
                bends.append([x, y])
        bends = np.array(bends)
        points = []
        for start, end in zip(bends, np.roll(bends, -1, 0)):
            points += [start + (end - start) * t for t in np.linspace(0, 1, EDGE_POINTS, endpoint=False)]
        return np.array(points)


def is_horizontal(side):
    """Whether a side runs from left to right."""
    return side in (0, 2)


def drawn_section(shape, chance):
    """A section of a form, its size by chance."""
    if shape == RECTANGLE:
        thickness = chance.uniform(3.2, 8)
        length = min(LONGEST_MM, thickness * chance.uniform(1.6, 4.2))
        size = [length, thickness] if chance.random() < 0.8 else [thickness, length]
    else:
        thickness = chance.uniform(5, 12)
        size = [thickness, thickness * chance.uniform(0.985, 1.015)] if shape == SQUARE else [thickness, thickness]
    size = [float(side) for side in size]
    sharp = chance.random() < 0.7
    radius = float(chance.uniform(0.08, 0.35) if sharp else chance.uniform(0.35, 0.9)) * min(1, min(size) / 6)
    return Section(shape, size, radius, chance.uniform(0, 6))
