//! The conditions of the sections as they are drawn, each brought to the interference at which it is just kept.

use super::condition_line::ConditionLine;
use super::conditions::{UM_ACROSS, holding, holds, line};
use super::given::{Given, Member, Stiffness};
use super::section_body::{SectionBound, SectionPeak, SectionWorst};

/// Holding at the worst moment, and the strain at the peaks in the long run.
///
/// A peak's strain is its equivalent stress over the short-time modulus; the interference makes it, so it stays while the stress
/// creeps away, and grows with the interference.
pub(super) fn conditions(
    fit: &Given,
    worst: &SectionWorst,
    bounds: [&SectionBound; 2],
) -> Vec<ConditionLine> {
    let least_um = fit.fit.least_interference_um();
    let mut lines = Vec::new();
    if let Some(need_um) = worst.at_least_um {
        let called = if worst.temperature_degc <= fit.temperature_degc.likely {
            "cold"
        } else {
            "hot"
        };
        let name = holding(fit, called, worst.years_count);
        let name = format!("{name}, as drawn");
        lines.push(holds(fit, name, worst.temperature_degc, need_um, least_um));
    }
    let most = |of: fn(&SectionBound) -> SectionPeak| {
        let strain = bounds.map(|bound| of(bound).strain_percent);
        strain[0].max(strain[1])
    };
    lines.extend(strained(fit, &fit.ring, most(|bound| bound.ring_peak)));
    lines.extend(strained(fit, &fit.body, most(|bound| bound.body_peak)));
    lines
}

/// The long-run strain at a peak, which `peak_percent` is for the middle interference.
fn strained(fit: &Given, member: &Member, peak_percent: f64) -> Option<ConditionLine> {
    let middle_um = 0.5 * (fit.fit.least_interference_um() + fit.fit.most_interference_um());
    let safe = 100.0 * member.long_strain_share?.low;
    if middle_um <= 0.0 || peak_percent <= 0.0 {
        return None;
    }
    // What the usual temperature adds is interference too.
    let usual = fit.change(fit.temperature_degc.likely, true, 0.0);
    let (grown_mm, _) = fit.press(Stiffness::Likely, 0.0).added_mm(&usual);
    let at_most_um = middle_um * safe / peak_percent - grown_mm * UM_ACROSS;
    Some(line(
        format!("{} at its peak, as drawn", member.name),
        at_most_um,
        fit.fit.most_interference_um(),
        &format!("{safe:.2} % of strain there, safe for years"),
    ))
}
