"""Two rings pressed together, solved without Lame's pressure formula.

Each ring in plane stress moves by u(r) = A r + B/r (plus its free thermal growth). The four constants follow from four
conditions set up as a linear system: no radial stress at the two free faces, the same radial stress at the seat, and
radii that meet there. Run: python3 rings.py > rings.txt
"""
import numpy as np


def press(r_i, R, r_o, e_i, nu_i, e_o, nu_o, delta, a_i=0.0, a_o=0.0, dT=0.0):
    def radial(r, e, nu):  # coefficients of A and B in the radial stress
        return np.array([e / (1 - nu), -e / (1 + nu) / r**2])

    solid = r_i == 0
    m, rhs = np.zeros((4, 4)), np.zeros(4)
    if solid:
        m[0, 1] = 1.0  # no B/r in a solid disc
    else:
        m[0, :2] = radial(r_i, e_i, nu_i)
    m[1, 2:] = radial(r_o, e_o, nu_o)
    m[2, :2], m[2, 2:] = radial(R, e_i, nu_i), -radial(R, e_o, nu_o)
    m[3] = [-R, -1 / R, R, 1 / R]
    rhs[3] = delta + R * (a_i - a_o) * dT
    if rhs[3] <= 0:
        return dict(p=0.0)
    A, B, C, D = np.linalg.solve(m, rhs)
    hoop = lambda a, b, r, e, nu: e / (1 - nu) * a + e / (1 + nu) * b / r**2
    return dict(
        p=-radial(R, e_i, nu_i) @ [A, B],
        ring_seat=hoop(C, D, R, e_o, nu_o),
        body_inside=hoop(A, B, r_i, e_i, nu_i) if not solid else hoop(A, 0, 1, e_i, nu_i),
        body_seat=hoop(A, B, R, e_i, nu_i),
        ring_growth=(C * r_o + D / r_o) * 1000,
        body_growth=(A * r_i + (B / r_i if not solid else 0)) * 1000,
    )


al = (70000, 0.33)
for name, e, nu, a in [("pom_like", 2800, 0.38, 110e-6), ("abs_like", 2200, 0.38, 90e-6), ("pa66_dry_like", 3000, 0.39, 85e-6)]:
    s = press(20, 24, 28, e, nu, *al, 0.05)
    hold = 0.25 * s["p"] * 2 * np.pi * 24 * 8
    print(f"{name}: p {s['p']:.7g} ring {s['ring_seat']:.7g} body {s['body_inside']:.7g} {s['body_seat']:.7g}"
          f" hold {hold:.7g} N {hold * 24 / 1000:.7g} N m; grows {s['ring_growth']:.5g} {s['body_growth']:.5g} um")
    for dT in (-25, -10, 20, 40):
        print(f"  {dT:+d} K: p {press(20, 24, 28, e, nu, *al, 0.05, a, 23e-6, dT)['p']:.7g}")
print(f"solid pom_like: p {press(0, 24, 28, 2800, 0.38, *al, 0.05)['p']:.7g}")
for name, d in [("p6 least", 0.5), ("p6 most", 21), ("s6 least", 9), ("s6 most", 29.5), ("u6 least", 22.5), ("u6 most", 43), ("x8 least", 29), ("x8 most", 68)]:
    print(f"{name}: p {press(20, 24, 28, 2800, 0.38, *al, d / 1000)['p']:.6g}")
for name, hour, later in [("pom_like", 2500, 1300), ("pc_like", 2200, 1900)]:
    kept = press(20, 24, 28, later, 0.38, *al, 0.05)["p"] / press(20, 24, 28, hour, 0.38, *al, 0.05)["p"]
    print(f"creep {name}: kept {kept:.7g}")
