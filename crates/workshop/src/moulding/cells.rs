//! The hollow of a mould as cells that melt fills, and the links it passes from one to the next.

use super::layers::Form;

/// Which part of the mould a cell belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Owner {
    /// A branch of the feed, by its number in the mould.
    Feed(usize),
    /// A gate: which kind of cavity and which of its gates.
    Gate(usize, usize),
    /// A kind of cavity.
    Cavity(usize),
}

/// The cells, each list by the cell's number. What is alike in the mould is one cell with many copies.
#[derive(Debug, Clone, Default)]
pub struct Cells {
    /// Its form across the flow.
    pub form: Vec<Form>,
    /// Half its depth, or its radius.
    pub half_m: Vec<f64>,
    /// Its room, of one copy.
    pub room_m3: Vec<f64>,
    /// What its heat is reckoned over: area of the middle surface in m² for a slit, length in m for a round channel.
    pub(super) reach: Vec<f64>,
    /// Width across the flow along the way, and across the flow that turns aside; 1 for a round channel.
    pub(super) widths: Vec<[f64; 2]>,
    /// How many copies.
    pub(super) copies: Vec<f64>,
    /// Which part it belongs to.
    pub owner: Vec<Owner>,
}

/// Two cells that melt passes between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Link {
    /// One of them; the way counts from it to the other.
    pub one: usize,
    /// The other.
    pub other: usize,
    /// What the half of the way in either carries for a mobility of one.
    pub(super) factors: [f64; 2],
    /// Whether it leads aside, round the axle, and not along.
    pub(super) aside: bool,
}

/// One end of the feed that hangs on the nozzle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mouth {
    /// The first cell.
    pub cell: usize,
    /// What the half of the way in it carries for a mobility of one.
    pub(super) factor: f64,
}

/// A kind of cavity: those of the mould that are alike and are fed alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Kind {
    /// The cavities, by number in the mould.
    pub members: Vec<usize>,
    /// Its first cell; ring after ring, each with its columns.
    pub first: usize,
    /// Cells of its gates.
    pub gates: Vec<usize>,
    /// Branches its melt passes, from the nozzle on, by number in the mould.
    pub way: Vec<usize>,
    /// Middle of the first column of each member from the half's mark.
    pub first_column_deg: Vec<f64>,
}

/// The hollow of the whole mould.
#[derive(Debug, Clone, Default)]
pub struct Hollow {
    /// Its cells.
    pub cells: Cells,
    /// What they pass to each other.
    pub links: Vec<Link>,
    /// Where melt comes in.
    pub mouths: Vec<Mouth>,
    /// The kinds of cavities.
    pub kinds: Vec<Kind>,
    /// Last cell of each branch, by its number in the mould; none where an alike one stands for it.
    pub branch_ends: Vec<Option<usize>>,
    /// Rings and columns of a cavity.
    pub grid: [usize; 2],
    /// Links of each cell: which, and 1 where the cell is the other end.
    pub(super) beside: Vec<Vec<(usize, usize)>>,
}

impl Cells {
    /// How many.
    #[must_use]
    pub fn count(&self) -> usize {
        self.half_m.len()
    }

    /// Room of all copies.
    #[must_use]
    pub fn whole_room_m3(&self, cell: usize) -> f64 {
        self.room_m3[cell] * self.copies[cell]
    }

    /// Adds a cell and gives its number.
    pub(super) fn add(&mut self, cell: NewCell) -> usize {
        self.form.push(cell.form);
        self.half_m.push(cell.half_m);
        self.room_m3.push(cell.room_m3);
        self.reach.push(cell.reach);
        self.widths.push(cell.widths);
        self.copies.push(cell.copies);
        self.owner.push(cell.owner);
        self.count() - 1
    }
}

/// A cell to be added, see [`Cells`].
#[derive(Debug, Clone, Copy)]
pub(super) struct NewCell {
    pub form: Form,
    pub half_m: f64,
    pub room_m3: f64,
    pub reach: f64,
    pub widths: [f64; 2],
    pub copies: f64,
    pub owner: Owner,
}

impl Hollow {
    /// Cells of a kind of cavity.
    #[must_use]
    pub fn cells_of(&self, kind: usize) -> std::ops::Range<usize> {
        let first = self.kinds[kind].first;
        first..first + self.grid[0] * self.grid[1]
    }

    /// Room of all cavities.
    #[must_use]
    pub fn cavities_room_m3(&self) -> f64 {
        let kinds = 0..self.kinds.len();
        kinds
            .flat_map(|kind| self.cells_of(kind))
            .map(|cell| self.cells.whole_room_m3(cell))
            .sum()
    }

    /// Room of everything.
    #[must_use]
    pub fn room_m3(&self) -> f64 {
        (0..self.cells.count())
            .map(|cell| self.cells.whole_room_m3(cell))
            .sum()
    }

    /// Makes the lists of links by cell.
    pub(super) fn index(&mut self) {
        self.beside = vec![Vec::new(); self.cells.count()];
        for (which, link) in self.links.iter().enumerate() {
            self.beside[link.one].push((which, 0));
            self.beside[link.other].push((which, 1));
        }
    }
}
