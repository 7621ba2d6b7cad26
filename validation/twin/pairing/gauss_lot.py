"""Perfect pairings of least total cost by NetworkX; twin of `workshop::pairing::pair_dressed`.

The lots are drawn here once more: SplitMix64, state `seed * 0x9E3779B97F4A7C15 + N`, six uniform
draws a part; mass 32 + 0.12 z1 g, unbalance 0.25 sqrt(-2 ln U3) g mm, offset 0.02 z2 mm, rounded
half up to 3, 3 and 4 decimals. Limits 0.1 g, 0.3 g mm, 0.03 mm: costs over 90,000.

Run: python3 gauss_lot.py > gauss_lot.out
"""
import math
import networkx as nx

MASK = (1 << 64) - 1


def lot(count, seed):
    state = (seed * 0x9E3779B97F4A7C15 + count) & MASK
    def uniform():
        nonlocal state
        state = (state + 0x9E3779B97F4A7C15) & MASK
        x = state
        x = ((x ^ (x >> 30)) * 0xBF58476D1CE4E5B9) & MASK
        x = ((x ^ (x >> 27)) * 0x94D049BB133111EB) & MASK
        x ^= x >> 31
        return ((x >> 11) + 0.5) * 2.0 ** -53
    parts = []
    for _ in range(count):
        u = [uniform() for _ in range(6)]
        r, angle = math.sqrt(-2 * math.log(u[0])), 2 * math.pi * u[1]
        values = (32 + 0.12 * r * math.cos(angle), 0.25 * math.sqrt(-2 * math.log(u[2])),
                  0.02 * r * math.sin(angle))
        parts.append(tuple(math.floor(v * s + 0.5) for v, s in zip(values, (1000, 1000, 10000))))
    return parts


def least(parts):
    # limits in last digits: 100, 300, 300; least common multiple of the squares 90,000
    graph = nx.Graph()
    for i, a in enumerate(parts):
        for j in range(i):
            b = parts[j]
            cost = 9 * (a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2 + (a[2] - b[2]) ** 2
            graph.add_edge(i, j, weight=-cost)
    pairs = nx.max_weight_matching(graph, maxcardinality=True)
    return -sum(graph.edges[p]["weight"] for p in pairs), len(pairs)


if __name__ == "__main__":
    print("networkx", nx.__version__)
    for count in (100, 200):
        total, pairs = least(lot(count, 1))
        print(count, "pairs", pairs, "cost", total, "/ 90000 =", f"{total / 90000:.9f}")
