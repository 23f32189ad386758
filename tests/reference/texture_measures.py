"""Reference figures for texture measures: named patches of scikit-image's textures, measured by scikit-image.

    python texture_measures.py    write texture_measures.csv and texture_patches/*.png beside this file

Textures: brick, grass and gravel, 512 x 512 grey, which scikit-image ships under CC0. A patch is 64 x 64 pixels, named
by its texture, row and column of its upper left corner, and kept as a grey PNG, so that others can measure it too.

Measures (each row of the table is one number):
glcm_*: grey-level co-occurrence (Haralick, Shanmugam, Dinstein, Textural features for image classification, IEEE
    Trans. SMC 3 (1973) 610): values divided by 8 to 32 levels; symmetric, normalised; distance and direction in the
    name: right is (0, d), down is (d, 0), as row and column. skimage.feature.graycomatrix, graycoprops; entropy in
    bits over its non-zero entries.
lbp_k: share of pixels of code k, uniform local binary patterns of 8 neighbours at distance 1 (Ojala, Pietikainen,
    Maenpaa, IEEE Trans. PAMI 24 (2002) 971), skimage.feature.local_binary_pattern, method "uniform": codes 0 to 8 are
    uniform ones by their number of bright neighbours, 9 is all others. The outermost pixels are left out.
variance_s: mean over the patch of the variance (over n) in squares of s x s pixels that lie inside it.
entropy: Shannon entropy of the patch's 256 grey values, bits; entropy_local: mean of skimage.filters.rank.entropy over
    a disk of radius 5, the outer 5 pixels left out.
gradient_s: mean of squared Gaussian derivatives of standard deviation s (scipy.ndimage.gaussian_filter, mode nearest,
    truncate 4), gx^2 + gy^2, the outer 4 s pixels left out.
orientation_*: structure tensor of the patch, derivatives of standard deviation 1, averaged over the same pixels: angle
    of the lines in degrees, 0 along rows, rising anticlockwise, 0..180; coherence (l1 - l2) / (l1 + l2).
"""
import csv
from pathlib import Path

import numpy as np
import scipy
import skimage
from scipy import ndimage
from skimage import data, io
from skimage.feature import graycomatrix, graycoprops, local_binary_pattern
from skimage.filters import rank
from skimage.morphology import disk

HERE = Path(__file__).parent
SIDE = 64
PATCHES = [
    ("brick", 0, 0), ("brick", 224, 320),
    ("grass", 64, 128), ("grass", 400, 16),
    ("gravel", 32, 48), ("gravel", 256, 384),
]


def measures(patch):
    levels = patch // 8
    for name, (dr, dc) in {"right1": (0, 1), "right3": (0, 3), "down1": (1, 0), "down3": (3, 0)}.items():
        distance, angle = max(dr, dc), 0.0 if dr == 0 else np.pi / 2
        matrix = graycomatrix(levels, [distance], [angle], levels=32, symmetric=True, normed=True)
        for prop in ("contrast", "dissimilarity", "homogeneity", "energy", "correlation"):
            yield f"glcm_{prop}_{name}", graycoprops(matrix, prop)[0, 0]
        p = matrix[matrix > 0]
        yield f"glcm_entropy_{name}", -(p * np.log2(p)).sum()
    codes = local_binary_pattern(patch, 8, 1, "uniform")[1:-1, 1:-1]
    for k in range(10):
        yield f"lbp_{k}", (codes == k).mean()
    values = patch.astype(float)
    for side in (5, 9, 17):
        windows = np.lib.stride_tricks.sliding_window_view(values, (side, side))
        yield f"variance_{side}", windows.var(axis=(2, 3)).mean()
    shares = np.bincount(patch.ravel(), minlength=256) / patch.size
    shares = shares[shares > 0]
    yield "entropy", -(shares * np.log2(shares)).sum()
    yield "entropy_local", rank.entropy(patch, disk(5))[5:-5, 5:-5].mean()
    for sigma in (1, 2):
        gx, gy, inner = gradients(values, sigma)
        yield f"gradient_{sigma}", (gx**2 + gy**2)[inner].mean()
    gx, gy, inner = gradients(values, 1)
    xx, yy, xy = (gx * gx)[inner].mean(), (gy * gy)[inner].mean(), (gx * gy)[inner].mean()
    # the gradient's angle; rows run down, so y is turned; lines lie across it
    across = 0.5 * np.degrees(np.arctan2(-2 * xy, xx - yy))
    yield "orientation_deg", (across + 90) % 180
    yield "orientation_coherence", np.hypot(xx - yy, 2 * xy) / (xx + yy)


def gradients(values, sigma):
    gx = ndimage.gaussian_filter(values, sigma, order=(0, 1), mode="nearest", truncate=4)
    gy = ndimage.gaussian_filter(values, sigma, order=(1, 0), mode="nearest", truncate=4)
    cut = 4 * sigma
    return gx, gy, (slice(cut, -cut), slice(cut, -cut))


def main():
    folder = HERE / "texture_patches"
    folder.mkdir(exist_ok=True)
    with open(HERE / "texture_measures.csv", "w", newline="") as file:
        file.write(f"# scikit-image {skimage.__version__}, SciPy {scipy.__version__}, NumPy {np.__version__}, ")
        file.write("made by texture_measures.py, which says what each measure is\n")
        out = csv.writer(file, lineterminator="\n")
        out.writerow(["patch", "measure", "value"])
        for name, row, column in PATCHES:
            patch = getattr(data, name)()[row : row + SIDE, column : column + SIDE]
            patch = np.ascontiguousarray(patch).astype(np.uint8)
            label = f"{name}_{row}_{column}"
            io.imsave(folder / f"{label}.png", patch, check_contrast=False)
            for measure, value in measures(patch):
                out.writerow([label, measure, f"{value:.8g}"])


if __name__ == "__main__":
    main()
