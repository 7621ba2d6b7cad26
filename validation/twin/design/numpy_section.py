"""Moments of the bench's 200-segment ring by dense quadrature in NumPy: the bench's baseline.

Run: python numpy_section.py > numpy_section.txt   (needs numpy)
Every segment is followed by chords; volume, axial centre, polar and transverse inertia come from the
polygon's boundary integrals. Reported: values at two densities of chords, and the time of one section
when the outline is already read (arrays made, integrals taken), best of many.
"""
import time
import numpy as np

N = 200


def place(n):
    a = 2 * np.pi * (n % N) / N
    r = 8 + 0.8 * np.cos(9 * a)
    return 12 + r * np.cos(a), 15 + r * np.sin(a)


def arc_points(p, q, r, t):
    # Sweep flag 1, small arc: the centre lies on the left of the way.
    d = q - p
    half = np.hypot(*d) / 2
    m = (p + q) / 2
    n = np.array([-d[1], d[0]]) / (2 * half)
    c = m + n * np.sqrt(r * r - half * half)
    a0 = np.arctan2(*(p - c)[::-1])
    a1 = np.arctan2(*(q - c)[::-1])
    da = (a1 - a0 + np.pi) % (2 * np.pi) - np.pi
    a = a0 + da * t
    return c[:, None] + r * np.array([np.cos(a), np.sin(a)])


def polygon(chords):
    t = np.arange(chords) / chords
    out = []
    for n in range(N):
        p, q = np.array(place(n)), np.array(place(n + 1))
        if n % 3 == 0:
            out.append(p[:, None] + (q - p)[:, None] * t)
        elif n % 3 == 1:
            out.append(arc_points(p, q, 3.0, t))
        else:
            b = p + (q - p) * 0.33 + np.array([0, 0.01])
            c = p + (q - p) * 0.67 + np.array([0, 0.01])
            s = 1 - t
            out.append(p[:, None] * s**3 + 3 * b[:, None] * s * s * t + 3 * c[:, None] * s * t * t + q[:, None] * t**3)
    return np.concatenate(out, axis=1)


def moments(x, y):
    x1, y1 = np.roll(x, -1), np.roll(y, -1)
    dx = x1 - x
    # -integral over x of y^2, x y^2, x^2 y^2, y^4/2 along straight chords, by three-point Gauss.
    g = np.sqrt(0.6) / 2
    v = mx = mxx = p = 0.0
    for node, weight in ((0.5 - g, 5 / 18), (0.5, 8 / 18), (0.5 + g, 5 / 18)):
        u, w = x + dx * node, y + (y1 - y) * node
        k = -np.pi * weight * dx
        w2 = w * w
        v += (k * w2).sum()
        mx += (k * u * w2).sum()
        mxx += (k * u * u * w2).sum()
        p += (k * w2 * w2 / 2).sum()
    return v, mx / v, p, p / 2 + mxx - mx * mx / v


for chords in (8, 64, 512):
    x, y = polygon(chords)
    times = []
    for _ in range(200):
        t0 = time.perf_counter()
        m = moments(x, y)
        times.append(time.perf_counter() - t0)
    print(f"{chords:4d} chords a segment: volume {m[0]:.9f} mm3, centre {m[1]:.9f} mm, polar {m[2]:.6f} mm5, "
          f"transverse {m[3]:.6f} mm5; best time {min(times) * 1e6:.0f} us")
