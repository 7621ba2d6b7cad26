"""Mass removed by a drilled hole, and its centre, by brute force: a fine grid of small boxes.

Independent of the program: no lines, no Gauss rule; every box whose middle is in the section and in the tool
counts. Ring 58 x 48 x 8 mm with a 1 mm chamfer at its outer corner, 2.70 g/cm3.
Run: python3 holes.py > holes.txt
"""
import numpy as np

DENSITY = 2.70e-3


def in_section(x, rho):
    inside = (x >= 13.5) & (x <= 21.5) & (rho >= 24.0) & (rho <= 29.0)
    return inside & ((x - 20.5) + (rho - 28.0) <= 1.0)


def grid(a0, a1, n):
    return a0 + (np.arange(n) + 0.5) * (a1 - a0) / n


def hole(kind, at, diameter, depth, point_deg, n=560):
    a = diameter / 2
    slope = np.tan(np.radians(point_deg / 2)) if point_deg < 180 else np.inf
    tip = a / slope
    mouth = 21.5 if kind == "axial" else 29.0
    across = grid(-a, a, n)
    along = grid(mouth - depth - tip, mouth, n)
    box = (2 * a / n) ** 2 * (depth + tip) / n
    u, v = np.meshgrid(across, across, indexing="ij")
    off = np.hypot(u, v)
    volume = moment = place = 0.0
    for t in along:
        tool = (off <= a) & (t >= mouth - depth - (a - off) / slope)
        if kind == "axial":
            y, z, x = at + u, v, np.full_like(u, t)
        else:
            x, z, y = at + u, v, np.full_like(u, t)
        inside = tool & in_section(x, np.hypot(y, z))
        volume += inside.sum() * box
        moment += y[inside].sum() * box
        place += x[inside].sum() * box
    return volume * DENSITY, moment / volume, place / volume


for name, args in {
    "axial_flat": ("axial", 26.0, 2.0, 3.0, 180.0),
    "axial_point": ("axial", 26.0, 3.0, 4.0, 118.0),
    "axial_through_chamfer": ("axial", 27.2, 2.0, 3.0, 118.0),
    "radial_flat": ("radial", 17.0, 3.0, 2.0, 180.0),
    "radial_point": ("radial", 17.0, 4.0, 2.0, 118.0),
}.items():
    mass, radius, x = hole(*args)
    print(f"{name} {mass:.6f} g radius {radius:.5f} mm x {x:.5f} mm")
