//! What the press of the sections says in sentences.

use super::given::Given;
use super::section_body::{SectionFitBody, SectionPeak, SectionWorst};
use crate::part::figures::whole;
use crate::part::{Basis, Trust, Verdict};

/// A peak that changed by more than this with the mesh has not settled. Smooth peaks change by a quarter of the coarse
/// error, some parts in a hundred at four elements to a wall; at a sharp corner it is a fifth or more every time.
const SETTLED_PERCENT: f64 = 10.0;
/// A gap wider than this gapes; less is within the roughness of a turned bore, which is pressed flat.
const GAPES_UM: f64 = 2.0;

pub(super) fn verdict(body: &SectionFitBody) -> Verdict {
    if body.mean_pressure_mpa.likely <= 0.0 {
        Verdict::Stop
    } else if body.mean_pressure_mpa.low <= 0.0 || body.slip.widest_gap_um > GAPES_UM {
        Verdict::Look
    } else {
        Verdict::Good
    }
}

pub(super) fn headline(body: &SectionFitBody) -> String {
    let p = body.mean_pressure_mpa;
    format!(
        "{} on {} as drawn: {:.2} MPa along the seat ({:.2} to {:.2}); two plain rings would give {:.2}",
        body.ring, body.body, p.likely, p.low, p.high, body.plain_rings_mpa
    )
}

pub(super) fn decided_by(body: &SectionFitBody) -> String {
    let share = 100.0 * body.slip.pressing_share;
    if body.mean_pressure_mpa.likely <= 0.0 {
        "the seat has parted all along".to_owned()
    } else {
        format!(
            "{share:.0} % of the seat presses when it slides freely; its widest gap is {:.1} µm",
            body.slip.widest_gap_um
        )
    }
}

/// A moment's name, such as `cold after 5 years`.
pub(super) fn moment(temperature_degc: f64, aged: bool, fit: &Given) -> String {
    let weather = if temperature_degc <= fit.temperature_degc.likely {
        "cold"
    } else {
        "hot"
    };
    if aged {
        format!("{weather} after {} years", fit.years_count)
    } else {
        format!("{weather} when new")
    }
}

/// What the drawn sections still hold at the worst moment.
pub(super) fn worst(worst: &SectionWorst, fit: &Given) -> String {
    let asked = fit.torque_n_mm.map_or_else(
        || "it must only not part".to_owned(),
        |wanted| format!("{wanted:.0} N·mm are asked"),
    );
    format!(
        "as drawn, {} at {} °C and {:.0} rpm: {:.2} MPa are left of the least interference and hold {:.0} N·mm; {asked}",
        worst.name,
        whole(worst.temperature_degc),
        worst.speed_rpm,
        worst.mean_pressure_mpa,
        worst.torque_n_mm
    )
}

pub(super) fn trust(given: &Given, body: &SectionFitBody) -> Vec<Trust> {
    let mut lines = computed(body);
    for member in [&given.ring, &given.body] {
        for why in &member.why {
            lines.push(Trust {
                number: "mean_pressure_mpa".to_owned(),
                basis: Basis::Assumed,
                why: format!("{}: {why}; typical, test your own", member.name),
            });
        }
    }
    lines
}

/// How far the elements themselves are to be trusted.
pub(super) fn computed(body: &SectionFitBody) -> Vec<Trust> {
    let computed = |number: &str, why: String| Trust {
        number: number.to_owned(),
        basis: Basis::Computed,
        why,
    };
    let mut lines = vec![
        computed(
            "mean_pressure_mpa",
            format!(
                "finite elements of {} mm; from elements twice as large it changed by {:.1} %; the range runs over the limits, the softest and stiffest grade, and from free sliding to no sliding",
                body.size_mm, body.pressure_change_percent
            ),
        ),
        computed(
            "most_pressure_mpa",
            "the ends of a seat press without bound in an elastic body: it grows with every finer mesh, read the mean".to_owned(),
        ),
    ];
    let peaks = [
        (&body.ring, body.slip.ring_peak),
        (&body.body, body.slip.body_peak),
    ];
    for (name, peak) in peaks {
        lines.push(computed("equivalent_mpa", of_peak(name, peak)));
    }
    lines
}

fn of_peak(name: &str, peak: SectionPeak) -> String {
    let place = format!("x {:.2} mm, radius {:.2} mm", peak.x_mm, peak.radius_mm);
    if peak.change_percent.abs() <= SETTLED_PERCENT {
        format!(
            "{name}: peak at {place}; from elements twice as large it changed by {:.1} %",
            peak.change_percent
        )
    } else {
        format!(
            "{name}: the peak at {place} still grew by {:.0} % with the finer mesh: a sharp corner or the seat's end; draw the corner with its radius to have its true height",
            peak.change_percent
        )
    }
}

pub(super) fn cautions() -> Vec<String> {
    vec![
        "press behind a shield with its guard shut and wear eye protection: plastic can burst; follow the press's manual and local rules".to_owned(),
    ]
}

pub(super) fn next(body: &SectionFitBody) -> Vec<String> {
    let mut lines = mending(body);
    lines.push("press a pair with the largest interference and look at it after a week".to_owned());
    lines
}

/// What to mend on the drawing.
pub(super) fn mending(body: &SectionFitBody) -> Vec<String> {
    let mut lines = Vec::new();
    if body.slip.widest_gap_um > GAPES_UM {
        lines.push(format!(
            "the seat gapes by {:.1} µm: shorten it, or back the wall up behind it",
            body.slip.widest_gap_um
        ));
    }
    if body.slip.body_peak.change_percent.abs() > SETTLED_PERCENT {
        let p = body.slip.body_peak;
        lines.push(format!(
            "round the corner of {} at x {:.2} mm, radius {:.2} mm, and look again",
            body.body, p.x_mm, p.radius_mm
        ));
    }
    lines
}
