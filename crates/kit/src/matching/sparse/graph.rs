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

    /// Number of nodes.
    pub fn nodes(&self) -> usize {
        self.first.len() - 1
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

    /// All nodes, neighbours soon after each other: what a tree meets lies close in memory then.
    pub fn neighbours_first(&self) -> Vec<u32> {
        let n = self.first.len() - 1;
        let mut order = Vec::with_capacity(n);
        let mut seen = vec![false; n];
        let mut next = 0;
        for root in 0..n as u32 {
            if !std::mem::replace(&mut seen[root as usize], true) {
                order.push(root);
            }
            while next < order.len() {
                for arc in self.arcs_of(order[next]) {
                    if !std::mem::replace(&mut seen[arc.to as usize], true) {
                        order.push(arc.to);
                    }
                }
                next += 1;
            }
        }
        order
    }

    /// The same graph with node `order[i]` called `i`.
    pub fn reordered(&self, order: &[u32]) -> Self {
        let mut place = vec![0; order.len()];
        for (i, &node) in order.iter().enumerate() {
            place[node as usize] = i as u32;
        }
        let mut first = Vec::with_capacity(order.len() + 1);
        let mut arcs: Vec<Arc> = Vec::with_capacity(self.arcs.len());
        first.push(0);
        for &node in order {
            let from = arcs.len();
            arcs.extend(self.arcs_of(node).iter().map(|arc| Arc {
                to: place[arc.to as usize],
                ..*arc
            }));
            arcs[from..].sort_unstable_by_key(|arc| arc.to);
            first.push(arcs.len() as u32);
        }
        Self {
            first,
            arcs,
            alone_times_2: self.alone_times_2,
        }
    }
}
