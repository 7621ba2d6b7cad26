//! The transport problem on a dense table: who sends how much to whom for the greatest gain.

/// Marks a pair that must not meet.
pub const FORBIDDEN: i64 = i64::MIN;

/// A shipping plan and its proof.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// Units sent from row `i` to column `j`, at `i * columns + j`.
    pub sent: Vec<u32>,
    /// Sum of gain times units.
    pub gain: i128,
    /// Dual value; equal to `gain` by construction, kept so that a caller can check.
    pub bound: i128,
    /// What one more unit at a row would earn (never negative).
    pub row_worth: Vec<i64>,
    /// What one more place at a column would earn (never negative).
    pub column_worth: Vec<i64>,
}

/// Ships units from rows to columns for the greatest total gain; any unit may stay at home for 0.
///
/// `supply[i]` units stand at row `i`, column `j` takes at most `room[j]`, and
/// `gain[i * columns + j]` is earned by one unit, [`FORBIDDEN`] where the two must not meet. Pairs
/// with a negative gain are never used.
///
/// Method: successive shortest paths with integer potentials (the Hungarian method for rows and
/// columns that hold several units); exact. Time: one augmentation costs at most the table, and
/// there are at most (units) augmentations. Gains must stay below 2^61 divided by the number of
/// rows and columns, so that no path cost runs over.
///
/// # Panics
/// Never for a table of `supply.len() * room.len()` entries; a shorter table is a caller's error.
#[must_use]
pub fn ship(supply: &[u32], room: &[u32], gain: &[i64]) -> Plan {
    let mut work = Work::new(supply.len(), room, gain);
    for (row, &units) in supply.iter().enumerate() {
        work.insert(row, units);
    }
    work.finish(supply, room)
}

/// Cost of a pair that must not meet: larger than any path, far from running over.
const WALL: i64 = i64::MAX / 4;

struct Work<'a> {
    /// Columns and, last, the home column that takes everything for nothing.
    columns: usize,
    gain: &'a [i64],
    sent: Vec<u32>,
    left: Vec<u32>,
    row_price: Vec<i64>,
    column_price: Vec<i64>,
    /// Scratch of one search.
    distance: Vec<i64>,
    from_row: Vec<usize>,
    done: Vec<bool>,
    via_column: Vec<usize>,
    row_distance: Vec<i64>,
    seen_row: Vec<bool>,
    scanned_rows: Vec<usize>,
    scanned_columns: Vec<usize>,
}

const NONE: usize = usize::MAX;

impl<'a> Work<'a> {
    fn new(rows: usize, room: &[u32], gain: &'a [i64]) -> Self {
        let columns = room.len();
        Self {
            columns,
            gain,
            sent: vec![0; rows * columns],
            left: room.to_vec(),
            row_price: vec![0; rows],
            column_price: vec![0; columns + 1],
            distance: vec![WALL; columns + 1],
            from_row: vec![NONE; columns + 1],
            done: vec![false; columns + 1],
            via_column: vec![NONE; rows],
            row_distance: vec![0; rows],
            seen_row: vec![false; rows],
            scanned_rows: Vec::new(),
            scanned_columns: Vec::new(),
        }
    }

    fn cost(&self, row: usize, column: usize) -> i64 {
        if column == self.columns {
            return 0;
        }
        match self.gain[row * self.columns + column] {
            FORBIDDEN => WALL,
            gain => -gain,
        }
    }

    fn insert(&mut self, row: usize, units: u32) {
        let best = (0..=self.columns)
            .map(|column| {
                self.cost(row, column)
                    .saturating_sub(self.column_price[column])
            })
            .min()
            .unwrap_or(0);
        self.row_price[row] = best;
        let mut left = units;
        while left > 0 {
            let end = self.search(row);
            left -= self.push(row, end, left);
        }
    }

    /// Shortest path from `root` to a column with room; prices are brought up to date.
    fn search(&mut self, root: usize) -> usize {
        self.distance.fill(WALL);
        self.done.fill(false);
        self.from_row.fill(NONE);
        self.seen_row.fill(false);
        self.scanned_rows.clear();
        self.scanned_columns.clear();
        self.via_column[root] = NONE;
        self.scan(root, 0);
        loop {
            let Some(column) = self.nearest() else {
                return self.columns;
            };
            let reached = self.distance[column];
            self.done[column] = true;
            if column == self.columns || self.left[column] > 0 {
                self.update_prices(reached);
                return column;
            }
            self.scanned_columns.push(column);
            for row in 0..self.row_price.len() {
                if self.sent[row * self.columns + column] > 0 && !self.seen_row[row] {
                    self.via_column[row] = column;
                    self.scan(row, reached);
                }
            }
        }
    }

