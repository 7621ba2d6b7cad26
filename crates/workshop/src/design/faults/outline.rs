//! Faults of an outline that make it no section at all.

use whirlwright_kit::revolve::{Point, Run, Segment, meetings, moments, oriented, runs};

use crate::part::Outline;

/// Borders nearer than this, in mm, count as touching: a tenth of a nanometre is no wall.
const SAME_PLACE_MM: f64 = 1e-7;

/// How far below the axle, in mm, is still the axle: sums of relative steps round.
const AXLE_MM: f64 = 1e-9;

/// Most crossings said of one outline; one slip can make hundreds.
const MOST_CROSSINGS: usize = 8;

/// A fault of one outline of a job.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("piece `{piece}`: {what}")]
pub struct Fault {
    /// The piece, by its number in the job, from 0.
    pub piece_number: usize,
    /// The piece, by name.
    pub piece: String,
    /// Where in the path, in bytes from its start.
    pub at: usize,
    /// What is wrong and what was expected, with the place in mm.
    pub what: String,
}

/// A fault of one outline, before it is known whose it is.
#[derive(Debug, Clone, PartialEq)]
pub struct OutlineFault {
    /// Where in the path, in bytes from its start.
    pub at: usize,
    /// What is wrong and what was expected, with the place in mm.
    pub what: String,
}

/// The segments of every loop, loop by loop.
#[must_use]
pub fn loops(outline: &Outline) -> Vec<Vec<Segment>> {
    outline.loops.iter().map(|l| l.segments.clone()).collect()
}

/// Every fault of one outline: below the axle, crossing or touching itself, without area.
#[must_use]
pub fn outline_faults(outline: &Outline) -> Vec<OutlineFault> {
    let loops = loops(outline);
    let runs = runs(&loops);
    let mut found = below_axle(outline, &runs);
    found.extend(crossings(outline, &runs));
    if found.is_empty() {
        let volume = moments(&oriented(&loops).concat()).volume;
        if !(volume.is_finite() && volume > 0.0) {
            let what = "the outline encloses no area, so the piece has no volume".to_owned();
            found.push(OutlineFault { at: 0, what });
        }
    }
    found.sort_by_key(|fault| fault.at);
    found
}

fn place(outline: &Outline, run: &Run) -> usize {
    let all = outline.loops.get(run.in_loop);
    all.and_then(|l| l.places.get(run.of)).copied().unwrap_or(0)
}

fn words(p: Point) -> String {
    format!("({:.3}, {:.3}) mm", p.x + 0.0, p.y + 0.0)
}

/// The lowest place of every segment that dips below the axle.
fn below_axle(outline: &Outline, runs: &[Run]) -> Vec<OutlineFault> {
    let mut found: Vec<OutlineFault> = Vec::new();
    for run in runs.iter().filter(|run| run.bounds.low.y < -AXLE_MM) {
        let at = place(outline, run);
        let (a, b) = (run.segment.start(), run.segment.end());
        let low = if a.y < b.y { a } else { b };
        let what = format!(
            "the outline goes below the axle, to {}; y is the radius, so 0 or more was expected",
            words(low)
        );
        // The lowest place may be the joint of two segments: it is one fault.
        if !found
            .iter()
            .any(|fault| fault.at == at || fault.what == what)
        {
            found.push(OutlineFault { at, what });
        }
    }
    found
}

fn crossings(outline: &Outline, runs: &[Run]) -> Vec<OutlineFault> {
    let met = meetings(runs, SAME_PLACE_MM);
    let mut found: Vec<OutlineFault> = Vec::new();
    for meeting in &met {
        let at = place(outline, &runs[meeting.second]);
        let what = format!(
            "the outline crosses or touches itself at {}",
            words(meeting.at)
        );
        // A touch at the joint of two runs is seen by both.
        if found.iter().any(|fault| fault.what == what) {
            continue;
        }
        if found.len() == MOST_CROSSINGS {
            let more = met.len() - MOST_CROSSINGS;
            let what = format!("the outline crosses or touches itself in up to {more} more places");
            found.push(OutlineFault { at, what });
            break;
        }
        found.push(OutlineFault { at, what });
    }
    found
}
