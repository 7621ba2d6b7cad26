//! The rim as a turned part, in the terminal.

use whirlwright_workshop::part::Answer;
use whirlwright_workshop::turning::{CutLine, DimensionLine, RecutBody, RimBody, TrayBody};

use super::page::Page;
use super::table::Table;
use crate::{rounding, words};

/// What each turned dimension does, and what it may be off by.
#[must_use]
pub fn rim(answer: &Answer<RimBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    page.heading("What 0.01 mm more does");
    let mut table = Table::new(&[
        "dimension",
        ">size, mm",
        ">mass, g",
        ">polar, g·mm²",
        ">centre, µm",
        ">run-out, g·mm",
        ">and g·mm²",
    ]);
    for line in &body.dimensions {
        table.row(doing(line));
    }
    table.write(&mut page);
    page.heading(&format!(
        "What each may be off so that the mass holds to ± {} g",
        body.mass_within_g
    ));
    let mut table = Table::new(&[
        "dimension",
        ">worst case, ± mm",
        "grade",
        ">statistical, ± mm",
        "grade",
        ">share in %",
        "held",
    ]);
    for line in body.dimensions.iter().filter(|d| !d.datum) {
        table.row(may(line));
    }
    table.write(&mut page);
    for (label, value) in sums(body) {
        page.row(&label, &value);
    }
    page.end(answer)
}

/// The cells of what a dimension does, for 0.01 mm; the sheet shows the same.
pub(crate) fn doing(line: &DimensionLine) -> Vec<String> {
    /// The lines are told for a hundredth.
    const HUNDREDTH: f64 = 0.01;
    let note = match (line.datum, line.fit) {
        (true, _) => " (datum)",
        (_, true) => " (fit)",
        _ => "",
    };
    vec![
        format!("{}{note}", line.name),
        line.size_mm
            .map(|s| rounding::number(s, 3))
            .unwrap_or_default(),
        rounding::signed(line.mass_g_per_mm * HUNDREDTH, 4),
        rounding::signed(line.polar_g_mm2_per_mm * HUNDREDTH, 2),
        line.whole_centre_um
            .map(|u| rounding::signed(u, 2))
            .unwrap_or_default(),
        rounding::number(line.static_g_mm, 3),
        rounding::number(line.couple_g_mm2, 2),
    ]
}

/// The cells of what a dimension may be off by.
pub(crate) fn may(line: &DimensionLine) -> Vec<String> {
    let mm = |value: Option<f64>| value.map(|v| rounding::number(v, 4)).unwrap_or_default();
    vec![
        line.name.clone(),
        mm(line.worst_mm),
        line.worst_grade.clone().unwrap_or_default(),
        mm(line.statistical_mm),
        line.statistical_grade.clone().unwrap_or_default(),
        rounding::number(line.mass_share * 100.0, 0),
        line.held.as_deref().map(words::limits).unwrap_or_default(),
    ]
}

/// What the tolerances add up to, as labels and values.
pub(crate) fn sums(body: &RimBody) -> Vec<(String, String)> {
    let mut rows = vec![
        (
            "all at worst".to_owned(),
            rounding::places(body.sum.worst_g, 3, "g"),
        ),
        (
            "by their squares".to_owned(),
            rounding::places(body.sum.statistical_g, 3, "g"),
        ),
    ];
    if body.sum.held_g > 0.0 {
        rows.push((
            "held already".to_owned(),
            rounding::places(body.sum.held_g, 3, "g"),
        ));
    }
    if let Some(hold) = &body.hold {
        rows.push(("hold".to_owned(), hold.clone()));
    }
    if !body.let_go.is_empty() {
        rows.push(("may be let go".to_owned(), body.let_go.join(", ")));
    }
    rows
}

/// How a rim over its mass is brought to it.
#[must_use]
pub fn recut(answer: &Answer<RecutBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    page.heading("The rim");
    page.row("reading", &rounding::places(body.mass_g, 2, "g"));
    page.row(
        "wanted",
        &format!(
            "{} ± {}",
            rounding::places(body.wanted_g, 3, "g"),
            rounding::figures(body.mass_within_g, 2, "g")
        ),
    );
    for cut in &body.cuts {
        one_cut(&mut page, cut);
    }
    if let Some(steps) = &body.two_steps {
        page.heading("In two steps");
        page.hanging("  ", &steps.words);
    }
    page.end(answer)
}

fn one_cut(page: &mut Page, cut: &CutLine) {
    let shape = if cut.allowed { '✓' } else { '■' };
    page.heading(&format!("{shape} {}", cut.words));
    page.row(
        "mass after",
        &rounding::with_uncertainty(cut.mass_after_g, cut.mass_after_sd_g, "g"),
    );
    if let Some(size) = cut.size_after_mm {
        page.row("size after", &rounding::places(size, 3, "mm"));
    }
    page.row(
        "inertia",
        &format!(
            "{} g·mm² about the axle, {} g·mm² across",
            rounding::signed(cut.polar_change_g_mm2, 1),
            rounding::signed(cut.transverse_change_g_mm2, 1)
        ),
    );
    page.row(
        "centre",
        &format!(
            "{} mm along the axle",
            rounding::signed(cut.centre_change_mm, 4)
        ),
    );
    page.row(
        "unbalance",
        &format!(
            "up to {} if the new surface runs out",
            rounding::places(cut.static_g_mm_at_most, 2, "g·mm")
        ),
    );
    page.row(
        "lands inside",
        &format!(
            "{} % of such cuts",
            rounding::number(cut.within_probability * 100.0, 1)
        ),
    );
}

/// Who of a tray is cut, and how deep.
#[must_use]
pub fn tray(answer: &Answer<TrayBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    if !body.cuts.is_empty() {
        page.heading("Cuts, in the order in which the tool moves least");
        let mut table = Table::new(&[
            "rim",
            ">reading in g",
            "dimension",
            ">cut in mm",
            ">after in g",
        ]);
        for cut in &body.cuts {
            table.row(vec![
                cut.serial.clone(),
                rounding::number(cut.mass_g, 2),
                cut.name.clone(),
                rounding::number(cut.set_mm, 3),
                rounding::number(cut.mass_after_g, 2),
            ]);
        }
        table.write(&mut page);
    }
    for (label, serials) in [
        ("Too light", &body.too_light),
        ("Too heavy", &body.too_heavy),
    ] {
        if !serials.is_empty() {
            page.heading(label);
            page.hanging("  ", &serials.join(", "));
        }
    }
    page.end(answer)
}
