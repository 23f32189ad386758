"""A plain skeleton pipeline on spark pictures, as a peer of `src/spark/measured/`: threshold, thin, count neighbours.

    python skeleton.py FOLDER [least carrier px] [least branches of a burst]

FOLDER holds pictures beside their truth (JSON), as `cargo test dump_spark_pictures -- --ignored` writes them. What is
found is scored by `skeleton_score.py`, by the rules of `tests/spark_photos/score`. One table is printed, one column
for each threshold:

otsu: skimage.filters.threshold_otsu on what stands above the background (a wide median), the picture smoothed a little;
local: skimage.filters.threshold_local (Gaussian) with an offset of 4 standard deviations of the noise.

Then skimage.morphology: small objects out, skeletonize, spurs cut off twice. A skeleton pixel with three or more
neighbours is a branch point. Connected segments between them are carriers if they are long enough; branch points
that lie within 8 px of each other are one burst, and its rays are its branches.

On seeds 1 to 40 of the drawn pictures, scikit-image 0.26.0, OpenCV 5.0.0, NumPy 2.4.6; 2.0 s (otsu) and 3.0 s (local)
for 12 MP without decoding, on one core of a busy two-core x86-64 machine:

                                                    otsu   local
pictures                                              40      40
carriers: median count error                       0.467   0.348
carriers: recall                                   0.420   0.507
carriers: precision                                0.468   0.409
length: median error of the 95th percentile        0.221   0.230
bursts 1 to 14 (12 pictures): recall               0.158   0.351
bursts 1 to 14 (12 pictures): precision            0.279   0.149
bursts 15 to 29 (6 pictures): recall               0.213   0.370
bursts 15 to 29 (6 pictures): precision            0.674   0.563
bursts 30 to more (15 pictures): recall            0.312   0.481
bursts 30 to more (15 pictures): precision         0.471   0.424
bursts 0 to more (40 pictures): recall             0.290   0.460
bursts 0 to more (40 pictures): precision          0.470   0.398
crossings counted as bursts                        0.005   0.018
rays within one                                    0.331   0.330
share that bursts: median error                    0.078   0.141
share that bursts: 90 %                            0.198   0.240
"""
import json
import sys
import time
from pathlib import Path

import cv2
import numpy as np
from scipy import ndimage
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import connected_components
from scipy.spatial import cKDTree
from skimage import filters, measure, morphology

from skeleton_score import Found, score, table

SPUR_PX = 5  # spurs up to this long are cut off; a ray counts from 4 px
MERGE_PX = 8  # branch points within this are one burst: the distance within which a burst is matched
LEAST_CARRIER_PX = 80  # best of 12, 20, 40, 80 on the development pictures
LEAST_BRANCHES = 4  # best of 3, 4, 5 there
SMOOTH_PX = 1.0  # standard deviation of the smoothing before the threshold
NOISE_SD = 4.0  # offset of the local threshold
LEAST_OBJECT_PX = 20  # smaller objects are noise
AROUND = np.array([[1, 1, 1], [1, 0, 1], [1, 1, 1]])
SQUARE = np.ones((3, 3), int)


def light(path):
    """Grey, 0 to 1, upright, as encoded."""
    picture = cv2.imread(str(path), cv2.IMREAD_COLOR | cv2.IMREAD_ANYDEPTH)
    return cv2.cvtColor(picture, cv2.COLOR_BGR2GRAY).astype(np.float32) / np.iinfo(picture.dtype).max


