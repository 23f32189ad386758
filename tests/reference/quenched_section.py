"""Which ideal diameter a place of a quenched plate or bar asks for, by finite volumes: makes quenched_section.csv.

    python tests/reference/quenched_section.py > tests/reference/quenched_section.csv
    python tests/reference/quenched_section.py --check     against closed forms

Heat is solved in N equal shells with half a shell of steel and the film h = 2 k H in series at the face; time is exact
(eigenvectors of the symmetric tridiagonal matrix), so only the shells are an error. The place is half of the way to the
bath after a time t; the ideal diameter is that of the bar whose middle, its face as cold as the bath at once, is half of
the way after the same t. No series of a body is used. NumPy, SciPy.
"""

import sys

import numpy as np
from scipy.linalg import eigh_tridiagonal
from scipy.optimize import brentq

N = 1600
INCH = 25.4


def half_way(bar, biot, places):
    """Fourier numbers, on half of the size, at which each place (0 middle, 1 face) is half of the way."""
    face = np.linspace(0.0, 1.0, N + 1)
    middle = 0.5 * (face[1:] + face[:-1])
    area = face if bar else np.ones(N + 1)
    volume = 0.5 * (face[1:] ** 2 - face[:-1] ** 2) if bar else np.diff(face)
    between = area[1:-1] / np.diff(middle)
    film = 0.0 if np.isinf(biot) else 1.0 / biot
    outer = area[-1] / (1.0 - middle[-1] + film)
    diagonal = np.zeros(N)
    diagonal[:-1] += between
    diagonal[1:] += between
    diagonal[-1] += outer
    root = np.sqrt(volume)
    rates, modes = eigh_tridiagonal(diagonal / volume, -between / (root[1:] * root[:-1]))
    start = modes.T @ root

    def left(fo, place):
        cells = (modes @ (np.exp(-rates * fo) * start)) / root
        # from the last middle to the face: straight through steel and film
        at_face = cells[-1] * film / (film + 1.0 - middle[-1])
        return np.interp(place, np.append(middle, 1.0), np.append(cells, at_face))

    return [brentq(lambda fo, p=place: left(fo, p) - 0.5, 1e-5, 2000.0, rtol=1e-10) for place in places]


IDEAL = half_way(True, np.inf, [0.0])[0]


def check():
    # slow baths: the body is even, exp(-Bi Fo) for a plate, exp(-2 Bi Fo) for a bar; off by about Bi
    for bar in (False, True):
        got = half_way(bar, 1e-3, [0.0])[0]
        want = np.log(2.0) / 1e-3 / (2.0 if bar else 1.0)
        print("lumped", bar, got / want - 1.0)
    # plate with its face held: theta = 4/pi sum (-1)^n / (2n+1) exp(-((2n+1) pi / 2)^2 Fo) at the middle
    fo = half_way(False, np.inf, [0.0])[0]
    n = np.arange(60)
    theta = 4.0 / np.pi * np.sum((-1.0) ** n / (2 * n + 1) * np.exp(-(((2 * n + 1) * np.pi / 2) ** 2) * fo))
    print("held plate", theta - 0.5)


def main():
    print("# Ideal diameter that a place of a quenched plate or bar asks for, mm, by severity H (1/inch). Made by quenched_section.py:")
    print("#   finite volumes in NumPy and SciPy, no series of the body. Status: computed apart from this crate.")
    print("# Tolerance, written before the first run: 0.5 % of the diameter (shells, and straight lines between our places).")
    print("body,size_mm,per_inch,depth_mm,ideal_mm")
    for body in ("plate", "bar"):
        for size in (1.5, 3.0, 6.0, 12.0, 25.0):
            for severity in (0.25, 0.375, 0.5, 1.25, 2.0, 4.0):
                places = [1.0, 0.9, 0.7, 0.4, 0.0]
                for place, fo in zip(places, half_way(body == "bar", severity * size / INCH, places)):
                    ideal = size * np.sqrt(fo / IDEAL)
                    print(f"{body},{size},{severity},{(1.0 - place) * size / 2.0:.4f},{ideal:.4f}")


if __name__ == "__main__":
    check() if "--check" in sys.argv else main()
