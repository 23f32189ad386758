"""Carbon in a wedge-shaped edge once more, by FiPy on triangles, apart from the finite volumes of wedge.py.

    python wedge_fipy.py            write wedge_fipy.csv beside this file (a few minutes)
    python wedge_fipy.py --check    compare with closed forms (constant diffusivity)

Solved: what wedge.py solves, for the same angles, soaks and places, and its edge of 0.8 mm; of wedge.py only the numbers of the soak and
the law of diffusion are used. FiPy: J. E. Guyer, D. Wheeler, J. A. Warren, FiPy: Partial Differential Equations with
Python, Computing in Science and Engineering 11 (3), 2009, 6-15.

How: half the wedge, cut along its middle plane (nothing passes), in triangles by gmsh (frontal, Delaunay), small at arc
and face. A cell's carbon is that at its circumcentre, so that the line between two cells crosses their border squarely;
from centroids, as FiPy has them, the fluxes of slanted pairs are wrong and stay so on finer meshes. D at each border of
two cells by their mean carbon, swept, each guess mixed of the last five, until carbon moves by
less than 1e-6 %C; backward Euler with quadratically growing
steps, N and 2N of them, extrapolated for first order. The middle plane is read off a parabola through twelve cells.
Carbon given is that of the finer mesh; error = change from triangles half as wide again at least.


Worst change from 5512 to 14715 triangles (15 degrees), 5702 to 15086 (20) and 5979 to 15757 (30): 0.0049 %C.

Written with Python 3.11.7, FiPy 4.0.3, gmsh 4.15.2, NumPy 2.4.6, SciPy 1.17.1; FiPy's SciPy solvers, LU.
"""
import os
import sys
import tempfile
from multiprocessing import Pool
from pathlib import Path

os.environ["FIPY_SOLVERS"] = "scipy"

import gmsh
import numpy as np
from fipy import CellVariable, DiffusionTerm, FaceVariable, Gmsh2D, ImplicitSourceTerm, LinearLUSolver, TransientTerm
from scipy.spatial import cKDTree
from scipy.special import erf, erfcx

from wedge import BETA, CELSIUS, CORE, HERE, POTENTIAL, agren

REACH = 14e-3  # m behind the arc, where nothing passes; as wedge.py
# triangles: m wide at arc and face, wider by so much for each m inward, m at most. Judgement.
COARSE, FINE = (36e-6, 0.15, 0.3e-3), (20e-6, 0.1, 0.2e-3)
STEPS = 20  # of the first soak, and twice as many. Judgement.
ANGLES, EDGES, HOURS = (15, 20, 30), (0.8e-3,), np.array([1.0, 3.0])  # degrees, m, h; as wedge.py
PLACES = np.array([0.0, 0.25, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 6.0]) * 1e-3  # m behind the arc; as wedge.py
SWEEPS, REMEMBERED, SETTLED = 40, 5, 1e-6  # at most; sweeps that make the next guess; %C


