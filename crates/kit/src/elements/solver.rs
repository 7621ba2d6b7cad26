//! Sparse Cholesky factors: analysed once for a pattern, reckoned for as many matrices as wanted.

use std::sync::Arc;

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::triangular_solve;
use faer::perm::PermRef;
use faer::sparse::linalg::cholesky::supernodal::{SupernodalLltRef, SymbolicSupernodalCholesky};
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, SymbolicCholesky, SymbolicCholeskyRaw, SymmetricOrdering,
    factorize_symbolic_cholesky,
};
use faer::sparse::linalg::{SupernodalThreshold, amd};
use faer::sparse::{SparseColMatRef, SymbolicSparseColMatRef};
use faer::{Accum, Conj, Mat, MatMut, Par, Side};

use super::pattern::Pattern;

/// Why the elements give no answer.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ElementsError {
    /// A region of the mesh without a material.
    #[error("region {0} of the mesh has no material: give one")]
    NoMaterial(u32),
    /// A property or a load outside what has a meaning.
    #[error("{what} is {read}; {expected} is expected")]
    OutOfRange {
        /// Which property.
        what: &'static str,
        /// What was read.
        read: f64,
        /// What was expected.
        expected: &'static str,
    },
    /// Part of the mesh lies below the axis.
    #[error("the mesh reaches below the axis, to y = {0} mm: the axis is y = 0")]
    BelowAxis(f64),
    /// A label that no border edge carries.
    #[error("no border edge carries the label {0}")]
    NoSuchLabel(u32),
    /// A node that the mesh does not have.
    #[error("there is no node {0}")]
    NoSuchNode(u32),
    /// The matrix is not positive definite.
    #[error("the bodies can still move freely: hold each of them along the axis")]
    Loose,
    /// The memory or the numbers ran out.
    #[error("the factorisation failed: {0}")]
    Factorisation(String),
    /// The two lines do not face each other.
    #[error("the two lines of the contact do not face each other anywhere")]
    Apart,
    /// The contact found no state that keeps all conditions.
    #[error("the contact did not settle in {0} rounds")]
    NotSettled(usize),
}

/// The order of elimination of a pattern and the shape of its factor.
#[derive(Debug)]
pub struct Analysed {
    symbolic: SymbolicCholesky<u32>,
    /// The unknown at each place of the order.
    order: Vec<u32>,
    /// The place of each unknown.
    place: Vec<u32>,
    /// How many unknowns come last by wish.
    last: usize,
}

impl Analysed {
    /// Analyses a pattern. The unknowns of the nodes `last` (no node twice) are eliminated at the end: what they do to each
    /// other can then be had without touching the rest, see [`Factored::among_last`].
    ///
    /// # Errors
    /// Memory or index range ran out; a node that is not there.
    pub fn of<const N: usize>(
        pattern: &Pattern<N>,
        last: &[u32],
    ) -> Result<Arc<Self>, ElementsError> {
        let nodes = pattern.nodes();
        if let Some(node) = last.iter().find(|node| **node as usize >= nodes) {
            return Err(ElementsError::NoSuchNode(*node));
        }
        let node_order = order(pattern, last)?;
        let unknowns_of = |node: u32| (0..N as u32).map(move |which| N as u32 * node + which);
        let order: Vec<u32> = node_order.into_iter().flat_map(unknowns_of).collect();
        let mut place = vec![0u32; order.len()];
        for (at, unknown) in order.iter().enumerate() {
            place[*unknown as usize] = at as u32;
        }
        let unknowns = pattern.unknowns();
        let shape = SymbolicSparseColMatRef::new_checked(
            unknowns,
            unknowns,
            pattern.columns(),
            None,
            pattern.rows(),
        );
        let symbolic = factorize_symbolic_cholesky(
            shape,
            Side::Upper,
            SymmetricOrdering::Custom(PermRef::new_checked(&order, &place, unknowns)),
            CholeskySymbolicParams {
                supernodal_flop_ratio_threshold: SupernodalThreshold::FORCE_SUPERNODAL,
                ..CholeskySymbolicParams::default()
            },
        )
        .map_err(|error| ElementsError::Factorisation(format!("{error:?}")))?;
        Ok(Arc::new(Self {
            symbolic,
            order,
            place,
            last: N * last.len(),
        }))
    }

