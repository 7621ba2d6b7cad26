"""Closed forms the finite elements are checked against; writes validation/elements/closed_forms.toml.

Lame's rings, the turning annulus (thin, and held between ends), the series of the suddenly cooled cylinder and slab.
Needs numpy and scipy. Run: python3 closed_forms.py
"""

import math
from pathlib import Path

from scipy.optimize import brentq
from scipy.special import j0, j1, jn_zeros

OUT = Path(__file__).resolve().parents[2] / "elements" / "closed_forms.toml"
ASKED = "0.2 % is what was asked of the elements"
cases = []


def text(value):
    return f"{value:.8g}"


def case(name, locator, inputs, value, tolerance, reason, kind="closed_form"):
    table = lambda items: "{ " + ", ".join(f'{k} = "{v}"' for k, v in items.items()) + " }"
    cases.append(
        f"""[[case]]
name = "{name}"
kind = "{kind}"
source = "derived"
locator = "{locator}"
inputs = {table(inputs)}
value = {table({k: text(v) for k, v in value.items()})}
tolerance = "{tolerance}"
relative = true
reason = "{reason}"
"""
    )


def plane(e, v, ends):
    """Modulus and ratio of the plane problem: free ends as they are, held ends stiffened."""
    return (e, v) if ends == "free" else (e / (1 - v * v), v / (1 - v))


def press(name, ends, radii, inner, outer, overlap, length, size, warmer=0.0):
    """Lame: inner ring, outer ring, radial overlap; both (modulus, ratio, expansion)."""
    ri, r, ro = radii
    (ei, vi), (eo, vo) = plane(*inner[:2], ends), plane(*outer[:2], ends)
    ki = (r * r + ri * ri) / (r * r - ri * ri) - vi
    ko = (ro * ro + r * r) / (ro * ro - r * r) + vo
    swell = 1.0 if ends == "free" else None
    ai, ao = inner[2], outer[2]
    if swell is None:
        # Held ends: the free strain grows by the ratio.
        ai, ao = ai * (1 + inner[1]), ao * (1 + outer[1])
    total = overlap + r * (ai - ao) * warmer
    p = max(0.0, total / (r * (ko / eo + ki / ei)))
    values = {
        "pressure_mpa": p,
        "outer_bore_round_mpa": p * (ro * ro + r * r) / (ro * ro - r * r),
        "inner_bore_round_mpa": -2 * p * r * r / (r * r - ri * ri),
        "outside_growth_mm": 2 * p * r * r * ro / (eo * (ro * ro - r * r)) + ro * ao * warmer,
        "inside_growth_mm": -2 * p * r * r * ri / (ei * (r * r - ri * ri)) + ri * ai * warmer,
    }
    case(
        name,
        f"two rings of Lame, ends {ends}; identity: hoop strains at the seat differ by the overlap over the radius",
        {
            "solve": "press",
            "ends": ends,
            "inside_mm": ri,
            "seat_mm": r,
            "outside_mm": ro,
            "length_mm": length,
            "overlap_mm": overlap,
            "warmer_k": warmer,
            "inner_modulus_mpa": inner[0],
            "inner_poisson": inner[1],
            "inner_expansion_per_k": inner[2],
            "outer_modulus_mpa": outer[0],
            "outer_poisson": outer[1],
            "outer_expansion_per_k": outer[2],
            "size_mm": size,
        },
        values,
        "2e-3",
        ASKED,
    )


AL = (70000.0, 0.33, 23e-6)
POM = (2800.0, 0.38, 110e-6)
ABS = (2200.0, 0.38, 90e-6)
PA = (3000.0, 0.39, 85e-6)
for word, stuff in (("acetal", POM), ("abs", ABS), ("nylon", PA)):
    press(f"ring_on_{word}", "free", (20, 24, 28), stuff, AL, 0.05, 2.0, 0.5)
    press(f"ring_on_{word}_held_ends", "held", (20, 24, 28), stuff, AL, 0.05, 2.0, 0.5)
press("ring_on_acetal_20_k_warmer", "free", (20, 24, 28), POM, AL, 0.05, 2.0, 0.5, 20.0)
press("ring_on_acetal_10_k_colder", "free", (20, 24, 28), POM, AL, 0.05, 2.0, 0.5, -10.0)
press("ring_on_acetal_held_20_k_warmer", "held", (20, 24, 28), POM, AL, 0.05, 2.0, 0.5, 20.0)
press("steel_150_200_250", "free", (150, 200, 250), (200e3, 0.3, 0), (200e3, 0.3, 0), 0.1, 20.0, 6.0)


