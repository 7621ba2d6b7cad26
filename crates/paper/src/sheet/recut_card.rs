//! One rim over its mass as a card for the lathe, and a tray of them as a cut list.

use whirlwright_workshop::part::Answer;
use whirlwright_workshop::turning::{CutLine, RecutBody, TrayBody};

use super::head::Head;
use super::layout::Layout;
use super::table::{self, Column, Plan};
use crate::ink::pdf::PaperError;
use crate::picture::recut_drawing;
use crate::{rounding, words};

/// What to do between the cut and the scale.
const WEIGH: &str = "Let the rim reach 20 °C, dry and free of chips, weigh it, and write the mass into the box. A rim that misses its mass by more than a step of the scale goes back to the bench.";

/// The card of one rim as PDF: what to take off, what it does, room for the mass after it.
///
/// `outline` is the rim's outline as an SVG path in mm, for the picture.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn recut_card(
    answer: &Answer<RecutBody>,
    outline: &str,
    head: &Head,
) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Recut card");
    let body = &answer.body;
    layout.verdict(answer);
    for caution in &answer.cautions {
        layout.caution(caution);
    }
    layout.row("rim", "serial:");
    layout.row("reading", &rounding::places(body.mass_g, 2, "g"));
    let wanted = rounding::places(body.wanted_g, 3, "g");
    let within = rounding::figures(body.mass_within_g, 2, "g");
    layout.row("wanted", &format!("{wanted} ± {within}"));
    let cuts: Vec<&CutLine> = body.cuts.iter().filter(|cut| cut.allowed).collect();
    if !cuts.is_empty() {
        layout.heading("Take off, one of these");
        take_off(&mut layout, &cuts);
        layout.aside(WEIGH);
        layout.heading("What it does besides");
        does(&mut layout, &cuts);
        layout.picture(&recut_drawing(body, outline));
    }
    for cut in body.cuts.iter().filter(|cut| !cut.allowed) {
        layout.paragraph(&format!("■ not {}", cut.words));
    }
    if let Some(steps) = &body.two_steps {
        layout.heading("In two steps");
        layout.paragraph(&steps.words);
    }
    layout.trust(&answer.trust);
    layout.aside(words::STANDING_LINE);
    layout.finish()
}

fn take_off(layout: &mut Layout<'_>, cuts: &[&CutLine]) {
    let columns = [
        Column::words("dimension").large(14.0),
        Column::numbers("take off, mm").large(18.0),
        Column::words(""),
        Column::numbers("size after, mm"),
        Column::numbers("mass after, g").large(12.0),
        Column::words("weighed after, g"),
    ];
    let rows: Vec<Vec<String>> = cuts.iter().map(|cut| cells(cut)).collect();
    let plan = Plan {
        columns: &columns,
        row: 28.0,
        tick: true,
        boxed: Some((5, 100.0)),
    };
    table::write(layout, &plan, &rows);
    layout.y += 10.0;
}

fn cells(cut: &CutLine) -> Vec<String> {
    let size = cut.size_after_mm.map(|size| rounding::number(size, 3));
    vec![
        cut.name.clone(),
        rounding::number(cut.set_mm, 3),
        words::on_the_diameter(cut.surface).to_owned(),
        size.unwrap_or_default(),
        rounding::number(cut.mass_after_g, 2),
    ]
}

fn does(layout: &mut Layout<'_>, cuts: &[&CutLine]) {
    let columns = [
        Column::words("dimension"),
        Column::numbers("polar, g·mm²"),
        Column::numbers("across, g·mm²"),
        Column::numbers("centre, mm"),
        Column::numbers("unbalance up to, g·mm"),
        Column::numbers("lands inside, %"),
    ];
    let row = |cut: &&CutLine| {
        vec![
            cut.name.clone(),
            rounding::signed(cut.polar_change_g_mm2, 1),
            rounding::signed(cut.transverse_change_g_mm2, 1),
            rounding::signed(cut.centre_change_mm, 4),
            rounding::number(cut.static_g_mm_at_most, 2),
            rounding::number(100.0 * cut.within_probability, 1),
        ]
    };
    let rows: Vec<Vec<String>> = cuts.iter().map(row).collect();
    let plan = Plan {
        columns: &columns,
        row: 19.0,
        tick: false,
        boxed: None,
    };
    table::write(layout, &plan, &rows);
    layout.y += 10.0;
}

/// The cut list of a tray as PDF, in the order in which the tool moves least.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn cut_list(answer: &Answer<TrayBody>, head: &Head) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Cut list");
    let body = &answer.body;
    layout.verdict(answer);
    for caution in &answer.cautions {
        layout.caution(caution);
    }
    if body.cuts.is_empty() {
        layout.paragraph("No rim can be cut, or none needs it.");
    } else {
        layout.aside(WEIGH);
        let mass = rounding::shared_places(body.cuts.iter().map(|cut| cut.mass_g), 4).max(2);
        let columns = [
            Column::words("rim").large(12.0),
            Column::numbers("reading, g"),
            Column::words("dimension"),
            Column::numbers("take off, mm").large(16.0),
            Column::words(""),
            Column::numbers("after, g").large(12.0),
            Column::words("weighed after, g"),
        ];
        let plan = Plan {
            columns: &columns,
            row: 27.0,
            tick: true,
            boxed: Some((6, 96.0)),
        };
        let rows: Vec<Vec<String>> = body
            .cuts
            .iter()
            .map(|cut| {
                vec![
                    cut.serial.clone(),
                    rounding::number(cut.mass_g, mass),
                    cut.name.clone(),
                    rounding::number(cut.set_mm, 3),
                    words::on_the_diameter(cut.surface).to_owned(),
                    rounding::number(cut.mass_after_g, mass),
                ]
            })
            .collect();
        table::write(&mut layout, &plan, &rows);
        layout.y += 14.0;
    }
    for (label, serials) in [
        ("Too light: nothing can be put on", &body.too_light),
        ("Too heavy for any allowed cut", &body.too_heavy),
    ] {
        if !serials.is_empty() {
            layout.heading(label);
            layout.paragraph(&serials.join(", "));
        }
    }
    layout.trust(&answer.trust);
    layout.aside(words::STANDING_LINE);
    layout.finish()
}
