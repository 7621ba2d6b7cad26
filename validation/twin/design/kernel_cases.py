"""From kernel.json to validation cases. Run: python kernel_cases.py > ../../design/dunlin_kernel.toml"""
import json

# The solids in the order of the STEP file: right before left, inner ring before outer.
NAMES = ["half right", "half left", "rim right", "rim left", None, None, "axle centre", "pad right", "pad left"]
with open("kernel.json") as f:
    found = json.load(f)
print("# The bodies of examples/first_lot/dunlin.toml as a general-purpose solid modeller sees them.")
print("# Written by validation/twin/design/kernel_cases.py; per unit of density (mm3, mm5).\n")
for name, s in zip(NAMES, found["solids"]):
    if name is None:
        continue
    assert s["valid"], name
    piece, side = name.split()
    print(f"""[[case]]
name = "dunlin_{piece}_{side}"
kind = "twin"
source = "derived"
locator = "validation/twin/design/kernel.json"
inputs = {{ file = "examples/first_lot/dunlin.toml", piece = "{piece}", side = "{side}" }}
value = {{ volume_mm3 = "{s['volume_mm3']:.12g}", centre_of_mass_mm = "{s['x_mm']:.9f}", polar_mm5 = "{s['polar_mm5']:.12g}", transverse_mm5 = "{s['transverse_mm5']:.12g}" }}
tolerance = "2e-8"
relative = true
reason = "the modeller errs by 3e-9 on solids of known moments, and its two inertias across, equal by symmetry, differ by 9e-9"
""")
