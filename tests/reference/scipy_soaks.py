"""Converged reference solutions of carbon diffusing into austenite, for the tests of the solver.

    python scipy_soaks.py            write scipy_soaks.toml and scipy_log_*.csv beside this file
    python scipy_soaks.py --check    compare this solver with closed forms (constant diffusivity)

Solved: dC/dt = d/dx(D(T(t), C) dC/dx), in plates or in a round bar, C in wt%, depth x in mm from the
surface, along a piecewise linear log. Below 727 C nothing moves and nothing is exchanged.

How: vertex-centred finite volumes on a mesh graded towards the surface (second order), D at each
cell face at the mean carbon of its two nodes; three-stage Radau IIA in time (fifth order), restarted
at every log point, every stage and every crossing of 727 C, with small first steps after a jump.
Each soak is solved on three meshes (N, 2N, 4N) and extrapolated to zero spacing; the middle mesh is
solved again with twice the time steps. Error given = change of the extrapolated value from (N, 2N)
to (2N, 4N) + change on doubling the steps.

Checked: against the closed forms of --check the worst difference is 1.2e-7 wt%. Against eight converged
soaks of another solver, written apart from this one (BDF in time, uniform mesh, depths read off by
straight lines; 900-950 C, 30-240 min; Agren, Tibbetts, Lee and constant D; both surface laws), the worst
differences are 4.9e-6 wt% in carbon, 5.5e-7 wt% mm in uptake and 6.1e-6 mm in depth: about the rounding
of those values, which have six digits.

Needs NumPy and SciPy only. Seeded: the noisy logs come out the same every time.
"""
import sys
from pathlib import Path

import numpy as np
import scipy
from scipy.interpolate import CubicSpline
from scipy.linalg import solve_banded
from scipy.optimize import brentq
from scipy.special import erfc, erfcx, j0, j1, jn_zeros

HERE = Path(__file__).parent
R_J, R_CAL = 8.314462618, 1.987204259  # J/mol/K, cal/mol/K
M_C, M_FE = 12.011, 55.845  # g/mol
STOP_C = 727.0  # C; below it D and the exchange are zero
NODES, PIECE_STEPS = 160, 24  # coarsest mesh; time steps in a long piece

# Radau IIA, three stages: Hairer and Wanner, Solving ODEs II, table IV.5.6.
S6 = np.sqrt(6.0)
RADAU_C = np.array([(4 - S6) / 10, (4 + S6) / 10, 1.0])
RADAU_A = np.array([
    [(88 - 7 * S6) / 360, (296 - 169 * S6) / 1800, (-2 + 3 * S6) / 225],
    [(296 + 169 * S6) / 1800, (88 + 7 * S6) / 360, (-2 - 3 * S6) / 225],
    [(16 - S6) / 36, (16 + S6) / 36, 1 / 9],
])


def mole_fraction(c):
    return (c / M_C) / (c / M_C + (100 - c) / M_FE)


def agren1986(t, c):
    x = mole_fraction(c)
    y = x / (1 - x)
    return 4.53e-7 * (1 + y * (1 - y) * 8339.9 / t) * np.exp(-(1 / t - 2.221e-4) * (17767 - 26436 * y))


def tibbetts1980(t, c):
    return 0.47e-4 * np.exp(-1.6 * c - (37000 - 6600 * c) / (R_CAL * t))


def lee2011(t, c):
    return 1e-4 * (0.146 - 0.036 * c) * np.exp(-1e3 * (144.3 - 15.0 * c + 0.37 * c**2) / (R_J * t))


def slycke1981(t, c):
    x = mole_fraction(c)
    return 4.84e-5 * np.exp(-38 * x) / (1 - 5 * x) * np.exp(-(155000 - 570000 * x) / (R_J * t))


LAWS = {f.__name__: f for f in (agren1986, tibbetts1980, lee2011, slycke1981)}  # m2/s of (K, wt%)


def acm(celsius):
    u = (celsius - 900) / 100
    return 1.22614 + 0.29393 * u + 0.01553 * u**2


