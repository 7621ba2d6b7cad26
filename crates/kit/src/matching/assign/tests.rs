//! Assignments against the general matching, with their proofs.

use crate::matching::tests::Mix;
use crate::matching::{AssignEdge, Edge, assign, match_sparse};

/// Sum of an assignment counted again, checking that it is one and that its dual values prove it.
fn assigned(rows: usize, cols: usize, edges: &[AssignEdge], alone: i64) -> i128 {
    let found = assign(rows, cols, edges, alone);
    let mut used = vec![false; cols];
    let mut cost = 0;
    for (row, col) in found.col_of_row.iter().enumerate() {
        cost += i128::from(col.map_or(alone, |col| {
            assert!(
                !std::mem::replace(&mut used[col as usize], true),
                "column {col} used twice"
            );
            let these = edges
                .iter()
                .filter(|edge| (edge.row as usize, edge.col) == (row, col));
            these.map(|edge| edge.cost).min().unwrap()
        }));
    }
    for edge in edges {
        let duals = found.row_dual[edge.row as usize] + found.col_dual[edge.col as usize];
        assert!(duals <= edge.cost);
    }
    assert!(found.row_dual.iter().all(|&dual| dual <= alone));
    assert!(found.col_dual.iter().all(|&dual| dual <= 0));
    let duals = found.row_dual.iter().chain(&found.col_dual);
    assert_eq!(cost, duals.map(|&dual| i128::from(dual)).sum::<i128>());
    assert_eq!(cost, found.cost);
    cost
}

#[test]
fn twin_assignment_costs_what_the_general_matching_costs() {
    let mut mix = Mix(9);
    for round in 0..1500 {
        let (rows, cols) = (mix.below(30) as usize, mix.below(30) as usize);
        let count = if rows * cols == 0 {
            0
        } else {
            mix.below(2 * (rows * cols) as u64)
        };
        let range = [2, 9, 1000][mix.below(3) as usize];
        let edges: Vec<AssignEdge> = (0..count)
            .map(|_| AssignEdge {
                row: mix.below(rows as u64) as u32,
                col: mix.below(cols as u64) as u32,
                cost: mix.below(range) as i64,
            })
            .collect();
        // A row alone costs `alone`, a column alone nothing: two nodes alone cost `alone` together
        // if every pair is made dearer by half of it less.
        let alone = [0, 1, 4, 600, 100_000][mix.below(5) as usize];
        let both: Vec<Edge> = edges
            .iter()
            .map(|edge| Edge {
                a: edge.row,
                b: rows as u32 + edge.col,
                cost: 2 * edge.cost,
            })
            .collect();
        let general = match_sparse(rows + cols, &both, alone);
        let twice = 2 * assigned(rows, cols, &edges, alone);
        // Both count alone costs; the general one counts unused columns too.
        let shift = (cols as i128 - rows as i128) * i128::from(alone);
        assert_eq!(
            general.cost,
            twice + shift,
            "{round}: {rows} rows, {cols} columns"
        );
    }
}