def disc(name, ends, a, b, e, v, rho, rpm, length, size):
    """The turning annulus: radial displacement and hoop stress at both radii."""
    w2 = (rpm * math.pi / 30) ** 2
    q = rho * 1e-12 * w2
    ep, vp = plane(e, v, ends)
    # Plane stress form with the plane problem's constants.
    u = lambda r: (3 + vp) * (1 - vp) / 8 * q * r / ep * (
        a * a + b * b - (1 + vp) / (3 + vp) * r * r + (1 + vp) / (1 - vp) * a * a * b * b / (r * r)
    )
    hoop = lambda r: (3 + vp) / 8 * q * (
        a * a + b * b + a * a * b * b / (r * r) - (1 + 3 * vp) / (3 + vp) * r * r
    )
    case(
        name,
        f"turning annulus, ends {ends}: S. P. Timoshenko's form"
        + ("; a disc a hundredth as thick as its radius differs by less than a part in ten thousand" if ends == "free" else ""),
        {
            "solve": "disc",
            "ends": ends,
            "inside_mm": a,
            "outside_mm": b,
            "length_mm": length,
            "modulus_mpa": e,
            "poisson": v,
            "density_kg_m3": rho,
            "speed_rpm": rpm,
            "size_mm": size,
        },
        {
            "inside_growth_mm": u(a),
            "outside_growth_mm": u(b),
            "bore_round_mpa": hoop(a),
            "outside_round_mpa": hoop(b),
        },
        "2e-3",
        ASKED,
    )


disc("turning_ring_24_28", "held", 24, 28, 70000, 0.33, 2700, 10000, 2.0, 0.5)
disc("turning_disc_held", "held", 5, 28, 2800, 0.38, 1400, 10000, 1.0, 0.4)
disc("turning_disc_thin", "free", 5, 28, 2800, 0.38, 1400, 10000, 0.28, 0.2)


def heat(name, shape, half, k, c, rho, film, start, ambient, times, tolerance):
    """Fourier's series of the cooled cylinder (middle) and slab (middle); film None: surface held."""
    a = k / (c * rho) * 1e6
    bi = None if film is None else film * half * 1e-3 / k

    def roots(n):
        if shape == "cylinder":
            if bi is None:
                return jn_zeros(0, n)
            f = lambda x: x * j1(x) - bi * j0(x)
            edges = [1e-12, *jn_zeros(1, n)]
            return [brentq(f, lo, hi, xtol=1e-14) for lo, hi in zip(edges, edges[1:])]
        if bi is None:
            return [(i + 0.5) * math.pi for i in range(n)]
        f = lambda x: x * math.sin(x) - bi * math.cos(x)
        return [brentq(f, i * math.pi + 1e-12, (i + 1) * math.pi - 1e-12, xtol=1e-14) for i in range(n)]

    def middle(t):
        fo, total = a * t / half**2, 0.0
        for x in roots(60):
            if shape == "cylinder":
                weight = 2 / (x * j1(x)) if bi is None else 2 * j1(x) / (x * (j0(x) ** 2 + j1(x) ** 2))
            else:
                weight = 2 * math.sin(x) / x if bi is None else 4 * math.sin(x) / (2 * x + math.sin(2 * x))
            total += weight * math.exp(-x * x * fo)
        return ambient + (start - ambient) * total

    case(
        name,
        f"Fourier series of the {shape}, "
        + ("surface held" if film is None else "film at the surface")
        + ", 60 terms; the middle",
        {
            "solve": shape,
            "half_mm": half,
            "conductivity_w_m_k": k,
            "capacity_j_kg_k": c,
            "density_kg_m3": rho,
            "film_w_m2_k": "none" if film is None else film,
            "start_degc": start,
            "ambient_degc": ambient,
            "size_mm": 0.1,
        },
        {f"after_{t:g}_s": middle(t) for t in times},
        tolerance,
        "0.05 % of the temperature: steps of a fiftieth of the shortest time, second order",
    )


heat("cylinder_held", "cylinder", 1.0, 0.25, 2100, 1100, None, 265, 60, (1, 2, 4), "5e-4")
heat("cylinder_film", "cylinder", 1.0, 0.25, 2100, 1100, 800, 265, 60, (1, 2, 4), "5e-4")
heat("slab_held", "slab", 1.0, 0.25, 2100, 1100, None, 265, 60, (1, 2, 4), "5e-4")
heat("slab_film", "slab", 1.0, 0.25, 2100, 1100, 800, 265, 60, (1, 2, 4), "5e-4")

OUT.write_text(
    "# Closed forms for the finite elements. Written by validation/twin/elements/closed_forms.py.\n\n"
    + "\n".join(cases)
)
print(f"{len(cases)} cases")
