//! Nodes and blossoms: the elements that a tree is made of.

/// No element, no node.
pub(super) const NONE: u32 = u32::MAX;
/// In the place of a mate: the node stays alone, for good or until a tree comes by.
pub(super) const ALONE: u32 = u32::MAX - 1;
/// In the place of a mate: the node is matched by halves in an odd ring.
pub(super) const HALF: u32 = u32::MAX - 2;

/// Where a node is, and its dual value.
#[derive(Debug, Clone, Copy)]
pub(super) struct Node {
    /// Own dual value and those of all blossoms around the node, twice their size, less what the
    /// node's slot adds.
    pub reach: i64,
    /// When the best edge from a tree gets here, at the earliest, while the node is in no tree.
    pub best: i64,
    /// The slot that moves the node.
    pub slot: u32,
}

/// What moves together: the nodes of an element that was outermost when its tree met it.
///
/// The dual value around a node is `reach + shift + sign · clock`, so a whole blossom joins,
/// leaves or turns in a tree by changing its slot alone.
#[derive(Debug, Clone, Copy)]
pub(super) struct Slot {
    /// What to add to the `reach` of each node.
    pub shift: i64,
    /// The element whose nodes these are.
    pub element: u32,
    /// +1: dual values rise with the clock, −1: they fall, 0: not in a tree.
    pub sign: i8,
}

/// A node or a blossom.
#[derive(Debug, Clone)]
pub(super) struct Element {
    /// Dual value of a blossom, twice its size, at `since`.
    pub value: i64,
    /// When the element last took a sign.
    pub since: i64,
    /// The node through which the element is matched.
    pub base: u32,
    /// Its mate outside, or [`ALONE`], or [`NONE`] while it is free.
    pub mate: u32,
    /// Node inside at which the tree came in (sign −).
    pub tree_in: u32,
    /// Node of the tree that it came from.
    pub tree_from: u32,
    /// Which tree it is in, if it has a sign.
    pub tree: u32,
    /// Smallest blossom around this element.
    pub parent: u32,
    /// Towards the outermost element, within a tree.
    pub up: u32,
    /// Stamp of the last walk to the root that came by.
    pub mark: u32,
    /// The slot that moves its nodes, or [`NONE`] if its parts (or the blossom around it) have it.
    pub slot: u32,
    /// How many nodes are inside.
    pub size: u32,
}

/// A part of a blossom's ring, with the edge to the next part.
#[derive(Debug, Clone, Copy)]
pub(super) struct Child {
    /// The part.
    pub element: u32,
    /// The edge's end in this part.
    pub here: u32,
    /// The edge's end in the next part.
    pub there: u32,
}

impl Element {
    /// An element by itself, free, outside all trees.
    fn new(id: u32) -> Self {
        Self {
            value: 0,
            since: 0,
            base: id,
            mate: NONE,
            tree_in: NONE,
            tree_from: NONE,
            tree: NONE,
            parent: NONE,
            up: id,
            mark: 0,
            slot: NONE,
            size: 1,
        }
    }
}

/// All nodes and blossoms.
#[derive(Debug)]
pub(super) struct Elements {
    /// One a node.
    pub nodes: Vec<Node>,
    /// What moves the nodes.
    pub slots: Vec<Slot>,
    /// The nodes as elements, then the blossoms.
    pub all: Vec<Element>,
    /// The rings of the blossoms, from the part that holds the base when the ring was closed.
    rings: Vec<Vec<Child>>,
    /// Places of blossoms that may be used again.
    spare: Vec<u32>,
    /// Slots that may be used again.
    spare_slots: Vec<u32>,
}

impl Elements {
    /// `n` single nodes.
    pub fn new(n: usize) -> Self {
        let ids = 0..n as u32;
        Self {
            nodes: ids
                .clone()
                .map(|slot| Node {
                    reach: 0,
                    best: i64::MAX,
                    slot,
                })
                .collect(),
            slots: ids
                .clone()
                .map(|element| Slot {
                    shift: 0,
                    element,
                    sign: 0,
                })
                .collect(),
            all: ids
                .map(|id| Element {
                    slot: id,
                    ..Element::new(id)
                })
                .collect(),
            rings: Vec::new(),
            spare: Vec::new(),
            spare_slots: Vec::new(),
        }
    }

    /// The element whose slot moves a node.
    pub fn home(&self, node: u32) -> u32 {
        self.slots[self.nodes[node as usize].slot as usize].element
    }

    /// The sign of an outermost element.
    pub fn sign(&self, element: u32) -> i8 {
        // A blossom without a slot was made in the tree that it is in: those rise.
        self.slots
            .get(self.all[element as usize].slot as usize)
            .map_or(1, |slot| slot.sign)
    }

    /// Whether the element is a blossom.
    pub fn is_blossom(&self, element: u32) -> bool {
        element as usize >= self.nodes.len()
    }

    /// The ring of a blossom.
    pub fn ring(&self, blossom: u32) -> &[Child] {
        &self.rings[blossom as usize - self.nodes.len()]
    }

    /// A new blossom with this ring.
    pub fn add_blossom(&mut self, ring: Vec<Child>) -> u32 {
        let size = ring
            .iter()
            .map(|part| self.all[part.element as usize].size)
            .sum();
        if let Some(id) = self.spare.pop() {
            let n = self.nodes.len();
            self.all[id as usize] = Element {
                size,
                ..Element::new(id)
            };
            self.rings[id as usize - n] = ring;
            return id;
        }
        let id = self.all.len() as u32;
        self.all.push(Element {
            size,
            ..Element::new(id)
        });
        self.rings.push(ring);
        id
    }

