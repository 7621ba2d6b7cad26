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
    work.finish(supply, room, gain)
}

/// Cost of a pair that must not meet: larger than any path, far from running over.
const WALL: i64 = i64::MAX / 4;

/// A running search; the last column is *home*, which takes everything for nothing.
struct Work {
    columns: usize,
    /// Cost of every pair, home last.
    cost: Vec<i64>,
    sent: Vec<u32>,
    /// Rows that send something to each column.
    senders: Vec<Vec<usize>>,
    left: Vec<u32>,
    row_price: Vec<i64>,
    column_price: Vec<i64>,
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

impl Work {
    fn new(rows: usize, room: &[u32], gain: &[i64]) -> Self {
        let columns = room.len();
        let mut cost = Vec::with_capacity(rows * (columns + 1));
        for row in 0..rows {
            let gains = &gain[row * columns..(row + 1) * columns];
            cost.extend(
                gains
                    .iter()
                    .map(|&gain| if gain == FORBIDDEN { WALL } else { -gain }),
            );
            cost.push(0);
        }
        let mut left = room.to_vec();
        left.push(u32::MAX);
        Self {
            columns,
            cost,
            sent: vec![0; rows * columns],
            senders: vec![Vec::new(); columns + 1],
            left,
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

    fn insert(&mut self, row: usize, units: u32) {
        let width = self.columns + 1;
        let costs = &self.cost[row * width..(row + 1) * width];
        let reduced = costs
            .iter()
            .zip(&self.column_price)
            .map(|(cost, price)| cost - price);
        self.row_price[row] = reduced.min().unwrap_or(0);
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
        self.seen_row.fill(false);
        self.scanned_rows.clear();
        self.scanned_columns.clear();
        let mut column = self.scan(root, 0);
        loop {
            let reached = self.distance[column];
            self.done[column] = true;
            if self.left[column] > 0 {
                self.update_prices(reached);
                return column;
            }
            self.scanned_columns.push(column);
            let mut nearest = NONE;
            for at in 0..self.senders[column].len() {
                let row = self.senders[column][at];
                if !self.seen_row[row] {
                    self.via_column[row] = column;
                    nearest = self.scan(row, reached);
                }
            }
            column = if nearest == NONE {
                self.nearest()
            } else {
                nearest
            };
        }
    }

    /// The nearest column that is not done; home is always near enough to be found.
    fn nearest(&self) -> usize {
        let open = (0..=self.columns).filter(|&column| !self.done[column]);
        open.min_by_key(|&column| self.distance[column])
            .unwrap_or(self.columns)
    }

    /// Shortens the ways through `row`; returns the nearest column that is not done.
    fn scan(&mut self, row: usize, reached: i64) -> usize {
        self.scanned_rows.push(row);
        self.seen_row[row] = true;
        self.row_distance[row] = reached;
        let width = self.columns + 1;
        let base = reached - self.row_price[row];
        let costs = &self.cost[row * width..(row + 1) * width];
        let (mut least, mut nearest) = (i64::MAX, self.columns);
        for (column, (cost, price)) in costs.iter().zip(&self.column_price).enumerate() {
            if self.done[column] {
                continue;
            }
            let way = base + cost - price;
            if way < self.distance[column] {
                self.distance[column] = way;
                self.from_row[column] = row;
            }
            if self.distance[column] < least {
                least = self.distance[column];
                nearest = column;
            }
        }
        nearest
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
        let mut amount = most.min(self.left[end]);
        let mut row = self.from_row[end];
        while row != root {
            let column = self.via_column[row];
            amount = amount.min(self.sent[row * self.columns + column]);
            row = self.from_row[column];
        }
        let mut column = end;
        loop {
            let row = self.from_row[column];
            self.change(row, column, amount, true);
            if row == root {
                break;
            }
            column = self.via_column[row];
            self.change(row, column, amount, false);
        }
        if end < self.columns {
            self.left[end] -= amount;
        }
        amount
    }

    /// Sends `amount` more or less from a row to a column; what stays at home is not kept.
    fn change(&mut self, row: usize, column: usize, amount: u32, more: bool) {
        if column == self.columns {
            return;
        }
        let sent = &mut self.sent[row * self.columns + column];
        if more {
            if *sent == 0 {
                self.senders[column].push(row);
            }
            *sent += amount;
        } else {
            *sent -= amount;
            if *sent == 0 {
                self.senders[column].retain(|&sender| sender != row);
            }
        }
    }

    fn finish(self, supply: &[u32], room: &[u32], gains: &[i64]) -> Plan {
        let mut gain = 0i128;
        for (units, each) in self.sent.iter().zip(gains) {
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
