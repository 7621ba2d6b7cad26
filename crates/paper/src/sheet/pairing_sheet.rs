//! The pairing on paper: verdict, proof, what decided, and the pictures.

use whirlwright_workshop::pairing::PairBody;
use whirlwright_workshop::part::Answer;

use super::head::Head;
use super::layout::Layout;
use super::table::{self, Column, Plan};
use crate::ink::pdf::PaperError;
use crate::picture::{distribution_drawing, pairing_drawing};
use crate::{rounding, spread, words};

/// The pairing sheet as PDF.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn pairing_sheet(answer: &Answer<PairBody>, head: &Head) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Pairing");
    let body = &answer.body;
    layout.verdict(answer);
    layout.heading("Sets and their proof");
    layout.row(
        "found",
        &format!(
            "{} of at most {}",
            body.set_count, body.possible_sets_upper_bound
        ),
    );
    layout.row(
        "total cost",
        &format!(
            "{}, least possible {} (no unit)",
            rounding::figures(body.total_cost, 4, ""),
            rounding::figures(body.lower_bound, 4, "")
        ),
    );
    layout.row("proof", &body.proof);
    for limit in &body.limits {
        layout.row(&limit.what, &limit.limit);
    }
    layout.heading("Two scores, and neither makes up for the other");
    let scores = &body.scores;
    layout.row(
        "same mass",
        &words::beside("same mass", &scores.same_mass.sentence),
    );
    layout.row(
        "runs true",
        &words::beside("runs true", &scores.runs_true.sentence),
    );
    layout.y += 10.0;
    layout.picture(&pairing_drawing(body, &[]));
    ways(&mut layout, body);
    left_over(&mut layout, body);
    for caution in &answer.cautions {
        layout.caution(caution);
    }
    let families = spread::of_pairing(body);
    for family in families.iter().filter(|family| family.count() > 0) {
        layout.y += 14.0;
        layout.picture(&distribution_drawing(std::slice::from_ref(family)));
    }
    layout.trust(&answer.trust);
    layout.finish()
}

fn ways(layout: &mut Layout<'_>, body: &PairBody) {
    let base = &body.baselines;
    layout.heading("What simpler ways bring on this very lot");
    let columns = [Column::words("way"), Column::numbers("sets").large(12.0)];
    let plan = Plan {
        columns: &columns,
        row: 18.0,
        tick: false,
        boxed: None,
    };
    let mut rows = vec![
        vec!["as they come".to_owned(), base.as_it_comes_sets.to_string()],
        vec!["sorted into trays".to_owned(), base.trays_sets.to_string()],
    ];
    if let Some(sets) = base.half_and_rim_trays_sets {
        rows.push(vec![
            "half trays and rim trays".to_owned(),
            sets.to_string(),
        ]);
    }
    rows.push(vec![
        "sorted in a spreadsheet".to_owned(),
        base.sheet_sets.to_string(),
    ]);
    rows.push(vec!["this answer".to_owned(), body.set_count.to_string()]);
    table::write(layout, &plan, &rows);
    layout.y += 8.0;
    layout.paragraph(&base.sentence);
}

fn left_over(layout: &mut Layout<'_>, body: &PairBody) {
    if body.left_over.is_empty() {
        return;
    }
    layout.heading(&format!(
        "Left over: {}",
        rounding::count(body.left_over.len(), "part", "parts")
    ));
    for (why, kind, ids) in crate::text::by_reason(body) {
        let noun = rounding::count(ids.len(), words::kind(kind), words::kinds(kind));
        layout.paragraph(&format!("{noun}: {why}."));
    }
    for more in &body.leftovers.if_more {
        layout.paragraph(&more.sentence);
    }
    for wish in &body.leftovers.wish {
        layout.paragraph(wish);
    }
}
