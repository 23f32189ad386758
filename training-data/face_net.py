"""Fits the network that tells face from ground and case from core (`models/face-net.toml`), and writes what it says of
made-up planes (`tests/reference/face_net.csv`), to which the program is held.

    python3 face_net.py FOLDER      # of what face_views.py and other_faces.py wrote
    python3 face_net.py --table     # the table alone, from the network as it ships

Needs NumPy and PyTorch. Each look turns, mirrors, scales, brightens, shades, blurs, roughens and covers a picture anew: the
network will see other photos than those it learned from. Seeds are fixed; other builds of PyTorch may still give weights
that differ in the last figures.
"""

import math
import sys
import tomllib
from pathlib import Path

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

HERE = Path(__file__).resolve().parent
MODEL = HERE.parent / "models" / "face-net.toml"
TABLE = HERE.parent / "tests" / "reference" / "face_net.csv"

SHOWN, SAID = 5, 4
PLANES = [16, 24, 32, 48, 48]  # that the first layers give, then each step down
SIDE = 256  # of what is looked at, places
# Steps and first rate of each run. For the shipped weights each step was the mean of two workers with twelve looks each,
# the first run threw no shadows, and the last saw other pictures (README.md).
RUNS, BATCH = [(8770, 4e-3), (6425, 2.5e-3), (4766, 2e-3)], 24
FLAT = 0.6  # share of looks at faces laid flat
NEARER = 0.35  # share of the other looks that go to a part of the photo
# As in src/fracture/measured/sight.rs.
SHADES, LEAST_SPREAD = 12, 0.15
# Pictures without a face: of the other kinds that must be refused the program says better what is wrong with them.
EMPTY = {"NoFace", "Coin", "Washer", "Stone", "Gravel"}
UNKNOWN, FACE, NEITHER = 255, 3, 4


class Convolved(nn.Module):
    """A convolution, normalised over the batch while it is fitted, then rectified."""

    def __init__(self, seen, given, stride=1):
        super().__init__()
        self.sums = nn.Conv2d(seen, given, 3, stride, 1, bias=False)
        self.normal = nn.BatchNorm2d(given, momentum=0.03)

    def forward(self, x):
        return F.relu(self.normal(self.sums(x)))

    def plain(self):
        """Weights and bias that do the same without normalising."""
        by = self.normal.weight / torch.sqrt(self.normal.running_var + self.normal.eps)
        return self.sums.weight * by[:, None, None, None], self.normal.bias - self.normal.running_mean * by


class Net(nn.Module):
    def __init__(self):
        super().__init__()
        pairs = list(zip(PLANES, PLANES[1:]))
        self.first = nn.ModuleList([Convolved(SHOWN, PLANES[0], 2), Convolved(PLANES[0], PLANES[0])])
        self.down = nn.ModuleList(nn.ModuleList([Convolved(a, b), Convolved(b, b)]) for a, b in pairs)
        self.up = nn.ModuleList(Convolved(b + a, a) for a, b in reversed(pairs))
        self.answer = nn.Conv2d(PLANES[0], SAID, 1)

    def forward(self, x):
        x = self.first[1](self.first[0](x))
        passed = []
        for first, second in self.down:
            passed.append(x)
            x = second(first(F.max_pool2d(x, 2)))
        for up in self.up:
            x = up(torch.cat([F.interpolate(x, scale_factor=2, mode="nearest"), passed.pop()], 1))
        return self.answer(x)

    def layers(self):
        """In the order of the file."""
        convolved = [*self.first, *(c for pair in self.down for c in pair), *self.up]
        return [c.plain() for c in convolved] + [(self.answer.weight, self.answer.bias)]


def read(folder):
    """Pictures: planes and what is true, of the photo and of the face laid flat (or none)."""
    pictures = []
    for path in sorted(Path(folder).glob("*.npz")):
        file = np.load(path)
        if "flat" not in file and str(file["kind"]) not in EMPTY:
            continue
        view = lambda name: (
            torch.from_numpy(file[name].transpose(2, 0, 1).copy()),
            torch.from_numpy(file[name + "_is"].copy()),
        )
        pictures.append((view("photo"), view("flat") if "flat" in file else None))
    return pictures


