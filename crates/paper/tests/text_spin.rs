//! What the terminal says of a bearing, a log, logs side by side and a tray.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

use whirlwright_paper::text;
use whirlwright_workshop::bearing::{Asked, Given, bearing};
use whirlwright_workshop::part::SpinLog;
use whirlwright_workshop::part::spin_wishes::BearingWishes;
use whirlwright_workshop::spin::{
    CompareGiven, LogGiven, TrayBearing, TrayGiven, TrayReading, compare, fit_log, sort_bearings,
};

/// A fall with a constant slowing `a` and one with the speed to the power 1.5, stepped finely, read to 0.1 rad/s.
fn log(name: &str, a: f64) -> SpinLog {
    let (mut speed, dt) = (420.0f64, 0.01);
    let (mut times, mut speeds) = (Vec::new(), Vec::new());
    for step in 0..18_000 {
        if step % 200 == 0 {
            times.push(f64::from(step) * dt);
            speeds.push((10.0 * speed).round() / 10.0);
        }
        let half = speed - 0.5 * dt * (a + 4e-4 * speed.powf(1.5));
        speed -= dt * (a + 4e-4 * half.powf(1.5));
    }
    SpinLog::from_speeds(name, &times, &speeds, None).unwrap()
}

/// Verdict first, no line wider than a page, nothing that moves a cursor.
fn is_a_page(text: &str) {
    assert!(
        ["✓", "▲", "■"].iter().any(|shape| text.starts_with(shape)),
        "{text}"
    );
    assert!(
        text.lines().all(|line| line.chars().count() <= 100),
        "{text}"
    );
    assert!(!text.chars().any(|c| c.is_control() && c != '\n'));
}

#[test]
fn pinned_a_bearing_in_the_terminal() {
    let wishes = BearingWishes {
        lubricant: Some("thin-oil".to_owned()),
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
    let page = text::bearing(&bearing(&Given::new(asked).unwrap()));
    is_a_page(&page);
    insta::assert_snapshot!("bearing", page);
}

#[test]
fn pinned_a_log_in_the_terminal() {
    let given = LogGiven::new(log("throw 3", 0.18)).unwrap();
    let page = text::spin_log(&fit_log(&given.with_inertia(28_000.0, 280.0).unwrap()).unwrap());
    is_a_page(&page);
    insta::assert_snapshot!("spin_log", page);
}

#[test]
fn pinned_two_logs_in_the_terminal() {
    let named = |name: &str, a: f64| (name.to_owned(), LogGiven::new(log(name, a)).unwrap());
    let given = CompareGiven {
        logs: vec![named("oiled", 0.3), named("dry", 0.18)],
    };
    let page = text::spin_compare(&compare(&given).unwrap());
    is_a_page(&page);
    insta::assert_snapshot!("spin_compare", page);
}

#[test]
fn pinned_a_tray_in_the_terminal() {
    let timed = |name: &str, time_s: f64| TrayBearing {
        name: name.to_owned(),
        reading: TrayReading::FreeSpin(time_s),
    };
    let given = TrayGiven {
        bearings: vec![timed("A1", 6.2), timed("A2", 2.1), timed("A3", 0.5)],
        flywheel_g_mm2: None,
    };
    let page = text::spin_tray(&sort_bearings(&given).unwrap());
    is_a_page(&page);
    insta::assert_snapshot!("spin_tray", page);
}
