"""Fits the network that tells bursts (`models/burst-net.toml`), and writes what it says of some made-up light
(`tests/reference/burst_net.csv`), to which the program is held.

    python3 burst_net.py SIGHTS SIMPLE  # folders that `burst_sights_are_written` wrote (tests/spark_photos/rows.rs): of the
                                        # picture maker of the tests, and of simple_sparks.py
    python3 burst_net.py --table        # the table alone, from the network as it ships

Needs NumPy and PyTorch. Each crop is turned, mirrored, scaled, blurred, brightened or dimmed, bent in tone and roughened;
lines that only cross, lamps, uneven grounds and holes are drawn into some: the network will see other photos than those it
learned from. A place is a burst where one lies whose rays can be told apart; one that is only visible counts neither way.
Loss: X. Zhou, D. Wang and P. Krähenbühl, "Objects as points", arXiv:1904.07850 (2019), equation 1 (from memory). Sums are
held to their usual mean and spread while it learns (S. Ioffe and C. Szegedy, "Batch normalization", ICML 2015; from memory)
and that is folded into the weights. It stops after so many minutes of one processor, so that another run gives other weights.
"""

import math
import sys
import time
import tomllib
from pathlib import Path

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

HERE = Path(__file__).resolve().parent
MODEL = HERE.parent / "models" / "burst-net.toml"
TABLE = HERE.parent / "tests" / "reference" / "burst_net.csv"

PLANES, TOLD, ANSWERS, STRIDE = (12, 24, 32), 3, 2, 2
SIDE, EDGE = 160, 16  # places of a crop, and those at its edge that are not judged
RUNS, BATCH = [(24.0, 6e-3), (42.0, 3e-3)], 16  # minutes and first rate of each run
SIMPLE_SHARE = 0.35  # of the crops
NOISE_STEP = 8
SPREAD, RAYS_WITHIN = 2.4, 3.2  # of a burst's middle, and where its rays are learned, places
RAYS_COUNT = 0.3  # how much the number of rays counts beside burst or none


class Net(nn.Module):
    def __init__(self, learning=True):
        super().__init__()

        def layer(seen, gives, stride=1):
            convolution = nn.Conv2d(seen, gives, 3, stride, 1, bias=not learning)
            usual = [nn.BatchNorm2d(gives, momentum=0.02)] if learning else []
            return nn.Sequential(convolution, *usual, nn.ReLU())

        a, b, c = PLANES
        self.layers = nn.ModuleList(
            [layer(TOLD, a, STRIDE), layer(a, a), layer(a, b), layer(b, b), layer(b, c), layer(c, c)]
            + [layer(c + b, b), layer(b + a, a)]
        )
        self.answer = nn.Conv2d(a, ANSWERS, 1)
        nn.init.constant_(self.answer.bias[:1], -4.0)
        nn.init.constant_(self.answer.bias[1:], 1.3)

    def forward(self, told):
        down = self.layers
        up = lambda v: F.interpolate(v, scale_factor=2, mode="nearest")
        fine = down[1](down[0](told))
        middle = down[3](down[2](F.max_pool2d(fine, 2)))
        coarse = down[5](down[4](F.max_pool2d(middle, 2)))
        middle = down[6](torch.cat([up(coarse), middle], 1))
        return self.answer(down[7](torch.cat([up(middle), fine], 1)))

    def folded(self):
        """Weights and biases of all layers, each with its usual mean and spread worked in."""
        pairs = []
        for layer in self.layers:
            usual = layer[1]
            by = usual.weight / torch.sqrt(usual.running_var + usual.eps)
            pairs.append((layer[0].weight * by[:, None, None, None], usual.bias - usual.running_mean * by))
        return pairs + [(self.answer.weight, self.answer.bias)]


def told(light, noise, x, y):
    """What the network is told of places, as the program tells it; x and y point at the contact."""
    return torch.stack([torch.asinh(light / (4 * noise)) / 3, x, y])