def look(picture, chance):
    """One look at a picture: what the network is shown, and what is true."""
    photo, flat = picture
    laid_flat = flat is not None and chance.random() < FLAT
    planes, is_ = flat if laid_flat else photo
    h, w = is_.shape
    if laid_flat:
        long, turn, off = chance.uniform(230, 420), 90 * chance.integers(4) + chance.normal(0, 4), 0.04
    else:
        long, turn, off = chance.uniform(180, 300), chance.uniform(0, 360), 0.08
    middle = w / 2 + chance.normal(0, off) * w, h / 2 + chance.normal(0, off) * h
    if not laid_flat and chance.random() < NEARER:
        long, middle = chance.uniform(300, 650), (chance.uniform(0.25, 0.75) * w, chance.uniform(0.25, 0.75) * h)
        on = torch.nonzero((is_ > 0) & (is_ != UNKNOWN))
        if len(on) and chance.random() < 0.7:
            middle = tuple(on[chance.integers(len(on))].flip(0).numpy() + chance.normal(0, 15, 2))
    stretch = math.exp(chance.normal(0, 0.06))
    by, c, s = max(h, w) / long, math.cos(math.radians(turn)), math.sin(math.radians(turn))
    flip = -1 if chance.random() < 0.5 else 1
    to = np.array([[c * flip * stretch, -s / stretch], [s * flip * stretch, c / stretch]]) * by
    if chance.random() < 0.5:
        to[:, 1] += chance.normal(0, 0.06) * to[:, 0]
    y, x = torch.meshgrid(*[torch.arange(SIDE) - SIDE / 2 + 0.5] * 2, indexing="ij")
    u = to[0, 0] * x + to[0, 1] * y + middle[0]
    v = to[1, 0] * x + to[1, 1] * y + middle[1]
    grid = torch.stack([u / w * 2 - 1, v / h * 2 - 1], -1)[None].float()
    planes = F.grid_sample(planes[None].float(), grid, align_corners=False, padding_mode="border")[0]
    inside = (u > 0) & (u < w) & (v > 0) & (v < h)
    is_ = F.grid_sample(is_[None, None].float(), grid, mode="nearest", align_corners=False)[0, 0].long()
    is_[~inside] = UNKNOWN
    return shown(changed(planes, chance), inside), is_


def shown(planes, inside):
    """As the program shows it: light by its spread, all else about its mean."""
    n = inside.float()
    mean = lambda p: (p * n).sum() / n.sum().clamp(min=1)
    light, warm, cold, fine, coarser = (p - mean(p) for p in planes)
    spread = torch.sqrt(mean(light**2)).clamp(min=LEAST_SPREAD)
    return torch.stack([light / spread, warm * SHADES, cold * SHADES, fine, coarser]) * n


