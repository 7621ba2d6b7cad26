//! The section of a 200-segment design.
//!
//! Baseline: the same numbers by dense quadrature in NumPy, `validation/twin/design/numpy_section.py`,
//! whose figures stand in `numpy_section.txt` beside it.

use whirlwright_workshop::design::{Given, section};
use whirlwright_workshop::part::job::{MaterialKind, Piece, PieceLimits, PieceMaterial, Side};
use whirlwright_workshop::part::{Job, Outline};

fn main() {
    divan::main();
}

/// Segments of the outline: a third lines, a third circular arcs, a third cubic curves, round a
/// wavy ring.
const SEGMENTS: usize = 200;

fn outline() -> String {
    let place = |n: usize| {
        let angle = std::f64::consts::TAU * (n % SEGMENTS) as f64 / SEGMENTS as f64;
        let radius = 8.0 + 0.8 * (9.0 * angle).cos();
        (12.0 + radius * angle.cos(), 15.0 + radius * angle.sin())
    };
    let mut path = String::new();
    for n in 0..SEGMENTS {
        let ((x0, y0), (x, y)) = (place(n), place(n + 1));
        if n == 0 {
            path.push_str(&format!("M {x0} {y0} "));
        }
        let third = |t: f64| (x0 + (x - x0) * t, y0 + (y - y0) * t + 0.01);
        match n % 3 {
            0 => path.push_str(&format!("L {x} {y} ")),
            1 => path.push_str(&format!("A 3 3 0 0 1 {x} {y} ")),
            _ => {
                let ((a, b), (c, d)) = (third(0.33), third(0.67));
                path.push_str(&format!("C {a} {b} {c} {d} {x} {y} "));
            }
        }
    }
    path + "Z"
}

fn job() -> Job {
    let piece = Piece {
        name: "ring".to_owned(),
        side: Side::Both,
        outline: Outline::read(&outline()).expect("the bench's outline is a path"),
        material: PieceMaterial {
            density_g_cm3: 1.13,
            shelf_id: None,
            kind: MaterialKind::Polymer,
            why: "as the bench says".to_owned(),
        },
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    };
    Job {
        name: "bench".to_owned(),
        limits: PieceLimits {
            least_wall_mm: Some(0.5),
            ..PieceLimits::default()
        },
        pieces: vec![piece],
        ..Job::default()
    }
}

/// The whole answer from a checked design.
#[divan::bench]
fn section_of_200_segments(bencher: divan::Bencher) {
    let given = Given::new(job()).expect("the bench's outline has no faults");
    bencher.bench(|| section(divan::black_box(&given)));
}

/// The checks before it: crossings, walls, overlaps.
#[divan::bench]
fn checks_of_200_segments(bencher: divan::Bencher) {
    let job = job();
    bencher.with_inputs(|| job.clone()).bench_values(Given::new);
}

/// Reading the outline's path.
#[divan::bench]
fn read_path_of_200_segments(bencher: divan::Bencher) {
    let path = outline();
    bencher.bench(|| Outline::read(divan::black_box(&path)));
}
