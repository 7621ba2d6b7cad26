//! Limits of sizes as drawings write them, against the tables of ISO 286.

mod numbers;

use numbers::{Case, cases};
use whirlwright_workshop::part::{FitLimits, Limits, Surface};

/// A whole row of the table: `it7_um` a grade, `u_ei_um` and `f_es_um` the deviation of a letter.
fn check_row(case: &Case, size: &str) {
    let shaft = |class: &str| {
        Limits::read(&format!("{size} {class}"), Surface::Shaft).expect("a class of the table")
    };
    case.check(|key| match key.trim_end_matches("_um").split_once('_') {
        // The letters k to x are printed for grade 6; a grade's width is that of h.
        Some((letter, "ei")) => shaft(&format!("{letter}6")).lower_um,
        Some((letter, "es")) => shaft(&format!("{letter}7")).upper_um,
        _ => shaft(&format!(
            "h{}",
            key.trim_matches(|c: char| !c.is_ascii_digit())
        ))
        .width_um(),
    });
}

#[test]
fn published_limit_deviations_of_iso_286() {
    for case in cases(include_str!("../../../validation/fitting/iso_286.toml")) {
        let text = |key: &str| case.inputs.get(key).and_then(|v| v.as_str());
        if let Some(size) = text("size_mm") {
            check_row(&case, size);
            continue;
        }
        let (hole, shaft) = match (text("fit"), text("hole")) {
            (Some(fit), _) => {
                let fit = FitLimits::read(fit).unwrap();
                (fit.hole, Some(fit.shaft))
            }
            (None, Some(hole)) => (Limits::read(hole, Surface::Hole).unwrap(), None),
            _ => panic!("{}: no text", case.name),
        };
        let shaft = || shaft.clone().unwrap();
        let fit = || FitLimits {
            hole: hole.clone(),
            shaft: shaft(),
        };
        case.check(|key| match key {
            "hole_lower_um" => hole.lower_um,
            "hole_upper_um" => hole.upper_um,
            "shaft_lower_um" => shaft().lower_um,
            "shaft_upper_um" => shaft().upper_um,
            "least_interference_um" => fit().least_interference_um(),
            "most_interference_um" => fit().most_interference_um(),
            other => panic!("{}: nothing here is called {other}", case.name),
        });
    }
}

#[test]
fn law_limits_that_are_none_are_refused_with_what_was_expected() {
    let cases = [
        ("48", "has no limits"),
        ("48 H12", "grades 5 to 11"),
        ("48 H4", "grades 5 to 11"),
        (
            "90 H7",
            "over 3 up to and including 80 mm, and the size is 90 mm",
        ),
        ("3 H7", "over 3 up to"),
        ("48 Z7", "is not in the table"),
        ("20 T7", "is not in the table"),
        ("48 K9", "is not in the table"),
        ("48 P5", "is not in the table"),
        ("48 h7", "holes have capital letters"),
        ("H7", "is no number"),
        ("48 +0,025/0", "write a point"),
        ("48.025 .. 48.000", "must not be above"),
        ("-48 H7", "is no number"),
        ("0 H7", "more than 0 mm"),
        ("48 +0.025", "are no limits"),
        ("", "is no number"),
        ("NaN .. 3", "is no number"),
        ("48 H7é", "grades 5 to 11"),
    ];
    for (text, said) in cases {
        let why = Limits::read(text, Surface::Hole).unwrap_err().to_string();
        assert!(why.contains(said), "{text}: {why}");
    }
    let why = FitLimits::read("48 H7").unwrap_err().to_string();
    assert!(why.contains("is no fit"), "{why}");
    assert!(FitLimits::read("48 +0.025/0").is_err());
}
