"""How the broken surface of a coupon is: its relief, and the grains and shine of core and case."""

from dataclasses import dataclass

TORN, CRYSTAL, MIXED, HARD = "torn", "crystal", "mixed", "hard"


@dataclass
class Relief:
    """Heights are in mm."""

    outline: float  # how far the outline is from straight
    high: float  # how high the whole surface goes up and down
    ridges: float  # ridges that run out from where the crack began: for a radian
    ridge_height: float
    case_raised: float  # how much higher the core is than the case
    lean: float  # how much the case leans, slope
    hollows: float  # how much darker hollows are, for a mm
    patches: float  # how uneven the light is, share
    soft_middle: float  # how much of a core is left in a face that is case all through


@dataclass
class Look:
    """Grains are in mm, strengths are slopes."""

    core: str
    core_grain: float
    core_strength: float
    core_roughness: float  # how wide a crystal facet shines
    case_grain: float
    case_strength: float
    case_roughness: float
    case_tint: tuple  # red, green and blue added to the colour of steel
    case_is_coarse: bool = False
    contrast: float = 0.0  # light of the case beside that of the core, natural logarithm
    difficulty: int = 1  # 1 to 3, how hard the border is to see


def drawn_relief(section, chance):
    """A relief by chance."""
    return Relief(
        outline=chance.uniform(0.005, 0.026),
        high=chance.uniform(0.06, 0.28) * (section.thickness / 8),
        ridges=chance.uniform(8, 22),
        ridge_height=chance.uniform(0.003, 0.028),
        case_raised=chance.uniform(-0.04, 0.07),
        lean=chance.uniform(0.0, 0.18),
        hollows=chance.uniform(5, 12),
        patches=chance.uniform(0.03, 0.12),
        soft_middle=chance.uniform(0, 0.6),
    )


def drawn_look(name, chance):
    """Grains and shine that the name of a kind asks for."""
    look = Look(
        core=TORN,
        core_grain=chance.uniform(0.05, 0.105),
        core_strength=chance.uniform(0.6, 1.0),
        core_roughness=chance.uniform(0.2, 0.3),
        case_grain=chance.uniform(0.016, 0.034),
        case_strength=chance.uniform(0.05, 0.13),
        case_roughness=chance.uniform(0.38, 0.5),
        case_tint=(chance.uniform(-0.03, 0.01), 0, chance.uniform(-0.01, 0.04)),
    )
    set_core(look, name, chance)
    set_contrast(look, name, chance)
    if "Coarse" in name:
        look.case_is_coarse = True
        look.case_grain = chance.uniform(0.13, 0.3)
        look.case_strength = chance.uniform(0.3, 0.5)
    return look


def set_core(look, name, chance):
    """The core that a kind has; a torn one if nothing is said."""
    if "Crystal" in name:
        look.core = CRYSTAL
        look.core_grain = chance.uniform(0.06, 0.15)
        look.core_strength = chance.uniform(0.34, 0.55)
    if "Mixed" in name:
        look.core = MIXED
    if "Hard" in name:
        look.core = HARD
        look.core_grain = chance.uniform(0.07, 0.13)
        look.core_strength = chance.uniform(0.22, 0.34)


def set_contrast(look, name, chance):
    """How light the case of a kind is beside its core."""
    if name.startswith("Light"):
        look.contrast = chance.uniform(0.3, 0.8)
    if name.startswith("Dark"):
        look.contrast = -chance.uniform(0.3, 0.8)
    if name.startswith("Even"):
        look.contrast = chance.uniform(-0.1, 0.1)
        look.difficulty = 2
    if name.startswith("Faint"):
        look.contrast = chance.choice([-1, 1]) * chance.uniform(0.2, 0.34)
        look.difficulty = 3


def is_hard_to_see(name):
    return name.startswith(("Even", "Faint"))
