//! The sections of a pairing page: scores, proof, recut plan, what is left.

use maud::{Markup, html};
use whirlwright_workshop::pairing::PairBody;
use whirlwright_workshop::part::Answer;

use super::tables;

/// The two scores, the proof, and what simpler ways would have brought.
pub fn scores_and_proof(answer: &Answer<PairBody>) -> Markup {
    let body = &answer.body;
    let base = &body.baselines;
    let ways = [
        ("as they come", Some(base.as_it_comes_sets)),
        ("sorted into trays", Some(base.trays_sets)),
        ("half trays and rim trays", base.half_and_rim_trays_sets),
        ("sorted in a spreadsheet", Some(base.sheet_sets)),
        ("this answer", Some(body.set_count)),
    ];
    html! {
        h2 { "Two scores, and neither makes up for the other" }
        p { (body.scores.same_mass.sentence) }
        p { (body.scores.runs_true.sentence) }
        h2 { "Could there be more?" }
        p { (body.set_count) " sets of at most " (body.possible_sets_upper_bound) " possible: " (body.proof) "." }
        h2 { "What simpler ways bring on this very lot" }
        p { (base.sentence) }
        table.narrow { tbody { @for (way, sets) in ways { @if let Some(sets) = sets {
            tr { td { (way) } td.n { (sets) } }
        } } } }
    }
}

/// The recut plan.
pub fn recuts(lot: &str, body: &PairBody) -> Markup {
    html! {
        @if let Some(sum) = body.recut_sum {
            h2 { "Rims to recut" }
            @if sum.rims == 0 { p { "None: no cut would bring another set." } } @else {
            p { (sum.rims) " rims, " (whirlwright_paper::rounding::places(sum.mass_g, 2, "g")) " in all; largest cut "
                (whirlwright_paper::rounding::places(sum.largest_face_mm, 2, "mm")) " of face. Without recutting: "
                (sum.sets_without) " sets. Never cut the bore: it is a fit." }
            }
            @if !body.recuts.is_empty() {
                details { summary { "The list, in tray order" } (tables::recuts(lot, &body.recuts)) }
            }
        }
    }
}

/// What is left over, and what to do with it.
pub fn left(lot: &str, body: &PairBody) -> Markup {
    html! {
        h2 { "Left over" }
        @if body.left_over.is_empty() { p { "Nothing." } }
        @for more in &body.leftovers.if_more { p { (more.sentence) } }
        @for wish in &body.leftovers.wish { p { (wish) } }
        @if !body.left_over.is_empty() {
            details {
                summary { (body.left_over.len()) " parts without a set, each with its reason" }
                ul { @for part in &body.left_over { li { (tables::part(lot, &part.id)) ": " (part.why) } } }
            }
        }
    }
}
