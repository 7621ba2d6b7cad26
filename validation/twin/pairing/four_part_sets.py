"""Most sets of two halves and two rims, and the lightest recut plan, by integer programming.

Twin of `workshop::pairing::pair_parts`, written apart from it: SciPy's HiGHS solves the whole
question at once over classes of equal mass, where the program works by prices and exact steps.

With the two limits equal (W), two dressed halves with deviations a and b from half the piece's
mass make a set exactly when |a| + |b| <= W. A choice of dressed halves splits into sets exactly
when, for every v above W/2, no more of them have |a| >= v than have |a| <= W - v.

Run: python3 four_part_sets.py HALVES.csv RIMS.csv > four_part_sets.out
"""
import csv, sys
from collections import Counter
import numpy as np
from scipy.optimize import milp, LinearConstraint, Bounds
from scipy.sparse import coo_matrix

UG = 1_000_000                      # whole micrograms


def masses(path):
    with open(path, newline="") as f:
        return Counter(round(float(row["mass_g"]) * UG) for row in csv.DictReader(f))


def solve(halves, rims, piece, within, step=0, most=0, sets=None):
    """Most sets (sets=None), or a bound on the least total cut for a stated number of sets.

    The cut is bounded by the linear relaxation alone: the whole-number search did not end in
    minutes.
    """
    hs, rs = sorted(halves), sorted(rims)
    edges = []
    for i, h in enumerate(hs):
        for j, r in enumerate(rs):
            for k in range(most + 1):
                d = abs(2 * (h + r - k * step) - piece)      # twice the deviation
                if d <= 2 * within:
                    edges.append((i, j, k, d))
    n = len(edges)
    rows, cols, vals, ub = [], [], [], []
    row = 0
    def add(entries, limit):
        nonlocal row
        for c, v in entries:
            rows.append(row); cols.append(c); vals.append(v)
        ub.append(limit); row += 1
    for i, h in enumerate(hs):
        add([(c, 1) for c, e in enumerate(edges) if e[0] == i], halves[h])
    for j, r in enumerate(rs):
        add([(c, 1) for c, e in enumerate(edges) if e[1] == j], rims[r])
    for v in sorted({e[3] for e in edges if e[3] > within}):
        entries = [(c, 1) for c, e in enumerate(edges) if e[3] >= v]
        entries += [(c, -1) for c, e in enumerate(edges) if e[3] <= 2 * within - v]
        add(entries, 0)
    lb = [-np.inf] * row
    if sets is not None:
        rows += [row] * n; cols += range(n); vals += [1] * n
        lb.append(2 * sets); ub.append(np.inf); row += 1
    cost = np.array([e[2] for e in edges], float) if sets is not None else -np.ones(n)
    a = coo_matrix((vals, (rows, cols)), shape=(row, n)).tocsr()
    res = milp(cost, constraints=LinearConstraint(a, lb, ub), integrality=np.ones(n) * (sets is None),
               bounds=Bounds(0, np.inf), options={"time_limit": 120, "mip_rel_gap": 0})
    if sets is not None:
        return dict(status=res.message, least_steps=res.fun)
    return dict(status=res.message, sets=int(round(-res.fun)) // 2, dual_bound=-res.mip_dual_bound / 2)


def shifted(rims, grams):
    return Counter({m + round(grams * UG): c for m, c in rims.items()})


if __name__ == "__main__":
    halves, rims = masses(sys.argv[1]), masses(sys.argv[2])
    piece = round(57.60 * UG)
    step = round(832.5220532012952 * 2.70e-3 * 0.01 * UG)     # ring 58/48, 2.70 g/cm3, 0.01 mm
    print("step of face, microgram:", step)
    for name, add in (("mean right", 0.0), ("rims 0.10 g heavy", 0.10), ("rims 0.20 g heavy", 0.20)):
        lot = shifted(rims, add)
        for within in (0.10, 0.05):
            print(name, "within", within, solve(halves, lot, piece, round(within * UG)), flush=True)
        plan = solve(halves, lot, piece, round(0.10 * UG), step, 25)
        print(name, "recut, most sets", plan["sets"], plan["status"], flush=True)
        plan = solve(halves, lot, piece, round(0.10 * UG), step, 25, plan["sets"])
        print(name, "recut, no plan cuts less than", plan, "grams", plan["least_steps"] * step / UG,
              flush=True)
