//! Dual values of places and of boxes: what a pair must cost at least to be of no use.

use crate::matching::nest::Nest;

/// No set, or more than one.
const NONE: u32 = u32::MAX;
/// Below all dual values, and far enough from the end of the numbers.
const LOWEST: i64 = i64::MIN / 4;

/// Dual values around each place, twice their size, and what is known of the boxes.
///
/// Within a set, dual values may be far larger than any cost, because the set's own value makes
/// up for them. If that were not looked at box by box, one set around all places would make every
/// pair look as if it were missing.
#[derive(Debug)]
pub(super) struct Duals {
    nest: Nest,
    reach: Vec<i64>,
    boxes: Vec<Most>,
}

/// The largest dual values in a box.
#[derive(Debug, Clone, Copy)]
pub(super) struct Most {
    value: i64,
    /// The outermost set that the place with the largest belongs to.
    top: u32,
    /// The largest of the places outside that set.
    other: i64,
    /// The smallest set around all places of the box.
    within: u32,
}

impl Duals {
    /// Nothing is known of the boxes yet.
    pub fn new(nest: Nest, reach: Vec<i64>) -> Self {
        Self {
            nest,
            reach,
            boxes: Vec::new(),
        }
    }

    /// The same with what is known of each box.
    pub fn with_boxes(self, boxes: Vec<Most>) -> Self {
        Self { boxes, ..self }
    }

    /// A box around some places.
    pub fn around(&self, places: std::ops::Range<u32>) -> Most {
        let single = |place: u32| Most {
            value: self.reach[place as usize],
            top: self.nest.top(place),
            other: LOWEST,
            within: place,
        };
        let none = Most {
            value: LOWEST,
            top: NONE,
            other: LOWEST,
            within: NONE,
        };
        let places = places.map(single);
        places
            .reduce(|one, two| self.both(one, two))
            .unwrap_or(none)
    }

    /// A box around two boxes.
    pub fn both(&self, one: Most, two: Most) -> Most {
        let (high, low) = if one.value >= two.value {
            (one, two)
        } else {
            (two, one)
        };
        let apart = if low.top == high.top {
            low.other
        } else {
            low.value
        };
        let together = one.within != NONE && two.within != NONE;
        let within = together
            .then(|| self.nest.meet(one.within, two.within))
            .flatten();
        Most {
            value: high.value,
            top: high.top,
            other: high.other.max(apart),
            within: within.unwrap_or(NONE),
        }
    }

    /// The dual values of two places together, sets around both left out.
    pub fn of_pair(&self, a: u32, b: u32) -> i64 {
        self.reach[a as usize] + self.reach[b as usize]
    }

    /// What the sets around both places make up for.
    pub fn common(&self, a: u32, b: u32) -> i64 {
        2 * self.nest.common(a, b)
    }

    /// No place of the box has more, together with `place`; an outermost set around both is made
    /// up for.
    pub fn most(&self, place: u32, cell: u32) -> i64 {
        let most = &self.boxes[cell as usize];
        let mut value = most.value;
        if most.within == NONE && most.top == self.nest.top(place) {
            value = most.other.max(value - 2 * self.nest.value_around(most.top));
        }
        value + self.reach[place as usize]
    }

    /// What the sets around the place and the whole box make up for.
    pub fn made_up_for(&self, place: u32, cell: u32) -> i64 {
        let within = self.boxes[cell as usize].within;
        if within == NONE {
            return 0;
        }
        self.common(place, within)
    }

    /// The places whose dual values are not what they were, if those are few.
    pub fn changed(&self, before: &Self) -> Option<Vec<bool>> {
        let pairs = self.reach.iter().zip(&before.reach);
        let changed: Vec<bool> = pairs.map(|(now, then)| now != then).collect();
        let count = changed.iter().filter(|&&changed| changed).count();
        (count < changed.len() / 4).then_some(changed)
    }

    /// The nest of sets.
    pub fn nest(&self) -> &Nest {
        &self.nest
    }
}
