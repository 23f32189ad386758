"""Faces by another recipe than `tests/support/draw_faces`, for the network of `face_net.py`: far broader, far less like steel.

    python3 other_faces.py OUT FIRST COUNT

Any texture stands beside any other, so that the network learns a border from what differs, not from how one maker draws
grains. Nothing of steel is known here. Writes what face_views.py writes. Needs NumPy, SciPy, OpenCV and scikit-image, whose
pictures of brick, grass and gravel are some of the textures.
"""

import math
import sys
from pathlib import Path

import cv2
import numpy as np
from skimage import data

from face_views import BESIDE, CASE, CENTRES, CORE, FACE, NEITHER, linear, views

MAP, AROUND = 800, 0.12  # places over the face and what is around it; share of the face around it
NATURAL = [np.asarray(getattr(data, name)(), np.float32) for name in ("brick", "grass", "gravel")]
KINDS = {"all_round": 0.45, "partial": 0.2, "none": 0.13, "through": 0.06, "lip": 0.16}
TEXTURES = {"noise": 0.22, "drawn_out": 0.13, "clouds": 0.15, "facets": 0.2, "blobs": 0.1, "natural": 0.1, "rough_facets": 0.1}


def blurred(plane, by):
    return cv2.GaussianBlur(plane, (0, 0), by) if by > 0.3 else plane


def even(plane):
    """Mean 0, spread 1."""
    return (plane - plane.mean()) / (plane.std() + 1e-9)


def logarithmic(chance, low, high):
    return math.exp(chance.uniform(math.log(low), math.log(high)))


def noise(h, w, chance):
    return chance.normal(size=(h, w)).astype(np.float32)


def texture(h, w, chance, scale=None, kind=None):
    """Mean 0, spread 1; `scale` px."""
    scale = scale or logarithmic(chance, 0.8, 12)
    kind = kind or chance.choice(list(TEXTURES), p=list(TEXTURES.values()))
    if kind == "noise":
        return even(blurred(noise(h, w, chance), scale))
    if kind == "drawn_out":
        plane = cv2.GaussianBlur(noise(h, w, chance), (0, 0), sigmaX=scale * chance.uniform(1.5, 4), sigmaY=max(scale / 2, 0.5))
        turn = cv2.getRotationMatrix2D((w / 2, h / 2), chance.uniform(0, 180), 1.5)
        return even(cv2.warpAffine(plane, turn, (w, h), borderMode=cv2.BORDER_REFLECT))
    if kind == "clouds":
        pitch = np.maximum(np.hypot(np.fft.fftfreq(h)[:, None], np.fft.rfftfreq(w)[None]), 1 / (40 * scale))
        waves = np.fft.rfft2(chance.normal(size=(h, w))) * pitch ** -chance.uniform(0.6, 1.8)
        return even(np.fft.irfft2(waves, s=(h, w)).astype(np.float32))
    if kind == "blobs":
        return even(np.clip(even(blurred(noise(h, w, chance), scale)) - chance.uniform(0, 1.2), 0, None))
    if kind == "natural":
        by = float(np.clip(scale / 4, 0.25, 2.5))
        tile = cv2.resize(NATURAL[chance.integers(3)], None, fx=by, fy=by, interpolation=cv2.INTER_AREA if by < 1 else cv2.INTER_LINEAR)
        times = [math.ceil(a / b) for a, b in zip((h, w), tile.shape)]
        return even(np.ascontiguousarray(np.tile(tile, times)[:h, :w]))
    points = np.ones((h, w), np.uint8)
    count = int(min(h * w / max(1.6 * scale, 2.5) ** 2, 120_000))
    points[chance.integers(0, h, count), chance.integers(0, w, count)] = 0
    far, nearest = cv2.distanceTransformWithLabels(points, cv2.DIST_L2, 3, labelType=cv2.DIST_LABEL_PIXEL)
    tones = chance.normal(size=nearest.max() + 1).astype(np.float32)
    if chance.random() < 0.5:
        tones = np.abs(tones) ** chance.uniform(1, 2.5)
    plane = tones[nearest]
    if kind == "rough_facets":
        plane = plane + 0.5 * even(blurred(noise(h, w, chance), 0.8))
    if chance.random() < 0.5:
        plane = plane - 3 * chance.uniform(0, 1) * far / far.max()
    return even(blurred(plane, chance.uniform(0, 1)))


def waves(count, chance, size, most=6):
    """A line that goes up and down, closed."""
    t = np.linspace(0, 1, count, endpoint=False)
    return size * sum(chance.normal() / i * np.sin(2 * np.pi * (i * t + chance.random())) for i in range(1, most))


