"""All that is decided of a coupon before it is drawn: form, case, look, what was done to it and what lies on it."""

from dataclasses import dataclass

import numpy as np

from .carbon import Case, drawn_case
from .dirt import drawn_dirt
from .kinds import ALL_ROUND, PARTIAL, THROUGH, Kind
from .look import Look, Relief, drawn_look, drawn_relief, is_hard_to_see
from .marks import Chip, Nick, drawn_chip, drawn_lips, drawn_nick
from .section import OUTWARDS, Section, drawn_section

WALLS = ["scale", "scale", "ground"]  # how the sides of the bar are, below the face


@dataclass
class Coupon:
    """A coupon that was snapped."""

    kind: Kind
    section: Section
    case: Case
    relief: Relief
    look: Look
    nick: Nick | None
    origin: list  # where the crack began, mm
    lips: list
    chip: Chip | None
    dirt: list  # sorts and how much there is of each
    wall: str

    @property
    def has_border(self):
        """Whether there are both case and core."""
        return self.kind.where in (ALL_ROUND, PARTIAL)

    @property
    def is_through(self):
        """Whether all of it is case."""
        return self.kind.where == THROUGH


def origin_of(section, nick, chance):
    """Where the crack began: at the nick, else anywhere near the outline."""
    width, height = section.size
    if nick is None:
        turn = chance.uniform(0, 6.28)
        return [width * 0.55 * np.cos(turn), height * 0.55 * np.sin(turn)]
    if section.is_round:
        reach = section.thickness / 2 - nick.depth
        return [np.cos(nick.turn) * reach, np.sin(nick.turn) * reach]
    right, down = OUTWARDS[nick.side]
    return [right * width / 2, down * height / 2]


def drawn_coupon(kind, chance):
    """A coupon of a kind, by chance."""
    section = drawn_section(kind.shape, chance)
    case = drawn_case(section, kind.where, chance)
    relief = drawn_relief(section, chance)
    look = drawn_look(kind.look, chance)
    if is_hard_to_see(kind.look):  # with wide borders and patches nobody could
        case.transition = min(case.transition, 0.3)
        relief.patches = chance.uniform(0.02, 0.05)
    nick = drawn_nick(section, case, kind, chance) if kind.nicked else None
    origin = origin_of(section, nick, chance)
    lips = drawn_lips(section, case, kind, nick, chance)
    chip = drawn_chip(section, chance)
    dirt = drawn_dirt(chance)
    wall = chance.choice(WALLS)
    chance.uniform()  # one more number is drawn than is used: what comes after depends on it
    if kind.is_rod:
        case.uneven = chance.uniform(0.25, 0.5)
    return Coupon(kind, section, case, relief, look, nick, origin, lips, chip, dirt, wall)
