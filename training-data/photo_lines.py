"""Fits what photos of sparks show against the published trend (`models/photo-lines.toml`) from readings of drawn smiths.

    python3 photo_lines.py      # reads photo_points.csv

Needs NumPy and SciPy. For each measure, on its scale: reading = offset + slope x trend + drift of the day + scatter, where
offset and slope are normal from smith to smith; all readings less the measure's centre. The six numbers are those that make
the readings likeliest, the readings' own ranges taken as their variance. `photo_points.csv` is what
`tests/known/points.rs` writes.
"""

import csv
from pathlib import Path

import numpy as np
from scipy.linalg import cho_factor, cho_solve
from scipy.optimize import minimize

HERE = Path(__file__).resolve().parent
POINTS = HERE / "photo_points.csv"
MODEL = HERE.parent / "models" / "photo-lines.toml"

MEASURES = ["share_bursting", "rays", "tiers", "onset", "burst_ratio", "carrier_ratio", "length_ratio"]
AMOUNTS = MEASURES[4:]
# An amount on a photo has no number to be off from: its offset may be any.
ANY = 10.0
# Readings tell little of small spreads: none is taken for smaller (judgement), and none is likelier than 0.3, twofold.
LEAST_DRIFT, LEAST_SCATTER, LEAST_SPREAD = 0.05, 0.1, 0.1
LEAST_SLOPE = 0.05  # a measure that follows carbon less than this tells nothing of it, and is left out
USUAL_SPREAD, TWOFOLD = 0.3, 0.7


def spreads(logs):
    return np.exp(np.clip(logs, -5, 3))


def unlikely(numbers, smiths, amount):
    """Minus the logarithm of the likelihood, and of how likely the spreads from smith to smith are."""
    mean, slope = numbers[:2]
    of_offset, of_slope, drift, scatter = spreads(numbers[2:])
    of_offset = ANY if amount else of_offset
    total = sum(0.5 * ((log - np.log(USUAL_SPREAD)) / TWOFOLD) ** 2 for log in numbers[2:4])
    total += 50 * min(slope, 0) ** 2  # no measure falls where the trend rises
    for day, trend, at, variance in smiths:
        covariance = of_offset**2 + of_slope**2 * np.outer(trend, trend) + drift**2 * (day[:, None] == day)
        covariance += np.diag(scatter**2 + variance)
        off = at - mean - slope * trend
        factor = cho_factor(covariance, lower=True)
        total += 0.5 * off @ cho_solve(factor, off) + np.log(np.diag(factor[0])).sum()
    return total


def fitted(smiths, amount):
    best = None
    for start in ([0, 1, -1, -1, -2, -1], [-1, 0.5, -1, -2, -3, -2], [0, 0, 0, -2, -3, -3]):
        found = minimize(unlikely, start, (smiths, amount), "Nelder-Mead", options={"maxiter": 6000, "xatol": 1e-4, "fatol": 1e-4})
        best = found if best is None or found.fun < best.fun else best
    mean, slope = best.x[:2]
    of_offset, of_slope, drift, scatter = spreads(best.x[2:])
    return mean, max(of_offset, LEAST_SPREAD), max(slope, 0), max(of_slope, LEAST_SPREAD), max(drift, LEAST_DRIFT), max(scatter, LEAST_SCATTER)


def main():
    lines = [line for line in POINTS.read_text().splitlines() if not line.startswith("#")]
    rows = list(csv.DictReader(lines))
    text = (
        "# What photos of sparks show against what the published trend has for the same carbon, before a steel of the rig\n"
        "# is known, on the scale of each measure: shares by the logarithm of their odds, ratios by their logarithm, rays and\n"
        "# tiers as they are. Reading = centre + offset + slope (trend - centre) + drift of the day + scatter; offset and slope\n"
        "# differ from rig to rig by the standard deviations given. Ratios have no offset: a photo counts in numbers of its own.\n"
        "# Fitted by training-data/photo_lines.py on drawn pictures; no real rig was seen.\n"
        "[photos]\nlines = { source = \"snapspark\", status = \"computed\", "
        f"place = \"{len({row['smith'] for row in rows})} drawn smiths, training-data/photo_points.csv\", value = [\n"
    )
    for measure in MEASURES:
        own = [row for row in rows if row["measure"] == measure]
        column = lambda name, smith: np.array([float(row[name]) for row in own if row["smith"] == smith])
        names = sorted({row["smith"] for row in own})
        smiths = [tuple(column(name, smith) for name in ("day", "trend", "reading", "variance")) for smith in names]
        mean, of_offset, slope, of_slope, drift, scatter = fitted(smiths, measure in AMOUNTS)
        if slope < LEAST_SLOPE:
            continue
        offset = "" if measure in AMOUNTS else f"offset = {mean:.2f}, offset_sd = {of_offset:.2f}, "
        text += (
            f'  {{ measure = "{measure}", {offset}slope = {slope:.2f}, slope_sd = {of_slope:.2f}, '
            f"drift = {drift:.2f}, scatter = {scatter:.2f} }},\n"
        )
    MODEL.write_text(text + "] }\n")


if __name__ == "__main__":
    main()
