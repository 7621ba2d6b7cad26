"""The finite elements once more, in scikit-fem and SciPy: the same mesh, the same elements, another program.

For each mesh file (written by the bench `elements` with `-- meshes FOLDER`): assembles the axisymmetric stiffness on
quadratic triangles, factors it (SciPy's SuperLU), solves for a pressure of 1 MPa on both faces of the seat, and
says the strain energy, the displacement at the ends of the seat, and how long it took.

Run: python3 scikit_fem.py small.mesh [other.mesh ...] > scikit_fem.txt
"""
import resource
import sys
import time

import numpy as np
from scipy.sparse.linalg import splu
from skfem import Basis, BilinearForm, ElementTriP2, ElementVector, MeshTri, MeshTri2

MATERIALS = {1: (2000.0, 0.38), 2: (70000.0, 0.33)}


def read(path):
    with open(path) as lines:
        nodes, triangles = map(int, next(lines).split())
        p = np.array([[float(x) for x in next(lines).split()] for _ in range(nodes)])
        t = np.array([[int(x) for x in next(lines).split()] for _ in range(triangles)])
        edges = np.array([[int(x) for x in line.split()] for line in lines])
    return p, t[:, :6], t[:, 6], edges


def quadratic_mesh(p, six):
    """The mesh in scikit-fem's numbering, its middle nodes where ours are."""
    corners = np.unique(six[:, :3])
    number = np.full(len(p), -1)
    number[corners] = np.arange(len(corners))
    flat = MeshTri(p[corners].T, number[six[:, :3]].T)
    mesh = MeshTri2.from_mesh(flat)
    middle = {}
    for a, b, c, ab, bc, ca in six:
        for i, j, m in ((a, b, ab), (b, c, bc), (c, a, ca)):
            middle[tuple(sorted((number[i], number[j])))] = m
    places = np.array(mesh.doflocs)
    facet_dofs = Basis(flat, ElementTriP2()).dofs.facet_dofs[0]
    for facet, (i, j) in enumerate(flat.facets.T):
        places[:, facet_dofs[facet]] = p[middle[tuple(sorted((i, j)))]]
    return MeshTri2(places, mesh.t), number


def main(path):
    p, six, regions, edges = read(path)
    start = time.perf_counter()
    mesh, number = quadratic_mesh(p, six)
    made = time.perf_counter()
    basis = Basis(mesh, ElementVector(ElementTriP2()), intorder=5)
    e = np.array([MATERIALS[r][0] for r in regions])[:, None]
    v = np.array([MATERIALS[r][1] for r in regions])[:, None]
    lam, mu = e * v / ((1 + v) * (1 - 2 * v)), e / (2 * (1 + v))

    @BilinearForm
    def stiffness(u, w, ctx):
        r = ctx.x[1]
        du, dw = u.grad, w.grad
        hu, hw = u.value[1] / r, w.value[1] / r
        tu, tw = du[0, 0] + du[1, 1] + hu, dw[0, 0] + dw[1, 1] + hw
        direct = du[0, 0] * dw[0, 0] + du[1, 1] * dw[1, 1] + hu * hw
        shear = (du[0, 1] + du[1, 0]) * (dw[0, 1] + dw[1, 0])
        return 2 * np.pi * r * (lam * tu * tw + 2 * mu * direct + mu * shear)

    k = stiffness.assemble(basis)
    assembled = time.perf_counter()
    # Pressure on the straight seat: each edge's consistent forces away from or toward the axis.
    f = np.zeros(basis.N)
    flat = MeshTri(mesh.p, mesh.t)
    facet = {tuple(sorted(ij)): n for n, ij in enumerate(flat.facets.T)}
    gauss = [(0.5 - 0.15**0.5, 5 / 18), (0.5, 4 / 9), (0.5 + 0.15**0.5, 5 / 18)]
    pins, ends = [], []
    for label, sign in ((1, -1.0), (2, 1.0)):
        own = edges[edges[:, 3] == label]
        for a, b, m, _ in own:
            dofs = [basis.dofs.nodal_dofs[1, number[a]], basis.dofs.nodal_dofs[1, number[b]]]
            dofs.append(basis.dofs.facet_dofs[1, facet[tuple(sorted((number[a], number[b])))]])
            for t, weight in gauss:
                shape = np.array([(1 - t) * (1 - 2 * t), t * (2 * t - 1), 4 * t * (1 - t)])
                radius = shape @ p[[a, b, m], 1]
                length = abs(p[b, 0] - p[a, 0])
                f[dofs] += sign * 2 * np.pi * radius * weight * length * shape
        first = min(own[:, :2].ravel())
        pins.append(basis.dofs.nodal_dofs[0, number[first]])
        ends.append(basis.dofs.nodal_dofs[1, number[first]])
    free = np.setdiff1d(np.arange(basis.N), pins)
    inner = k[free][:, free].tocsc()
    ready = time.perf_counter()
    factor = splu(inner)
    factored = time.perf_counter()
    x = np.zeros(basis.N)
    x[free] = factor.solve(f[free])
    solved = time.perf_counter()
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"{path.split('/')[-1]}: {basis.N} unknowns, energy {0.5 * f @ x:.12g} N mm")
    print(f"  away at the first node of each seat: {x[ends[0]]:.12g} {x[ends[1]]:.12g} mm")
    print(
        f"  assemble {1e3 * (assembled - made):.0f} ms, factor {1e3 * (factored - ready):.0f} ms,"
        f" one solve {1e3 * (solved - factored):.0f} ms, most memory {memory:.0f} MB"
        " (reading and converting the mesh not counted)"
    )


for name in sys.argv[1:]:
    main(name)
