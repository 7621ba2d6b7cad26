"""Times of the same reckonings in NumPy: the baseline of crates/workshop/benches/balance.rs.

Two-plane solve: influence coefficients from three runs and numpy.linalg.solve.
Pattern: 64 places over two planes (32 each), 20 depths, two holes a plane: all patterns of a plane at once
as one array, nearest to the wanted vector (the planes one after the other).
Run: python3 numpy_balance.py > numpy_balance.txt
"""
import time
import numpy as np


def p(size, deg):
    return size * np.exp(1j * np.radians(deg))


v0 = np.array([p(170, 112), p(53, 78)])
v1 = np.array([p(235, 94), p(58, 68)])
v2 = np.array([p(185, 115), p(77, 104)])


def solve():
    a = np.column_stack([(v1 - v0) / 1.15, (v2 - v0) / 1.15])
    return -np.linalg.solve(a, v0)


def pattern(wanted, places=32, depths=20):
    way = np.exp(2j * np.pi * np.arange(places) / places)
    level = 0.05 * np.arange(1, depths + 1)
    one = np.outer(way, level)
    best = np.inf
    for first in range(places):
        pair = one[first][:, None] + one[first + 1:].reshape(1, -1)
        if pair.size:
            best = min(best, np.abs(wanted - pair).min())
    return best


def took(f, n):
    f()
    start = time.perf_counter()
    for _ in range(n):
        f()
    return (time.perf_counter() - start) / n


print("solution", solve())
print(f"two-plane solve {took(solve, 5000) * 1e6:.1f} us")
print(f"pattern over two planes {took(lambda: (pattern(p(0.9, 33)), pattern(p(0.7, 222))), 5) * 1e3:.1f} ms")
