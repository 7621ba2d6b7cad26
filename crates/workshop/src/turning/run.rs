//! The three questions of turning: the dimensions, one piece over its mass, a tray.

use super::body::{CutLine, RecutBody, RimBody, TrayBody, TrayCut};
use super::cut::{cut, two_steps};
use super::dimension::{Dimension, Surface, dimensions};
use super::faults::Refusal;
use super::given::Given;
use super::offset::offset;
use super::sensitivity::Piece;
use super::tolerance::{hold_and_let_go, tolerances};
use super::words;
use crate::part::Answer;

/// One piece of a tray: its serial and its reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighed {
    /// Its serial.
    pub serial: String,
    /// Its reading.
    pub mass_g: f64,
}

/// A reading farther off the drawing than this share is no such piece.
const NOT_THIS_SHARE: f64 = 0.5;

/// What each turned dimension does, and what it may be off by.
///
/// - **What it finds:** exact derivatives of mass, inertia and centre by every straight run of the
///   section (boundary integrals), unbalance of a surface that runs out, tolerances that hold the mass.
/// - **What must hold:** a checked [`Given`] whose outline has a straight run.
///
/// # Errors
/// No straight run.
pub fn rim(given: &Given) -> Result<Answer<RimBody>, Refusal> {
    let piece = piece(given)?;
    let mut lines: Vec<_> = piece
        .dimensions
        .iter()
        .map(|d| piece.line(d, given.whole_mass_g))
        .collect();
    let sum = tolerances(given, &mut lines);
    let (hold, let_go) = hold_and_let_go(given, &lines);
    let drawn = piece.mass();
    let body = RimBody {
        piece: given.piece.clone(),
        mass_g: drawn.mass_g,
        wanted_g: given.mass_g.unwrap_or(drawn.mass_g),
        mass_within_g: given.mass_within_g,
        polar_inertia_g_mm2: drawn.polar_g_mm2,
        transverse_inertia_g_mm2: drawn.transverse_g_mm2,
        dimensions: lines,
        sum,
        hold,
        let_go,
    };
    Ok(words::rim(given, body))
}

/// How one piece over its mass is brought to it.
///
/// - **What it finds:** for every dimension that may be cut the depth that takes the excess off (exact
///   for the drawing), in whole steps of the lathe, what it leaves, and whether two steps land better.
/// - **What must hold:** a reading near the drawing's mass. The bore that is the fit is never cut.
///
/// # Errors
/// A name that is no dimension, the bore of the fit, a reading that is no such piece.
pub fn recut(given: &Given, mass_g: f64) -> Result<Answer<RecutBody>, Refusal> {
    let piece = piece(given)?;
    let drawn_g = piece.mass().mass_g;
    near("the rim", mass_g, drawn_g)?;
    let allowed = allowed(given, &piece)?;
    let wanted_g = given.mass_g.unwrap_or(drawn_g);
    let over_g = mass_g - wanted_g;
    let mut cuts: Vec<CutLine> = Vec::new();
    let mut steps = None;
    if over_g > 0.0 {
        cuts = allowed
            .iter()
            .map(|d| cut(given, &piece, d, mass_g, over_g))
            .collect();
        // The first that may be cut is the one to take; the order of the wishes stays otherwise.
        cuts.sort_by_key(|c| !c.allowed);
        let first = cuts.first().filter(|c| c.allowed);
        let of = first.and_then(|c| allowed.iter().find(|d| d.name == c.name));
        if let Some((line, of)) = first.zip(of) {
            steps = two_steps(given, &piece, of, line, mass_g, over_g);
        }
    }
    let body = RecutBody {
        piece: given.piece.clone(),
        mass_g,
        wanted_g,
        mass_within_g: given.mass_within_g,
        over_g,
        cuts,
        two_steps: steps,
    };
    Ok(words::recut(given, body))
}

