//! The examples are the manual, and they are run: each one gives numbers that can be checked.

mod tree;

use tree::{Finding, apply, file, files, none};

#[path = "../examples/01_section.rs"]
#[allow(dead_code, reason = "an example has a main of its own")]
mod section;

#[path = "../examples/02_pair_a_tray.rs"]
#[allow(dead_code, reason = "an example has a main of its own")]
mod pair_a_tray;

#[path = "../examples/05_what_slows_it.rs"]
#[allow(dead_code, reason = "an example has a main of its own")]
mod what_slows_it;

/// The example's speeds are a fall of known law, read to 0.1 rad/s: its sleep is known.
#[test]
fn closed_form_what_slows_a_piece() {
    let [sleep_s, worth_s] = what_slows_it::run().expect("the example runs");
    // a = 5 µN·m and c = 1.1115e-8 over 2.8e-5 kg·m², from 420 rad/s to 500 rpm: 325.277 s; with half of the air 203.493 s more (stepped independently to 1e-10).
    // Rounding to 0.1 rad/s scatters by 0.03, and the fit knows the sleep to some 0.3 s.
    assert!((sleep_s - 325.277).abs() < 1.5, "{sleep_s}");
    assert!((worth_s - 203.493).abs() < 3.0, "{worth_s}");
}

#[path = "../examples/03_how_long_it_sleeps.rs"]
#[allow(dead_code, reason = "an example has a main of its own")]
mod how_long_it_sleeps;

/// Dry bearing and laminar faces alone: I dw/dt = −(T0 + c w^1.5), here by the trapezium rule in w.
#[test]
fn closed_form_how_long_two_drums_sleep() {
    let [sleep_s, inertia, density, viscosity] = how_long_it_sleeps::run().expect("it runs");
    // Both faces of 28 mm by von Kármán and Cochran.
    let c = 2.0 * 0.967_488_035 * (density * viscosity).sqrt() * 0.028f64.powi(4);
    let (from, to) = (
        500.0 * std::f64::consts::TAU / 60.0,
        4000.0 * std::f64::consts::TAU / 60.0,
    );
    let steps = 20_000;
    let slope = |n: i32| {
        let w: f64 = from + (to - from) * f64::from(n) / f64::from(steps);
        inertia * 1e-9 / (5e-6 + c * w.powf(1.5))
    };
    let inner: f64 = (1..steps).map(slope).sum();
    let by_hand = (inner + 0.5 * (slope(0) + slope(steps))) * (to - from) / f64::from(steps);
    // The rule's error is h²/12 of the change of slope: some 1e-9; the constant has nine digits.
    assert!(
        (sleep_s / by_hand - 1.0).abs() < 2e-8,
        "{sleep_s} for {by_hand}"
    );
}
#[path = "../examples/04_does_the_rim_hold.rs"]
#[allow(dead_code, reason = "an example has a main of its own")]
mod does_the_rim_hold;

/// Two rings of one length that slide freely are Lamé's, worked here with the materials the example took.
#[test]
fn closed_form_a_ring_on_a_tube() {
    let (given, answer) = does_the_rim_hold::run().expect("it runs");
    let (inside, seat, outside) = (20.0f64, 24.0f64, 28.0f64);
    let ratio = |low: f64, high: f64| (high * high + low * low) / (high * high - low * low);
    let ring = &given.ring;
    let body = &given.body;
    let give = seat
        * ((ratio(seat, outside) + ring.poisson_ratio) / ring.modulus_mpa.likely
            + (ratio(inside, seat) - body.poisson_ratio) / body.modulus_mpa.likely);
    let by_hand = 0.5e-3 * answer.body.interference_um.likely / give;
    let section = answer.body.section.as_ref().expect("sections");
    // The walls meet at the middle of the bore's limits, half of 25 µm from 24 mm: some thousandths of the thinner wall.
    let plain = answer.body.states[0].pressure_mpa.likely;
    assert!((plain / by_hand - 1.0).abs() < 5e-3, "{plain} {by_hand}");
    // 0.2 % is what was asked of the elements.
    let drawn = section.slip.mean_pressure_mpa / section.plain_rings_mpa;
    assert!((drawn - 1.0).abs() < 2e-3, "{drawn}");
    assert!(
        answer
            .trust
            .iter()
            .any(|line| line.why.contains("test your own"))
    );
}

#[path = "../examples/07_what_a_set_up_does.rs"]
#[allow(dead_code, reason = "an example has a main of its own")]
mod what_a_set_up_does;

