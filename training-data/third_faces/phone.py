"""What a phone makes of a scene: lens, sensor with noise, and the development of the picture to 8 bits."""

from dataclasses import dataclass

import cv2
import numpy as np

from .planes import SINGLE, blurred, inked, places

BLURS_PX = [0.45, 0.9, 1.6, 2.6]  # between which a picture is blurred by differing amounts
BRIGHT = 1.2  # light above this spreads over the lens
CLIPS = 1.35  # where the sensor is full, in white
WHITE, BLACK = 30000, 500  # steps of the 16-bit mosaic that is turned into colours


@dataclass
class Phone:
    """A phone and what it does to pictures."""

    vignette: float  # darker in the corners by this share
    flare: float  # stray light
    illuminant: list  # colour of the light
    balance: list  # what each colour is multiplied with
    full: float  # electrons at white
    read_noise: float  # electrons
    follows_edges: bool  # how colours are found between the places of the mosaic
    contrast: float
    smoothing: float
    sharpening: float
    sharp_radius: float  # px
    saturation: float
    quality: int  # of the JPEG

    def told(self):
        """As it stands in the truth."""
        return {
            "vig": self.vignette,
            "flare": self.flare,
            "illum": self.illuminant,
            "wb": self.balance,
            "full": self.full,
            "read": self.read_noise,
            "ea": self.follows_edges,
            "curve": self.contrast,
            "nr": self.smoothing,
            "sharp": self.sharpening,
            "srad": self.sharp_radius,
            "sat": self.saturation,
            "q": self.quality,
        }


def drawn_phone(light, chance):
    """A phone by chance; it takes away most of the colour of the light, not always all."""
    cast = chance.uniform(0.0, 0.5) if chance.random() < 0.7 else chance.uniform(0.5, 0.9)
    illuminant = np.array(light.tint)
    balance = 1 / illuminant ** (1 - cast)
    return Phone(
        vignette=float(chance.uniform(0.08, 0.45)),
        flare=float(chance.uniform(0, 0.015)),
        illuminant=illuminant.tolist(),
        balance=(balance / balance[1]).tolist(),
        full=float(chance.choice([900, 2500, 6000])),
        read_noise=float(chance.uniform(2, 6)),
        follows_edges=bool(chance.random() < 0.6),
        contrast=float(chance.uniform(0.1, 0.7)),
        smoothing=float(chance.uniform(0, 0.9)),
        sharpening=float(chance.uniform(0.2, 1.1)),
        sharp_radius=float(chance.uniform(0.8, 1.8)),
        saturation=float(chance.uniform(0.8, 1.2)),
        quality=int(chance.integers(62, 96)),
    )


def through_lens(picture, phone, blur):
    """The scene as the lens throws it on the sensor; `blur` of each pixel in px."""
    h, w = picture.shape[:2]
    x, y = places(h, w)
    off_axis = ((x - w / 2) ** 2 + (y - h / 2) ** 2) / (w * w / 4 + h * h / 4)
    picture = picture * inked(1 - phone.vignette * off_axis) + phone.flare
    picture = picture + 0.05 * blurred(np.clip(picture - BRIGHT, 0, 12).astype(SINGLE), 6)
    steps = range(len(BLURS_PX))
    step_of = np.interp(np.clip(blur, BLURS_PX[0], BLURS_PX[-1]), BLURS_PX, steps).astype(SINGLE)
    layers = [blurred(picture.astype(SINGLE), by) for by in BLURS_PX]
    total = np.zeros_like(picture)
    for step in steps:
        total += layers[step] * inked(np.clip(1 - np.abs(step_of - step), 0, 1))
    return total


def mosaic(red, green, blue):
    """Each pixel has one colour only: red and green in even rows, green and blue in odd ones."""
    plane = np.zeros(green.shape, SINGLE)
    plane[0::2, 0::2] = red[0::2, 0::2]
    plane[0::2, 1::2] = green[0::2, 1::2]
    plane[1::2, 0::2] = green[1::2, 0::2]
    plane[1::2, 1::2] = blue[1::2, 1::2]
    return plane


def sensed(picture, phone, chance):
    """What the sensor counts, with noise of light and of reading, turned back into colours."""
    light = np.clip(picture * np.array(phone.illuminant, SINGLE), 0, None)
    electrons = mosaic(*np.moveaxis(light, -1, 0)) * phone.full
    spread = np.sqrt(np.maximum(electrons, 0) + phone.read_noise**2)
    electrons = electrons + chance.standard_normal(electrons.shape).astype(SINGLE) * spread
    balance = mosaic(*(np.full(electrons.shape, part) for part in np.array(phone.balance, SINGLE)))
    counted = np.minimum(electrons / phone.full, CLIPS) * balance
    counted = np.clip(counted * WHITE + BLACK, 0, 65535).astype(np.uint16)
    how = cv2.COLOR_BayerBG2RGB_EA if phone.follows_edges else cv2.COLOR_BayerBG2RGB
    coloured = cv2.demosaicing(counted, how)
    return np.clip((coloured.astype(SINGLE) - BLACK) / WHITE, 0, 1)


def encoded(light):
    """Linear light as sRGB has it (IEC 61966-2-1)."""
    curved = 1.055 * np.power(np.maximum(light, 1e-6), 1 / 2.4) - 0.055
    return np.where(light <= 0.0031308, 12.92 * light, curved).astype(SINGLE)


def smoothed(picture, amount):
    """Without most of the noise: colours blurred, and light where it has no edges."""
    planes = cv2.cvtColor(np.clip(picture, 0, 1), cv2.COLOR_RGB2YCrCb)
    planes[..., 1] = blurred(planes[..., 1], 1.2 + 2 * amount)
    planes[..., 2] = blurred(planes[..., 2], 1.2 + 2 * amount)
    planes[..., 0] = cv2.bilateralFilter(planes[..., 0], 5, 0.03 + 0.09 * amount, 1.0 + amount)
    return cv2.cvtColor(planes, cv2.COLOR_YCrCb2RGB)


def developed(light, phone):
    """The picture in 8 bits as the phone makes it: more contrast, less noise, sharper, other colours."""
    picture = encoded(light)
    picture = picture + phone.contrast * (picture - 0.5) * picture * (1 - picture) * 2.4
    picture = smoothed(picture, phone.smoothing)
    picture = picture + phone.sharpening * (picture - blurred(picture, phone.sharp_radius))
    grey = picture.mean(-1, keepdims=True)
    picture = grey + (picture - grey) * phone.saturation
    return np.clip(picture * 255 + 0.5, 0, 255).astype(np.uint8)


def photo(picture, phone, blur, chance):
    """The photo of a scene in linear light."""
    return developed(sensed(through_lens(picture, phone, blur), phone, chance), phone)
