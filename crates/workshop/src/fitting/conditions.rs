//! Every condition brought to the interference at which it is just kept.

use super::body::Window;
use super::condition_line::ConditionLine;
use super::given::{Given, Member, Stiffness};
use super::press::{Part, Press, hold_n};
use crate::part::figures::{fixed, whole};

/// µm on the diameter in a mm on the radius.
pub(super) const UM_ACROSS: f64 = 2000.0;
/// Hours in a year.
pub(super) const YEAR_HOURS: f64 = 8766.0;

/// Hours at the end of the years.
pub(super) fn last_hours(given: &Given) -> f64 {
    given.years_count * YEAR_HOURS
}

/// Every condition, the one that decides (the least margin) first.
pub(super) fn conditions(given: &Given) -> Vec<ConditionLine> {
    let least_um = given.fit.least_interference_um();
    let most_um = given.fit.most_interference_um();
    let mut lines = Vec::new();
    for hours in [0.0, last_hours(given)] {
        for (temperature_degc, called) in moments(given) {
            let friction = given.friction_coefficient.low;
            let need = needed_um(given, temperature_degc, hours, friction);
            let name = holding(given, called, hours);
            lines.push(holds(given, name, temperature_degc, need, least_um));
        }
    }
    for part in [Part::Ring, Part::Body] {
        lines.extend(breaks(given, part, most_um));
    }
    lines.sort_by(|a, b| a.margin_um.total_cmp(&b.margin_um));
    lines
}

/// The window that all conditions leave, in µm on the diameter.
pub(super) fn window(lines: &[ConditionLine]) -> Option<Window> {
    let needed = lines.iter().filter_map(|l| l.at_least_um);
    let allowed = lines.iter().filter_map(|l| l.at_most_um);
    let least_um = needed.fold(0.0, f64::max);
    let most_um = allowed.fold(f64::INFINITY, f64::min);
    (least_um < most_um && most_um.is_finite()).then_some(Window { least_um, most_um })
}

