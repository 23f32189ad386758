"""Writes the small pictures beside this script, and what an independent reader sees in them.

Made with Pillow 13.0.0, pillow-heif 1.8.1, tifffile 2026.3.3 and scikit-image 0.26.0 (colour). Run: python3 make.py
Every picture shows the same drawn scene, an invented one: a ramp, a bright disc in the upper left, a bar.
"""

import pathlib
import struct
import zlib

import numpy as np
import pillow_heif
import tifffile
from PIL import Image, ImageOps
from PIL.TiffImagePlugin import IFDRational
from skimage.color import rgb2xyz

pillow_heif.register_heif_opener()
HERE = pathlib.Path(__file__).parent / "files"
WIDTH, HEIGHT = 48, 32


def scene():
    y, x = np.mgrid[0:HEIGHT, 0:WIDTH].astype(float)
    red = 255 * x / (WIDTH - 1)
    green = 255 * y / (HEIGHT - 1)
    blue = np.where((x - 10) ** 2 + (y - 8) ** 2 < 36, 230, 40.0)
    picture = np.stack([red, green, blue], axis=-1)
    picture[26:29, 6:40] = [250, 200, 20]
    return picture.round().astype(np.uint8)


def exif(orientation=None):
    data = Image.Exif()
    if orientation:
        data[0x0112] = orientation
    fields = data.get_ifd(0x8769)
    fields[0x829A] = IFDRational(1, 160)  # exposure time, s
    fields[0x829D] = IFDRational(18, 10)  # f-number
    fields[0x8827] = 400  # ISO
    fields[0x920A] = IFDRational(425, 100)  # focal length, mm
    fields[0xA405] = 26  # on 35 mm film
    fields[0x9204] = IFDRational(-2, 3)  # exposure bias
    fields[0x9003] = "2026:03:14 15:09:26"
    return data


def tiff_block(entries, shift=0):
    """A little-endian EXIF block whose EXIF part holds these entries (tag, type, count, bytes of values)."""
    head = b"II*\0" + struct.pack("<I", 8)
    ifd0 = struct.pack("<HHHII", 1, 0x8769, 4, 1, 26) + struct.pack("<I", 0)
    at = shift + 26 + 2 + 12 * len(entries) + 4
    ifd, tail = struct.pack("<H", len(entries)), b""
    for tag, kind, count, value in entries:
        if len(value) <= 4:
            ifd += struct.pack("<HHI", tag, kind, count) + value.ljust(4, b"\0")
        else:
            ifd += struct.pack("<HHII", tag, kind, count, at + len(tail))
            tail += value
    return head + ifd0 + ifd + struct.pack("<I", 0) + tail


USUAL = [
    (0x829A, 5, 1, struct.pack("<II", 1, 160)),
    (0x829D, 5, 1, struct.pack("<II", 18, 10)),
    (0x8827, 3, 1, struct.pack("<H", 400)),
    (0x9003, 2, 20, b"2026:03:14 15:09:26\0"),
    (0x9204, 10, 1, struct.pack("<ii", -2, 3)),
    (0x920A, 5, 1, struct.pack("<II", 425, 100)),
    (0xA405, 3, 1, struct.pack("<H", 26)),
]
SHORT_PAIRS = tiff_block([
    (0x829A, 3, 2, struct.pack("<HH", 1, 60)),
    (0x829D, 3, 2, struct.pack("<HH", 28, 10)),
    (0x9204, 8, 2, struct.pack("<hh", -2, 3)),
])
INSANE = tiff_block([
    (0x829A, 5, 1, struct.pack("<II", 1, 0)),
    (0x829D, 5, 1, struct.pack("<II", 0, 10)),
    (0x8827, 4, 1, struct.pack("<I", 1_000_000_000)),
    (0x9003, 2, 20, b"2026:02:30 10:00:00\0"),
    (0x9204, 10, 1, struct.pack("<ii", -500, 1)),
    (0x920A, 10, 1, struct.pack("<ii", -4, 1)),
])
UNKNOWN = tiff_block([
    (0x8827, 3, 1, struct.pack("<H", 65535)),
    (0x8832, 4, 1, struct.pack("<I", 102400)),
    (0x9003, 2, 20, b"    :  :     :  :  \0"),
    (0xA405, 3, 1, struct.pack("<H", 0)),
])


