//! What the pictures of a correction show beside its numbers.

use whirlwright_paper::picture::BalanceView;
use whirlwright_workshop::design::SectionBody;

use crate::read::balance::{End, ReadingsFile};

/// The view of a file of readings, with the outlines of the design where it is known.
#[must_use]
pub fn view(file: &ReadingsFile, section: Option<&SectionBody>) -> BalanceView {
    BalanceView {
        mark: file.mark.clone(),
        clockwise_from_left: file
            .turns
            .map(|turns| turns.clockwise == (turns.seen_from == End::Left)),
        outlines: section.map_or_else(Vec::new, |body| body.cut.outlines.clone()),
    }
}
