//! Rows to columns at least cost.

mod given;
mod path;
mod table;
#[cfg(test)]
mod tests;

pub use given::{AssignEdge, Assignment};

use path::Paths;
use table::Table;

/// Least-cost assignment: every row gets one column or stays alone at `row_alone_cost`, every
/// column is used at most once.
///
/// **Finds** an assignment of least total cost, with dual values: `row_dual + col_dual` is at most
/// the cost of every edge, `row_dual` at most the alone cost, `col_dual` at most 0, and all of
/// them add up to `cost`; so nothing can cost less, in integers and without rounding.
///
/// **Method:** rows take their cheapest columns, two rounds of bidding let free rows push others
/// on (R. Jonker and A. Volgenant, "A shortest augmenting path algorithm for dense and sparse
/// linear assignment problems", Computing 38, 1987), then a shortest augmenting path for each row
/// that is still free (from memory). Time about rows × edges / columns for sparse tables.
///
/// **Most rows first:** with a `row_alone_cost` above the sum of all costs that can matter, as many
/// rows as possible get a column, and among such assignments the cheapest is found.
///
/// **Ranges:** costs 0 to [`super::MOST_COST`]; the alone cost is held to ±[`super::MOST_COST`].
/// Edges that name no row or column, and edges dearer than staying alone, are passed over; of
/// parallel edges the cheapest counts. It cannot fail.
#[must_use]
pub fn assign(rows: usize, cols: usize, edges: &[AssignEdge], row_alone_cost: i64) -> Assignment {
    let table = Table::new(rows, cols, edges, row_alone_cost);
    let mut paths = Paths::new(&table);
    for _ in 0..2 {
        paths.bid();
    }
    paths.finish()
}
