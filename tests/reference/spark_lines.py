"""Small drawn streams, and what scikit-image finds in them: ridges, branch points, length of the skeleton.

    python spark_lines.py    write spark_lines/*.png and spark_lines.csv beside this file

The pictures are invented: bright lines, Gaussian across, that come from one point to the left; sRGB, 8 bits, grey.
fan: seven curved carriers. star: a carrier that ends in a burst of four rays,
five arms 72 degrees apart of which no two lie in one line. burst: the same with five rays, mostly ahead. crossing: two of the carriers cross.
noise, faint: curved carriers of 15 and of 5 times the noise.

Rows of the table; x and y in pixels, the middle of the first pixel is (0.5, 0.5):
ridge: the maximum of a ridge filter (sigma 1.5 px, bright ridges) on a section across a line, by a parabola through
three values 0.25 px apart; value is the number of the line. Sections every 12 px between 15 and 85 % of a line,
where no other line is within 8 px. branch: the mean of skeleton pixels with three or more neighbours that lie within
8 px of each other; value is how many they are. length: of the skeleton of the whole picture, steps to diagonal
neighbours as sqrt(2), times 0.948 (Kulpa, Comput. Graph. Image Process. 6 (1977) 434; from memory), and the distance
from each of its ends to the dark, by which a skeleton is shorter than what it was made of.
The skeleton is that of what is above Otsu's threshold; those in noise have none, for noise makes it whiskers.
"""
import csv
from pathlib import Path

import cv2
import numpy as np
import skimage
from scipy import ndimage
from skimage import filters, measure, morphology

HERE = Path(__file__).parent
CONTACT = np.array([10.0, 96.0])
SIGMA = 1.1  # of a line across, px
AROUND = np.array([[1, 1, 1], [1, 0, 1], [1, 1, 1]])


def carrier(degrees, start, end, curve=0.0):
    """From start to end px of the contact; `curve` degrees of turn in 100 px, positive down the picture."""
    r = np.arange(start, end + 0.5, 0.5)
    angle = np.radians(degrees + curve * r / 200)
    return CONTACT + np.stack([r * np.cos(angle), r * np.sin(angle)], axis=1)


def ray(at, degrees, length):
    r = np.arange(0, length + 0.5, 0.5)[:, None]
    return at + r * [[np.cos(np.radians(degrees)), np.sin(np.radians(degrees))]]


def scenes():
    """Name, size, lines with their peak light, standard deviation of the noise in steps of the file."""
    fan = [carrier(-30 + 8 * i, 60 + 9 * (i % 3), 160 + 13 * (i * 4 % 5), 6) for i in range(7)]
    yield "fan", (256, 192), [(line, 0.3) for line in fan], 0
    beside = [carrier(-32 + 8 * i, 60 + 9 * (i % 3), 130 + 10 * (i * 2 % 4)) for i in range(9) if i != 4]
    bursting = carrier(0, 60, 190)
    for name, turns in [("star", (-108, -36, 36, 108)), ("burst", (-110, -60, -20, 30, 80))]:
        rays = [ray(bursting[-1], turn, 24) for turn in turns]
        yield name, (256, 192), [(line, 0.3) for line in [*beside, bursting, *rays]], 0
    crossing = [carrier(degrees, 60, 150 + abs(degrees)) for degrees in (-29, -23, -17, 17, 23, 29)]
    crossing += [carrier(-10, 60, 170, 20), carrier(10, 60, 170, -20)]
    yield "crossing", (256, 192), [(line, 0.3) for line in crossing], 0
    dim = [carrier(-33 + 11 * i, 50 + 6 * (i % 3), 130 + 6 * (i % 2), 8) for i in range(6)]
    yield "noise", (160, 160), [(line, 15 / 255 / 12.92) for line in dim], 1
    yield "faint", (160, 160), [(line, 5 / 255 / 12.92) for line in dim], 1


