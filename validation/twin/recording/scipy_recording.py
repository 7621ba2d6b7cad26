"""Baseline of the recording bench: ten minutes of a mark at 48 kHz and 16 bits, by NumPy and SciPy.

Writes the recording itself, then reads it, finds its pulses, smooths the angle, and fits order 1 of a second
channel over the angle. Whole arrays, as one would write it; run: python3 scipy_recording.py > scipy_recording.txt
"""

import os
import resource
import tempfile
import time

import numpy as np
from scipy.interpolate import make_lsq_spline
from scipy.io import wavfile
from scipy.signal import find_peaks

RATE, LASTS = 48_000, 600.0
BEGIN, END = 4000.0 * np.pi / 30.0, 600.0 * np.pi / 30.0


def law(t):
    root = BEGIN**-0.5
    slowing = (END**-0.5 - root) / LASTS
    return t / (root * (root + slowing * t)) / (2 * np.pi), (root + slowing * t) ** -2


def write(path, channels):
    rng = np.random.default_rng(1)
    n = int(RATE * LASTS)
    out = np.empty((n, channels), dtype=np.int16)
    for begin in range(0, n, 1 << 20):
        t = np.arange(begin, min(n, begin + (1 << 20))) / RATE
        turns, _ = law(t)
        off = turns - np.round(turns)
        mark = 0.6 * np.exp(-0.5 * (off / 0.006) ** 2) + 0.03 * rng.standard_normal(len(t))
        out[begin : begin + len(t), 0] = np.clip(mark, -1, 1) * 32767
        if channels == 2:
            tone = 0.2 * np.cos(2 * np.pi * turns + 0.35) + 0.1 * rng.standard_normal(len(t))
            out[begin : begin + len(t), 1] = np.clip(tone, -1, 1) * 32767
    wavfile.write(path, RATE, out if channels == 2 else out[:, 0])


def hear(path):
    rate, data = wavfile.read(path)
    data = data.reshape(len(data), -1) / 32768.0
    mark = data[:, 0]
    height = 0.5 * np.quantile(mark[: 10 * rate], 0.9995)
    peaks, _ = find_peaks(mark, height=height, distance=rate // 250)
    before, here, after = mark[peaks - 1], mark[peaks], mark[peaks + 1]
    bend = before - 2 * here + after
    times = (peaks + np.where(bend < 0, 0.5 * (before - after) / bend, 0.0)) / rate
    inner = np.arange(times[0] + 1.0, times[-1] - 1.0, 1.0)
    knots = np.r_[[times[0]] * 4, inner, [times[-1]] * 4]
    phase = make_lsq_spline(times, np.arange(len(times)), knots, k=3)
    speed = phase.derivative()(np.linspace(times[0], times[-1], 1000)) * 60
    if data.shape[1] == 1:
        return speed, None
    t = np.arange(int(times[0] * rate) + 1, int(times[-1] * rate)) / rate
    angle = 2 * np.pi * phase(t)
    sample = data[int(times[0] * rate) + 1 : int(times[-1] * rate), 1]
    columns = np.c_[np.ones_like(t), np.cos(angle), -np.sin(angle)]
    return speed, np.linalg.solve(columns.T @ columns, columns.T @ sample)


if __name__ == "__main__":
    folder = tempfile.mkdtemp()
    path = os.path.join(folder, "spin.wav")
    for channels, name in [(1, "mark alone"), (2, "mark and pick-up")]:
        write(path, channels)
        start, before = time.perf_counter(), time.process_time()
        speed, orders = hear(path)
        lasts, processor = time.perf_counter() - start, time.process_time() - before
        most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000
        said = "" if orders is None else f", order 1 {np.hypot(orders[1], orders[2]):.4f} of full scale"
        print(f"{name:<18} {lasts:.2f} s, of it {processor:.2f} s of one processor; process at most {most:.0f} MB: {speed[0]:.0f} to {speed[-1]:.0f} rpm{said}")
    os.remove(path)