class Mesh:
    """Nodes at depths x (mm), cell volumes and face areas per unit of surface area."""

    def __init__(self, width, n, bar_radius=None):
        s = np.linspace(0, 1, n + 1)
        self.x = width * (0.12 * s + 0.88 * s**2)
        self.dx = np.diff(self.x)
        middle = (self.x[1:] + self.x[:-1]) / 2
        edges = np.concatenate(([0.0], middle, [width]))
        if bar_radius is None:
            self.area, self.volume = np.ones(n), np.diff(edges)
        else:
            self.area = 1 - middle / bar_radius
            self.volume = -np.diff((bar_radius - edges) ** 2) / (2 * bar_radius)


class Solver:
    def __init__(self, soak, mesh, steps):
        self.soak, self.mesh, self.steps = soak, mesh, steps
        self.law = LAWS[soak["law"]]
        self.c = np.full(len(mesh.x), float(soak["core_wt_pct"]))

    def potential(self, celsius):
        p = self.soak["potential"]
        return np.full_like(celsius, p["wt_pct"]) if "wt_pct" in p else p["share_of_acm"] * acm(celsius)

    def rates(self, c, celsius, exchange):
        """dC/dt at the three stages (rows) and its tridiagonal derivative (below, at, above)."""
        m, kelvin = self.mesh, celsius[:, None] + 273.15
        mean, fall = (c[:, 1:] + c[:, :-1]) / 2, c[:, :-1] - c[:, 1:]
        d = 1e6 * self.law(kelvin, mean)  # mm2/s
        slope = (1e6 * self.law(kelvin, mean + 1e-6) - d) / 1e-6 / 2
        flux = d * fall * m.area / m.dx
        by_left, by_right = (d + slope * fall) * m.area / m.dx, (slope * fall - d) * m.area / m.dx
        rate, at = np.zeros_like(c), np.zeros_like(c)
        rate[:, :-1] -= flux
        rate[:, 1:] += flux
        at[:, :-1] -= by_left
        at[:, 1:] += by_right
        if exchange == "transfer":
            beta = 1e3 * self.soak["beta_m_s"]  # mm/s
            rate[:, 0] += beta * (self.potential(celsius) - c[:, 0])
            at[:, 0] -= beta
        v = m.volume
        return rate / v, (by_left / v[1:], at / v, -by_right / v[:-1])

    def step(self, start, dt, celsius_at, exchange):
        """Carbon after one Radau IIA step: full Newton on the three coupled stages."""
        celsius = celsius_at(start + RADAU_C * dt)
        c, n = np.tile(self.c, (3, 1)), len(self.c)
        held = self.potential(celsius) if exchange == "held" else None
        for _ in range(12):
            rate, (below, at, above) = self.rates(c, celsius, exchange)
            miss = c - self.c - dt * RADAU_A @ rate
            band = np.zeros((11, 3 * n))
            for i in range(3):
                for j in range(3):
                    a = -dt * RADAU_A[i, j]
                    band[5 + i - j, j::3] = a * at[j] + (i == j)
                    band[2 + i - j, 3 + j::3] = a * above[j]
                    band[8 + i - j, j:-3:3] = a * below[j]
            if held is not None:
                miss[:, 0] = c[:, 0] - held
                for i in range(3):
                    for j in range(3):
                        band[5 + i - j, j] = i == j
                        band[2 + i - j, 3 + j] = 0.0
            change = solve_banded((5, 5), band, miss.T.ravel(), check_finite=False).reshape(n, 3).T
            c = c - change
            if np.abs(change).max() < 1e-8:  # quadratic: what is left is far smaller
                return c[2]
        raise RuntimeError("Newton did not converge")

    def march(self, start, end, celsius_at, exchange, jump):
        """From start to end (s) of one smooth piece; steps grow with time since its start."""
        power = 4 if jump else 2
        least = max(1, 2 * self.steps // PIECE_STEPS)
        count = self.steps if jump else max(least, min(self.steps, round((end - start) / 15)))
        if exchange == "one-way":
            return self.march_one_way(start, end, celsius_at, count, power)
        times = start + (end - start) * np.linspace(0, 1, count + 1) ** power
        for t, nxt in zip(times, times[1:]):
            self.c = self.step(t, nxt - t, celsius_at, exchange)

    def march_one_way(self, start, end, celsius_at, count, power):
        """Exchange while the potential is above the surface; the moment of each change is located."""
        def gap(t, c):
            return float(self.potential(celsius_at(np.array([t])))[0] - c[0])

        opened = gap(start, self.c) > 0
        while start < end:
            times = start + (end - start) * np.linspace(0, 1, count + 1) ** power
            start = end
            for t, nxt in zip(times, times[1:]):
                mode = "transfer" if opened else "sealed"
                c = self.step(t, nxt - t, celsius_at, mode)
                if (gap(nxt, c) > 0) != opened:
                    turn = brentq(lambda s: gap(s, self.step(t, s - t, celsius_at, mode)), t + 1e-9, nxt, xtol=1e-9)
                    self.c = self.step(t, turn - t, celsius_at, mode)
                    opened, start, power = not opened, turn, 4
                    break
                self.c = c

    def run(self):
        last = None  # end and exchange of the previous piece
        for start, end, celsius_at, exchange in pieces(self.soak):
            jump = last is None or start - last[0] > 1e-9 or exchange != last[1]
            self.march(start, end, celsius_at, exchange, jump)
            last = end, exchange
        return self.results()

    def results(self):
        m, core = self.mesh, self.soak["core_wt_pct"]
        out = {
            "surface_wt_pct": self.c[0],
            "far_wt_pct": self.c[-1],
            "uptake_wt_pct_mm": float(m.volume @ (self.c - core)),
        }
        profile = CubicSpline(m.x, self.c)
        for name, level in (("core+0.04", core + 0.04), ("0.35", 0.35), ("0.40", 0.40), ("0.55", 0.55)):
            falls = np.nonzero((self.c[:-1] >= level) & (self.c[1:] < level))[0]
            if len(falls):
                k = falls[-1]
                out["depth_mm", name] = brentq(lambda x: profile(x) - level, m.x[k], m.x[k + 1], xtol=1e-13)
        for depth in (0.05, 0.1, 0.2, 0.4, 0.8):
            if depth <= m.x[-1]:
                out["carbon_wt_pct", str(depth)] = float(profile(depth))
        return out


def pieces(soak):
    """Smooth stretches of the log at or above 727 C: start and end in s, temperature, exchange."""
    log, begin = soak["log"], 0.0
    for stage in soak["stage"]:
        exchange = stage["exchange"] if stage["exchange"] != "both-ways" else soak["surface"]
        for (t0, c0), (t1, c1) in zip(log, log[1:]):
            lo, hi = max(t0, begin), min(t1, stage["until_min"])
            if c0 != c1:
                cross = t0 + (t1 - t0) * (STOP_C - c0) / (c1 - c0)
                lo, hi = (max(lo, cross), hi) if c1 > c0 else (lo, min(hi, cross))
            elif c0 < STOP_C:
                continue
            if hi - lo > 1e-9:
                def celsius_at(s, t0=t0, t1=t1, c0=c0, c1=c1):
                    return c0 + (c1 - c0) * (s / 60 - t0) / (t1 - t0)
                yield 60 * lo, 60 * hi, celsius_at, exchange
        begin = stage["until_min"]


def width_mm(soak):
    if soak["shape"] == "plate-both":
        return soak["thickness_mm"] / 2
    if soak["shape"] == "plate-one":
        return soak["thickness_mm"]
    if soak["shape"] == "round":
        return soak["diameter_mm"] / 2
    # Ten diffusion lengths at 0.6 wt%: what would reach the far side is below 1e-9 wt%.
    reach = 0.0
    for start, end, celsius_at, _ in pieces(soak):
        t = np.linspace(start, end, 50)
        reach += np.trapezoid(1e6 * LAWS[soak["law"]](celsius_at(t) + 273.15, 0.6), t)
    return round(10 * reach**0.5, 2)


def solve(soak, nodes, steps):
    width = width_mm(soak)
    return Solver(soak, Mesh(width, nodes, width if soak["shape"] == "round" else None), steps).run()


def converged(soak, nodes=NODES, steps=PIECE_STEPS):
    """Values extrapolated from three meshes, and the error estimated for each."""
    coarse, middle, fine = (solve(soak, k * nodes, steps) for k in (1, 2, 4))
    finer_time = solve(soak, 2 * nodes, 2 * steps)
    value = {k: (4 * fine[k] - middle[k]) / 3 for k in fine}
    error = {k: abs(value[k] - (4 * middle[k] - coarse[k]) / 3) + abs(finer_time[k] - middle[k]) for k in fine}
    return value, error


def noisy_log(seed, hold_c, period_min, peak_c=12.0, points=3000):
    """10 s readings of a furnace under an on-off controller: heat-up, saw-tooth hold, cooling."""
    rng = np.random.default_rng(seed)
    minutes = np.round(np.arange(points) / 6, 4)
    saw = peak_c * (1 - 4 * np.abs((minutes / period_min) % 1 - 0.5))
    heat = 20 + (hold_c - 20) * np.minimum(minutes / 55, 1)
    cool = np.maximum(minutes - 450, 0) * 6.5
    celsius = heat + np.where(minutes > 55, saw, 0) - cool + rng.normal(0, 3, points)
    return [[float(t), float(c)] for t, c in zip(minutes, np.round(celsius, 1))]


STEADY = [[0, 900], [30, 900]]
THREE_HOURS = [[0, 900], [180, 900]]
RAMP = [[0, 20], [45, 850], [60, 900], [120, 905], [128, 850], [170, 500]]
TWO_HEATS = [[0, 20], [40, 900], [85, 905], [100, 640], [125, 655], [150, 910], [200, 890], [220, 600]]
ACM = {"share_of_acm": 1.0}


def make(name, law, core, shape, size, surface, potential, log, beta=None, later=()):
    soak = {"name": name, "law": law, "core_wt_pct": core, "shape": shape}
    if size:
        soak["diameter_mm" if shape == "round" else "thickness_mm"] = size
    soak["surface"] = surface
    if beta:
        soak["beta_m_s"] = beta
    soak["potential"] = potential
    ends = [t for t, _ in later] + [log[-1][0]]
    kinds = ["both-ways"] + [kind for _, kind in later]
    soak["stage"] = [{"until_min": t, "exchange": kind} for t, kind in zip(ends, kinds)]
    soak["log"] = log
    return soak


def share(f):
    return {"share_of_acm": f}


def fixed(c):
    return {"wt_pct": c}


def soaks():
    """later = (minute at which it begins, exchange from then on)."""
    drift_up = [[0, 850], [180, 885], [360, 935]]
    drift_down = [[0, 945], [90, 915], [240, 855]]
    hot = [[0, 20], [60, 1000], [300, 1040], [420, 1020], [450, 700]]
    cool_in_pack = [[0, 20], [50, 900], [110, 900], [170, 700]]
    soak_then_hold = [[0, 900], [120, 900], [360, 900]]
    return [
        make("agren-30-min", "agren1986", 0.10, "thick", None, "held", ACM, STEADY),
        make("tibbetts-30-min", "tibbetts1980", 0.20, "thick", None, "held", fixed(1.1), STEADY),
        make("lee-30-min", "lee2011", 0.15, "plate-one", 3.0, "transfer", share(0.9), STEADY, 2e-7),
        make("slycke-30-min", "slycke1981", 0.08, "plate-one", 3.0, "transfer", fixed(1.0), STEADY, 5e-7),
        make("agren-ramp", "agren1986", 0.15, "thick", None, "transfer", share(0.9), RAMP, 1e-7),
        make("tibbetts-ramp", "tibbetts1980", 0.18, "plate-both", 6.0, "transfer", fixed(1.0), RAMP, 3e-7),
        make("slycke-ramp-held", "slycke1981", 0.12, "thick", None, "held", share(0.9), RAMP),
        make("lee-ramp-held", "lee2011", 0.15, "plate-one", 4.0, "held", share(0.85), RAMP),
        make("lee-drift-up", "lee2011", 0.15, "thick", None, "held", fixed(1.0), drift_up),
        make("slycke-drift-down", "slycke1981", 0.20, "thick", None, "transfer", share(0.85), drift_down, 5e-7),
        make("agren-thin-plate", "agren1986", 0.10, "plate-both", 1.5, "transfer", share(0.9), THREE_HOURS, 2e-7),
        make("slycke-thin-plate", "slycke1981", 0.15, "plate-both", 1.5, "held", fixed(0.9), [[0, 950], [120, 950]]),
        make("tibbetts-one-face", "tibbetts1980", 0.10, "plate-one", 1.2, "held", share(0.95),
             [[0, 920], [240, 920]]),
        make("agren-bar-3mm", "agren1986", 0.15, "round", 3.0, "transfer", share(0.9), [[0, 900], [120, 910]], 2e-7),
        make("slycke-bar-3mm", "slycke1981", 0.15, "round", 3.0, "held", share(0.9), RAMP),
        make("tibbetts-bar-10mm", "tibbetts1980", 0.20, "round", 10.0, "held", ACM, [[0, 925], [180, 925]]),
        make("lee-bar-10mm", "lee2011", 0.10, "round", 10.0, "transfer", share(0.9), RAMP, 5e-8),
        make("agren-two-heats", "agren1986", 0.15, "thick", None, "held", share(0.9), TWO_HEATS),
        make("tibbetts-two-heats", "tibbetts1980", 0.10, "plate-both", 2.5, "transfer", share(0.9), TWO_HEATS,
             1.5e-7),
        make("agren-noisy", "agren1986", 0.15, "thick", None, "held", share(0.9), noisy_log(1, 910, 9)),
        make("tibbetts-noisy", "tibbetts1980", 0.12, "plate-both", 3.0, "transfer", share(0.9),
             noisy_log(2, 910, 6), 2e-7),
        make("lee-noisy-bar", "lee2011", 0.18, "round", 10.0, "transfer", fixed(1.0), noisy_log(3, 910, 14), 1e-7),
        make("agren-sealed-after", "agren1986", 0.16, "thick", None, "transfer", fixed(1.0), soak_then_hold, 5e-7,
             [(120, "sealed")]),
        make("slycke-held-then-sealed", "slycke1981", 0.16, "plate-both", 3.0, "held", fixed(1.0), soak_then_hold,
             None, [(120, "sealed")]),
        make("agren-one-way-cooling", "agren1986", 0.15, "thick", None, "transfer", share(0.9), cool_in_pack, 2e-7,
             [(110, "one-way")]),
        make("lee-one-way-cooling", "lee2011", 0.15, "round", 3.0, "transfer", share(0.9), cool_in_pack, 1e-7,
             [(110, "one-way")]),
        make("agren-hot", "agren1986", 0.10, "thick", None, "transfer", share(0.8), hot, 3e-7),
        make("tibbetts-8-h", "tibbetts1980", 0.15, "thick", None, "held", share(0.9), [[0, 900], [480, 900]]),
        make("lee-8-h", "lee2011", 0.15, "plate-both", 4.0, "transfer", share(0.9), [[0, 890], [480, 890]], 5e-8),
    ]


def toml_inline(value):
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{k} = {toml_inline(v)}" for k, v in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml_inline, value)) + "]"
    return repr(float(value))


