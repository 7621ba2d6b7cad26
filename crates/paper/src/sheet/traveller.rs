//! The traveller: the sheet that goes with the lot from step to step.

use kurbo::Rect;
use whirlwright_workshop::pairing::PairBody;
use whirlwright_workshop::part::Kind;

use super::head::Head;
use super::layout::{LEFT, Layout, RIGHT, TEXT};
use crate::font::{self, Weight};
use crate::ink::pdf::PaperError;
use crate::ink::{Stroke, Style};
use crate::palette::{INK, PENCIL, RULE};
use crate::{rounding, words};

/// One step of the work.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// What is done, in a few words.
    pub what: String,
    /// How, or what to look for; may be empty.
    pub how: String,
    /// What can hurt here; may be empty.
    pub caution: String,
}

impl Step {
    /// A step without a caution.
    #[must_use]
    pub fn new(what: &str, how: &str) -> Self {
        Self {
            what: what.to_owned(),
            how: how.to_owned(),
            caution: String::new(),
        }
    }

    /// The same step with what can hurt.
    #[must_use]
    pub fn with_caution(mut self, caution: &str) -> Self {
        caution.clone_into(&mut self.caution);
        self
    }
}

/// What a traveller says.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Traveller {
    /// What goes through the shop, such as `480 halves`, `500 rims`.
    pub counts: Vec<String>,
    /// The steps, in order.
    pub steps: Vec<Step>,
}

impl Traveller {
    /// The steps from weighed parts to finished pieces, as common practice has them (no source).
    #[must_use]
    pub fn weigh_to_piece(counts: Vec<String>, with_recut: bool) -> Self {
        let mut steps = vec![
            Step::new(
                "Count and label the trays",
                "Every serial readable; cavity or insert on the tray.",
            ),
            Step::new(
                "Rest at 20 °C",
                "Nothing straight off the press or the lathe is measured, fitted or compared.",
            ),
            Step::new(
                "Weigh every part",
                "After the last thing that changes mass. Check mass first; scale read by wire.",
            ),
            Step::new(
                "Measure spigot and bore",
                "At 20 °C, with the setting ring before and after.",
            ),
            Step::new("Look the lot over", "Weigh again what is in doubt."),
            Step::new(
                "Pair, print the pick list",
                "Write the number of sets here.",
            ),
        ];
        if with_recut {
            steps.push(
                Step::new("Recut the rims on the list", "Face only, then weigh again.")
                    .with_caution("Guard shut, no gloves, chuck key out."),
            );
        }
        steps.extend([
            Step::new(
                "Pick the sets",
                "Tray by tray; tick every part on the pick list.",
            ),
            Step::new("Press the rims", "Straight, to the stop; note the force.").with_caution(
                "Shield up: a plastic half can burst. Stop at the force stated for the fit.",
            ),
            Step::new(
                "Bearing, axle, pads",
                "Clean and dry; note the bearing batch.",
            ),
            Step::new("Weigh the piece", "Every one, against the set list."),
            Step::new("Release", "Name the limits it was judged by."),
        ]);
        Self { counts, steps }
    }

    /// The same for a lot that has been paired: its counts, and the recut only where there is one.
    #[must_use]
    pub fn of_pairing(body: &PairBody) -> Self {
        let mut counts: Vec<String> = Vec::new();
        for kind in [Kind::Half, Kind::Rim, Kind::Dressed, Kind::Other] {
            let of_kind = body.distribution.iter().filter(|h| h.kind == kind);
            let parts: usize = of_kind.map(|h| h.count).sum();
            if parts > 0 {
                counts.push(rounding::count(
                    parts,
                    words::kind(kind),
                    words::kinds(kind),
                ));
            }
        }
        counts.push(rounding::count(body.set_count, "set", "sets"));
        Self::weigh_to_piece(counts, !body.recuts.is_empty())
    }
}

const ROW: f64 = 44.0;
const DONE: f64 = 84.0;

/// The traveller as PDF.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn traveller(plan: &Traveller, head: &Head) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Traveller");
    if !plan.counts.is_empty() {
        let y = layout.y + 4.0;
        let counts = plan.counts.join("  ·  ");
        let most = RIGHT - LEFT - 90.0;
        let counts = font::fit(&counts, 13.0, Weight::Bold, most);
        layout.page().text(LEFT, y, Style::bold(13.0, INK), &counts);
    }
    layout.y += 16.0;
    heads(&mut layout);
    for (n, step) in plan.steps.iter().enumerate() {
        if layout.y + height(step) > super::layout::BOTTOM {
            layout.turn();
            heads(&mut layout);
        }
        write_step(&mut layout, n + 1, step);
    }
    layout.room(44.0);
    layout.y += 18.0;
    layout.aside(words::STANDING_LINE);
    layout.finish()
}

/// Right edge of the words; right of it are the fields for handwriting.
fn words_end() -> f64 {
    RIGHT - 2.0 * DONE - 60.0
}

fn heads(layout: &mut Layout<'_>) {
    let style = Style::plain(TEXT - 1.0, PENCIL);
    let y = layout.y + 8.0;
    let page = layout.page();
    page.text(LEFT + 46.0, y, style, "step");
    page.text(RIGHT - 2.0 * DONE - 48.0, y, style, "good");
    page.text(RIGHT - 2.0 * DONE, y, style, "who and when");
    page.text(RIGHT - DONE + 6.0, y, style, "found");
    page.line((LEFT, y + 5.0), (RIGHT, y + 5.0), Stroke::line(INK, 1.0));
    layout.y = y + 5.0;
}

fn lines(step: &Step) -> Vec<(String, Style)> {
    let width = words_end() - LEFT - 46.0;
    let mut lines = Vec::new();
    let mut add = |text: &str, style: Style| {
        if !text.is_empty() {
            for line in font::wrap(text, style.size, style.weight, width) {
                lines.push((line, style));
            }
        }
    };
    add(&step.what, Style::bold(12.0, INK));
    add(&step.how, Style::plain(TEXT - 0.5, INK));
    if !step.caution.is_empty() {
        add(&format!("▲ {}", step.caution), Style::bold(TEXT - 0.5, INK));
    }
    lines
}

fn height(step: &Step) -> f64 {
    (lines(step).len() as f64 * 13.5 + 12.0).max(ROW)
}

fn write_step(layout: &mut Layout<'_>, n: usize, step: &Step) {
    let (top, tall) = (layout.y, height(step));
    let page = layout.page();
    page.text(LEFT, top + 22.0, Style::bold(16.0, PENCIL), &n.to_string());
    for (k, (line, style)) in lines(step).into_iter().enumerate() {
        page.text(LEFT + 46.0, top + 17.0 + k as f64 * 13.5, style, &line);
    }
    let stroke = Stroke::line(RULE, 0.8);
    for edge in [RIGHT - 2.0 * DONE - 6.0, RIGHT - DONE] {
        page.line((edge, top), (edge, top + tall), stroke);
    }
    page.line((LEFT, top + tall), (RIGHT, top + tall), stroke);
    let tick = Rect::new(
        RIGHT - 2.0 * DONE - 44.0,
        top + 8.0,
        RIGHT - 2.0 * DONE - 24.0,
        top + 28.0,
    );
    page.frame(tick, Stroke::line(INK, 1.2));
    layout.y = top + tall;
}