    /// The factor of the matrix with these values, one for each row of the pattern.
    ///
    /// # Errors
    /// [`ElementsError::Loose`] when the matrix is not positive definite.
    pub fn factor<const N: usize>(
        self: &Arc<Self>,
        pattern: &Pattern<N>,
        values: &[f64],
    ) -> Result<Factored, ElementsError> {
        let unknowns = pattern.unknowns();
        let shape = SymbolicSparseColMatRef::new_checked(
            unknowns,
            unknowns,
            pattern.columns(),
            None,
            pattern.rows(),
        );
        let matrix = SparseColMatRef::new(shape, values);
        let mut factor = vec![0.0; self.symbolic.len_val()];
        let need = self
            .symbolic
            .factorize_numeric_llt_scratch::<f64>(Par::Seq, Default::default());
        let mut memory = scratch(need)?;
        self.symbolic
            .factorize_numeric_llt(
                &mut factor,
                matrix,
                Side::Upper,
                Default::default(),
                Par::Seq,
                MemStack::new(&mut memory),
                Default::default(),
            )
            .map_err(|_| ElementsError::Loose)?;
        Ok(Factored {
            analysed: Arc::clone(self),
            factor,
        })
    }

    fn shape(&self) -> Result<&SymbolicSupernodalCholesky<u32>, ElementsError> {
        match self.symbolic.raw() {
            SymbolicCholeskyRaw::Supernodal(shape) => Ok(shape),
            // Never: the analysis was told to take supernodes.
            SymbolicCholeskyRaw::Simplicial(_) => {
                Err(ElementsError::Factorisation("no supernodes".to_owned()))
            }
        }
    }

    /// The place of an unknown among the last, if it is one of them.
    fn place_in_last(&self, unknown: u32) -> Option<usize> {
        let first = self.order.len() - self.last;
        (self.place[unknown as usize] as usize).checked_sub(first)
    }

    /// How many numbers the factor holds: its memory is eight bytes each.
    #[must_use]
    pub fn factor_count(&self) -> usize {
        self.symbolic.len_val()
    }
}

fn scratch(need: faer::dyn_stack::StackReq) -> Result<MemBuffer, ElementsError> {
    MemBuffer::try_new(need).map_err(|_| ElementsError::Factorisation("out of memory".to_owned()))
}

/// The factor of one matrix.
#[derive(Debug)]
pub struct Factored {
    analysed: Arc<Analysed>,
    factor: Vec<f64>,
}

impl Factored {
    /// Solves for one right side.
    ///
    /// # Errors
    /// Memory ran out.
    pub fn solve(&self, right: &[f64]) -> Result<Vec<f64>, ElementsError> {
        let shape = self.analysed.shape()?;
        let n = right.len();
        let mut x = Mat::from_fn(n, 1, |row, _| right[self.analysed.order[row] as usize]);
        let mut memory = scratch(shape.solve_in_place_scratch::<f64>(1, Par::Seq))?;
        SupernodalLltRef::new(shape, &self.factor).solve_in_place_with_conj(
            Conj::No,
            x.as_mut(),
            Par::Seq,
            MemStack::new(&mut memory),
        );
        let place = &self.analysed.place;
        Ok((0..n)
            .map(|unknown| x[(place[unknown] as usize, 0)])
            .collect())
    }

