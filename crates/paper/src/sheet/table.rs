//! Tables on sheets: columns as wide as their content, headings again on every page.

use super::layout::{BOTTOM, LEFT, Layout, RIGHT, TEXT};
use crate::font;
use crate::ink::{Anchor, Stroke, Style};
use crate::palette::{INK, PENCIL};

/// One column.
#[derive(Debug, Clone, Copy)]
pub struct Column {
    /// Its heading, with the unit of its numbers.
    pub head: &'static str,
    /// Numbers stand to the right.
    pub number: bool,
    /// How its cells are set.
    pub style: Style,
}

impl Column {
    /// Words.
    #[must_use]
    pub const fn words(head: &'static str) -> Self {
        Self {
            head,
            number: false,
            style: Style::plain(TEXT, INK),
        }
    }

    /// Numbers.
    #[must_use]
    pub const fn numbers(head: &'static str) -> Self {
        Self {
            head,
            number: true,
            style: Style::plain(TEXT, INK),
        }
    }

    /// The column that must be seen first.
    #[must_use]
    pub const fn large(mut self, size: f64) -> Self {
        self.style = Style::bold(size, INK);
        self
    }
}

/// How a table is laid out.
#[derive(Debug, Clone, Copy)]
pub struct Plan<'a> {
    /// The columns; an empty cell in a column with [`Plan::boxed`] is a box to write into.
    pub columns: &'a [Column],
    /// Height of a row.
    pub row: f64,
    /// A tick box before every row.
    pub tick: bool,
    /// The column whose cells are boxes to write into, and their width.
    pub boxed: Option<(usize, f64)>,
}

const GAP: f64 = 14.0;
const TICK: f64 = 13.0;
const HEAD: f64 = 22.0;

/// Height of a line of a cell that has more than one.
const LINE: f64 = 13.5;

/// Writes the rows, page after page; a column in which no row has anything is left out.
pub fn write(layout: &mut Layout<'_>, plan: &Plan<'_>, rows: &[Vec<String>]) {
    let boxed = |n: usize| plan.boxed.is_some_and(|(at, _)| at == n);
    let filled = |n: usize| {
        rows.iter()
            .any(|row| row.get(n).is_some_and(|cell| !cell.is_empty()))
    };
    let used: Vec<usize> = (0..plan.columns.len())
        .filter(|n| boxed(*n) || filled(*n))
        .collect();
    let columns: Vec<Column> = used.iter().map(|n| plan.columns[*n]).collect();
    let place = |n: usize| used.iter().position(|at| *at == n);
    let boxed = plan.boxed.and_then(|(at, width)| Some((place(at)?, width)));
    let cells = |row: &Vec<String>| {
        used.iter()
            .map(|n| row.get(*n).cloned().unwrap_or_default())
            .collect()
    };
    let rows: Vec<Vec<String>> = rows.iter().map(cells).collect();
    write_used(
        layout,
        &Plan {
            columns: &columns,
            boxed,
            ..*plan
        },
        &rows,
    );
}

fn write_used(layout: &mut Layout<'_>, plan: &Plan<'_>, rows: &[Vec<String>]) {
    let edges = edges(plan, rows);
    layout.room(HEAD + plan.row * 2.0);
    heads(layout, plan, &edges);
    for row in rows {
        if layout.y + plan.row > BOTTOM {
            layout.turn();
            heads(layout, plan, &edges);
        }
        write_row(layout, plan, &edges, row);
    }
    layout.y += 6.0;
}

