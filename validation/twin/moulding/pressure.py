"""The pressure of a full mould once more, in scikit-fem and SciPy: the baseline of the bench `moulding`.

An annulus of radius 4 to 28 mm whose wall passes 1 m3/(Pa s) everywhere. 1 m3/s comes in through an edge gate 4 mm wide at
the outside, and leaves evenly over the inner edge, which stands at no pressure. Bilinear quadrilaterals on a grid of rings
and columns with as many unknowns as the cells of the program's grid; assembled, factored (SciPy's SuperLU) and solved.
Says the mean pressure over the gate, that on the edge opposite, and how long each part took (the best of several).

Run: python3 pressure.py > pressure.txt
"""

import time

import numpy as np
from scipy.sparse import csr_matrix
from scipy.sparse.linalg import splu
from skfem import Basis, BilinearForm, ElementQuad1, MeshQuad
from skfem.helpers import grad

INNER, OUTER, GATE = 4.0, 28.0, 4.0


@BilinearForm
def passes(p, q, w):
    # Coordinates are radius and angle: r p_r q_r + p_a q_a / r.
    g, h = grad(p), grad(q)
    return w.x[0] * g[0] * h[0] + g[1] * h[1] / w.x[0]


def solve(rings, columns):
    # The circle is cut at the gate; the two sides of the cut are given the same unknowns.
    r = np.linspace(INNER, OUTER, rings + 1)
    a = np.linspace(0.0, 2.0 * np.pi, columns + 1)
    mesh = MeshQuad.init_tensor(r, a)
    start = time.perf_counter()
    basis = Basis(mesh, ElementQuad1())
    matrix = passes.assemble(basis).tocsr()
    x, y = basis.doflocs
    # Join angle 2 pi to angle 0.
    key = {}
    for dof in np.nonzero(y < 1e-9)[0]:
        key[round(float(x[dof]), 9)] = dof
    to = np.arange(matrix.shape[0])
    for dof in np.nonzero(y > 2.0 * np.pi - 1e-9)[0]:
        to[dof] = key[round(float(x[dof]), 9)]
    kept, number = np.unique(to, return_inverse=True)
    joined = csr_matrix((np.ones(len(to)), (np.arange(len(to)), number)), shape=(len(to), len(kept)))
    matrix = (joined.T @ matrix @ joined).tocsc()
    x, y = x[kept], y[kept]
    # The inflow over the gate's arc, linear shape functions integrated over it.
    load = np.zeros(len(kept))
    half, step = 0.5 * GATE / OUTER, 2.0 * np.pi / columns
    fine = (np.arange(20000) + 0.5) / 20000 * 2.0 * half - half
    outside = np.nonzero(np.abs(x - OUTER) < 1e-9)[0]
    share = np.zeros(len(outside))
    for i, dof in enumerate(outside):
        off = (fine - y[dof] + np.pi) % (2.0 * np.pi) - np.pi
        share[i] = np.mean(np.maximum(0.0, 1.0 - np.abs(off) / step))
    load[outside] = share
    free = np.nonzero(x > INNER + 1e-9)[0]
    built = time.perf_counter()
    factor = splu(matrix[free][:, free])
    p = np.zeros(len(kept))
    p[free] = factor.solve(load[free])
    done = time.perf_counter()
    gate = float(load @ p)
    opposite = outside[np.argmin(np.abs(y[outside] - np.pi))]
    return len(free), gate, float(p[opposite]), built - start, done - built


if __name__ == "__main__":
    for rings, columns in [(12, 18), (16, 48), (32, 96), (64, 192), (256, 768)]:
        runs = [solve(rings, columns) for _ in range(3 if rings > 100 else 7)]
        unknowns, gate, opposite, _, _ = runs[0]
        build, factor = min(r[3] for r in runs), min(r[4] for r in runs)
        print(
            f"{rings} x {columns}: {unknowns} unknowns, gate {gate:.6f}, opposite {opposite:.6f}, "
            f"assembled in {1e3 * build:.2f} ms, factored and solved in {1e3 * factor:.2f} ms"
        )