def picture(size, lines, noise):
    """Encoded, 0 to 255."""
    y, x = np.mgrid[0 : size[1], 0 : size[0]] + 0.5
    light = np.full(x.shape, 4 / 255 / 12.92)
    for line, peak in lines:
        away = np.min([(x - px) ** 2 + (y - py) ** 2 for px, py in line], axis=0)
        light += peak * np.exp(-away / (2 * SIGMA**2))
    encoded = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    noise = noise * np.random.default_rng(4).standard_normal(light.shape)
    return (255 * encoded + noise).round().clip(0, 255).astype(np.uint8)


def sections(line, others):
    """Place and unit normal of each section across a line."""
    along = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    for s in np.arange(0.15 * along[-1], 0.85 * along[-1], 12):
        i = min(np.searchsorted(along, s), len(line) - 2)
        step = line[i + 1] - line[i - 1]
        if all(np.hypot(*(other - line[i]).T).min() > 8 for other in others):
            yield line[i], np.array([-step[1], step[0]]) / np.hypot(*step)


def ridge(filtered, at, normal):
    off = np.arange(-3, 3.01, 0.25)
    places = at + off[:, None] * normal - 0.5
    v = ndimage.map_coordinates(filtered, places[:, ::-1].T, order=3)
    k = int(np.clip(v.argmax(), 1, len(v) - 2))
    top = 0.5 * (v[k - 1] - v[k + 1]) / (v[k - 1] - 2 * v[k] + v[k + 1])
    return at + (off[k] + 0.25 * top) * normal


def skeleton_rows(name, pixels):
    tool = f"skimage.morphology.skeletonize {skimage.__version__}"
    lit = pixels > filters.threshold_otsu(pixels)
    skeleton = morphology.skeletonize(lit)
    neighbours = ndimage.convolve(skeleton.astype(int), AROUND, mode="constant")
    ends = ndimage.distance_transform_edt(lit)[skeleton & (neighbours == 1)].sum()
    straight = (skeleton[1:] & skeleton[:-1]).sum() + (skeleton[:, 1:] & skeleton[:, :-1]).sum()
    diagonal = (skeleton[1:, 1:] & skeleton[:-1, :-1] & ~(skeleton[1:, :-1] | skeleton[:-1, 1:])).sum()
    diagonal += (skeleton[1:, :-1] & skeleton[:-1, 1:] & ~(skeleton[1:, 1:] | skeleton[:-1, :-1])).sum()
    yield name, "length", tool, "", "", f"{0.948 * (straight + np.sqrt(2) * diagonal) + ends:.1f}"
    branches = skeleton & (neighbours >= 3)
    near = cv2.dilate(branches.astype(np.uint8), cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (9, 9)))
    clusters = measure.label(near) * branches
    for c in range(1, clusters.max() + 1):
        y, x = np.argwhere(clusters == c).T + 0.5
        yield name, "branch", tool, f"{x.mean():.2f}", f"{y.mean():.2f}", len(x)


def rows():
    for name, size, lit, noise in scenes():
        pixels = picture(size, lit, noise)
        cv2.imwrite(str(HERE / "spark_lines" / f"{name}.png"), pixels, [cv2.IMWRITE_PNG_COMPRESSION, 9])
        if not noise:
            yield from skeleton_rows(name, pixels)
        lines = [line for line, _ in lit]
        for tool in (filters.sato, filters.meijering):
            filtered = tool(pixels.astype(float), sigmas=[1.5], black_ridges=False)
            for i, line in enumerate(lines):
                others = lines[:i] + lines[i + 1 :]
                for at, normal in sections(line, others):
                    x, y = ridge(filtered, at, normal)
                    by = f"skimage.filters.{tool.__name__} {skimage.__version__}"
                    yield name, "ridge", by, f"{x:.3f}", f"{y:.3f}", i


def main():
    with open(HERE / "spark_lines.csv", "w", newline="") as file:
        file.write("# made by spark_lines.py, which says what each row is; status: computed. OpenCV "
                   f"{cv2.__version__} (dilate) and NumPy {np.__version__} beside the tools named\n")
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["picture", "what", "tool", "x", "y", "value"])
        writer.writerows(rows())


if __name__ == "__main__":
    main()