/// The disc's volume by hand, times the density the card gives at room temperature less what the hold leaves: within a few hundredths.
#[test]
fn law_a_disc_pulls_toward_its_gate_and_weighs_what_its_volume_says() {
    let body = what_a_set_up_does::run().expect("it runs").body;
    let volume_cm3 = std::f64::consts::PI * (28.0f64.powi(2) - 4.0f64.powi(2)) * 2.0 / 1000.0;
    let density = body.half.mass_g / volume_cm3;
    let drawn = body.half.drawn_mass_g / volume_cm3;
    // Shrinkage tables of the resin span 0.4 % along the part: a little over 1 % of volume; the card's own doubt is 1 % more.
    assert!((density / drawn - 1.0).abs() < 0.025, "{density} {drawn}");
    let pull = body.cavities[0].unbalance;
    assert!(pull.mass_distance_g_mm > 1e-3);
    let off = (pull.angle_deg - 90.0).rem_euclid(180.0);
    assert!(
        off.min(180.0 - off) < 1e-3,
        "{pull:?}: along the line of the gate"
    );
    assert!(body.ring_gate.expect("compared").unbalance_g_mm < 1e-6 * pull.mass_distance_g_mm);
}

#[path = "../examples/06_balance_without_phase.rs"]
#[allow(dead_code, reason = "an example has a main of its own")]
mod balance_without_phase;

/// The ring by the handbook: m (R² + r²)/2 and m (3 (R² + r²) + h²)/12.
#[test]
fn closed_form_the_section_of_a_ring() {
    let [mass_g, polar, transverse] = section::run().expect("the example runs");
    let (outer, inner, width): (f64, f64, f64) = (29.0, 24.0, 8.0);
    let squares = outer * outer + inner * inner;
    let by_hand_g = std::f64::consts::PI * (outer * outer - inner * inner) * width * 2.70 / 1000.0;
    // Some 50 roundings in either way of reckoning, each of half a unit in the last place.
    let within = 50.0 * f64::EPSILON;
    for (found, by_hand) in [
        (mass_g, by_hand_g),
        (polar, by_hand_g * squares / 2.0),
        (
            transverse,
            by_hand_g * (3.0 * squares + width * width) / 12.0,
        ),
    ] {
        assert!(
            (found / by_hand - 1.0).abs() <= within,
            "{found} for {by_hand}"
        );
    }
}

/// By hand: 29.40 g is more than 0.1 g from every other part, so of five parts one is left over. The
/// closest couples of the five are 28.84 with 28.88 and 28.93 with 28.97, (4² + 4²)/100 = 0.32; every other
/// couple within the limit is at least 0.05 g apart, so every other choice costs at least (4² + 5²)/100.
#[test]
fn closed_form_the_best_of_a_tray() {
    let (sets, cost) = pair_a_tray::run().expect("the example runs");
    let mut sets: Vec<[String; 2]> = sets
        .into_iter()
        .map(|(left, right)| {
            if left < right {
                [left, right]
            } else {
                [right, left]
            }
        })
        .collect();
    sets.sort();
    assert_eq!(sets, [["P2", "P6"], ["P3", "P5"]]);
    // A sum of two whole numbers over 100, rounded once.
    assert!((cost - 0.32).abs() <= f64::EPSILON, "{cost}");
}

/// 0.1 g at 90 degrees is what the readings were made from, so as much goes on at 270.
#[test]
fn closed_form_the_correction_without_phase() {
    let (mass_g, angle_deg) = balance_without_phase::run().expect("the example runs");
    // The least squares end where a step gains nothing: half the digits squared away.
    assert!((mass_g - 0.1).abs() < 1e-9, "{mass_g}");
    assert!((angle_deg - 270.0).abs() < 1e-6, "{angle_deg}");
}

/// An example is short, has a `run`, and stands in this test.
fn is_a_good_example(path: &str, text: &str, tests: &str) -> Vec<Finding> {
    let name = path.rsplit('/').next().unwrap_or_default();
    let mut found = Vec::new();
    if text.lines().count() > 60 {
        found.push(Finding::new(path, 61, "an example has 60 lines at most"));
    }
    if !text.contains("pub fn run()") {
        found.push(Finding::new(
            path,
            1,
            "an example has a `pub fn run()` that gives its numbers",
        ));
    }
    if !tests.contains(&format!("../examples/{name}")) {
        found.push(Finding::new(path, 1, "no test runs this example"));
    }
    found
}

#[test]
fn law_every_example_is_short_and_run() {
    let tests = file("crates/workshop/tests/examples.rs").text;
    none(&apply(
        &files("crates/workshop/examples", &[".rs"]),
        |path, text| is_a_good_example(path, text, &tests),
    ));
}

/// The rule, shown to fail on a planted fault.
#[test]
fn law_a_planted_example_is_named() {
    let path = "crates/workshop/examples/09_x.rs";
    assert_eq!(
        is_a_good_example(path, "pub fn run() {}", "../examples/09_x.rs"),
        []
    );
    assert_eq!(is_a_good_example(path, &"\n".repeat(61), "").len(), 3);
}
