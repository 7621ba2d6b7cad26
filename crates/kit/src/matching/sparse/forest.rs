//! Trees grown from free elements by one clock.

use super::elements::{ALONE, Elements, HALF, NONE};
use super::graph::Graph;
use super::halves::Halves;
use super::queue::Queue;

/// The trees of a run.
#[derive(Debug)]
pub(super) struct Forest<'g> {
    /// The edges.
    pub graph: &'g Graph,
    /// Nodes and blossoms.
    pub elements: Elements,
    /// How far the dual values of the trees have moved.
    pub clock: i64,
    /// What may happen next: a node and one of its arcs, or a node and [`NONE`] (it would rather
    /// stay alone), or [`NONE`] and a falling blossom (its dual value has come to 0).
    events: Queue,
    /// The elements of each tree.
    pub trees: Vec<Vec<u32>>,
    /// When each tree's first node would rather stay alone.
    alone_at: Vec<i64>,
    /// The nodes that may have a `best` time.
    met: Vec<u32>,
    /// How many nodes' edges have been looked at.
    work: usize,
    /// Stamp of the last walk to a root.
    pub mark: u32,
    /// How many nodes rise, in all trees.
    pub rising: usize,
    /// Odd rings matched by halves; none if they are to become blossoms.
    pub halves: Option<Halves>,
}

impl<'g> Forest<'g> {
    /// No trees yet.
    pub fn new(graph: &'g Graph, elements: Elements, halves: Option<Halves>) -> Self {
        let mut forest = Self {
            graph,
            elements,
            clock: 0,
            events: Queue::new(),
            trees: Vec::new(),
            alone_at: Vec::new(),
            met: Vec::new(),
            mark: 0,
            rising: 0,
            work: 0,
            halves,
        };
        for element in &mut forest.elements.all {
            element.mark = 0;
        }
        for node in &mut forest.elements.nodes {
            node.best = i64::MAX;
        }
        forest
    }

    /// Grows trees from some free elements until none of them is free, or until that has taken
    /// too much work. Other free elements wait where they are until a tree meets them.
    pub fn grow_from(&mut self, roots: &[u32], patience: usize) {
        (self.clock, self.work, self.rising) = (0, 0, 0);
        self.trees.resize_with(roots.len(), Vec::new);
        self.alone_at.clear();
        self.alone_at.resize(roots.len(), i64::MAX);
        for (tree, &root) in roots.iter().enumerate() {
            self.join_rising(root, tree as u32);
        }
        while let Some((time, node, what)) = self.events.pop() {
            if time > self.clock && self.work > patience {
                break;
            }
            self.clock = time;
            if node == NONE {
                self.meet_empty_blossom(what);
            } else if what == NONE {
                self.meet_alone(node);
            } else {
                self.meet_edge(time, node, what);
            }
        }
        self.clear_away();
    }

    /// Takes the trees that are left apart; the dual values stay as they are.
    fn clear_away(&mut self) {
        // All trees must start on even dual values. The next event is not before that: the
        // clock stops before an event that is later than it.
        self.clock += self.clock % 2;
        for tree in 0..self.trees.len() as u32 {
            for id in std::mem::take(&mut self.trees[tree as usize]) {
                if self.is_top_of(id, tree) {
                    self.elements.all[id as usize].tree = NONE;
                    self.elements.leave_tree(id, self.clock);
                }
            }
        }
        for node in self.met.drain(..) {
            self.elements.nodes[node as usize].best = i64::MAX;
        }
        self.events.clear();
    }

    /// Twice the dual values around a node, now.
    fn reach(&self, node: u32) -> i64 {
        let node = self.elements.nodes[node as usize];
        let slot = &self.elements.slots[node.slot as usize];
        node.reach + slot.shift + i64::from(slot.sign) * self.clock
    }

    /// An edge's time has come, unless the trees have changed since it was foretold.
    fn meet_edge(&mut self, time: i64, a: u32, arc: u32) {
        let arc = self.graph.arcs[arc as usize];
        let b = arc.to;
        let sign =
            |node: u32| self.elements.slots[self.elements.nodes[node as usize].slot as usize].sign;
        let signs = (sign(a), sign(b));
        let tight = arc.cost_times_2 <= self.reach(a) + self.reach(b);
        match signs {
            (1, 1) if tight => self.meet_trees(a, b),
            (1, 0) if tight => self.grow(a, b),
            (0, 1) if tight => self.grow(b, a),
            _ => {
                for (sign, node) in [(signs.0, a), (signs.1, b)] {
                    if sign == 0 && self.elements.nodes[node as usize].best == time {
                        self.look_for_trees_from(node);
                    }
                }
            }
        }
    }