    /// The outermost element around an element, as the running search has it.
    pub fn top(&mut self, element: u32) -> u32 {
        let mut top = element;
        while self.all[top as usize].up != top {
            top = self.all[top as usize].up;
        }
        let mut walk = element;
        while walk != top {
            walk = std::mem::replace(&mut self.all[walk as usize].up, top);
        }
        top
    }

    /// The outermost element around a node.
    pub fn top_of_node(&mut self, node: u32) -> u32 {
        self.top(self.home(node))
    }

    /// Adds the nodes inside an element to `leaves`.
    pub fn leaves(&self, element: u32, leaves: &mut Vec<u32>) {
        if !self.is_blossom(element) {
            leaves.push(element);
            return;
        }
        let mut stack = vec![element];
        while let Some(blossom) = stack.pop() {
            for child in self.ring(blossom) {
                if self.is_blossom(child.element) {
                    stack.push(child.element);
                } else {
                    leaves.push(child.element);
                }
            }
        }
    }

    /// Matches the parts of a ring among themselves, all but part number `keep`, which is matched
    /// to the outside through `base`.
    pub fn match_ring(&mut self, ring: &[Child], keep: usize, base: u32, mate: u32) {
        let kept = &mut self.all[ring[keep].element as usize];
        (kept.base, kept.mate) = (base, mate);
        for step in (1..ring.len()).step_by(2) {
            let one = ring[(keep + step) % ring.len()];
            let two = ring[(keep + step + 1) % ring.len()];
            let element = &mut self.all[one.element as usize];
            (element.base, element.mate) = (one.here, one.there);
            let element = &mut self.all[two.element as usize];
            (element.base, element.mate) = (one.there, one.here);
        }
    }

    /// Takes an outermost blossom apart; its parts are outermost elements in no tree then. The
    /// largest part takes the blossom's slot over, so that only the others' nodes are visited.
    /// `shift` is what the slot adds from now on. Answers the ring.
    pub fn take_apart(&mut self, blossom: u32, shift: i64) -> Vec<Child> {
        let n = self.nodes.len();
        let ring = std::mem::take(&mut self.rings[blossom as usize - n]);
        let slot = std::mem::replace(&mut self.all[blossom as usize].slot, NONE);
        let largest = ring
            .iter()
            .map(|part| part.element)
            .max_by_key(|&part| self.size(part));
        for part in ring.iter().map(|part| part.element) {
            if Some(part) == largest {
                self.slots[slot as usize] = Slot {
                    shift,
                    element: part,
                    sign: 0,
                };
                self.all[part as usize].slot = slot;
            } else {
                let own = self.new_slot(part);
                self.move_nodes(part, own, shift);
            }
            let element = &mut self.all[part as usize];
            (element.parent, element.up) = (NONE, part);
        }
        self.spare.push(blossom);
        ring
    }

    /// How many nodes an element has.
    fn size(&self, element: u32) -> u32 {
        self.all[element as usize].size
    }

    /// A slot for an element.
    fn new_slot(&mut self, element: u32) -> u32 {
        let slot = Slot {
            shift: 0,
            element,
            sign: 0,
        };
        let id = if let Some(id) = self.spare_slots.pop() {
            self.slots[id as usize] = slot;
            id
        } else {
            self.slots.push(slot);
            self.slots.len() as u32 - 1
        };
        self.all[element as usize].slot = id;
        id
    }

    /// Puts all nodes of an element into a slot, and adds to their reach.
    fn move_nodes(&mut self, element: u32, slot: u32, add: i64) {
        let mut leaves = Vec::new();
        self.leaves(element, &mut leaves);
        for leaf in leaves {
            let node = &mut self.nodes[leaf as usize];
            (node.reach, node.slot) = (node.reach + add, slot);
        }
    }

    /// Takes an outermost element out of its tree, at this time.
    pub fn leave_tree(&mut self, element: u32, clock: i64) {
        if self.all[element as usize].slot == NONE {
            self.gather(element, clock);
        }
        let (sign, since) = (self.sign(element), self.all[element as usize].since);
        let (sign, slot) = (i64::from(sign), self.all[element as usize].slot);
        let slot = &mut self.slots[slot as usize];
        (slot.shift, slot.sign) = (slot.shift + sign * clock, 0);
        let element = &mut self.all[element as usize];
        element.value += sign * (clock - since);
        element.since = clock;
    }

    /// Gives a blossom made in a tree one slot for all its nodes: that of its largest part.
    fn gather(&mut self, blossom: u32, clock: i64) {
        let mut parts = Vec::new();
        let mut stack = vec![blossom];
        while let Some(element) = stack.pop() {
            if self.all[element as usize].slot == NONE {
                stack.extend(self.ring(element).iter().map(|child| child.element));
            } else {
                parts.push(element);
            }
        }
        let Some(&largest) = parts.iter().max_by_key(|&&part| self.size(part)) else {
            return;
        };
        let slot = self.all[largest as usize].slot;
        let shift = self.slots[slot as usize].shift;
        for part in parts {
            let old = std::mem::replace(&mut self.all[part as usize].slot, NONE);
            self.all[part as usize].since = clock;
            if part != largest {
                let add = self.slots[old as usize].shift - shift;
                self.move_nodes(part, slot, add);
                self.spare_slots.push(old);
            }
        }
        self.slots[slot as usize].element = blossom;
        self.all[blossom as usize].slot = slot;
    }
}
