//! What the job allows, turned into work on the planes.

use super::readings::PlaneGiven;
use super::refusal::Refusal;
use super::work::{PlaneWork, Way, Work, WorkSection};
use crate::part::balance_wishes::{WayWish, WorkSide, WorkWish};
use crate::part::job::{Job, Side};

impl Work {
    /// What the job's `[balance]` block allows on these planes; none where it allows nothing on any.
    ///
    /// A plane left of the middle of the gap is corrected on the left side, one right of it on the
    /// right; a plane in the middle on the side the job names, and not at all where it names both:
    /// a hole on one side alone would make a couple. `rim` is the piece that is worked where the job names none. Holes are kept to
    /// the job's least wall; 0 where it has none.
    ///
    /// # Errors
    /// A piece that the job does not have, or not on that side.
    pub fn of_job(job: &Job, rim: &str, planes: &[PlaneGiven]) -> Result<Option<Self>, Refusal> {
        let wishes = job.balance.as_ref();
        let works = wishes.map_or(&[][..], |wishes| &wishes.works);
        let mut found = Vec::new();
        for (number, plane) in planes.iter().enumerate() {
            let side = match plane.x_mm {
                Some(x) if x < 0.0 => Some(Side::Left),
                Some(x) if x > 0.0 => Some(Side::Right),
                _ => None,
            };
            let fits = |wish: &&WorkWish| match (wish.side, side) {
                (side, None) => side != WorkSide::Both,
                (WorkSide::Both, _) => true,
                (WorkSide::Left, Some(side)) => side == Side::Left,
                (WorkSide::Right, Some(side)) => side == Side::Right,
            };
            let Some(wish) = works.iter().find(fits) else {
                continue;
            };
            let side = side.unwrap_or(match wish.side {
                WorkSide::Left => Side::Left,
                WorkSide::Both | WorkSide::Right => Side::Right,
            });
            found.push(plane_work(job, rim, number, side, wish)?);
        }
        Ok((!found.is_empty()).then(|| Self {
            planes: found,
            least_wall_mm: job.limits.least_wall_mm.unwrap_or(0.0),
            wobble_weight: wishes.and_then(|w| w.wobble_weight).unwrap_or(1.0),
        }))
    }
}

fn plane_work(
    job: &Job,
    rim: &str,
    plane: usize,
    side: Side,
    wish: &WorkWish,
) -> Result<PlaneWork, Refusal> {
    let piece = wish.piece.as_deref().unwrap_or(rim);
    let section = match wish.way {
        WayWish::Weight { .. } => None,
        _ => Some(WorkSection::of_job(job, piece, side)?),
    };
    let middle = middle_mm(job, piece, side);
    let at = |x_mm: Option<f64>| match (x_mm, side) {
        (Some(x), Side::Left) => -x.abs(),
        (Some(x), _) => x,
        (None, _) => middle,
    };
    let way = match wish.way.clone() {
        WayWish::AxialHole {
            diameters_mm,
            radius_mm,
            point_angle_deg,
            depths,
        } => Way::AxialHole {
            diameters_mm,
            radius_mm,
            point_angle_deg,
            depths,
        },
        WayWish::RadialHole {
            diameters_mm,
            x_mm,
            point_angle_deg,
            depths,
        } => Way::RadialHole {
            diameters_mm,
            x_mm: at(x_mm),
            point_angle_deg,
            depths,
        },
        WayWish::Pocket {
            width_mm,
            x_mm,
            span_deg,
            depths,
        } => Way::Pocket {
            width_mm,
            x_mm: at(x_mm),
            span_deg,
            depths,
        },
        WayWish::Pin {
            diameter_mm,
            radius_mm,
            density_g_cm3,
            depths,
        } => Way::Pin {
            diameter_mm,
            radius_mm,
            density_g_cm3,
            depths,
        },
        WayWish::Weight {
            masses_g,
            radius_mm,
            x_mm,
        } => Way::Weight {
            masses_g,
            radius_mm,
            x_mm: at(x_mm),
        },
    };
    Ok(PlaneWork {
        plane,
        way,
        section,
        places: wish.places,
        first_deg: wish.first_deg,
        closed: wish.closed.clone(),
        most_holes: wish.most_holes,
    })
}

/// Middle of a piece along the axle, where it sits on this side; 0 for a piece that is not there.
fn middle_mm(job: &Job, piece: &str, side: Side) -> f64 {
    let found = job.pieces.iter().find(|p| p.name == piece);
    let Some(found) = found else {
        return 0.0;
    };
    let (low, high) = found.outline.reach_mm();
    let middle = 0.5 * (low + high);
    if found.side == Side::Both && side == Side::Left {
        -middle
    } else {
        middle
    }
}
