"""A plain profile pipeline on pictures of broken faces, as a peer of `src/fracture/measured/`.

    python face_profile.py FOLDER [FOLDER ...]

A folder holds pictures beside their truth (JSON), as `cargo test draw_faces -- --ignored` and `draw_unusable_faces`
write them. Two columns are printed. `found`: the face is what Otsu's threshold leaves, on brightness or on
local variance, above or below: the largest solid piece that does not touch the frame. `given`: the outline is taken from the truth, which is help that a reader of
photos does not get. Both are told the thickness and take the scale from it.

Then, for each side of the smallest rectangle round the face (all round for a face as round as a circle): the distance
of every pixel of the face from that side, the mean brightness and the mean logarithm of the local variance by distance,
corners left out, and the one change point that splits both best by least squares (each divided by its own spread). A
split that takes away less than LEAST_SPLIT of the spread is none. Classes: no side split is no case, all split is all
round, else partial; such a profile cannot tell a face that is case all through from one without.

Refused: no such piece, or little sharpness (variance of the Laplacian of the face below LEAST_SHARP).

On development pictures of `draw_faces` (seeds 1200 to 1319) and `draw_unusable_faces` (1400 to 1467), scikit-image
0.26.0, OpenCV 5.0.0, NumPy 2.4.6, 0.5 to 2.6 megapixels, on one core of a busy two-core x86-64 machine:

                                                 found         given
usable pictures                                    120           120
sides with case: answered                 0.394 of 221  0.828 of 221
depth: median error, mm                          0.317         0.051
depth: median error over depth                   0.598         0.108
depth: 90 % of errors, mm                        1.107         0.165
depth: within 0.04 mm or 4 %                     0.103         0.404
depth: within 0.10 mm or 10 %                    0.264         0.760
class right                                      0.208         0.558
no case, but a depth given                       0.348         0.609
case all through, but a border given             0.111         0.667
usable, but refused                              0.583         0.025
unusable pictures                                   68             0
unusable and refused                             0.706             -
seconds a picture, without decoding               0.76          0.57
"""
import json
import sys
import time
from pathlib import Path

import cv2
import numpy as np
from scipy import ndimage
from skimage import filters, measure, morphology, transform

BIN_MM = 0.02  # of the profile
WINDOW_MM = 0.08  # of the local variance, but at least 5 px
LEAST_SPLIT = 0.35  # most classes right of 0.35, 0.45, 0.55, 0.65, 0.75 on the development pictures
LEAST_SHARP = 20.0  # of grey values squared
FIND_PX = 800  # in which the face is found
LEAST_AREA = 0.01  # of the picture
LEAST_SOLID = 0.88  # area over that of its convex hull
ROUND = 0.97  # area over that of the circle round its extent, from which a face is round


def find(whole):
    """Mask of the face, or none. It is looked for in a picture shrunk to at most FIND_PX."""
    shrink = max(1, int(np.ceil(max(whole.shape) / FIND_PX)))
    grey = transform.downscale_local_mean(whole, (shrink, shrink))
    small = filters.gaussian(grey, 1)
    mean = ndimage.uniform_filter(grey, 9)
    rough = np.log(np.maximum(ndimage.uniform_filter(grey**2, 9) - mean**2, 1.0))
    masks = []
    for plane in (small, rough):
        above = plane > filters.threshold_otsu(plane)
        masks += [above, ~above]
    best = None
    for mask in masks:
        mask = morphology.isotropic_opening(morphology.isotropic_closing(mask, 2), 4)
        mask = ndimage.binary_fill_holes(mask)
        for region in measure.regionprops(measure.label(mask)):
            r0, c0, r1, c1 = region.bbox
            inside = r0 > 0 and c0 > 0 and r1 < grey.shape[0] and c1 < grey.shape[1]
            if inside and region.area > LEAST_AREA * grey.size and region.solidity > LEAST_SOLID:
                if best is None or region.area > best.area:
                    best = region
    if best is None:
        return None
    mask = np.zeros(grey.shape, bool)
    mask[best.bbox[0] : best.bbox[2], best.bbox[1] : best.bbox[3]] = best.image_filled
    mask = np.kron(mask, np.ones((shrink, shrink), bool))
    return mask[: whole.shape[0], : whole.shape[1]]


def given(truth, shape):
    mask = np.zeros(shape, np.uint8)
    cv2.fillPoly(mask, [np.round(truth["face"]["outline_px"]).astype(np.int32)], 1)
    return mask.astype(bool)


def sides_of(mask, thickness):
    """For each side: its middle in px and every pixel's distance from it, mm; corner pixels are nan."""
    ys, xs = np.nonzero(mask)
    points = np.stack([xs, ys], 1).astype(np.float32)
    (cx, cy), (w, h), angle = cv2.minAreaRect(points)
    _, radius = cv2.minEnclosingCircle(points)
    if len(xs) > ROUND * np.pi * radius**2:
        scale = 2 * radius / thickness
        inside = ndimage.distance_transform_edt(mask)[ys, xs] / scale
        return scale, [((cx, cy), inside)]
    scale = min(w, h) / thickness
    a = np.radians(angle)
    axes = [(np.cos(a), np.sin(a)), (-np.sin(a), np.cos(a))]
    u = (points - (cx, cy)) @ np.array(axes).T
    half = (w / 2, h / 2)
    sides = []
    for k in (0, 1):
        for sign in (1, -1):
            deep = (half[k] - sign * u[:, k]) / scale
            # the middle 60 % of the side
            ends = np.abs(u[:, 1 - k]) > 0.6 * half[1 - k]
            middle = (cx + sign * half[k] * axes[k][0], cy + sign * half[k] * axes[k][1])
            sides.append((middle, np.where(ends, np.nan, deep)))
    return scale, sides


