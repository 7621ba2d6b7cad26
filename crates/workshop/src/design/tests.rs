//! Cases from `validation/design`, and laws of the whole station.

use serde::Deserialize;

use super::*;
use crate::part::job::{
    Feature, FeatureShape, FeatureWeight, MaterialKind, Piece, PieceLimits, PieceMaterial,
    PressesOn, Side, Wanted,
};
use crate::part::{Dimension, Job, Outline, Quantity, Verdict};

/// Roundings of sums over bodies of like size.
const ROUNDING: f64 = 1e-12;

fn piece(name: &str, side: Side, outline: &str, density_g_cm3: f64) -> Piece {
    Piece {
        name: name.to_owned(),
        side,
        outline: Outline::read(outline).unwrap(),
        material: PieceMaterial {
            density_g_cm3,
            shelf_id: None,
            kind: MaterialKind::Unknown,
            why: "as the case says".to_owned(),
        },
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    }
}

fn job(pieces: Vec<Piece>) -> Job {
    Job {
        name: "case".to_owned(),
        limits: PieceLimits::default(),
        pieces,
        ..Job::default()
    }
}

fn body(pieces: Vec<Piece>) -> SectionBody {
    section(&Given::new(job(pieces)).unwrap()).body
}

fn near(name: &str, ours: f64, exact: f64, slack: f64) {
    assert!(
        (ours - exact).abs() <= slack,
        "{name}: {ours} against {exact}"
    );
}

#[derive(Deserialize)]
struct Cases {
    case: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    name: String,
    inputs: Inputs,
    value: toml::Table,
    tolerance: String,
    relative: bool,
}

#[derive(Deserialize)]
struct Inputs {
    outline: String,
    density: String,
}

#[test]
fn closed_form_solids_of_the_handbooks() {
    let cases: Cases =
        toml::from_str(include_str!("../../../../validation/design/solids.toml")).unwrap();
    assert!(cases.case.len() >= 11);
    for case in cases.case {
        assert!(case.relative);
        let density = Quantity::read(&case.inputs.density, Dimension::Density)
            .unwrap()
            .value;
        let found = body(vec![piece(
            "solid",
            Side::Right,
            &case.inputs.outline,
            density,
        )]);
        let line = serde_json::to_value(&found.pieces[0]).unwrap();
        let share: f64 = case.tolerance.parse().unwrap();
        for (key, printed) in &case.value {
            let (ours, printed) = (line[key].as_f64().unwrap(), printed.as_str().unwrap());
            let exact: f64 = printed.parse().unwrap();
            // A centre is a place: its scale is the size of the solid.
            let scale = if key == "centre_of_mass_mm" {
                exact.abs().max(found.width_mm)
            } else {
                exact.abs()
            };
            near(&format!("{} {key}", case.name), ours, exact, share * scale);
        }
    }
}

const HALF: &str =
    "M 2.2 2 L 2.2 11 Q 4 20 12 24 A 1.5 1.5 0 0 0 14 23 L 14 20 C 9 17 6 14 5 9 L 5 2 Z";

#[test]
fn law_a_mirrored_pair_has_its_centre_in_the_middle_and_no_couple() {
    let found = body(vec![piece("half", Side::Both, HALF, 1.13)]);
    assert_eq!(found.centre_of_mass_mm, 0.0);
    assert_eq!(
        (found.static_unbalance_g_mm, found.couple_unbalance_g_mm2),
        (0.0, 0.0)
    );
    let [left, right] = &found.pieces[..] else {
        panic!("two bodies")
    };
    assert_eq!(left.centre_of_mass_mm, -right.centre_of_mass_mm);
    assert_eq!(left.polar_inertia_g_mm2, right.polar_inertia_g_mm2);
    near("mass", found.mass_g, left.mass_g + right.mass_g, 0.0);
    // Steiner: each half brings its own inertia and its mass at its distance.
    let across =
        2.0 * (right.transverse_inertia_g_mm2 + right.mass_g * right.centre_of_mass_mm.powi(2));
    near(
        "across",
        found.transverse_inertia_g_mm2,
        across,
        ROUNDING * across,
    );
    let shares: f64 = found.pieces.iter().map(|p| p.inertia_share).sum();
    near("shares", shares, 1.0, ROUNDING);
}

#[test]
fn law_inertia_about_the_centre_does_not_depend_on_where_the_piece_is_drawn() {
    let here = body(vec![piece(
        "ring",
        Side::Right,
        "M 0 24 L 8 24 L 8 29 L 0 29 Z",
        2.7,
    )]);
    let there = body(vec![piece(
        "ring",
        Side::Right,
        "M 800 24 L 808 24 L 808 29 L 800 29 Z",
        2.7,
    )]);
    near(
        "across",
        there.transverse_inertia_g_mm2,
        here.transverse_inertia_g_mm2,
        1e-10 * here.transverse_inertia_g_mm2,
    );
    near(
        "polar",
        there.polar_inertia_g_mm2,
        here.polar_inertia_g_mm2,
        ROUNDING * here.polar_inertia_g_mm2,
    );
}

