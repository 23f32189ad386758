"""Fits the network that tells bursts from other places where lines meet (`models/burst-net.toml`), and writes what it
says of some made-up places (`tests/reference/burst_net.csv`), to which the program is held.

    python3 burst_net.py PLACES...      # files that `burst_places_are_written` wrote (tests/spark_photos/rows.rs)
    python3 burst_net.py --table        # the table alone, from the network as it ships

Needs NumPy, SciPy and PyTorch. Each pass turns, mirrors, scales, brightens, dims, blurs and roughens each place anew: the
network will see other photos than those it learned from. Looks are those that the network as it ships would take: rows are
written, it is fitted, rows are written with it, it is fitted again. Seeds are fixed; other builds of PyTorch may still give
weights that differ in the last figures.
"""

import sys
import tomllib
from pathlib import Path

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

HERE = Path(__file__).resolve().parent
MODEL = HERE.parent / "models" / "burst-net.toml"
TABLE = HERE.parent / "tests" / "reference" / "burst_net.csv"

READ, SIDE, COARSER, FEATURES = 96, 32, 3, 10
TOWER = [(5, 2, 12), (3, 2, 16), (3, 1, 16)]  # kernel, stride, kernels
HIDDEN = 32
PASSES, BATCH, RATE, DROPPED = 10, 256, 4e-3, 0.2
RAYS_COUNT = 0.15  # how much the number of rays counts beside burst or none


