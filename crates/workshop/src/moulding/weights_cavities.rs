//! What each cavity's weights say.

use super::weights_body::{CavityCause, CavitySays, WeighedPoint};
use super::weights_means::{Weighing, mean, middle, names, sd_of_one_mean};
use crate::part::figures::signed;
use crate::shelf::known;

/// What each cavity's weights say: steel shows at every hold alike, the feed only while the gate is open.
pub(super) fn cavities(weighed: &[Weighing], points: &[WeighedPoint]) -> Vec<CavitySays> {
    let first = points
        .iter()
        .map(|p| p.hold_s)
        .fold(f64::INFINITY, f64::min);
    let last = points.iter().map(|p| p.hold_s).fold(0.0, f64::max);
    let names = names(weighed);
    let mean_at = |hold_s: f64, name: &String| -> Vec<f64> {
        let at = |w: &&Weighing| w.hold_s == hold_s && w.cavity == *name;
        weighed.iter().filter(at).map(|w| w.mass_g).collect()
    };
    // One cavity that is far off must not make the others look so: the middle of them is what each is held against.
    let middle_g = |hold_s: f64| {
        let each: Vec<f64> = names.iter().map(|n| mean(&mean_at(hold_s, n))).collect();
        middle(&each)
    };
    // The two longest holds stand for the frozen gate.
    let mut times: Vec<f64> = points.iter().map(|p| p.hold_s).collect();
    times.sort_by(f64::total_cmp);
    times.dedup();
    let before_last = times.len().checked_sub(2).map_or(last, |n| times[n]);
    let percent = |name: &String, hold_s: f64| {
        100.0 * (mean(&mean_at(hold_s, name)) / middle_g(hold_s) - 1.0)
    };
    names
        .iter()
        .map(|name| {
            let (one, other) = (percent(name, last), percent(name, before_last));
            let settled = 0.5 * (one + other);
            let scatter =
                scatter_percent(&mean_at(last, name)).max((one - other).abs() / 2f64.sqrt());
            says(name.clone(), settled, percent(name, first), scatter)
        })
        .collect()
}

/// Standard deviation of a mean of these, in percent; 0 for one.
fn scatter_percent(masses: &[f64]) -> f64 {
    sd_of_one_mean(masses).map_or(0.0, |sd| 100.0 * sd / mean(masses))
}

fn says(name: String, settled: f64, early: f64, sd: f64) -> CavitySays {
    let least = known("mould_study.cavity_shows").value.max(3.0 * sd);
    let (steel, feed) = (settled.abs() > least, (early - settled).abs() > 2.0 * least);
    let heavy = |percent: f64| if percent > 0.0 { "heavier" } else { "lighter" };
    let of_steel = format!(
        "it is {:.2} % {} whatever the hold: its hollow is {} (no setting mends that; measure core and depth)",
        settled.abs(),
        heavy(settled),
        if settled > 0.0 { "larger" } else { "smaller" }
    );
    let of_feed = format!(
        "while the gate is open it is {:.2} % {}, once frozen {} %: its runner or gate lets {} through (measure the gate's depth first; {} it)",
        early.abs(),
        heavy(early),
        signed(settled, 2),
        if early > settled { "more" } else { "less" },
        if early > settled {
            "do not touch this one, open the others or leave"
        } else {
            "open"
        }
    );
    let (cause, words) = match (steel, feed) {
        (false, false) => (
            CavityCause::Even,
            "no more off than the weighings scatter".to_owned(),
        ),
        (true, false) => (CavityCause::Steel, of_steel),
        (false, true) => (CavityCause::Feed, of_feed),
        (true, true) => (
            CavityCause::SteelAndFeed,
            format!("{of_steel}; and {of_feed}"),
        ),
    };
    CavitySays {
        words: format!("cavity {name}: {words}"),
        name,
        settled_percent: settled,
        early_percent: early,
        settled_sd_percent: sd,
        cause,
    }
}