/// Left and right edge of every column: as wide as the content, shrunk alike where it is too much.
fn edges(plan: &Plan<'_>, rows: &[Vec<String>]) -> Vec<(f64, f64)> {
    let start = LEFT + if plan.tick { TICK + GAP } else { 0.0 };
    let wide = |(n, column): (usize, &Column)| {
        let cells = rows
            .iter()
            .filter_map(|row| row.get(n))
            .flat_map(|cell| cell.split('\n'))
            .map(|line| column.style.width(line));
        let head = Style::plain(TEXT - 1.0, PENCIL).width(column.head);
        let boxed = plan
            .boxed
            .filter(|(at, _)| *at == n)
            .map_or(0.0, |(_, width)| width);
        cells.fold(head.max(boxed), f64::max)
    };
    let widths: Vec<f64> = plan.columns.iter().enumerate().map(wide).collect();
    let room = RIGHT - start - GAP * (widths.len().saturating_sub(1)) as f64;
    let kept = shrunk(&widths, room);
    let spare = (room - kept.iter().sum::<f64>()).max(0.0);
    // Some of what is left goes between the columns, so that a narrow table stays together.
    let gap = GAP + (spare / widths.len().max(1) as f64).min(16.0);
    let mut x = start;
    kept.iter()
        .map(|width| {
            let edge = (x, x + width);
            x += width + gap;
            edge
        })
        .collect()
}

/// Takes what is too much from the widest columns first: short numbers stay whole beside long names.
fn shrunk(widths: &[f64], room: f64) -> Vec<f64> {
    let mut kept = widths.to_vec();
    let mut most = widths.iter().copied().fold(0.0, f64::max);
    while kept.iter().sum::<f64>() > room && most > 8.0 {
        most *= 0.97;
        for width in &mut kept {
            *width = width.min(most);
        }
    }
    kept
}

fn heads(layout: &mut Layout<'_>, plan: &Plan<'_>, edges: &[(f64, f64)]) {
    let style = Style::plain(TEXT - 1.0, PENCIL);
    let y = layout.y + 6.0;
    for (column, edge) in plan.columns.iter().zip(edges) {
        set(layout, style, column.number, *edge, y, column.head);
    }
    layout
        .page()
        .line((LEFT, y + 5.0), (RIGHT, y + 5.0), Stroke::line(INK, 0.8));
    layout.y += HEAD - 6.0;
}

fn write_row(layout: &mut Layout<'_>, plan: &Plan<'_>, edges: &[(f64, f64)], row: &[String]) {
    // The base line that sets a line of text in the middle of the row.
    let y = layout.y + plan.row / 2.0 + 4.0;
    if plan.tick {
        layout.tick_box(LEFT, y, TICK);
    }
    for (n, (column, edge)) in plan.columns.iter().zip(edges).enumerate() {
        if plan.boxed.is_some_and(|(at, _)| at == n) {
            let frame = kurbo::Rect::new(edge.0, layout.y + 3.0, edge.1, layout.y + plan.row - 2.0);
            layout.page().frame(frame, Stroke::line(INK, 0.8));
            continue;
        }
        let cell = row.get(n).map(String::as_str).unwrap_or_default();
        let lines: Vec<&str> = cell.split('\n').collect();
        // Several lines stand about the middle of the row.
        let first = y - (lines.len() - 1) as f64 * LINE / 2.0;
        for (k, line) in lines.iter().enumerate() {
            let at = first + k as f64 * LINE;
            set(layout, column.style, column.number, *edge, at, line);
        }
    }
    layout.y += plan.row;
    let rule = layout.y;
    layout.ruling(LEFT, RIGHT, rule);
}

fn set(layout: &mut Layout<'_>, style: Style, number: bool, edge: (f64, f64), y: f64, text: &str) {
    // A hair of grace: a text that just fits must not be cut for a rounding of its width.
    let text = font::fit(text, style.size, style.weight, edge.1 - edge.0 + 0.01);
    if number {
        layout.page().anchored(edge.1, y, style, Anchor::End, &text);
    } else {
        layout.page().text(edge.0, y, style, &text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_the_widest_column_gives_way_first() {
        let kept = shrunk(&[40.0, 600.0, 50.0], 300.0);
        assert_eq!((kept[0], kept[2]), (40.0, 50.0));
        assert!(kept.iter().sum::<f64>() <= 300.0);
        assert_eq!(shrunk(&[40.0, 60.0], 300.0), [40.0, 60.0]);
        assert!(shrunk(&[1e9; 3], 10.0).iter().all(|w| w.is_finite()));
    }
}
