"""Complete graphs of the points of validation/matching/gauss.toml, for other solvers.

Usage: complete.py FOLDER COUNT...
Draws the points anew (seed 1), apart from our own code, and writes FOLDER/complete_COUNT.txt: a graph with
every pair as an edge ("nodes edges", then "a b cost" a line), cost as an integer (times 90,000).
"""

import math
import sys

MASK = 2**64 - 1
STEP = 0x9E3779B97F4A7C15


def points(count, seed=1):
    state = (seed * STEP + count) & MASK

    def uniform():
        nonlocal state
        state = (state + STEP) & MASK
        z = state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & MASK
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & MASK
        z ^= z >> 31
        return ((z >> 11) + 0.5) * 2.0**-53

    def parts(value, parts):
        return math.floor(value * parts + 0.5)

    for _ in range(count):
        u = [uniform() for _ in range(6)]
        size, turn = math.sqrt(-2 * math.log(u[0])), 2 * math.pi * u[1]
        y = 0.25 * math.sqrt(-2 * math.log(u[2]))
        yield (
            parts(32 + 0.12 * size * math.cos(turn), 1e3),
            parts(y, 1e3),
            parts(0.02 * size * math.sin(turn), 1e4),
        )


folder, counts = sys.argv[1], map(int, sys.argv[2:])
for count in counts:
    drawn = list(points(count))
    with open(f"{folder}/complete_{count}.txt", "w") as file:
        print(count, count * (count - 1) // 2, file=file)
        for a, (xa, ya, za) in enumerate(drawn):
            for b in range(a + 1, count):
                x, y, z = drawn[b]
                print(a, b, 9 * (x - xa) ** 2 + (y - ya) ** 2 + (z - za) ** 2, file=file)
