//! Border edges sorted into square cells, so that near ones are found at once.

use super::size::to_stretch;
use crate::revolve::{Bounds, Point};

/// Most cells a grid has; larger areas take larger cells.
const CELLS: f64 = 1e6;

/// A grid of cells, each with the numbers of the edges whose box reaches it.
#[derive(Debug)]
pub struct Grid {
    low: Point,
    cell: f64,
    across: usize,
    up: usize,
    starts: Vec<u32>,
    items: Vec<u32>,
}

impl Grid {
    /// Sorts edges, given by their two places; `cell` is the wanted side of a cell.
    pub fn new(edges: &[(Point, Point)], cell: f64) -> Self {
        let boxes: Vec<Bounds> = edges.iter().map(|(a, b)| Bounds::of(*a, *b)).collect();
        let zero = Bounds::of(Point::default(), Point::default());
        let all = boxes.iter().copied().reduce(Bounds::with).unwrap_or(zero);
        let (width, height) = (all.high.x - all.low.x, all.high.y - all.low.y);
        let cell = cell
            .max((width * height / CELLS).sqrt())
            .max((width + height) / CELLS);
        let count = |length: f64| (length / cell) as usize + 1;
        let mut grid = Self {
            low: all.low,
            cell,
            across: count(width),
            up: count(height),
            starts: Vec::new(),
            items: Vec::new(),
        };
        let mut counts = vec![0u32; grid.across * grid.up + 1];
        for b in &boxes {
            grid.cells(*b, 0.0, |at| counts[at + 1] += 1);
        }
        for at in 1..counts.len() {
            counts[at] += counts[at - 1];
        }
        let mut next = counts.clone();
        let mut items = vec![0u32; counts.last().copied().unwrap_or(0) as usize];
        for (number, b) in boxes.iter().enumerate() {
            grid.cells(*b, 0.0, |at| {
                items[next[at] as usize] = number as u32;
                next[at] += 1;
            });
        }
        grid.starts = counts;
        grid.items = items;
        grid
    }

    fn cells(&self, b: Bounds, reach: f64, mut each: impl FnMut(usize)) {
        let place = |at: f64, low: f64, most: usize| {
            // A negative quotient becomes cell 0: `as` saturates.
            (((at - low) / self.cell) as usize).min(most - 1)
        };
        let (x0, x1) = (
            place(b.low.x - reach, self.low.x, self.across),
            place(b.high.x + reach, self.low.x, self.across),
        );
        let (y0, y1) = (
            place(b.low.y - reach, self.low.y, self.up),
            place(b.high.y + reach, self.low.y, self.up),
        );
        for y in y0..=y1 {
            for x in x0..=x1 {
                each(y * self.across + x);
            }
        }
    }

    /// Calls `each` with the number of every edge that may lie within `reach` of a place; some twice.
    pub fn near(&self, place: Point, reach: f64, mut each: impl FnMut(usize)) {
        self.cells(Bounds::of(place, place), reach, |at| {
            for item in &self.items[self.starts[at] as usize..self.starts[at + 1] as usize] {
                each(*item as usize);
            }
        });
    }

    /// Whether an edge comes nearer to a place than `reach`.
    pub fn is_near(&self, edges: &[(Point, Point)], place: Point, reach: f64) -> bool {
        let mut found = false;
        self.near(place, reach, |number| {
            let (a, b) = edges[number];
            found = found || to_stretch(place, a, b) < reach;
        });
        found
    }
}
