"""Scores what `skeleton.py` found against a picture's truth, by the rules of `tests/spark_photos/score`."""
from collections import defaultdict
from dataclasses import dataclass, field

import numpy as np
from scipy.spatial import cKDTree
from scipy.stats import spearmanr

JUDGED = range(10, 81)  # resolvable carriers of pictures in which their count and length are judged
BINS = [(1, 14), (15, 29), (30, 10**9), (0, 10**9)]  # resolvable bursts of a picture
NEAR_BURST_PX, NEAR_CROSSING_PX, NEAR_LINE_PX, STEP_PX, VISIBLE_PX = 8.0, 6.0, 4.0, 3.0, 12.0
ON_IT, COVERED, MANY_CUT = 0.6, 0.3, 0.2


@dataclass
class Found:
    """Carriers: points, (length, cut by the frame), bursts on it; bursts: middle, rays."""

    paths: list = field(default_factory=list)
    lengths: list = field(default_factory=list)
    bursts_on: list = field(default_factory=list)
    bursts: list = field(default_factory=list)
    rays: list = field(default_factory=list)


def one_to_one(candidates):
    """Of (value, left, right), highest value first, each side once."""
    left, right, matches = set(), set(), []
    for _, a, b in sorted(candidates, key=lambda c: (-c[0], c[1], c[2])):
        if a not in left and b not in right:
            left.add(a), right.add(b), matches.append((a, b))
    return matches


def fine(path, step=STEP_PX):
    points = [np.atleast_2d(path[0])]
    for a, b in zip(path[:-1], path[1:]):
        parts = max(1, int(np.ceil(np.hypot(*(b - a)) / step)))
        points.append(a + np.outer(np.arange(1, parts + 1) / parts, b - a))
    return np.vstack(points)


def burst_matches(truth, found):
    candidates = []
    for t, drawn in enumerate(truth["bursts"]):
        if drawn["visible"] and found.bursts:
            away = np.hypot(*(np.array(found.bursts) - drawn["at"]).T)
            near = np.nonzero(away <= max(NEAR_BURST_PX, drawn["mean_ray_px"] / 2))[0]
            candidates += [(-away[f], f, t) for f in near]
    return one_to_one(candidates)


def carrier_matches(truth, found):
    near = max(NEAR_LINE_PX, truth["line_width_px"] or 0)
    trees = [cKDTree(p) for p in found.paths]
    candidates = []
    for t, drawn in enumerate(truth["carriers"]):
        if drawn["visible_px"] < VISIBLE_PX or not drawn["path"]:
            continue
        path = np.array(drawn["path"])
        points, length = fine(path), np.hypot(*np.diff(path, axis=0).T).sum()
        tree = cKDTree(points)
        low, high = points.min(0) - near, points.max(0) + near
        for f, pixels in enumerate(found.paths):
            if (pixels.max(0) < low).any() or (pixels.min(0) > high).any():
                continue
            on_it = np.mean(tree.query(pixels, distance_upper_bound=near)[0] <= near)
            covered = length * np.mean(trees[f].query(points, distance_upper_bound=near)[0] <= near)
            if on_it >= ON_IT and covered >= COVERED * drawn["visible_px"]:
                candidates.append((on_it * covered, f, t))
    return one_to_one(candidates)


def crossings(paths, near):
    """Where paths cross each other within reach of some places; steps of a path are at most 8 px."""
    starts = np.vstack([p[:-1] for p in paths])
    steps = np.vstack([np.diff(p, axis=0) for p in paths])
    owner = np.repeat(np.arange(len(paths)), [len(p) - 1 for p in paths])
    at = []
    for place in near:
        close = np.nonzero(np.hypot(*(starts + steps / 2 - place).T) <= NEAR_CROSSING_PX + 4)[0]
        i, j = (close[k] for k in np.triu_indices(len(close), 1))
        i, j = i[owner[i] != owner[j]], j[owner[i] != owner[j]]
        (ux, uy), (vx, vy), (wx, wy) = steps[i].T, steps[j].T, (starts[j] - starts[i]).T
        cross = ux * vy - uy * vx
        flat = np.abs(cross) <= 1e-12
        cross[flat] = np.inf
        s, t = (wx * vy - wy * vx) / cross, (wx * uy - wy * ux) / cross
        hit = ~flat & (s >= 0) & (s <= 1) & (t >= 0) & (t <= 1)
        at.append((starts[i] + s[:, None] * steps[i])[hit])
    return np.vstack(at)


def at_crossings(truth, found, matches):
    """Found bursts that are no burst but lie at a crossing of two carriers."""
    visible = [b for b in truth["bursts"] if b["visible"]]
    matched = {f for f, _ in matches}

    def false(at):
        reach = ((np.hypot(*np.subtract(b["at"], at)), max(NEAR_BURST_PX, b["mean_ray_px"] / 2)) for b in visible)
        return all(d > r for d, r in reach)

    wrong = [at for f, at in enumerate(found.bursts) if f not in matched and false(at)]
    paths = [np.array(c["path"]) for c in truth["carriers"] if len(c["path"]) > 1]
    if not wrong or len(paths) < 2:
        return 0
    at = crossings(paths, wrong)
    if not len(at):
        return 0
    return int((cKDTree(at).query(wrong)[0] <= NEAR_CROSSING_PX).sum())


