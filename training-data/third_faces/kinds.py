"""What kinds of faces there are and how often each comes.

A name tells how the case looks beside the core, and what the core is: `Light`, `Dark`, `Even` (as light as the core) and
`Faint` cases, coarse ones of overheated steel, cores torn, crystalline, mixed or hardened. A `Rod` is round and carburised
more on one side.
"""

from typing import NamedTuple

import numpy as np

ALL_ROUND, PARTIAL, NONE, THROUGH = "all_round", "partial", "none", "through"
SQUARE, RECTANGLE, ROUND = "square", "rectangle", "round"
TABLE_SEED = 4711  # the order of the table is the same for every picture
NICKED = 13  # so many of the table are nicked before they are snapped

# Where the case is, what the face looks like, how many of the table.
COUNTS = [
    (ALL_ROUND, "LightSilkCase-TornCore", 8),
    (ALL_ROUND, "DarkCase-CrystalCore", 7),
    (ALL_ROUND, "DarkCase-TornCore", 4),
    (ALL_ROUND, "LightCase-CrystalCore", 3),
    (ALL_ROUND, "LightCase-MixedCore", 3),
    (ALL_ROUND, "EvenCase-CrystalCore", 4),
    (ALL_ROUND, "EvenCase-TornCore", 3),
    (ALL_ROUND, "FaintCase-HardCore", 4),
    (PARTIAL, "LightSilkCase-TornCore", 5),
    (PARTIAL, "DarkCase-CrystalCore", 4),
    (PARTIAL, "DarkCase-TornCore", 2),
    (PARTIAL, "LightCase-MixedCore", 2),
    (PARTIAL, "EvenCase-CrystalCore", 2),
    (PARTIAL, "FaintCase-HardCore", 1),
    (NONE, "TornOnly", 3),
    (NONE, "CrystalOnly", 3),
    (NONE, "TornLip", 2),
    (NONE, "CrystalLip", 1),
    (NONE, "HardOnly", 2),
    (NONE, "MixedOnly", 1),
    (THROUGH, "ThroughSilk", 5),
    (THROUGH, "ThroughCoarse", 3),
    (ALL_ROUND, "LightCoarseCase-TornCore", 1),
    (ALL_ROUND, "DarkCoarseCase-TornCore", 1),
    (ALL_ROUND, "LightCoarseCase-CrystalCore", 1),
    (ALL_ROUND, "EvenCoarseCase-TornCore", 1),
    (ALL_ROUND, "RodLightCase-TornCore", 1),
    (ALL_ROUND, "RodDarkCase-CrystalCore", 1),
    (PARTIAL, "RodLightCase-TornCore", 1),
    (ALL_ROUND, "RodDarkCase-TornCore", 1),
]
SHAPES = {SQUARE: 28, RECTANGLE: 28, ROUND: 20}  # of all that are no rods


class Kind(NamedTuple):
    """What is asked of one face."""

    where: str  # where the case is
    name: str
    shape: str
    nicked: bool

    @property
    def is_rod(self):
        return self.name.startswith("Rod")

    @property
    def look(self):
        """The name without the shape in it."""
        return self.name.replace("Rod", "")


def table():
    """All kinds with their shapes, in a mixed order."""
    chance = np.random.default_rng(TABLE_SEED)
    looks = [(where, name) for where, name, count in COUNTS for _ in range(count)]
    shapes = [shape for shape, count in SHAPES.items() for _ in range(count)]
    chance.shuffle(shapes)
    shape_of = [ROUND if name.startswith("Rod") else shapes.pop() for _, name in looks]
    nicked = np.zeros(len(looks), bool)
    nicked[chance.permutation(len(looks))[:NICKED]] = True
    return [Kind(*looks[i], shape_of[i], bool(nicked[i])) for i in chance.permutation(len(looks))]


def kind_of(seed):
    """The kind of face that belongs to a seed."""
    kinds = table()
    return kinds[int(np.random.default_rng(seed).integers(len(kinds)))]
