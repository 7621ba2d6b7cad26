//! A question with its section and middle surface: ready to be shot, at any setting.

use super::faults::Refusal;
use super::given::{Gate, Given, Grid, Process};
use super::middle::Middle;
use super::section::Section;
use crate::design;
use crate::part::limits::{Limits, Surface};

/// A question with everything that is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct Ready {
    /// The question.
    pub given: Given,
    /// The drawn section of the half.
    pub section: Section,
    /// Its middle surface.
    pub middle: Middle,
    /// The outline as SVG path data, for the picture.
    pub outline: String,
    /// Mass of the drawing at the shelf's density.
    pub drawn_mass_g: f64,
    /// Diameter of the seat of a piece that is pressed on, as the job's fit says it.
    pub seat_mm: Option<f64>,
}

impl Ready {
    /// The shot a design's job asks for.
    ///
    /// # Errors
    /// See [`Refusal`].
    pub fn of_design(design: &design::Given, grid: Grid) -> Result<Self, Refusal> {
        let given = Given::of_design(design)?.with_grid(grid);
        let section = Section::of_design(design, &given.piece)?;
        let middle = Middle::of_section(&section.loops, grid.rings_count, section.is_pressed_on)?;
        let job = design.job();
        let piece = job.pieces.iter().find(|p| p.name == given.piece);
        let piece = piece.ok_or_else(|| Refusal::NoPiece {
            name: given.piece.clone(),
        })?;
        let shaft = job.fit.as_ref().and_then(|fit| fit.shaft.as_deref());
        let seat = shaft.and_then(|text| Limits::read(text, Surface::Shaft).ok());
        // g/cm³ over mm³: a thousandth.
        let drawn_mass_g = section.drawn_mm3() * piece.material.density_g_cm3 / 1000.0;
        Ok(Self {
            outline: piece.outline.path.clone(),
            drawn_mass_g,
            seat_mm: seat
                .filter(|_| section.is_pressed_on)
                .map(|l| l.middle_mm()),
            given,
            section,
            middle,
        })
    }

    /// The same at another setting.
    #[must_use]
    pub fn with(&self, process: Process) -> Self {
        Self {
            given: Given {
                process,
                ..self.given.clone()
            },
            ..self.clone()
        }
    }

    /// The same on another grid.
    ///
    /// # Errors
    /// A section that has no middle line.
    pub fn on(&self, grid: Grid) -> Result<Self, Refusal> {
        let loops = &self.section.loops;
        Ok(Self {
            middle: Middle::of_section(loops, grid.rings_count, self.section.is_pressed_on)?,
            given: self.given.clone().with_grid(grid),
            ..self.clone()
        })
    }

    /// The same with all cavities as the mean of them: one is reckoned for all, for what changes with the setting alone.
    ///
    /// Runners and gate are those of the first cavity.
    #[must_use]
    pub fn alike(&self) -> Self {
        let mut alike = self.clone();
        let mould = &mut alike.given.mould;
        let count = mould.cavities.len().max(1) as f64;
        let mean = mould.cavities.iter().map(|c| c.steel_ratio).sum::<f64>() / count;
        if let Some(first) = mould.cavities.first().cloned() {
            for cavity in &mut mould.cavities {
                cavity.steel_ratio = mean;
                // Each keeps the branch it hangs on, so that the feed stays as it is.
                for (gate, of_first) in cavity.gates.iter_mut().zip(&first.gates) {
                    *gate = Gate {
                        after: gate.after,
                        ..*of_first
                    };
                }
            }
        }
        alike
    }
}
