"""Draws training rows for the spark tree from the published trend: spark_trend.csv -> spark_rows.csv.

Every row is drawn, none was seen; accuracy on them says nothing about sparks. Recipe:
- carbon even within each of the six bands, so that no band is favoured;
- each feature from a triangle (low, typical, high), its corners straight between the middles of the
  trend's bands;
- one shared pressure moves carriers, bursts and length together: harder pressing throws more of all;
- untreated stock is not always 0.2 %C: the ratios are divided by the typical ones of its carbon;
- one coupon in five is sparked hard against soft stock, which lifts bursts and carriers; one in ten
  the other way;
- what an eye adds: shares, rays, tiers, onset and fine sparking are off by a little;
- every value is written to the step that an eye reads to: finer digits would be the dice's alone.
All sizes of these are judgements. Seeded: the same script gives the same bytes.
"""

import csv
import random
from pathlib import Path

HERE = Path(__file__).parent
SEED = 1
ROWS_PER_BAND = 600
BANDS = [(0.02, 0.10), (0.10, 0.25), (0.25, 0.45), (0.45, 0.65), (0.65, 0.85), (0.85, 1.25)]
FEATURES = {
    "share_bursting": "burst_fraction",
    "rays": "rays_per_burst",
    "tiers": "burst_order",
    "onset": "onset_fraction",
    "burst_ratio": "burst_density_rel",
    "carrier_ratio": "carrier_count_rel",
    "length_ratio": "length_rel",
    "fine_sparking": "pollen",
}
EYE = {"share_bursting": 0.05, "rays": 0.5, "tiers": 0.25, "onset": 0.05, "fine_sparking": 0.2}
STEP = {
    "share_bursting": 0.02,
    "rays": 0.2,
    "tiers": 0.1,
    "onset": 0.02,
    "burst_ratio": 0.05,
    "carrier_ratio": 0.03,
    "length_ratio": 0.02,
    "fine_sparking": 0.1,
}
LIMITS = {
    "share_bursting": (0, 1),
    "rays": (0, 8),
    "tiers": (0, 4),
    "onset": (0, 1),
    "fine_sparking": (0, 2),
}


def trend():
    """feature -> list of (middle of the band, low, typical, high)."""
    table = {}
    with open(HERE / "spark_trend.csv") as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            middle = (float(row["c_low"]) + float(row["c_high"])) / 2
            corners = tuple(float(row[k]) for k in ("low", "typical", "high"))
            table.setdefault(row["feature"], []).append((middle, *corners))
    return table


def corners(rows, carbon):
    """low, typical, high at a carbon content, straight between the bands' middles."""
    if carbon <= rows[0][0]:
        return rows[0][1:]
    for a, b in zip(rows, rows[1:]):
        if carbon <= b[0]:
            t = (carbon - a[0]) / (b[0] - a[0])
            return tuple(x + t * (y - x) for x, y in zip(a[1:], b[1:]))
    return rows[-1][1:]


def draw(table, band, dice):
    carbon = dice.uniform(*band)
    stock = dice.uniform(0.12, 0.24)
    pressure = dice.lognormvariate(0, 0.1)
    harder = dice.choices([0, 1, -1], weights=[7, 2, 1])[0]
    row = {}
    for name, feature in FEATURES.items():
        low, typical, high = corners(table[feature], carbon)
        value = dice.triangular(low, high, typical) if high > low else typical
        if feature.endswith("_rel"):
            value *= pressure / corners(table[feature], stock)[1]
        if name in ("burst_ratio", "carrier_ratio"):
            lift = dice.uniform(1.05, 1.35) if name == "burst_ratio" else dice.uniform(1.0, 1.2)
            value *= lift**harder
        if name in EYE:
            value += dice.gauss(0, EYE[name])
            value = min(max(value, LIMITS[name][0]), LIMITS[name][1])
        row[name] = f"{round(value / STEP[name]) * STEP[name]:.2f}"
    row["harder"] = harder
    row["carbon_wt_pct"] = f"{carbon:.4f}"
    row["origin"] = "drawn from spark_trend.csv"
    return row


def main():
    dice = random.Random(SEED)
    table = trend()
    rows = [draw(table, band, dice) for band in BANDS for _ in range(ROWS_PER_BAND)]
    with open(HERE / "spark_rows.csv", "w", newline="") as file:
        writer = csv.DictWriter(file, fieldnames=list(rows[0]), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


if __name__ == "__main__":
    main()
