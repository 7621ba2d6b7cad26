//! The force that tries to open the mould: pressure over the area it is seen on along the axle.

use super::cells::{Hollow, Owner};
use super::given::{Channel, Given};
use super::middle::Middle;
use super::scale::{KILO, MM2};

/// Area of every cell as the parting plane sees it, all copies, in m².
///
/// A cavity's rings share its projected area by how far each spreads along the radius, so that an even pressure gives the
/// pressure times the whole. Sprue and runners share theirs by width times length; what starts at the nozzle runs along the
/// axle of the press and counts only where nothing else does.
#[must_use]
pub(super) fn projected_m2(given: &Given, middle: &Middle, hollow: &Hollow) -> Vec<f64> {
    let cells = &hollow.cells;
    let spread = spreads(middle);
    let rings: f64 = spread.iter().sum();
    let mut area = vec![0.0; cells.count()];
    for kind in 0..hollow.kinds.len() {
        let first = hollow.kinds[kind].first;
        for cell in hollow.cells_of(kind) {
            let ring = (cell - first) / hollow.grid[1];
            let share = spread[ring] / rings / hollow.grid[1] as f64;
            area[cell] = share * given.mould.cavity_mm2 * MM2 * cells.copies[cell];
        }
    }
    let weight = |cell: &usize| match cells.owner[*cell] {
        Owner::Feed(branch) => {
            let branch = &given.mould.branches[branch];
            let across = match branch.channel {
                Channel::Round { .. } => 2.0 * cells.half_m[*cell],
                Channel::Slit { .. } => cells.widths[*cell][0],
            };
            let is_sprue = branch.after.is_none() && given.mould.branches.len() > 1;
            let seen = if is_sprue { 0.0 } else { 1.0 };
            seen * across * cells.reach[*cell] * cells.copies[*cell]
        }
        _ => 0.0,
    };
    let feed: f64 = (0..cells.count()).map(|cell| weight(&cell)).sum();
    if feed > 0.0 {
        for (cell, area) in area.iter_mut().enumerate() {
            *area += given.mould.feed_mm2 * MM2 * weight(&cell) / feed;
        }
    }
    area
}

/// How much of the projected area each ring has, not yet made to fit: `2 π r |dr|` from where it meets its neighbours.
fn spreads(middle: &Middle) -> Vec<f64> {
    let ring = |number: usize| {
        let ring = &middle.rings[number];
        let ends = middle
            .links
            .iter()
            .filter(|link| link.one == number || link.other == number)
            .map(|link| (link.radius_mm - ring.radius_mm).abs());
        let (sum, count) = ends.fold((0.0, 0.0), |(sum, count), off| (sum + off, count + 1.0));
        // A ring alone, or one that stands along the axle, is seen from its thickness alone.
        let along = if count > 0.0 { 2.0 * sum / count } else { 0.0 };
        ring.radius_mm * along.max(SEEN_AT_LEAST * ring.thickness_mm)
    };
    (0..middle.rings.len()).map(ring).collect()
}

/// A wall along the axle still shows this share of its thickness over each of its rings.
const SEEN_AT_LEAST: f64 = 0.05;

/// Force on each of: everything, all cavities, the feed; in kN.
#[must_use]
pub fn force_kn(hollow: &Hollow, area_m2: &[f64], p_pa: &[f64]) -> [f64; 3] {
    let mut force = [0.0; 3];
    for (cell, (area, p)) in area_m2.iter().zip(p_pa).enumerate() {
        let newton = area * p.max(0.0);
        let which = if matches!(hollow.cells.owner[cell], Owner::Cavity(_)) {
            1
        } else {
            2
        };
        force[0] += newton / KILO;
        force[which] += newton / KILO;
    }
    force
}
