//! The closed-form fit with a million random pairs, and the press of drawn sections.
//!
//! Baseline: the same draws in NumPy, `validation/twin/fitting/numpy_pairs.py`, whose figure stands in `numpy_pairs.txt` beside
//! it; for the finite elements see the bench `elements` of the kit.

use whirlwright_workshop::fitting::{Draws, Given, fit, sections};
use whirlwright_workshop::part::Outline;
use whirlwright_workshop::part::fit_wishes::FitWishes;
use whirlwright_workshop::part::job::{Job, Piece, PieceMaterial, PressesOn, Side};
use whirlwright_workshop::{design, shelf};

fn main() {
    divan::main();
}

fn piece(name: &str, path: &str, word: &str) -> Piece {
    let found = shelf::material(word).expect("on the shelf");
    Piece {
        name: name.to_owned(),
        side: Side::Both,
        outline: Outline::read(path).expect("the bench's outline is a path"),
        material: PieceMaterial {
            density_g_cm3: found.density_g_cm3,
            shelf_id: Some(found.id.clone()),
            kind: found.kind,
            why: found.why(),
        },
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    }
}

/// A ring on a cup, with the limits of the demo.
fn drawn() -> design::Given {
    let mut ring = piece(
        "rim",
        "M 13.5 24 L 21.5 24 L 21.5 29 L 13.5 29 Z",
        "en-aw-6061",
    );
    ring.presses_on.push(PressesOn {
        piece: "half".to_owned(),
        overlap_mm: 0.06,
    });
    let cup = "M 11 10 L 13.5 10 L 13.5 22 L 21.5 22 L 21.5 24.045 L 11 24.045 Z";
    let job = Job {
        name: "bench".to_owned(),
        pieces: vec![piece("half", cup, "pc-abs"), ring],
        fit: Some(FitWishes {
            hole: Some("48 +0.015/-0.015".to_owned()),
            shaft: Some("48.09 +0.012/-0.012".to_owned()),
            torque_n_mm: Some(200.0),
            ..FitWishes::default()
        }),
        ..Job::default()
    };
    design::Given::new(job).expect("the bench's drawing is sound")
}

/// Everything the closed form answers, with a million pairs.
#[divan::bench]
fn fit_with_a_million_pairs(bencher: divan::Bencher) {
    let given = Given::of_design(&drawn()).expect("the bench's fit can be reckoned");
    let draws = Draws {
        pairs_count: 1_000_000,
        seed: 1,
    };
    bencher.bench(|| fit(divan::black_box(&given), divan::black_box(draws)));
}

/// Both meshes, both bounds of friction, the ends of the stiffness and the worst moment.
#[divan::bench]
fn sections_as_drawn(bencher: divan::Bencher) {
    let design = drawn();
    let given = Given::of_design(&design).expect("the bench's fit can be reckoned");
    bencher.bench(|| sections(divan::black_box(&design), divan::black_box(&given)));
}