/// The coldest and the hottest moment.
fn moments(given: &Given) -> [(f64, &'static str); 2] {
    [
        (given.temperature_degc.low, "cold"),
        (given.temperature_degc.high, "hot"),
    ]
}

/// Interference on the diameter at which the fit just holds, at the fastest speed, dry, with the
/// softest grade.
pub(super) fn needed_um(given: &Given, temperature_degc: f64, hours: f64, friction: f64) -> f64 {
    let press = given.press(Stiffness::Soft, hours);
    let change = given.change(temperature_degc, false, given.speed_rpm);
    let wanted_mpa = given.torque_n_mm.map_or(0.0, |torque| {
        torque / (hold_n(1.0, press.seat_mm(), given.length_mm, friction) * press.seat_mm())
    });
    press.interference_for_mm(wanted_mpa, &change) * UM_ACROSS
}

/// The moment and the age at which holding needs the most interference.
pub(super) fn worst_hold(given: &Given) -> (f64, f64) {
    let mut worst = (given.temperature_degc.low, 0.0);
    let mut most = f64::NEG_INFINITY;
    for hours in [0.0, last_hours(given)] {
        for (temperature_degc, _) in moments(given) {
            let need = needed_um(
                given,
                temperature_degc,
                hours,
                given.friction_coefficient.low,
            );
            if need > most {
                (most, worst) = (need, (temperature_degc, hours));
            }
        }
    }
    worst
}

/// The name of a condition of holding, such as `holds cold after 5 years`.
pub(super) fn holding(given: &Given, called: &str, hours: f64) -> String {
    if hours > 0.0 {
        format!("holds {called} after {} years", given.years_count)
    } else {
        format!("holds {called} when new")
    }
}

/// A condition of holding, with the interference it needs.
pub(super) fn holds(
    given: &Given,
    name: String,
    degc: f64,
    need_um: f64,
    found_um: f64,
) -> ConditionLine {
    let what = given.torque_n_mm.map_or_else(
        || "still touches".to_owned(),
        |torque| format!("holds {torque:.0} N·mm"),
    );
    let margin_um = found_um - need_um;
    ConditionLine {
        words: format!(
            "{name}: at {} °C and {:.0} rpm it {what} from {} µm of interference on, and the least is {} µm ({} by {:.1} µm)",
            whole(degc),
            given.speed_rpm,
            fixed(need_um, 1),
            fixed(found_um, 1),
            if margin_um >= 0.0 { "inside" } else { "missed" },
            margin_um.abs()
        ),
        name,
        at_least_um: Some(need_um),
        at_most_um: None,
        found_um,
        margin_um,
        kept: margin_um >= 0.0,
    }
}

/// Conditions of not breaking: safe strain when new and in the long run, and the proof stress.
fn breaks(given: &Given, part: Part, found_um: f64) -> Vec<ConditionLine> {
    let member = match part {
        Part::Ring => &given.ring,
        Part::Body => &given.body,
    };
    let hot = given.change(given.temperature_degc.high, true, 0.0);
    let usual = given.change(given.temperature_degc.likely, true, 0.0);
    let cold = given.change(given.temperature_degc.low, true, 0.0);
    let last = last_hours(given);
    let new = softest_for(given, part, 0.0);
    let old = softest_for(given, part, last);
    let mut lines = Vec::new();
    let mut push =
        |name: String, press: &Press, changes: &[_], pressure_mpa: f64, limit: String| {
            let at_most = changes
                .iter()
                .map(|change| press.interference_for_mm(pressure_mpa, change) * UM_ACROSS)
                .fold(f64::INFINITY, f64::min);
            lines.push(line(name, at_most, found_um, &limit));
        };
    let piece = &member.name;
    if let Some(strain) = member.short_strain_share {
        let pressure = strain / new.strain_per_mpa_ratio(part);
        let limit = format!("{:.2} % of strain, safe for minutes", strain * 100.0);
        push(
            format!("{piece} when new"),
            &new,
            &[hot, cold],
            pressure,
            limit,
        );
    }
    if let Some(strain) = member.long_strain_share {
        let pressure = strain.low / old.strain_per_mpa_ratio(part);
        let limit = format!("{:.2} % of strain, safe for years", strain.low * 100.0);
        push(
            format!("{piece} in the long run"),
            &old,
            &[usual],
            pressure,
            limit,
        );
    }
    if let Some(proof) = member.proof_stress_mpa {
        let stiff = given.press(Stiffness::Stiff, 0.0);
        let pressure = proof / stiff.stress_per_mpa_ratio(part);
        let limit = format!("{proof:.0} MPa, where it takes a set");
        push(
            format!("{piece} takes a set"),
            &stiff,
            &[hot, cold],
            pressure,
            limit,
        );
    }
    lines
}

/// The press in which a part is strained most: the part itself soft, the other stiff.
fn softest_for(given: &Given, part: Part, hours: f64) -> Press {
    let (soft, stiff) = (
        given.press(Stiffness::Soft, hours),
        given.press(Stiffness::Stiff, hours),
    );
    match part {
        Part::Ring => Press {
            ring: soft.ring,
            body: stiff.body,
        },
        Part::Body => Press {
            ring: stiff.ring,
            body: soft.body,
        },
    }
}

/// A condition of not breaking, with the interference it allows.
pub(super) fn line(name: String, at_most_um: f64, found_um: f64, limit: &str) -> ConditionLine {
    let margin_um = at_most_um - found_um;
    ConditionLine {
        words: format!(
            "{name}: up to {} µm of interference it stays within {limit}, and the most is {} µm ({} by {:.1} µm)",
            fixed(at_most_um, 1),
            fixed(found_um, 1),
            if margin_um >= 0.0 { "inside" } else { "over" },
            margin_um.abs()
        ),
        name,
        at_least_um: None,
        at_most_um: Some(at_most_um),
        found_um,
        margin_um,
        kept: margin_um >= 0.0,
    }
}

/// The safe strains that were reckoned with, for the answer's trust.
pub(super) fn safe_words(member: &Member) -> String {
    let short = member
        .short_strain_share
        .map(|s| format!("{:.1} % for minutes", s * 100.0));
    let long = member
        .long_strain_share
        .map(|s| format!("{:.2} % for years", s.low * 100.0));
    let proof = member
        .proof_stress_mpa
        .map(|s| format!("{s:.0} MPa before it takes a set"));
    let said: Vec<String> = [short, long, proof].into_iter().flatten().collect();
    if said.is_empty() {
        "no safe limit is known, so breaking is not judged".to_owned()
    } else {
        said.join(", ")
    }
}