def p95(lengths):
    """95th percentile: plain where few are cut by the frame, else Kaplan-Meier."""
    if not lengths:
        return None
    if sum(cut for _, cut in lengths) < MANY_CUT * len(lengths):
        return np.quantile([l for l, _ in lengths], 0.95)
    survive = 1.0
    for i, (length, cut) in enumerate(sorted(lengths)):
        survive *= 1 if cut else 1 - 1 / (len(lengths) - i)
        if not cut and survive <= 0.05 + 1e-12:
            return length
    return None


def p95_drawn(carriers):
    few = sum(c["cut_by_frame"] for c in carriers) < MANY_CUT * len(carriers)
    return p95([(c["whole_length_px"], False) if few else (c["length_px"], c["cut_by_frame"]) for c in carriers])


def score(truth, found):
    drawn, bursts = [c for c in truth["carriers"] if c["resolvable"]], truth["bursts"]
    carriers, matches = carrier_matches(truth, found), burst_matches(truth, found)
    resolved = [(f, t) for f, t in matches if bursts[t]["resolvable"]]
    on = [sum(bursts[b]["visible"] and bursts[b]["in_shutter"] for b in c["bursts"]) for c in drawn]
    return {
        "rig": truth["rig"], "carbon": truth["carbon_wt_pct"], "resolvable": len(drawn), "found": len(found.paths),
        "recalled": sum(truth["carriers"][t]["resolvable"] for _, t in carriers), "right": len(carriers),
        "p95": p95_drawn(drawn), "p95_found": p95(found.lengths),
        "bursts": sum(b["resolvable"] for b in bursts), "bursts_found": len(found.bursts),
        "bursts_recalled": len(resolved), "bursts_right": len(matches),
        "crossings": at_crossings(truth, found, matches),
        "rays_right": sum(abs(found.rays[f] - bursts[t]["rays_visible"]) <= 1 for f, t in resolved),
        "share": np.mean([n > 0 for n in on]) if on else None,
        "share_found": np.mean([n > 0 for n in found.bursts_on]) if found.bursts_on else None,
        "per_carrier": sum(found.bursts_on) / len(found.paths) if found.paths else None,
    }


def figures(scores):
    def total(key, of=scores):
        return sum(s[key] for s in of)

    def ratio(part, whole):
        return part / whole if whole else None

    judged = [s for s in scores if s["resolvable"] in JUDGED]
    counts = [abs(s["found"] - s["resolvable"]) / s["resolvable"] for s in judged]
    lengths = [1.0 if s["p95_found"] is None else abs(s["p95_found"] / s["p95"] - 1) for s in judged if s["p95"]]
    shares = [1.0 if s["share_found"] is None else abs(s["share_found"] - s["share"])
              for s in scores if s["resolvable"] >= JUDGED.start]
    rows = {
        "pictures": len(scores),
        "carriers: median count error": np.median(counts) if counts else None,
        "carriers: recall": ratio(total("recalled"), total("resolvable")),
        "carriers: precision": ratio(total("right"), total("found")),
        "length: median error of the 95th percentile": np.median(lengths) if lengths else None,
    }
    for low, high in BINS:
        inside = [s for s in scores if low <= s["bursts"] <= high]
        name = f"bursts {low} to {'more' if high == 10**9 else high} ({len(inside)} pictures): "
        rows[name + "recall"] = ratio(total("bursts_recalled", inside), total("bursts", inside))
        rows[name + "precision"] = ratio(total("bursts_right", inside), total("bursts_found", inside))
    rows["crossings counted as bursts"] = ratio(total("crossings"), total("bursts_found"))
    rows["rays within one"] = ratio(total("rays_right"), total("bursts_recalled"))
    rows["share that bursts: median error"] = np.median(shares) if shares else None
    rows["share that bursts: 90 %"] = np.quantile(shares, 0.9) if shares else None
    rigs = defaultdict(list)
    for s in scores:
        if s["carbon"] is not None and s["per_carrier"] is not None:
            rigs[s["rig"]].append((s["carbon"], s["per_carrier"]))
    for rig, pairs in sorted(rigs.items()):
        if len(pairs) >= 3 and all(len(set(v)) > 1 for v in zip(*pairs)):
            rows[f"rank correlation with carbon, {rig}"] = spearmanr(*zip(*pairs)).statistic
    return rows


def table(names, scores):
    columns = [figures(s) for s in scores]
    lines = [f"{'':48}" + "".join(f"{n:>8}" for n in names)]
    for row in dict.fromkeys(k for c in columns for k in c):
        values = [c.get(row) for c in columns]
        cells = ["-" if v is None else str(v) if isinstance(v, int) else f"{v:.3f}" for v in values]
        lines.append(f"{row:48}" + "".join(f"{c:>8}" for c in cells))
    return "\n".join(lines)
