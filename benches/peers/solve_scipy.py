"""A plain SciPy solve of two soaks, timed at equal error: method of lines on a mesh of few nodes,
solve_ivp with a three-band Jacobian, tuned to about 0.0005 mm in depth and 0.001 wt% at the surface.

    python solve_scipy.py [repeats]

1. Agren's D, 900 C for 30 min, 0.1 %C core, surface held at Acm (1.22614 wt%), 2.5 mm, far face sealed.
2. tibbetts-noisy of tests/reference/scipy_soaks.toml: a 3,000-point log, 3 mm plate packed on both faces.

Measured with SciPy 1.17.1, NumPy 2.4.6, Python 3.11 on one thread of a two-core x86-64 machine, best of 10
(log already read; its transformed clock, 0.4 ms, inside the time):
soak 1: LSODA 1.7 ms (0.00047 mm off), BDF 8.0 ms (0.00048 mm off);
soak 2: LSODA 39 ms at tolerance 1e-3 (0.0003 mm, 0.0005 wt% off; 50 to 80 nodes: up to 0.002 wt%),
120 ms at 3e-4 (0.0002 mm, 0.0003 wt%; 50 to 80 nodes: up to 0.0005 wt%, so the dependable one);
BDF 164 ms at 1e-4 (0.0001 mm, 0.0001 wt%; 50 to 80 nodes: up to 0.0013 wt%). BDF at 1e-3 takes 26 ms
but misses the surface by up to 0.013 wt%.
LSODA with 300 nodes and tolerance 1e-7 comes within 0.000005 mm and 0.00002 wt% of the reference.
"""
import csv
import sys
import time
import tomllib
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline
from scipy.sparse import diags

HERE = Path(__file__).parent
REFERENCE = HERE / "../../tests/reference"
STOP_C = 727.0


def agren(kelvin, c):
    y = (c / 12.011) / ((100 - c) / 55.845)  # mole ratio carbon to iron
    return 4.53e-7 * (1 + y * (1 - y) * 8339.9 / kelvin) * np.exp(-(1 / kelvin - 2.221e-4) * (17767 - 26436 * y))


def tibbetts(kelvin, c):
    return 0.47e-4 * np.exp(-1.6 * c - (37000 - 6600 * c) / (1.987204259 * kelvin))


def acm(celsius):
    u = (celsius - 900) / 100
    return 1.22614 + 0.29393 * u + 0.01553 * u**2


def depth(x, c, level):
    k = np.nonzero((c[:-1] >= level) & (c[1:] < level))[0][-1]
    spline = CubicSpline(x[max(k - 3, 0) : k + 5], c[max(k - 3, 0) : k + 5] - level)
    return next(r for r in spline.roots(extrapolate=False) if x[k] <= r <= x[k + 1])


class Mesh:
    """Nodes at depths x in mm, closer together at the surface; cell volumes per unit of surface."""

    def __init__(self, width, n, first):
        s = np.linspace(0, 1, n + 1)
        self.x = width * (first * s + (1 - first) * s**2)
        self.dx = np.diff(self.x)
        self.volume = (np.append(self.dx, 0) + np.append(0, self.dx)) / 2


def integrate(rate, end, start, rtol, method, **more):
    n = len(start)
    if method == "LSODA":
        more |= {"lband": 1, "uband": 1}
    else:
        more |= {"jac_sparsity": diags([1.0, 1.0, 1.0], [-1, 0, 1], shape=(n, n), format="csc")}
    return solve_ivp(rate, (0, end), start, method, t_eval=[end], rtol=rtol, atol=rtol, **more).y[:, -1]


def steady(n, first, rtol, method):
    """Soak 1: nodes 1..n are unknown, node 0 is held."""
    mesh, held = Mesh(2.5, n, first), acm(900.0)

    def rate(_, c):
        full = np.concatenate(([held], c))
        flux = 1e6 * agren(1173.15, (full[1:] + full[:-1]) / 2) * -np.diff(full) / mesh.dx
        return (flux - np.append(flux[1:], 0.0)) / mesh.volume[1:]

    return mesh.x, np.append(held, integrate(rate, 1800, np.full(n, 0.1), rtol, method))


