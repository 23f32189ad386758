"""Lamps, windows and flashes, and how metal shines in them."""

from dataclasses import dataclass, replace

import cv2
import numpy as np

from .hands import SKINS
from .planes import SINGLE, rise, unit

TINTS = {"lamp": (1.25, 1.0, 0.68), "window": (0.93, 1.0, 1.12), "flash": (1, 1, 1.03), "mixed": (1.12, 1.0, 0.86)}
OFTEN = ["lamp", "lamp", "window", "window", "flash", "mixed"]
FAR_MM = 1.6  # how far shadows reach on a face
NEXT_STEP = 1.38  # each step towards the lamp is so much longer than the one before
BELOW_MM = -20  # height of what is beside the face and casts no shadow


@dataclass
class Light:
    """Light that falls on a scene; directions point towards where it comes from, z out of the face."""

    kind: str
    towards: np.ndarray
    soft: float  # share that comes from all around the lamp
    surroundings: list  # what mirrors in the metal: direction, narrowness, strength
    ambient: float
    tint: tuple
    azimuth: float  # radians
    height: float  # radians
    skin: int  # which skin hands have in this picture

    def half(self):
        """Half way from the lamp to straight up: how a place leans that mirrors the lamp upwards."""
        return unit(np.array(self.towards) + [0, 0, 1])

    def seen_by(self, camera):
        """The same light in the axes of the picture, for what is not drawn on the plane of the face."""
        flat = camera.rotation[:2, :2] @ self.towards[:2]
        return replace(self, towards=unit(np.r_[flat, self.towards[2]]))

    def on_slopes(self, right, down, up):
        """How squarely the lamp shines on places with such slopes, 0 to 1; `up` is the upward part of how they face."""
        return np.clip((-right * self.towards[0] - down * self.towards[1] + self.towards[2]) * up, 0, 1)


def direction(azimuth, height):
    return np.array([np.cos(azimuth) * np.cos(height), np.sin(azimuth) * np.cos(height), np.sin(height)])


def drawn_light(chance):
    """A light by chance."""
    kind = chance.choice(OFTEN)
    azimuth = chance.uniform(0, 6.28)
    height = np.deg2rad(chance.uniform(17, 45))
    soft = {
        "lamp": chance.uniform(0.05, 0.22),
        "window": chance.uniform(0.5, 0.72),
        "flash": 0.08,
        "mixed": chance.uniform(0.3, 0.45),
    }[kind]
    if kind == "flash":
        height = np.deg2rad(chance.uniform(62, 76))
    towards = direction(azimuth, height)
    surroundings = []
    for _ in range(chance.integers(2, 5)):
        high = chance.uniform(0.15, 1.3)
        around = chance.uniform(0, 6.28)
        surroundings.append((direction(around, high), chance.uniform(3, 14), chance.uniform(0.05, 0.3)))
    if soft > 0.25:
        surroundings.append((towards, chance.uniform(3, 7), 1.5 * soft))
    ambient = chance.uniform(0.1, 0.3)
    return Light(kind, towards, soft, surroundings, ambient, TINTS[kind], azimuth, height, int(chance.integers(len(SKINS))))


def highlight(right, down, up, half, roughness):
    """How strongly places that lean so mirror the lamp (the GGX distribution)."""
    c = np.clip(right * half[0] + down * half[1] + up * half[2], 0, 1)
    square = roughness * roughness
    spread = c * c * (square - 1) + 1
    return square / (np.pi * spread * spread)


def shine(slope_right, slope_down, finish, light, towards_camera):
    """Light that metal sends to the camera: from the lamp, and from all around it."""
    lamp = [float(part) for part in light.towards]
    camera = [float(part) for part in towards_camera]
    up = 1 / np.sqrt(slope_right * slope_right + slope_down * slope_down + 1)
    right, down = -slope_right * up, -slope_down * up
    lit = np.clip(right * lamp[0] + down * lamp[1] + up * lamp[2], 0, 1)
    half = [float(part) for part in unit(np.array(lamp) + np.array(camera))]
    glint = finish.gloss * highlight(right, down, up, half, finish.roughness) * lit * 1.1
    direct = finish.matt * lit + glint
    facing = right * camera[0] + down * camera[1] + up * camera[2]
    mirror = [2 * facing * part - seen for part, seen in zip((right, down, up), camera)]
    around = light.ambient * (0.55 + 0.45 * mirror[2])
    for towards, narrow, strength in light.surroundings:
        there = [float(part) for part in towards]
        off = mirror[0] * there[0] + mirror[1] * there[1] + mirror[2] * there[2] - 1
        around = around + float(strength) * np.exp(float(narrow) * off)
    return direct * (1 - light.soft), around


def seen_from(height, right, down):
    """Heights of what lies so many places away from each place."""
    move = np.array([[1, 0, right], [0, 1, down]], SINGLE)
    options = {"flags": cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP, "borderMode": cv2.BORDER_CONSTANT, "borderValue": BELOW_MM}
    return cv2.warpAffine(height, move, (height.shape[1], height.shape[0]), **options)


def unshadowed(height, light, per_mm):
    """Share of the lamp that reaches each place past what is higher."""
    right, down = light.towards[0], light.towards[1]
    flat = np.hypot(right, down) + 1e-9
    right /= flat
    down /= flat
    climb = light.towards[2] / flat
    hidden = np.zeros_like(height)
    distance = 1.0 / per_mm
    while distance < FAR_MM:
        there = seen_from(height, right * distance * per_mm, down * distance * per_mm)
        over = there - height - distance * climb
        hidden = np.maximum(hidden, over / (distance * (0.12 + light.soft) + 0.006))
        distance *= NEXT_STEP
    return 1 - rise(hidden, 0, 1)