class Triangles(Gmsh2D):
    """Half a wedge with its middle plane on y = 0 and its apex in the origin; cells at their circumcentres."""

    def __init__(self, angle, r0, reach, near, growth, widest):
        gmsh.initialize()
        for name, value in (("General.Terminal", 0), ("Mesh.MshFileVersion", 2.2), ("Mesh.Algorithm", 6),
                            ("Mesh.MeshSizeExtendFromBoundary", 0), ("Mesh.MeshSizeFromPoints", 0)):
            gmsh.option.setNumber(name, value)
        geo, field = gmsh.model.geo, gmsh.model.mesh.field
        apex, a, b, c, d = (
            geo.addPoint(r * np.cos(phi), r * np.sin(phi), 0)
            for r, phi in ((0, 0), (r0, 0), (r0 + reach, 0), (r0 + reach, angle / 2), (r0, angle / 2)))
        middle, back, face, arc = (
            geo.addLine(a, b), geo.addCircleArc(b, apex, c), geo.addLine(c, d), geo.addCircleArc(d, apex, a))
        inside = geo.addPlaneSurface([geo.addCurveLoop([middle, back, face, arc])])
        geo.synchronize()
        gmsh.model.addPhysicalGroup(1, [face, arc], name="surface")
        gmsh.model.addPhysicalGroup(1, [middle, back], name="closed")
        gmsh.model.addPhysicalGroup(2, [inside], name="inside")
        gap, size = field.add("Distance"), field.add("MathEval")
        field.setNumbers(gap, "CurvesList", [face, arc])
        field.setNumber(gap, "Sampling", 2000)
        field.setString(size, "F", f"Min({near!r} + {growth!r} * F{gap}, {widest!r})")
        field.setAsBackgroundMesh(size)
        gmsh.model.mesh.generate(2)
        with tempfile.TemporaryDirectory() as place:
            name = str(Path(place) / "wedge.msh")
            gmsh.write(name)
            gmsh.finalize()
            super().__init__(name)
        # where two circumcentres have changed sides, the normal between them turns and the areas are wrong
        if not (np.array(self.cellVolumes) > 0).all():
            raise ValueError("a triangle is too blunt for its circumcentre: choose other widths")

    def _calcCellCenters(self):
        a, b, c = np.moveaxis(self.vertexCoords[:, self._orderedCellVertexIDs], 1, 0)
        b, c = b - a, c - a
        bb, cc = (b * b).sum(axis=0), (c * c).sum(axis=0)
        return a + np.stack([c[1] * bb - b[1] * cc, b[0] * cc - c[0] * bb]) / (2 * (b[0] * c[1] - b[1] * c[0]))

    def gaps(self):
        """From the first cell of each border to the second, or to the border at the outside, m along its normal."""
        centres, (first, second) = np.array(self.cellCenters), np.ma.filled(self.faceCellIDs, 0)
        to = np.where(np.array(self.interiorFaces), centres[:, second], np.array(self.faceCenters))
        return ((to - centres[:, first]) * np.array(self.faceNormals)).sum(axis=0)


def mixed(guesses, swept):
    """The next guess, of the last ones and what a sweep made of each (D. G. Anderson 1965; from memory)."""
    moved = np.diff(swept - guesses, axis=0)
    if not len(moved):
        return swept[-1]
    shares = np.linalg.lstsq(moved.T, (swept - guesses)[-1], rcond=None)[0]
    return swept[-1] - shares @ np.diff(swept, axis=0)


class Soak:
    """Carbon in half a wedge; arc and face take it up, flux = beta (potential - C), or are held there: beta None."""

    def __init__(self, mesh, d, core, potential, beta):
        self.mesh, self.d, self.resistance = mesh, d, 1 / beta if beta else 0.0
        self.c = CellVariable(mesh=mesh, value=core, hasOld=True)
        self.inner = FaceVariable(mesh=mesh, value=0.0)
        self.outer = FaceVariable(mesh=mesh, value=0.0)
        taken = (self.outer * mesh.faceNormals).divergence
        self.equation = TransientTerm() == DiffusionTerm(self.inner) + taken * potential - ImplicitSourceTerm(taken)
        self.surface = np.array(mesh.physicalFaces["surface"])
        self.outside = np.array(mesh.exteriorFaces)
        self.gap = mesh.gaps()[self.surface]
        first, second = mesh.faceCellIDs
        self.beside = np.array([first, np.where(self.outside, first, np.ma.filled(second, 0))])

    def march(self, times):
        solver = LinearLUSolver(tolerance=1e-12)
        for dt in np.diff(times):
            self.c.updateOld()
            guesses, swept = [], []
            for _ in range(SWEEPS):
                guesses.append(self.c.value.copy())
                d = self.d(guesses[-1][self.beside].mean(axis=0))
                outer = np.zeros_like(d)
                # through half a cell, then through the surface
                outer[self.surface] = 1 / (self.gap / d[self.surface] + self.resistance)
                d[self.outside] = 0.0
                self.inner.setValue(d)
                self.outer.setValue(outer)
                self.equation.sweep(self.c, dt=dt, solver=solver)
                swept.append(self.c.value.copy())
                if np.abs(swept[-1] - guesses[-1]).max() < SETTLED:
                    break
                self.c.setValue(mixed(np.array(guesses[-REMEMBERED:]), np.array(swept[-REMEMBERED:])))
            else:
                raise ValueError(f"carbon has not settled after {SWEEPS} sweeps of a step of {dt:.3g} s")

    def middle(self, x):
        """On the middle plane, x m behind the apex: even across it."""
        centres = np.array(self.mesh.cellCenters).T
        line = np.stack([x, np.zeros_like(x)], 1)
        apart, nearest = cKDTree(centres).query(line, 12)
        u, v = np.moveaxis((centres[nearest] - line[:, None]) / apart.max(axis=1)[:, None, None], 2, 0)
        bases = np.stack([np.ones_like(u), u, u * u, v * v], 2)
        return np.array([np.linalg.lstsq(b, c, rcond=None)[0][0] for b, c in zip(bases, self.c.value[nearest])])


