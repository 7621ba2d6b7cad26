//! Where parts lie: from sets to the order of the trays.

use whirlwright_workshop::pairing::{PairBody, PairSet, Place};
use whirlwright_workshop::part::Kind;

use crate::words;

/// One part to be picked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pick {
    /// Place in the tray.
    pub place: String,
    /// Serial of the part.
    pub id: String,
    /// The set it goes to.
    pub set: u32,
    /// L for left or R for right.
    pub side: &'static str,
    /// What it is joined with.
    pub partner: String,
    /// The mark the right half is set against.
    pub clock_mark: Option<u32>,
    /// Cut this rim first.
    pub recut: bool,
}

/// The picks of one tray, in the order in which they lie.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tray {
    /// What the tray is called.
    pub name: String,
    /// The picks.
    pub picks: Vec<Pick>,
}

/// All picks, tray by tray, each tray in its own order.
#[must_use]
pub fn trays(body: &PairBody) -> Vec<Tray> {
    let cut: std::collections::BTreeSet<&str> = body.recuts.iter().map(|r| r.id.as_str()).collect();
    let mut picks: Vec<(Kind, u32, String, Pick)> = Vec::new();
    for set in &body.sets {
        for (n, place) in set.places.iter().enumerate() {
            let (tray, spot) = split(place);
            let pick = pick(set, n, place, spot, cut.contains(place.id.as_str()));
            picks.push((place.kind, place.row, tray, pick));
        }
    }
    // Written trays and places are sorted as people count (A2 before A10), the rest by the file.
    picks.sort_by_cached_key(|(kind, row, tray, pick)| {
        let written = !tray.ends_with(FILE_ORDER);
        let key = |text: &str| if written { counted(text) } else { Vec::new() };
        (*kind, key(tray), key(&pick.place), *row)
    });
    let mut trays: Vec<(Kind, Tray)> = Vec::new();
    for (kind, _, name, pick) in picks {
        match trays
            .iter_mut()
            .find(|(k, tray)| *k == kind && tray.name == name)
        {
            Some((_, tray)) => tray.picks.push(pick),
            None => trays.push((
                kind,
                Tray {
                    name,
                    picks: vec![pick],
                },
            )),
        }
    }
    trays.into_iter().map(|(_, tray)| tray).collect()
}

/// How the heading of parts without a tray ends.
const FILE_ORDER: &str = " in the order of their file";

/// A text as words and numbers, so that it sorts as people count.
fn counted(text: &str) -> Vec<(u64, String)> {
    let mut key: Vec<(u64, String)> = Vec::new();
    let mut digits = false;
    for letter in text.chars() {
        if key.is_empty() || letter.is_ascii_digit() != digits {
            key.push((0, String::new()));
        }
        digits = letter.is_ascii_digit();
        if let Some((number, word)) = key.last_mut() {
            match letter.to_digit(10) {
                Some(digit) if digits => {
                    *number = number.saturating_mul(10).saturating_add(digit.into())
                }
                _ => word.push(letter),
            }
        }
    }
    key
}

/// What may stand between a tray and a place in it.
const SEPARATORS: [char; 5] = ['-', '/', ':', ' ', '.'];

/// `A3-12` is place 12 of tray A3; a part without a tray lies in the order of its file.
#[must_use]
pub fn split(place: &Place) -> (String, String) {
    let Some(written) = place
        .tray
        .as_deref()
        .map(str::trim)
        .filter(|t| !t.is_empty())
    else {
        let name = words::sentence(words::kinds(place.kind));
        return (
            format!("{name} in the order of their file"),
            place.row.to_string(),
        );
    };
    let (tray, spot) = match written.rsplit_once(SEPARATORS) {
        Some((tray, spot))
            if !tray.trim_end_matches(SEPARATORS).is_empty() && !spot.trim().is_empty() =>
        {
            (tray.trim_end_matches(SEPARATORS), spot.trim())
        }
        _ => return (format!("Tray {written}"), place.row.to_string()),
    };
    let named = tray.to_lowercase().starts_with("tray");
    (
        if named {
            words::sentence(tray)
        } else {
            format!("Tray {tray}")
        },
        spot.to_owned(),
    )
}

fn pick(set: &PairSet, n: usize, place: &Place, spot: String, recut: bool) -> Pick {
    let four = set.places.len() == 4;
    let partner = if four {
        set.places.get(n ^ 1).map(|p| p.id.clone())
    } else {
        set.places
            .iter()
            .find(|p| p.id != place.id)
            .map(|p| p.id.clone())
    };
    let left = if four { n < 2 } else { n == 0 };
    Pick {
        place: spot,
        id: place.id.clone(),
        set: set.number,
        side: if left { "L" } else { "R" },
        partner: partner.unwrap_or_default(),
        clock_mark: set.clock_mark,
        recut,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_trays_sort_as_people_count() {
        let mut trays = [
            "Tray A10", "Tray A2", "Tray B1", "Tray A", "Tray 3", "Tray 12",
        ];
        trays.sort_by_cached_key(|tray| counted(tray));
        assert_eq!(
            trays,
            [
                "Tray 3", "Tray 12", "Tray A", "Tray A2", "Tray A10", "Tray B1"
            ]
        );
    }

    fn place(tray: Option<&str>) -> Place {
        Place {
            id: "X".into(),
            kind: Kind::Half,
            tray: tray.map(str::to_owned),
            row: 7,
        }
    }

    #[test]
    fn law_a_place_is_split_from_its_tray() {
        for (written, tray, spot) in [
            (Some("A3-12"), "Tray A3", "12"),
            (Some("tray 4 / 9"), "Tray 4", "9"),
            (Some("B"), "Tray B", "7"),
            (Some("-"), "Tray -", "7"),
            (Some("  "), "Halves in the order of their file", "7"),
            (None, "Halves in the order of their file", "7"),
        ] {
            assert_eq!(
                split(&place(written)),
                (tray.to_owned(), spot.to_owned()),
                "{written:?}"
            );
        }
    }
}
