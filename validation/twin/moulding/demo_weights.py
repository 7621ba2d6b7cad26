"""Makes examples/first_lot/hold_study.csv, the invented weighings of the demo's hold-time study.

The curve is the program's own for a mould that takes heat at 0.7 of what the job takes for granted (lines in need of
descaling: film_pressed = "1750 W/(m2·K)", film_loose = "455 W/(m2·K)" in [mould]), as it prints it with
    whirlwright mould JOB --study freeze --runs 14 --format json > study.json
Laid over it: cavity 3 is 0.45 % heavier at every hold (its hollow is larger); cavity 2 is lighter only while the gate is
open, by 1.0 % at the shortest hold (its runner is tighter); a scatter of 4 mg from shot to shot; a scale of 0.01 g.

Run: python3 demo_weights.py study.json
"""

import json
import math
import random
import sys
from pathlib import Path

OUT = Path(__file__).resolve().parents[3] / "examples" / "first_lot" / "hold_study.csv"
rng = random.Random(26)
runs = json.load(open(sys.argv[1]))["runs"]
lines = ["cavity,hold_s,mass_g"]
for run in runs:
    time = run["hold_s"]
    for _ in range(3):
        for cavity in "1234":
            off = {"2": -0.010 * math.exp(-(time - runs[0]["hold_s"]) / 2.5), "3": 0.0045}.get(cavity, 0.0)
            mass = run["mass_g"] * (1 + off) + rng.gauss(0, 0.004)
            lines.append(f"{cavity},{time:.1f},{mass:.2f}")
OUT.write_text("\n".join(lines) + "\n")
