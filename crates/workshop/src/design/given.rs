//! What comes into the design station: a job whose outlines have been checked and turned.

use whirlwright_kit::revolve::{
    Bounds, Run, Segment, Wall, least_wall, oriented, runs, slice_area,
};

use super::faults::{self, Fault, Meet, meets, outline_faults};
use crate::part::Job;
use crate::part::job::{Piece, RecutWishes, Side};

/// How far chords may leave a Bézier curve or an ellipse when walls are looked for, in mm: a
/// tenth of the last digit a micrometer shows. Lines and circles are met exactly.
const FOLLOW_MM: f64 = 1e-4;

/// A job whose outlines are closed, do not cross and stay above the axle.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    job: Job,
    shapes: Vec<Shape>,
    meets: Vec<Meet>,
    recut_gram_per_mm: Option<f64>,
}

/// The section of one piece, as it is drawn.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shape {
    /// Every loop with the material on its left, one after the other.
    pub segments: Vec<Segment>,
    /// The same in stretches that do not turn back.
    pub runs: Vec<Run>,
    /// The box around it.
    pub bounds: Bounds,
    /// Its thinnest wall.
    pub wall: Option<Wall>,
}

impl Given {
    /// Checks every outline of a job and finds walls and overlaps.
    ///
    /// # Errors
    /// All faults at once, each with its piece and the place in the path.
    pub fn new(job: Job) -> Result<Self, Vec<Fault>> {
        let mut found = Vec::new();
        for (piece_number, piece) in job.pieces.iter().enumerate() {
            let of_piece = |fault: faults::OutlineFault| Fault {
                piece_number,
                piece: piece.name.clone(),
                at: fault.at,
                what: fault.what,
            };
            found.extend(outline_faults(&piece.outline).into_iter().map(of_piece));
        }
        if !found.is_empty() {
            return Err(found);
        }
        let shapes: Vec<Shape> = job.pieces.iter().filter_map(shape).collect();
        let borders: Vec<&[Run]> = shapes.iter().map(|s| s.runs.as_slice()).collect();
        let meets = meets(&job.pieces, &borders);
        let recut_gram_per_mm = job
            .recut
            .as_ref()
            .and_then(|r| gram_per_mm(&job, &shapes, r));
        Ok(Self {
            job,
            shapes,
            meets,
            recut_gram_per_mm,
        })
    }

    /// The job.
    #[must_use]
    pub fn job(&self) -> &Job {
        &self.job
    }

    /// Pieces with their shapes.
    pub(super) fn pieces(&self) -> impl Iterator<Item = (&Piece, &Shape)> {
        self.job.pieces.iter().zip(&self.shapes)
    }

    /// Where bodies overlap.
    pub(super) fn meets(&self) -> &[Meet] {
        &self.meets
    }

    /// What a millimetre of the recut face weighs.
    pub(super) fn recut_gram_per_mm(&self) -> Option<f64> {
        self.recut_gram_per_mm
    }
}

fn shape(piece: &Piece) -> Option<Shape> {
    let loops = oriented(&faults::loops(&piece.outline));
    let runs = runs(&loops);
    let bounds = runs.iter().map(|r| r.bounds).reduce(Bounds::with)?;
    let wall = least_wall(&loops, &runs, FOLLOW_MM);
    Some(Shape {
        segments: loops.concat(),
        runs,
        bounds,
        wall,
    })
}

/// Mass of a slice at the face that is recut, per millimetre of cut.
///
/// The larger of the slices at the two ends of the deepest cut: the broken edge of a face is put
/// back after the cut, so the full ring behind it is what a cut takes off.
fn gram_per_mm(job: &Job, shapes: &[Shape], recut: &RecutWishes) -> Option<f64> {
    // cm³ in one mm³.
    const CUBIC_CM: f64 = 1e-3;
    if recut.gram_per_mm.is_some() {
        return recut.gram_per_mm;
    }
    let number = job.pieces.iter().position(|p| p.name == recut.piece)?;
    let (piece, shape) = (&job.pieces[number], &shapes[number]);
    let most = recut.most_face_mm.to_f64();
    let width = shape.bounds.high.x - shape.bounds.low.x;
    let hair = width * 1e-9;
    let area = |depth: f64| {
        let depth = depth.clamp(hair, width - hair);
        let x = if piece.side == Side::Left {
            shape.bounds.low.x + depth
        } else {
            shape.bounds.high.x - depth
        };
        slice_area(&shape.runs, x)
    };
    let area_mm2 = area(0.0).max(area(most));
    Some(area_mm2 * piece.material.density_g_cm3 * CUBIC_CM).filter(|g| *g > 0.0)
}
