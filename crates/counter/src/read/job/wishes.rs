//! The blocks of limits and wishes: `[limits]`, `[pairing]`, `[recut]`, `[lot.…]`.

use std::collections::BTreeMap;

use toml::de::DeValue;
use whirlwright_workshop::part::Dimension::{Inertia, Length, Mass, Share, Unbalance};
use whirlwright_workshop::part::job::{
    JointWish, LotWishes, PairingWishes, PieceLimits, RecutWishes, Wanted,
};
use whirlwright_workshop::part::{Decimal, Dimension, Quantity};

use super::block::{Block, Faults, as_text, kind};
use super::piece::{Placed, known_piece};

pub(super) fn limits(block: Block<'_>) -> PieceLimits {
    let limits = PieceLimits {
        mass_g: wanted(&block, "mass", "mass_within", Mass),
        diameter_mm: wanted(&block, "diameter", "diameter_within", Length),
        width_mm: wanted(&block, "width", "width_within", Length),
        polar_inertia_g_mm2: wanted(&block, "inertia", "inertia_within", Inertia),
        inertia_ratio_at_most: block.ratio("inertia_ratio_at_most"),
        least_wall_mm: block.positive("least_wall", Length).map(|(q, _)| q.value),
        least_gap_mm: block.positive("least_gap", Length).map(|(q, _)| q.value),
    };
    block.finish();
    limits
}

/// A value and how far it may be off: in the same unit, or as a share of it.
fn wanted(
    block: &Block<'_>,
    key: &'static str,
    within_key: &'static str,
    of: Dimension,
) -> Option<Wanted> {
    if !block.has(key) && !block.has(within_key) {
        let _ = (block.value(key), block.value(within_key));
        return None;
    }
    let value = if block.has(key) {
        block.positive(key, of).map(|(q, _)| q.value)
    } else {
        block.needed(key, of)
    };
    let share = block
        .value(within_key)
        .and_then(as_text)
        .and_then(|s| Quantity::read(s.text, Share).ok());
    let within = match (share, value) {
        (Some(share), Some(value)) => Some(share.value * value),
        (Some(share), None) => Some(share.value),
        (None, _) => block.needed(within_key, of),
    };
    Some(Wanted {
        value: value?,
        within: within?.abs(),
    })
}

pub(super) fn pairing(block: Block<'_>, faults: &Faults) -> PairingWishes {
    #[derive(Clone, Copy)]
    enum Word {
        Free,
        Keyed,
    }
    const MOST_MARKS: u32 = 360;
    let joint = block.choice("joint", &[("free", Word::Free), ("keyed", Word::Keyed)]);
    let marks = block.whole("marks", 2, MOST_MARKS);
    let joint = match (joint, marks) {
        (Some(Word::Free), _) => Some(JointWish::Free),
        (Some(Word::Keyed), Some(marks)) => Some(JointWish::Keyed { marks }),
        (Some(Word::Keyed), None) => {
            if !block.has("marks") {
                faults.missing(
                    block.span.clone(),
                    "a keyed joint has no `marks`; their number was expected, such as marks = 8",
                );
            }
            None
        }
        (None, _) => None,
    };
    let wishes = PairingWishes {
        mass_within_g: block.limit("mass_within", Mass),
        piece_mass_g: block.limit("piece_mass", Mass),
        piece_within_g: block.limit("piece_within", Mass),
        unbalance_within_g_mm: block.limit("unbalance_within", Unbalance),
        offset_within_mm: block.limit("offset_within", Length),
        fit_window_mm: block.window("fit_window", Length),
        joint,
        colour_must_agree: block.flag("colour_must_agree"),
    };
    block.finish();
    wishes
}

pub(super) fn recut(
    block: Block<'_>,
    pieces: &[Placed],
    names: &[String],
    faults: &Faults,
) -> Option<RecutWishes> {
    let piece = block.needed_text("piece", "the name of the piece that is recut");
    if !block.has("step") {
        faults.missing(block.span.clone(), "[recut] has no `step`; the smallest cut the lathe is set by was expected, such as \"0.01 mm\"");
    }
    let step = block.limit("step", Length);
    let most = most_face(&block, piece.as_ref().map(|p| p.text), pieces, faults);
    let gram_per_mm = block.positive("mass_of_one_mm", Mass).map(|(q, _)| q.value);
    block.finish();
    let piece = piece?;
    known_piece(piece.text, &piece.span, names, faults);
    Some(RecutWishes {
        piece: piece.text.to_owned(),
        step_mm: step?,
        most_face_mm: most?,
        gram_per_mm,
    })
}

/// The most that may come off: said outright, or what stands over the least width.
fn most_face(
    block: &Block<'_>,
    piece: Option<&str>,
    pieces: &[Placed],
    faults: &Faults,
) -> Option<Decimal> {
    let most = block.limit("most_face", Length);
    let least = block.positive("least_width", Length);
    match (block.has("most_face"), block.has("least_width")) {
        (true, false) => most,
        (false, true) => {
            let (least, span) = least?;
            let placed = pieces
                .iter()
                .find(|p| Some(p.piece.name.as_str()) == piece)?;
            let width = width_mm(placed);
            let over = Quantity {
                text: String::new(),
                dimension: Length,
                value: width - least.value,
                exact: None,
            };
            // Rounding in the width must not turn 0.4 into 0.399999: a nanometre is added first.
            let over = Quantity {
                value: over.value + 1e-9,
                ..over
            };
            if over.value < 1e-8 {
                faults.add(span, format!("`least_width` is {least}, and the piece is {width:.3} mm wide: nothing could be cut"));
                return None;
            }
            over.as_limit()
        }
        _ => {
            faults.missing(
                block.span.clone(),
                "[recut]: one of `most_face` and `least_width` was expected",
            );
            None
        }
    }
}

fn width_mm(placed: &Placed) -> f64 {
    let (low, high) = placed.piece.outline.reach_mm();
    high - low
}

pub(super) fn lots(
    block: Block<'_>,
    names: &[String],
    faults: &Faults,
) -> BTreeMap<String, LotWishes> {
    const MOST_CAVITIES: u32 = 1024;
    let mut out = BTreeMap::new();
    for (key, value) in block.entries() {
        let DeValue::Table(table) = value.get_ref() else {
            faults.add(
                value.span(),
                format!(
                    "`lot.{}` is {}; a table was expected: [lot.{}]",
                    key.text,
                    kind(value.get_ref()),
                    key.text
                ),
            );
            continue;
        };
        // Dressed halves are parts of a lot, though nobody draws them.
        if key.text != "dressed" {
            known_piece(key.text, &key.span, names, faults);
        }
        let lot = Block::new(table, faults, format!("[lot.{}]", key.text), value.span());
        let wishes = LotWishes {
            mass_window_g: lot.window("mass_window", Mass),
            fit_window_mm: lot.window("fit_window", Length),
            cavities: lot.whole("cavities", 1, MOST_CAVITIES),
        };
        lot.finish();
        out.insert(key.text.to_owned(), wishes);
    }
    out
}
