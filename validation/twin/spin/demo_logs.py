"""The demo's logs of spins that never happened: invented, seeded. Writes them into examples/first_lot.

The law is that of the theory page: a constant torque of the dry bearing, oil that goes with the power 2/3 of the
speed, laminar faces (power 1.5), a rim (power 1.745). Inertia 3.3668e-5 kg m2, the Dunlin's from its drawing.
"""

import pathlib

import numpy
from scipy.integrate import solve_ivp

FOLDER = pathlib.Path(__file__).resolve().parents[3] / "examples" / "first_lot"
RPM = numpy.pi / 30
INERTIA = 3.3668e-5
AT = 4000 * RPM


def spin(start_rpm, dry, oil, seconds, step, inertia=INERTIA, faces=55e-6, rim=28e-6):
    def slowing(_, w):
        x = max(w[0], 0.0) / AT
        return [-(dry * (w[0] > 0) + oil * x ** (2 / 3) + faces * x**1.5 + rim * x**1.745) / inertia]

    def stands(_, w):
        return w[0] - 3.0

    stands.terminal = True
    times = numpy.arange(0.0, seconds + step / 2, step)
    found = solve_ivp(slowing, (0.0, times[-1]), [start_rpm * RPM], t_eval=times, rtol=1e-9, atol=1e-9, events=stands)
    return found.t, found.y[0] / RPM


def write(name, note, header, rows):
    text = f"# Invented: {note}\n{header}\n" + "".join(row + "\n" for row in rows)
    (FOLDER / name).write_text(text)


def throws(rng):
    for number, start in enumerate((3870, 4050, 3760), start=1):
        times, speeds = spin(start, 5.0e-6 * rng.normal(1, 0.04), 0.0, 260, 1.0)
        speeds = speeds + rng.normal(0, 2.9, len(speeds))
        note = f"throw {number} of the Dunlin, bearing washed and dry (seed 20261125)."
        write(f"throw_dry_{number}.csv", note, "time_s,speed_rpm", [f"{t:.1f},{n:.1f}" for t, n in zip(times, speeds)])
    for number, start in enumerate((3940, 3820, 4010), start=1):
        times, speeds = spin(start, 6.0e-6 * rng.normal(1, 0.04), 34e-6 * rng.normal(1, 0.04), 200, 1.0)
        speeds = speeds + rng.normal(0, 2.9, len(speeds))
        note = f"throw {number} of the same piece, one drop of oil too many (seed 20261125)."
        write(f"throw_oiled_{number}.csv", note, "time_s,speed_rpm", [f"{t:.1f},{n:.1f}" for t, n in zip(times, speeds)])


def tray(rng):
    rows = []
    dry = rng.lognormal(numpy.log(13e-6), 0.25, 12)
    dry[4], dry[9] = 95e-6, 140e-6
    for number, torque in enumerate(dry, start=1):
        start = rng.normal(900, 60)
        times, speeds = spin(start, torque, 0.3 * torque, 30, 0.05, inertia=9.0e-7, faces=1e-6, rim=1e-6)
        speeds = speeds + rng.normal(0, 1.5, len(speeds))
        rows += [f"B{number:02},{t:.2f},{n:.1f}" for t, n in zip(times, speeds)]
    note = "twelve bearings of the Dunlin flicked by finger on a disc of 900 g·mm2 (seed 20261125)."
    write("bearings.csv", note, "bearing,time_s,speed_rpm", rows)


if __name__ == "__main__":
    rng = numpy.random.default_rng(20261125)
    throws(rng)
    tray(rng)
