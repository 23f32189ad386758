"""Fingers, seen from above: rods with round ends."""

from typing import NamedTuple

import cv2
import numpy as np

from .planes import SINGLE, blurred, coloured, inked, mixed, places, rise, shifted

SKINS = [(0.56, 0.37, 0.30), (0.44, 0.28, 0.215), (0.27, 0.165, 0.125), (0.6, 0.43, 0.36)]
ROOT, TIP = 1.12, 0.93  # how thick a finger is there, share of its radius
CREASES = (0.45, 0.5, 0.56)  # where a finger bends, share of its length


class Rod(NamedTuple):
    """Where places are from a rod with round ends: all in px but the first three, which are shares of its radius."""

    off: np.ndarray  # how far from its middle line
    right: np.ndarray  # the way there
    down: np.ndarray
    along: np.ndarray
    across: np.ndarray
    length: float
    direction: np.ndarray


def rod(shape, start, end, start_radius, end_radius):
    """A rod from one place to another."""
    x, y = places(*shape[:2])
    direction = np.subtract(end, start)
    length = np.hypot(*direction)
    direction = direction / length
    from_x = x - start[0]
    from_y = y - start[1]
    along = from_x * direction[0] + from_y * direction[1]
    share = np.clip(along / length, 0, 1)
    radius = start_radius + (end_radius - start_radius) * share
    off_x = from_x - share * length * direction[0]
    off_y = from_y - share * length * direction[1]
    across = -from_x * direction[1] + from_y * direction[0]
    return Rod(np.hypot(off_x, off_y) / radius, off_x / radius, off_y / radius, along, across, length, direction)


def skin(finger, radius, light, noise):
    """The colour of a finger: creases where it bends, and soot."""
    along, across = finger.along, finger.across
    size = radius * 0.5
    colour = coloured(SKINS[light.skin]) * inked(1 + 0.12 * noise.layered(along / size, across / size, 4))
    for share in CREASES:
        from_crease = along - finger.length * share + 0.12 * radius * np.sin(across / radius * 2)
        crease = np.exp(-((from_crease / (radius * 0.035)) ** 2)) * 0.35
        colour = colour * (1 - inked(crease))
    size = radius * 0.7
    soot = inked(rise(noise.layered(along / size, across / size, 5, 0.65), 0.2, 2.6)) * 0.55
    return colour * (1 - soot)


def shadowed(picture, finger, radius, light):
    """The shadow of a finger on what is under it; changes the picture."""
    shadow = blurred((finger.off < 1.05).astype(SINGLE), radius * 0.25)
    right, down = -light.towards[0] * radius * 0.5, -light.towards[1] * radius * 0.5
    shadow = shifted(shadow, right, down, borderMode=cv2.BORDER_REPLICATE)
    picture *= inked(1 - 0.5 * shadow * (1 - light.soft * 0.5))


def with_finger(picture, root, tip, radius, light, noise):
    """The picture with a finger in it; places and radius in px."""
    picture = picture.astype(SINGLE)
    finger = rod(picture.shape, root, tip, radius * ROOT, radius * TIP)
    along, across, lamp = finger.along, finger.across, light.towards
    uneven = 0.04 * noise.smooth(along / radius, across / radius * 0.3)
    cover = 1 - rise(finger.off + uneven, 1 - 2.5 / radius, 1.0)
    high = np.sqrt(np.clip(1 - (finger.off * 0.98) ** 2, 0.02, 1))
    wrinkle_x, wrinkle_y = along / (radius * 0.12), across / (radius * 0.3)
    right = finger.right + 0.10 * noise.layered(wrinkle_x, wrinkle_y, 4, 0.7)
    down = finger.down + 0.10 * noise.layered(wrinkle_x, wrinkle_y, 4, 0.7)
    length = np.sqrt(right * right + down * down + high * high)
    right, down, up = right / length, down / length, high / length
    lit = np.clip((right * lamp[0] + down * lamp[1] + up * lamp[2]) * 0.85 + 0.15, 0, 1)
    colour = skin(finger, radius, light, noise)
    level = lit * (1.5 - light.soft) + 0.3 + light.soft * 0.6 * up
    facing = np.clip(right * lamp[0] + down * lamp[1] + up * (1 + lamp[2]), 0, 9)
    grease = inked(np.clip(facing / 1.7, 0, 1.1)) ** 14
    shadowed(picture, finger, radius, light)
    return mixed(picture, colour * inked(level) + 0.05 * grease, inked(cover))
