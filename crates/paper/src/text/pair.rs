//! Who with whom, in the terminal.

use whirlwright_workshop::pairing::{PairBody, PairSet};
use whirlwright_workshop::part::Answer;

use super::page::Page;
use super::strips;
use super::table::Table;
use crate::{rounding, spread, words};

/// Sets that are shown; the pick list has them all.
const SETS_SHOWN: usize = 8;
/// Rims to cut and parts left over that are shown; the recut list and the page have them all.
const LINES_SHOWN: usize = 8;

/// The sets, their proof, what to cut, what is left and what simpler ways would have brought.
#[must_use]
pub fn pair(answer: &Answer<PairBody>) -> String {
    let body = &answer.body;
    let mut page = Page::answer(answer);
    proof(&mut page, body);
    scores(&mut page, body);
    sets(&mut page, body);
    joint(&mut page, body);
    recuts(&mut page, body);
    left_over(&mut page, body);
    page.heading("What simpler ways bring on this very lot");
    baselines(&mut page, body);
    let families = spread::of_pairing(body);
    if families.iter().any(|family| family.count() > 0) {
        page.heading("Masses by origin");
        strips::write(&mut page, &families);
    }
    page.end(answer)
}

fn proof(page: &mut Page, body: &PairBody) {
    page.heading("Sets");
    let most = body.possible_sets_upper_bound;
    page.row(
        "found",
        &format!("{} of at most {most} possible", body.set_count),
    );
    page.row(
        "total cost",
        &format!(
            "{}, least possible {} (no unit: squared share of each limit, summed)",
            rounding::figures(body.total_cost, 4, ""),
            rounding::figures(body.lower_bound, 4, "")
        ),
    );
    page.row("proof", &body.proof);
    for limit in &body.limits {
        page.row(&limit.what, &limit.limit);
    }
}

fn scores(page: &mut Page, body: &PairBody) {
    page.heading("Two scores, and neither makes up for the other");
    let scores = &body.scores;
    page.row(
        "same mass",
        &words::beside("same mass", &scores.same_mass.sentence),
    );
    page.row(
        "runs true",
        &words::beside("runs true", &scores.runs_true.sentence),
    );
}

fn sets(page: &mut Page, body: &PairBody) {
    if body.sets.is_empty() {
        return;
    }
    let shown = body.sets.len().min(SETS_SHOWN);
    page.heading(&format!(
        "The first {} of {}",
        shown,
        rounding::count(body.sets.len(), "set", "sets")
    ));
    let figures = set_places(body);
    let mut table = Table::new(&[
        ">set",
        "left",
        "right",
        ">difference in g",
        ">in g·mm",
        ">in mm",
        ">piece in g",
        ">mark",
        "",
    ]);
    for set in &body.sets[..shown] {
        table.row(set_row(set, figures));
    }
    table.write(page);
    if shown < body.sets.len() {
        page.line(&format!(
            "  … {} more stand on the pick list",
            body.sets.len() - shown
        ));
    }
}

/// How the joint's angle is set, for the sets shown, where it was measured.
fn joint(page: &mut Page, body: &PairBody) {
    let mut table = Table::new(&[
        ">set",
        "setting",
        ">turn in °",
        ">static left in g·mm",
        ">couple per arm in g·mm",
    ]);
    for set in body.sets.iter().take(SETS_SHOWN) {
        let mut number = set.number.to_string();
        for option in &set.clocking {
            table.row(vec![
                std::mem::take(&mut number),
                option.setting.clone(),
                rounding::number(option.turn_deg, 0),
                rounding::number(option.static_unbalance_g_mm, 2),
                rounding::number(option.couple_per_arm_g_mm, 2),
            ]);
        }
    }
    if !table.is_empty() {
        page.heading("How the joint is set");
        table.write(page);
    }
}

/// Figures behind the point of the masses, unbalances and offsets of the sets.
///
/// Where rims are cut the masses are forecasts, reckoned finer than any scale shows them: they end
/// where the readings before the cuts do, at the hundredth of a gram at the soonest.
fn set_places(body: &PairBody) -> [usize; 3] {
    let sets = &body.sets;
    let most = if body.recuts.is_empty() {
        4
    } else {
        rounding::shared_places(body.recuts.iter().map(|cut| cut.mass_before_g), 4).max(2)
    };
    let of = |value: fn(&PairSet) -> Option<f64>| {
        rounding::shared_places(sets.iter().filter_map(value), 4)
    };
    [
        of(|s| s.mass_difference_g)
            .max(of(|s| s.piece_mass_g))
            .min(most),
        of(|s| s.unbalance_difference_g_mm),
        of(|s| s.offset_difference_mm),
    ]
}