class Section:
    """The form of a face one thick, on a map with some around it."""

    def __init__(self, chance):
        self.ring = chance.random() < 0.3
        self.width = 1.0
        self.height = 1.0 if self.ring else float(chance.choice([1, chance.uniform(0.2, 0.95)]))
        self.thick = self.height
        self.scale = MAP / (1 + 2 * AROUND)
        self.size = [int((v + 2 * AROUND) * self.scale) for v in (self.height, self.width)]
        low = [AROUND + v / 2 for v in (self.width, self.height)]
        self.to_face = np.array([[1 / self.scale, 0, -low[0]], [0, 1 / self.scale, -low[1]], [0, 0, 1]])
        rows, columns = np.mgrid[: self.size[0], : self.size[1]].astype(np.float32)
        self.x, self.y = (columns + 0.5) / self.scale - low[0], (rows + 0.5) / self.scale - low[1]
        torn = logarithmic(chance, 0.0015, 0.015) * self.thick * even(blurred(noise(*self.size, chance), chance.uniform(3, 20)))
        w, h = self.width / 2, self.height / 2
        if self.ring:
            self.along = [np.arctan2(self.y, self.x) / (2 * np.pi) % 1]
            self.deep = [0.5 - np.hypot(self.x, self.y)]
            self.inside = self.deep[0] + torn
        else:
            self.along = [self.x / (2 * w) + 0.5, self.y / (2 * h) + 0.5] * 2
            self.deep = [self.y + h, w - self.x, h - self.y, self.x + w]
            corner = chance.uniform(0, 0.06) * self.thick
            qx, qy = np.abs(self.x) - w + corner, np.abs(self.y) - h + corner
            self.inside = corner - np.hypot(np.maximum(qx, 0), np.maximum(qy, 0)) - np.minimum(np.maximum(qx, qy), 0) + torn
        for _ in range(chance.integers(0, 3) if chance.random() < 0.4 else 0):  # chips
            turn = chance.uniform(0, 2 * np.pi)
            at = (0.5 * math.cos(turn), 0.5 * math.sin(turn)) if self.ring else (chance.choice([-w, w]), chance.uniform(-h, h))
            gone = chance.uniform(0.03, 0.1) * self.thick - np.hypot(self.x - at[0], self.y - at[1]) + torn
            self.inside = np.minimum(self.inside, -gone)

    def at(self, side, line):
        """A line along a side, at every place."""
        return line[(self.along[side] * (len(line) - 1)).clip(0, len(line) - 1).astype(int)]


def case(section, kind, chance):
    """How much of each place is case, and where it is; and a usual depth."""
    depth = logarithmic(chance, 0.035, 0.33) * section.thick
    if kind not in ("all_round", "partial"):
        share = np.full(section.size, float(kind == "through"))
        return share, share > 0
    deep = [section.at(i, depth * np.exp(chance.normal(0, 0.2) + waves(512, chance, 0.12))) for i in range(len(section.deep))]
    if kind == "partial" and section.ring:
        middle, half = chance.random(), chance.uniform(0.12, 0.38)
        off = np.abs((section.along[0] - middle + 0.5) % 1 - 0.5)
        deep[0] = deep[0] * np.clip((half - off) / 0.05, 0, 1)
    elif kind == "partial":
        cased = chance.permutation(4)[: chance.integers(1, 4)]
        deep = [d if i in cased else 0 * d for i, d in enumerate(deep)]
    wide, sharp = depth * chance.uniform(0.04, 0.5), chance.uniform(0.6, 1.5)
    sides = np.stack([sharp * (d - own) / wide for d, own in zip(deep, section.deep)])
    excess = np.log(np.exp(np.clip(sides, -40, 40)).sum(0)) / sharp
    some = np.stack([d > 0 for d in deep]).any(0)
    return np.where(some, 1 / (1 + np.exp(-4 * np.clip(excess, -10, 10))), 0), (excess > 0) & some


def lips(section, kind, chance):
    """Sides along which a smooth band lies that is neither case nor core."""
    if kind != "lip" and chance.random() > 0.12:
        return []
    count = len(section.deep)
    if kind != "lip":
        return [chance.integers(count)]
    return chance.permutation(count)[: count if chance.random() < 0.5 else 1 + chance.integers(count)]


