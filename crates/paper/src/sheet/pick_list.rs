//! The pick list: which part goes to which set, in the order in which the trays lie on the bench.

use whirlwright_workshop::pairing::PairBody;
use whirlwright_workshop::part::Answer;

use super::head::Head;
use super::layout::{BOTTOM, LEFT, Layout, RIGHT, TEXT};
use super::places::{Pick, Tray, trays};
use super::table::{self, Column, Plan};
use crate::font;
use crate::ink::pdf::PaperError;
use crate::ink::{Anchor, Stroke, Style};
use crate::palette::{INK, PENCIL};
use crate::rounding;

const ROW: f64 = 19.0;
const TICK: f64 = 12.0;
const SET: f64 = 15.0;
const GUTTER: f64 = 22.0;
const GAP: f64 = 9.0;

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
        "Go along the trays. Put each part into the place with its set number and tick it. A place \
         that is not listed keeps its part.",
    );
    let columns = Columns::new(&trays);
    for tray in &trays {
        write_tray(&mut layout, &columns, tray);
    }
    layout.finish()
}

/// The list of sets, in their order, with a box for the mass of the finished piece.
///
/// # Errors
/// See [`crate::ink::pdf::write`].
pub fn set_list(answer: &Answer<PairBody>, head: &Head) -> Result<Vec<u8>, PaperError> {
    let mut layout = Layout::new(head, "Sets");
    layout.verdict(answer);
    let sets = &answer.body.sets;
    if sets.is_empty() {
        layout.paragraph("There is no set.");
        return layout.finish();
    }
    layout.aside(
        "Tick a set when its parts are together. Weigh the two sides of every set once more after \
         pressing: it is the cheapest insurance there is.",
    );
    let figures = rounding::shared_places(
        sets.iter()
            .flat_map(|s| [s.mass_difference_g, s.piece_mass_g])
            .flatten(),
        4,
    );
    let columns = [
        Column::numbers("set").large(SET),
        Column::words("left"),
        Column::words("right"),
        Column::numbers("mark"),
        Column::numbers("difference, g"),
        Column::numbers("two sides, g"),
        Column::words("weighed, g"),
    ];
    let plan = Plan {
        columns: &columns,
        row: 24.0,
        tick: true,
        boxed: Some((6, 62.0)),
    };
    let mass = |value: Option<f64>| {
        value
            .map(|v| rounding::number(v, figures))
            .unwrap_or_default()
    };
    let rows: Vec<Vec<String>> = sets
        .iter()
        .map(|set| {
            vec![
                set.number.to_string(),
                set.left.replace('+', " + "),
                set.right.replace('+', " + "),
                set.clock_mark
                    .map(|mark| mark.to_string())
                    .unwrap_or_default(),
                mass(set.mass_difference_g),
                mass(set.piece_mass_g),
            ]
        })
        .collect();
    table::write(&mut layout, &plan, &rows);
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

/// Widths that every tray of the list shares.
struct Columns {
    place: f64,
    id: f64,
    set: f64,
    side: f64,
    partner: f64,
    mark: f64,
    many: usize,
    width: f64,
}

impl Columns {
    fn new(trays: &[Tray]) -> Self {
        let plain = Style::plain(TEXT, INK);
        let picks = || trays.iter().flat_map(|tray| &tray.picks);
        let widest = |head: &str, style: Style, text: &dyn Fn(&Pick) -> String| {
            let head = Style::plain(TEXT - 1.0, PENCIL).width(head);
            picks()
                .map(|pick| style.width(&text(pick)))
                .fold(head, f64::max)
        };
        let place = widest("place", plain, &|p| p.place.clone());
        let set = widest("set", Style::bold(SET, INK), &|p| p.set.to_string());
        let side = widest("side", plain, &|p| p.side.to_owned());
        let mark = widest("", plain, &mark);
        let id = widest("part", plain, &|p| p.id.clone());
        let partner = widest("with", plain, &|p| p.partner.clone());
        let fixed = TICK + place + set + side + mark + GAP * if mark > 0.0 { 6.0 } else { 5.0 };
        let full = RIGHT - LEFT;
        let half = (full - GUTTER) / 2.0;
        let many = if fixed + id + partner <= half { 2 } else { 1 };
        let width = if many == 2 { half } else { full };
        // Very long serials are cut, and the set number never is.
        let room = ((width - fixed) / 2.0).max(20.0);
        let (id, partner) = if fixed + id + partner <= width {
            (id, partner)
        } else {
            (room, room)
        };
        Self {
            place: place.min(120.0),
            id,
            set,
            side,
            partner,
            mark,
            many,
            width,
        }
    }

    fn left(&self, column: usize) -> f64 {
        LEFT + column as f64 * (self.width + GUTTER)
    }
}

fn mark(pick: &Pick) -> String {
    match (pick.recut, pick.clock_mark) {
        (true, Some(mark)) => format!("cut, mark {mark}"),
        (true, None) => "cut".to_owned(),
        (false, Some(mark)) => format!("mark {mark}"),
        (false, None) => String::new(),
    }
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
    layout.y = top + 8.0 + tall as f64 * ROW + 12.0;
}

/// Right edges of numbers and left edges of words, from the left edge of a column.
fn stops(columns: &Columns) -> [f64; 6] {
    let place = TICK + GAP + columns.place;
    let id = place + GAP;
    let set = id + columns.id + GAP + columns.set;
    let side = set + GAP;
    let partner = side + columns.side + GAP;
    let mark = partner + columns.partner + GAP;
    [place, id, set, side, partner, mark]
}

fn write_heads(layout: &mut Layout<'_>, columns: &Columns, left: f64, y: f64) {
    let [place, id, set, side, partner, _] = stops(columns);
    let style = Style::plain(TEXT - 1.0, PENCIL);
    let page = layout.page();
    page.anchored(left + place, y, style, Anchor::End, "place");
    page.text(left + id, y, style, "part");
    page.anchored(left + set, y, style, Anchor::End, "set");
    page.text(left + side, y, style, "side");
    page.text(left + partner, y, style, "with");
    page.line(
        (left, y + 5.0),
        (left + columns.width, y + 5.0),
        Stroke::line(INK, 0.8),
    );
}

fn write_pick(layout: &mut Layout<'_>, columns: &Columns, left: f64, y: f64, pick: &Pick) {
    let [place, id, set, side, partner, at_mark] = stops(columns);
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
        page.text(left + at_mark, y, Style::bold(TEXT, INK), &mark(pick));
    }
    layout.ruling(left, left + columns.width, y + 5.0);
}