def changed(planes, chance):
    """Planes as other lamps, cameras and hands might show them."""
    normal = lambda spread: float(chance.normal(0, spread))
    rough = lambda most: torch.randn(SIDE, SIDE) * abs(normal(most))
    y, x = torch.meshgrid(*[torch.linspace(-1, 1, SIDE)] * 2, indexing="ij")
    light, warm, cold, *swings = planes
    light = light * math.exp(normal(0.2))
    if chance.random() < 0.6:
        light = light + normal(0.35) * x + normal(0.35) * y
    if chance.random() < 0.3:
        a, b, wide = chance.uniform(-1, 1), chance.uniform(-1, 1), chance.uniform(0.3, 1)
        light = light + normal(0.5) * torch.exp(-((x - a) ** 2 + (y - b) ** 2) / (2 * wide**2))
    if chance.random() < 0.4:  # what stands up throws a shadow, or a broken rim leans to or from the lamp
        for _ in range(chance.integers(1, 4)):
            turn, deep = chance.uniform(0, 2 * math.pi), normal(0.4)
            off = math.cos(turn) * x + math.sin(turn) * y - chance.uniform(-0.7, 0.7) + normal(0.05) * torch.sin(normal(9) * (x + y))
            if chance.random() < 0.5:
                light = light + deep * torch.sigmoid(off / chance.uniform(0.005, 0.06))
            else:
                light = light + deep * torch.exp(-(off**2) / (2 * chance.uniform(0.02, 0.12) ** 2))
    if chance.random() < 0.4:
        k = int(chance.choice([3, 3, 5]))
        light = F.avg_pool2d(light[None, None], k, 1, k // 2)[0, 0]
    if chance.random() < 0.5:
        light = light + rough(0.1)
    if chance.random() < 0.25:  # a grey picture
        warm, cold = torch.zeros_like(warm), torch.zeros_like(cold)
    else:
        warm, cold = warm + normal(0.02) * y + rough(0.004), cold + normal(0.02) * x + rough(0.004)
        by = math.exp(normal(0.4))
        warm, cold = (warm - warm.mean()) * by, (cold - cold.mean()) * by
    for k, swing in enumerate(swings):
        if chance.random() < 0.5:  # noise of the picture beneath them
            swing = 0.5 * torch.log(torch.exp(2 * swing) + math.exp(2 * chance.uniform(-7, -3)))
        swing = swing * math.exp(normal(0.15)) + rough(0.1)
        swings[k] = torch.full_like(swing, swing.mean()) if chance.random() < 0.12 else swing
    planes = torch.stack([light, warm, cold, *swings])
    if chance.random() < 0.25:  # something lies over it
        for _ in range(chance.integers(1, 4)):
            h, w = chance.integers(4, 40, 2)
            top, left = chance.integers(0, SIDE - h), chance.integers(0, SIDE - w)
            for plane in planes:
                plane[top : top + h, left : left + w] = plane.mean() + normal(0.5) * plane.std()
    return planes


def loss_of(said, is_):
    """How much was not expected; where only the face is known, all but the ground is right."""
    is_ = is_[:, ::2, ::2]
    said = F.log_softmax(said, 1)
    which = torch.where(is_ == NEITHER, SAID - 1, is_.clamp(0, 2))
    one = -said.gather(1, which[:, None])[:, 0]
    face = -torch.logsumexp(said[:, 1:], 1)
    known = (is_ != UNKNOWN).float()
    return (torch.where(is_ == FACE, face, one) * known).sum() / known.sum()


def fit(folder):
    torch.manual_seed(1)
    torch.set_flush_denormal(True)
    chance = np.random.default_rng(1)
    pictures = read(folder)
    net = Net().to(memory_format=torch.channels_last)
    for steps, rate in RUNS:
        run(net, pictures, steps, rate, chance)
    return net.eval()


def run(net, pictures, steps, rate, chance):
    optimiser = torch.optim.AdamW(net.parameters(), rate, weight_decay=1e-3)
    total = 0.0
    for step in range(steps):
        for group in optimiser.param_groups:
            group["lr"] = rate * min(1, step / 200) * 0.5 * (1 + math.cos(math.pi * step / steps)) + 1e-5
        looks = [look(pictures[chance.integers(len(pictures))], chance) for _ in range(BATCH)]
        seen = torch.stack([l[0] for l in looks]).to(memory_format=torch.channels_last)
        loss = loss_of(net(seen), torch.stack([l[1] for l in looks]))
        optimiser.zero_grad()
        loss.backward()
        nn.utils.clip_grad_norm_(net.parameters(), 1.0)
        optimiser.step()
        total += loss.item()
        if step % 100 == 99:
            print(step + 1, total / 100, flush=True)
            total = 0.0


def write(net):
    numbers = lambda values: "[" + ", ".join(f"{v:.4g}" for v in values.flatten().tolist()) + "]"
    text = (
        "# The network that tells face from ground, case from core, and lips from both on a photo of a fracture face:\n"
        "# see src/fracture/measured/sight.rs. Fitted by training-data/face_net.py on drawn pictures; figures in\n"
        "# tests/face_photos/README.md. Status of every number: computed.\n"
        f'format = "snapspark u-net"\nversion = 1\nstride = 2\nplanes = {PLANES}\n'
    )
    for weights, bias in net.layers():
        text += f"\n[[layer]]\nbias = {numbers(bias)}\nweights = {numbers(weights)}\n"
    MODEL.write_text(text)


def shipped():
    """What the network as it ships says of planes."""
    layers = [
        [torch.tensor(layer[k], dtype=torch.float32) for k in ("weights", "bias")]
        for layer in tomllib.loads(MODEL.read_text())["layer"]
    ]
    steps = (len(layers) - 3) // 3

    def convolved(x, layer, kernel=3, stride=1):
        weights, bias = layer
        return F.conv2d(x, weights.reshape(len(bias), -1, kernel, kernel), bias, stride, kernel // 2)

    def said(x):
        left = iter(layers)
        x = F.relu(convolved(x, next(left), stride=2))
        x = F.relu(convolved(x, next(left)))
        passed = []
        for _ in range(steps):
            passed.append(x)
            x = F.max_pool2d(x, 2)
            for _ in range(2):
                x = F.relu(convolved(x, next(left)))
        for _ in range(steps):
            x = F.interpolate(x, scale_factor=2, mode="nearest")
            x = F.relu(convolved(torch.cat([x, passed.pop()], 1), next(left)))
        return convolved(x, next(left), kernel=1)

    return said


def table():
    """Planes that are a formula, so that the table needs no pictures."""
    width, height = 96, 64
    y, x = torch.meshgrid(torch.arange(height) + 0.5, torch.arange(width) + 0.5, indexing="ij")
    planes = [torch.sin(0.1 * (k + 1) * x + 0.07 * y) + torch.cos(0.05 * (k + 2) * y) for k in range(SHOWN)]
    answer = shipped()(torch.stack(planes).float()[None])[0]
    lines = ["# made by training-data/face_net.py with PyTorch " + torch.__version__.split("+")[0], "x,y,beside,core,case,neither"]
    for row in range(0, height // 2, 5):
        for column in range(0, width // 2, 7):
            lines.append(f"{column},{row}," + ",".join(f"{v:.5f}" for v in answer[:, row, column].tolist()))
    TABLE.write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    if sys.argv[1:] != ["--table"]:
        write(fit(sys.argv[1]))
    table()
