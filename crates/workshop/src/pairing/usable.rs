//! Which parts can be looked at at all, in an order that does not depend on the file's.

use super::body::{LeftOver, Place};
use crate::part::{Decimal, LotPart};

/// A part that takes part, and its row in the file.
#[derive(Debug, Clone, Copy)]
pub(super) struct Usable<'a> {
    pub part: &'a LotPart,
    /// Row in the file, from 1.
    pub row: u32,
}

impl Usable<'_> {
    pub(super) fn place(&self) -> Place {
        Place {
            id: self.part.serial.clone(),
            kind: self.part.kind,
            tray: self.part.tray.clone(),
            row: self.row,
        }
    }
}

/// A reading that a question needs.
pub(super) type Needed = (&'static str, fn(&LotPart) -> Option<Decimal>);

/// Sorts out the parts that lack a needed reading or are in doubt; the rest is sorted by serial.
pub(super) fn sort_out<'a>(
    parts: &'a [LotPart],
    needed: &[Needed],
    include_doubtful: bool,
) -> (Vec<Usable<'a>>, Vec<LeftOver>) {
    let (mut usable, mut out) = (Vec::new(), Vec::new());
    for (row, part) in (1u32..).zip(parts) {
        let missing: Vec<&str> = needed
            .iter()
            .filter(|(_, read)| read(part).is_none())
            .map(|(name, _)| *name)
            .collect();
        let why = if !missing.is_empty() {
            Some(format!(
                "left out: its {} was not measured",
                missing.join(" and ")
            ))
        } else if !part.doubts.is_empty() && !include_doubtful {
            Some(format!(
                "left out, weigh it again first: {}",
                part.doubts.join("; ")
            ))
        } else {
            None
        };
        match why {
            None => usable.push(Usable { part, row }),
            Some(why) => out.push(LeftOver {
                id: part.serial.clone(),
                kind: part.kind,
                why,
                left_out: true,
            }),
        }
    }
    usable.sort_by(|a, b| a.part.serial.cmp(&b.part.serial));
    (usable, out)
}

/// Numbers of the words in `colours`, equal for equal words; a part without a colour gets 0.
pub(super) fn colour_numbers<'a>(
    colours: impl Iterator<Item = Option<&'a str>> + Clone,
) -> Vec<u32> {
    let mut words: Vec<&str> = colours.clone().flatten().collect();
    words.sort_unstable();
    words.dedup();
    colours
        .map(|colour| {
            colour.map_or(0, |c| {
                words.binary_search(&c).map_or(0, |place| place as u32 + 1)
            })
        })
        .collect()
}