/// A tray of pieces: who is cut, where and how deep, in the order in which the tool moves least.
///
/// - **What it finds:** for every piece over its limits the first allowed cut that takes enough. Sorted
///   by dimension and depth the setting goes one way only, which is the least way there is.
/// - **What must hold:** the pieces in the order they were made; `offset_at` is the place of the first
///   one after the last offset, and only from there on the drift is followed.
///
/// # Errors
/// As [`recut`]; also an empty tray.
pub fn tray(
    given: &Given,
    pieces: &[Weighed],
    offset_at: usize,
) -> Result<Answer<TrayBody>, Refusal> {
    if pieces.is_empty() {
        return Err(Refusal::EmptyTray);
    }
    let piece = piece(given)?;
    let drawn_g = piece.mass().mass_g;
    for one in pieces {
        near(&one.serial, one.mass_g, drawn_g)?;
    }
    let allowed = allowed(given, &piece)?;
    let wanted_g = given.mass_g.unwrap_or(drawn_g);
    let mut body = TrayBody {
        piece: given.piece.clone(),
        wanted_g,
        mass_within_g: given.mass_within_g,
        within_count: 0,
        cuts: Vec::new(),
        too_light: Vec::new(),
        too_heavy: Vec::new(),
        taken_g: 0.0,
        tool_way_mm: 0.0,
        tray_way_mm: 0.0,
        offset: None,
    };
    for one in pieces {
        let over_g = one.mass_g - wanted_g;
        // A reading at the limit is inside; roundings of the difference are not counted.
        if over_g.abs() <= given.mass_within_g + 1e-9 {
            body.within_count += 1;
        } else if over_g < 0.0 {
            body.too_light.push(one.serial.clone());
        } else {
            let mut lines = allowed
                .iter()
                .map(|d| cut(given, &piece, d, one.mass_g, over_g));
            match lines.find(|line| line.allowed) {
                Some(line) => body.cuts.push(of_tray(one, line)),
                None => body.too_heavy.push(one.serial.clone()),
            }
        }
    }
    body.taken_g = body.cuts.iter().map(|c| c.mass_g - c.mass_after_g).sum();
    body.tray_way_mm = way_mm(&body.cuts);
    let place = |name: &str| allowed.iter().position(|d| d.name == name);
    body.cuts.sort_by(|a, b| {
        let by_name = place(&a.name).cmp(&place(&b.name));
        by_name.then(a.set_mm.total_cmp(&b.set_mm))
    });
    body.tool_way_mm = way_mm(&body.cuts);
    let since = pieces.iter().skip(offset_at);
    let masses: Vec<f64> = since.map(|p| p.mass_g).collect();
    body.offset = offset(given, &piece, &allowed, wanted_g, &masses);
    Ok(words::tray(given, body, pieces.len()))
}

fn of_tray(one: &Weighed, line: CutLine) -> TrayCut {
    TrayCut {
        serial: one.serial.clone(),
        mass_g: one.mass_g,
        name: line.name,
        surface: line.surface,
        set_mm: line.set_mm,
        mass_after_g: line.mass_after_g,
    }
}

/// The way of the settings, each dimension's tool by itself from 0.
fn way_mm(cuts: &[TrayCut]) -> f64 {
    let mut names: Vec<&str> = cuts.iter().map(|c| c.name.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    let way = |name: &&str| {
        let mut at = 0.0;
        let mut sum = 0.0;
        for cut in cuts.iter().filter(|c| c.name == **name) {
            sum += (cut.set_mm - at).abs();
            at = cut.set_mm;
        }
        sum
    };
    names.iter().map(way).sum()
}

fn piece(given: &Given) -> Result<Piece, Refusal> {
    let found = dimensions(given);
    if !found.iter().any(|d| d.surface != Surface::Taper) {
        return Err(Refusal::NoStraightRun {
            piece: given.piece.clone(),
        });
    }
    Ok(Piece::new(given, found))
}

fn near(serial: &str, read_g: f64, drawn_g: f64) -> Result<(), Refusal> {
    if read_g.is_finite() && (read_g - drawn_g).abs() <= NOT_THIS_SHARE * drawn_g {
        return Ok(());
    }
    Err(Refusal::NotThisPiece {
        serial: serial.to_owned(),
        read_g,
        drawn_g,
    })
}

/// What may be cut, in the order of the wishes; where nothing is said, the face that looks outward
/// and the outside.
fn allowed<'a>(given: &Given, piece: &'a Piece) -> Result<Vec<&'a Dimension>, Refusal> {
    let known = &piece.dimensions;
    let mut out: Vec<&Dimension> = Vec::new();
    for name in &given.cut {
        let found = known.iter().find(|d| d.name == *name);
        let found = found.ok_or_else(|| Refusal::NoDimension {
            name: name.clone(),
            piece: given.piece.clone(),
            known: names(known),
        })?;
        if found.fit {
            return Err(Refusal::BoreIsFit {
                name: name.clone(),
                piece: given.piece.clone(),
            });
        }
        out.push(found);
    }
    if given.cut.is_empty() {
        let size = |d: &&Dimension| d.size_mm.unwrap_or(0.0);
        let of = |surface| {
            known
                .iter()
                .filter(move |d| d.surface == surface && !d.datum)
        };
        let largest = |a: &&Dimension, b: &&Dimension| size(a).total_cmp(&size(b));
        out.extend(of(Surface::Face).max_by(largest));
        out.extend(of(Surface::Outside).max_by(largest));
    }
    if out.is_empty() {
        return Err(Refusal::NothingToCut {
            piece: given.piece.clone(),
        });
    }
    Ok(out)
}

fn names(known: &[Dimension]) -> String {
    let names: Vec<&str> = known.iter().map(|d| d.name.as_str()).collect();
    names.join(", ")
}