def broken(section, kind, px, chance):
    """Light of the face, natural logarithm, and what is true of it; `px` places of the map to a pixel of the photo."""
    share, cased = case(section, kind, chance)
    size, bordered = section.size, kind in ("all_round", "partial")
    fine = logarithmic(chance, 0.7, 2.2) * px
    coarse = fine * logarithmic(chance, 1.4, 6.7)
    other_way = bordered and chance.random() < 0.2  # an overheated case is coarser than its core
    same = bordered and chance.random() < 0.15  # parted by light alone
    case_look = texture(*size, chance, coarse if other_way else fine)
    core_look = texture(*size, chance, fine if same or other_way else coarse)
    swings = chance.uniform(0.04, 0.22), chance.uniform(0.08, 0.5)
    tone = chance.normal(0, 0.35)
    if same and abs(tone) < 0.15:
        tone = math.copysign(chance.uniform(0.15, 0.6), tone)
    light = share * (swings[0] * case_look + tone) + (1 - share) * swings[1] * core_look
    if chance.random() < 0.4:
        light = light + chance.uniform(0, 0.25) * even(blurred(noise(*size, chance), chance.uniform(10, 60)))
    if chance.random() < 0.5:  # glints
        glints = (chance.random(size) < chance.uniform(0.0005, 0.006)).astype(np.float32)
        glints = glints * (1 - share) if chance.random() < 0.7 else glints
        light = light + blurred(glints.astype(np.float32), 0.8 * px) * chance.uniform(2, 8)
    is_ = np.where(section.inside > 0, np.where(cased, CASE, CORE), BESIDE).astype(np.uint8)
    face = is_ != BESIDE
    if kind in ("none", "lip") and coarse / px < 2.2 and chance.random() < 0.5 or kind == "through" and swings[0] > 0.15:
        is_[face] = FACE  # nobody could tell
    for side in lips(section, kind, chance):
        wide = section.at(side, chance.uniform(0.03, 0.13) * section.thick * (1 + waves(64, chance, 0.1)))
        if section.ring and chance.random() < 0.7:
            wide = wide * (np.abs((section.along[0] - chance.random() + 0.5) % 1 - 0.5) < chance.uniform(0.1, 0.5))
        lip = 1 / (1 + np.exp(np.clip(-(wide - section.deep[side]) / (0.006 * section.thick), -40, 40)))
        streaks = texture(*size, chance, chance.uniform(1, 4) * px, chance.choice(["drawn_out", "clouds"], p=[0.7, 0.3]))
        light = (1 - lip) * light + lip * (chance.normal(0, 0.5) + chance.uniform(0.03, 0.15) * streaks)
        is_[face & (section.deep[side] < wide)] = NEITHER
    if chance.random() < 0.5:  # the edge itself
        light = light + chance.normal(0, 0.6) * np.exp(-((section.inside / (0.012 * section.thick)) ** 2))
    slopes = chance.normal(0, 0.25, 2) / section.thick
    return light + slopes[0] * section.x + slopes[1] * section.y, is_


def ground(h, w, middle, extent, chance):
    """Light of all that is no face, natural logarithm, and its tint."""
    light = chance.normal(0, 1) + chance.uniform(0, 0.3) * texture(h, w, chance, logarithmic(chance, 1, 55))
    if chance.random() < 0.5:
        light = light + chance.uniform(0, 0.25) * texture(h, w, chance)
    y, x = np.mgrid[:h, :w].astype(np.float32)
    light = light + chance.normal(0, 0.4) * (x / w - 0.5) + chance.normal(0, 0.4) * (y / h - 0.5)
    tint = np.zeros((h, w, 2), np.float32) + chance.normal(0, 0.12, 2)
    for _ in range(chance.integers(0, 6)):  # things
        thing, at = np.zeros((h, w), np.uint8), middle + chance.normal(0, 0.56, 2) * extent
        if chance.random() < 0.6:
            sides = [float(chance.uniform(0.05, most) * extent) for most in (1.2, 0.8)]
            box = cv2.boxPoints((tuple(map(float, at)), sides, float(chance.uniform(0, 180))))
            cv2.fillPoly(thing, [box.astype(np.int32)], 1)
        else:
            axes = [int(chance.uniform(0.05, most) * extent) for most in (0.5, 0.4)]
            cv2.ellipse(thing, [int(v) for v in at], axes, chance.uniform(0, 180), 0, 360, 1, -1)
        on = blurred(thing.astype(np.float32), chance.uniform(0.3, 3))
        light = light * (1 - on) + on * (chance.normal(0, 1) + chance.uniform(0, 0.3) * texture(h, w, chance))
        tint = tint * (1 - on[..., None]) + on[..., None] * chance.normal(0, 0.15, 2)
    light = np.ascontiguousarray(light, np.float32)
    for _ in range(chance.integers(0, 30) if chance.random() < 0.25 else 0):  # scratches, strokes
        a = chance.uniform(0, 1, 2) * [w, h]
        b = a + chance.normal(0, 0.2, 2) * extent
        cv2.line(light, [int(v) for v in a], [int(v) for v in b], float(chance.normal(0, 1)), int(chance.integers(1, 4)))
    return light, tint


