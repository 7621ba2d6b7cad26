"""Least-cost matching by NetworkX and assignment by SciPy, for comparison.

Usage: networkx_and_scipy.py GRAPH...   (a graph: "nodes edges", then "a b cost" a line)
Prints, a graph: nodes, edges, cost, seconds. Then assignments of a seeded table by SciPy.
"""

import sys
import time

import networkx
import numpy
from scipy.optimize import linear_sum_assignment


def read(name):
    with open(name) as file:
        nodes, edges = map(int, file.readline().split())
        return nodes, [tuple(map(int, file.readline().split())) for _ in range(edges)]


def solve(nodes, edges):
    """Perfect matching of least cost: the greatest sum of (large - cost) at most pairs."""
    large = 1 + max(cost for _, _, cost in edges)
    graph = networkx.Graph()
    graph.add_nodes_from(range(nodes))
    graph.add_weighted_edges_from((a, b, large - cost) for a, b, cost in edges)
    before = time.process_time()
    pairs = networkx.max_weight_matching(graph, maxcardinality=True)
    seconds = time.process_time() - before
    return sum(large - graph[a][b]["weight"] for a, b in pairs), seconds


def table(size):
    """Costs 0 to 999,999 from a multiplicative congruential generator, row by row."""
    state, costs = 12345, numpy.empty((size, size), dtype=numpy.int64)
    for row in range(size):
        for col in range(size):
            state = (state * 6364136223846793005 + 1442695040888963407) % 2**64
            costs[row, col] = (state >> 33) % 1_000_000
    return costs


for name in sys.argv[1:]:
    nodes, edges = read(name)
    cost, seconds = solve(nodes, edges)
    print(f"networkx {networkx.__version__} nodes {nodes} edges {len(edges)} cost {cost} seconds {seconds:.4f}")

for size in (100, 1000, 2000):
    costs = table(size)
    before = time.process_time()
    rows, cols = linear_sum_assignment(costs)
    seconds = time.process_time() - before
    print(f"scipy assignment {size} cost {costs[rows, cols].sum()} seconds {seconds:.4f}")
