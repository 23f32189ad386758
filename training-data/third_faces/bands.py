"""Lips, the wall of the nick and a chip, laid over the surface of a face."""

import numpy as np

from .planes import SINGLE, angle_between, blurred, rise, slopes
from .relief import Finish
from .section import OUTWARDS, is_horizontal

LIP = Finish(0.42, 0.5, 0.3)
NICK = Finish(0.33, 0.3, 0.35)
NARROWEST_MM = 0.06  # a lip is not seen where it is narrower
CHIP_DEPTH_MM = 1.5


def lip_along_arc(lip, section, plane, outline):
    """Of a lip on a round section: its width, how far in a place is, how far along, and which way is outwards."""
    turn = np.arctan2(plane.y, plane.x)
    away = angle_between(turn, lip.middle)
    width = lip.width * rise(lip.half - away, 0, lip.half * 0.6)
    radius = np.hypot(plane.x, plane.y) + 0.01
    return width, -outline.formed, turn * section.size[0] / 2, (plane.x / radius, plane.y / radius)


def lip_along_side(lip, section, plane):
    """The same of a lip along a side."""
    inward = section.from_sides(plane.x, plane.y)[lip.side]
    along = plane.x if is_horizontal(lip.side) else plane.y
    share = along / section.length(lip.side) + 0.5
    begun = rise(share, lip.first, lip.first + 0.15)
    width = lip.width * begun * (1 - rise(share, lip.last - 0.15, lip.last))
    return width, inward, along, OUTWARDS[lip.side]


def lay_lip(surface, lip, section, plane, outline, waves, noise):
    """Lays a lip over the surface: smooth, slanted and streaked; returns its share of each place."""
    x, y = plane.x, plane.y
    if section.is_round:
        width, inward, along, outwards = lip_along_arc(lip, section, plane, outline)
    else:
        width, inward, along, outwards = lip_along_side(lip, section, plane)
    width = width * (1 + 0.3 * noise.layered(along / 0.9, along * 0 + 3, 3)) + 0.05 * noise.smooth(x / 0.25, y / 0.25)
    share = rise(width - inward, -0.02, 0.03) * (width > NARROWEST_MM)
    streaks = noise.smooth(along / 0.06, inward / 1.2) * 0.09 + noise.smooth(along / 0.2, inward / 1.5) * 0.1
    rough_right = 0.07 * noise.smooth(x / 0.05, y / 0.05)
    rough_down = 0.07 * noise.smooth(x / 0.05, y / 0.05)
    right = -lip.slope * outwards[0] + streaks * abs(outwards[1]) + rough_right
    down = -lip.slope * outwards[1] + streaks * abs(outwards[0]) + rough_down
    height = lip.slope * (inward - width) * -1 + waves
    surface.cover(share, height, right, down, LIP, lip.tone)
    return share


def nick_places(nick, section, plane):
    """How far in from the nicked side each place is, how far along, and which way is inwards."""
    x, y = plane.x, plane.y
    if section.is_round:
        c, s = np.cos(nick.turn), np.sin(nick.turn)
        return section.size[0] / 2 + (x * c + y * s) * -1, -x * s + y * c, (-c, -s)
    right, down = OUTWARDS[nick.side]
    inward = section.from_sides(x, y)[nick.side]
    return inward, (x if is_horizontal(nick.side) else y), (-right, -down)


def lay_nick(surface, nick, section, plane, noise):
    """Lays the wall of the nick over the surface, scratched by the tool that cut it; returns its share of each place."""
    x, y = plane.x, plane.y
    inward, along, inwards = nick_places(nick, section, plane)
    ragged = 0.02 * noise.smooth(along / 1.4, along * 0)
    edge = nick.depth + ragged + 0.03 * noise.smooth(x / 0.12, y / 0.12) + nick.slant * along
    share = rise(edge - inward, -0.015, 0.02)
    c, s = np.cos(nick.scratch_turn), np.sin(nick.scratch_turn)
    phase = (inward * c + along * s) / nick.pitch
    deep = 0.28 * noise.smooth(phase, (along * c - inward * s) / 6)
    scratches = deep + 0.22 * noise.smooth(phase * 2.7, (along * c) / 3)
    right = scratches * inwards[0] + 0.03 * noise.smooth(x / 0.04, y / 0.04)
    down = scratches * inwards[1] + 0.03 * noise.smooth(x / 0.04, y / 0.04)
    surface.cover(share, nick.height, right, down, NICK, nick.tone)
    return share


def lay_bands(surface, coupon, plane, outline, waves, noise):
    """Lays all lips and the nick over the surface; returns the share of each."""
    section = coupon.section
    bands = [lay_lip(surface, lip, section, plane, outline, waves, noise) for lip in coupon.lips]
    if coupon.nick:
        bands.append(lay_nick(surface, coupon.nick, section, plane, noise))
    return bands


def hollow_chip(surface, plane, outline, noise):
    """Hollows out a chip, deepest at the formed outline; returns its share of each place."""
    if outline.from_chip is None:
        return np.zeros_like(plane.x)
    share = ((outline.from_chip < 0) & (outline.torn < 0.02)).astype(SINGLE)
    bottom = np.clip(outline.from_chip, -CHIP_DEPTH_MM, 0) * 1.1
    grain = 0.05 * noise.layered(plane.x / 0.3, plane.y / 0.3, 3).astype(SINGLE)
    right, down = slopes(blurred(bottom.astype(SINGLE) + grain, 1), plane.per_mm)
    surface.hollow(share, bottom - 0.1, right, down)
    return share
