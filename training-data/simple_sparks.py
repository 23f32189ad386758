"""Draws spark streams by two simple recipes, with truth in the form of the tests' picture maker, so that the network that tells
bursts does not lean to that maker alone. Shares nothing with it.

    python3 simple_sparks.py FOLDER FIRST LAST

`forked`: parabolas that swell outward; bursts of two, three or many rays, forks ahead or flowers all round, again on their
rays. `swept`: rays that fly off evenly in space and are swept along; beads, gaps. Both: halo, lamps, things behind and in
front, scratches and dust that are no sparks. Nothing is measured of real sparks. Status: invented. The shipped network was
fitted on pictures 1 to 140 of the first and 1 to 129 of the second, less those in which no stream was found.
"""

import json
import sys
from pathlib import Path

import numpy as np
from PIL import Image
from scipy.ndimage import gaussian_filter

FWHM = 2.355
STEP = 0.5  # px from point to point of a streak
CLEAR, CARRIER_PX, RAY_PX = 3, 12, 4  # the count of the truth: noise, px
# one streak's light under the smoothing of pixels and its halo, about
KEPT = 0.8


class Canvas:
    """Light of streaks, by class of width."""

    def __init__(self, width, height, widths):
        self.width, self.height, self.widths = width, height, widths
        self.layers = [np.zeros(width * height) for _ in widths]
        self.streaks = []

    def add(self, points, light, which):
        """Points evenly along a streak, and the light at its middle there."""
        step = np.hypot(*np.diff(points, axis=0).T).mean() if len(points) > 1 else 1.0
        mass = light * step * self.widths[which] / FWHM * np.sqrt(2 * np.pi)
        x, y = points[:, 0] - 0.5, points[:, 1] - 0.5
        column, row = np.floor(x).astype(int), np.floor(y).astype(int)
        right, down = x - column, y - row
        shares = ((0, 0, (1 - right) * (1 - down)), (1, 0, right * (1 - down)), (0, 1, (1 - right) * down), (1, 1, right * down))
        for across, below, share in shares:
            a, b = column + across, row + below
            inside = (a >= 0) & (a < self.width) & (b >= 0) & (b < self.height)
            place = b[inside] * self.width + a[inside]
            self.layers[which] += np.bincount(place, (mass * share)[inside], self.width * self.height)
        self.streaks.append((points, light, step))
        return len(self.streaks) - 1

    def image(self, halo):
        image = np.zeros((self.height, self.width))
        for width, layer in zip(self.widths, self.layers):
            layer, sigma = layer.reshape(self.height, self.width), width / FWHM
            image += (1 - halo) * gaussian_filter(layer, np.sqrt(max(0.1, sigma**2 - 0.15)))
            if halo > 0:
                image += halo * gaussian_filter(layer, 3.2 * sigma)
        return image


def bent(start, angle, length, curve):
    count = max(4, int(length / STEP))
    angles = angle + curve * np.linspace(0, 1, count)
    step = length / (count - 1)
    x, y = (np.concatenate([[0], np.cumsum(f(angles[:-1]) * step)]) for f in (np.cos, np.sin))
    return np.stack([start[0] + x, start[1] + y], 1)


