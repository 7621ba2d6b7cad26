//! A lot looked over, in the terminal.

use whirlwright_workshop::measuring::MeasuringBody;
use whirlwright_workshop::part::Answer;

use super::page::Page;
use super::strips;
use super::table::Table;
use crate::{rounding, spread, words};

/// Most doubts that are listed; the page and the JSON answer have them all.
const MOST_DOUBTS: usize = 12;

/// A lot looked over: spread by kind and origin, and what to weigh again.
#[must_use]
pub fn measuring(answer: &Answer<MeasuringBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    if !body.by_kind.is_empty() {
        page.heading(&format!(
            "Weighed: {} of {}",
            body.weighed,
            rounding::count(body.parts, "part", "parts")
        ));
        kinds(&mut page, body);
    }
    let families = spread::of_measuring(body);
    if !families.is_empty() {
        page.heading("Masses by origin");
        strips::write(&mut page, &families);
    }
    if !body.differences.is_empty() {
        page.heading("What the origin does");
        for sentence in &body.differences {
            page.point(sentence);
        }
    }
    if !body.doubts.is_empty() {
        page.heading(&format!(
            "Weigh again: {}",
            rounding::count(body.doubts.len(), "part", "parts")
        ));
        for doubt in body.doubts.iter().take(MOST_DOUBTS) {
            page.hanging(&format!("  {}  ", doubt.serial), &doubt.why);
        }
        if body.doubts.len() > MOST_DOUBTS {
            page.line(&format!("  … and {} more", body.doubts.len() - MOST_DOUBTS));
        }
    }
    page.end(answer)
}

fn kinds(page: &mut Page, body: &MeasuringBody) {
    let mut table = Table::new(&[
        "kind",
        ">parts",
        ">mean in g",
        ">sd in g",
        ">lightest in g",
        ">heaviest in g",
    ]);
    let figures = rounding::shared_places(
        body.by_kind
            .iter()
            .flat_map(|s| [s.min_mass_g, s.max_mass_g]),
        4,
    );
    for spread in &body.by_kind {
        table.row(vec![
            words::kinds(spread.kind).to_owned(),
            spread.count.to_string(),
            rounding::number(spread.mean_mass_g, figures + 1),
            spread
                .sd_mass_g
                .map(|sd| rounding::number(sd, figures + 1))
                .unwrap_or_default(),
            rounding::number(spread.min_mass_g, figures),
            rounding::number(spread.max_mass_g, figures),
        ]);
    }
    table.write(page);
}
