//! How wide the columns of a pick list are: two lists side by side where the serials allow it.

use super::layout::{LEFT, RIGHT, TEXT};
use super::places::{Pick, Tray};
use crate::ink::Style;
use crate::palette::{INK, PENCIL};

/// Side of a tick box.
pub const TICK: f64 = 12.0;
/// Type size of the set number, the one that must be read from afar.
pub const SET: f64 = 14.0;
/// Room between two lists on a page.
const GUTTER: f64 = 16.0;
/// Least and most room between two columns of a list.
const GAPS: (f64, f64) = (6.0, 11.0);
/// A place is cut above this width, so that a strange tray name leaves room for the serial.
const WIDEST_PLACE: f64 = 120.0;

/// Widths that every tray of the list shares.
#[derive(Debug, Clone, Copy)]
pub struct Columns {
    /// The place in the tray.
    pub place: f64,
    /// The part's serial.
    pub id: f64,
    /// The set's number.
    pub set: f64,
    /// The side.
    pub side: f64,
    /// The partner's serial.
    pub partner: f64,
    /// `cut` and the clock mark; 0 where there is neither.
    pub mark: f64,
    /// What stands over the marks.
    pub mark_head: &'static str,
    /// Room between two columns.
    pub gap: f64,
    /// How many lists stand side by side.
    pub many: usize,
    /// Width of one list.
    pub width: f64,
}

impl Columns {
    /// As wide as the widest text of all trays.
    #[must_use]
    pub fn new(trays: &[Tray]) -> Self {
        let mut columns = Self::of_content(trays);
        let full = RIGHT - LEFT;
        let half = (full - GUTTER) / 2.0;
        let fits_twice = columns.needed(GAPS.0) <= half;
        (columns.many, columns.width) = if fits_twice { (2, half) } else { (1, full) };
        let spare = columns.width - columns.needed(GAPS.0);
        if spare < 0.0 {
            // Very long serials are cut, and the set number never is.
            let both = (columns.id + columns.partner + spare).max(40.0);
            (columns.id, columns.partner) = (both / 2.0, both / 2.0);
        }
        columns.gap = (GAPS.0 + spare.max(0.0) / columns.gaps()).min(GAPS.1);
        columns
    }

    fn of_content(trays: &[Tray]) -> Self {
        let picks = || trays.iter().flat_map(|tray| &tray.picks);
        let widest = |head: &str, style: Style, text: &dyn Fn(&Pick) -> String| {
            let head = Style::plain(TEXT - 1.0, PENCIL).width(head);
            picks()
                .map(|pick| style.width(&text(pick)))
                .fold(head, f64::max)
        };
        let plain = Style::plain(TEXT, INK);
        let marked = picks().any(|pick| pick.clock_mark.is_some());
        let mark_head = if marked { "mark" } else { "" };
        Self {
            place: widest("at", plain, &|p| p.place.clone()).min(WIDEST_PLACE),
            id: widest("part", plain, &|p| p.id.clone()),
            set: widest("set", Style::bold(SET, INK), &|p| p.set.to_string()),
            side: widest("", plain, &|p| p.side.to_owned()),
            partner: widest("with", plain, &|p| p.partner.clone()),
            mark: widest(mark_head, Style::bold(TEXT - 1.0, INK), &mark),
            mark_head,
            gap: GAPS.0,
            many: 1,
            width: RIGHT - LEFT,
        }
    }

    fn gaps(&self) -> f64 {
        if self.mark > 0.0 { 6.0 } else { 5.0 }
    }

    fn needed(&self, gap: f64) -> f64 {
        let columns = self.place + self.id + self.set + self.side + self.partner + self.mark;
        TICK + columns + gap * self.gaps()
    }

    /// Left edge of the n-th list on the page.
    #[must_use]
    pub fn left(&self, n: usize) -> f64 {
        LEFT + n as f64 * (self.width + GUTTER)
    }

    /// Right edges of the numbers (place, set) and left edges of the words (part, side, partner,
    /// mark), from the left edge of a list: place, part, set, side, partner, mark.
    #[must_use]
    pub fn stops(&self) -> [f64; 6] {
        let place = TICK + self.gap + self.place;
        let id = place + self.gap;
        let set = id + self.id + self.gap + self.set;
        let side = set + self.gap;
        let partner = side + self.side + self.gap;
        let mark = partner + self.partner + self.gap;
        [place, id, set, side, partner, mark]
    }
}

/// `cut`, the clock mark, or both.
#[must_use]
pub fn mark(pick: &Pick) -> String {
    let cut = pick.recut.then(|| "cut".to_owned());
    let mark = pick.clock_mark.map(|mark| mark.to_string());
    cut.into_iter().chain(mark).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tray(id: &str) -> Tray {
        let pick = Pick {
            place: "12".to_owned(),
            id: id.to_owned(),
            set: 240,
            side: "L",
            partner: id.to_owned(),
            clock_mark: None,
            recut: true,
        };
        Tray {
            name: "Tray A".to_owned(),
            picks: vec![pick],
        }
    }

    #[test]
    fn law_columns_stay_inside_their_list_whatever_the_serials() {
        for id in [
            "1",
            "D26-H0001",
            "a-serial-of-forty-signs-and-some-more-x",
            &"W".repeat(2000),
        ] {
            let columns = Columns::new(&[tray(id)]);
            let [.., mark] = columns.stops();
            assert!(mark + columns.mark <= columns.width + 1e-6, "{id}");
            assert!(columns.id >= 20.0 || id.len() < 3);
        }
        assert_eq!(Columns::new(&[tray("D26-H0001")]).many, 2);
        assert_eq!(
            Columns::new(&[tray("a-serial-of-forty-signs-and-some-more-x")]).many,
            1
        );
    }
}
