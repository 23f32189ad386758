"""Reference homographies: corners of a face in mm, and where they lie in a picture in px, by OpenCV.

    python homography.py    write homography.csv beside this file

Every row: width and height of a rectangle, mm (its corners, clockwise from the upper left, are (0, 0), (w, 0), (w, h),
(0, h)); the same corners in px; the nine numbers of cv2.getPerspectiveTransform(mm, px), row by row, the last one 1;
and where the rectangle's middle lies in px by that homography, which is not the mean of the corners.
"""
import csv
from pathlib import Path

import cv2
import numpy as np

HERE = Path(__file__).parent
# width, height, four corners: upright, turned, tilted, steep, far from square, mirrored never
ROWS = [
    (10, 10, [(100, 100), (500, 100), (500, 500), (100, 500)]),
    (4, 4, [(400, 120), (680, 400), (400, 680), (120, 400)]),
    (6, 3, [(210.5, 318.25), (1012.75, 290.5), (1048.25, 702.5), (188.0, 711.75)]),
    (6, 3, [(310, 300), (910, 330), (1010, 700), (205, 660)]),
    (8, 5, [(640, 80), (1180, 520), (760, 990), (190, 560)]),
    (3.25, 3.25, [(150, 200), (620, 170), (700, 640), (110, 600)]),
    (12, 4, [(80, 400), (1500, 310), (1460, 760), (120, 820)]),
    (5, 9, [(420, 60), (800, 100), (860, 900), (350, 840)]),
    (2.5, 2.5, [(1000, 900), (600, 940), (560, 520), (980, 480)]),
    (7, 7, [(300, 300), (900, 360), (800, 860), (340, 760)]),
    (10, 2, [(60, 500), (1900, 420), (1880, 760), (90, 900)]),
    (6, 6, [(500.125, 250.875), (777.5, 333.375), (690.25, 600.0), (430.75, 512.625)]),
]


def main():
    with open(HERE / "homography.csv", "w", newline="") as file:
        file.write(f"# OpenCV {cv2.__version__}, NumPy {np.__version__}, made by homography.py\n")
        out = csv.writer(file, lineterminator="\n")
        corners = [f"{axis}{k}" for k in range(4) for axis in "xy"]
        out.writerow(["width_mm", "height_mm", *corners, *(f"h{k}" for k in range(9)), "middle_x", "middle_y"])
        for w, h, px in ROWS:
            mm = np.float32([(0, 0), (w, 0), (w, h), (0, h)])
            matrix = cv2.getPerspectiveTransform(mm, np.float32(px))
            middle = matrix @ (w / 2, h / 2, 1)
            numbers = [*matrix.ravel(), middle[0] / middle[2], middle[1] / middle[2]]
            out.writerow([w, h, *(v for p in px for v in p), *(f"{v:.12g}" for v in numbers)])


if __name__ == "__main__":
    main()