fn with_feature(shape: FeatureShape, count: u32, weight: FeatureWeight) -> SectionBody {
    let mut disc = piece("disc", Side::Right, "M 0 0 L 10 0 L 10 30 L 0 30 Z", 2.0);
    disc.features.push(Feature {
        name: "feature".to_owned(),
        shape,
        count,
        weight,
    });
    body(vec![disc])
}

fn same(a: &SectionBody, b: &SectionBody) {
    let slack = 1e-10;
    near("mass", a.mass_g, b.mass_g, slack * b.mass_g);
    near(
        "centre",
        a.centre_of_mass_mm,
        b.centre_of_mass_mm,
        slack * 10.0,
    );
    let (s, t) = (a.inertia_tensor_g_mm2, b.inertia_tensor_g_mm2);
    for (k, (x, y)) in [
        (s.xx, t.xx),
        (s.yy, t.yy),
        (s.zz, t.zz),
        (s.xy, t.xy),
        (s.xz, t.xz),
        (s.yz, t.yz),
    ]
    .into_iter()
    .enumerate()
    {
        near(&format!("tensor {k}"), x, y, slack * t.xx);
    }
}

#[test]
fn law_a_pocket_all_round_is_a_groove() {
    let pocket = |span_deg, angle_deg, count| {
        let shape = FeatureShape::RingSector {
            radius_mm: (12.0, 20.0),
            x_mm: (7.0, 10.0),
            angle_deg,
            span_deg,
        };
        with_feature(shape, count, FeatureWeight::Removed)
    };
    let groove = body(vec![piece(
        "disc",
        Side::Right,
        "M 0 0 L 10 0 L 10 12 L 7 12 L 7 20 L 10 20 L 10 30 L 0 30 Z",
        2.0,
    )]);
    same(&pocket(360.0, 0.0, 1), &groove);
    same(&pocket(120.0, 17.0, 3), &groove);
    same(&pocket(45.0, -5.0, 8), &groove);
}

#[test]
fn law_a_hole_on_the_axle_is_a_bore() {
    let shape = FeatureShape::AxialCylinder {
        diameter_mm: 8.0,
        radius_mm: 0.0,
        angle_deg: 33.0,
        x_mm: (0.0, 10.0),
    };
    let bore = body(vec![piece(
        "disc",
        Side::Right,
        "M 0 4 L 10 4 L 10 30 L 0 30 Z",
        2.0,
    )]);
    same(&with_feature(shape, 1, FeatureWeight::Removed), &bore);
}

#[test]
fn law_holes_all_round_leave_no_unbalance_and_one_leaves_its_own() {
    let shape = FeatureShape::AxialCylinder {
        diameter_mm: 3.0,
        radius_mm: 20.0,
        angle_deg: 10.0,
        x_mm: (6.0, 10.0),
    };
    let round = with_feature(shape, 5, FeatureWeight::Removed);
    near(
        "static",
        round.static_unbalance_g_mm,
        0.0,
        1e-12 * round.mass_g * 30.0,
    );
    let one = with_feature(shape, 1, FeatureWeight::Removed);
    let hole_g = std::f64::consts::PI * 2.25 * 4.0 * 2.0e-3;
    near(
        "static",
        one.static_unbalance_g_mm,
        hole_g * 20.0,
        1e-12 * one.mass_g * 30.0,
    );
}

#[test]
fn closed_form_two_equal_lumps_at_opposite_ends_make_a_pure_couple() {
    let mut disc = piece(
        "disc",
        Side::Right,
        "M -10 0 L 10 0 L 10 30 L -10 30 Z",
        2.0,
    );
    for (x_mm, angle_deg) in [(9.0, 0.0), (-9.0, 180.0)] {
        let shape = FeatureShape::Point {
            x_mm,
            radius_mm: 26.0,
            angle_deg,
        };
        disc.features.push(Feature {
            name: "clay".into(),
            shape,
            count: 1,
            weight: FeatureWeight::AddedMass(0.1),
        });
    }
    let found = body(vec![disc]);
    near("static", found.static_unbalance_g_mm, 0.0, 1e-10);
    near(
        "couple",
        found.couple_unbalance_g_mm2,
        2.0 * 0.1 * 26.0 * 9.0,
        1e-10,
    );
}

