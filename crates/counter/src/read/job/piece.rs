//! The `[[piece]]` blocks.

use whirlwright_workshop::part::Dimension;
use whirlwright_workshop::part::job::{MaterialKind, Piece, PieceMaterial, PressesOn, Side};
use whirlwright_workshop::shelf;

use super::block::{Block, Faults, Said, Span, near};
use super::{Fetch, feature, outline};

/// A piece, and where it is written.
pub(super) struct Placed {
    pub piece: Piece,
    name: Span,
    presses_on: Vec<Span>,
}

/// Reads one piece; none where it has a fault that leaves no piece.
pub(super) fn piece(
    mut block: Block<'_>,
    text: &str,
    fetch: Fetch<'_>,
    faults: &Faults,
) -> Option<Placed> {
    const MOST: u32 = 10_000;
    let name = block.needed_text("name", "a name such as \"half\"");
    if let Some(name) = &name {
        block.name = format!("piece `{}`", name.text);
    }
    let side = side(&block, faults);
    let outline = outline::outline(&block, text, fetch, faults);
    let material = material(&block, faults);
    let count = if block.has("count") {
        block.whole("count", 1, MOST)
    } else {
        block.value("count").map_or(Some(1), |_| None)
    };
    let least_wall_mm = block
        .positive("least_wall", Dimension::Length)
        .map(|(q, _)| q.value);
    let (presses_on, spans) = block
        .blocks("presses_on", true)
        .into_iter()
        .filter_map(press)
        .unzip();
    let blocks = block.blocks("feature", false);
    let wanted = blocks.len();
    let features: Vec<_> = blocks
        .into_iter()
        .filter_map(|b| feature::feature(b, faults))
        .collect();
    let whole = features.len() == wanted;
    block.finish();
    let (name, span) = name.map(|s| (s.text.to_owned(), s.span))?;
    let piece = Piece {
        name,
        side: side?,
        outline: outline?,
        material: material?,
        count: count?,
        least_wall_mm,
        presses_on,
        features,
    };
    whole.then_some(Placed {
        piece,
        name: span,
        presses_on: spans,
    })
}

fn side(block: &Block<'_>, faults: &Faults) -> Option<Side> {
    if !block.has("side") {
        let what = format!(
            "{} has no `side`; one of both, left, right, centre was expected",
            block.name
        );
        faults.missing(block.span.clone(), what);
        let _ = block.value("side");
        return None;
    }
    block.choice("side", &Side::ALL.map(|side| (side.word(), side)))
}

/// The density of a piece: said outright, or of a material of the shelf.
pub(super) fn material(block: &Block<'_>, faults: &Faults) -> Option<PieceMaterial> {
    let density = block.positive("density", Dimension::Density);
    let material = block.text("material");
    let kind = block.choice("kind", &KINDS);
    if let (true, Some(material)) = (block.has("density"), &material) {
        faults.add(
            material.span.clone(),
            format!(
                "{} has both `density` and `material`; one of them was expected",
                block.name
            ),
        );
        return None;
    }
    if let Some(said) = material {
        return shelf_material(&said, faults);
    }
    if !block.has("density") {
        if !block.has("material") {
            let what = format!(
                "{} has neither `density` nor `material`; density = \"1.13 g/cm3\" or material = \"pc-abs\" was expected",
                block.name
            );
            faults.missing(block.span.clone(), what);
        }
        return None;
    }
    let (density, _) = density?;
    Some(PieceMaterial {
        density_g_cm3: density.value,
        shelf_id: None,
        kind: kind.unwrap_or(MaterialKind::Unknown),
        why: format!("{density}, as the job file says; weigh a part to be sure"),
    })
}

const KINDS: [(&str, MaterialKind); 4] = [
    ("polymer", MaterialKind::Polymer),
    ("metal", MaterialKind::Metal),
    ("elastomer", MaterialKind::Elastomer),
    ("bought", MaterialKind::Bought),
];

fn shelf_material(said: &Said<'_>, faults: &Faults) -> Option<PieceMaterial> {
    let Some(found) = shelf::material(said.text) else {
        let known: Vec<&str> = shelf::materials().iter().map(|m| m.id.as_str()).collect();
        let what = format!("`{}` is not a material of the shelf", said.text);
        let list = format!("the shelf has {}; or give a density", known.join(", "));
        let help = near(said.text, &known).map_or(list.clone(), |near| format!("{near} {list}"));
        faults.push(said.span.clone(), what, Some(help));
        return None;
    };
    Some(PieceMaterial {
        density_g_cm3: found.density_g_cm3,
        shelf_id: Some(found.id.clone()),
        kind: found.kind,
        why: found.why(),
    })
}

fn press(block: Block<'_>) -> Option<(PressesOn, Span)> {
    let piece = block.needed_text("piece", "the name of the other piece");
    let overlap_mm = block.needed("overlap", Dimension::Length);
    block.finish();
    let piece = piece?;
    Some((
        PressesOn {
            piece: piece.text.to_owned(),
            overlap_mm: overlap_mm?,
        },
        piece.span,
    ))
}

/// The names of the pieces; two of one name and presses on nothing are faults.
///
/// `all_read` says that no piece was lost to a fault of its own, so that a missing name is missing.
pub(super) fn names(
    pieces: &[Placed],
    top: &Block<'_>,
    faults: &Faults,
    all_read: bool,
) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for placed in pieces {
        if names.contains(&placed.piece.name) {
            let what = format!(
                "a second piece is called `{}`; a name of its own was expected",
                placed.piece.name
            );
            faults.add(placed.name.clone(), what);
        }
        names.push(placed.piece.name.clone());
    }
    if all_read && !pieces.is_empty() {
        for placed in pieces {
            for (press, span) in placed.piece.presses_on.iter().zip(&placed.presses_on) {
                known_piece(&press.piece, span, &names, faults);
            }
        }
    } else {
        names.clear();
    }
    let _ = top;
    names
}

/// Whether a piece of that name exists; where pieces were lost to faults nothing is said.
pub(super) fn known_piece(name: &str, span: &Span, names: &[String], faults: &Faults) {
    if names.is_empty() || names.iter().any(|n| n == name) {
        return;
    }
    let list: Vec<&str> = names.iter().map(String::as_str).collect();
    let help = near(name, &list).unwrap_or_else(|| format!("the pieces are {}", list.join(", ")));
    faults.push(
        span.clone(),
        format!("there is no piece `{name}`"),
        Some(help),
    );
}
