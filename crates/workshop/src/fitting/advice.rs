//! What the limits should be, and into how many bins bodies must go where no grade will do.

use super::body::{Advice, Sizes, Window};
use super::given::Given;
use crate::part::{FitLimits, Limits, Surface};
use crate::shelf::GRADES;

/// µm in a mm.
const UM: f64 = 1000.0;
/// More bins than this is no sorting but measuring every pair.
const MOST_BINS: f64 = 60.0;

/// Limits of the spigot for the bore as it is; the bins where the scatter is too wide.
pub(super) fn advice(given: &Given, window: Option<Window>) -> Advice {
    let Some(window) = window else {
        return Advice {
            shaft_mm: None,
            shaft_class: None,
            body_bins_count: None,
            both_bins_count: None,
            words: "no interference keeps every condition: thicken the body's wall, lengthen the seat, ask less torque, or take a resin that grows less and creeps less".to_owned(),
        };
    };
    let (hole, shaft) = (&given.fit.hole, &given.fit.shaft);
    let hole_um = hole.width_um();
    // The spigots come as wide as their limits, or as six of their standard deviations.
    let shaft_um = shaft.width_um().max(6.0 * given.shaft_sd_um);
    let wide = window.most_um - window.least_um;
    let bins = |tolerance: f64, room: f64| {
        let count = (tolerance / room).ceil().max(1.0);
        (room > 0.0 && count <= MOST_BINS).then_some(count as u32)
    };
    let body_bins_count = bins(shaft_um, wide - hole_um);
    let both_bins_count = bins(shaft_um + hole_um, wide);
    let sizes = Sizes {
        least_mm: hole.most_mm() + window.least_um / UM,
        most_mm: hole.least_mm() + window.most_um / UM,
    };
    let shaft_mm = (sizes.least_mm < sizes.most_mm).then_some(sizes);
    let shaft_class = shaft_class(given, window);
    let words = words(
        window,
        body_bins_count,
        both_bins_count,
        shaft_mm,
        &shaft_class,
        shaft_um,
    );
    Advice {
        shaft_mm,
        shaft_class,
        body_bins_count,
        both_bins_count,
        words,
    }
}

fn words(
    window: Window,
    body_bins: Option<u32>,
    both_bins: Option<u32>,
    sizes: Option<Sizes>,
    class: &Option<String>,
    shaft_um: f64,
) -> String {
    let fit = format!(
        "fit_window = \"{:.3} mm .. {:.3} mm\"",
        window.least_um / UM,
        window.most_um / UM
    );
    let class = class
        .as_ref()
        .map_or_else(String::new, |c| format!(" (class {c} lies inside)"));
    match (body_bins, both_bins, sizes) {
        (Some(1), _, Some(s)) => format!(
            "hold the spigot to {:.3} to {:.3} mm{class} and every body goes with every ring",
            s.least_mm, s.most_mm
        ),
        (Some(bins), _, _) => format!(
            "the spigots come {shaft_um:.0} µm wide, too wide for any grade: sort bodies into {bins} bins of {:.0} µm and turn the bores of each bin to its own nominal, or pair by measure with {fit}",
            shaft_um / f64::from(bins)
        ),
        (None, Some(bins), _) => format!(
            "the bores alone fill the window: sort bores and spigots into {bins} bins each and put like to like, or pair by measure with {fit}"
        ),
        (None, None, _) => format!(
            "the window of {:.0} µm is too narrow to sort for: pair by measure with {fit}",
            window.most_um - window.least_um
        ),
    }
}

/// The coarsest class of ISO 286 whose interference with the bore lies in the window; of those of one
/// grade the one in the middle.
fn shaft_class(given: &Given, window: Window) -> Option<String> {
    const LETTERS: [&str; 13] = [
        "f", "g", "h", "js", "k", "m", "n", "p", "r", "s", "t", "u", "x",
    ];
    let nominal = given.fit.hole.nominal_mm;
    for grade in GRADES.rev() {
        let mut best: Option<(f64, String)> = None;
        for letter in LETTERS {
            let text = format!("{nominal} {letter}{grade}");
            let Ok(shaft) = Limits::read(&text, Surface::Shaft) else {
                continue;
            };
            let fit = FitLimits {
                hole: given.fit.hole.clone(),
                shaft,
            };
            let (least, most) = (fit.least_interference_um(), fit.most_interference_um());
            if least < window.least_um || most > window.most_um {
                continue;
            }
            let off = (0.5 * (least + most) - 0.5 * (window.least_um + window.most_um)).abs();
            if best.as_ref().is_none_or(|(known, _)| off < *known) {
                best = Some((off, format!("{letter}{grade}")));
            }
        }
        if let Some((_, class)) = best {
            return Some(class);
        }
    }
    None
}
