"""Noise of which all surfaces are made: smooth, layered, and in cells.

Every call draws from the chance that the noise was made with, so that no two calls give the same pattern.
"""

from typing import NamedTuple

import cv2
import numpy as np

from .planes import SINGLE

TABLE = 512  # random numbers along a side of the table; the noise repeats after as many units
STRENGTH = 1.35  # makes the spread of interpolated noise about 1
FINER = 2.03  # by how much each layer is finer than the one before; not 2, or layers would line up
FIRST_TURN_RAD, NEXT_TURN_RAD = 0.6, 1.1  # by how much layers are turned
CELLS = 256  # cells along a side before they repeat
NUMBERS = CELLS * CELLS  # how many different cells there are
JITTER = 0.95  # over how much of its cell a middle may lie


class Cells(NamedTuple):
    """For each place: where it is from the middle of its cell, how far the two nearest middles are, and the cell's number."""

    right: np.ndarray
    down: np.ndarray
    nearest: np.ndarray
    second: np.ndarray
    number: np.ndarray


class Noise:
    """Noise with a spread of about 1; places are given in units of its grain."""

    def __init__(self, chance):
        self.chance = chance
        self.table = chance.standard_normal((TABLE, TABLE)).astype(SINGLE)

    def smooth(self, x, y):
        """Noise whose grain is one unit."""
        right, down = map(float, self.chance.uniform(0, TABLE, 2))
        x = (x + right).astype(SINGLE)
        y = (y + down).astype(SINGLE)
        return cv2.remap(self.table, x, y, cv2.INTER_CUBIC, borderMode=cv2.BORDER_WRAP) * STRENGTH

    def layered(self, x, y, layers=4, gain=0.5):
        """Sum of ever finer noise, each layer weaker than the one before by `gain`."""
        total = 0
        weight = 1
        power = 0
        for layer in range(layers):
            turn = FIRST_TURN_RAD + layer * NEXT_TURN_RAD
            c, s = float(np.cos(turn)), float(np.sin(turn))
            scale = FINER**layer
            total = total + weight * self.smooth((x * c - y * s) * scale, (x * s + y * c) * scale)
            power += weight * weight
            weight *= gain
        return total / float(np.sqrt(power))

    def cells(self, x, y):
        """Cells round one middle in each unit square."""
        reach = 0.5 * JITTER
        middle_x = self.chance.uniform(-reach, reach, (CELLS, CELLS)).astype(SINGLE).ravel()
        middle_y = self.chance.uniform(-reach, reach, (CELLS, CELLS)).astype(SINGLE).ravel()
        column = np.floor(x).astype(np.int32)
        row = np.floor(y).astype(np.int32)
        x = x.astype(SINGLE)
        y = y.astype(SINGLE)
        half = SINGLE(0.5)
        nearest = np.full(x.shape, 9e9, SINGLE)
        second = nearest.copy()
        right = np.zeros_like(nearest)
        down = right.copy()
        number = np.zeros(x.shape, np.int32)
        for step_y in (-1, 0, 1):
            for step_x in (-1, 0, 1):
                cell_x = column + step_x
                cell_y = row + step_y
                cell = (cell_y & (CELLS - 1)) * CELLS + (cell_x & (CELLS - 1))
                from_x = x - (cell_x.astype(SINGLE) + (middle_x[cell] + half))
                from_y = y - (cell_y.astype(SINGLE) + (middle_y[cell] + half))
                square = from_x * from_x + from_y * from_y
                nearer = square < nearest
                second = np.where(nearer, nearest, np.minimum(second, square))
                nearest = np.where(nearer, square, nearest)
                right = np.where(nearer, from_x, right)
                down = np.where(nearer, from_y, down)
                number = np.where(nearer, cell, number)
        return Cells(right, down, np.sqrt(nearest), np.sqrt(second), number)
