//! The set-up sheet: one page to be read at the press from a metre away, the pictures and the reckoning behind it.

use kurbo::Rect;
use whirlwright_workshop::moulding::{MouldBody, MouldView, StudyBody};
use whirlwright_workshop::part::Answer;

use super::head::Head;
use super::layout::{BOTTOM, LEFT, Layout, RIGHT};
use super::table::{self, Column, Plan};
use crate::font::{self, Weight};
use crate::ink::pdf::PaperError;
use crate::ink::{Anchor, Stroke, Style};
use crate::palette::{INK, PENCIL};
use crate::picture::mould::{mould_drawings, study_drawing};
use crate::rounding::{number, places};
use crate::text::mould::{CAVITY_HEADS, cavities, conditions, whole};
use crate::text::mould_study::{PRESS_HEADS, press_rows};
use crate::words;

/// Size of what is read from a metre away.
const LARGE: f64 = 14.0;
/// Height of its rows.
const ROW: f64 = 21.5;
/// Where the values end and the boxes begin.
const VALUES: f64 = 330.0;
const BOXES: f64 = 440.0;

/// The set-up sheet as PDF.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn mould_sheet(
    answer: &Answer<MouldBody>,
    view: &MouldView,
    head: &Head,
) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Set-up");
    layout.verdict(answer);
    settings(&mut layout, &answer.body);
    for caution in &answer.cautions {
        layout.caution(caution);
    }
    layout.turn();
    layout.heading("Cavities");
    let columns = CAVITY_HEADS.map(column);
    table::write(&mut layout, &plan(&columns), &cavities(&answer.body));
    layout.heading("Conditions, the one that decides first");
    for line in conditions(&answer.body) {
        layout.paragraph(&line);
    }
    layout.heading("The reckoning");
    for (label, value) in whole(&answer.body) {
        layout.row(label, &value);
    }
    for picture in mould_drawings(&answer.body, view) {
        layout.picture(&picture);
    }
    end(layout, answer)
}

/// A study on paper: its plot, and the list to try at the press with boxes to write into.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn study_sheet(answer: &Answer<StudyBody>, head: &Head) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Study at the press");
    layout.verdict(answer);
    for caution in &answer.cautions {
        layout.caution(caution);
    }
    layout.paragraph(&answer.body.why);
    layout.picture(&study_drawing(&answer.body));
    layout.heading("To try at the press");
    let mut columns = PRESS_HEADS.map(column).to_vec();
    columns.push(Column::numbers("weighed, g"));
    let plan = Plan {
        columns: &columns,
        row: 24.0,
        tick: true,
        boxed: Some((columns.len() - 1, 62.0)),
    };
    table::write(&mut layout, &plan, &press_rows(&answer.body));
    end(layout, answer)
}

fn column(head: &'static str) -> Column {
    match head.strip_prefix('>') {
        Some(number) => Column::numbers(number),
        None => Column::words(head),
    }
}

fn plan(columns: &[Column]) -> Plan<'_> {
    Plan {
        columns,
        row: 19.0,
        tick: false,
        boxed: None,
    }
}

fn end<B>(mut layout: Layout<'_>, answer: &Answer<B>) -> Result<Vec<u8>, PaperError> {
    if !answer.next.is_empty() {
        layout.heading("Next");
        for (n, step) in answer.next.iter().enumerate() {
            layout.paragraph(&format!("{}. {}", n + 1, words::sentence(step)));
        }
    }
    layout.trust(&answer.trust);
    layout.aside(words::STANDING_LINE);
    layout.finish()
}

/// What is set and what is seen, in large type, each with a box for what was run.
fn settings(layout: &mut Layout<'_>, body: &MouldBody) {
    let top = layout.y + 12.0;
    let style = Style::plain(12.0, PENCIL);
    layout.page().text(LEFT, top, style, "set");
    layout
        .page()
        .anchored(VALUES, top, style, Anchor::End, "reckoned");
    layout.page().text(BOXES, top, style, "as run");
    layout.page().line(
        (LEFT, top + 6.0),
        (RIGHT, top + 6.0),
        Stroke::line(INK, 0.8),
    );
    layout.y = top + 8.0;
    for (label, value, unit) in lines(body) {
        if layout.y + ROW > BOTTOM {
            layout.turn();
        }
        line(layout, &label, &value, unit);
    }
    layout.y += 14.0;
}

fn line(layout: &mut Layout<'_>, label: &str, value: &str, unit: &str) {
    let y = layout.y + ROW * 0.7;
    let label = font::fit(label, LARGE, Weight::Regular, VALUES - LEFT - 76.0);
    layout
        .page()
        .text(LEFT, y, Style::plain(LARGE, INK), &label);
    layout
        .page()
        .anchored(VALUES, y, Style::bold(LARGE + 2.0, INK), Anchor::End, value);
    layout
        .page()
        .text(VALUES + 7.0, y, Style::plain(LARGE - 1.0, PENCIL), unit);
    let frame = Rect::new(BOXES, layout.y + 3.0, RIGHT, layout.y + ROW - 3.0);
    layout.page().frame(frame, Stroke::line(INK, 0.8));
    layout.y += ROW;
    let rule = layout.y;
    layout.ruling(LEFT, RIGHT, rule);
}

/// Label, value, unit.
fn lines(body: &MouldBody) -> Vec<(String, String, &'static str)> {
    let s = &body.setting;
    let row = |label: &str, value: f64, behind: usize, unit| {
        (label.to_owned(), number(value, behind), unit)
    };
    let mut rows = vec![
        row("melt, measured in the purge", s.melt_degc, 0, "°C"),
        row("mould wall, both halves", s.wall_degc, 0, "°C"),
        row("fill time", s.fill_s, 2, "s"),
        row("over to hold at", 100.0 * s.switch_share, 0, "% full"),
        row(
            "pressure at the switch-over",
            body.fill.switch_mpa,
            0,
            "MPa",
        ),
    ];
    for (n, step) in s.hold.iter().enumerate() {
        let label = if s.hold.len() == 1 {
            "hold".to_owned()
        } else {
            format!("hold {}", n + 1)
        };
        let value = format!(
            "{} · {}",
            number(step.pressure_mpa, 0),
            number(step.time_s, 1)
        );
        rows.push((label, value, "MPa · s"));
    }
    let frozen = body
        .hold
        .gate_freeze_s
        .map_or_else(|| "open".to_owned(), |t| number(t, 1));
    rows.extend([
        ("gate frozen, from the start".to_owned(), frozen, "s"),
        row("cooling after the hold", s.cooling_s, 1, "s"),
        row("cushion", body.shot.cushion_mm, 1, "mm"),
        row("stroke without the cushion", body.shot.stroke_mm, 1, "mm"),
        row("clamp, at least", body.clamp.wanted_kn, 0, "kN"),
        row("cycle", body.cycle.cycle_s, 1, "s"),
        row("half, mean of the cavities", body.half.mass_g, 2, "g"),
        row("sprue and runners", body.shot.feed_g, 1, "g"),
    ]);
    rows.extend(body.cavities.iter().map(|c| {
        let said = places(c.mass_g, 2, "");
        (format!("cavity {}", c.name), said, "g")
    }));
    rows
}
