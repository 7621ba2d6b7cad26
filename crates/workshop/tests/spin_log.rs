//! Logs as they come in: good, mended with words, refused with words.

use whirlwright_workshop::part::spin_log::{NotALog, SpinLog, pulse_speed_sd_rad_s};
use whirlwright_workshop::part::spin_log_gather::{LogGatherer, MOST_HELD};

/// A fall from 420 rad/s by a seconds' e-fold of 100, a reading a second.
fn fall(count: usize) -> (Vec<f64>, Vec<f64>) {
    let times: Vec<f64> = (0..count).map(|n| n as f64).collect();
    let speeds = times.iter().map(|t| 420.0 * (-t / 100.0).exp()).collect();
    (times, speeds)
}

fn log(times: &[f64], speeds: &[f64]) -> Result<SpinLog, NotALog> {
    SpinLog::from_speeds("test", times, speeds, None)
}

#[test]
fn law_a_sound_log_is_taken_as_it_is() {
    let (times, speeds) = fall(120);
    let taken = log(&times, &speeds).unwrap();
    assert_eq!((&taken.times_s, &taken.speeds_rad_s), (&times, &speeds));
    assert!(taken.repairs.is_empty() && taken.reading_weight.is_empty());
}

#[test]
fn law_what_can_be_mended_is_mended_and_said() {
    let (times, speeds) = fall(60);
    let whole = log(&times, &speeds).unwrap();
    // Newest first; two lines swapped; turning the other way; a drop-out; a stray; a stop; a spin-up.
    let turned: (Vec<f64>, Vec<f64>) = times
        .iter()
        .zip(&speeds)
        .rev()
        .map(|(t, s)| (*t, *s))
        .unzip();
    let mended = log(&turned.0, &turned.1).unwrap();
    assert_eq!(mended.speeds_rad_s, whole.speeds_rad_s);
    assert!(mended.repairs[0].contains("newest"));
    let (mut t, mut s) = (times.clone(), speeds.clone());
    t.swap(10, 11);
    s.swap(10, 11);
    let mended = log(&t, &s).unwrap();
    assert_eq!(mended.times_s, whole.times_s);
    assert!(mended.repairs[0].contains("sorted"));
    let negative: Vec<f64> = speeds.iter().map(|s| -s).collect();
    assert_eq!(
        log(&times, &negative).unwrap().speeds_rad_s,
        whole.speeds_rad_s
    );
    for (at, value, word) in [(20, 0.0, "drop-outs"), (20, 840.0, "a quarter")] {
        let mut s = speeds.clone();
        s[at] = value;
        let mended = log(&times, &s).unwrap();
        assert_eq!(mended.times_s.len(), 59);
        assert!(mended.repairs[0].contains(word), "{:?}", mended.repairs);
    }
    let mut s = speeds.clone();
    s[55..].fill(0.0);
    let mended = log(&times, &s).unwrap();
    assert_eq!(mended.times_s.len(), 55);
    assert!(mended.repairs[0].contains("stood still"));
    let driven: Vec<f64> = (0..10)
        .map(|n| 200.0 + 20.0 * f64::from(n))
        .chain(speeds.iter().copied())
        .collect();
    let mended = log(&fall(70).0, &driven).unwrap();
    assert!(mended.speeds_rad_s[0] > 390.0 && mended.repairs[0].contains("let go"));
}

