//! The outline of the whole piece as the air meets it: outer faces, rim, and the flare of the gap.

use whirlwright_kit::revolve::{Run, Segment, oriented, runs};

use super::faces::FaceStrip;
use super::rim::RimBand;
use crate::part::job::{Job, Side};
use crate::shelf::known;

/// What the air meets.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Profile {
    /// The faces that look away from the gap, both sides.
    pub faces: Vec<FaceStrip>,
    /// The rim, both sides.
    pub rim: Vec<RimBand>,
    /// The walls of the gap outside the bearing, both sides, with the opening there.
    pub gap: Vec<GapStrip>,
    /// The narrowest opening of the gap; 0 where a side is missing.
    pub narrowest_mm: f64,
}

/// A ring of the gap's wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GapStrip {
    /// The ring.
    pub strip: FaceStrip,
    /// How wide the gap is in its middle.
    pub opening_mm: f64,
}

/// Into how many straight strips a curved stretch is cut; the error falls with the square of it.
const CHORDS: usize = 16;

impl Profile {
    /// The outline of a job's pieces, looked at from the right and from the left.
    ///
    /// - **Outer face:** at every radius the outermost surface; a hollow behind it carries its own air.
    /// - **Rim:** at every place along the axle the surface farthest from it, where it stands at less than
    ///   30° to the axle; the torque of a band goes with the power 3.75 of its radius, by which the chords
    ///   of one curve are taken together.
    /// - **Gap:** at every radius beyond `clear_of_mm` (the bearing) the surface nearest the middle.
    /// - A surface at less than 30° to the axle is no face, so nothing is counted twice.
    #[must_use]
    pub fn of(job: &Job, clear_of_mm: f64) -> Self {
        let mut profile = Self {
            narrowest_mm: f64::INFINITY,
            ..Self::default()
        };
        for mirrored in [false, true] {
            let whole = seen(job, mirrored, true);
            let side = seen(job, mirrored, false);
            profile.faces.extend(faces(&whole));
            for band in bands(&side, clear_of_mm) {
                add(&mut profile.rim, band.radius_mm, band.length_mm);
            }
            for wall in walls(&side, clear_of_mm) {
                profile.narrowest_mm = profile.narrowest_mm.min(wall.opening_mm);
                profile.gap.push(wall);
            }
        }
        if !profile.narrowest_mm.is_finite() {
            profile.narrowest_mm = 0.0;
        }
        profile
    }

    /// The surfaces that drag, the gap counted where it is wider than at its narrowest by `more_mm`.
    #[must_use]
    pub fn surfaces(&self, more_mm: f64) -> Surfaces {
        let open = |wall: &&GapStrip| wall.opening_mm > self.narrowest_mm + more_mm;
        Surfaces {
            faces: self.faces.clone(),
            rim: self.rim.clone(),
            gap: self
                .gap
                .iter()
                .filter(open)
                .map(|wall| wall.strip)
                .collect(),
        }
    }
}

/// The surfaces that drag, each kind by its own law.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Surfaces {
    /// Outer faces.
    pub faces: Vec<FaceStrip>,
    /// Rim.
    pub rim: Vec<RimBand>,
    /// Flare of the gap.
    pub gap: Vec<FaceStrip>,
}

impl Surfaces {
    /// The same surfaces with every radius scaled.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Self {
        let strip = |s: &FaceStrip| FaceStrip {
            inner_mm: s.inner_mm * by,
            outer_mm: s.outer_mm * by,
            ..*s
        };
        let band = |b: &RimBand| RimBand {
            radius_mm: b.radius_mm * by,
            ..*b
        };
        Self {
            faces: self.faces.iter().map(strip).collect(),
            rim: self.rim.iter().map(band).collect(),
            gap: self.gap.iter().map(strip).collect(),
        }
    }
}

/// The borders on the right of the middle, or those on the left in a mirror.
fn seen(job: &Job, mirrored: bool, with_centre: bool) -> Vec<Run> {
    let mut found = Vec::new();
    for piece in &job.pieces {
        let as_drawn = match piece.side {
            Side::Both => true,
            Side::Right if !mirrored => true,
            Side::Left if mirrored => false,
            Side::Centre if with_centre => !mirrored,
            _ => continue,
        };
        let loops = piece.outline.loops.iter().map(|l| {
            let segments = l.segments.iter();
            if as_drawn {
                segments.copied().collect()
            } else {
                segments.map(Segment::mirrored).collect()
            }
        });
        found.extend(runs(&oriented(&loops.collect::<Vec<_>>())));
    }
    found
}

/// Ends of runs in one direction, each once, rising.
fn levels(runs: &[Run], of: impl Fn(&Run) -> [f64; 2], from: f64) -> Vec<f64> {
    let mut found: Vec<f64> = runs.iter().flat_map(of).filter(|x| *x > from).collect();
    found.push(from);
    found.sort_by(f64::total_cmp);
    found.dedup();
    found
}

