//! A lot of pieces drawn with the errors of the drawing.

use whirlwright_kit::random::SplitMix64;

use super::draws::{disc, quantile, share_interval};
use super::free_rotor::tilt_rad;
use super::given::LimitGiven;
use super::limit_body::LotShare;
use super::tolerance::Worst;
use super::vectors::{Vector, couple_vector, in_planes, vector};

/// Steps of the picture.
const STEPS: usize = 40;

/// Static unbalance of every drawn piece (ascending), and what was counted on the way.
pub(super) struct Lot {
    sizes: Vec<f64>,
    planes_inside: u32,
    mean_tilt: f64,
}

/// Draws pieces: every error in any direction; play at its full size, everything else evenly over the disc
/// up to its worst.
pub(super) fn draw(given: &LimitGiven, errors: &[Worst], plane_limits: [f64; 2]) -> Lot {
    let mut draws = SplitMix64::new(given.seed);
    let centre = given.rotor.centre_mm;
    let [a, b] = [given.planes[0].1 - centre, given.planes[1].1 - centre];
    let drawn = (vector(given.drawn.0), couple_vector(given.drawn.1));
    let mut lot = Lot {
        sizes: Vec::with_capacity(given.draws as usize),
        planes_inside: 0,
        mean_tilt: 0.0,
    };
    for _ in 0..given.draws {
        let (mut resultant, mut moment): (Vector, Vector) = drawn;
        for error in errors {
            let way = disc(&mut draws, error.always_full);
            resultant += way * error.static_g_mm;
            moment += way * error.couple_g_mm2;
        }
        let planes = in_planes(resultant, moment, a, b);
        let inside = planes
            .iter()
            .zip(plane_limits)
            .all(|(u, limit)| u.norm() <= limit);
        lot.planes_inside += u32::from(inside);
        lot.mean_tilt += tilt_rad(moment.norm(), given.inertia);
        lot.sizes.push(resultant.norm());
    }
    lot.mean_tilt /= f64::from(given.draws);
    lot.sizes.sort_by(f64::total_cmp);
    lot
}

impl Lot {
    /// How many pieces are inside a limit.
    fn inside(&self, limit_g_mm: f64) -> u32 {
        self.sizes.partition_point(|u| *u <= limit_g_mm) as u32
    }

    /// Share of the pieces inside a limit.
    pub(super) fn share_inside(&self, limit_g_mm: f64) -> f64 {
        f64::from(self.inside(limit_g_mm)) / self.sizes.len().max(1) as f64
    }

    /// The lot against the limit.
    pub(super) fn against(&self, given: &LimitGiven, limit_g_mm: f64) -> LotShare {
        let all = self.sizes.len() as u32;
        let inside = self.inside(limit_g_mm);
        let (low, high) = share_interval(inside, all);
        let largest = self.sizes.last().copied().unwrap_or_default();
        let step_g_mm = largest.max(limit_g_mm) / STEPS as f64;
        let mut counts = vec![0u32; STEPS];
        for size in &self.sizes {
            counts[((size / step_g_mm) as usize).min(STEPS - 1)] += 1;
        }
        let keeps_axis = given.inertia.polar_g_mm2 > given.inertia.transverse_g_mm2;
        LotShare {
            drawn_pieces: all,
            seed: given.seed,
            words: "every error in any direction, by itself; play taken up whole, the others anywhere in the circle of their worst".to_owned(),
            inside_share: self.share_inside(limit_g_mm),
            inside_low_share: low,
            inside_high_share: high,
            planes_inside_share: f64::from(self.planes_inside) / f64::from(all.max(1)),
            mean_g_mm: self.sizes.iter().sum::<f64>() / f64::from(all.max(1)),
            most_of_95_in_100_g_mm: quantile(&self.sizes, 0.95),
            mean_wobble_um: keeps_axis.then_some(self.mean_tilt * given.rim_radius_mm * 1e3),
            counts,
            step_g_mm,
        }
    }
}