    fn nearest(&self) -> Option<usize> {
        let mut best: Option<usize> = None;
        for column in 0..=self.columns {
            if !self.done[column]
                && self.distance[column] < WALL
                && best.is_none_or(|b| self.distance[column] < self.distance[b])
            {
                best = Some(column);
            }
        }
        best
    }

    fn scan(&mut self, row: usize, reached: i64) {
        self.scanned_rows.push(row);
        self.seen_row[row] = true;
        self.row_distance[row] = reached;
        for column in 0..=self.columns {
            let cost = self.cost(row, column);
            if cost >= WALL || self.done[column] {
                continue;
            }
            let way = reached + cost - self.row_price[row] - self.column_price[column];
            if way < self.distance[column] {
                self.distance[column] = way;
                self.from_row[column] = row;
            }
        }
    }

    fn update_prices(&mut self, reached: i64) {
        for &row in &self.scanned_rows {
            self.row_price[row] += reached - self.row_distance[row];
        }
        for &column in &self.scanned_columns {
            self.column_price[column] -= reached - self.distance[column];
        }
    }

    /// Sends as much as the path takes, at most `most`; returns how much.
    fn push(&mut self, root: usize, end: usize, most: u32) -> u32 {
        let mut amount = most;
        if end < self.columns {
            amount = amount.min(self.left[end]);
        }
        let mut column = end;
        loop {
            let row = self.from_row[column];
            if row == root {
                break;
            }
            column = self.via_column[row];
            amount = amount.min(self.sent[row * self.columns + column]);
        }
        let mut column = end;
        loop {
            let row = self.from_row[column];
            if column < self.columns {
                self.sent[row * self.columns + column] += amount;
            }
            if row == root {
                break;
            }
            column = self.via_column[row];
            self.sent[row * self.columns + column] -= amount;
        }
        if end < self.columns {
            self.left[end] -= amount;
        }
        amount
    }

    fn finish(self, supply: &[u32], room: &[u32]) -> Plan {
        let mut gain = 0i128;
        for (units, each) in self.sent.iter().zip(self.gain) {
            if *units > 0 {
                gain += i128::from(*units) * i128::from(*each);
            }
        }
        let mut bound = 0i128;
        for (units, price) in supply.iter().zip(&self.row_price) {
            bound -= i128::from(*units) * i128::from(*price);
        }
        for (units, price) in room.iter().zip(&self.column_price) {
            bound -= i128::from(*units) * i128::from(*price);
        }
        Plan {
            sent: self.sent,
            gain,
            bound,
            row_worth: self.row_price.iter().map(|price| -price).collect(),
            column_worth: self.column_price[..self.columns]
                .iter()
                .map(|price| -price)
                .collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random::SplitMix64;

    /// All ways, by recursion over units.
    fn enumerate(supply: &[u32], room: &mut [u32], gain: &[i64], row: usize, used: u32) -> i128 {
        if row == supply.len() {
            return 0;
        }
        if used == supply[row] {
            return enumerate(supply, room, gain, row + 1, 0);
        }
        let columns = room.len();
        let mut best = enumerate(supply, room, gain, row, used + 1);
        for column in 0..columns {
            let each = gain[row * columns + column];
            if room[column] > 0 && each != FORBIDDEN {
                room[column] -= 1;
                best = best.max(i128::from(each) + enumerate(supply, room, gain, row, used + 1));
                room[column] += 1;
            }
        }
        best
    }

    #[test]
    fn twin_every_way_of_small_tables() {
        let mut draws = SplitMix64::new(11);
        for _ in 0..400 {
            let (rows, columns) = (1 + draws.below(3), 1 + draws.below(4));
            let supply: Vec<u32> = (0..rows).map(|_| draws.below(3) as u32).collect();
            let mut room: Vec<u32> = (0..columns).map(|_| draws.below(3) as u32).collect();
            let gain: Vec<i64> = (0..rows * columns)
                .map(|_| match draws.below(4) {
                    0 => FORBIDDEN,
                    _ => draws.below(15) as i64 - 4,
                })
                .collect();
            let plan = ship(&supply, &room, &gain);
            assert_eq!(plan.gain, plan.bound, "{supply:?} {room:?} {gain:?}");
            assert_eq!(plan.gain, enumerate(&supply, &mut room, &gain, 0, 0));
        }
    }

    #[test]
    fn law_nobody_ships_for_a_loss_or_from_nothing() {
        assert_eq!(ship(&[3], &[3], &[-1]).gain, 0);
        assert_eq!(ship(&[], &[], &[]).gain, 0);
        assert_eq!(ship(&[2], &[], &[]).gain, 0);
    }
}
