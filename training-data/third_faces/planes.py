"""Small steps on planes of numbers: pictures, heights and masks, which are NumPy arrays.

Everywhere in this package the same seed has to give the same picture to the last byte. So neither the order of random draws
nor the order within a sum or a product may be changed, and numbers of double precision must not be turned into single ones.
"""

import cv2
import numpy as np

SINGLE = np.float32


def blurred(plane, by):
    """Gaussian blur; `by` is its standard deviation in places, and too small a one does nothing."""
    return cv2.GaussianBlur(plane, (0, 0), by) if by > 0.15 else plane


def rise(value, low, high):
    """From 0 at `low` to 1 at `high`, smoothly."""
    t = np.clip((value - low) / (high - low), 0, 1)
    return t * t * (3 - 2 * t)


def mixed(under, over, share):
    """`over` laid on `under` where its `share` is 1."""
    return under * (1 - share) + over * share


def unit(vector):
    """The same direction with length 1."""
    vector = np.asarray(vector, float)
    return vector / np.linalg.norm(vector)


def slopes(height, per_unit):
    """Slopes to the right and downwards of a plane of heights that has so many places to a unit of height."""
    right = cv2.Scharr(height, cv2.CV_32F, 1, 0) / 32 * per_unit
    down = cv2.Scharr(height, cv2.CV_32F, 0, 1) / 32 * per_unit
    return right, down


def shifted(plane, right, down, **options):
    """The plane moved by so many places, which need not be whole; 0 comes in from beyond, if nothing else is asked."""
    move = np.float32([[1, 0, right], [0, 1, down]])
    return cv2.warpAffine(plane, move, (plane.shape[1], plane.shape[0]), **options)


def angle_between(angles, other):
    """How far angles are from another one, 0 to pi."""
    return np.abs(np.angle(np.exp(1j * (angles - other))))


def places(h, w):
    """Column and row of every place."""
    y, x = np.mgrid[0:h, 0:w].astype(SINGLE)
    return x, y


def coloured(colour):
    """A colour in linear light, as red, green and blue."""
    return np.array(colour, SINGLE)


def inked(plane):
    """A plane of one value to a place, ready to be multiplied with a colour."""
    return plane[..., None]
