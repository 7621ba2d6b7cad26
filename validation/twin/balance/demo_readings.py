"""Makes the invented readings of the demo: readings.toml, readings_no_phase.toml and
tracked.json in examples/first_lot.

The piece sits on a mandrel in two soft posts, far above the resonance of the posts: piece and mandrel turn
about their common principal axis. What a pick-up at a post sees is the mandrel's axis about that axis:

    y(x) = -S / M + x C / (Ip - It),   S = sum U_j,   C = sum U_j x_j

U_j: unbalance of plane j as a complex number (g mm, angle from the mark with rotation), x: place along the
axle; M, Ip and It are those of piece and mandrel together. On it lie the run-out of the mandrel (seen alone
in the slow roll) and noise.

Run from the root of the repository: python3 validation/twin/balance/demo_readings.py
"""

import cmath
import json
import math
import pathlib

import numpy as np

SEED = 20261125
PIECE_G = 63.014  # the Dunlin's section
# Piece and a steel mandrel of 120 g, 120 mm long and 13 mm thick.
MASS_G = PIECE_G + 120.0
IP = 33668.0 + 120.0 * 6.5**2 / 2.0
IT = 30574.0 + 120.0 * (3.0 * 6.5**2 + 120.0**2) / 12.0
PLANES = {"left": -17.5, "right": 17.5}
SENSORS = {"left post": -40.0, "right post": 40.0}
RADIUS_MM = 26.5
TRUE = {"left": (0.62, 236.0), "right": (0.47, 122.0)}  # g mm, deg
RUN_OUT = {"left post": (3.1, 40.0), "right post": (2.4, 300.0)}  # um, deg
TRIAL_G = 0.03
NOISE, FLOOR_UM = 0.02, 0.05
REPEATS = 3

rng = np.random.default_rng(SEED)
here = pathlib.Path(__file__).resolve().parents[3] / "examples" / "first_lot"


def polar(size, deg):
    return size * cmath.exp(1j * math.radians(deg))


def clean(sensor, unbalance):
    """Orbit in um under a pick-up, run-out left out."""
    static = sum(unbalance.values())
    couple = sum(u * PLANES[p] for p, u in unbalance.items())
    x = SENSORS[sensor]
    return 1000.0 * (-static / MASS_G + x * couple / (IP - IT))


def noisy(value):
    sd = NOISE * abs(value) + FLOOR_UM
    return value + sd * (rng.standard_normal() + 1j * rng.standard_normal())


def said(value):
    return f"{abs(value):.2f} um at {math.degrees(cmath.phase(value)) % 360.0:.1f} deg"


def reading(sensor, unbalance):
    value = clean(sensor, unbalance) + polar(*RUN_OUT[sensor])
    return [said(noisy(value)) for _ in range(REPEATS)]


def run(name, kind, speed, unbalance, added=None):
    lines = ["[[run]]", f'name = "{name}"', f'kind = "{kind}"', f'speed = "{speed}"']
    if added:
        lines.append(f'added = {{ plane = "{added}", mass = "{TRIAL_G} g", angle = "0 deg" }}')
    lines.append("[run.readings]")
    for sensor in SENSORS:
        texts = ", ".join(f'"{t}"' for t in reading(sensor, unbalance))
        lines.append(f'"{sensor}" = [{texts}]')
    return "\n".join(lines) + "\n"


HEAD = """# Invented readings of one Dunlin, made by a seeded simulation: no such piece was ever on a rig.
balance_readings = 1
name = "{name}"
note = "Invented demo readings"
mark = "scribed line"
turns = "counter-clockwise"
seen_from = "right"
angles = "with rotation"
"""

true = {p: polar(*v) for p, v in TRUE.items()}
nothing = {p: 0j for p in PLANES}


def with_trial(plane):
    return {p: u + (TRIAL_G * RADIUS_MM if p == plane else 0.0) for p, u in true.items()}


def planes():
    return "\n".join(
        f'[[plane]]\nname = "{p}"\nplace = "{x} mm"\nradius = "{RADIUS_MM} mm"\n' for p, x in PLANES.items()
    )


def sensors():
    return "\n".join(f'[[sensor]]\nname = "{s}"\nplace = "{x} mm"\n' for s, x in SENSORS.items())


two = "\n".join(
    [
        HEAD.format(name="D26-S017"),
        planes(),
        sensors(),
        "# Turned slowly by hand: what the pick-ups see of the mandrel alone.",
        run("slow roll", "slow roll", "60 rpm", nothing),
        run("as it came", "first", "2400 rpm", true),
        run("trial left", "trial", "2400 rpm", with_trial("left"), "left"),
        run("trial right", "trial", "2400 rpm", with_trial("right"), "right"),
    ]
)
(here / "readings.toml").write_text(two)

# One dressed half alone on a mandrel, a pick-up without phase: as it came, and a trial at three places.
HALF_U, HALF_M, TRIAL2_G = polar(0.41, 75.0), 28.8, 0.02
amplitudes = []
for angle in (None, 0, 120, 240):
    u = HALF_U + (polar(TRIAL2_G * RADIUS_MM, angle) if angle is not None else 0)
    value = 1000.0 * u / HALF_M
    texts = [f'"{abs(noisy(value)):.2f} um"' for _ in range(REPEATS)]
    added = "" if angle is None else f'added = {{ mass = "{TRIAL2_G} g", angle = "{angle} deg" }}\n'
    kind = "first" if angle is None else "trial"
    amplitudes.append(f'[[run]]\nkind = "{kind}"\n{added}reading = [{", ".join(texts)}]\n')
no_phase = "\n".join(
    [
        HEAD.format(name="D26-H0012 with its rim"),
        '[piece]\nmass = "28.8 g"\nspeed = "5000 rpm"\nlimit = "0.35 g·mm"\n',
        f'[[plane]]\nname = "half"\nplace = "17.5 mm"\nradius = "{RADIUS_MM} mm"\n',
        '[[sensor]]\nname = "seat"\n',
        *amplitudes,
    ]
)
(here / "readings_no_phase.toml").write_text(no_phase)

# What order tracking of a recording gives: the orbit of the seat, and the angle of the heavy spot.
static = sum(true.values()) / PIECE_G * 1000.0
tracked = {
    "note": "Invented demo data: the keys that are used of the answer to a tracked recording.",
    "station": "spin",
    "name": "D26-S017",
    "eccentricity_um": round(abs(static) + 0.11, 2),
    "eccentricity_um_sd": 0.25,
    "angle_deg": round(math.degrees(cmath.phase(static)) + 1.2, 1),
    "angle_deg_sd": 2.4,
}
(here / "tracked.json").write_text(json.dumps(tracked, indent=2) + "\n")

print("true unbalance, g mm at deg:")
for plane, (size, angle) in TRUE.items():
    print(f"  {plane}: {size} at {angle}")
print(f"  half alone: {abs(HALF_U):.2f} at {math.degrees(cmath.phase(HALF_U)):.1f}")
for sensor in SENSORS:
    print(f"as it came under {sensor}, run-out left out: {said(clean(sensor, true))}")