def toml_soak(soak, value, error):
    lines = ["[[soak]]"]
    for key, item in soak.items():
        if key == "log" and len(item) > 40:
            name = f"scipy_log_{soak['name'].replace('-', '_')}.csv"
            rows = "".join(f"{t:.4f},{c:.1f}\n" for t, c in item)
            (HERE / name).write_text("minutes,celsius\n" + rows)
            key, item = "log_file", name
        lines.append(f"{key} = {toml_inline(item)}")
    lines.append("[soak.result]")
    lines += [f"{k} = {v:.7f}" for k, v in value.items() if isinstance(k, str)]
    for table in ("depth_mm", "carbon_wt_pct"):
        pairs = ", ".join(f'"{k[1]}" = {v:.7f}' for k, v in value.items() if k[0] == table)
        lines.append(f"{table} = {{ {pairs} }}")
    in_mm = [e for k, e in error.items() if k[0] == "depth_mm"]
    in_wt = [e for k, e in error.items() if k[0] != "depth_mm"]
    lines += [f"error_wt_pct = {max(in_wt):.1e}", f"error_mm = {max(in_mm, default=0.0):.1e}"]
    return "\n".join(lines) + "\n"


HEAD = f"""\
# Carbon soaks solved to convergence: what the diffusion solver is tested against.
# Made by scipy_soaks.py (how: its head) with SciPy {scipy.__version__} and NumPy {np.__version__}. Status: computed.
# Units: wt%, mm, m/s, minutes, C. Depths are inward from the packed surface.
# stage: exchange until that minute; both-ways = the soak's own surface law; sealed = none;
#   one-way = beta * (potential - surface), never negative. Below 727 C nothing moves in any stage.
# far_wt_pct: mid-plane (plate-both), sealed far face (plate-one), centre (round), core (thick).
# uptake: integral of C - core over depth; in a bar, of (C - core) r dr / R.
# depth_mm: deepest place where carbon falls through that wt%; left out where it never does.
# carbon_wt_pct: at that depth in mm. error_wt_pct: largest error estimated of all values not in mm.
"""


