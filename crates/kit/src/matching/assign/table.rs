//! The edges, row by row.

use super::given::AssignEdge;
use crate::matching::answer::MOST_COST;

/// Rows of (column, cost): row `i` is `cells[first[i]..first[i + 1]]`.
#[derive(Debug)]
pub(super) struct Table {
    first: Vec<u32>,
    cells: Vec<(u32, i64)>,
    /// How many columns there are.
    pub cols: usize,
    /// What a row pays that stays alone.
    pub alone: i64,
}

impl Table {
    /// Lays out the edges that can matter.
    pub fn new(rows: usize, cols: usize, edges: &[AssignEdge], row_alone_cost: i64) -> Self {
        let alone = row_alone_cost.clamp(-MOST_COST, MOST_COST);
        let counts = |edge: &&AssignEdge| {
            (edge.row as usize) < rows && (edge.col as usize) < cols && edge.cost <= alone
        };
        let mut first = vec![0_u32; rows + 2];
        for edge in edges.iter().filter(counts) {
            first[edge.row as usize + 2] += 1;
        }
        for row in 2..rows + 2 {
            first[row] += first[row - 1];
        }
        let mut cells = vec![(0, 0); first[rows + 1] as usize];
        for edge in edges.iter().filter(counts) {
            let place = &mut first[edge.row as usize + 1];
            cells[*place as usize] = (edge.col, edge.cost.max(-MOST_COST));
            *place += 1;
        }
        first.truncate(rows + 1);
        Self {
            first,
            cells,
            cols,
            alone,
        }
    }

    /// How many rows there are.
    pub fn rows(&self) -> usize {
        self.first.len() - 1
    }

    /// Columns and costs of a row.
    pub fn row(&self, row: u32) -> &[(u32, i64)] {
        &self.cells[self.first[row as usize] as usize..self.first[row as usize + 1] as usize]
    }
}