def read(folder):
    pictures = []
    for path in sorted(Path(folder).glob("*.f32")):
        values = np.fromfile(path, "<f4")
        width, height, bursts = int(values[0]), int(values[1]), int(values[4])
        rows = values[5 : 5 + 5 * bursts].reshape(-1, 5).astype(float)
        values = values[5 + 5 * bursts :]
        light = torch.from_numpy(values[: width * height].reshape(height, width).copy())
        noise = values[width * height :].reshape(-(-height // NOISE_STEP), -(-width // NOISE_STEP))
        bright = light.numpy() > 6 * float(np.median(noise))
        rows_of, columns = np.nonzero(bright)
        some = np.random.default_rng(0).permutation(len(rows_of))[:20000]
        pictures.append(
            {
                "size": np.array([width, height]),
                "contact": np.fromfile(path, "<f4", 2, offset=8).astype(float),
                "at": rows[:, :2],
                "reach": rows[:, 2],
                "rays": rows[:, 3],
                "resolvable": rows[:, 4] > 0,
                "light": light.half(),
                "noise": torch.from_numpy(noise.copy()),
                "bright": np.stack([columns[some], rows_of[some]], 1).astype(np.float32),
            }
        )
    return pictures


class Crops:
    """Crops as other rigs and cameras might show them."""

    def __init__(self, chance):
        self.chance = chance
        middle = torch.arange(SIDE) + 0.5 - SIDE / 2
        self.y, self.x = torch.meshgrid(middle, middle, indexing="ij")
        half = np.arange(SIDE // STRIDE) * STRIDE + STRIDE / 2
        self.rows, self.columns = np.meshgrid(half, half, indexing="ij")

    def place(self, picture):
        which, c = self.chance.random(), self.chance
        resolvable = np.flatnonzero(picture["resolvable"])
        if which < 0.5 and len(resolvable):
            return picture["at"][c.choice(resolvable)] + c.uniform(-50, 50, 2)
        if which < 0.9 and len(picture["bright"]):
            return picture["bright"][c.integers(len(picture["bright"]))] + c.uniform(-30, 30, 2)
        return c.uniform(0, 1, 2) * picture["size"]

    def of(self, picture):
        c = self.chance
        at, turn = self.place(picture), c.uniform(-np.pi, np.pi)
        size, flip = math.exp(np.clip(c.normal() * 0.14, -0.35, 0.35)), c.choice([-1.0, 1.0])
        cos, sin = math.cos(turn) * size, math.sin(turn) * size
        turned = np.array([[cos, -sin * flip], [sin, cos * flip]])
        x = self.x * turned[0, 0] + self.y * turned[0, 1] + at[0]
        y = self.x * turned[1, 0] + self.y * turned[1, 1] + at[1]
        light, noise = self.look(picture, x, y, at, size)
        if light is None:
            return self.of(picture)
        light, noise, counts = self.changed(light, noise, turn)
        width, height = picture["size"]
        light = torch.where((x < 0) | (y < 0) | (x > width) | (y > height), 0.0, light)
        contact = picture["contact"] + c.normal(size=2) * 20 * (c.random() < 0.5)
        dx, dy = contact[0] - x, contact[1] - y
        to_x, to_y = dx * turned[0, 0] + dy * turned[1, 0], dx * turned[0, 1] + dy * turned[1, 1]
        far = torch.sqrt(to_x**2 + to_y**2) + size
        return told(light, noise, to_x / far, to_y / far).float(), *self.answers(picture, turned, at, size, counts)

    def look(self, picture, x, y, at, size):
        reach = int(SIDE * 0.72 * size) + 3
        (left, top), (right, bottom) = np.maximum(at.astype(int) - reach, 0), np.minimum(at.astype(int) + reach, picture["size"])
        if right - left < 8 or bottom - top < 8:
            return None, None
        part = picture["light"][top:bottom, left:right].float()
        grid = lambda x, y, w, h: torch.stack([x / w * 2 - 1, y / h * 2 - 1], -1)[None].float()
        pick = lambda plane, grid, beyond: F.grid_sample(
            plane[None, None], grid, padding_mode=beyond, align_corners=False
        )[0, 0]
        light = pick(part, grid(x - left, y - top, right - left, bottom - top), "zeros")
        rows, columns = picture["noise"].shape
        step = lambda v: (v - 0.5) / NOISE_STEP + 0.5
        return light, pick(picture["noise"], grid(step(x), step(y), columns, rows), "border")

    def changed(self, light, noise, turn):
        c, usual = self.chance, float(noise.mean())
        counts = np.ones((SIDE, SIDE), np.float32)
        over = lambda below, above: torch.where(below > 0, torch.sqrt(below**2 + above**2), below + above)
        if c.random() < 0.3:  # blurred
            side = c.uniform(0.05, 0.3)
            kernel = torch.tensor([side, 1 - 2 * side, side])
            light = F.conv2d(light[None, None], kernel.view(1, 1, 1, 3), padding=(0, 1))
            light = F.conv2d(light, kernel.view(1, 1, 3, 1), padding=(1, 0))[0, 0]
        light = light * math.exp(c.normal() * 0.4)
        top = max(1e-3, float(light.max()))
        if c.random() < 0.6:  # tones bent
            light = torch.sign(light) * top * (light.abs() / top) ** math.exp(c.normal() * 0.15)
        if c.random() < 0.35:  # lines that only cross
            for _ in range(c.integers(1, 5)):
                angle, off, bend, width = c.uniform(0, np.pi), c.uniform(-60, 60), c.normal() * 0.002, c.uniform(0.7, 1.3)
                along = self.x * math.cos(angle) + self.y * math.sin(angle)
                beside = self.y * math.cos(angle) - self.x * math.sin(angle) - off - bend * along**2
                bright = max(3 * usual, top * math.exp(c.uniform(math.log(0.1), 0)))
                light = over(light, bright * torch.exp(-(beside**2) / (2 * width**2)))
        if c.random() < 0.25:  # lamps
            for _ in range(c.integers(1, 4)):
                x, y, size = c.uniform(-0.5, 0.5) * SIDE, c.uniform(-0.5, 0.5) * SIDE, math.exp(c.uniform(0, math.log(25)))
                off = ((self.x - x) ** 2 + (self.y - y) ** 2) / size**2
                light = over(light, max(5 * usual, top * c.uniform(0.1, 1.2)) * torch.exp(-(off ** c.uniform(0.5, 3))))
        if c.random() < 0.4:  # an uneven ground
            slope = (self.x * math.cos(turn) + self.y * math.sin(turn)) / SIDE
            light = light + usual * (3 * c.normal() * slope + 0.5 * c.normal())
        if c.random() < 0.15:  # something in front
            x, y, w, h = c.uniform(-0.5, 0.5) * SIDE, c.uniform(-0.5, 0.5) * SIDE, c.uniform(8, 50), c.uniform(8, 50)
            hidden = ((self.x - x).abs() < w) & ((self.y - y).abs() < h)
            light = torch.where(hidden, 0.0, light)
            counts[hidden.numpy()] = 0
        more = c.random() ** 2 * 1.3
        light = light + torch.randn(SIDE, SIDE) * noise * more
        return light, noise * math.sqrt(1 + more**2) * math.exp(c.normal() * 0.15), counts

    def answers(self, picture, turned, middle, size, counts):
        """How near the middle of a burst is, rays there, where rays count, where burst or none counts."""
        at = np.linalg.solve(turned, (picture["at"] - middle).T).T + SIDE / 2
        shape = self.rows.shape
        heat, rays, here = (np.zeros(shape, np.float32) for _ in range(3))
        seen = counts[::STRIDE, ::STRIDE]
        judged = seen.copy()
        near = ((at > -10) & (at < SIDE + 10)).all(1)
        off = lambda i: (self.columns - at[i, 0]) ** 2 + (self.rows - at[i, 1]) ** 2
        for i in np.flatnonzero(near & ~picture["resolvable"]):
            judged[off(i) < min(picture["reach"][i] / size, 14.0) ** 2] = 0
        for i in np.flatnonzero(near & picture["resolvable"]):
            heat = np.maximum(heat, np.exp(-off(i) / (2 * SPREAD**2)))
        for i in np.flatnonzero(near & picture["resolvable"]):
            close = off(i) < RAYS_WITHIN**2
            rays[close], here[close] = math.log(max(1.0, picture["rays"][i])), 1
            judged[close] = np.maximum(judged, seen)[close]
            column, row = (at[i] // STRIDE).astype(int)
            if 0 <= row < shape[0] and 0 <= column < shape[1]:
                heat[row, column] = 1
        edge = EDGE // STRIDE
        judged[:edge] = judged[-edge:] = judged[:, :edge] = judged[:, -edge:] = 0
        return [torch.from_numpy(v.astype(np.float32)) for v in (heat, rays, here * judged, judged)]


def loss(said, heat, rays, here, judged):
    chance = torch.sigmoid(said[:, 0]).clamp(1e-5, 1 - 1e-5)
    burst = (heat == 1).float() * judged
    none = (1 - heat) ** 4 * (heat < 1) * judged
    wrong = burst * (1 - chance) ** 2 * torch.log(chance) + none * chance**2 * torch.log(1 - chance)
    counted = F.smooth_l1_loss(said[:, 1], rays, beta=0.3, reduction="none") * here
    return -wrong.sum() / (burst.sum() + 4) + RAYS_COUNT * counted.sum() / (here.sum() + 4)


def fit(drawn, simple):
    torch.manual_seed(0)
    torch.set_num_threads(1)
    torch.set_flush_denormal(True)
    chance = np.random.default_rng(0)
    crops, sets = Crops(chance), [read(drawn), read(simple)]
    # pictures with more bursts are seen more often
    weights = [np.array([3 + math.sqrt(p["resolvable"].sum()) for p in pictures]) for pictures in sets]
    net = Net()
    for minutes, rate in RUNS:
        run(net, crops, sets, weights, minutes, rate, chance)
    return net.eval()


def run(net, crops, sets, weights, minutes, rate, chance):
    optimiser = torch.optim.AdamW(net.parameters(), rate, weight_decay=1e-4)
    begin, step, total = time.process_time(), 0, 0.0
    while (done := (time.process_time() - begin) / (60 * minutes)) < 1:
        for group in optimiser.param_groups:
            group["lr"] = rate * min(1.0, done / 0.05 + 0.02) * (0.5 * (1 + math.cos(math.pi * done)) + 0.005)
        batch = []
        for _ in range(BATCH):
            which = int(chance.random() < SIMPLE_SHARE)
            share = weights[which] / weights[which].sum()
            batch.append(crops.of(sets[which][chance.choice(len(sets[which]), p=share)]))
        seen, *answers = [torch.stack(v) for v in zip(*batch)]
        wrong = loss(net(seen), *answers)
        optimiser.zero_grad()
        wrong.backward()
        nn.utils.clip_grad_norm_(net.parameters(), 5.0)
        optimiser.step()
        step, total = step + 1, total + wrong.item()
        if step % 200 == 0:
            print(f"{done:.2f} {step} {total / 200:.4f}", flush=True)
            total = 0.0


def numbers(values):
    return "[" + ", ".join(f"{v:.5g}" for v in values.flatten().tolist()) + "]"


def write(net):
    text = (
        "# The network that tells bursts on a photo and counts their rays: see src/spark/measured/seen.rs. Fitted by\n"
        "# training-data/burst_net.py on pictures of the tests' maker (seeds 3000 to 3689) and of\n"
        "# training-data/simple_sparks.py; figures in tests/spark_photos/README.md. Status of every number: computed.\n"
        f'format = "snapspark u-net"\nversion = 1\nstride = {STRIDE}\nplanes = {list(PLANES)}\n'
    )
    with torch.no_grad():
        for weight, bias in net.folded():
            text += f"\n[[layer]]\nbias = {numbers(bias)}\nweights = {numbers(weight)}\n"
    MODEL.write_text(text)


def shipped():
    """The network as it ships."""
    net = Net(learning=False)
    layers = [layer[0] for layer in net.layers] + [net.answer]
    with torch.no_grad():
        for layer, saved in zip(layers, tomllib.loads(MODEL.read_text())["layer"], strict=True):
            layer.bias.copy_(torch.tensor(saved["bias"]))
            layer.weight.copy_(torch.tensor(saved["weights"]).reshape(layer.weight.shape))
    return net.eval()


def table():
    """What it says of the middle, and beside it, of light that is a formula: the table needs no pictures."""
    net, side = shipped(), 96
    middle = torch.arange(side, dtype=torch.float64) + 0.5
    y, x = torch.meshgrid(middle, middle, indexing="ij")
    lines = [
        "# made by training-data/burst_net.py with PyTorch " + torch.__version__.split("+")[0],
        "case,noise,odds,log_rays,beside_odds,beside_log_rays",
    ]
    for case in range(12):
        rays = case % 6 + 1
        light = torch.zeros(side, side, dtype=torch.float64)
        for ray in range(rays):
            angle = ray * 6.283185307179586 / rays + 0.1 * case
            off_x, off_y = x - side / 2, y - side / 2
            along = off_x * math.cos(angle) + off_y * math.sin(angle)
            beside = off_y * math.cos(angle) - off_x * math.sin(angle)
            light += 0.3 * torch.exp(-(beside**2) / 2) * (along > 0) * (along < 10 + 3 * case)
        noise = 0.004 + 0.001 * case
        to_x, to_y = -200.0 - x, 10.0 * case - y
        far = torch.sqrt(to_x**2 + to_y**2) + 1
        with torch.no_grad():
            said = net(told(light, torch.tensor(noise), to_x / far, to_y / far).float()[None])[0]
        values = [said[k, side // 4, side // 4].item() for k in range(2)] + [said[k, 15, 30].item() for k in range(2)]
        lines.append(f"{case},{noise:.3f}," + ",".join(f"{v:.6f}" for v in values))
    TABLE.write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    if sys.argv[1:] != ["--table"]:
        write(fit(*sys.argv[1:]))
    table()