    /// A node has become dear enough to stay alone, unless its tree is gone.
    fn meet_alone(&mut self, node: u32) {
        let slot = self.elements.slots[self.elements.nodes[node as usize].slot as usize];
        if slot.sign > 0 && self.reach(node) == self.graph.alone_times_2 {
            self.augment(node, ALONE);
            self.settle(&[self.elements.all[slot.element as usize].tree]);
        }
    }

    /// A falling blossom's dual value has come to 0, unless it is gone or rising by now.
    fn meet_empty_blossom(&mut self, blossom: u32) {
        let element = &self.elements.all[blossom as usize];
        let fallen = self.clock - element.since;
        if element.slot != NONE && self.elements.sign(blossom) < 0 && element.value == fallen {
            self.open(blossom);
        }
    }

    /// Takes the element around `to` into the tree of `from`, and its mate; or ends the tree if
    /// that element has no mate to give.
    fn grow(&mut self, from: u32, to: u32) {
        let falling = self.elements.home(to);
        let tree = self.elements.all[self.elements.home(from) as usize].tree;
        let mate = self.elements.all[falling as usize].mate;
        if mate == ALONE || mate == HALF || mate == NONE {
            if mate == HALF {
                self.unhalve(to, from);
            } else {
                let element = &mut self.elements.all[falling as usize];
                (element.base, element.mate) = (to, from);
            }
            self.augment(from, to);
            self.settle(&[tree]);
            self.look_for_trees(falling);
            return;
        }
        self.join_falling(falling, to, from, tree);
        self.join_rising(self.elements.home(mate), tree);
    }

    /// Two rising nodes meet: they close a ring if they are of one tree, or match two trees.
    fn meet_trees(&mut self, a: u32, b: u32) {
        let (one, two) = (self.elements.home(a), self.elements.home(b));
        let trees = [
            self.elements.all[one as usize].tree,
            self.elements.all[two as usize].tree,
        ];
        if trees[0] == trees[1] {
            self.close_ring(a, b);
            return;
        }
        self.augment(a, b);
        self.augment(b, a);
        self.settle(&trees);
    }

    /// Gives an element the sign −.
    pub fn join_falling(&mut self, id: u32, tree_in: u32, tree_from: u32, tree: u32) {
        let element = &mut self.elements.all[id as usize];
        (element.tree_in, element.tree_from) = (tree_in, tree_from);
        (element.tree, element.since) = (tree, self.clock);
        let empty = self.clock + element.value;
        let slot = &mut self.elements.slots[element.slot as usize];
        (slot.sign, slot.shift) = (-1, slot.shift + self.clock);
        self.trees[tree as usize].push(id);
        if self.elements.is_blossom(id) {
            self.events.push((empty, NONE, id));
        }
    }

    /// Gives an element the sign + and looks at all its edges.
    pub fn join_rising(&mut self, id: u32, tree: u32) {
        let element = &mut self.elements.all[id as usize];
        (element.tree, element.since) = (tree, self.clock);
        let slot = &mut self.elements.slots[element.slot as usize];
        (slot.sign, slot.shift) = (1, slot.shift - self.clock);
        self.rising += element.size as usize;
        self.trees[tree as usize].push(id);
        self.look_from(id, tree);
    }

    /// Looks at the edges of all nodes inside an element that has begun to rise.
    pub fn look_from(&mut self, id: u32, tree: u32) {
        if !self.elements.is_blossom(id) {
            self.look_from_node(id, tree);
            return;
        }
        let mut leaves = Vec::new();
        self.elements.leaves(id, &mut leaves);
        for node in leaves {
            self.look_from_node(node, tree);
        }
    }