def draw(seed):
    """A photo in linear light as it comes out of a file, and what is true of its face."""
    chance = np.random.default_rng(seed)
    kind = chance.choice(list(KINDS), p=list(KINDS.values()))
    long, aspect = int(chance.uniform(700, 1300)), chance.choice([1, 0.75, 0.5625, 1.333])
    w, h = (long, int(long * aspect)) if aspect <= 1 else (int(long / aspect), long)
    section = Section(chance)
    extent = min(w, h) * (chance.uniform(0.15, 0.3) if chance.random() < 0.2 else chance.uniform(0.3, 0.85))
    middle = np.array([w / 2, h / 2]) + chance.normal(0, 0.06, 2) * [w, h]
    turn = chance.uniform(0, 2 * np.pi)
    to_photo = np.eye(3)
    to_photo[:2, :2] = extent * np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    to_photo[:2, 2], to_photo[2, :2] = middle, chance.normal(0, 0.04, 2)
    px = section.scale / extent
    face, is_ = broken(section, kind, px, chance)
    on_map = (1 / (1 + np.exp(-np.clip(section.inside * extent / 0.7, -20, 20)))).astype(np.float32)
    seen = np.linalg.inv(CENTRES) @ to_photo @ section.to_face @ CENTRES
    light, tint = ground(h, w, middle, extent, chance)

    def dragged(way):
        """What the face covers while it moves."""
        covered = np.zeros((h, w), np.float32)
        for share in np.linspace(0, 1, 14):
            move = np.eye(3)
            move[:2, 2] = way * share
            covered = np.maximum(covered, cv2.warpPerspective(on_map, move @ seen, (w, h)))
        return covered

    if chance.random() < 0.6:  # its shadow
        light = light - blurred(dragged(chance.normal(0, 0.12, 2) * extent), chance.uniform(0.5, 14)) * chance.uniform(0.3, 2)
    if chance.random() < 0.6:  # a wall of the coupon
        wall = dragged(chance.normal(0, 0.09, 2) * extent)
        look = texture(h, w, chance, kind=chance.choice(["drawn_out", "noise", "clouds"]))
        light = light * (1 - wall) + wall * (chance.normal(0, 0.6) + chance.uniform(0, 0.25) * look)
        tint = tint * (1 - wall[..., None])
    on = cv2.warpPerspective(on_map, seen, (w, h))
    face = cv2.warpPerspective(face.astype(np.float32), seen, (w, h), borderMode=cv2.BORDER_REPLICATE)
    light = light * (1 - on) + on * face
    tint = tint * (1 - on[..., None]) + on[..., None] * chance.normal(0, 0.03, 2)
    if chance.random() < 0.3:  # stains
        stain = np.clip(even(blurred(noise(h, w, chance), extent * chance.uniform(0.03, 0.12))) - chance.uniform(0.8, 2), 0, 1)
        light = light - stain * chance.uniform(0, 1)
        tint = tint + stain[..., None] * np.array([0.2, -0.2]) * chance.random()
    light = blurred(light.astype(np.float32), chance.uniform(0.3, 1.6))
    return taken(light, tint, chance), is_, section, to_photo, extent


def taken(light, tint, chance):
    """As a camera keeps it."""
    green = logarithmic(chance, 0.08, 0.35) * np.exp(np.clip(light, -4, 2.2))
    rgb = np.stack([green * np.exp(tint[..., 0]), green, green * np.exp(tint[..., 1])], 2) * np.exp(chance.normal(0, 0.1, 3))
    grain = np.clip(rgb, 0, None) * chance.uniform(0, 0.03) ** 2 + chance.uniform(0, 0.01) ** 2
    rgb = np.clip(rgb + chance.normal(size=rgb.shape) * np.sqrt(grain), 0, 1)
    encoded = np.where(rgb <= 0.0031308, 12.92 * rgb, 1.055 * rgb ** (1 / 2.4) - 0.055)
    picture = (255 * encoded + 0.5).astype(np.uint8)
    if chance.random() < 0.15:
        picture = np.repeat(picture.mean(2, keepdims=True).astype(np.uint8), 3, 2)
    _, file = cv2.imencode(".jpg", picture[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, int(chance.integers(60, 96))])
    return linear(cv2.imdecode(file, cv2.IMREAD_COLOR)[..., ::-1])


if __name__ == "__main__":
    out, first, count = Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3])
    out.mkdir(exist_ok=True)
    for seed in range(first, first + count):
        rgb, is_, section, to_photo, extent = draw(seed)
        size = [section.width, section.height]
        to_face = section.to_face
        kept = views(rgb, is_, to_face, to_photo, size, section.thick, extent, np.random.default_rng(seed))
        np.savez(out / f"other-{seed}.npz", kind="Other", **kept)
