"""Where the phone is held: a pinhole camera over the plane of the face, and how a coupon is placed in the picture."""

import numpy as np

from .kinds import RECTANGLE
from .planes import SINGLE, unit

PICTURES_PX = [(1280, 960), (1440, 1080), (1520, 1140), (960, 1280), (1080, 1440), (1400, 1050)]  # width and height
TRIES = 60
FREE_PX = 6  # so much is left beside the face
AROUND_MM = 0.2  # how far the face may reach beyond its form
FINEST_PX_PER_MM = 88
SEEN_PX = 13  # a case less deep than that nobody could see
DEEPENED_PX = 13.5  # so deep it is made then
DEEPEST_SHARE = 0.27  # of the thickness, deeper it is not made


class Camera:
    """Takes places of the face, mm, to places of the picture, px; the z axis points out of the face."""

    def __init__(self, size, px_per_mm, tilt, tilt_turn, turn, centre, focal):
        """`focal` in longest sides of the picture, `centre` in px, angles in radians."""
        self.width, self.height = size
        middle = np.array([self.width / 2, self.height / 2])
        length = focal * max(size)
        away = length / px_per_mm
        tilted = np.array([[1, 0, 0], [0, np.cos(tilt), -np.sin(tilt)], [0, np.sin(tilt), np.cos(tilt)]])
        self.rotation = turned(tilt_turn) @ tilted @ turned(-tilt_turn) @ turned(turn)
        lens = np.array([[length, 0, middle[0]], [0, length, middle[1]], [0, 0, 1]])
        shift = np.array([(centre[0] - middle[0]) / length * away, (centre[1] - middle[1]) / length * away, away])
        self.to_px = lens @ np.column_stack([self.rotation[:, 0], self.rotation[:, 1], shift])
        self.to_px /= self.to_px[2, 2]
        self.to_mm = np.linalg.inv(self.to_px)
        self.at = -self.rotation.T @ shift
        self.above = -self.at[2]  # how far it is over the face, mm
        self.towards = unit([self.at[0], self.at[1], self.above])

    def px(self, points):
        """Where points of the face are seen."""
        points = np.asarray(points, float).reshape(-1, 2)
        seen = np.c_[points, np.ones(len(points))] @ self.to_px.T
        return seen[:, :2] / seen[:, 2:]

    def mm_grid(self):
        """Which place of the face's plane is seen at each pixel."""
        x, y = np.meshgrid(np.arange(self.width) + 0.5, np.arange(self.height) + 0.5)
        back = self.to_mm
        scale = back[2, 0] * x + back[2, 1] * y + back[2, 2]
        right = ((back[0, 0] * x + back[0, 1] * y + back[0, 2]) / scale).astype(SINGLE)
        down = ((back[1, 0] * x + back[1, 1] * y + back[1, 2]) / scale).astype(SINGLE)
        return right, down

    def lift(self, x, y, height):
        """Where on the plane a point is seen that lies so high over it."""
        scale = self.above / (self.above - height)
        return self.at[0] + (x - self.at[0]) * scale, self.at[1] + (y - self.at[1]) * scale

    def unlift(self, x, y, height):
        """Over which place a point of this height lies that is seen at a place of the plane."""
        scale = (self.above - height) / self.above
        return self.at[0] + (x - self.at[0]) * scale, self.at[1] + (y - self.at[1]) * scale

    def px_per_mm(self):
        """In the middle of the face."""
        seen = self.px([[0, 0], [0.01, 0], [0, 0.01]])
        steps = (seen[1:] - seen[0]) / 0.01
        return float(np.sqrt(abs(np.linalg.det(steps))))


def turned(by):
    """Rotation about the z axis."""
    return np.array([[np.cos(by), -np.sin(by), 0], [np.sin(by), np.cos(by), 0], [0, 0, 1]])


def drawn_turn(section, upright, chance):
    """How a coupon lies in the picture, radians; a long one mostly along the longer side."""
    turn = chance.uniform(-np.pi / 4, np.pi / 4) if chance.random() < 0.35 else chance.normal(0, 0.12)
    if section.shape == RECTANGLE and upright and chance.random() < 0.7 and section.size[0] > section.size[1]:
        turn += np.pi / 2 * chance.choice([-1, 1])
    return turn


def bounds(section, turn):
    """Width and height of what holds a section that is turned, mm."""
    width, height = section.size
    if section.is_round:
        return width, width
    c = abs(np.cos(turn))
    s = abs(np.sin(turn))
    return width * c + height * s, width * s + height * c


def deepen(case, section, px_per_mm):
    """Makes a case so deep that it can be seen."""
    deeper = min(DEEPENED_PX / px_per_mm, DEEPEST_SHARE * section.thickness) / case.depth
    case.depth *= deeper
    case.of_sides = [depth * deeper for depth in case.of_sides]


def placed(coupon, chance):
    """A camera that sees the whole face, and what is told of it; deepens a case that would be too small to see."""
    section = coupon.section
    width, height = PICTURES_PX[chance.integers(len(PICTURES_PX))]
    shorter, longer = min(width, height), max(width, height)
    filled = None
    for _ in range(TRIES):
        turn = drawn_turn(section, width < height, chance)
        broad, high = bounds(section, turn)
        share = filled or chance.uniform(0.35, 0.9)
        px_per_mm = share * shorter / max(min(broad, high), max(broad, high) * shorter / longer)
        px_per_mm = min(px_per_mm, 0.92 * min(width / broad, height / high), FINEST_PX_PER_MM)
        if coupon.has_border and coupon.case.depth * px_per_mm < SEEN_PX:
            filled = 0.9  # nearer, should this try fail
            deepen(coupon.case, section, px_per_mm)
        tilt = min(np.deg2rad(abs(chance.normal(0, 11))), np.deg2rad(20))
        free_x = (width - broad * px_per_mm) / 2
        free_y = (height - high * px_per_mm) / 2
        centre = (width / 2 + chance.uniform(-0.6, 0.6) * free_x, height / 2 + chance.uniform(-0.6, 0.6) * free_y)
        tilt_turn = chance.uniform(0, 6.28)
        camera = Camera((width, height), px_per_mm, tilt, tilt_turn, turn, centre, chance.uniform(0.85, 1.5))
        seen = camera.px(section.corners(AROUND_MM))
        if seen.min() > FREE_PX and (seen[:, 0] < width - FREE_PX).all() and (seen[:, 1] < height - FREE_PX).all():
            break
    return camera, {"tilt_deg": float(np.rad2deg(tilt)), "rotation_deg": float(np.rad2deg(turn))}