def save():
    HERE.mkdir(exist_ok=True)
    picture = scene()
    rgb = Image.fromarray(picture)
    grey = rgb.convert("L")
    deep = (picture.astype(np.uint16) * 257) ^ 0x55
    alpha = np.linspace(0, 255, WIDTH).round().astype(np.uint8)
    alpha = np.broadcast_to(alpha, (HEIGHT, WIDTH))
    rgba = Image.fromarray(np.dstack([picture, alpha]))

    for orientation in range(1, 9):
        rgb.save(HERE / f"turned{orientation}.jpg", quality=95, subsampling=0, exif=exif(orientation))
    rgb.save(HERE / "turned6.png", exif=exif(6))
    rgb.save(HERE / "turned6.webp", lossless=True, exif=exif(6))
    rgb.save(HERE / "turned6.tif", exif=exif(6))
    with_exif(HERE / "turned6.tif", USUAL)
    rgb.save(HERE / "short_pairs.jpg", quality=90, exif=b"Exif\0\0" + SHORT_PAIRS)
    rgb.save(HERE / "insane.jpg", quality=90, exif=b"Exif\0\0" + INSANE)
    rgb.save(HERE / "unknown.jpg", quality=90, exif=b"Exif\0\0" + UNKNOWN)
    rgb.save(HERE / "broken_exif.jpg", quality=90, exif=b"Exif\0\0II*\0\xff\xff\xff\x7f")
    rgb.save(HERE / "progressive.jpg", quality=90, progressive=True)
    rgb.save(HERE / "subsampled.jpg", quality=90, subsampling=2)
    grey.save(HERE / "grey.jpg", quality=95)
    rgb.convert("CMYK").save(HERE / "cmyk.jpg", quality=95)
    rgb.save(HERE / "rgb.png")
    grey.save(HERE / "grey.png")
    rgba.save(HERE / "alpha.png")
    rgb.quantize(64).save(HERE / "palette.png")
    rgb.convert("1").save(HERE / "bits.png")
    Image.fromarray(deep[..., 1].copy()).save(HERE / "grey16.png")
    png16(deep, HERE / "rgb16.png")
    rgb.save(HERE / "lossless.webp", lossless=True)
    rgb.save(HERE / "lossy.webp", quality=90)
    rgba.save(HERE / "alpha.webp", lossless=True, exact=True)
    rgb.save(HERE / "animated.webp", lossless=True, save_all=True, append_images=[grey.convert("RGB")])
    rgb.save(HERE / "lzw.tif", compression="tiff_lzw")
    rgb.convert("CMYK").save(HERE / "cmyk.tif")
    rgb.save(HERE / "pages.tif", save_all=True, append_images=[rgb])
    # Large enough for one coded block; EXIF says 6, which readers of HEIC must not follow.
    larger = Image.fromarray(picture.repeat(4, axis=0).repeat(4, axis=1))
    larger.save(HERE / "turned6.heic", quality=85, exif=exif(6))
    tifffile.imwrite(HERE / "tiled.tif", picture, tile=(16, 16), compression="zlib", photometric="rgb")
    tifffile.imwrite(HERE / "deep.tif", deep, photometric="rgb")
    tifffile.imwrite(HERE / "planes.tif", np.moveaxis(picture, -1, 0), photometric="rgb", planarconfig="separate")
    tifffile.imwrite(HERE / "big.tif", picture, photometric="rgb", bigtiff=True)
    tifffile.imwrite(HERE / "float.tif", picture.astype(np.float32) / 255, photometric="rgb")