#[test]
fn closed_form_tensors_of_a_rod_a_ball_and_a_box() {
    // A rod through the middle across the axle: the cylinder's own moments with the axes changed.
    let alone = |shape| {
        let with = with_feature(shape, 1, FeatureWeight::AddedMass(3.0)).inertia_tensor_g_mm2;
        let without = body(vec![piece(
            "disc",
            Side::Right,
            "M 0 0 L 10 0 L 10 30 L 0 30 Z",
            2.0,
        )])
        .inertia_tensor_g_mm2;
        [
            with.xx - without.xx,
            with.yy - without.yy,
            with.zz - without.zz,
        ]
    };
    let rod = alone(FeatureShape::RadialCylinder {
        diameter_mm: 4.0,
        x_mm: 5.0,
        angle_deg: 0.0,
        radius_mm: (-6.0, 6.0),
    });
    let (length, round) = (3.0 * (3.0 * 4.0 + 144.0) / 12.0, 3.0 * 4.0 / 2.0);
    let ball = alone(FeatureShape::Ball {
        diameter_mm: 6.0,
        x_mm: 5.0,
        radius_mm: 0.0,
        angle_deg: 0.0,
    });
    let cube = alone(FeatureShape::Box {
        x_mm: (4.0, 6.0),
        radius_mm: (-3.0, 3.0),
        width_mm: 5.0,
        angle_deg: 0.0,
    });
    let sides = [36.0 + 25.0, 4.0 + 25.0, 4.0 + 36.0].map(|s: f64| 3.0 * s / 12.0);
    for (found, exact) in [
        (rod, [length, round, length]),
        (ball, [3.0 * 0.4 * 9.0; 3]),
        (cube, sides),
    ] {
        for (f, e) in found.into_iter().zip(exact) {
            // Differences of numbers near 50 000.
            near("tensor", f, e, 1e-10);
        }
    }
}

#[test]
fn law_every_limit_that_is_missed_stops_and_is_said() {
    let mut job = job(vec![
        piece(
            "half",
            Side::Both,
            "M 2 5 L 12 5 L 12 24.045 L 2 24.045 Z",
            1.13,
        ),
        piece("rim", Side::Both, "M 4 24 L 12 24 L 12 29 L 4 29 Z", 2.7),
    ]);
    job.limits = PieceLimits {
        mass_g: Some(Wanted {
            value: 60.0,
            within: 0.1,
        }),
        diameter_mm: Some(Wanted {
            value: 58.0,
            within: 0.0,
        }),
        least_wall_mm: Some(6.0),
        least_gap_mm: Some(4.5),
        ..PieceLimits::default()
    };
    let answer = section(&Given::new(job.clone()).unwrap());
    assert_eq!(answer.verdict, Verdict::Stop);
    let missed: Vec<&str> = answer
        .body
        .limits
        .iter()
        .filter(|l| !l.inside)
        .map(|l| l.number.as_str())
        .collect();
    assert_eq!(
        missed,
        [
            "mass_g",
            "gap_mm",
            "least_wall_mm",
            "least_wall_mm",
            "overlap_mm"
        ]
    );
    // A press that is drawn as one is no overlap; a depth just past it is.
    job.limits = PieceLimits::default();
    for (overlap_mm, verdict) in [(0.05, Verdict::Good), (0.04, Verdict::Stop)] {
        job.pieces[1].presses_on = vec![PressesOn {
            piece: "half".to_owned(),
            overlap_mm,
        }];
        assert_eq!(section(&Given::new(job.clone()).unwrap()).verdict, verdict);
    }
}

#[test]
fn closed_form_the_face_that_is_recut() {
    let mut job = job(vec![piece(
        "rim",
        Side::Both,
        "M 4 24 L 11.7 24 L 12 24.3 L 12 29 L 4 29 Z",
        2.7,
    )]);
    job.recut = Some(crate::part::job::RecutWishes {
        piece: "rim".to_owned(),
        step_mm: "0.01".parse().unwrap(),
        most_face_mm: "0.4".parse().unwrap(),
        gram_per_mm: None,
    });
    let found = section(&Given::new(job).unwrap())
        .body
        .recut_gram_per_mm
        .unwrap();
    let exact = std::f64::consts::PI * (29.0f64.powi(2) - 24.0f64.powi(2)) * 2.7e-3;
    near("gram per mm", found, exact, ROUNDING * exact);
}

#[test]
fn law_an_outline_with_faults_is_refused_with_its_place() {
    let faults = |path: &str| outline_faults(&Outline::read(path).unwrap());
    let crossing = faults("M 2 2 L 8 8 L 8 2 L 2 8 Z");
    assert_eq!(crossing.len(), 1);
    assert!(
        crossing[0].what.contains("(5.000, 5.000)") && crossing[0].at == 18,
        "{crossing:?}"
    );
    let below = faults("M 2 2 L 8 2 A 3 3 0 0 1 2 2 Z");
    assert!(
        below.is_empty() || below[0].what.contains("below the axle"),
        "{below:?}"
    );
    let below = faults("M 2 1 A 3 3 0 0 1 8 1 L 8 5 L 2 5 Z");
    assert!(
        below
            .iter()
            .any(|f| f.what.contains("below the axle, to (5.000, -2.000)")),
        "{below:?}"
    );
    assert!(
        faults("M 0 0 L 9 0 L 0 0 Z")[0]
            .what
            .contains("touches itself")
    );
    assert!(faults("M 2.6 2.1 L 2.6 3.3 A 0.6 0.6 0 0 1 3.2 3.9 L 9 9 L 12 2.1 Z").is_empty());
    assert!(faults("M -5 0 A 5 5 0 0 0 5 0 Z").is_empty());
}
