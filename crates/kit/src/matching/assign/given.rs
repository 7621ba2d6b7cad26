//! Rows and columns in, assignments out.

/// A row and a column that may go together, and what that costs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct AssignEdge {
    /// The row, counted from 0.
    pub row: u32,
    /// The column, counted from 0.
    pub col: u32,
    /// Cost of the two together, 0 to [`crate::matching::MOST_COST`].
    pub cost: i64,
}

/// Which column each row gets, at least cost, with the dual values that prove it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assignment {
    /// The column of each row; none if the row stays alone.
    pub col_of_row: Vec<Option<u32>>,
    /// Sum of the costs, and of the alone cost of each row that stays alone.
    pub cost: i128,
    /// Dual value of each row, at most the row's alone cost.
    pub row_dual: Vec<i64>,
    /// Dual value of each column, at most 0; 0 for a column that is not used.
    pub col_dual: Vec<i64>,
}
