//! What a tree does to the elements: closes rings into blossoms, opens blossoms, augments.

use super::elements::{ALONE, Child, Element, NONE};
use super::forest::Forest;

impl Forest<'_> {
    /// From a rising element one step towards the root: the falling element it is matched to.
    fn falling_above(&mut self, rising: u32) -> Option<u32> {
        let mate = self.elements.all[rising as usize].mate;
        (mate != NONE && mate != ALONE).then(|| self.elements.top_of_node(mate))
    }

    /// From a falling element one step towards the root.
    fn rising_above(&mut self, falling: u32) -> u32 {
        let from = self.elements.all[falling as usize].tree_from;
        self.elements.top_of_node(from)
    }

    /// The first rising element that lies on the ways of both to the root.
    fn meeting(&mut self, one: u32, two: u32) -> u32 {
        self.mark += 1;
        let (mut here, mut there) = (Some(one), Some(two));
        loop {
            if let Some(rising) = here {
                let mark = &mut self.elements.all[rising as usize].mark;
                if *mark == self.mark {
                    return rising;
                }
                *mark = self.mark;
                here = self
                    .falling_above(rising)
                    .map(|falling| self.rising_above(falling));
            }
            std::mem::swap(&mut here, &mut there);
        }
    }

    /// The parts from a rising element up to, but without, `end`, each with its edge upwards.
    fn way_up(&mut self, from: u32, end: u32) -> Vec<Child> {
        let mut way = Vec::new();
        let mut rising = from;
        while rising != end {
            let element = &self.elements.all[rising as usize];
            let (here, there) = (element.base, element.mate);
            way.push(Child {
                element: rising,
                here,
                there,
            });
            let falling = self.elements.top_of_node(there);
            let element = &self.elements.all[falling as usize];
            let (here, there) = (element.tree_in, element.tree_from);
            way.push(Child {
                element: falling,
                here,
                there,
            });
            rising = self.elements.top_of_node(there);
        }
        way
    }

    /// An edge between two rising elements is tight: the ring it closes becomes a blossom.
    pub fn close_ring(&mut self, a: u32, b: u32) {
        let (one, two) = (self.elements.top_of_node(a), self.elements.top_of_node(b));
        if one == two {
            return;
        }
        let meeting = self.meeting(one, two);
        let down = self.way_up(one, meeting);
        let mut ring = Vec::with_capacity(2 * down.len() + 1);
        let mut element = meeting;
        for part in down.iter().rev() {
            ring.push(Child {
                element,
                here: part.there,
                there: part.here,
            });
            element = part.element;
        }
        ring.push(Child {
            element,
            here: a,
            there: b,
        });
        ring.extend(self.way_up(two, meeting));
        if self.halves.is_some() {
            let tree = self.elements.all[meeting as usize].tree;
            self.halve(ring, tree);
        } else {
            self.shrink(ring);
        }
    }

    /// Makes a ring one rising element.
    fn shrink(&mut self, ring: Vec<Child>) {
        let clock = self.clock;
        let first = &self.elements.all[ring[0].element as usize];
        let (base, mate, tree) = (first.base, first.mate, first.tree);
        let parts: Vec<u32> = ring.iter().map(|part| part.element).collect();
        let blossom = self.elements.add_blossom(ring);
        let element = &mut self.elements.all[blossom as usize];
        (element.base, element.mate) = (base, mate);
        (element.tree, element.since) = (tree, clock);
        self.trees[tree as usize].push(blossom);
        for &part in &parts {
            let sign = i64::from(self.elements.sign(part));
            let element = &mut self.elements.all[part as usize];
            element.value += sign * (clock - element.since);
            element.since = clock;
            (element.up, element.parent) = (blossom, blossom);
        }
        for &part in &parts {
            if self.elements.sign(part) < 0 {
                let slot = self.elements.all[part as usize].slot;
                let slot = &mut self.elements.slots[slot as usize];
                (slot.sign, slot.shift) = (1, slot.shift - 2 * clock);
                self.rising += self.elements.all[part as usize].size as usize;
                self.look_from(part, tree);
            }
        }
    }

    /// Opens a falling blossom whose dual value is 0: its parts on the way through it stay in the
    /// tree, the others leave it.
    pub fn open(&mut self, blossom: u32) {
        let old = self.elements.all[blossom as usize].clone();
        let shift = self.elements.slots[old.slot as usize].shift - self.clock;
        self.elements.all[blossom as usize].tree = NONE;
        let ring = self.elements.take_apart(blossom, shift);
        let place = |node: u32, forest: &Self| {
            let home = forest.elements.home(node);
            ring.iter()
                .position(|part| part.element == home)
                .unwrap_or(0)
        };
        let (keep, entry) = (place(old.base, self), place(old.tree_in, self));
        self.elements.match_ring(&ring, keep, old.base, old.mate);
        let rising = self.thread(&ring, entry, keep, &old);
        for part in rising {
            self.join_rising(part, old.tree);
        }
        for part in &ring {
            if self.elements.sign(part.element) == 0 {
                self.look_for_trees(part.element);
            }
        }
    }

    /// Leads the tree through an opened ring, from the part it came in at to the part that is
    /// matched outside, along matched edges; answers the parts that are to rise.
    fn thread(&mut self, ring: &[Child], entry: usize, keep: usize, old: &Element) -> Vec<u32> {
        let len = ring.len();
        let forward = ((entry + len - keep) % len) % 2 == 1;
        let mut rising = Vec::new();
        let (mut at, mut door) = (entry, (old.tree_in, old.tree_from));
        loop {
            self.join_falling(ring[at].element, door.0, door.1, old.tree);
            if at == keep {
                return rising;
            }
            let middle = if forward {
                (at + 1) % len
            } else {
                (at + len - 1) % len
            };
            rising.push(ring[middle].element);
            at = if forward {
                (middle + 1) % len
            } else {
                (middle + len - 1) % len
            };
            door = if forward {
                (ring[middle].there, ring[middle].here)
            } else {
                (ring[at].here, ring[at].there)
            };
        }
    }

    /// Matches a rising node to `mate`, and turns matched into unmatched and back along the way
    /// from there to the root.
    pub fn augment(&mut self, node: u32, mate: u32) {
        let (mut node, mut mate) = (node, mate);
        loop {
            let rising = self.elements.top_of_node(node);
            let above = self.falling_above(rising);
            let element = &mut self.elements.all[rising as usize];
            (element.base, element.mate) = (node, mate);
            let Some(falling) = above else { return };
            let element = &mut self.elements.all[falling as usize];
            (element.base, element.mate) = (element.tree_in, element.tree_from);
            (node, mate) = (element.tree_from, element.tree_in);
        }
    }
}
