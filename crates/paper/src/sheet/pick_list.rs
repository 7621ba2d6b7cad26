//! The pick list: which part goes to which set, in the order in which the trays lie on the bench.

use whirlwright_workshop::pairing::PairBody;
use whirlwright_workshop::part::Answer;

use super::head::Head;
use super::layout::{BOTTOM, Layout, TEXT};
use super::pick_columns::{self, Columns, SET, TICK};
use super::places::{Pick, Tray, trays};
use crate::font;
use crate::ink::pdf::PaperError;
use crate::ink::{Anchor, Stroke, Style};
use crate::palette::{INK, PENCIL};
use crate::rounding;

const ROW: f64 = 19.0;

/// The pick list as PDF.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn pick_list(answer: &Answer<PairBody>, head: &Head) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Pick list");
    layout.verdict(answer);
    let body = &answer.body;
    let trays = trays(body);
    let parts: usize = trays.iter().map(|tray| tray.picks.len()).sum();
    layout.paragraph(&summary(body, parts));
    if trays.is_empty() {
        layout.paragraph("There is nothing to pick.");
        return layout.finish();
    }
    layout.aside(
        "Go along the trays. Put each part into the place with its set number and tick it. L is the \
         left side, R the right. A place that is not listed keeps its part.",
    );
    let columns = Columns::new(&trays);
    for tray in &trays {
        write_tray(&mut layout, &columns, tray);
    }
    layout.finish()
}

fn summary(body: &PairBody, parts: usize) -> String {
    let sets = rounding::count(body.set_count, "set", "sets");
    let mut said = format!("{sets} from {}", rounding::count(parts, "part", "parts"));
    if !body.recuts.is_empty() {
        let rims = rounding::count(body.recuts.len(), "rim is", "rims are");
        said.push_str(&format!(
            "; {rims} cut first (marked “cut”, see the recut list)"
        ));
    }
    if !body.unpaired.is_empty() {
        let left = rounding::count(body.unpaired.len(), "part stays", "parts stay");
        said.push_str(&format!("; {left} in the trays"));
    }
    said.push('.');
    said
}

fn write_tray(layout: &mut Layout<'_>, columns: &Columns, tray: &Tray) {
    layout.room(30.0 + 26.0 + 3.0 * ROW);
    let mut rest = tray.picks.as_slice();
    let mut again = false;
    loop {
        let count = rounding::count(tray.picks.len(), "part", "parts");
        let more = if again { ", continued" } else { "" };
        layout.heading(&format!("{}: {count}{more}", tray.name));
        let rows = ((BOTTOM - layout.y - 16.0) / ROW).floor().max(1.0) as usize;
        // Columns of a short rest are made equally long, so that it ends in a straight line.
        let tall = rows.min(rest.len().div_ceil(columns.many)).max(1);
        let (now, later) = rest.split_at(rest.len().min(tall * columns.many));
        write_columns(layout, columns, now, tall);
        rest = later;
        if rest.is_empty() {
            break;
        }
        again = true;
        layout.turn();
    }
}

fn write_columns(layout: &mut Layout<'_>, columns: &Columns, picks: &[Pick], tall: usize) {
    let top = layout.y;
    for (n, chunk) in picks.chunks(tall).enumerate() {
        let left = columns.left(n);
        write_heads(layout, columns, left, top);
        for (row, pick) in chunk.iter().enumerate() {
            write_pick(
                layout,
                columns,
                left,
                top + 8.0 + (row + 1) as f64 * ROW,
                pick,
            );
        }
    }
    layout.y = top + 8.0 + tall as f64 * ROW + 20.0;
}

fn write_heads(layout: &mut Layout<'_>, columns: &Columns, left: f64, y: f64) {
    let [place, id, set, _, partner, mark] = columns.stops();
    let style = Style::plain(TEXT - 1.0, PENCIL);
    let page = layout.page();
    page.anchored(left + place, y, style, Anchor::End, "at");
    page.text(left + id, y, style, "part");
    page.anchored(left + set, y, style, Anchor::End, "set");
    page.text(left + partner, y, style, "with");
    page.text(left + mark, y, style, columns.mark_head);
    page.line(
        (left, y + 5.0),
        (left + columns.width, y + 5.0),
        Stroke::line(INK, 0.8),
    );
}

fn write_pick(layout: &mut Layout<'_>, columns: &Columns, left: f64, y: f64, pick: &Pick) {
    let [place, id, set, side, partner, at_mark] = columns.stops();
    let plain = Style::plain(TEXT, INK);
    let cut = |text: &str, most: f64| font::fit(text, plain.size, plain.weight, most + 0.01);
    layout.tick_box(left, y, TICK);
    let page = layout.page();
    page.anchored(
        left + place,
        y,
        plain,
        Anchor::End,
        &cut(&pick.place, columns.place),
    );
    page.text(left + id, y, plain, &cut(&pick.id, columns.id));
    page.anchored(
        left + set,
        y,
        Style::bold(SET, INK),
        Anchor::End,
        &pick.set.to_string(),
    );
    page.text(left + side, y, plain, pick.side);
    page.text(
        left + partner,
        y,
        plain,
        &cut(&pick.partner, columns.partner),
    );
    if columns.mark > 0.0 {
        page.text(
            left + at_mark,
            y,
            Style::bold(TEXT - 1.0, INK),
            &pick_columns::mark(pick),
        );
    }
    layout.ruling(left, left + columns.width, y + 5.0);
}
