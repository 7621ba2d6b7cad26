"""One spin-down of a generic piece by SciPy, stepped, and the sleeps of the table: independent of the program.

Piece: 28000 g·mm2, two faces of 28 mm radius, a rim of 20 mm, air 1.2041 kg/m3 and 1.8134e-5 Pa·s, bearing with a dry
torque and Palmgren's oil (branches as printed). Run: python3 spin_down.py > spin_down.txt
"""

import math
import time

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

RHO, MU = 1.2041, 1.8134e-5
NU = MU / RHO
INERTIA, RADIUS, RIM, PITCH = 2.8e-5, 0.028, 0.020, 9.525


def faces(w):
    return 2 * 0.967488035 * math.sqrt(RHO * MU) * RADIUS**4 * w**1.5


def coefficient(re):
    def off(log_c):
        c = math.exp(log_c)
        return 1 / math.sqrt(c) + 0.6 - 4.07 * math.log10(re * math.sqrt(c))

    return max(math.exp(brentq(off, math.log(1e-5), math.log(10.0), xtol=1e-13)), 4 / re)


# The law of the rim is tabulated once, so that the stepping itself is timed and not the root finder.
LOG_RE = np.linspace(math.log(1e1), math.log(1e6), 4000)
LOG_C = np.array([math.log(coefficient(math.exp(x))) for x in LOG_RE])


def rim(w):
    re = w * RADIUS**2 / NU
    c = math.exp(float(np.interp(math.log(re), LOG_RE, LOG_C)))
    return c * 0.5 * RHO * (w * RADIUS) ** 2 * 2 * math.pi * RADIUS * RIM * RADIUS


def oil(w, f0, nu):
    n = w * 60 / (2 * math.pi)
    product = nu * n
    per_f0 = 1e-7 * product ** (2 / 3) * PITCH**3 if product >= 2000 else 160e-7 * PITCH**3
    return f0 * per_f0 * 1e-3


def sleep(dry, f0, nu, factor, rpm, rtol=1e-10):
    def slope(_, y):
        w = y[0]
        return [-(dry * 1e-6 + oil(w, f0, nu) + faces(w) + factor * rim(w)) / INERTIA]

    def stop(_, y):
        return y[0] - 500 * 2 * math.pi / 60

    stop.terminal = True
    start = rpm * 2 * math.pi / 60
    found = solve_ivp(slope, (0, 1e5), [start], rtol=rtol, atol=1e-12, events=stop)
    return found.t_events[0][0]


print(f"numpy {np.__version__}, scipy {scipy.__version__}")
for dry, f0, nu in [(0, 0, 10), (5, 0, 10), (5, 0.1, 10), (5, 0.3, 10), (5, 1, 15)]:
    row = [sleep(dry, f0, nu, 1.0, rpm) for rpm in (2000, 3000, 4000, 5000, 6000, 8000)]
    row.append(sleep(dry, f0, nu, 0.5, 4000))
    print(f"dry {dry} uN·m, f0 {f0}, {nu} cSt: " + " ".join(f"{t:.3f}" for t in row) + " s")

rounds = []
for _ in range(60):
    begin = time.process_time()
    sleep(5, 0.1, 10, 1.0, 4000, rtol=1e-8)
    rounds.append(time.process_time() - begin)
rounds.sort()
print(f"solve_ivp, rtol 1e-8, 4000 to 500 rpm, time of the processor: {rounds[len(rounds) // 2] * 1e3:.2f} ms (median of {len(rounds)}), least {rounds[0] * 1e3:.2f} ms")
