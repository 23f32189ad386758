"""Draws training rows for the fracture tree: fracture_statements.csv -> fracture_rows.csv.

Every row is drawn, none was seen; accuracy on them says nothing about faces. Nothing here knows how
carbon diffuses. Recipe:
- thickness even in its logarithm over 1 to 12 mm;
- a cased face has a rim that is a share of the thickness, even in its logarithm from 0.01 to 0.45; its
  depth is share x thickness, and that names the band. Drawn until every band has as many rows, so that
  no band is favoured;
- textures, and whether it bent first, from the weights of a statement;
- one cased face in four has its rim on some sides only, the others all round;
- one face without a case in twelve has a shear lip that was told as a partial rim, 0.02 to 0.12 of the
  thickness;
- an eye is off by 0.01 of the thickness or a tenth of the share, whichever is more.
All sizes of these are judgements. Seeded: the same script gives the same bytes.
"""

import csv
import math
import random
from pathlib import Path

HERE = Path(__file__).parent
SEED = 1
ROWS_PER_BAND = 300
THICKNESS_MM = (1.0, 12.0)
SHARE = (0.01, 0.45)
EDGES_MM = [0.2, 0.5, 1.0]
BANDS = ["none", "under 0.2 mm", "0.2 to 0.5 mm", "0.5 to 1.0 mm", "over 1.0 mm", "through"]
RIM = {"none": 0, "partial": 1, "all round": 2, "through": 3}


def statements():
    """face -> list of statements."""
    table = {}
    with open(HERE / "fracture_statements.csv") as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            table.setdefault(row["face"], []).append(row)
    return table


def log_even(dice, ends):
    return math.exp(dice.uniform(math.log(ends[0]), math.log(ends[1])))


def texture(dice, weights):
    return dice.choices(range(6), weights=[float(w) for w in weights.split()])[0]


def draw(table, face, dice):
    thickness = log_even(dice, THICKNESS_MM)
    told = dice.choices(table[face], weights=[float(s["weight"]) for s in table[face]])[0]
    if face == "none":
        band, share, rim = "none", 0.0, "none"
        if dice.random() < 1 / 12:
            share, rim = dice.uniform(0.02, 0.12), "partial"
    elif face == "through":
        band, share, rim = "through", 0.5, "through"
    else:
        share = log_even(dice, SHARE)
        band = BANDS[1 + sum(share * thickness >= edge for edge in EDGES_MM)]
        share += dice.gauss(0, max(0.01, 0.1 * share))
        share = min(max(share, 0.0), 0.5)
        rim = dice.choices(["partial", "all round"], weights=[1, 3])[0]
    core = texture(dice, told["core_textures"])
    return {
        "rim": RIM[rim],
        "rim_share": f"{share:.3f}",
        "thickness_mm": f"{thickness:.2f}",
        "texture_rim": core if face == "through" else texture(dice, told["rim_textures"]),
        "texture_core": core,
        "bent_first": int(dice.random() < float(told["bent"])),
        "band": band,
        "origin": f"drawn from: {told['statement'].split(':')[0]}",
    }


def main():
    dice = random.Random(SEED)
    table = statements()
    rows = {band: [] for band in BANDS}
    for face in ("none", "cased", "through"):
        bands = {"none": BANDS[:1], "cased": BANDS[1:5], "through": BANDS[5:]}[face]
        while any(len(rows[band]) < ROWS_PER_BAND for band in bands):
            row = draw(table, face, dice)
            if len(rows[row["band"]]) < ROWS_PER_BAND:
                rows[row["band"]].append(row)
    rows = [row for band in BANDS for row in rows[band]]
    with open(HERE / "fracture_rows.csv", "w", newline="") as file:
        writer = csv.DictWriter(file, fieldnames=list(rows[0]), lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)


if __name__ == "__main__":
    main()
