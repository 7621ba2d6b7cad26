//! The bearing station against the tables in `validation/bearing`.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod cases;
mod tree;

use std::collections::BTreeMap;

use cases::{Case, cases_of, meets};
use toml::Value;
use tree::file;
use whirlwright_workshop::bearing::*;
use whirlwright_workshop::part::spin_wishes::BearingWishes;
use whirlwright_workshop::shelf::bearing_laws;

/// Inputs of each case, beside the case.
fn cases() -> Vec<(Case, BTreeMap<String, f64>)> {
    let path = "validation/bearing/bearing.toml";
    let text = file(path).text;
    let table: toml::Table = text.parse().unwrap();
    let rows = table["case"].as_array().unwrap().clone();
    let inputs = rows.iter().map(|row| {
        let inputs = row["inputs"].as_table().unwrap();
        let number = |(key, value): (&String, &Value)| {
            (key.clone(), value.as_str().unwrap().parse().unwrap())
        };
        inputs.iter().map(number).collect()
    });
    cases_of(path, &text)
        .unwrap()
        .into_iter()
        .zip(inputs)
        .collect()
}

fn of<'a>(
    all: &'a [(Case, BTreeMap<String, f64>)],
    start: &'a str,
) -> impl Iterator<Item = &'a (Case, BTreeMap<String, f64>)> {
    assert!(
        all.iter().any(|(case, _)| case.name.starts_with(start)),
        "no case {start}"
    );
    all.iter()
        .filter(move |(case, _)| case.name.starts_with(start))
}

/// A small bearing with the balls of a case.
fn given(inputs: &BTreeMap<String, f64>) -> Given {
    let wishes = BearingWishes {
        balls: Some(inputs["balls"] as u32),
        ball_mm: Some(inputs["ball_mm"]),
        ..BearingWishes::default()
    };
    Given::new(Asked {
        word: None,
        wishes: &wishes,
        mass_g: inputs.get("mass_g").copied().unwrap_or(66.0),
        speed_rpm: inputs.get("speed_rpm").copied().unwrap_or(4000.0),
        temperature_degc: 20.0,
        catch_jerk_ratio: inputs.get("catch").copied(),
    })
    .unwrap()
}

#[test]
fn closed_form_orders_and_frequencies() {
    let all = cases();
    for (case, inputs) in of(&all, "orders_") {
        let o = Orders::of(
            inputs["balls"] as u32,
            inputs["ball_mm"],
            inputs["pitch_mm"],
            0.0,
        );
        meets(
            case,
            &[
                ("gamma_ratio", o.gamma_ratio),
                ("cage_order", o.cage_order),
                ("outer_race_order", o.outer_race_order),
                ("inner_race_order", o.inner_race_order),
                ("ball_order", o.ball_order),
            ],
        );
        // Every ball passes a place of either race as often as they go round past it.
        let balls = inputs["balls"];
        assert!((o.outer_race_order + o.inner_race_order - balls).abs() < 1e-14 * balls);
    }
    for (case, inputs) in of(&all, "frequencies_") {
        let body = bearing(&given(inputs)).body;
        let hz = |name: &str| {
            body.lines
                .iter()
                .find(|l| l.name == name)
                .unwrap()
                .frequency_hz
        };
        meets(
            case,
            &[
                ("cage_hz", hz("cage")),
                ("outer_race_hz", hz("outer race")),
                ("inner_race_hz", hz("inner race")),
                ("ball_hz", hz("ball")),
            ],
        );
    }
}

#[test]
fn twin_the_static_factor_at_every_place_of_the_table() {
    for (case, inputs) in of(&cases(), "rating_factor_") {
        let races = Races::of(8, 1.0, inputs["gamma_ratio"], 0.0).unwrap();
        let factor = races.rating_factor();
        meets(case, &[("table", factor), ("contact", factor)]);
    }
}

