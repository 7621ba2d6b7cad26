//! The edges as rows of arcs, one row a node.

use crate::matching::answer::{Edge, MOST_COST};

/// One end's view of an edge.
#[derive(Debug, Clone, Copy)]
pub(super) struct Arc {
    /// Twice the cost, so that dual values stay integers.
    pub cost_times_2: i64,
    /// The node at the other end.
    pub to: u32,
}

/// Rows of arcs: the arcs of node `v` are `arcs[first[v]..first[v + 1]]`, ordered by the other end.
#[derive(Debug)]
pub(super) struct Graph {
    first: Vec<u32>,
    /// All arcs, row after row.
    pub arcs: Vec<Arc>,
    /// Twice the alone cost.
    pub alone_times_2: i64,
}

impl Graph {
    /// Lays out the edges that can matter: two different nodes that exist, not dearer than leaving
    /// both alone; of parallel edges the cheapest.
    pub fn new(n: usize, edges: &[Edge], alone_cost: i64) -> Self {
        let alone = alone_cost.clamp(-MOST_COST, MOST_COST);
        let counts = |edge: &&Edge| {
            edge.a != edge.b
                && (edge.a as usize) < n
                && (edge.b as usize) < n
                && edge.cost <= alone.saturating_mul(2)
        };
        let mut first = vec![0_u32; n + 2];
        for edge in edges.iter().filter(counts) {
            first[edge.a as usize + 2] += 1;
            first[edge.b as usize + 2] += 1;
        }
        for v in 2..n + 2 {
            first[v] += first[v - 1];
        }
        let mut arcs = vec![
            Arc {
                cost_times_2: 0,
                to: 0
            };
            first[n + 1] as usize
        ];
        for edge in edges.iter().filter(counts) {
            let cost_times_2 = 2 * edge.cost.max(-MOST_COST);
            for (from, to) in [(edge.a, edge.b), (edge.b, edge.a)] {
                let place = &mut first[from as usize + 1];
                arcs[*place as usize] = Arc { cost_times_2, to };
                *place += 1;
            }
        }
        first.truncate(n + 1);
        let mut graph = Self {
            first,
            arcs,
            alone_times_2: 2 * alone,
        };
        graph.keep_cheapest();
        graph
    }

    /// Orders each row by its other end and keeps the cheapest of parallel arcs.
    fn keep_cheapest(&mut self) {
        let mut kept = 0;
        let mut from = 0;
        for v in 0..self.first.len() - 1 {
            let to = self.first[v + 1] as usize;
            self.arcs[from..to].sort_unstable_by_key(|arc| (arc.to, arc.cost_times_2));
            let row = kept;
            for i in from..to {
                let arc = self.arcs[i];
                if kept == row || self.arcs[kept - 1].to != arc.to {
                    self.arcs[kept] = arc;
                    kept += 1;
                }
            }
            from = to;
            self.first[v + 1] = kept as u32;
        }
        self.arcs.truncate(kept);
    }

    /// Where the arcs of a node are in `arcs`.
    pub fn row(&self, node: u32) -> std::ops::Range<usize> {
        self.first[node as usize] as usize..self.first[node as usize + 1] as usize
    }

    /// The arcs of a node.
    pub fn arcs_of(&self, node: u32) -> &[Arc] {
        &self.arcs[self.row(node)]
    }

    /// Twice the cost of the pair, if it is an edge.
    pub fn cost_times_2(&self, a: u32, b: u32) -> Option<i64> {
        let row = self.arcs_of(a);
        row.binary_search_by_key(&b, |arc| arc.to)
            .ok()
            .map(|i| row[i].cost_times_2)
    }

    /// Adds edges by laying all of them out anew.
    pub fn add(&mut self, edges: &[Edge]) {
        let n = self.first.len() - 1;
        let mut all = Vec::with_capacity(self.arcs.len() / 2 + edges.len());
        for a in 0..n as u32 {
            let row = self.arcs_of(a).iter().filter(|arc| arc.to > a);
            all.extend(row.map(|arc| Edge {
                a,
                b: arc.to,
                cost: arc.cost_times_2 / 2,
            }));
        }
        all.extend_from_slice(edges);
        *self = Self::new(n, &all, self.alone_times_2 / 2);
    }
}
