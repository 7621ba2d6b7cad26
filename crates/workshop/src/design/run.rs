//! The section as one answer.

use super::body::SectionBody;
use super::given::Given;
use crate::part::Answer;

/// Mass, centre and inertia of every body and of the whole, with the limits checked.
#[must_use]
pub fn section(_job: &Given) -> Answer<SectionBody> {
    unimplemented!()
}
