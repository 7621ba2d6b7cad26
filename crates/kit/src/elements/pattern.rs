//! Which entries of a matrix are not zero, and where each element's go.

use crate::mesh::Mesh;

/// The upper triangle of a symmetric matrix by columns, with `N` unknowns a node.
///
/// The unknowns of a node stand side by side: number `N · node + which`.
#[derive(Debug, Clone)]
pub struct Pattern<const N: usize> {
    /// The nodes of lower number that each node shares an element with, node by node, rising.
    lower: Vec<u32>,
    /// Where each node's list starts.
    starts: Vec<u32>,
    /// For each element and each pair of its nodes, the place of the pair in `lower`; the pairs in the order of [`PAIRS`].
    places: Vec<[u32; 15]>,
    /// Column starts and rows of the matrix.
    columns: Vec<u32>,
    rows: Vec<u32>,
}

/// The fifteen pairs of an element's six nodes.
const PAIRS: [(usize, usize); 15] = [
    (0, 1),
    (0, 2),
    (0, 3),
    (0, 4),
    (0, 5),
    (1, 2),
    (1, 3),
    (1, 4),
    (1, 5),
    (2, 3),
    (2, 4),
    (2, 5),
    (3, 4),
    (3, 5),
    (4, 5),
];

impl<const N: usize> Pattern<N> {
    /// The pattern of a mesh.
    #[must_use]
    pub fn of(mesh: &Mesh) -> Self {
        let (lower, starts) = lower_nodes(mesh);
        let place = |a: u32, b: u32| {
            let (low, high) = (a.min(b), a.max(b));
            let (from, to) = (starts[high as usize], starts[high as usize + 1]);
            let list = &lower[from as usize..to as usize];
            from + list.partition_point(|node| *node < low) as u32
        };
        let places = mesh.triangles.iter();
        let places = places
            .map(|t| PAIRS.map(|(i, j)| place(t[i], t[j])))
            .collect();
        let nodes = mesh.nodes.len();
        let entries = N * N * lower.len() + nodes * N * (N + 1) / 2;
        let mut columns = Vec::with_capacity(N * nodes + 1);
        let mut rows = Vec::with_capacity(entries);
        for node in 0..nodes {
            let list = &lower[starts[node] as usize..starts[node + 1] as usize];
            for which in 0..N {
                columns.push(rows.len() as u32);
                for low in list {
                    rows.extend((0..N as u32).map(|row| N as u32 * low + row));
                }
                rows.extend((0..=which).map(|row| (N * node + row) as u32));
            }
        }
        columns.push(rows.len() as u32);
        Self {
            lower,
            starts,
            places,
            columns,
            rows,
        }
    }

    /// How many unknowns there are.
    #[must_use]
    pub fn unknowns(&self) -> usize {
        self.columns.len() - 1
    }

    /// How many nodes there are.
    #[must_use]
    pub fn nodes(&self) -> usize {
        self.starts.len() - 1
    }

    /// Starts of the columns in [`Self::rows`].
    #[must_use]
    pub fn columns(&self) -> &[u32] {
        &self.columns
    }

    /// The rows, column by column, rising; the diagonal last.
    #[must_use]
    pub fn rows(&self) -> &[u32] {
        &self.rows
    }

    /// For each node the nodes of lower number beside it: column starts and rows of a matrix of nodes.
    pub(super) fn node_graph(&self) -> (&[u32], &[u32]) {
        (&self.starts, &self.lower)
    }

    /// Adds one element's matrix to `values`. `block(i, j)` is what row node `i` and column node `j` of the element share,
    /// row by row; it is asked once for each pair, in either order.
    pub(super) fn add(
        &self,
        values: &mut [f64],
        element: usize,
        nodes: &[u32; 6],
        block: impl Fn(usize, usize) -> [[f64; N]; N],
    ) {
        for (k, node) in nodes.iter().enumerate() {
            let own = block(k, k);
            for which in 0..N {
                let end = self.columns[N * *node as usize + which + 1] as usize;
                let column = &mut values[end - 1 - which..end];
                for (value, row) in column.iter_mut().zip(&own) {
                    *value += row[which];
                }
            }
        }
        for ((i, j), place) in PAIRS.iter().zip(self.places[element]) {
            let (low, high) = if nodes[*i] < nodes[*j] {
                (*i, *j)
            } else {
                (*j, *i)
            };
            let shared = block(low, high);
            let node = nodes[high] as usize;
            let off = N * (place - self.starts[node]) as usize;
            for which in 0..N {
                let at = self.columns[N * node + which] as usize + off;
                for (value, row) in values[at..at + N].iter_mut().zip(&shared) {
                    *value += row[which];
                }
            }
        }
    }

    /// The matrix times a vector.
    #[must_use]
    pub fn times(&self, values: &[f64], vector: &[f64]) -> Vec<f64> {
        let mut out = vec![0.0; vector.len()];
        for column in 0..self.unknowns() {
            let (from, to) = (
                self.columns[column] as usize,
                self.columns[column + 1] as usize,
            );
            let (here, mut sum) = (vector[column], 0.0);
            let above = from..to - 1;
            for (row, value) in self.rows[above.clone()].iter().zip(&values[above]) {
                let row = *row as usize;
                sum += value * vector[row];
                out[row] += value * here;
            }
            out[column] += sum + values[to - 1] * here;
        }
        out
    }

    /// Makes rows and columns of held unknowns those of the unit matrix, scaled; the right side must have had their
    /// part taken off.
    pub(super) fn hold(&self, values: &mut [f64], held: &[bool]) {
        let diagonal = |column: usize| self.columns[column + 1] as usize - 1;
        let largest = (0..self.unknowns()).map(|c| values[diagonal(c)]);
        let scale = largest.fold(0.0, f64::max);
        for column in 0..self.unknowns() {
            let (from, to) = (
                self.columns[column] as usize,
                self.columns[column + 1] as usize,
            );
            for at in from..to {
                if held[column] || held[self.rows[at] as usize] {
                    values[at] = 0.0;
                }
            }
            if held[column] {
                values[to - 1] = scale;
            }
        }
    }
}

/// Each node's neighbours of lower number, and where each list starts.
fn lower_nodes(mesh: &Mesh) -> (Vec<u32>, Vec<u32>) {
    let nodes = mesh.nodes.len();
    let mut starts = vec![0u32; nodes + 1];
    let pairs = || {
        mesh.triangles
            .iter()
            .flat_map(|t| PAIRS.map(|(i, j)| (t[i].min(t[j]), t[i].max(t[j]))))
    };
    for (_, high) in pairs() {
        starts[high as usize + 1] += 1;
    }
    for node in 0..nodes {
        starts[node + 1] += starts[node];
    }
    let mut next = starts.clone();
    let mut all = vec![0u32; starts[nodes] as usize];
    for (low, high) in pairs() {
        all[next[high as usize] as usize] = low;
        next[high as usize] += 1;
    }
    let mut lower = Vec::with_capacity(all.len());
    let mut out = vec![0u32; nodes + 1];
    for node in 0..nodes {
        let list = &mut all[starts[node] as usize..starts[node + 1] as usize];
        list.sort_unstable();
        let mut before = u32::MAX;
        for low in list {
            if *low != before {
                lower.push(*low);
                before = *low;
            }
        }
        out[node + 1] = lower.len() as u32;
    }
    (lower, out)
}