def split(deep, bright, rough, most):
    """The change point, mm, and the share of spread that it takes away."""
    ok = (deep >= 0) & (deep < most)
    index = (deep[ok] / BIN_MM).astype(int)
    n = np.bincount(index)
    if (n > 0).sum() < 8:
        return None, 0.0
    profiles = [np.bincount(index, v[ok]) / np.maximum(n, 1) for v in (bright, rough)]
    use = np.nonzero(n > 0)[0][2:]  # the very edge is torn
    rows = np.stack([p[use] for p in profiles])
    rows = (rows - rows.mean(1, keepdims=True)) / (rows.std(1, keepdims=True) + 1e-9)
    best, at = np.inf, None
    for k in range(3, len(use) - 3):
        left, right = rows[:, :k], rows[:, k:]
        rest = ((left - left.mean(1, keepdims=True)) ** 2).sum() + ((right - right.mean(1, keepdims=True)) ** 2).sum()
        if rest < best:
            best, at = rest, use[k] * BIN_MM
    return at, 1 - best / rows.size


def read(picture, truth, mask):
    """None if refused, else the class and the depths by side: (middle px, depth mm or none)."""
    if mask is None:
        return None
    grey = picture.astype(float)
    if cv2.Laplacian(picture, cv2.CV_64F)[morphology.isotropic_erosion(mask, 3)].var() < LEAST_SHARP:
        return None
    thickness = truth["face"]["thickness_mm"] if truth["face"] else 5.0
    scale, sides = sides_of(mask, thickness)
    window = max(5, int(WINDOW_MM * scale) | 1)
    mean = ndimage.uniform_filter(grey, window)
    rough = np.log(np.maximum(ndimage.uniform_filter(grey**2, window) - mean**2, 1e-3))
    depths = []
    for middle, deep in sides:
        at, share = split(deep, grey[mask], rough[mask], 0.45 * thickness)
        depths.append((middle, at if share > LEAST_SPLIT else None))
    found = sum(d is not None for _, d in depths)
    return ("none" if found == 0 else "all_round" if found == len(depths) else "partial"), depths


class Score:
    def __init__(self):
        self.errors, self.asked, self.classes, self.bare, self.through = [], 0, [], [], []
        self.usable, self.unusable, self.seconds = [], [], []

    def add(self, truth, answer):
        if not truth["usable"]:
            self.unusable.append(answer is None)
            return
        self.usable.append(answer is None)
        face = truth["face"]
        self.classes.append(answer is not None and answer[0] == face["class"])
        depths = answer[1] if answer else []
        given = any(d is not None for _, d in depths)
        if face["class"] in ("none", "through"):
            (self.bare if face["class"] == "none" else self.through).append(given)
            return
        for side in face["sides"]:
            if side["nicked"] or side["median_mm"] is None or side["cased"] < 0.25:
                continue
            self.asked += 1
            middle = px(face["homography"], side["samples"][len(side["samples"]) // 2]["at"])
            near = min(depths, key=lambda d: np.hypot(d[0][0] - middle[0], d[0][1] - middle[1]), default=None)
            if near and near[1] is not None:
                self.errors.append((abs(near[1] - side["median_mm"]), side["median_mm"]))

    def rows(self):
        error, depth = np.array(self.errors or [(np.nan, np.nan)]).T
        share = lambda values: f"{np.mean(values):.3f}" if len(values) else "-"
        yield "usable pictures", str(len(self.usable))
        yield "sides with case: answered", f"{len(self.errors) / max(self.asked, 1):.3f} of {self.asked}"
        yield "depth: median error, mm", f"{np.nanmedian(error):.3f}"
        yield "depth: median error over depth", f"{np.nanmedian(error / depth):.3f}"
        yield "depth: 90 % of errors, mm", f"{np.nanquantile(error, 0.9):.3f}"
        yield "depth: within 0.04 mm or 4 %", share(error <= np.maximum(0.04, 0.04 * depth))
        yield "depth: within 0.10 mm or 10 %", share(error <= np.maximum(0.10, 0.10 * depth))
        yield "class right", share(self.classes)
        yield "no case, but a depth given", share(self.bare)
        yield "case all through, but a border given", share(self.through)
        yield "usable, but refused", share(self.usable)
        yield "unusable pictures", str(len(self.unusable))
        yield "unusable and refused", share(self.unusable)
        yield "seconds a picture, without decoding", f"{np.mean(self.seconds or [np.nan]):.2f}"


def px(h, p):
    x, y, w = np.array(h) @ (p[0], p[1], 1)
    return x / w, y / w


def main():
    scores = {"found": Score(), "given": Score()}
    for folder in map(Path, sys.argv[1:]):
        for path in sorted(folder.glob("*.json")):
            truth = json.loads(path.read_text())
            picture = cv2.imread(str(folder / truth["file"]), cv2.IMREAD_GRAYSCALE)
            start = time.perf_counter()
            mask = find(picture.astype(float))
            scores["found"].add(truth, read(picture, truth, mask))
            scores["found"].seconds.append(time.perf_counter() - start)
            if truth["usable"]:
                start = time.perf_counter()
                scores["given"].add(truth, read(picture, truth, given(truth, picture.shape)))
                scores["given"].seconds.append(time.perf_counter() - start)
    found, other = list(scores["found"].rows()), list(scores["given"].rows())
    print(f"{'':40}{'found':>14}{'given':>14}")
    for (name, a), (_, b) in zip(found, other):
        print(f"{name:40}{a:>14}{b:>14}")


if __name__ == "__main__":
    main()