def middles(mesh, r0, steps, ends, xs, *soak):
    """Carbon on the middle plane after the times that `ends` gives: one row for each, extrapolated in steps."""
    per_steps = []
    for n in (steps, 2 * steps):
        s, roots, rows = Soak(mesh, *soak), np.sqrt([0.0, *ends]), []
        for a, b in zip(roots, roots[1:]):
            # as many steps as go on growing evenly
            s.march(np.linspace(a, b, 1 + round(n * (b - a) / roots[1])) ** 2)
            rows.append(s.middle(r0 + xs))
        per_steps.append(np.array(rows))
    return 2 * per_steps[1] - per_steps[0]


def check():
    """A wedge of 90 degrees with a sharp point is a quarter space: of what is missing, the product of two half spaces'.

    H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, product solutions, surface held or with transfer; from
    memory.
    """
    d, t, xs = 1e-11, 3600.0, np.array([0.1, 0.2, 0.4, 0.6, 0.9]) * 1e-3
    spread = np.sqrt(d * t)
    z, h = xs / np.sqrt(2) / (2 * spread), BETA / d * spread
    for near, growth, widest in (COARSE, FINE):
        mesh = Triangles(np.pi / 2, 1e-6, 4e-3, near, growth, widest)
        for name, beta, missing in (("held", None, erf(z)), ("transfer", BETA, erf(z) + np.exp(-z * z) * erfcx(z + h))):
            got = middles(mesh, 0.0, STEPS, [t], xs, lambda c: np.full_like(c, d), 0.0, 1.0, beta)
            print(mesh.numberOfCells, "triangles, surface", name, np.abs(got[0] - (1 - missing ** 2)).max())


def lines_of(edge):
    """Of one edge, degrees and m: its lines of the table, after both soaks."""
    angle, thick = edge
    r0, got = thick / 2 / np.sin(np.radians(angle) / 2), []
    for near, growth, widest in (COARSE, FINE):
        mesh = Triangles(np.radians(angle), r0, REACH, near, growth, widest)
        soak = lambda c: agren(CELSIUS + 273.15, c), CORE, POTENTIAL, BETA
        got.append(middles(mesh, r0, STEPS, HOURS * 3600, PLACES, *soak))
    print(angle, thick, mesh.numberOfCells, "triangles, change", np.abs(got[1] - got[0]).round(4).tolist(), flush=True)
    return [f"{angle},{thick * 1e3:g},{h:g},{x * 1e3:g},{c:.4f},{off:.1e}"
            for h, fine, coarse in zip(HOURS, *got[::-1]) for x, c, off in zip(PLACES, fine, np.abs(fine - coarse))]


def main():
    lines = [
        "# Carbon on the middle plane of a wedge-shaped edge, behind the edge, solved in two dimensions by FiPy on triangles.",
        "# Author: this project, wedge_fipy.py, 2026. Status: computed. Its checks against closed forms: wedge_fipy.py --check.",
        "# FiPy 4.0.3, gmsh 4.15.2, NumPy 2.4.6, SciPy 1.17.1, Python 3.11.7. Soak, law and edge as in wedge.csv.",
        "# error: change at this place from triangles half as wide again at least.",
        "# Tolerance, written before the first comparison, from 1 mm behind the edge on: 0.01 %C against wedge.csv,",
        "# 0.03 %C for the local thickness.",
        "angle_deg,edge_mm,hours,behind_mm,carbon_percent,error_percent",
    ]
    with Pool(len(ANGLES)) as pool:
        for found in pool.imap(lines_of, [(angle, thick) for angle in ANGLES for thick in EDGES], chunksize=1):
            lines += found
    (HERE / "wedge_fipy.csv").write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    check() if "--check" in sys.argv else main()
