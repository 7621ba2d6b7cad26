"""Means and spreads of the example lots in exact fractions, apart from the program.

Run from the root of the project: python3 validation/twin/measuring/spread.py > validation/twin/measuring/spread.txt
"""

import csv
import math
from fractions import Fraction

FILES = [
    ("examples/first_lot/halves.csv", "cavity"),
    ("examples/first_lot/rims.csv", "insert"),
    ("examples/coins/coins.csv", "pack"),
]


def spread(masses):
    mean = sum(masses) / len(masses)
    variance = sum((mass - mean) ** 2 for mass in masses) / (len(masses) - 1)
    return len(masses), float(mean), math.sqrt(variance)


for path, origin in FILES:
    with open(path, newline="") as file:
        rows = list(csv.DictReader(file))
    groups = {"all": [Fraction(row["mass_g"]) for row in rows]}
    for row in rows:
        groups.setdefault(row[origin], []).append(Fraction(row["mass_g"]))
    for name in ["all"] + sorted(set(groups) - {"all"}):
        count, mean, sd = spread(groups[name])
        print(f"{path} {origin} {name}: count {count} mean {mean:.6f} g sd {sd:.6f} g")
