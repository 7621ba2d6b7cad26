//! Bidding, and shortest augmenting paths.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::given::Assignment;
use super::table::Table;

/// No row, no column.
const NONE: u32 = u32::MAX;
/// In the place of a column: the row stays alone.
const ALONE: u32 = u32::MAX - 1;

/// An assignment in the making.
#[derive(Debug)]
pub(super) struct Paths<'t> {
    table: &'t Table,
    col_of_row: Vec<u32>,
    row_of_col: Vec<u32>,
    row_dual: Vec<i64>,
    col_dual: Vec<i64>,
    free: Vec<u32>,
    /// Length of the shortest way to each column so far.
    way: Vec<i64>,
    /// The row from which it comes.
    from: Vec<u32>,
    /// Columns that have a way.
    seen: Vec<u32>,
    heap: BinaryHeap<Reverse<(i64, u32)>>,
}

impl<'t> Paths<'t> {
    /// All rows free.
    pub fn new(table: &'t Table) -> Self {
        Self {
            table,
            col_of_row: vec![NONE; table.rows()],
            row_of_col: vec![NONE; table.cols],
            row_dual: vec![table.alone; table.rows()],
            col_dual: vec![0; table.cols],
            free: (0..table.rows() as u32).collect(),
            way: vec![i64::MAX; table.cols],
            from: vec![NONE; table.cols],
            seen: Vec::new(),
            heap: BinaryHeap::new(),
        }
    }

    /// Every free row bids once for its best column: as much as that is better than its second
    /// best. Who is outbid is free for the next round.
    pub fn bid(&mut self) {
        for row in std::mem::take(&mut self.free) {
            let (mut best, mut second, mut col) = (self.table.alone, self.table.alone, ALONE);
            for &(to, cost) in self.table.row(row) {
                let price = cost - self.col_dual[to as usize];
                if price < best {
                    (second, best, col) = (best, price, to);
                } else if price < second && to != col {
                    second = price;
                }
            }
            if col == ALONE {
                self.row_dual[row as usize] = best;
                self.col_of_row[row as usize] = ALONE;
                continue;
            }
            let owner = self.row_of_col[col as usize];
            if owner != NONE && best == second {
                self.row_dual[row as usize] = best;
                self.free.push(row);
                continue;
            }
            self.col_dual[col as usize] -= second - best;
            self.row_dual[row as usize] = second;
            self.take(row, col);
            if owner != NONE {
                self.col_of_row[owner as usize] = NONE;
                self.free.push(owner);
            }
        }
    }

    /// Gives a column to a row.
    fn take(&mut self, row: u32, col: u32) {
        self.col_of_row[row as usize] = col;
        if col != ALONE {
            self.row_of_col[col as usize] = row;
        }
    }

    /// A shortest path for every row that is still free.
    pub fn finish(mut self) -> Assignment {
        for row in std::mem::take(&mut self.free) {
            self.augment(row);
        }
        let pairs = self.col_of_row.iter().zip(&self.row_dual);
        let cost = pairs
            .map(|(&col, &dual)| {
                let other = if col == ALONE {
                    0
                } else {
                    self.col_dual[col as usize]
                };
                i128::from(dual) + i128::from(other)
            })
            .sum();
        Assignment {
            col_of_row: self
                .col_of_row
                .iter()
                .map(|&col| (col != ALONE).then_some(col))
                .collect(),
            cost,
            row_dual: self.row_dual,
            col_dual: self.col_dual,
        }
    }

    /// Finds the cheapest way to give `root` a column, or to leave some row alone.
    fn augment(&mut self, root: u32) {
        self.settle_row_dual(root);
        let mut until = self.table.alone - self.row_dual[root as usize];
        let (mut last_row, mut last_col) = (root, ALONE);
        self.relax(root, 0, until);
        while let Some(Reverse((length, col))) = self.heap.pop() {
            if length >= until {
                break;
            }
            if length > self.way[col as usize] {
                continue;
            }
            let owner = self.row_of_col[col as usize];
            if owner == NONE {
                until = length;
                (last_row, last_col) = (self.from[col as usize], col);
                break;
            }
            let alone = length + self.table.alone - self.row_dual[owner as usize];
            if alone < until {
                until = alone;
                (last_row, last_col) = (owner, ALONE);
            }
            self.relax(owner, length, until);
        }
        self.raise(root, until);
        self.turn(root, last_row, last_col);
        for col in self.seen.drain(..) {
            self.way[col as usize] = i64::MAX;
        }
        self.heap.clear();
    }

    /// Raises a free row's dual value to its cheapest column.
    fn settle_row_dual(&mut self, row: u32) {
        let prices = self
            .table
            .row(row)
            .iter()
            .map(|&(to, cost)| cost - self.col_dual[to as usize]);
        self.row_dual[row as usize] = prices
            .min()
            .unwrap_or(self.table.alone)
            .min(self.table.alone);
    }

    /// Looks from a row, reached at `length`, for shorter ways to its columns.
    fn relax(&mut self, row: u32, length: i64, until: i64) {
        let base = length - self.row_dual[row as usize];
        for &(to, cost) in self.table.row(row) {
            let way = base + cost - self.col_dual[to as usize];
            let known = &mut self.way[to as usize];
            if way < until && way < *known {
                if *known == i64::MAX {
                    self.seen.push(to);
                }
                *known = way;
                self.from[to as usize] = row;
                self.heap.push(Reverse((way, to)));
            }
        }
    }

    /// Moves the dual values of everything nearer than `until`.
    fn raise(&mut self, root: u32, until: i64) {
        self.row_dual[root as usize] += until;
        for &col in &self.seen {
            let short = until - self.way[col as usize];
            if short > 0 {
                self.col_dual[col as usize] -= short;
                let owner = self.row_of_col[col as usize];
                if owner != NONE {
                    self.row_dual[owner as usize] += short;
                }
            }
        }
    }

    /// Hands the columns on along the way back to the root.
    fn turn(&mut self, root: u32, last_row: u32, last_col: u32) {
        let (mut row, mut col) = (last_row, last_col);
        loop {
            let given_up = std::mem::replace(&mut self.col_of_row[row as usize], col);
            if col != ALONE {
                self.row_of_col[col as usize] = row;
            }
            if row == root {
                return;
            }
            col = given_up;
            row = self.from[col as usize];
        }
    }
}
