//! Moulding against its cases: resins, channels, walls, weights.

mod numbers;

use numbers::{Case, cases};
use whirlwright_workshop::moulding::{tait, viscosity};
use whirlwright_workshop::part::resin::Resin;
use whirlwright_workshop::shelf::{resin, viscosity_law};

const RESINS: &str = include_str!("../../../validation/moulding/resins.toml");
const MEGA: f64 = 1e6;

fn k(degc: f64) -> f64 {
    degc + viscosity_law().zero_k.number
}

fn resin_of(case: &Case) -> &'static Resin {
    let id = case.inputs["resin"].as_str().expect("a resin");
    resin(id).expect("it is on the shelf")
}

/// The cases whose names begin so, at least one.
fn named(text: &str, start: &str) -> Vec<Case> {
    let found: Vec<Case> = cases(text)
        .into_iter()
        .filter(|case| case.name.starts_with(start))
        .collect();
    assert!(!found.is_empty(), "no case {start}…");
    found
}

#[test]
fn closed_form_viscosities_of_the_cards() {
    for case in named(RESINS, "viscosity_") {
        let (flow, melt) = (&resin_of(&case).flow, k(case.need("melt_degc")));
        let at = |rate: f64, mpa: f64| viscosity::at_rate_pa_s(flow, rate, melt, mpa * MEGA);
        case.check(|key| match key {
            "at_100_pa_s" => at(1e2, 0.0),
            "at_1000_pa_s" => at(1e3, 0.0),
            "at_10000_pa_s" => at(1e4, 0.0),
            "at_1000_and_100_mpa_pa_s" => at(1e3, 100.0),
            other => panic!("{other}"),
        });
    }
}

fn cm3_per_g(resin: &Resin, degc: f64, mpa: f64) -> f64 {
    1e3 * tait::volume(&resin.room, k(degc), mpa * MEGA).m3_per_kg
}

#[test]
fn closed_form_specific_volumes_of_the_cards() {
    for case in named(RESINS, "volume_") {
        let (resin, melt) = (resin_of(&case), case.need("melt_degc"));
        case.check(|key| match key {
            "melt_0" => cm3_per_g(resin, melt, 0.0),
            "melt_50" => cm3_per_g(resin, melt, 50.0),
            "melt_100" => cm3_per_g(resin, melt, 100.0),
            "at_60_degc_0" => cm3_per_g(resin, 60.0, 0.0),
            "at_60_degc_50" => cm3_per_g(resin, 60.0, 50.0),
            "at_23_degc_0" => cm3_per_g(resin, 23.0, 0.0),
            other => panic!("{other}"),
        });
    }
}

#[test]
fn published_specific_volumes_of_melts() {
    for start in ["published_", "spencer_gilmore_"] {
        for case in named(RESINS, start) {
            let (resin, degc) = (resin_of(&case), case.need("degc"));
            // Under 150 MPa the transition of the card may have passed the temperature: the melt's side is asked.
            let mut melt = resin.clone();
            melt.room.solid = melt.room.melt;
            melt.room.extra_m3_per_kg = 0.0;
            case.check(|key| {
                let mpa = key.strip_prefix("at_").and_then(|text| text.parse().ok());
                cm3_per_g(&melt, degc, mpa.expect("a pressure"))
            });
        }
    }
}