    /// What forces on the last unknowns do to each other: with the columns of `B` given as sparse lists of unknown
    /// and number, all unknowns among the last, the matrix `Bᵀ K⁻¹ B`.
    ///
    /// # Errors
    /// A column that touches an unknown which is not among the last.
    pub fn among_last(&self, columns: &[Vec<(u32, f64)>]) -> Result<Mat<f64>, ElementsError> {
        let (shape, last) = (self.analysed.shape()?, self.analysed.last);
        let factor = SupernodalLltRef::new(shape, &self.factor);
        let first = self.analysed.order.len() - last;
        let starts = shape.supernode_begin();
        // A supernode may begin before the last unknowns do and end among them.
        let node = starts.partition_point(|start| *start as usize <= first) - 1;
        let base = starts[node] as usize;
        let mut y = Mat::zeros(self.analysed.order.len() - base, columns.len());
        for (column, entries) in columns.iter().enumerate() {
            for (unknown, number) in entries {
                let place = self.analysed.place_in_last(*unknown);
                let place = place.ok_or(ElementsError::NoSuchNode(*unknown))?;
                y[(first - base + place, column)] += *number;
            }
        }
        for s in node..shape.n_supernodes() {
            forward(factor, s, base, y.as_mut());
        }
        let mut out = Mat::zeros(columns.len(), columns.len());
        faer::linalg::matmul::matmul(
            out.as_mut(),
            Accum::Replace,
            y.transpose(),
            y.as_ref(),
            1.0,
            Par::Seq,
        );
        Ok(out)
    }
}

/// One supernode's part of the forward solve; row 0 of `y` is the unknown at place `base`.
fn forward(factor: SupernodalLltRef<'_, u32, f64>, s: usize, base: usize, y: MatMut<'_, f64>) {
    let mut y = y;
    let node = factor.supernode(s);
    let size = node.val().ncols();
    let (top, bottom) = node.val().split_at_row(size);
    let start = node.start() - base;
    let count = y.ncols();
    triangular_solve::solve_lower_triangular_in_place(
        top,
        y.as_mut().subrows_mut(start, size),
        Par::Seq,
    );
    let mut below = Mat::<f64>::zeros(bottom.nrows(), count);
    faer::linalg::matmul::matmul(
        below.as_mut(),
        Accum::Replace,
        bottom,
        y.as_ref().subrows(start, size),
        1.0,
        Par::Seq,
    );
    for column in 0..count {
        for (row, at) in node.pattern().iter().enumerate() {
            y[(*at as usize - base, column)] -= below[(row, column)];
        }
    }
}

/// An order of the nodes with little fill, the nodes `last` at its end as given.
fn order<const N: usize>(pattern: &Pattern<N>, last: &[u32]) -> Result<Vec<u32>, ElementsError> {
    let (starts, lower) = pattern.node_graph();
    let nodes = pattern.nodes();
    // The graph without the last nodes, numbered anew.
    let mut is_last = vec![false; nodes];
    for node in last {
        is_last[*node as usize] = true;
    }
    let first: Vec<u32> = (0..nodes as u32)
        .filter(|node| !is_last[*node as usize])
        .collect();
    let mut number = vec![0u32; nodes];
    for (at, node) in first.iter().enumerate() {
        number[*node as usize] = at as u32;
    }
    let mut columns = vec![0u32];
    let mut rows = Vec::with_capacity(lower.len());
    for node in &first {
        let node = *node as usize;
        for low in &lower[starts[node] as usize..starts[node + 1] as usize] {
            if !is_last[*low as usize] {
                rows.push(number[*low as usize]);
            }
        }
        columns.push(rows.len() as u32);
    }
    let n = first.len();
    let (mut forward, mut back) = (vec![0u32; n], vec![0u32; n]);
    let mut memory = scratch(amd::order_scratch::<u32>(n, rows.len()))?;
    amd::order(
        &mut forward,
        &mut back,
        SymbolicSparseColMatRef::new_checked(n, n, &columns, None, &rows),
        amd::Control::default(),
        MemStack::new(&mut memory),
    )
    .map_err(|error| ElementsError::Factorisation(format!("{error:?}")))?;
    let mut out: Vec<u32> = forward.iter().map(|at| first[*at as usize]).collect();
    out.extend(last);
    Ok(out)
}
