"""A million random pairs of bore and spigot with a triangle of friction, as a table-keeper would do it with NumPy.

The baseline of the bench `fitting`: the same draws and the same two questions (loose, over-stressed), without the rest of the
fit's answer. Run: python3 numpy_pairs.py > numpy_pairs.txt
"""
import time

import numpy as np


def pairs(count, seed):
    rng = np.random.default_rng(seed)
    bore = rng.normal(0.0, 5.0, count)
    spigot = rng.normal(90.0, 4.0, count)
    friction = rng.triangular(0.15, 0.20, 0.30, count)
    found = spigot - bore
    needed = 40.0 + 4.5 / friction
    return (found < needed).mean(), (found > 110.0).mean()


pairs(1000, 0)
times = []
for seed in range(7):
    start = time.perf_counter()
    shares = pairs(1_000_000, seed)
    times.append(time.perf_counter() - start)
print("shares of the last run", *shares)
print(f"a million pairs, median of 7: {sorted(times)[3] * 1e3:.0f} ms")