def check():
    """Constant D, held or exchanging surface: closed forms from Crank, The Mathematics of Diffusion,
    eqs 3.13 (held), 3.35 (exchange), 4.17 (slab), 5.22 (bar), numbers from memory;
    core 0.1, potential 1 wt%, D 1e-11 m2/s, 2 h."""
    d, time, beta, radius = 1e-5, 7200.0, 2e-4, 1.0  # mm2/s, s, mm/s, mm (also the half thickness)
    LAWS["constant"] = lambda t, c: d * 1e-6 + 0 * c * t
    reach, odd, zeros = 2 * (d * time) ** 0.5, 2 * np.arange(40) + 1, jn_zeros(0, 40)

    def exchange(x):
        z, b = x / reach, beta / d * (d * time) ** 0.5
        return erfc(z) - np.exp(-z * z) * erfcx(z + b)

    def slab(x):
        decay = np.exp(-d * (odd * np.pi / 2 / radius) ** 2 * time)
        return 1 - np.sum(4 / np.pi / odd * decay * np.sin(odd * np.pi * x / 2 / radius))

    def bar(x):
        decay = np.exp(-d * (zeros / radius) ** 2 * time)
        return 1 - np.sum(2 / zeros * decay * j0(zeros * (1 - x / radius)) / j1(zeros))

    cases = [
        ("thick", "held", lambda x: erfc(x / reach)),
        ("thick", "transfer", exchange),
        ("plate-both", "held", slab),
        ("round", "held", bar),
    ]
    for shape, surface, exact in cases:
        soak = make(shape, "constant", 0.1, shape, 2 * radius, surface, fixed(1.0), [[0, 900], [time / 60, 900]],
                    beta=beta * 1e-3)
        value, error = converged(soak)
        miss = max(abs(v - 0.1 - 0.9 * exact(float(k[1]))) for k, v in value.items() if k[0] == "carbon_wt_pct")
        print(f"{shape:10} {surface:8} differs by {miss:.1e} wt%, error estimated {max(error.values()):.1e}")


def main():
    text, worst = [HEAD], 0.0
    for soak in soaks():
        value, error = converged(soak)
        worst = max(worst, *error.values())
        print(f"{soak['name']:26} error {max(error.values()):.1e}", flush=True)
        text.append(toml_soak(soak, value, error))
    (HERE / "scipy_soaks.toml").write_text("\n".join(text))
    print(f"worst error {worst:.1e} (wt% or mm)")
    assert worst < 5e-5


if __name__ == "__main__":
    check() if "--check" in sys.argv else main()
