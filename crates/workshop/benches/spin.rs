//! One spin-down of a generic piece, and the whole answer of a design.
//!
//! Baseline: the same spin-down by SciPy's `solve_ivp` at `rtol=1e-8`, `validation/twin/spin/spin_down.py`,
//! whose figures stand in `spin_down.txt` beside it; run it on the machine of the bench.

use whirlwright_workshop::design;
use whirlwright_workshop::part::job::{MaterialKind, Piece, PieceMaterial, Side};
use whirlwright_workshop::part::{Job, Outline};
use whirlwright_workshop::spin::air::Air;
use whirlwright_workshop::spin::faces::{FaceStrip, Faces};
use whirlwright_workshop::spin::oil::Oil;
use whirlwright_workshop::spin::rim::{Rim, RimBand};
use whirlwright_workshop::spin::sleep::sleep_s;
use whirlwright_workshop::spin::speed::in_rad_per_s;
use whirlwright_workshop::spin::{Given, Law, Loss, LossName, Losses, spin};

fn main() {
    divan::main();
}

/// The piece of the baseline: dry torque, oil, two faces of 28 mm, a rim of 20 mm.
fn losses() -> Losses {
    let air = Air {
        density_kg_m3: 1.2041,
        viscosity_pa_s: 1.8134e-5,
    };
    let strip = FaceStrip {
        inner_mm: 0.0,
        outer_mm: 28.0,
        sine_ratio: 1.0,
    };
    let band = RimBand {
        radius_mm: 28.0,
        length_mm: 20.0,
    };
    let loss = |name, factor, law| Loss { name, factor, law };
    Losses {
        all: vec![
            loss(
                LossName::BearingDry,
                5.0,
                Law::Constant { coefficient: 1e-6 },
            ),
            loss(LossName::BearingOil, 0.1, Law::Oil(Oil::new(10.0, 9.525))),
            loss(
                LossName::Faces,
                1.0,
                Law::Faces(Faces::new(&[strip; 2], air)),
            ),
            loss(LossName::Rim, 1.0, Law::Rim(Rim::new(&[band], air))),
        ],
    }
}

/// 4000 to 500 rpm, to be set beside the baseline.
#[divan::bench]
fn one_spin_down(bencher: divan::Bencher) {
    let losses = losses();
    let (from, to) = (in_rad_per_s(4000.0), in_rad_per_s(500.0));
    bencher.bench(|| sleep_s(divan::black_box(&losses), 2.8e-5, from, to));
}

/// The whole answer: 400 draws, levers, curve, turn and wobble.
#[divan::bench]
fn whole_answer(bencher: divan::Bencher) {
    let piece = |path: &str, density_g_cm3: f64| Piece {
        name: format!("piece of {density_g_cm3}"),
        side: Side::Both,
        outline: Outline::read(path).expect("a path"),
        material: PieceMaterial {
            density_g_cm3,
            shelf_id: None,
            kind: MaterialKind::Metal,
            why: "as the bench says".to_owned(),
        },
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    };
    let job = Job {
        name: "bench".to_owned(),
        pieces: vec![
            piece("M 2.2 3 H 14 V 24 H 12 C 9 20 4 14 2.2 9 Z", 1.2),
            piece("M 12 24 H 20 V 28 H 12 Z", 2.8),
        ],
        ..Job::default()
    };
    let design = design::Given::new(job).expect("a sound drawing");
    let given = Given::new(&design).expect("a spin");
    bencher.bench(|| spin(divan::black_box(&given)));
}
