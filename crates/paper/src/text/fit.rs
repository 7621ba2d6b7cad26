//! The press fit, in the terminal.

use whirlwright_workshop::fitting::{FitBody, StateLine};
use whirlwright_workshop::part::{Answer, Limits, Range};

use super::fit_section;
use super::page::Page;
use super::table::Table;
use crate::{rounding, words};

/// Interference, pressure, hold and strains over the fit's life, conditions, and the limits to take.
#[must_use]
pub fn fit(answer: &Answer<FitBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    page.heading(&format!("{} on {}", body.ring, body.body));
    for (label, value) in whole(body) {
        page.row(&label, &value);
    }
    if let Some(section) = &body.section {
        page.heading(&fit_section::heading(section));
        for (label, value) in fit_section::whole(section) {
            page.row(&label, &value);
        }
        let [usual, slip, stick] = fit_section::BOUNDS;
        let mut table = Table::new(&[usual, &format!(">{slip}"), &format!(">{stick}")]);
        for cells in fit_section::bounds(section) {
            table.row(cells);
        }
        table.write(&mut page);
    }
    page.heading(&life_heading(body));
    let mut table = Table::new(&[
        "moment",
        ">°C",
        ">µm left",
        ">pressure, MPa",
        ">ring, MPa",
        ">body, MPa",
        ">torque, N·mm",
    ]);
    for state in &body.states {
        table.row(cells(state));
    }
    table.write(&mut page);
    page.heading("Conditions, the one that decides first");
    for line in condition_lines(body) {
        page.hanging("  ", &line);
    }
    page.end(answer)
}

/// The heading of the moments: whose they are must be told where the sections stand beside them.
pub(crate) fn life_heading(body: &FitBody) -> String {
    let whose = if body.section.is_some() {
        ", by two plain rings"
    } else {
        ""
    };
    format!("Over its life{whose}")
}

/// The fit's numbers, as labels and values; the sheet shows the same.
pub(crate) fn whole(body: &FitBody) -> Vec<(String, String)> {
    let row = |label: &str, value: String| (label.to_owned(), value);
    let chance = &body.chance;
    let mut rows = vec![
        row("bore", limits(&body.hole)),
        row("spigot", limits(&body.shaft)),
        row(
            "walls",
            format!(
                "ring to {}, body from {}, seat {} long",
                rounding::places(body.ring_outside_mm, 2, "mm"),
                rounding::places(body.body_inside_mm, 2, "mm"),
                rounding::places(body.length_mm, 2, "mm")
            ),
        ),
        row(
            "interference",
            format!("{} µm on the diameter", range(body.interference_um, 1)),
        ),
    ];
    // Where the sections are there, the force to set the press by is theirs.
    if body.section.is_none() {
        rows.push(row(
            "push-on force",
            format!("{} N", range(body.push_on_n, 0)),
        ));
        rows.push(row(
            "torque when new",
            format!("{} N·mm", range(body.torque_n_mm, 0)),
        ));
    }
    rows.extend([
        row(
            "heat to slip on",
            format!(
                "ring {} warmer than the body",
                rounding::places(body.slip_on_warmer_k, 0, "K")
            ),
        ),
        row(
            "pairs as they come",
            format!(
                "{} loose, {} over-stressed of {} drawn (seed {}); by integral {} and {}",
                percent(chance.loose_share),
                percent(chance.over_stressed_share),
                chance.pairs_count,
                chance.seed,
                percent(chance.loose_probability),
                percent(chance.over_stressed_probability)
            ),
        ),
    ]);
    if let Some(window) = body.window_um {
        rows.push(row(
            "window",
            format!(
                "{} to {} µm of interference keep every condition",
                rounding::number(window.least_um, 1),
                rounding::number(window.most_um, 1)
            ),
        ));
    }
    if let Some(sizes) = body.advice.shaft_mm {
        let class = body.advice.shaft_class.as_ref();
        let class = class.map_or_else(String::new, |c| format!("; {c} lies inside"));
        rows.push(row(
            "spigot to take",
            format!(
                "{} to {}{class}",
                rounding::places(sizes.least_mm, 3, "mm"),
                rounding::places(sizes.most_mm, 3, "mm")
            ),
        ));
    }
    if let Some(loose) = &body.looseness {
        rows.push(row("looseness", loose.words.clone()));
    }
    if let Some(why) = &body.section_left_out {
        rows.push(row(
            "as drawn",
            format!("left out: {why}; force and torque are those of two plain rings"),
        ));
    }
    rows
}

fn limits(limits: &Limits) -> String {
    format!(
        "{} ({} to {})",
        words::limits(&limits.text),
        rounding::places(limits.least_mm(), 3, "mm"),
        rounding::places(limits.most_mm(), 3, "mm")
    )
}

fn percent(share: f64) -> String {
    format!("{} %", rounding::number(share * 100.0, 2))
}

/// Least, middle and most of a range; one number where there is but one.
pub(crate) fn range(range: Range, places: usize) -> String {
    let number = |value| rounding::number(value, places);
    if range.is_one() {
        return number(range.likely);
    }
    format!(
        "{} … {} … {}",
        number(range.low),
        number(range.likely),
        number(range.high)
    )
}

/// The cells of a moment.
pub(crate) fn cells(state: &StateLine) -> Vec<String> {
    vec![
        state.name.clone(),
        rounding::number(state.temperature_degc, 0),
        short(state.interference_um, 0),
        short(state.pressure_mpa, 2),
        short(state.ring_hoop_mpa, 1),
        short(state.body_hoop_mpa, 1),
        short(state.torque_n_mm, 0),
    ]
}

fn short(range: Range, places: usize) -> String {
    format!(
        "{} … {}",
        rounding::number(range.low, places),
        rounding::number(range.high, places)
    )
}

/// The conditions in words, each with the shape of its verdict.
pub(crate) fn condition_lines(body: &FitBody) -> Vec<String> {
    let shape = |kept: bool| if kept { '✓' } else { '■' };
    body.conditions
        .iter()
        .map(|c| format!("{} {}", shape(c.kept), c.words))
        .collect()
}
