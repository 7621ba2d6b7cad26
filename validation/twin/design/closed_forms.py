"""Moments of solids with known formulas, written as validation cases.

Run: python closed_forms.py > ../../design/solids.toml
Formulas: volumes, centroids and moments of inertia as every handbook has them; here for a body of
density rho in g/cm3 and sizes in mm. Sixteen-digit arithmetic, ten digits printed.
"""
from math import pi

CASES = []


def case(name, locator, outline, rho, volume, centre, polar, across):
    g = rho * 1e-3
    values = {
        "volume_mm3": volume, "mass_g": g * volume, "centre_of_mass_mm": centre,
        "polar_inertia_g_mm2": g * polar, "transverse_inertia_g_mm2": g * across,
    }
    CASES.append((name, locator, outline, rho, values))


def cylinder(name, ro, ri, x0, x1, rho):
    h = x1 - x0
    v = pi * (ro**2 - ri**2) * h
    case(name, "hollow cylinder: polar m(R^2+r^2)/2, across m(3(R^2+r^2)+h^2)/12",
         f"M {x0} {ri} H {x1} V {ro} H {x0} Z", rho, v, (x0 + x1) / 2,
         v * (ro**2 + ri**2) / 2, v * (3 * (ro**2 + ri**2) + h**2) / 12)


cylinder("ring_58_48_8", 29, 24, 13.5, 21.5, 2.70)
cylinder("axle_m4_25", 2, 0, -12.5, 12.5, 7.85)
cylinder("thin_tube", 24, 23.99, 0, 30, 1.13)
cylinder("far_along_the_axle", 5, 3, 10000, 10004, 1.0)

r, h = 3, 8
v = pi * r * r * h / 3
case("cone", "right cone: centre 3/4 h from the tip, polar 3/10 m r^2, across (3/20 r^2 + 3/80 h^2) m",
     f"M 0 0 L {h} 0 L {h} {r} Z", 1.0, v, 0.75 * h, 0.3 * v * r * r, v * (0.15 * r * r + 3 / 80 * h * h))

p, q, h = 2, 5, 6
s = p * p + p * q + q * q
v = pi * h * s / 3
polar = pi * h * (q**5 - p**5) / (q - p) / 10
c = h / 4 * (p * p + 2 * p * q + 3 * q * q) / s
xx = pi * h**3 * (p * p / 3 + p * (q - p) / 2 + (q - p) ** 2 / 5)
case("frustum", "frustum of a cone: polar 3/10 m (R^5-r^5)/(R^3-r^3); across from the same integral",
     f"M 0 0 L {h} 0 L {h} {q} L 0 {p} Z", 1.4, v, c, polar, polar / 2 + xx - v * c * c)

r = 5
v = 4 / 3 * pi * r**3
case("sphere", "solid sphere: 2/5 m r^2", f"M -5 0 A 5 5 0 0 0 5 0 Z", 2.0, v, 0, 0.4 * v * r * r, 0.4 * v * r * r)
a, b = 7, 4
v = 4 / 3 * pi * a * b * b
case("ellipsoid", "ellipsoid: polar 2/5 m b^2, across m (a^2+b^2)/5", "M -7 0 A 7 4 0 0 0 7 0 Z", 1.0, v, 0,
     0.4 * v * b * b, v * (a * a + b * b) / 5)
r = 6
v = 2 / 3 * pi * r**3
case("hemisphere", "solid hemisphere: centre 3/8 r, polar 2/5 m r^2, across 83/320 m r^2",
     "M 0 0 L 6 0 A 6 6 0 0 1 0 6 Z", 1.0, v, 3 / 8 * r, 0.4 * v * r * r, 83 / 320 * v * r * r)
ra, rb = 20, 3
v = 2 * pi * pi * ra * rb * rb
case("torus", "solid torus: polar m (R^2 + 3/4 r^2), across m (4 R^2 + 5 r^2)/8",
     "M 4 23 A 3 3 0 0 0 4 17 A 3 3 0 0 0 4 23 Z", 1.2, v, 4, v * (ra**2 + 0.75 * rb**2),
     v * (4 * ra**2 + 5 * rb**2) / 8)
h, r = 4, 4
# radius falls as a parabola of x: y = r (1 - (x/h)^2), a quadratic Bezier exactly.
v = pi * r * r * h * 8 / 15
first = pi * r * r * h * h / 6
second = pi * r * r * h**3 * (1 / 3 - 2 / 5 + 1 / 7)
polar = pi / 2 * r**4 * h * 128 / 315
c = first / v
case("parabolic_ogive", "y = r(1-(x/h)^2): powers of x integrated term by term",
     f"M 0 0 L {h} 0 Q {h / 2} {r} 0 {r} Z", 1.0, v, c, polar, polar / 2 + second - v * c * c)

print("# Solids of known moments. Written by validation/twin/design/closed_forms.py.\n")
for name, locator, outline, rho, values in CASES:
    shown = ", ".join(f'{k} = "{v:.10g}"' for k, v in values.items())
    print(f"""[[case]]
name = "{name}"
kind = "closed_form"
source = "derived"
locator = "{locator}"
inputs = {{ outline = "{outline}", density = "{rho:.2f} g/cm3" }}
value = {{ {shown} }}
tolerance = "5e-10"
relative = true
reason = "ten digits are printed: half of the last one, at worst 5 parts in 10^10"
""")