class Net(nn.Module):
    def __init__(self):
        super().__init__()

        def tower():
            layers, told = [], 2
            for kernel, stride, kernels in TOWER:
                layers += [nn.Conv2d(told, kernels, kernel, stride, kernel // 2), nn.ReLU()]
                told = kernels
            return nn.Sequential(*layers, nn.MaxPool2d(2))

        self.fine, self.coarse = tower(), tower()
        self.hidden = nn.Linear(2 * TOWER[-1][2] * 16 + FEATURES, HIDDEN)
        self.answer = nn.Linear(HIDDEN, 2)
        self.drop = nn.Dropout(DROPPED)

    def forward(self, fine, coarse, features):
        seen = torch.cat([self.fine(fine).flatten(1), self.coarse(coarse).flatten(1), features], 1)
        return self.answer(self.drop(torch.relu(self.hidden(seen))))


def cut(light):
    """The fine patch and the coarse one of what is read around places."""
    return light[:, SIDE : 2 * SIDE, SIDE : 2 * SIDE], F.avg_pool2d(light[:, None], COARSER)[:, 0]


def told(fine, coarse, noise):
    """What the network is told of them, as the program tells it."""
    brightest = fine[:, 10:22, 10:22].amax((1, 2)).clamp(min=1e-3)[:, None, None]
    noise = noise[:, None, None]
    return [
        torch.stack([torch.asinh(p / (4 * noise)) / 3, (p / brightest).clamp(-0.5, 2)], 1)
        for p in (fine, coarse)
    ]


def changed(light, noise, chance):
    """Patches as other rigs and cameras might show them."""
    n = len(light)
    normal = lambda spread: torch.randn(n, generator=chance) * spread
    each = lambda v: v[:, None, None]
    turn, size = normal(0.12), torch.exp(normal(0.15))
    flip = torch.where(torch.rand(n, generator=chance) < 0.5, -1.0, 1.0)
    move = [normal(0.4) * 2 / READ, normal(0.4) * 2 / READ]
    cos, sin = torch.cos(turn) * size, torch.sin(turn) * size
    grid = torch.stack([torch.stack([cos, -sin * flip, move[0]], 1), torch.stack([sin, cos * flip, move[1]], 1)], 1)
    where = F.affine_grid(grid, (n, 1, READ, READ), align_corners=False)
    light = F.grid_sample(light[:, None], where, padding_mode="border", align_corners=False)[:, 0]
    fine, coarse = cut(light * each(torch.exp(normal(0.4))))
    top = each(torch.maximum(fine.amax((1, 2)), coarse.amax((1, 2))).clamp(min=1e-3))
    # noise drawn anew, up to 1.2 times what is there; tones bent
    more, bend = torch.rand(n, generator=chance) ** 2 * 1.2, each(torch.exp(normal(0.12)))
    patches = []
    for patch, share in ((fine, 1.0), (coarse, 1.0 / COARSER)):
        patch = patch + torch.randn(patch.shape, generator=chance) * each(noise * more) * share
        patches.append(torch.sign(patch) * top * (patch.abs() / top) ** bend)
    return *patches, noise * torch.sqrt(1 + more**2) * torch.exp(normal(0.15))


def read(paths):
    rows = 3 + FEATURES + READ * READ
    parts = [np.fromfile(p, "<f4").reshape(-1, rows) for p in paths]
    heads = torch.from_numpy(np.concatenate([p[:, : 3 + FEATURES] for p in parts]))
    light = torch.from_numpy(np.concatenate([p[:, 3 + FEATURES :].astype(np.float16) for p in parts]))
    return heads[:, 1], heads[:, 2], heads[:, 3:], light.reshape(-1, READ, READ)


def fit(paths):
    torch.manual_seed(0)
    torch.set_flush_denormal(True)
    torch.set_num_threads(2)
    chance = torch.Generator().manual_seed(1)
    rays, noise, features, light = read(paths)
    usual = torch.stack([features.mean(0), features.std(0) + 1e-3], 1)
    net = Net()
    steps = PASSES * (len(rays) // BATCH)
    optimiser = torch.optim.AdamW(net.parameters(), RATE, weight_decay=1e-3)
    schedule = torch.optim.lr_scheduler.OneCycleLR(optimiser, RATE, steps)
    for turn in range(PASSES):
        total = 0.0
        order = torch.randperm(len(rays), generator=chance)
        for b in range(len(rays) // BATCH):
            i = order[b * BATCH : (b + 1) * BATCH]
            seen = told(*changed(light[i].float(), noise[i], chance))
            said = net(*seen, (features[i] - usual[:, 0]) / usual[:, 1])
            burst = rays[i] > 0
            loss = F.binary_cross_entropy_with_logits(said[:, 0], burst.float())
            loss = loss + RAYS_COUNT * F.smooth_l1_loss(said[burst, 1], torch.log(rays[i][burst]), beta=0.3)
            optimiser.zero_grad()
            loss.backward()
            optimiser.step()
            schedule.step()
            total += loss.item()
        print(turn, total / (len(rays) // BATCH), flush=True)
    return net.eval(), usual


def numbers(values):
    return "[" + ", ".join(f"{v:.5g}" for v in values) + "]"


def layer(weight, bias, name):
    """By input, then output: of kernels row, column, what is told."""
    weight = weight.permute(2, 3, 1, 0) if weight.dim() == 4 else weight.t()
    return f"[{name}]\nbias = {numbers(bias.tolist())}\nweights = {numbers(weight.flatten().tolist())}\n"


def write(net, usual):
    kernels = TOWER[-1][2]
    by_place = torch.arange(kernels * 16).reshape(kernels, 4, 4).permute(1, 2, 0).flatten()
    hidden = net.hidden.weight
    n = kernels * 16
    hidden = torch.cat([hidden[:, :n][:, by_place], hidden[:, n : 2 * n][:, by_place], hidden[:, 2 * n :]], 1)
    text = (
        "# The network that tells bursts from other places where lines meet on a photo, and counts their rays: see\n"
        "# src/spark/measured/net.rs. Fitted by training-data/burst_net.py on places of drawn pictures (seeds 3000 to\n"
        "# 3331); figures in tests/spark_photos/README.md. Status of every number: computed.\n"
        'format = "snapspark burst net"\nversion = 1\n'
        f"usual = [{', '.join(numbers(pair) for pair in usual.tolist())}]\n\n"
    )
    for name, tower in (("fine", net.fine), ("coarse", net.coarse)):
        for i in (0, 2, 4):
            text += layer(tower[i].weight, tower[i].bias, f"[{name}]")
    text += layer(hidden, net.hidden.bias, "hidden") + layer(net.answer.weight, net.answer.bias, "answer")
    MODEL.write_text(text)


def shipped():
    """The network as it ships."""
    file = tomllib.loads(MODEL.read_text())
    net, kernels = Net(), TOWER[-1][2]
    tensor = lambda values: torch.tensor(values, dtype=torch.float32)
    with torch.no_grad():
        for tower, layers in ((net.fine, file["fine"]), (net.coarse, file["coarse"])):
            for i, saved in zip((0, 2, 4), layers):
                out, told, high, wide = tower[i].weight.shape
                tower[i].weight.copy_(tensor(saved["weights"]).reshape(high, wide, told, out).permute(3, 2, 0, 1))
                tower[i].bias.copy_(tensor(saved["bias"]))
        hidden = tensor(file["hidden"]["weights"]).reshape(-1, HIDDEN).t()
        n = kernels * 16
        by_kernel = torch.arange(n).reshape(4, 4, kernels).permute(2, 0, 1).flatten()
        net.hidden.weight.copy_(
            torch.cat([hidden[:, :n][:, by_kernel], hidden[:, n : 2 * n][:, by_kernel], hidden[:, 2 * n :]], 1)
        )
        net.hidden.bias.copy_(tensor(file["hidden"]["bias"]))
        net.answer.weight.copy_(tensor(file["answer"]["weights"]).reshape(HIDDEN, 2).t())
        net.answer.bias.copy_(tensor(file["answer"]["bias"]))
    return net.eval(), tensor(file["usual"])


def table():
    """Places whose light is a formula, so that the table needs no pictures."""
    net, usual = shipped()
    y, x = torch.meshgrid(torch.arange(READ, dtype=torch.float64), torch.arange(READ, dtype=torch.float64), indexing="ij")
    lines = ["# made by training-data/burst_net.py with PyTorch " + torch.__version__.split("+")[0], "case,noise,odds,log_rays"]
    for case in range(12):
        rays = case % 6 + 1
        light = torch.zeros(READ, READ, dtype=torch.float64)
        for ray in range(rays):
            angle = ray * 6.283185307179586 / rays + 0.1 * case
            off_x, off_y = x - 47.5, y - 47.5
            along = off_x * np.cos(angle) + off_y * np.sin(angle)
            beside = off_y * np.cos(angle) - off_x * np.sin(angle)
            light += 0.3 * torch.exp(-(beside**2) / 2) * (along > 0) * (along < 10 + 3 * case)
        noise = 0.004 + 0.001 * case
        features = torch.tensor([[0.25 * case + 0.1 * k for k in range(FEATURES)]], dtype=torch.float32)
        seen = told(*cut(light[None].float()), torch.tensor([noise], dtype=torch.float32))
        with torch.no_grad():
            said = net(*seen, (features - usual[:, 0]) / usual[:, 1])[0].tolist()
        lines.append(f"{case},{noise:.3f},{said[0]:.6f},{said[1]:.6f}")
    TABLE.write_text("\n".join(lines) + "\n")


if __name__ == "__main__":
    if sys.argv[1:] != ["--table"]:
        write(*fit(sorted(sys.argv[1:])))
    table()