def noisy(n, first, rtol, method, soak, log):
    """Soak 2 in the time theta = integral of D(T, 0.5 wt%) dt, which takes out most of the noise."""
    mesh, beta = Mesh(soak["thickness_mm"] / 2, n, first), 1e3 * soak["beta_m_s"]
    share = soak["potential"]["share_of_acm"]
    theta, celsius = hot_clock(log)

    def rate(th, c):
        t = np.interp(th, theta, celsius)
        flux = 1e6 * tibbetts(t + 273.15, (c[1:] + c[:-1]) / 2) * -np.diff(c) / mesh.dx
        entering = beta * (share * acm(t) - c[0])
        per_theta = mesh.volume * 1e6 * tibbetts(t + 273.15, 0.5)
        return (np.concatenate(([entering], flux)) - np.append(flux, 0.0)) / per_theta

    start = np.full(n + 1, soak["core_wt_pct"])
    return mesh.x, integrate(rate, theta[-1], start, rtol, method, max_step=theta[-1] / 20)


def hot_clock(log, inside=4):
    """(theta in mm2, C) through the log's stretches at or above 727 C, end to end."""
    minutes, celsius = log.T
    fine = np.interp(np.arange((len(log) - 1) * inside + 1) / inside, np.arange(len(log)), minutes)
    t = np.interp(fine, minutes, celsius)
    k = np.nonzero((t[:-1] < STOP_C) != (t[1:] < STOP_C))[0]
    crossing = fine[k] + (fine[k + 1] - fine[k]) * (STOP_C - t[k]) / (t[k + 1] - t[k])
    fine, t = np.insert(fine, k + 1, crossing), np.insert(t, k + 1, STOP_C)
    d = 1e6 * tibbetts(t + 273.15, 0.5)
    hot = (t[1:] >= STOP_C) & (t[:-1] >= STOP_C)
    theta = np.concatenate(([0.0], np.cumsum(np.where(hot, np.diff(fine) * 60 * (d[1:] + d[:-1]) / 2, 0.0))))
    keep = np.append(hot, False) | np.insert(hot, 0, False)
    return theta[keep], t[keep]


def best_of(repeats, run):
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        answer = run()
        times.append(time.perf_counter() - start)
    return 1e3 * min(times), answer


def report(name, setting, ms, answer, want):
    x, c = answer
    nodes, _, rtol, method = setting
    print(f"{name:16} {method:5} {nodes} nodes {rtol:.0e}: {ms:6.1f} ms, "
          f"0.40 %C depth off by {depth(x, c, 0.40) - want['depth_mm']['0.40']:+.6f} mm, "
          f"surface off by {c[0] - want['surface_wt_pct']:+.6f} wt%")


def main():
    repeats = int(sys.argv[1]) if len(sys.argv) > 1 else 5
    with open(REFERENCE / "scipy_soaks.toml", "rb") as file:
        soaks = {s["name"]: s for s in tomllib.load(file)["soak"]}
    for setting in STEADY:
        ms, answer = best_of(repeats, lambda: steady(*setting))
        report("30 min at 900 C", setting, ms, answer, soaks["agren-30-min"]["result"])

    soak = soaks["tibbetts-noisy"]
    with open(REFERENCE / soak["log_file"]) as file:
        log = np.array([[float(v) for v in row] for row in list(csv.reader(file))[1:]])
    for setting in NOISY:
        ms, answer = best_of(repeats, lambda: noisy(*setting, soak, log))
        report("3,000-point log", setting, ms, answer, soak["result"])


# Nodes, first spacing against the mean one, tolerance, integrator: the quickest that meet the error.
STEADY = [(60, 1.0, 1e-3, "LSODA"), (60, 1.0, 1e-4, "BDF")]
NOISY = [(60, 0.1, 1e-3, "LSODA"), (60, 0.1, 3e-4, "LSODA"), (60, 0.1, 1e-4, "BDF")]

if __name__ == "__main__":
    main()
