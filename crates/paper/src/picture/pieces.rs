//! Pieces as pictures and tables name them: one line a piece, its sides together.

use whirlwright_workshop::design::SectionBody;
use whirlwright_workshop::part::job::MaterialKind;

/// A piece with all the bodies that bear its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its name.
    pub name: String,
    /// What it is made of.
    pub kind: MaterialKind,
    /// How many bodies there are of it.
    pub bodies: u32,
    /// Their mass together, in g.
    pub mass_g: f64,
    /// Their part of the whole's mass, 0 to 1.
    pub mass_share: f64,
    /// Their part of the whole's polar inertia, 0 to 1.
    pub inertia_share: f64,
    /// How many pieces of the same material come before it; tells hatches apart.
    pub nth_of_kind: usize,
}

/// The pieces, in the order of the job.
#[must_use]
pub fn pieces(body: &SectionBody) -> Vec<Piece> {
    let mut pieces: Vec<Piece> = Vec::new();
    for line in &body.pieces {
        if let Some(piece) = pieces.iter_mut().find(|piece| piece.name == line.name) {
            piece.bodies += line.count;
            piece.mass_g += line.mass_g;
            piece.mass_share += line.mass_share;
            piece.inertia_share += line.inertia_share;
            continue;
        }
        let drawn = body
            .cut
            .outlines
            .iter()
            .find(|outline| outline.name == line.name);
        let kind = drawn.map_or(MaterialKind::Unknown, |outline| outline.kind);
        pieces.push(Piece {
            name: line.name.clone(),
            kind,
            bodies: line.count,
            mass_g: line.mass_g,
            mass_share: line.mass_share,
            inertia_share: line.inertia_share,
            nth_of_kind: pieces.iter().filter(|piece| piece.kind == kind).count(),
        });
    }
    pieces
}
