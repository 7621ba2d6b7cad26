//! How long to search, and when a lot is too dear for that.

/// How long to search.
#[derive(Debug, Clone, Copy)]
pub(super) struct Effort {
    /// Most marriages while counting sets.
    pub count_rounds: usize,
    /// Most marriages while making cuts or costs small.
    pub polish_rounds: usize,
    /// Exchanges tried for every half while making cuts and costs small.
    pub moves_a_part: usize,
    /// Exchanges tried for every half in one repair.
    pub repair_moves_a_part: usize,
    /// How often a repair is tried anew.
    pub repairs: usize,
    /// Most rounds of re-marrying with the couples fixed.
    pub remarriages: usize,
}

impl Effort {
    /// For the answer itself.
    pub(super) const FULL: Self = Self {
        count_rounds: 120,
        polish_rounds: 60,
        moves_a_part: 2000,
        repair_moves_a_part: 4000,
        repairs: 3,
        remarriages: 5,
    };
    /// Where only the number of sets matters.
    pub(super) const COUNT: Self = Self {
        count_rounds: 60,
        polish_rounds: 0,
        moves_a_part: 1000,
        repair_moves_a_part: 2000,
        repairs: 2,
        remarriages: 0,
    };
}

/// A table of half with rim kinds above this size makes each marriage dear: the demo lot with a fit
/// window, where every part is a kind of its own, has 240,000.
pub(super) const EASY: usize = 60_000;

impl Effort {
    /// The same count of sets, taken as it comes.
    pub(super) fn without_polish(self) -> Self {
        Self {
            polish_rounds: 0,
            remarriages: 0,
            ..self
        }
    }

    /// Fewer marriages where each is dear.
    pub(super) fn for_table(self, cells: usize) -> Self {
        let share = (cells / EASY).max(1);
        Self {
            count_rounds: (self.count_rounds / share).max(20),
            polish_rounds: (self.polish_rounds / share).max(self.polish_rounds.min(10)),
            ..self
        }
    }
}
