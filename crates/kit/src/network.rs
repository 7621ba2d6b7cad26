//! Networks: nodes joined by links that carry in proportion to the difference of their ends.
//!
//! The balance of such a network is a symmetric positive definite system: on the diagonal what a node carries off by itself
//! and through all its links, beside it each link with its sign turned. The pattern is searched once for an order with
//! little fill (least degree first); every set of numbers is then factored as `L D Lᵀ`, row by row, on the pattern found.

/// Why a network has no answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NetworkError {
    /// Part of it hangs on nothing.
    #[error(
        "node {0} and what it is linked with hang on nothing: let one of them carry something off by itself"
    )]
    Loose(usize),
}

/// The pattern of a network, the room for its factor, and the factor last made.
#[derive(Debug, Clone)]
pub struct Network {
    /// The node at each place of the order, and the place of each node.
    node: Vec<u32>,
    place: Vec<u32>,
    /// For each row of the lower triangle the links left of the diagonal: column and which link.
    row_links: Lists<(u32, u32)>,
    /// For each row the columns where the factor has an entry, rising.
    row_pattern: Lists<u32>,
    /// For each column of the factor the rows below the diagonal, rising.
    columns: Lists<u32>,
    /// The ends of each link.
    ends: Vec<(u32, u32)>,
    factor: Vec<f64>,
    diagonal: Vec<f64>,
    /// Room for one row.
    row: Vec<f64>,
    /// How much of each column is made.
    made: Vec<u32>,
}

/// Lists one after the other.
#[derive(Debug, Clone, Default)]
struct Lists<T> {
    starts: Vec<u32>,
    all: Vec<T>,
}

impl<T> Lists<T> {
    fn of(lists: Vec<Vec<T>>) -> Self {
        let mut out = Self {
            starts: vec![0],
            all: Vec::new(),
        };
        for list in lists {
            out.all.extend(list);
            out.starts.push(out.all.len() as u32);
        }
        out
    }

    fn at(&self, list: usize) -> &[T] {
        &self.all[self.starts[list] as usize..self.starts[list + 1] as usize]
    }
}

impl Network {
    /// Searches an order for the nodes `0..nodes` and their links; a pair may be linked more than once.
    ///
    /// # Panics
    /// A link has an end that is not there, or joins a node to itself.
    #[must_use]
    pub fn of(nodes: usize, links: &[(u32, u32)]) -> Self {
        let mut beside = vec![Vec::new(); nodes];
        for (a, b) in links {
            assert!(a != b, "a link joins two nodes");
            beside[*a as usize].push(*b);
            beside[*b as usize].push(*a);
        }
        for list in &mut beside {
            list.sort_unstable();
            list.dedup();
        }
        let (node, columns) = least_degree_first(beside);
        let mut place = vec![0; nodes];
        for (at, node) in node.iter().enumerate() {
            place[*node as usize] = at as u32;
        }
        let columns: Vec<Vec<u32>> = columns
            .into_iter()
            .map(|column| {
                let mut rows: Vec<u32> = column.iter().map(|n| place[*n as usize]).collect();
                rows.sort_unstable();
                rows
            })
            .collect();
        let mut row_pattern = vec![Vec::new(); nodes];
        for (column, rows) in columns.iter().enumerate() {
            for row in rows {
                row_pattern[*row as usize].push(column as u32);
            }
        }
        let mut row_links = vec![Vec::new(); nodes];
        for (which, (a, b)) in links.iter().enumerate() {
            let (a, b) = (place[*a as usize], place[*b as usize]);
            row_links[a.max(b) as usize].push((a.min(b), which as u32));
        }
        let columns = Lists::of(columns);
        Self {
            factor: vec![0.0; columns.all.len()],
            diagonal: vec![0.0; nodes],
            row: vec![0.0; nodes],
            made: vec![0; nodes],
            row_links: Lists::of(row_links),
            row_pattern: Lists::of(row_pattern),
            ends: links.to_vec(),
            node,
            place,
            columns,
        }
    }