/// The sine of the angle to the axle below which a surface is rim.
fn least_sine() -> f64 {
    known("drag.outline.rim_below").value.to_radians().sin()
}

/// How many straight strips a stretch of a run is cut into.
fn chords(run: &Run) -> usize {
    if matches!(run.segment, Segment::Line(..)) {
        1
    } else {
        CHORDS
    }
}

/// Straight pieces, by two radii and two places, of the run that `better` prefers at every radius.
fn across(runs: &[Run], from: f64, better: impl Fn(f64, f64) -> bool, cuts: usize) -> Vec<Chord> {
    let radii = levels(runs, |r| [r.bounds.low.y, r.bounds.high.y], from);
    let mut found = Vec::new();
    for pair in radii.windows(2) {
        let middle = 0.5 * (pair[0] + pair[1]);
        let over = runs
            .iter()
            .filter(|r| r.bounds.low.y < middle && middle < r.bounds.high.y);
        let mut best: Option<(f64, &Run)> = None;
        for run in over {
            let x = run.place_at(middle);
            if x >= 0.0 && best.is_none_or(|(other, _)| better(x, other)) {
                best = Some((x, run));
            }
        }
        let Some((_, run)) = best else { continue };
        let count = chords(run).max(cuts);
        let at = |n: usize| pair[0] + (pair[1] - pair[0]) * n as f64 / count as f64;
        for n in 0..count {
            found.push(Chord {
                radii: (at(n), at(n + 1)),
                places: (run.place_at(at(n)), run.place_at(at(n + 1))),
            });
        }
    }
    found
}

#[derive(Debug, Clone, Copy)]
struct Chord {
    radii: (f64, f64),
    places: (f64, f64),
}

impl Chord {
    /// The strip, where it stands steeply enough to be a face.
    fn strip(&self) -> Option<FaceStrip> {
        let (rise, run) = (self.radii.1 - self.radii.0, self.places.1 - self.places.0);
        let sine_ratio = rise / rise.hypot(run);
        (sine_ratio >= least_sine()).then_some(FaceStrip {
            inner_mm: self.radii.0,
            outer_mm: self.radii.1,
            sine_ratio,
        })
    }
}

fn faces(whole: &[Run]) -> Vec<FaceStrip> {
    let chords = across(whole, 0.0, |x, other| x > other, 1);
    chords.iter().filter_map(Chord::strip).collect()
}

fn walls(side: &[Run], clear_of_mm: f64) -> Vec<GapStrip> {
    // Cut finely even where straight, so that the flare begins where it does.
    let chords = across(side, clear_of_mm, |x, other| x < other, CHORDS);
    let wall = |chord: &Chord| {
        let opening_mm = chord.places.0 + chord.places.1;
        chord.strip().map(|strip| GapStrip { strip, opening_mm })
    };
    chords.iter().filter_map(wall).collect()
}

/// The rim: at every place along the axle the surface farthest from it, if it is beyond the bearing.
fn bands(side: &[Run], clear_of_mm: f64) -> Vec<RimBand> {
    // The exponent of the torque by the radius, for taking chords of one curve together.
    const POWER: f64 = 3.75;
    let places = levels(side, |r| [r.bounds.low.x, r.bounds.high.x], 0.0);
    let mut found: Vec<RimBand> = Vec::new();
    for pair in places.windows(2) {
        let middle = 0.5 * (pair[0] + pair[1]);
        let over = side
            .iter()
            .filter(|r| r.bounds.low.x < middle && middle < r.bounds.high.x);
        let highest = over
            .map(|run| (run.height_at(middle), run))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        let Some((_, run)) = highest else { continue };
        let count = chords(run);
        let at = |n: usize| pair[0] + (pair[1] - pair[0]) * n as f64 / count as f64;
        let (mut length_mm, mut sum) = (0.0, 0.0);
        for n in 0..count {
            let (r0, r1) = (run.height_at(at(n)), run.height_at(at(n + 1)));
            let length = at(n + 1) - at(n);
            if (r1 - r0).abs() < least_sine() * (r1 - r0).hypot(length) {
                length_mm += length;
                sum += length * (0.5 * (r0 + r1)).powf(POWER);
            }
        }
        if length_mm > 0.0 {
            let radius_mm = (sum / length_mm).powf(1.0 / POWER);
            if radius_mm > clear_of_mm {
                add(&mut found, radius_mm, length_mm);
            }
        }
    }
    found
}

/// Adds a band; bands of one radius are one.
fn add(bands: &mut Vec<RimBand>, radius_mm: f64, length_mm: f64) {
    let same = |band: &&mut RimBand| (band.radius_mm - radius_mm).abs() < 1e-9 * radius_mm;
    match bands.iter_mut().find(same) {
        Some(band) => band.length_mm += length_mm,
        None => bands.push(RimBand {
            radius_mm,
            length_mm,
        }),
    }
}
