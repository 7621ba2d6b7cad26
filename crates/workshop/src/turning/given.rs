//! What comes into the turning station: a turned piece with what it must hold, checked.

use whirlwright_kit::revolve::Segment;

use super::faults::Refusal;
use crate::part::job::Side;
use crate::part::{Limits, Surface};

/// A turned piece whose dimensions can be looked at.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// Name of the piece.
    pub piece: String,
    /// Where it sits.
    pub side: Side,
    /// Its density.
    pub density_g_cm3: f64,
    /// How its density is known.
    pub why: String,
    /// Its loops, the material on their left.
    pub loops: Vec<Vec<Segment>>,
    /// Mass wanted of one; the drawing's where nobody says it.
    pub mass_g: Option<f64>,
    /// How far the mass may be off.
    pub mass_within_g: f64,
    /// Smallest step the lathe is set by; on the diameter for diameters.
    pub step_mm: f64,
    /// Most that may come off a face.
    pub most_face_mm: f64,
    /// Most that may come off an outside diameter.
    pub most_outside_mm: f64,
    /// Least width over all after a cut.
    pub least_width_mm: Option<f64>,
    /// Least outside diameter after a cut.
    pub least_outside_mm: Option<f64>,
    /// Dimensions that may be cut, by name; the outer face and the outside where none is said.
    pub cut: Vec<String>,
    /// Limits that stand already, by the name of the dimension.
    pub held: Vec<(String, Limits)>,
    /// Standard deviation of the scale's readings.
    pub scale_sd_g: f64,
    /// Standard deviation of a cut's depth.
    pub cut_sd_mm: f64,
    /// How far the mass of a cut may be off the drawing's, as a share.
    pub mass_of_cut_share: f64,
    /// Run-out of a turned surface to the bore, full indicator movement.
    pub runout_mm: f64,
    /// Static unbalance that the whole may have.
    pub budget_g_mm: Option<f64>,
    /// Mass of the whole piece, for where its centre goes; none where only this piece is drawn.
    pub whole_mass_g: Option<f64>,
    /// What was taken for granted, in words.
    pub assumed: Vec<String>,
}

impl Given {
    /// Checks what any given piece must keep to.
    ///
    /// # Errors
    /// The first thing that cannot be.
    pub fn checked(self) -> Result<Self, Refusal> {
        let above = |what, read: f64| {
            if read > 0.0 && read.is_finite() {
                return Ok(());
            }
            Err(Refusal::NotPositive { what, read })
        };
        above("how far the mass may be off, in g", self.mass_within_g)?;
        above("the step of the lathe, in mm", self.step_mm)?;
        above("the density, in g/cm³", self.density_g_cm3)?;
        if let Some(mass) = self.mass_g {
            above("the wanted mass, in g", mass)?;
        }
        let not_below = |what, read: f64| {
            if read >= 0.0 && read.is_finite() {
                return Ok(());
            }
            Err(Refusal::Negative { what, read })
        };
        not_below("the standard deviation of the scale, in g", self.scale_sd_g)?;
        not_below("the standard deviation of a cut, in mm", self.cut_sd_mm)?;
        not_below("the run-out, in mm", self.runout_mm)?;
        not_below(
            "the most that may come off a face, in mm",
            self.most_face_mm,
        )?;
        not_below(
            "the most that may come off the outside, in mm",
            self.most_outside_mm,
        )?;
        let wall = |what, read: Option<f64>| read.map_or(Ok(()), |r| not_below(what, r));
        wall("the least width, in mm", self.least_width_mm)?;
        wall("the least outside diameter, in mm", self.least_outside_mm)?;
        Ok(self)
    }

    /// Reads limits a job holds a dimension to, by the letter of its name.
    ///
    /// # Errors
    /// What is wrong with the text.
    pub fn limits_of(name: &str, text: &str) -> Result<Limits, Refusal> {
        let surface = if name.starts_with("bore") {
            Surface::Hole
        } else {
            Surface::Shaft
        };
        Limits::read(text, surface).map_err(|why| Refusal::Limits {
            name: name.to_owned(),
            why,
        })
    }
}
