//! The answer of plain rings with the press of the drawn sections beside it.

use super::advice::advice;
use super::body::FitBody;
use super::chance::{chance, pairs};
use super::condition_line::ConditionLine;
use super::conditions::window;
use super::faults::Refusal;
use super::given::Given;
use super::section_body::StressPicture;
use super::section_fit::{SectionFit, section_fit};
use super::section_given::SectionGiven;
use super::section_words;
use super::words;
use crate::design;
use crate::part::Answer;

/// Why the drawn sections are left out where nobody wanted them.
pub const NOT_ASKED: &str = "as asked";

/// The press of the sections of a design.
///
/// # Errors
/// Walls or a length that the job gives itself, a drawing that shows no seat, outlines that cannot be meshed.
pub fn sections(design: &design::Given, given: &Given) -> Result<SectionFit, Refusal> {
    let said = design.job().fit.as_ref().is_some_and(|fit| {
        [fit.ring_outside_mm, fit.body_inside_mm, fit.length_mm]
            .iter()
            .any(Option::is_some)
    });
    if said {
        return Err(Refusal::WallsSaid);
    }
    section_fit(&SectionGiven::of_design(design, given.clone(), None)?)
}

/// The same answer with the drawn sections in it, or with the reason why they are left out; and their stress field.
///
/// - **What changes:** the push-on force to set the press by; the conditions of the sections as drawn stand among the others, and
///   verdict, window, chance of an over-stressed pair and advice are drawn from all; headline, cautions, trust, what to do next.
/// - **What stays:** the moments of two plain rings, and the chance of a loose pair by them.
#[must_use]
pub fn with_section(
    given: &Given,
    answer: Answer<FitBody>,
    section: Result<SectionFit, String>,
) -> (Answer<FitBody>, Option<StressPicture>) {
    let mut body = answer.body;
    let mut trust = answer.trust;
    let mut next = Vec::new();
    let picture = match section {
        Ok(section) => {
            let drawn = section.answer.body;
            trust.extend(section_words::computed(&drawn));
            next = section_words::mending(&drawn);
            judged(given, &mut body, &drawn.conditions);
            body.section = Some(drawn);
            Some(section.picture)
        }
        Err(why) => {
            body.section_left_out = Some(why);
            None
        }
    };
    let verdict = words::verdict(&body);
    next.extend(words::next(&body));
    let answer = Answer {
        verdict,
        headline: words::headline(&body, verdict),
        decided_by: words::decided_by(&body),
        trust,
        cautions: words::cautions(given, &body),
        next,
        body,
        ..answer
    };
    (answer, picture)
}

/// Puts the conditions of the sections among the others, and draws window, chances and advice from all.
fn judged(given: &Given, body: &mut FitBody, drawn: &[ConditionLine]) {
    body.conditions.extend_from_slice(drawn);
    body.conditions
        .sort_by(|a, b| a.margin_um.total_cmp(&b.margin_um));
    body.window_um = window(&body.conditions);
    body.advice = advice(given, body.window_um);
    let drawn = pairs(given, &body.conditions);
    body.chance = chance(&drawn, body.chance.pairs_count, body.chance.seed);
}
