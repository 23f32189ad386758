"""Marks of a coupon besides case and core: the nick it broke at, lips along its sides, and a chip.

Here they are decided; `bands.py` draws them. A lip is a smooth, slanted band that is neither case nor core.
"""

from dataclasses import dataclass

import numpy as np

from .kinds import ALL_ROUND, NONE, PARTIAL


@dataclass
class Nick:
    """The wall of a saw cut or file mark, from which the crack ran."""

    side: int
    depth: float  # mm
    turn: float  # where it is on a round section, radians
    slant: float  # slope of its lower edge
    pitch: float  # of its scratches, mm
    scratch_turn: float  # how far scratches are from running along it, radians
    height: float  # over the broken surface, mm
    tone: float


@dataclass
class Lip:
    """A lip along one side, or along an arc of a round section."""

    width: float  # mm
    slope: float
    tone: float
    side: int | None = None
    first: float | None = None  # where it begins and ends, share of the side
    last: float | None = None
    middle: float | None = None  # of its arc, radians
    half: float | None = None  # half of its arc, radians


@dataclass
class Chip:
    """What broke off at the outline."""

    x: float  # mm
    y: float
    radius: float


def drawn_nick(section, case, kind, chance):
    """A nick by chance; if the case is partial, where there is some."""
    side = 0 if section.is_round else int(chance.integers(4))
    depth = float(np.clip(float(chance.uniform(0.1, 0.2) * section.thickness), 0.5, 1.6))
    turn = chance.uniform(0, 6.28)
    slant = chance.uniform(-0.02, 0.02)
    pitch = chance.uniform(0.04, 0.12)
    scratch_turn = chance.normal(0, 0.06) if chance.random() < 0.6 else chance.uniform(-0.7, 0.7)
    height = chance.uniform(-0.5, 0.05)
    tone = chance.uniform(0.8, 1.6)
    if kind.where == PARTIAL and section.is_round:
        turn = case.bare_arc[0] + np.pi + chance.uniform(-0.7, 0.7)
    if kind.where == PARTIAL and not section.is_round:
        side = case.cased_sides()[0]
    return Nick(side, depth, turn, slant, pitch, scratch_turn, height, tone)


def drawn_lips(section, case, kind, nick, chance):
    """Lips by chance: mostly where there is no case."""
    if kind.where in (NONE, PARTIAL) and ("Lip" in kind.look or chance.random() < 0.3):
        if section.is_round:
            return [lip_of_arc(section, case, kind, chance)]
        return lips_of_bare_sides(section, case, kind, nick, chance)
    if chance.random() < 0.1 and kind.where == ALL_ROUND and not section.is_round:
        side = int(chance.integers(4))
        if nick is None or side != nick.side:
            return [lip_within_case(side, case, chance)]
    return []


def lip_of_arc(section, case, kind, chance):
    middle = case.bare_arc[0] if case.bare_arc else chance.uniform(0, 6.28)
    return Lip(
        middle=middle,
        half=chance.uniform(0.6, 1.3) if kind.where == NONE else 0.55 * case.bare_arc[1],
        width=chance.uniform(0.06, 0.12) * section.thickness,
        slope=drawn_slope(chance),
        tone=chance.uniform(0.75, 1.4),
    )


def lips_of_bare_sides(section, case, kind, nick, chance):
    """One or two lips, none beside the nick."""
    nicked = nick.side if nick else None
    bare = [side for side in range(4) if (case.of_sides[side] == 0 or kind.where == NONE) and side != nicked]
    if not bare:
        return []
    sides = chance.permutation(bare)
    return [
        Lip(
            side=int(side),
            first=chance.uniform(-0.1, 0.12),
            last=chance.uniform(0.88, 1.1) if kind.where == NONE else chance.uniform(0.5, 0.75),
            width=chance.uniform(0.06, 0.15) * section.thickness,
            slope=drawn_slope(chance),
            tone=chance.uniform(0.75, 1.4),
        )
        for side in sides[: chance.integers(1, 3)]
    ]


def lip_within_case(side, case, chance):
    """A lip narrower than the case is deep, which hides a part of it."""
    return Lip(
        side=side,
        first=chance.uniform(0.1, 0.5),
        last=chance.uniform(0.7, 0.95),
        width=chance.uniform(0.4, 0.9) * case.depth,
        slope=drawn_slope(chance),
        tone=chance.uniform(0.8, 1.3),
    )


def drawn_slope(chance):
    return chance.choice([-1, 1]) * chance.uniform(0.4, 0.8)


def drawn_chip(section, chance):
    """A chip at a corner, or anywhere on a round outline; mostly none."""
    if chance.random() >= 0.2:
        return None
    radius = chance.uniform(0.06, 0.12) * section.thickness
    if section.is_round:
        turn = chance.uniform(0, 6.28)
        return Chip(np.cos(turn) * section.thickness / 2, np.sin(turn) * section.thickness / 2, radius)
    corner = section.corners()[chance.integers(4)].tolist()
    return Chip(corner[0] * chance.uniform(0.95, 1), corner[1] * chance.uniform(0.95, 1), radius)
