"""Depth of a case whose temperature is not known exactly: quantiles and moments, for `drawn_depths.csv`.

Constant diffusivity at temperature, surface held, thick body: C = Cs - (Cs - C0) erf(x / (2 sqrt(D t))), D = d0
exp(-Q / R T) (any text on diffusion in solids). T is spread as two half normal curves about the reading, nine in ten
within `low` to `high`; moments by quadrature. Prints the table.

    pip install scipy==1.17.1 numpy==2.4.6
    python tests/reference/drawn_depths.py > tests/reference/drawn_depths.csv
"""

import numpy as np
from scipy import integrate, special, stats

D0, Q, R = 2.3e-5, 148000.0, 8.314462618  # W. D. Callister, iron, carbon in the face-centred lattice
NINE_IN_TEN = stats.norm.ppf(0.95)


def depth_mm(kelvin, seconds, surface, core, limit):
    root = np.sqrt(D0 * np.exp(-Q / (R * kelvin)) * seconds)
    return 2e3 * root * special.erfinv((surface - limit) / (surface - core))


def spread(z, low, high):
    return z * np.where(z < 0, -low, high) / NINE_IN_TEN


CASES = [
    (900, 60, 1.0, 0.15, -10, 10),
    (925, 120, 0.9, 0.20, -20, 20),
    (870, 240, 0.8, 0.10, -40, 15),
    (980, 45, 1.2, 0.18, -5, 60),
]

print("# Made by drawn_depths.py with SciPy; total case depth (core + 0.04 %C), mm. Status: computed.")
print("# Tolerance, written before the first run: quantiles and mean 0.5 % of the median, standard deviation 1.5 % of itself.")
print("celsius,minutes,surface,core,low_k,high_k,p05,p25,p50,p75,p95,mean,sd")
for celsius, minutes, surface, core, low, high in CASES:
    def depth(z):
        return depth_mm(celsius + 273.15 + spread(z, low, high), 60.0 * minutes, surface, core, core + 0.04)

    quantiles = [depth(stats.norm.ppf(p)) for p in (0.05, 0.25, 0.5, 0.75, 0.95)]

    def moment(power):
        weigh = lambda z: depth(z) ** power * stats.norm.pdf(z)
        return sum(integrate.quad(weigh, *span)[0] for span in [(-9, 0), (0, 9)])

    mean = moment(1)
    sd = np.sqrt(moment(2) - mean**2)
    numbers = [celsius, minutes, surface, core, low, high]
    print(",".join(f"{n:g}" for n in numbers) + "," + ",".join(f"{x:.5f}" for x in [*quantiles, mean, sd]))
