//! Which sets hold two nodes both, when sets are nested or apart.

/// No parent.
const NONE: u32 = u32::MAX;

/// A forest of sets, laid out so that the smallest set around two elements is found in few steps:
/// every element is on a path that follows the largest part downwards, and a walk upwards changes
/// path at most log₂ n times (heavy paths; Sleator and Tarjan 1983, from memory).
#[derive(Debug)]
pub(super) struct Nest {
    parent: Vec<u32>,
    /// The topmost element of each element's path.
    head: Vec<u32>,
    /// How many sets are around each element.
    depth: Vec<u32>,
    /// Values of an element, if it is a set, and of all sets around it, summed.
    sum: Vec<i64>,
    /// How many nodes each element has.
    size: Vec<u32>,
    /// The largest set around each element; the element itself if there is none.
    top: Vec<u32>,
}

impl Nest {
    /// Lays the forest out. Elements `0..n` are nodes, the others sets; `parent` is the smallest
    /// set around an element. None if that goes round in circles or leads out of the elements.
    pub fn new(n: usize, parent: Vec<u32>, value: impl Fn(usize) -> i64) -> Option<Self> {
        let count = parent.len();
        let upwards = upwards(&parent)?;
        let mut size: Vec<u32> = (0..count).map(|element| u32::from(element < n)).collect();
        let mut largest = vec![NONE; count];
        for &element in &upwards {
            let around = parent[element as usize];
            if around != NONE {
                size[around as usize] += size[element as usize];
                let best = &mut largest[around as usize];
                if *best == NONE || size[*best as usize] < size[element as usize] {
                    *best = element;
                }
            }
        }
        let mut nest = Self {
            parent,
            head: vec![NONE; count],
            depth: vec![0; count],
            sum: vec![0; count],
            size,
            top: (0..count as u32).collect(),
        };
        for &element in upwards.iter().rev() {
            let (here, around) = (element as usize, nest.parent[element as usize]);
            let own = if here < n { 0 } else { value(here) };
            if around == NONE {
                (nest.head[here], nest.sum[here]) = (element, own);
                continue;
            }
            let around = around as usize;
            nest.top[here] = nest.top[around];
            nest.depth[here] = nest.depth[around] + 1;
            nest.sum[here] = nest.sum[around] + own;
            nest.head[here] = if largest[around] == element {
                nest.head[around]
            } else {
                element
            };
        }
        Some(nest)
    }

    /// The values of all sets around both, summed; an element that is a set is around itself.
    pub fn common(&self, a: u32, b: u32) -> i64 {
        self.meet(a, b).map_or(0, |set| self.sum[set as usize])
    }

    /// The smallest set around both.
    pub fn meet(&self, a: u32, b: u32) -> Option<u32> {
        let (mut one, mut two) = (a, b);
        loop {
            let heads = (self.head[one as usize], self.head[two as usize]);
            if heads.0 == heads.1 {
                let higher = if self.depth[one as usize] < self.depth[two as usize] {
                    one
                } else {
                    two
                };
                return Some(higher);
            }
            if self.depth[heads.0 as usize] >= self.depth[heads.1 as usize] {
                one = self.parent[heads.0 as usize];
            } else {
                two = self.parent[heads.1 as usize];
            }
            if one == NONE || two == NONE {
                return None;
            }
        }
    }

    /// The values of all sets around an element, and its own if it is a set, summed.
    pub fn value_around(&self, element: u32) -> i64 {
        self.sum[element as usize]
    }

    /// The largest set around an element, or the element itself if there is none.
    pub fn top(&self, element: u32) -> u32 {
        self.top[element as usize]
    }

    /// How many sets are around a node.
    pub fn depth(&self, node: u32) -> u32 {
        self.depth[node as usize]
    }

    /// How many nodes an element has.
    pub fn size(&self, element: usize) -> u32 {
        self.size[element]
    }
}

/// All elements, each before the set around it; none if there is no such order.
fn upwards(parent: &[u32]) -> Option<Vec<u32>> {
    let mut open = vec![0_u32; parent.len()];
    for &around in parent.iter().filter(|&&around| around != NONE) {
        *open.get_mut(around as usize)? += 1;
    }
    let mut order: Vec<u32> = (0..parent.len() as u32)
        .filter(|&element| open[element as usize] == 0)
        .collect();
    let mut done = 0;
    while done < order.len() {
        let around = parent[order[done] as usize];
        done += 1;
        if around != NONE {
            open[around as usize] -= 1;
            if open[around as usize] == 0 {
                order.push(around);
            }
        }
    }
    (done == parent.len()).then_some(order)
}