class Stream:
    """Carriers and bursts of one picture."""

    def __init__(self, kind, chance):
        self.kind, self.c = kind, chance
        c = chance
        self.size = [(1000, 800), (1300, 900), (1500, 1000), (900, 1200), (1100, 1100)][c.integers(5)]
        width, height = self.size
        self.direction, away = c.uniform(-np.pi, np.pi), c.uniform(0.2, 0.46)
        cos, sin = np.cos(self.direction), np.sin(self.direction)
        self.contact = np.array([width / 2 - away * width * cos, height / 2 - away * height * sin])
        self.line = self.even(1.5, 4.5)
        self.reach = min(width / max(0.1, abs(cos)), height / max(0.1, abs(sin))) * 0.7
        self.count, self.opening = int(self.even(8, 110)), c.uniform(0.06, 0.45)
        self.bursting, self.peak, self.fall = c.uniform(0.05, 0.95), self.even(0.1, 1.5), c.normal() * 0.25
        self.canvas = Canvas(width, height, [self.line, 0.75 * self.line, 0.55 * self.line + 0.4])
        self.ray = self.even(7, 60) * max(1, self.line / 2.5)
        if kind == "forked":
            self.mix, self.fork, self.taper = c.dirichlet([1, 1, 1.5, 1]), c.uniform(0.25, 0.9), c.uniform(0.3, 2.5)
        else:
            self.sweep, self.beads = c.uniform(0, 1.2), c.random() < 0.35
            self.rays, self.fade = c.uniform(2.5, 12), c.uniform(0.3, 2)
        self.again = c.uniform(0, 0.5)
        self.carriers, self.bursts = [], []
        even_fan = not c.integers(3)
        for number in range(self.count):
            self.carrier(number, even_fan)

    def even(self, low, high):
        """Evenly by its logarithm."""
        return float(np.exp(self.c.uniform(np.log(low), np.log(high))))

    def carrier(self, number, even_fan):
        c = self.c
        off = c.uniform(-1, 1) * self.opening * 1.4 if even_fan else c.normal() * self.opening
        angle = self.direction + off
        begin = abs(c.normal()) * c.uniform(0.02, 0.5) * self.reach
        length = self.reach * np.exp(c.normal() * 0.5) * c.uniform(0.25, 0.6)
        bend = self.fall * length / self.reach * c.uniform(0.5, 1.5)
        start = self.contact + c.normal(size=2) * self.line * 2 + begin * np.array([np.cos(angle), np.sin(angle)])
        points = bent(start, angle, length, bend)
        along, bright = np.linspace(0, 1, len(points)), self.peak * np.exp(c.normal() * 0.5)
        if self.kind == "forked":
            light = bright * (0.25 + 0.75 * along ** c.uniform(0.5, 2)) * np.minimum(1, (1 - along) * 10 + 0.05)
        else:
            light = bright * np.minimum(1, np.minimum(along * 6 + 0.1, (1 - along) * 4 + 0.05))
            if self.beads:
                light = light * (0.55 + 0.45 * np.sin(along * c.uniform(20, 90) + c.uniform(0, 6)))
            if c.random() < 0.15:  # a gap
                gap = c.integers(len(along))
                light = light * np.where(np.abs(np.arange(len(along)) - gap) < c.uniform(5, 30), 0.02, 1)
        end, times = len(points), 0
        while c.random() < self.bursting * (1 if times == 0 else 0.35) and times < 4:
            times += 1
            place = min(len(points) - 1, int(c.uniform(0.25, 1) * len(points)))
            ahead = np.arctan2(*(points[place] - points[max(0, place - 6)])[::-1])
            self.burst(points[place], ahead, number, 1, None, bright * c.uniform(0.6, 1.3))
            if c.random() < 0.45:
                end = min(end, place + 1)
            if end <= place + 1:
                break
        if c.random() < 0.12 and end == len(points):  # swells at its end: no burst
            light = light * (1 + 2 * np.exp(-(((along - c.uniform(0.7, 1)) / 0.03) ** 2)))
        self.carriers.append(self.canvas.add(points[:end], light[:end], 0))

    def rays_of(self, ahead, size):
        c = self.c
        if self.kind == "swept":
            count = max(2, c.poisson(self.rays))
            flight = c.normal(size=(count, 3))
            flight /= np.linalg.norm(flight, axis=1)[:, None]
            swept = np.array([self.sweep * np.cos(ahead), self.sweep * np.sin(ahead)]) * c.uniform(0.5, 1, (count, 1))
            seen = flight[:, :2] + swept
            return np.arctan2(seen[:, 1], seen[:, 0]), size * np.hypot(*seen.T) * np.exp(c.normal(size=count) * 0.35)
        which = c.choice(4, p=self.mix)
        if which == 0:
            angles = ahead + np.array([-1, 1]) * self.fork * c.uniform(0.4, 1)
        elif which == 1:
            angles = ahead + np.array([-1, 0, 1]) * self.fork * c.uniform(0.5, 1) + c.normal(size=3) * 0.1
        elif which == 2:
            count = c.integers(4, 9)
            angles = ahead + np.sort(c.uniform(-1, 1, count)) * self.fork * 2
        else:
            count = c.integers(6, 15)
            angles = ahead + 2 * np.pi * (np.arange(count) + c.uniform(0, 1, count) * 0.8) / count
        return angles, size * np.exp(c.normal(size=len(angles)) * 0.25)

    def burst(self, at, ahead, carrier, tier, parent, bright):
        c, number = self.c, len(self.bursts)
        self.bursts.append({"at": at, "carrier": carrier, "tier": tier, "parent": parent, "streaks": []})
        size = self.ray * 0.55 ** (tier - 1) * np.exp(c.normal() * 0.3)
        angles, lengths = self.rays_of(ahead, size)
        for angle, length in zip(angles, lengths):
            if length < 2:
                continue
            points = bent(at, angle, length, c.normal() * 0.12 + 0.3 * self.fall * length / self.reach)
            along = np.linspace(0, 1, len(points))
            if self.kind == "forked":
                shape = 1 - 0.9 * along**self.taper
            else:
                shape = (1 - along) ** self.fade if c.random() < 0.7 else np.sin(np.pi * np.clip(along, 0.1, 1)) ** 0.5
            streak = self.canvas.add(points, bright * c.uniform(0.2, 1.0) * shape, 1 if tier == 1 else 2)
            self.bursts[number]["streaks"].append(streak)
            if tier < 3 and c.random() < self.again / len(angles) * (2 if tier == 1 else 1):
                self.burst(points[-1], angle, carrier, tier + 1, number, bright * 0.8)

    def clutter(self):
        """What crosses the picture and is no spark."""
        c, (width, height) = self.c, self.size
        for _ in range(c.poisson(c.uniform(0, 12))):
            at = [c.uniform(0, width), c.uniform(0, height)]
            points = bent(at, c.uniform(-np.pi, np.pi), self.even(30, 600), c.normal() * 0.2)
            self.canvas.add(points, np.full(len(points), self.peak * self.even(0.05, 0.6)), c.integers(3))
        for _ in range(c.poisson(c.uniform(0, 15))):
            points = bent([c.uniform(0, width), c.uniform(0, height)], 0, 1, 0)
            self.canvas.add(points, np.full(len(points), self.peak * self.even(0.3, 3) * 2), c.integers(3))

    def ground(self):
        c, (width, height) = self.c, self.size
        y, x = np.mgrid[0:height, 0:width]
        level = self.even(0.0008, 0.08)
        waves = gaussian_filter(c.normal(size=(height // 8 + 1, width // 8 + 1)), c.uniform(2, 12))
        ground = level * np.exp(waves.repeat(8, 0).repeat(8, 1)[:height, :width] * c.uniform(0, 25))
        for _ in range(c.integers(0, 14)):  # things behind
            u, v, size, turn = c.uniform(0, width), c.uniform(0, height), self.even(10, 250), c.uniform(0, 3.2)
            along = (x - u) * np.cos(turn) + (y - v) * np.sin(turn)
            beside = (y - v) * np.cos(turn) - (x - u) * np.sin(turn)
            if c.random() < 0.6:
                part = (np.abs(along) < size) & (np.abs(beside) < size * c.uniform(0.1, 1))
            else:
                part = along**2 + beside**2 < size**2 * 0.3
            ground[part] *= self.even(0.3, 3)
        ground = gaussian_filter(ground, self.even(0.6, 6))
        if c.random() < 0.6:  # the wheel glows
            off = (x - self.contact[0]) ** 2 + (y - self.contact[1]) ** 2
            bright = self.peak * c.uniform(0, 0.5)
            ground = ground + bright * np.exp(-off / (2 * (c.uniform(0.02, 0.12) * self.reach) ** 2))
        for _ in range(c.integers(0, 4)):  # lamps
            u, v, size = c.uniform(0, width), c.uniform(0, height), self.even(4, 60)
            bright = self.peak * self.even(0.05, 2)
            ground = ground + bright * np.exp(-((((x - u) ** 2 + (y - v) ** 2) / size**2) ** c.uniform(0.7, 3)))
        return ground, level


def draw(kind, seed, folder):
    c = np.random.default_rng([{"forked": ord("b"), "swept": ord("c")}[kind], seed])
    stream = Stream(kind, c)
    stream.clutter()
    even, (width, height) = stream.even, stream.size
    light = stream.canvas.image(c.uniform(0, 0.25) if c.random() < 0.6 else 0)
    ground, level = stream.ground()
    y, x = np.mgrid[0:height, 0:width]
    if c.random() < 0.3:  # something dark in front
        u, v, size = c.uniform(0, width), c.uniform(0, height), even(30, 150)
        inside = (np.abs(x - u) < size) & (np.abs(y - v) < size * c.uniform(0.2, 1.5))
        cover = gaussian_filter(inside.astype(float), 1.5)
        light, ground = light * (1 - cover), ground * (1 - cover) + level * 0.3 * cover
    if c.random() < 0.3:  # out of focus
        sigma = even(0.4, 1.2)
        light, ground = gaussian_filter(light, sigma), gaussian_filter(ground, sigma)
    read, shot = even(0.0008, 0.005), even(0.002, 0.015)
    noise = lambda v: np.sqrt(read**2 + shot**2 * v)

    def seen(streak):
        points, own, step = stream.canvas.streaks[streak]
        column, row = points[:, 0].astype(int), points[:, 1].astype(int)
        inside = (points[:, 0] >= 0) & (column < width) & (points[:, 1] >= 0) & (row < height)
        column, row, own = column[inside], row[inside], own[inside] * KEPT
        own, behind = np.minimum(own, light[row, column]), ground[row, column]
        stands = np.minimum(1, own + behind) - np.minimum(1, behind) > CLEAR * noise(behind)
        return stands.sum() * step, (stands & (light[row, column] - own < 0.5 * own)).sum() * step

    is_inside = lambda p: bool(0 <= p[0] < width and 0 <= p[1] < height)
    carriers, bursts = [], []
    for number, streak in enumerate(stream.carriers):
        visible, apart = seen(streak)
        path = [[float(v) for v in p] for p in stream.canvas.streaks[streak][0][::10] if is_inside(p)]
        on_it = [k for k, b in enumerate(stream.bursts) if b["carrier"] == number and b["tier"] == 1]
        carriers.append(
            {"path": path, "length_px": visible, "whole_length_px": visible, "visible_px": visible, "apart_px": apart}
            | {"resolvable": bool(visible >= CARRIER_PX and apart > visible / 2), "cut_by_frame": False, "bursts": on_it}
        )
    for burst in stream.bursts:
        rays = [r for r in map(seen, burst["streaks"]) if r[0] >= RAY_PX]
        apart, inside = int(sum(r[1] >= RAY_PX for r in rays)), is_inside(burst["at"])
        bursts.append(
            {"at": [float(v) for v in burst["at"]], "carrier": burst["carrier"], "tier": burst["tier"]}
            | {"parent": burst["parent"], "rays": len(burst["streaks"]), "rays_visible": len(rays), "rays_apart": apart}
            | {"mean_ray_px": float(np.mean([r[0] for r in rays])) if rays else 0.0, "in_shutter": True}
            | {"visible": bool(rays) and inside, "resolvable": apart >= 2 and inside}
        )
    tint = np.array([1.0, c.uniform(0.5, 0.9), c.uniform(0.1, 0.6)])
    grey = np.array([1, c.uniform(0.85, 1.05), c.uniform(0.7, 1.2)])
    rgb = light[..., None] * tint / (tint @ np.array([0.5, 0.4, 0.1])) + ground[..., None] * grey
    rgb = np.clip(rgb + c.normal(size=rgb.shape) * noise(np.clip(rgb, 0, 1)), 0, 1)
    rgb = np.where(rgb < 0.0031308, 12.92 * rgb, 1.055 * rgb ** (1 / 2.4) - 0.055)
    if c.random() < 0.3:
        rgb = np.clip(rgb, 0, 1) ** even(0.8, 1.25)
    name = f"{kind}{seed}"
    pixels = (np.clip(rgb, 0, 1) * 255 + 0.5).astype(np.uint8)
    Image.fromarray(pixels).save(folder / f"{name}.jpg", quality=int(c.integers(75, 97)))
    truth = {"file": f"{name}.jpg", "seed": seed, "kind": "usable", "carbon_wt_pct": None, "rig": "simple", "conditions": {}}
    truth |= {"width": width, "height": height, "px_per_mm": None, "shutter_s": None, "line_width_px": stream.line}
    truth |= {"contact": [float(v) for v in stream.contact], "direction_deg": None, "opening_deg": None}
    (folder / f"{name}.json").write_text(json.dumps(truth | {"carriers": carriers, "bursts": bursts}))


if __name__ == "__main__":
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    for kind in ("forked", "swept"):
        for seed in range(int(sys.argv[2]), int(sys.argv[3]) + 1):
            draw(kind, seed, folder)