    /// How many numbers the factor holds beside the diagonal.
    #[must_use]
    pub fn factor_count(&self) -> usize {
        self.factor.len()
    }

    /// Factors the network in which node `i` carries off `own[i]` by itself and link `l` carries `carries[l]`.
    ///
    /// A link that carries 0 costs nothing.
    ///
    /// # Errors
    /// [`NetworkError::Loose`] where the system is not positive definite.
    pub fn factor(&mut self, own: &[f64], carries: &[f64]) -> Result<(), NetworkError> {
        for (at, node) in self.node.iter().enumerate() {
            self.diagonal[at] = own[*node as usize];
        }
        for ((a, b), carries) in self.ends.iter().zip(carries) {
            self.diagonal[self.place[*a as usize] as usize] += carries;
            self.diagonal[self.place[*b as usize] as usize] += carries;
        }
        for (made, start) in self.made.iter_mut().zip(&self.columns.starts) {
            *made = *start;
        }
        for at in 0..self.node.len() {
            self.factor_row(at, carries);
            if self.diagonal[at] <= 0.0 || !self.diagonal[at].is_finite() {
                return Err(NetworkError::Loose(self.node[at] as usize));
            }
        }
        Ok(())
    }

    fn factor_row(&mut self, at: usize, carries: &[f64]) {
        for (column, link) in self.row_links.at(at) {
            self.row[*column as usize] -= carries[*link as usize];
        }
        let mut own = self.diagonal[at];
        for column in self.row_pattern.at(at) {
            let column = *column as usize;
            let here = std::mem::take(&mut self.row[column]);
            let (from, to) = (
                self.columns.starts[column] as usize,
                self.made[column] as usize,
            );
            if here == 0.0 {
                self.factor[to] = 0.0;
            } else {
                let rows = &self.columns.all[from..to];
                for (row, factor) in rows.iter().zip(&self.factor[from..to]) {
                    self.row[*row as usize] -= factor * here;
                }
                let share = here / self.diagonal[column];
                own -= share * here;
                self.factor[to] = share;
            }
            self.made[column] += 1;
        }
        self.diagonal[at] = own;
    }

    /// What stands at each node when `right` flows into each, by the factor last made; in place.
    pub fn solve(&mut self, right: &mut [f64]) {
        let x = &mut self.row;
        for (at, node) in self.node.iter().enumerate() {
            x[at] = right[*node as usize];
        }
        for column in 0..x.len() {
            let here = x[column];
            if here != 0.0 {
                let from = self.columns.starts[column] as usize;
                let rows = self.columns.at(column);
                for (row, factor) in rows.iter().zip(&self.factor[from..]) {
                    x[*row as usize] -= factor * here;
                }
            }
        }
        for column in (0..x.len()).rev() {
            let from = self.columns.starts[column] as usize;
            let rows = self.columns.at(column);
            let mut here = x[column] / self.diagonal[column];
            for (row, factor) in rows.iter().zip(&self.factor[from..]) {
                here -= factor * x[*row as usize];
            }
            x[column] = here;
        }
        for (at, node) in self.node.iter().enumerate() {
            right[*node as usize] = x[at];
        }
        self.row.fill(0.0);
    }
}

/// Eliminates node after node, always one with the fewest neighbours left (the first of them); gives the order, and for
/// each the neighbours it had when it went.
fn least_degree_first(mut beside: Vec<Vec<u32>>) -> (Vec<u32>, Vec<Vec<u32>>) {
    let nodes = beside.len();
    let mut order = Vec::with_capacity(nodes);
    let mut columns = Vec::with_capacity(nodes);
    // The nodes by their degree; a node is looked up anew when its degree has changed.
    let mut by_degree: std::collections::BTreeSet<(usize, u32)> = beside
        .iter()
        .enumerate()
        .map(|(node, list)| (list.len(), node as u32))
        .collect();
    let mut joined = Vec::new();
    while let Some((_, node)) = by_degree.pop_first() {
        let gone = std::mem::take(&mut beside[node as usize]);
        for other in &gone {
            let list = &mut beside[*other as usize];
            by_degree.remove(&(list.len(), *other));
            union_without(list, &gone, [node, *other], &mut joined);
            std::mem::swap(list, &mut joined);
            by_degree.insert((list.len(), *other));
        }
        order.push(node);
        columns.push(gone);
    }
    (order, columns)
}

