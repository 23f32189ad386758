"""The surface of a face while it is put together: a plane of places in mm, with heights, slopes and finish."""

import numpy as np

from .planes import SINGLE, mixed
from .relief import Finish

AROUND_MM = 0.9  # so much is drawn around the face
MOST_PLACES = 0.85e6
BEVEL_MM = 0.05  # how far the surface falls at the outline, and over which way


class Plane:
    """Places of the face and around it, and where they are."""

    def __init__(self, section, px_per_mm):
        self.width = section.size[0] + 2 * AROUND_MM
        self.height = section.size[1] + 2 * AROUND_MM
        finest = np.sqrt(MOST_PLACES / (self.width * self.height))
        self.per_mm = max(min(1.4 * px_per_mm, finest), 0.95 * px_per_mm)
        columns, rows = int(self.width * self.per_mm), int(self.height * self.per_mm)
        x, y = np.meshgrid(
            (np.arange(columns) + 0.5) / self.per_mm - self.width / 2,
            (np.arange(rows) + 0.5) / self.per_mm - self.height / 2,
        )
        self.x = x.astype(SINGLE)
        self.y = y.astype(SINGLE)

    def place(self, x, y):
        """Column and row of a place in mm."""
        return (x + self.width / 2) * self.per_mm - 0.5, (y + self.height / 2) * self.per_mm - 0.5

    def mm(self, contour):
        """Places in mm of points told by row and column."""
        x = (contour[:, 1] + 0.5) / self.per_mm - self.width / 2
        y = (contour[:, 0] + 0.5) / self.per_mm - self.height / 2
        return np.c_[x, y]

    def from_mm(self):
        """The matrix from mm to columns and rows."""
        per_mm = self.per_mm
        return np.array([
            [per_mm, 0, self.width / 2 * per_mm - 0.5],
            [0, per_mm, self.height / 2 * per_mm - 0.5],
            [0, 0, 1],
        ])


class Outline:
    """Distances from the outline, mm, negative on the face: as formed, as torn, and without what was chipped off."""

    def __init__(self, coupon, plane, noise):
        x, y = plane.x, plane.y
        rough = coupon.relief.outline
        self.formed = coupon.section.outside(x, y).astype(SINGLE)
        torn = self.formed + rough * (0.7 * noise.layered(x / 0.8, y / 0.8, 4, 0.6))
        self.torn = torn + rough * 0.35 * noise.smooth(x / 0.09, y / 0.09)
        self.left = self.torn
        self.from_chip = None
        if coupon.chip:
            radius = coupon.chip.radius
            away = np.hypot(x - coupon.chip.x, y - coupon.chip.y) - radius
            self.from_chip = away + 0.22 * radius * noise.layered(x / (0.7 * radius), y / (0.7 * radius), 3)
            self.left = np.maximum(self.torn, -self.from_chip)

    @property
    def bevel(self):
        """How much lower the surface is near the outline."""
        return BEVEL_MM * np.exp(np.minimum(self.left, 0) / BEVEL_MM)


class Surface:
    """Heights, slopes and finish at every place of a plane."""

    def __init__(self, height, right, down, finish):
        self.height = height
        self.right = right
        self.down = down
        self.finish = finish
        self.open = 1  # share of the light from all around that hollows leave
        self.tone = np.ones(height.shape, SINGLE)

    def cover(self, share, height, right, down, finish, tone):
        """Lays a band over the surface where its share is 1."""
        self.right = mixed(self.right, right, share)
        self.down = mixed(self.down, down, share)
        self.height = mixed(self.height, height, share)
        self.finish = Finish(*(mixed(under, over, share) for under, over in zip(self.finish, finish)))
        self.open = mixed(self.open, 1, share)
        self.tone = mixed(self.tone, tone, share)

    def hollow(self, share, height, right, down):
        """Sinks the surface where the share is 1, and leaves its finish; hollows are a little darker."""
        self.right = mixed(self.right, right, share)
        self.down = mixed(self.down, down, share)
        self.height = mixed(self.height, height, share)
        self.tone = self.tone * (1 - 0.3 * share)