#[test]
fn law_what_is_no_spin_down_is_refused_with_what_to_do() {
    let (times, speeds) = fall(40);
    let said = |times: &[f64], speeds: &[f64]| log(times, speeds).unwrap_err().to_string();
    assert!(said(&[], &[]).contains("empty"));
    assert!(said(&[0.0], &[400.0]).contains("1 usable reading"));
    assert!(said(&times, &speeds[1..]).contains("one speed a time"));
    let mut s = speeds.clone();
    s[7] = f64::NAN;
    assert!(said(&times, &s).contains("speed of reading 8"));
    assert!(said(&times, &vec![400.0; 40]).contains("nothing slows"));
    let wavering: Vec<f64> = (0..40).map(|n| 400.0 + f64::from(n * 7 % 5)).collect();
    assert!(said(&times, &wavering).contains("no more than the readings scatter"));
    let rising: Vec<f64> = (0..40).map(|n| 100.0 + f64::from(n)).collect();
    assert!(said(&times, &rising).contains("rises"));
    assert!(said(&vec![3.0; 40], &speeds).contains("every reading has the time 3 s"));
    let twice: Vec<f64> = times.iter().chain(&times).copied().collect();
    let both: Vec<f64> = speeds.iter().chain(&speeds).copied().collect();
    assert!(said(&twice, &both).contains("reading 41"));
    let long: Vec<f64> = (0..80).map(f64::from).collect();
    assert!(said(&long, &both).contains("driven again"));
    let holes: Vec<f64> = speeds
        .iter()
        .enumerate()
        .map(|(n, s)| if n % 3 == 1 { 0.0 } else { *s })
        .collect();
    assert!(said(&times, &holes).contains("drops out"));
}

/// Pulses of a constant deceleration: the mean speed of a window is the speed at its middle, exactly.
#[test]
fn closed_form_pulses_of_a_constant_deceleration_give_its_speeds() {
    let (start, slowing) = (420.0f64, 0.5);
    let pulse = |turn: usize| {
        let phase = std::f64::consts::TAU * turn as f64;
        // φ = ω₀ t − ½ α t², solved without taking near numbers from each other.
        2.0 * phase / (start + (start * start - 2.0 * slowing * phase).sqrt())
    };
    let times: Vec<f64> = (0..2000).map(pulse).collect();
    let made = SpinLog::from_pulses("pulses", &times, 1, Some(2e-5)).unwrap();
    for (time_s, speed) in made.times_s.iter().zip(&made.speeds_rad_s) {
        // Times are good to a rounding of 30 s, over windows of some 0.03 s: 1e-13 of the speed.
        assert!(
            (speed / (start - slowing * time_s) - 1.0).abs() < 1e-12,
            "{time_s}"
        );
    }
    assert_eq!(
        made.speed_sd_rad_s,
        Some(pulse_speed_sd_rad_s(made.speeds_rad_s[0], 2e-5, 1.0))
    );
    // Missed and doubled ones are counted through.
    let mut patchy = times.clone();
    patchy.remove(700);
    patchy.insert(900, 0.5 * (patchy[899] + patchy[900]) - 0.004);
    patchy.sort_by(f64::total_cmp);
    let mended = SpinLog::from_pulses("patchy", &patchy, 1, None).unwrap();
    assert!(
        mended
            .repairs
            .iter()
            .any(|r| r.contains("1 missed") && r.contains("1 doubled")),
        "{:?}",
        mended.repairs
    );
    for (time_s, speed) in mended.times_s.iter().zip(&mended.speeds_rad_s) {
        assert!(
            (speed / (start - slowing * time_s) - 1.0).abs() < 1e-12,
            "{time_s}"
        );
    }
}

/// However long the log, what is held stays small, and the means lie on the curve.
#[test]
fn law_a_long_log_is_averaged_on_its_curve() {
    let count = 20 * MOST_HELD;
    let mut gather = LogGatherer::new("long");
    let curve = |time_s: f64| 420.0 * (-time_s / 100.0).exp();
    for n in 0..count {
        let time_s = n as f64 * 100.0 / count as f64;
        gather.push(time_s, curve(time_s));
    }
    let made = gather.finish(None).unwrap();
    assert!(made.times_s.len() <= MOST_HELD && made.readings == count);
    assert!(made.repairs[0].contains("averaged"));
    for (time_s, speed) in made.times_s.iter().zip(&made.speeds_rad_s) {
        // A 24th of (a 32,768th of the fall's e-fold)², 4e-11, is the bend inside a mean.
        assert!((speed / curve(*time_s) - 1.0).abs() < 5e-11, "{time_s}");
    }
    let mut gather = LogGatherer::new("out of order");
    for n in 0..2 * MOST_HELD {
        gather.push(n as f64, 400.0);
    }
    gather.push(3.0, 400.0);
    assert!(
        gather
            .finish(None)
            .unwrap_err()
            .to_string()
            .contains("sort the file")
    );
}
