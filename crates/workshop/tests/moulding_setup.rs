//! What a set-up needs without a flow: clamp, shot, residence, runners, sizes, against worked examples.

mod numbers;

use std::f64::consts::FRAC_PI_4;

use numbers::{Case, cases};
use whirlwright_workshop::moulding::setup::{
    PowerLaw, along_share, cavity_size_mm, clamp_kn, inventory_factor, main_runner_mm,
    pye_runner_mm, residence_s, rule_of_thumb_mpa, runner_for_drop_mm, same_shot_g, shop_size_mm,
    stroke_mm, swept_cm3,
};
use whirlwright_workshop::moulding::tait;

use whirlwright_workshop::shelf::{resin, viscosity_law};

const SETUP: &str = include_str!("../../../validation/moulding/setup.toml");

/// The cases whose names begin so, at least one.
fn named(start: &str) -> Vec<Case> {
    let mut found = cases(SETUP);
    found.retain(|case| case.name.starts_with(start));
    assert!(!found.is_empty(), "no case {start}…");
    found
}

fn disc_mm2(diameter_mm: f64) -> f64 {
    FRAC_PI_4 * diameter_mm * diameter_mm
}

#[test]
fn published_clamp_force_of_the_four_cups() {
    for case in named("clamp_") {
        let of = |key: &str| case.need(key);
        let pressure = rule_of_thumb_mpa(of("easy_mpa"), of("resin_factor"), of("doubt_factor"));
        let rounded = of("rounded_mpa");
        let cavity = clamp_kn(disc_mm2(of("diameter_mm")), rounded);
        let runners = of("cavities") * clamp_kn(of("runner_mm") * of("runner_wide_mm"), rounded);
        case.check(|key| match key {
            "pressure_mpa" => pressure,
            "cavity_kn" => cavity,
            "runners_kn" => runners,
            "total_kn" => of("cavities") * cavity + runners,
            other => panic!("{other}"),
        });
    }
}

#[test]
fn published_rules_of_the_trade_for_the_clamp() {
    for case in named("press_") {
        let of = |key: &str| case.need(key);
        case.check(|key| match key {
            // Areas in in² and pressures in t/in²: the product is in t, a thousandth of what the kN's would be.
            "force" => {
                let area = disc_mm2(of("outside")) - disc_mm2(of("inside"));
                1000.0 * of("cavities") * clamp_kn(area, of("pressure"))
            }
            "force_kn" => case.input("area_cm2").map_or_else(
                || {
                    let runner = of("runner_mm") * of("runner_wide_mm");
                    let area = disc_mm2(of("diameter_mm")) + runner;
                    of("cavities") * clamp_kn(area, of("pressure_mpa"))
                },
                // 1 kN/cm² are 10 MPa, 1 cm² are 100 mm².
                |area| clamp_kn(area * 100.0, of("pressure_kn_cm2") * 10.0),
            ),
            "with_margin_t" => {
                let runner = of("runner_mm") * of("runner_wide_mm");
                let area = disc_mm2(of("diameter_mm")) + runner;
                of("cavities") * clamp_kn(area, of("pressure_mpa")) * 1.2 / 9.80665
            }
            "usable" => of("press") * (1.0 - of("left_out_percent") / 100.0),
            "area" => of("press") * (1.0 - of("left_out_percent") / 100.0) / of("pressure"),
            other => panic!("{other}"),
        });
    }
}

#[test]
fn published_shots_and_strokes() {
    for case in named("rated_") {
        let of = |key: &str| case.need(key);
        case.check(|_| same_shot_g(of("rated"), of("rated_density"), of("other_density")));
    }
    for case in named("screw_") {
        let of = |key: &str| case.need(key);
        case.check(|key| match key {
            "volume_cm3" => swept_cm3(of("screw_mm"), of("stroke_mm")),
            "flow_cm3_per_s" => swept_cm3(of("screw_mm"), of("speed_mm_per_s")),
            other => panic!("{other}"),
        });
    }
    for case in named("stroke_") {
        let of = |key: &str| case.need(key);
        let stroke = stroke_mm(of("melt_cm3"), of("screw_mm"));
        assert!((swept_cm3(of("screw_mm"), stroke) - of("melt_cm3")).abs() < 1e-12);
        case.check(|key| match key {
            "stroke_mm" => stroke,
            "with_cushion_mm" => stroke + of("cushion_mm"),
            "share_percent" => 100.0 * (stroke + of("cushion_mm")) / of("longest_mm"),
            other => panic!("{other}"),
        });
    }
}

#[test]
fn published_residence_time() {
    for case in named("residence_") {
        let of = |key: &str| case.need(key);
        let inventory = case
            .input("inventory_g")
            .unwrap_or_else(|| inventory_factor() * of("largest_g"));
        case.check(|_| residence_s(inventory, of("shot_g"), of("cycle_s")));
    }
}

#[test]
fn published_runner_sizes() {
    for case in named("runner_pye") {
        case.check(|_| pye_runner_mm(case.need("part_g"), case.need("length_mm")));
    }
    for case in named("branch_") {
        case.check(|_| main_runner_mm(case.need("branch_mm"), case.need("branches") as usize));
    }
    for case in named("drop_") {
        let of = |key: &str| case.need(key);
        let melt = PowerLaw {
            consistency_pa_s: of("consistency"),
            index_ratio: of("index"),
        };
        case.check(|_| {
            runner_for_drop_mm(melt, of("length_mm"), of("flow_cm3_per_s"), of("drop_mpa"))
        });
    }
}

#[test]
fn published_sizes_to_cut() {
    for case in named("cut_") {
        let share = case.need("shrinkage_percent") / 100.0;
        case.check(|key| match key {
            "short_mm" => shop_size_mm(case.need("part_mm"), share),
            "cavity_mm" => cavity_size_mm(case.need("part_mm"), share),
            other => panic!("{other}"),
        });
    }
    for case in named("along_") {
        case.check(|_| 100.0 * along_share(case.need("volume_percent") / 100.0));
    }
    for case in named("frozen_") {
        let id = case.inputs["resin"].as_str().expect("a resin");
        let room = &resin(id).expect("it is on the shelf").room;
        let at = |degc: f64, mpa: f64| {
            let k = degc + viscosity_law().zero_k.number;
            tait::volume(room, k, mpa * 1e6).m3_per_kg
        };
        let frozen = at(case.need("frozen_degc"), case.need("pressure_mpa"));
        let share = 1.0 - at(case.need("room_degc"), 0.0) / frozen;
        case.check(|_| 100.0 * along_share(share));
    }
}
