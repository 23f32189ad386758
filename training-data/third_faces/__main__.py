"""Invented phone photos of snapped steel coupons, with the truth beside them, for the network of `face_net.py`.

    python3 -m third_faces OUT usable FIRST COUNT   # faces that can be measured
    python3 -m third_faces OUT empty FIRST COUNT    # benches, tools, hands, coins and stones, and no coupon

Writes `SEED.jpg` and `SEED.json` to the folder OUT for each of COUNT seeds from FIRST on, as `face_views.py` reads them; the
same seed always gives the same picture. `usable` draws the broken face of a bar that was carburised and hardened: case and
core, or only one of them, with lips, nicks, chips and dirt, lying on something, in a vice or between fingers, under a lamp, at
a window or by flash. The truth of it holds the outline, the border of the case, and the depth along each side. `empty` writes
"NoFace" as its `kind`, and what is in the picture as `conditions.sort`.

Everything here is invented and nothing was measured: no photo and no coupon stands behind any number. It is unlike reality in
that

- fingers and leather look synthetic;
- edges of lips are too jagged;
- chips are crude;
- the contrast of case and core is too even round a face.

Needs NumPy, SciPy, OpenCV and scikit-image.
"""

import json
import sys
from pathlib import Path

import cv2

from .empty import empty_picture
from .usable import usable_picture

PICTURE_OF = {"usable": usable_picture, "empty": empty_picture}


def plain(number):
    """A number of NumPy as JSON knows it."""
    return number.item()


def write(out, seed, picture_of):
    """Writes one picture and the truth of it."""
    picture, phone, told = picture_of(seed)
    name = f"{seed}.jpg"
    height, width = picture.shape[:2]
    truth = {"file": name, "seed": seed, "take": "first", "width": width, "height": height, **told}
    cv2.imwrite(str(out / name), picture[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, phone.quality])
    (out / f"{seed}.json").write_text(json.dumps(truth, default=plain))


def main(arguments):
    if len(arguments) != 4 or arguments[1] not in PICTURE_OF:
        sys.exit("usage: python3 -m third_faces OUT usable|empty FIRST COUNT")
    out = Path(arguments[0])
    out.mkdir(parents=True, exist_ok=True)
    first, count = int(arguments[2]), int(arguments[3])
    cv2.setNumThreads(1)
    for seed in range(first, first + count):
        write(out, seed, PICTURE_OF[arguments[1]])


if __name__ == "__main__":
    main(sys.argv[1:])
