//! Points laid out in boxes within boxes (a k-d tree), for near neighbours and for pricing.

use super::duals::Duals;
use super::given::{Points, Space};

/// Most points of a box that is not divided any more.
const LEAF: usize = 8;
/// Marks a box that is not divided.
const NO_CELL: u32 = u32::MAX;

/// A box around the points `from..to`.
#[derive(Debug, Clone, Copy)]
struct Cell {
    low: [i64; 4],
    high: [i64; 4],
    from: u32,
    to: u32,
    left: u32,
    right: u32,
}

/// The boxes; points are kept in the order of the boxes, neighbours near each other.
#[derive(Debug)]
pub(super) struct Tree {
    /// Which point was put at each place.
    pub original: Vec<u32>,
    points: Vec<[i64; 4]>,
    cells: Vec<Cell>,
    /// Outermost boxes, one a group.
    roots: Vec<u32>,
    space: Space,
}

/// A place and what was asked about it: a cost, or a reduced cost.
pub(super) type Found = (i64, u32);

/// What is asked of the points around one place.
pub(super) struct Query<'q, F> {
    /// Dual values, if they count.
    pub duals: Option<&'q Duals>,
    /// Pairs dearer than this are no pairs.
    pub dearest: i64,
    /// At most so many are kept, the lowest.
    pub keep: usize,
    /// Only places after this one count.
    pub only_after: bool,
    /// Whether two places may be paired.
    pub allowed: F,
}

impl Tree {
    /// Divides the points of each group.
    pub fn new(points: &Points<'_>) -> Self {
        let mut original: Vec<u32> = (0..points.coords.len() as u32).collect();
        original.sort_by_key(|&point| points.group(point as usize));
        let space = points.space();
        let mut tree = Self {
            original: Vec::new(),
            points: Vec::new(),
            cells: Vec::new(),
            roots: Vec::new(),
            space,
        };
        let mut from = 0;
        while from < original.len() {
            let group = points.group(original[from] as usize);
            let more = original[from..].iter();
            let to = from
                + more
                    .take_while(|&&point| points.group(point as usize) == group)
                    .count();
            let root = tree.divide(points.coords, &mut original[from..to], from);
            tree.roots.push(root);
            from = to;
        }
        tree.points = original
            .iter()
            .map(|&point| points.coords[point as usize])
            .collect();
        tree.original = original;
        tree
    }

    /// Makes a box around some points, and boxes in it.
    fn divide(&mut self, coords: &[[i64; 4]], order: &mut [u32], from: usize) -> u32 {
        let (mut low, mut high) = ([i64::MAX; 4], [i64::MIN; 4]);
        for &point in order.iter() {
            for k in 0..4 {
                low[k] = low[k].min(coords[point as usize][k]);
                high[k] = high[k].max(coords[point as usize][k]);
            }
        }
        let id = self.cells.len() as u32;
        let to = (from + order.len()) as u32;
        self.cells.push(Cell {
            low,
            high,
            from: from as u32,
            to,
            left: NO_CELL,
            right: NO_CELL,
        });
        let spread = |k: usize| {
            let gap = high[k].abs_diff(low[k]);
            gap.saturating_mul(gap)
                .saturating_mul(self.space.weights[k])
        };
        let widest = (0..4).max_by_key(|&k| (spread(k), 4 - k)).unwrap_or(0);
        if order.len() <= LEAF {
            order.sort_unstable_by_key(|&point| (coords[point as usize][widest], point));
        } else {
            // Halves of even size, so that places 2i and 2i + 1 are neighbours in one box.
            let middle = (order.len() / 2).next_multiple_of(2);
            order.select_nth_unstable_by_key(middle, |&point| {
                (coords[point as usize][widest], point)
            });
            let (one, two) = order.split_at_mut(middle);
            let left = self.divide(coords, one, from);
            let right = self.divide(coords, two, from + middle);
            let cell = &mut self.cells[id as usize];
            (cell.left, cell.right) = (left, right);
        }
        id
    }

    /// Number of points.
    pub fn len(&self) -> usize {
        self.points.len()
    }

    /// Cost of a pair of places within one group.
    pub fn cost(&self, a: u32, b: u32) -> Option<i64> {
        self.space
            .cost(&self.points[a as usize], &self.points[b as usize])
    }

    /// The ranges of places that hold one group each.
    pub fn groups(&self) -> impl Iterator<Item = std::ops::Range<u32>> {
        self.roots
            .iter()
            .map(|&root| self.cells[root as usize].from..self.cells[root as usize].to)
    }

