"""Pictures of a coupon whose face can be measured."""

import numpy as np

from .camera import placed
from .coupon import drawn_coupon
from .face import drawn_face
from .kinds import kind_of
from .light import drawn_light
from .noise import Noise
from .phone import drawn_phone, photo
from .scene import drawn_scene
from .truth import truth_of

LEVEL = (0.13, 0.26)  # how light the face may be


def blur_of(scene, coupon, camera, chance):
    """How far each pixel is out of focus, px: more towards one side."""
    turn = chance.uniform(0, 6.28)
    least = chance.uniform(0.45, 1.1) * np.clip(camera.px_per_mm() / 45, 0.7, 1.6)
    growing = chance.uniform(0, 0.9)
    x, y = scene.grid
    along = (x * np.cos(turn) + y * np.sin(turn)) / (max(coupon.section.size) * 0.6)
    return least * np.sqrt(1 + (growing * (along - chance.uniform(-0.6, 0.6)) * 1.6) ** 2)


def told_conditions(coupon, light, scene, phone):
    """Under what conditions a face was taken, and what was asked of it."""
    return {
        "background": scene.surroundings,
        "light": light.kind,
        "light_azimuth_deg": float(np.rad2deg(light.azimuth)),
        "light_height_deg": float(np.rad2deg(light.height)),
        "soft": light.soft,
        "contrast_log": float(coupon.look.contrast),
        "transition_share": coupon.case.transition,
        "core": coupon.look.core,
        "dirt": coupon.dirt,
        "nominal_depth_mm": coupon.case.depth,
        "camera": phone.told(),
    }


def usable_picture(seed):
    """A photo of a face, and what is true of it."""
    kind = kind_of(seed)
    chance = np.random.default_rng(seed * 7 + 3)
    coupon = drawn_coupon(kind, chance)
    noise = Noise(chance)
    light = drawn_light(chance)
    camera, held = placed(coupon, chance)
    face = drawn_face(coupon, camera, light, noise, chance)
    face.level = chance.uniform(*LEVEL)
    scene = drawn_scene(coupon, face, camera, light, noise, chance)
    phone = drawn_phone(light, chance)
    taken = photo(scene.picture, phone, blur_of(scene, coupon, camera, chance), chance)
    return taken, phone, {
        "usable": True,
        "kind": kind.name,
        "difficulty": int(coupon.look.difficulty),
        "face": truth_of(coupon, camera, face),
        "conditions": held | told_conditions(coupon, light, scene, phone),
    }