fn set_row(set: &PairSet, [mass, unbalance, offset]: [usize; 3]) -> Vec<String> {
    let cell = |value: Option<f64>, figures| {
        value
            .map(|v| rounding::number(v, figures))
            .unwrap_or_default()
    };
    vec![
        set.number.to_string(),
        set.left.replace('+', " + "),
        set.right.replace('+', " + "),
        cell(set.mass_difference_g, mass),
        cell(set.unbalance_difference_g_mm, unbalance),
        cell(set.offset_difference_mm, offset),
        cell(set.piece_mass_g, mass),
        set.clock_mark
            .map(|mark| mark.to_string())
            .unwrap_or_default(),
        if set.within_limits {
            String::new()
        } else {
            "outside a limit".to_owned()
        },
    ]
}

fn recuts(page: &mut Page, body: &PairBody) {
    if let Some(sum) = body.recut_sum.filter(|sum| sum.rims > 0) {
        page.heading(&format!(
            "Recut: {}",
            rounding::count(sum.rims, "rim", "rims")
        ));
        page.row("taken off in all", &rounding::places(sum.mass_g, 2, "g"));
        page.row(
            "largest cut",
            &format!(
                "{} of face, {}",
                rounding::places(sum.largest_face_mm, 2, "mm"),
                rounding::places(sum.largest_mass_g, 2, "g")
            ),
        );
        page.row("sets without it", &sum.sets_without.to_string());
    }
    if body.recuts.is_empty() {
        if body.recut_sum.is_some() {
            page.heading("Recut: no rim needs it");
        }
        return;
    }
    let mut table = Table::new(&[
        "rim",
        "for half",
        ">set",
        ">face in mm",
        ">before in g",
        ">after in g",
    ]);
    for cut in body.recuts.iter().take(LINES_SHOWN) {
        table.row(vec![
            cut.id.clone(),
            cut.half.clone(),
            cut.set.to_string(),
            rounding::number(cut.face_mm, 2),
            rounding::number(cut.mass_before_g, 2),
            rounding::number(cut.mass_after_g, 2),
        ]);
    }
    table.write(page);
    if body.recuts.len() > LINES_SHOWN {
        page.line(&format!(
            "  … {} more stand on the recut list",
            body.recuts.len() - LINES_SHOWN
        ));
    }
}

fn left_over(page: &mut Page, body: &PairBody) {
    if body.left_over.is_empty() {
        return;
    }
    page.heading(&format!(
        "Left over: {}",
        rounding::count(body.left_over.len(), "part", "parts")
    ));
    for (why, kind, ids) in by_reason(body) {
        let noun = rounding::count(ids.len(), words::kind(kind), words::kinds(kind));
        let mut names = ids
            .iter()
            .take(LINES_SHOWN)
            .copied()
            .collect::<Vec<_>>()
            .join(", ");
        if ids.len() > LINES_SHOWN {
            names.push_str(" …");
        }
        page.point(&format!("{noun}: {why} ({names})"));
    }
    for more in &body.leftovers.if_more {
        page.point(&more.sentence);
    }
    for wish in &body.leftovers.wish {
        page.point(wish);
    }
}

/// Left-over parts by kind and reason, in the order in which the reasons first come.
pub(crate) fn by_reason(
    body: &PairBody,
) -> Vec<(&str, whirlwright_workshop::part::Kind, Vec<&str>)> {
    let mut groups: Vec<(&str, _, Vec<&str>)> = Vec::new();
    for part in &body.left_over {
        match groups
            .iter_mut()
            .find(|(why, kind, _)| *why == part.why && *kind == part.kind)
        {
            Some((_, _, ids)) => ids.push(&part.id),
            None => groups.push((&part.why, part.kind, vec![&part.id])),
        }
    }
    groups
}

fn baselines(page: &mut Page, body: &PairBody) {
    let base = &body.baselines;
    let mut table = Table::new(&["way", ">sets"]);
    let mut way = |name: &str, sets: usize| table.row(vec![name.to_owned(), sets.to_string()]);
    way("as they come", base.as_it_comes_sets);
    way("sorted into trays", base.trays_sets);
    if let Some(sets) = base.half_and_rim_trays_sets {
        way("half trays and rim trays", sets);
    }
    way("sorted in a spreadsheet", base.sheet_sets);
    way("this answer", body.set_count);
    table.write(page);
    if !base.sentence.is_empty() {
        page.hanging("  ", &base.sentence);
    }
}