#[test]
fn twin_the_rating_and_the_pressures_of_small_bearings() {
    let all = cases();
    for name in ["rating_ten_balls", "rating_eight_balls"] {
        for (case, inputs) in of(&all, name) {
            let body = bearing(&given(inputs)).body;
            let [weight, caught, rated] = &body.loads[..] else {
                panic!("three loads")
            };
            if name == "rating_eight_balls" {
                meets(case, &[("static_rating_n", body.static_rating_n)]);
                continue;
            }
            meets(
                case,
                &[
                    ("rating_factor", body.rating_factor),
                    ("static_rating_n", body.static_rating_n),
                    ("inner_at_rating_mpa", rated.inner.pressure_mpa),
                    ("outer_at_rating_mpa", rated.outer.pressure_mpa),
                    ("ball_at_weight_n", weight.ball_load_n),
                    ("inner_at_weight_mpa", weight.inner.pressure_mpa),
                    ("outer_at_weight_mpa", weight.outer.pressure_mpa),
                    ("ball_at_catch_n", caught.ball_load_n),
                    ("inner_at_catch_mpa", caught.inner.pressure_mpa),
                    ("outer_at_catch_mpa", caught.outer.pressure_mpa),
                ],
            );
        }
    }
}

fn contact_values(c: &Contact) -> [(&'static str, f64); 4] {
    [
        ("half_length_mm", c.half_length_mm),
        ("half_width_mm", c.half_width_mm),
        ("pressure_mpa", c.pressure_mpa),
        ("approach_um", c.approach_um),
    ]
}

#[test]
fn closed_form_contacts_under_load() {
    let all = cases();
    for name in ["sphere_on_plane", "crossed_cylinders"] {
        for (case, i) in of(&all, name) {
            let effective = effective_modulus_mpa(i["modulus_gpa"], i["poisson"]);
            let touch = Touch::new(i["one_per_mm"], i["other_per_mm"], effective).unwrap();
            meets(case, &contact_values(&touch.under(i["load_n"])));
        }
    }
    for (case, i) in of(&all, "inner_race_at_rating") {
        let orders = Orders::of(10, i["ball_mm"], 9.525, 0.0);
        let races = Races::of(10, i["ball_mm"], orders.gamma_ratio, 0.0).unwrap();
        meets(case, &contact_values(&races.inner.under(i["ball_load_n"])));
    }
}

#[test]
fn law_contact_scales_and_is_continuous() {
    let effective = effective_modulus_mpa(207.0, 0.3);
    let touch = Touch::new(0.02, 1.4, effective).unwrap();
    let (one, eight) = (touch.under(1.0), touch.under(8.0));
    // Eight times the load: twice the lengths and the pressure, four times the approach; a few roundings.
    let near = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-14;
    assert!(
        near(eight.pressure_mpa, 2.0 * one.pressure_mpa)
            && near(eight.approach_um, 4.0 * one.approach_um)
    );
    assert!(near(touch.load_at_n(eight.pressure_mpa), 8.0));
    // The ellipse goes over into the circle without a step.
    let round = Touch::new(0.05, 0.05, effective).unwrap().under(100.0);
    for apart in [1e-12, 1e-9, 1e-6] {
        let nearly = Touch::new(0.05, 0.05 * (1.0 + apart), effective)
            .unwrap()
            .under(100.0);
        // Pressure goes with the curvature to the power of about 2/3.
        assert!(
            (nearly.pressure_mpa / round.pressure_mpa - 1.0).abs() < apart + 1e-9,
            "{apart}"
        );
    }
    assert_eq!(Touch::new(0.0, 1.0, effective), None);
    assert_eq!(Touch::new(f64::NAN, 1.0, effective), None);
}

#[test]
fn closed_form_friction_tables() {
    let all = cases();
    for (case, i) in of(&all, "viscous_") {
        let torque = viscous_un_m(i["f0"], i["viscosity_cst"], i["speed_rpm"], i["pitch_mm"]);
        meets(case, &[("torque_un_m", torque)]);
    }
    let weight_n = |mass_g: f64| 1e-3 * mass_g * bearing_laws().gravity_m_per_s2.number;
    for (case, i) in of(&all, "load_torque_") {
        meets(
            case,
            &[(
                "torque_un_m",
                load_un_m(i["f1"], weight_n(i["mass_g"]), i["pitch_mm"]),
            )],
        );
    }
    for (case, i) in of(&all, "simple_") {
        meets(
            case,
            &[(
                "torque_un_m",
                simple_un_m(i["friction"], weight_n(i["mass_g"]), i["bore_mm"]),
            )],
        );
    }
}

#[test]
fn published_a_worked_example_of_bearing_friction() {
    for (case, i) in of(&cases(), "worked_example") {
        let torque_un_m = simple_un_m(i["friction"], i["load_n"], i["bore_mm"]);
        let speed_rad_s = i["speed_rpm"] * std::f64::consts::TAU / 60.0;
        meets(case, &[("power_w", 1e-6 * torque_un_m * speed_rad_s)]);
    }
}

#[test]
fn published_viscosity_against_temperature() {
    for (case, i) in of(&cases(), "viscosity_") {
        let line = ViscosityLine::through(
            (i["first_degc"], i["first_cst"]),
            (i["second_degc"], i["second_cst"]),
        )
        .unwrap();
        let (a, b) = line.chart_coefficient();
        meets(
            case,
            &[
                ("a", a),
                ("b", b),
                ("viscosity_cst", line.viscosity_cst(i["at_degc"])),
            ],
        );
    }
}

#[test]
fn law_what_cannot_be_a_bearing_is_refused_with_what_to_do() {
    let asked = |word: Option<&str>, change: &dyn Fn(&mut BearingWishes)| {
        let mut wishes = BearingWishes::default();
        change(&mut wishes);
        let asked = Asked {
            word,
            wishes: &wishes,
            mass_g: 66.0,
            speed_rpm: 4000.0,
            temperature_degc: 20.0,
            catch_jerk_ratio: None,
        };
        Given::new(asked)
            .map(|g| g.balls)
            .map_err(|e| e.to_string())
    };
    assert_eq!(asked(None, &|_| {}), Ok(10));
    let said = |word, change: &dyn Fn(&mut BearingWishes)| asked(word, change).unwrap_err();
    assert!(said(None, &|w| w.balls = Some(30)).contains("at most"));
    assert!(said(None, &|w| w.balls = Some(0)).contains("number of balls"));
    assert!(said(None, &|w| w.ball_mm = Some(5.0)).contains("between bore and outside"));
    assert!(said(None, &|w| w.ball_mm = Some(f64::NAN)).contains("above 0"));
    assert!(said(None, &|w| w.outside_mm = Some(6.0)).contains("is not said"));
    assert!(
        said(None, &|w| w.lubricant = Some("gresed".to_owned())).contains("did you mean `greased`")
    );
    assert!(said(Some("6.35x12.70x4.7"), &|_| {}).contains("did you mean"));
    assert!(said(None, &|w| w.contact_angle_deg = Some(90.0)).contains("0 to 60"));
}

#[test]
fn law_the_answer_says_its_range_and_that_it_rests_on_memory() {
    let wishes = BearingWishes {
        lubricant: Some("oiled".to_owned()),
        ..BearingWishes::default()
    };
    let asked = Asked {
        word: Some("6.35x12.70x4.76 eight"),
        wishes: &wishes,
        mass_g: 63.0,
        speed_rpm: 4000.0,
        temperature_degc: 20.0,
        catch_jerk_ratio: None,
    };
    let answer = bearing(&Given::new(asked).unwrap());
    assert!(answer.trust.iter().any(|t| t.why.contains("from memory")));
    assert!(
        answer
            .trust
            .iter()
            .any(|t| t.number == "life" && t.why.contains("not claimed"))
    );
    let torque = answer.body.torque_un_m;
    assert!(torque.is_in_order() && torque.low < torque.high);
    // The parts make the whole, and more lubricant makes more drag.
    let parts = answer.body.viscous_torque_un_m.likely
        + answer.body.load_torque_un_m.likely
        + answer.body.dry_torque_un_m.likely;
    assert!((parts - torque.likely).abs() < 1e-12 * torque.likely);
    let likely: Vec<f64> = answer
        .body
        .lubricants
        .iter()
        .map(|l| l.torque_un_m.likely)
        .collect();
    assert!(
        likely.windows(2).all(|pair| pair[0] < pair[1]),
        "{likely:?}"
    );
    assert!(
        answer
            .body
            .curve
            .windows(2)
            .all(|p| p[0].likely_un_m <= p[1].likely_un_m)
    );
    let written = serde_json::to_string(&answer).unwrap();
    let read: whirlwright_workshop::part::Answer<BearingBody> =
        serde_json::from_str(&written).unwrap();
    assert_eq!(serde_json::to_string(&read).unwrap(), written);
}
