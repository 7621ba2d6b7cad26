//! What each dimension does: exact derivatives of the section's moments.

use whirlwright_kit::revolve::{Moments, Point, Segment, eccentric, moments, swept, tilted};

use super::body::DimensionLine;
use super::dimension::{Dimension, Surface};
use super::given::Given;

/// g/cm³ in g/mm³.
const PER_CUBIC_MM: f64 = 1e-3;
/// The run-out and the offset that lines are told for, in mm.
const HUNDREDTH_MM: f64 = 0.01;
/// µm in a mm.
const UM: f64 = 1000.0;

/// The piece as drawn, and what is turned on it.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    /// Its whole border.
    pub border: Vec<Segment>,
    /// Its moments for density 1.
    pub drawn: Moments,
    /// Its density in g/mm³.
    pub density: f64,
    /// Its dimensions.
    pub dimensions: Vec<Dimension>,
}

/// Mass and the moments of inertia of one piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Mass {
    pub mass_g: f64,
    pub polar_g_mm2: f64,
    pub transverse_g_mm2: f64,
    pub centre_mm: f64,
}

impl Piece {
    pub(super) fn new(given: &Given, dimensions: Vec<Dimension>) -> Self {
        let border = given.loops.concat();
        Self {
            drawn: moments(&border),
            density: given.density_g_cm3 * PER_CUBIC_MM,
            border,
            dimensions,
        }
    }

    pub(super) fn mass(&self) -> Mass {
        self.of(&self.drawn)
    }

    fn of(&self, m: &Moments) -> Mass {
        Mass {
            mass_g: self.density * m.volume,
            polar_g_mm2: self.density * m.polar,
            transverse_g_mm2: self.density * m.transverse(),
            centre_mm: m.centre,
        }
    }

    /// The piece with one dimension's size changed; exact for any change.
    pub(super) fn changed(&self, of: &Dimension, size_mm: f64) -> Mass {
        let by = of.grows * (of.border_per_mm * size_mm);
        let mut border = self.border.clone();
        for stretch in &of.stretches {
            border.extend(swept(stretch, by));
        }
        self.of(&moments(&border))
    }

    /// Mass for 1 mm more of the size.
    pub(super) fn gram_per_mm(&self, of: &Dimension) -> f64 {
        self.density * of.shift().volume
    }

    /// Static unbalance and product of inertia of a surface that runs out by so much.
    pub(super) fn runs_out(&self, of: &Dimension, runout_mm: f64) -> (f64, f64) {
        let (mut across, mut product) = (0.0, 0.0);
        for stretch in &of.stretches {
            let wobble = match of.surface {
                Surface::Face => {
                    let x = stretch.first().map_or(0.0, |s| s.start().x);
                    // Full indicator movement over the diameter is the tilt.
                    let tilt = runout_mm / (2.0 * of.radius_mm());
                    let w = tilted(stretch, x);
                    (w.across * tilt, w.product * tilt)
                }
                // Full indicator movement is twice the offset.
                _ => {
                    let w = eccentric(stretch);
                    (w.across * 0.5 * runout_mm, w.product * 0.5 * runout_mm)
                }
            };
            across += wobble.0;
            product += wobble.1;
        }
        (
            (self.density * across).abs(),
            (self.density * product).abs(),
        )
    }

    /// The line of a dimension, tolerances still open.
    pub(super) fn line(&self, of: &Dimension, whole_mass_g: Option<f64>) -> DimensionLine {
        let shift = of.shift();
        let change = shift.of_moments(&self.drawn);
        let (static_g_mm, couple_g_mm2) = self.runs_out(of, HUNDREDTH_MM);
        let whole_centre_um =
            whole_mass_g.map(|whole| self.density * shift.first / whole * HUNDREDTH_MM * UM);
        DimensionLine {
            name: of.name.clone(),
            surface: of.surface,
            size_mm: of.size_mm,
            datum: of.datum,
            fit: of.fit,
            mass_g_per_mm: self.density * shift.volume,
            polar_g_mm2_per_mm: self.density * shift.polar,
            transverse_g_mm2_per_mm: self.density * change.transverse(),
            centre_mm_per_mm: change.centre,
            whole_centre_um,
            static_g_mm,
            couple_g_mm2,
            held: None,
            worst_mm: None,
            statistical_mm: None,
            worst_grade: None,
            statistical_grade: None,
            mass_share: 0.0,
        }
    }
}

/// The direction in which a cut goes, for the words: less size for outward surfaces.
pub(super) fn cut_sign(of: &Dimension) -> f64 {
    let less = of.surface != Surface::Bore;
    debug_assert!(
        of.grows != Point::default(),
        "every dimension grows somewhere"
    );
    if less { -1.0 } else { 1.0 }
}