def with_exif(path, block):
    """Gives a TIFF of one page an EXIF part: in place of its last entry, which repeats a default."""
    data = bytearray(path.read_bytes())
    if len(data) % 2:
        data += b"\0"
    (start,) = struct.unpack("<I", data[4:8])
    (count,) = struct.unpack("<H", data[start : start + 2])
    last = start + 2 + 12 * (count - 1)
    assert struct.unpack("<H", data[last : last + 2]) == (284,)
    # The part's own offsets count from the start of the file.
    shift = len(data) - 26
    data[last : last + 12] = struct.pack("<HHII", 0x8769, 4, 1, len(data))
    data += tiff_block(block, shift)[26:]
    path.write_bytes(data)


def png16(samples, path):
    """A PNG of 16 bits and three channels, which Pillow does not write."""
    def chunk(name, data):
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    height, width, _ = samples.shape
    rows = b"".join(b"\0" + row.astype(">u2").tobytes() for row in samples)
    head = struct.pack(">IIBBBBB", width, height, 16, 2, 0, 0, 0)
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b""))


def seen(path):
    """What Pillow (or tifffile, for what Pillow does not read) shows: samples upright, opacity over black."""
    if path.name in ("deep.tif", "planes.tif"):
        pixels = tifffile.imread(path)
        pixels = np.moveaxis(pixels, 0, -1) if path.name == "planes.tif" else pixels
    elif path.name == "rgb16.png":
        pixels = (scene().astype(np.uint16) * 257) ^ 0x55
    else:
        image = Image.open(path)
        if path.suffix != ".heic":
            image = ImageOps.exif_transpose(image)
        if image.mode in ("P", "CMYK"):
            image = image.convert("RGB")
        if image.mode == "1":
            image = image.convert("L")
        if image.mode == "RGBA":
            black = Image.new("RGBA", image.size, (0, 0, 0, 255))
            image = Image.alpha_composite(black, image).convert("RGB")
        pixels = np.asarray(image)
    return pixels


def main():
    save()
    lines = ["# What an independent reader sees; made by make.py. Samples at (x, y) as x,y=r/g/b or x,y=grey.",
             "# file, width, height, bits, samples..."]
    spots = [(0.02, 0.05), (0.21, 0.25), (0.5, 0.5), (0.4, 0.86), (0.97, 0.1), (0.05, 0.95), (0.9, 0.9), (0.7, 0.2)]
    for path in sorted(HERE.iterdir()):
        if path.name == "float.tif":
            continue
        pixels = seen(path)
        height, width = pixels.shape[:2]
        cells = [path.name, str(width), str(height), str(pixels.dtype.itemsize * 8)]
        for fx, fy in spots:
            x, y = int(fx * width), int(fy * height)
            value = np.atleast_1d(pixels[y, x])
            cells.append(f"{x},{y}=" + "/".join(str(int(v)) for v in value))
        lines.append(" ".join(cells))
    (HERE.parent / "seen.txt").write_text("\n".join(lines) + "\n")

    lines = ["# Luminance (Y of XYZ) of 8-bit sRGB by scikit-image 0.26.0, skimage.color.rgb2xyz; made by make.py.",
             "# red green blue luminance"]
    rng = np.random.default_rng(5)
    colours = [[v, v, v] for v in (0, 1, 5, 10, 11, 12, 64, 128, 200, 254, 255)]
    colours += [[255, 0, 0], [0, 255, 0], [0, 0, 255]] + rng.integers(0, 256, (20, 3)).tolist()
    for colour in colours:
        luminance = rgb2xyz(np.array([[colour]], dtype=np.uint8))[0, 0, 1]
        lines.append(f"{colour[0]} {colour[1]} {colour[2]} {luminance:.9f}")
    (HERE.parent / "luminance.txt").write_text("\n".join(lines) + "\n")


main()
