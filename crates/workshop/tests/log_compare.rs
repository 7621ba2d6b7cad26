//! Logs side by side, and a tray of bearings.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod decay;

use decay::{A, C, noise, speed_at};
use whirlwright_workshop::part::{SpinLog, Verdict};
use whirlwright_workshop::spin::*;

#[test]
fn law_comparisons_see_a_difference_and_no_more() {
    let named = |group: &str, a: f64, seed: u64| {
        let times: Vec<f64> = (0..=150).map(f64::from).collect();
        let noise = noise(seed, times.len());
        let speeds: Vec<f64> = times
            .iter()
            .zip(&noise)
            .map(|(t, n)| speed_at(a, C, 420.0, *t) + 0.3 * n)
            .collect();
        let log = SpinLog::from_speeds(format!("{group} {seed}"), &times, &speeds, None).unwrap();
        (
            group.to_owned(),
            LogGiven::new(log)
                .unwrap()
                .with_inertia(28_000.0, 0.0)
                .unwrap(),
        )
    };
    let with = |a: f64| CompareGiven {
        logs: (0..3)
            .map(|n| named("oiled", A, n))
            .chain((3..6).map(|n| named("dry", a, n)))
            .collect(),
    };
    let same = compare(&with(A)).unwrap();
    assert!(
        same.body
            .differences
            .iter()
            .all(|d| !d.more_than_scatter && d.test == Test::Welch),
        "{:?}",
        same.body.differences
    );
    let other = compare(&with(1.5 * A)).unwrap();
    let sleep = other
        .body
        .differences
        .iter()
        .find(|d| d.name == "sleep")
        .unwrap();
    assert!(
        sleep.more_than_scatter && sleep.difference_offset < 0.0,
        "{sleep:?}"
    );
    let torque = other
        .body
        .differences
        .iter()
        .find(|d| d.name.starts_with("constant"))
        .unwrap();
    assert!(
        (torque.difference_offset - 2.5).abs() < 0.4 && torque.unit == "µN·m",
        "{torque:?}"
    );
    // One of each: judged by the fits alone, and said.
    let two = CompareGiven {
        logs: vec![named("oiled", A, 1), named("dry", 1.5 * A, 2)],
    };
    let lone = compare(&two).unwrap();
    assert_eq!(lone.verdict, Verdict::Look);
    assert!(
        lone.body
            .differences
            .iter()
            .all(|d| d.test == Test::FitOnly)
    );
    let pooled = CompareGiven {
        logs: vec![
            named("oiled", A, 1),
            named("oiled", A, 5),
            named("dry", 1.5 * A, 2),
        ],
    };
    assert!(
        compare(&pooled)
            .unwrap()
            .body
            .differences
            .iter()
            .all(|d| d.test == Test::Pooled)
    );
    assert!(
        compare(&CompareGiven {
            logs: two.logs[..1].to_vec()
        })
        .is_err()
    );
}

#[test]
fn closed_form_a_tray_of_bearings_is_sorted_by_torque() {
    // Constant torques on a flywheel of 20,000 g·mm²: the fall is straight, the torque I·Δω/Δt.
    let bearing = |name: &str, torque_un_m: f64| {
        let slowing = torque_un_m * 1e-6 / 2e-5;
        let length = 0.5 * 120.0 / slowing;
        let times: Vec<f64> = (0..200).map(|n| length * f64::from(n) / 199.0).collect();
        let speeds: Vec<f64> = times.iter().map(|t| 120.0 - slowing * t).collect();
        let log = SpinLog::from_speeds(name, &times, &speeds, None).unwrap();
        TrayBearing {
            name: name.to_owned(),
            reading: TrayReading::Log(log),
        }
    };
    let torques = [
        ("A1", 9.0),
        ("A2", 11.0),
        ("A3", 8.0),
        ("A4", 10.0),
        ("A5", 12.0),
        ("A6", 10.5),
        ("A7", 45.0),
        ("A8", 90.0),
    ];
    let mut tray = TrayGiven {
        bearings: torques.map(|(n, t)| bearing(n, t)).to_vec(),
        flywheel_g_mm2: Some((20_000.0, 0.0)),
    };
    let sorted = sort_bearings(&tray).unwrap();
    assert_eq!(
        (sorted.body.clean, sorted.body.look, sorted.body.clean_it),
        (6, 1, 1)
    );
    for line in &sorted.body.bearings {
        let (_, torque) = torques.iter().find(|(name, _)| *name == line.name).unwrap();
        assert!(
            (line.torque_un_m.unwrap() / torque - 1.0).abs() < 1e-6,
            "{line:?}"
        );
        assert_eq!(line.outlier, *torque > 40.0, "{line:?}");
    }
    assert_eq!(sorted.body.bearings[0].name, "A3");
    assert!(sorted.next[0].contains("A8"));
    // Inside the limits and far stiffer than the rest: somebody should look.
    for (n, one) in tray.bearings.iter_mut().enumerate() {
        *one = bearing(&one.name, if n == 3 { 11.0 } else { 2.0 + 0.1 * n as f64 });
    }
    let apart = sort_bearings(&tray).unwrap();
    assert_eq!((apart.body.clean, apart.body.look), (7, 1));
    assert_eq!(apart.verdict, Verdict::Look);
    tray.flywheel_g_mm2 = None;
    assert!(
        sort_bearings(&tray)
            .unwrap_err()
            .to_string()
            .contains("inertia")
    );
    let timed = |name: &str, time_s: f64| TrayBearing {
        name: name.to_owned(),
        reading: TrayReading::FreeSpin(time_s),
    };
    let tray = TrayGiven {
        bearings: vec![timed("B1", 5.0), timed("B2", 2.0), timed("B3", 0.4)],
        flywheel_g_mm2: None,
    };
    let sorted = sort_bearings(&tray).unwrap();
    assert_eq!(sorted.verdict, Verdict::Stop);
    let classes: Vec<TrayClass> = sorted.body.bearings.iter().map(|b| b.class).collect();
    assert_eq!(
        classes,
        [TrayClass::Clean, TrayClass::Look, TrayClass::CleanIt]
    );
    assert!(
        sort_bearings(&TrayGiven {
            bearings: Vec::new(),
            flywheel_g_mm2: None
        })
        .is_err()
    );
}