/// The union of two rising lists without two numbers.
fn union_without(one: &[u32], other: &[u32], without: [u32; 2], out: &mut Vec<u32>) {
    out.clear();
    let (mut a, mut b) = (one.iter().peekable(), other.iter().peekable());
    loop {
        let next = match (a.peek(), b.peek()) {
            (Some(x), Some(y)) => **x.min(y),
            (Some(x), None) => **x,
            (None, Some(y)) => **y,
            (None, None) => return,
        };
        a.next_if(|x| **x == next);
        b.next_if(|y| **y == next);
        if !without.contains(&next) {
            out.push(next);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A grid of so many rows, each closed to a ring, with conductances that differ a thousandfold.
    fn ring(rows: u32, around: u32) -> (usize, Vec<(u32, u32)>, Vec<f64>) {
        let at = |row: u32, column: u32| row * around + column % around;
        let mut links = Vec::new();
        for row in 0..rows {
            for column in 0..around {
                links.push((at(row, column), at(row, column + 1)));
                if row + 1 < rows {
                    links.push((at(row, column), at(row + 1, column)));
                }
            }
        }
        let carries = (0..links.len())
            .map(|l| 10.0_f64.powf(((l * 7919) % 31) as f64 / 10.0))
            .collect();
        ((rows * around) as usize, links, carries)
    }

    #[test]
    fn law_what_flows_in_flows_out() {
        let (nodes, links, carries) = ring(7, 12);
        let mut own = vec![0.0; nodes];
        own[3] = 0.7;
        own[50] = 1e-3;
        let mut network = Network::of(nodes, &links);
        network.factor(&own, &carries).unwrap();
        let into: Vec<f64> = (0..nodes).map(|n| ((n * 31) % 17) as f64 - 8.0).collect();
        let mut x = into.clone();
        network.solve(&mut x);
        let mut off: Vec<f64> = x.iter().zip(&own).map(|(x, own)| x * own).collect();
        for ((a, b), carries) in links.iter().zip(&carries) {
            let flow = carries * (x[*a as usize] - x[*b as usize]);
            off[*a as usize] += flow;
            off[*b as usize] -= flow;
        }
        let largest = x.iter().fold(0.0_f64, |most, x| most.max(x.abs()));
        for (off, into) in off.iter().zip(&into) {
            // Some hundred roundings of the largest link times the largest level.
            assert!(
                (off - into).abs() < 1e-13 * largest * 1e3 * 10.0,
                "{off} {into}"
            );
        }
    }

    #[test]
    fn law_a_part_that_hangs_on_nothing_is_named() {
        let mut network = Network::of(4, &[(0, 1), (2, 3)]);
        assert!(network.factor(&[1.0, 0.0, 0.0, 0.0], &[1.0, 1.0]).is_err());
        // A second try with something to hang on gives the answer: nothing is left over.
        network.factor(&[1.0, 0.0, 0.0, 2.0], &[1.0, 1.0]).unwrap();
        let mut x = [1.0, 0.0, 1.0, 0.0];
        network.solve(&mut x);
        for (found, exact) in x.iter().zip([1.0, 1.0, 1.5, 0.5]) {
            assert!((found - exact).abs() < 1e-15);
        }
    }

    #[test]
    fn law_links_side_by_side_add_up() {
        let mut network = Network::of(2, &[(0, 1), (1, 0)]);
        network.factor(&[0.0, 1.0], &[1.0, 3.0]).unwrap();
        let mut x = [2.0, 0.0];
        network.solve(&mut x);
        assert!((x[0] - 2.5).abs() < 1e-15 && (x[1] - 2.0).abs() < 1e-15);
    }
}
