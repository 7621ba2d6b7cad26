"""An independent fit of dw/dt = -(a + c w^1.5) to a synthetic log, and its time, by SciPy.

The model integrates with solve_ivp (rtol 1e-8); curve_fit uses finite differences. Run: python3 log_fit.py
"""
import time

import numpy as np
import scipy
from scipy.integrate import solve_ivp
from scipy.optimize import curve_fit

A, C, W0 = 5e-6 / 2.8e-5, 1.1115162168e-8 / 2.8e-5, 420.0


def model(t, w0, a, c, b=0.0, d=0.0):
    law = lambda _, w: -(a + b * w + c * np.abs(w) ** 1.5 + d * w * w)
    return solve_ivp(law, (0, t[-1]), [w0], t_eval=t, rtol=1e-8, atol=1e-8).y[0]


def told(name, t, w, fit, start):
    p, cov = curve_fit(fit, t, w, p0=start)
    sd = np.sqrt(np.diag(cov))
    rel = ", ".join(f"{100 * s / abs(v):.3g} %" for s, v in zip(sd[1:], p[1:]))
    cor = cov[1:, 1:] / np.outer(sd[1:], sd[1:])
    print(f"{name}: relative sd {rel}; correlation {cor[0, 1]:.4f}")


print("scipy", scipy.__version__, "numpy", np.__version__)
rng = np.random.default_rng(12345)
t = np.arange(0.0, 181.0)
w = model(t, W0, A, C) + 0.3 * rng.standard_normal(t.size)
two = lambda t, w0, a, c: model(t, w0, a, c)
told("a + c w^1.5, 180 s", t, w, two, [420, 0.2, 4e-4])
for span in (30, 60, 90):
    told(f"a + c w^1.5, {span} s", t[: span + 1], w[: span + 1], two, [420, 0.2, 4e-4])

t = np.linspace(0.0, 180.0, 10_000)
w = model(t, W0, A, C) + 0.3 * rng.standard_normal(t.size)
times = []
for _ in range(5):
    began = time.perf_counter()
    curve_fit(two, t, w, p0=[415, 0.2, 4.2e-4])
    times.append(time.perf_counter() - began)
print(f"curve_fit of 10,000 readings: {1e3 * min(times):.1f} ms (best of 5)")
