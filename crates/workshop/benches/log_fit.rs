//! The fit of 10,000 readings.
//!
//! Baseline: SciPy's `curve_fit` of the same law to as many readings, `validation/twin/spin/log_fit.py`, whose
//! figures stand in `log_fit.txt` beside it.

use whirlwright_kit::random::SplitMix64;
use whirlwright_workshop::part::{LogGatherer, SpinLog};
use whirlwright_workshop::spin::{LogGiven, fit_log};

fn main() {
    divan::main();
}

/// Readings over 180 s of a fall from 420 rad/s, with a scatter of 0.3 rad/s.
fn readings(count: usize) -> Vec<(f64, f64)> {
    let (a, c) = (0.178_571_4, 3.969_701e-4);
    let mut draws = SplitMix64::new(12_345);
    let dt = 180.0 / count as f64;
    let mut speed = 420.0f64;
    (0..count)
        .map(|n| {
            let noise = (-2.0 * draws.uniform().ln()).sqrt()
                * (std::f64::consts::TAU * draws.uniform()).cos();
            let read = (n as f64 * dt, speed + 0.3 * noise);
            // The midpoint rule is far finer than the noise.
            let half = speed - 0.5 * dt * (a + c * speed.powf(1.5));
            speed -= dt * (a + c * half.powf(1.5));
            read
        })
        .collect()
}

fn given(count: usize) -> LogGiven {
    let (times, speeds): (Vec<f64>, Vec<f64>) = readings(count).into_iter().unzip();
    let log = SpinLog::from_speeds("bench", &times, &speeds, None).expect("the bench's log falls");
    LogGiven::new(log).expect("the bench's log is believed")
}

/// The whole answer, other laws tried and advice included.
#[divan::bench(args = [1000, 10_000, 100_000])]
fn fit_of_readings(bencher: divan::Bencher, count: usize) {
    let given = given(count);
    bencher.bench(|| fit_log(divan::black_box(&given)));
}

/// The checks of a log before it.
#[divan::bench]
fn checks_of_10_000_readings(bencher: divan::Bencher) {
    let (times, speeds): (Vec<f64>, Vec<f64>) = readings(10_000).into_iter().unzip();
    bencher.bench(|| SpinLog::from_speeds("bench", &times, &speeds, None));
}

/// A log of ten million lines, gathered in the memory of 65,536.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn gather_of_10_million_readings(bencher: divan::Bencher) {
    let some = readings(100_000);
    bencher.bench(|| {
        let mut gather = LogGatherer::new("bench");
        for (at, (time_s, speed)) in some.iter().enumerate() {
            for part in 0..100 {
                gather.push(time_s + 1.8e-5 * f64::from(part), *speed);
            }
            divan::black_box(at);
        }
        gather.finish(None)
    });
}