    /// Foretells what the edges of a rising node will do.
    fn look_from_node(&mut self, node: u32, tree: u32) {
        self.work += 1;
        let own = self.elements.nodes[node as usize];
        let reach = own.reach + self.elements.slots[own.slot as usize].shift;
        let alone_at = self.graph.alone_times_2 - reach;
        if alone_at < self.alone_at[tree as usize] {
            self.alone_at[tree as usize] = alone_at;
            self.events.push((alone_at, node, NONE));
        }
        for index in self.graph.row(node) {
            let arc = self.graph.arcs[index];
            let other = self.elements.nodes[arc.to as usize];
            let slot = self.elements.slots[other.slot as usize];
            let slack = arc.cost_times_2 - reach - other.reach - slot.shift;
            if slot.sign == 0 {
                if slack < other.best {
                    if other.best == i64::MAX {
                        self.met.push(arc.to);
                    }
                    self.elements.nodes[arc.to as usize].best = slack;
                    self.events.push((slack, node, index as u32));
                }
            } else if slot.sign > 0 && own.slot != other.slot {
                let home = self.elements.slots[own.slot as usize].element;
                if self.elements.top(home) != self.elements.top(slot.element) {
                    self.events.push((slack / 2, node, index as u32));
                }
            }
        }
    }

    /// Foretells when trees will get to an element that is in none.
    pub fn look_for_trees(&mut self, id: u32) {
        if !self.elements.is_blossom(id) {
            self.look_for_trees_from(id);
            return;
        }
        let mut leaves = Vec::new();
        self.elements.leaves(id, &mut leaves);
        for node in leaves {
            self.look_for_trees_from(node);
        }
    }

    /// Foretells when a tree will get to a node that is in none.
    fn look_for_trees_from(&mut self, node: u32) {
        self.work += 1;
        let (mut best, mut via) = (i64::MAX, NONE);
        let reach = self.reach(node);
        for index in self.graph.row(node) {
            let arc = self.graph.arcs[index];
            let other = self.elements.nodes[arc.to as usize];
            let slot = self.elements.slots[other.slot as usize];
            let time = arc.cost_times_2 - reach - other.reach - slot.shift;
            if slot.sign > 0 && time < best {
                (best, via) = (time, index as u32);
            }
        }
        self.elements.nodes[node as usize].best = best;
        if via != NONE {
            self.events.push((best, node, via));
            self.met.push(node);
        }
    }

    /// Takes trees apart that have been matched, and foretells when others get to what they leave.
    pub fn settle(&mut self, trees: &[u32]) {
        let mut left = Vec::new();
        let mut nodes = 0;
        for &tree in trees {
            for id in std::mem::take(&mut self.trees[tree as usize]) {
                if !self.is_top_of(id, tree) {
                    continue;
                }
                let size = self.elements.all[id as usize].size as usize;
                nodes += size;
                if self.elements.sign(id) > 0 {
                    self.rising -= size;
                }
                self.elements.all[id as usize].tree = NONE;
                self.elements.leave_tree(id, self.clock);
                left.push(id);
            }
        }
        if nodes < 2 * self.rising + self.trees.len() {
            for id in left {
                self.look_for_trees(id);
            }
        } else {
            self.look_from_trees(&left);
        }
    }

    /// Whether an element of a tree's list is still an outermost element of that tree.
    fn is_top_of(&self, id: u32, tree: u32) -> bool {
        let element = &self.elements.all[id as usize];
        element.up == id && element.tree == tree
    }

    /// Does the same as [`Self::look_for_trees`] for large elements, seen from the trees that are
    /// left: the last trees to be matched are few, and what they leave is large.
    fn look_from_trees(&mut self, left: &[u32]) {
        let mut leaves = Vec::new();
        for &id in left {
            self.elements.leaves(id, &mut leaves);
        }
        for node in leaves.drain(..) {
            self.elements.nodes[node as usize].best = i64::MAX;
        }
        for (tree, list) in self.trees.iter().enumerate() {
            for &id in list {
                if self.is_top_of(id, tree as u32) && self.elements.sign(id) > 0 {
                    self.elements.leaves(id, &mut leaves);
                }
            }
        }
        for node in leaves {
            self.foretell_growth_from(node);
        }
    }

    /// Foretells when a rising node gets to its neighbours that are in no tree.
    fn foretell_growth_from(&mut self, node: u32) {
        let own = self.elements.nodes[node as usize];
        let reach = own.reach + self.elements.slots[own.slot as usize].shift;
        for index in self.graph.row(node) {
            let arc = self.graph.arcs[index];
            let other = self.elements.nodes[arc.to as usize];
            let slot = self.elements.slots[other.slot as usize];
            let slack = arc.cost_times_2 - reach - other.reach - slot.shift;
            if slot.sign == 0 && slack < other.best {
                if other.best == i64::MAX {
                    self.met.push(arc.to);
                }
                self.elements.nodes[arc.to as usize].best = slack;
                self.events.push((slack, node, index as u32));
            }
        }
    }
}
