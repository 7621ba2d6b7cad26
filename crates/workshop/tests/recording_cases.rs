//! Recordings and bearings of `validation/recording`: what was put in must be heard.

use toml::{Table, Value};
use whirlwright_workshop::spin::recording::{BearingOrders, RecordingGiven, listen};
use whirlwright_workshop::spin::rehearsal::{Channel, Mark, Order, Rehearsal};

struct Case {
    name: String,
    table: Value,
}

impl Case {
    fn number(&self, group: &str, key: &str) -> f64 {
        let text = self.table.get(group).and_then(|group| match group {
            Value::String(one_for_all) => Some(one_for_all.as_str()),
            group => group.get(key).and_then(Value::as_str),
        });
        text.and_then(|text| text.parse().ok())
            .unwrap_or_else(|| panic!("{}: {group} {key}", self.name))
    }

    fn of(&self, key: &str) -> f64 {
        self.number("inputs", key)
    }

    fn check(&self, key: &str, found: f64) {
        let (value, tolerance) = (self.number("value", key), self.number("tolerance", key));
        assert!(
            (found - value).abs() <= tolerance,
            "{}: {key} {found}, {value} ± {tolerance} expected",
            self.name
        );
    }
}

fn cases(text: &str) -> Vec<Case> {
    let table: Table = text.parse().expect("a case file is TOML");
    let rows = table["case"].as_array().expect("cases").clone();
    rows.into_iter()
        .map(|table| Case {
            name: table["name"].to_string(),
            table,
        })
        .collect()
}

#[test]
fn law_what_was_put_into_a_recording_is_heard() {
    let cases = cases(include_str!("../../../validation/recording/orders.toml"));
    assert!(!cases.is_empty());
    for case in &cases {
        let mut stand = Rehearsal {
            seed: case.of("seed") as u64,
            rate_hz: case.of("rate_hz"),
            lasts_s: case.of("lasts_s"),
            begin_rpm: case.of("begin_rpm"),
            end_rpm: case.of("end_rpm"),
            channels: Vec::new(),
        };
        let scale = case.of("full_scale_m_per_s2");
        let steady = |order: &str, size: &str| Order {
            order: case.of(order),
            amplitude_fraction: case.of(size),
            lead_deg: 70.0,
            with_square: false,
        };
        let mark = Mark {
            missed_fraction: case.of("missed_fraction"),
            doubled_fraction: case.of("doubled_fraction"),
            ..Mark::clean()
        };
        let orders = vec![
            stand.orbit(case.of("eccentricity_um"), case.of("lead_deg"), scale),
            steady("wobble_order", "wobble_fraction"),
            steady("bearing_order", "bearing_fraction"),
        ];
        stand.channels = vec![
            Channel {
                mark: Some(mark),
                noise_fraction: case.of("mark_noise_fraction"),
                ..Channel::quiet()
            },
            Channel {
                orders,
                noise_fraction: case.of("noise_fraction"),
                ..Channel::quiet()
            },
        ];
        let given = RecordingGiven {
            full_scale_m_per_s2: Some(scale),
            inertia_ratio: Some(1.0 / case.of("wobble_order")),
            ..RecordingGiven::new(&case.name, stand.rate_hz, 2)
        };
        let played: Result<_, std::convert::Infallible> = listen(&given, |sink| {
            stand.play(8192, sink);
            Ok(())
        });
        let body = played
            .expect("played")
            .unwrap_or_else(|refusal| panic!("{refusal}"))
            .body;
        let off = |time_s: f64, rpm: f64| (rpm / stand.speed_rpm(time_s) - 1.0).abs();
        let worst = body
            .track
            .iter()
            .map(|point| off(point.time_s, point.speed_rpm))
            .fold(0.0, f64::max);
        case.check("worst_speed_share", worst);
        case.check(
            "eccentricity_um",
            body.eccentricity_um.expect("a scale was stated"),
        );
        case.check("angle_deg", body.angle_deg.expect("there is a mark"));
        // What is said of the uncertainty must hold: four of its standard deviations.
        let (um, sd) = (
            body.eccentricity_um.unwrap_or(0.0),
            body.eccentricity_um_sd.unwrap_or(0.0),
        );
        let off_um = (um - case.of("eccentricity_um")).abs();
        assert!(off_um < 4.0 * sd + 0.001 * um, "{}: {um} ± {sd}", case.name);
    }
}

#[test]
fn closed_form_a_bearing_rolls_without_slip() {
    let cases = cases(include_str!("../../../validation/recording/bearing.toml"));
    assert!(!cases.is_empty());
    for case in &cases {
        let orders = BearingOrders::of(
            case.of("balls") as usize,
            case.of("ball_mm"),
            case.of("pitch_mm"),
            case.of("contact_angle_deg"),
        );
        case.check("cage_order", orders.cage_order);
        case.check("outer_race_order", orders.outer_race_order);
        case.check("inner_race_order", orders.inner_race_order);
        case.check("ball_order", orders.ball_order);
    }
}