def above_background(grey):
    """The median over a thirtieth of the picture taken off, smoothed."""
    size = max(31, max(grey.shape) // 30 | 1)
    background = cv2.medianBlur((255 * grey).astype(np.uint8), size).astype(np.float32) / 255
    return cv2.GaussianBlur(grey - background, (0, 0), SMOOTH_PX)


def otsu(above):
    return above > filters.threshold_otsu(above)


def local(above):
    noise = 1.4826 * np.median(np.abs(above - np.median(above)))
    size = max(31, max(above.shape) // 30 | 1)
    return above > filters.threshold_local(above, size, offset=-NOISE_SD * noise)


def branch_points(skeleton):
    return skeleton & (ndimage.convolve(skeleton.astype(np.uint8), AROUND, mode="constant") >= 3)


def segments(skeleton, branches):
    """Labels of the segments between branch points, and their lengths by label."""
    labels = measure.label(skeleton & ~branches, connectivity=2)
    lengths = np.bincount(labels.ravel()).astype(float)
    lengths[0] = 0
    # a step to a diagonal neighbour is longer
    for one, two in [(labels[1:, 1:], labels[:-1, :-1]), (labels[1:, :-1], labels[:-1, 1:])]:
        diagonal = one[(one > 0) & (one == two)]
        lengths += (np.sqrt(2) - 1) * np.bincount(diagonal, minlength=len(lengths))
    return labels, lengths


def pruned(skeleton):
    """Without spurs: short segments with a free end that hang on a branch point."""
    for _ in range(2):
        branches = branch_points(skeleton)
        labels, lengths = segments(skeleton, branches)
        ends = skeleton & (ndimage.convolve(skeleton.astype(np.uint8), AROUND, mode="constant") <= 1)
        hanging = np.intersect1d(labels[ends], labels[ndimage.binary_dilation(branches, SQUARE)])
        spurs = [s for s in hanging if s and lengths[s] < SPUR_PX]
        skeleton = morphology.skeletonize(skeleton & ~np.isin(labels, spurs))
    return skeleton


def bursts(branches, labels, lengths, least):
    """Middle, branches and segments of each cluster of branch points that has enough branches."""
    at = np.argwhere(branches)
    if not len(at):
        return []
    pairs = cKDTree(at).query_pairs(MERGE_PX, output_type="ndarray")
    links = coo_matrix((np.ones(len(pairs)), (pairs[:, 0], pairs[:, 1])), (len(at), len(at)))
    count, cluster = connected_components(links, directed=False)
    touching = [set() for _ in range(count)]
    padded = np.pad(labels, 1)
    for (y, x), c in zip(at, cluster):
        touching[c].update(padded[y : y + 3, x : x + 3].ravel())
    middles = ndimage.mean(at[:, 0], cluster, range(count)), ndimage.mean(at[:, 1], cluster, range(count))
    found = []
    for y, x, segs in zip(*middles, touching):
        segs = {s for s in segs if s and lengths[s] >= SPUR_PX}
        if len(segs) >= least:
            found.append(((x + 0.5, y + 0.5), segs))
    return found


def read(grey, threshold, least_carrier, least_branches):
    mask = morphology.remove_small_objects(threshold(above_background(grey)), max_size=LEAST_OBJECT_PX)
    skeleton = pruned(morphology.skeletonize(mask))
    branches = branch_points(skeleton)
    labels, lengths = segments(skeleton, branches)
    clusters = bursts(branches, labels, lengths, least_branches)
    found = Found()
    height, width = grey.shape
    for region in measure.regionprops(labels):
        if lengths[region.label] < least_carrier:
            continue
        top, left, bottom, right = region.bbox
        found.paths.append(region.coords[:, ::-1] + 0.5)
        found.lengths.append((lengths[region.label], min(top, left, height - bottom, width - right) <= 1))
        found.bursts_on.append(sum(region.label in segs for _, segs in clusters))
    found.bursts = [at for at, _ in clusters]
    found.rays = [len(segs) for _, segs in clusters]
    return found


def main():
    folder = Path(sys.argv[1])
    least_carrier = float(sys.argv[2]) if len(sys.argv) > 2 else LEAST_CARRIER_PX
    least_branches = int(sys.argv[3]) if len(sys.argv) > 3 else LEAST_BRANCHES
    thresholds, scores, seconds, megapixels = (otsu, local), ([], []), [0.0, 0.0], 0.0
    for path in sorted(folder.glob("*.json")):
        truth = json.loads(path.read_text())
        if truth["kind"] != "usable":
            continue
        grey = light(folder / truth["file"])
        if grey.shape != (truth["height"], truth["width"]):
            sys.exit(f"{truth['file']}: {grey.shape[::-1]} px, its truth says {truth['width']} x {truth['height']}")
        megapixels += grey.size / 1e6
        for i, threshold in enumerate(thresholds):
            start = time.perf_counter()
            found = read(grey, threshold, least_carrier, least_branches)
            seconds[i] += time.perf_counter() - start
            scores[i].append(score(truth, found))
    if not megapixels:
        sys.exit(f"{folder}: no usable picture with its truth in it")
    print(table([t.__name__ for t in thresholds], scores))
    print("s per 12 MP without decoding: " + ", ".join(f"{12 * s / megapixels:.1f}" for s in seconds))


if __name__ == "__main__":
    main()