    /// Gathers values box by box: `inside` answers for the places of a box that is not divided,
    /// `with` for two boxes together.
    pub fn gather<T: Copy>(
        &self,
        inside: impl Fn(std::ops::Range<u32>) -> T,
        with: impl Fn(T, T) -> T,
    ) -> Vec<T> {
        // A box is listed before the boxes in it.
        let mut from_last: Vec<T> = Vec::with_capacity(self.cells.len());
        for cell in self.cells.iter().rev() {
            let of = |id: u32| from_last[self.cells.len() - 1 - id as usize];
            from_last.push(if cell.left == NO_CELL {
                inside(cell.from..cell.to)
            } else {
                with(of(cell.left), of(cell.right))
            });
        }
        from_last.reverse();
        from_last
    }

    /// Asks about every place of interest in turn; answers go to `each` with the place.
    pub fn ask_all<F: Fn(u32, u32) -> bool>(
        &self,
        query: &Query<'_, F>,
        below: i64,
        of_interest: impl Fn(u32) -> bool,
        mut each: impl FnMut(u32, &[Found]),
    ) {
        let mut found = Vec::with_capacity(query.keep + 1);
        for &root in &self.roots {
            let cell = &self.cells[root as usize];
            for at in (cell.from..cell.to).filter(|&at| of_interest(at)) {
                found.clear();
                let mut walk = Walk {
                    tree: self,
                    query,
                    at,
                    point: self.points[at as usize],
                    below,
                    found: &mut found,
                };
                walk.visit(root);
                each(at, &found);
            }
        }
    }
}

/// One walk through the boxes.
struct Walk<'w, 'q, F> {
    tree: &'w Tree,
    query: &'w Query<'q, F>,
    at: u32,
    point: [i64; 4],
    /// Only what is lower than this is of interest.
    below: i64,
    found: &'w mut Vec<Found>,
}

impl<F: Fn(u32, u32) -> bool> Walk<'_, '_, F> {
    /// The lowest that a place in the box can have; none if nothing there is of interest.
    fn least(&self, id: u32) -> Option<i64> {
        let cell = &self.tree.cells[id as usize];
        if self.query.only_after && cell.to <= self.at + 1 {
            return None;
        }
        let cost = self
            .tree
            .space
            .least_cost(&self.point, &cell.low, &cell.high)?;
        if cost > self.query.dearest {
            return None;
        }
        let mut least = 2 * cost;
        if let Some(duals) = self.query.duals {
            least -= duals.most(self.at, id);
            if least < self.below {
                least += duals.made_up_for(self.at, id);
            }
        }
        (least < self.below).then_some(least)
    }

    /// Looks into a box, the nearer half first.
    fn visit(&mut self, id: u32) {
        let cell = self.tree.cells[id as usize];
        if cell.left == NO_CELL {
            for place in cell.from..cell.to {
                self.meet(place);
            }
            return;
        }
        let (left, right) = (self.least(cell.left), self.least(cell.right));
        let here = |child: u32| {
            let cell = &self.tree.cells[child as usize];
            !(cell.from..cell.to).contains(&self.at)
        };
        let key = |least: Option<i64>, child: u32| (least.unwrap_or(i64::MAX), here(child));
        let (near, far) = if key(left, cell.left) <= key(right, cell.right) {
            ((left, cell.left), (right, cell.right))
        } else {
            ((right, cell.right), (left, cell.left))
        };
        for (least, child) in [near, far] {
            if least.is_some_and(|least| least < self.below) {
                self.visit(child);
            }
        }
    }

    /// Keeps a place if it is among the lowest.
    fn meet(&mut self, place: u32) {
        if place == self.at || (self.query.only_after && place < self.at) {
            return;
        }
        let Some(cost) = self
            .tree
            .space
            .cost(&self.point, &self.tree.points[place as usize])
        else {
            return;
        };
        if cost > self.query.dearest {
            return;
        }
        let mut value = 2 * cost;
        if let Some(duals) = self.query.duals {
            value -= duals.of_pair(self.at, place);
            if value < self.below {
                value += duals.common(self.at, place);
            }
        }
        if value >= self.below || !(self.query.allowed)(self.at, place) {
            return;
        }
        let slot = self.found.partition_point(|&(other, _)| other <= value);
        self.found.insert(slot, (value, place));
        if self.found.len() > self.query.keep {
            self.found.pop();
        }
        if self.found.len() == self.query.keep {
            self.below = self
                .found
                .last()
                .map_or(self.below, |&(worst, _)| self.below.min(worst));
        }
    }
}
