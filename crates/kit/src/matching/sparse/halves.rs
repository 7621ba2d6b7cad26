//! The odd rings of a matching by halves.

use super::elements::Child;

/// The odd rings that are matched by halves.
#[derive(Debug, Default)]
pub(super) struct Halves {
    /// The rings; those that were opened again are empty.
    pub rings: Vec<Vec<Child>>,
    /// The ring of each node, if it is in one.
    pub ring_of: Vec<u32>,
}
