//! Two bodies pushed into each other along a line.

use super::active::{Pressing, settle};
use super::elastic::{Axis, dot};
use super::held::{Held, Solved};
use super::loads::Loads;
use super::mortar::{Hat, hats};
use super::solver::ElementsError;
use crate::mesh::Mesh;

/// How two lines hold each other along the line: the two bounds between which friction lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Grip {
    /// They slide freely.
    Slip,
    /// What presses does not slide from where the bodies met when drawn.
    Stick,
}

/// Two lines that meet.
#[derive(Debug, Clone)]
pub struct Contact {
    hats: Vec<Hat>,
    nodes: Vec<u32>,
}

/// The pressure at one place of the line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinePressure {
    /// The corner node of the first line.
    pub node: u32,
    /// Its place along the axis.
    pub x_mm: f64,
    /// Its distance from the axis.
    pub y_mm: f64,
    /// The pressure, 0 where the lines part.
    pub pressure_mpa: f64,
    /// The shear the second line puts on the first along the way of the first, 0 when it slides freely.
    pub shear_mpa: f64,
    /// The gap across the line, weighed over the elements beside; 0 but for rounding where it presses.
    pub gap_mm: f64,
    /// The area this place stands for, all round.
    pub area_mm2: f64,
}

/// The pressed state.
#[derive(Debug, Clone, PartialEq)]
pub struct ContactAnswer {
    /// The displacements of all bodies.
    pub solved: Solved,
    /// The pressure along the first line, end to end.
    pub line: Vec<LinePressure>,
}

impl ContactAnswer {
    /// The sum of pressure times area.
    #[must_use]
    pub fn force_n(&self) -> f64 {
        let parts = self.line.iter().map(|p| p.pressure_mpa * p.area_mm2);
        parts.sum()
    }

    /// The mean pressure over the line.
    #[must_use]
    pub fn mean_pressure_mpa(&self) -> f64 {
        let area: f64 = self.line.iter().map(|p| p.area_mm2).sum();
        self.force_n() / area
    }

    /// The share of the line's area that still presses.
    #[must_use]
    pub fn pressing_share(&self) -> f64 {
        let area = |all: bool| -> f64 {
            let parts = self.line.iter();
            let kept = parts.filter(|p| all || p.pressure_mpa > 0.0);
            kept.map(|p| p.area_mm2).sum()
        };
        area(false) / area(true)
    }
}

impl Contact {
    /// The contact of the sides labelled `first` and `second`; the pressure is reckoned at the nodes of the first, so take the
    /// finer or the shorter line for it.
    ///
    /// # Errors
    /// A label nobody carries, or lines that do not face each other.
    pub fn new(mesh: &Mesh, first: u32, second: u32) -> Result<Self, ElementsError> {
        let hats = hats(mesh, first, second)?;
        let mut nodes = mesh.nodes_on(first);
        nodes.extend(mesh.nodes_on(second));
        nodes.sort_unstable();
        nodes.dedup();
        Ok(Self { hats, nodes })
    }

    /// The nodes of both lines: those to be eliminated last when the bodies are held.
    #[must_use]
    pub fn nodes(&self) -> &[u32] {
        &self.nodes
    }

    /// Presses the bodies together: drawn they touch, in truth they overlap by `overlap_mm` across the line (below 0:
    /// they stand apart).
    ///
    /// Each body must be held along the axis. With [`Grip::Stick`] a region that is held for form's sake alone is named as
    /// `floating`: its hold is then made to carry no force.
    ///
    /// # Errors
    /// The bodies were held without [`Self::nodes`] last; memory; no state keeps all conditions.
    pub fn press(
        &self,
        held: &Held<'_>,
        loads: &Loads,
        overlap_mm: f64,
        grip: Grip,
        floating: Option<u32>,
    ) -> Result<ContactAnswer, ElementsError> {
        let rows = self.rows(held, grip);
        let compliance = held.factored.among_last(&rows)?;
        let alone = held.solve_force(&loads.force, true)?;
        let count = self.hats.len();
        let along = |row: usize, movement: &[f64]| -> f64 {
            let entries = self.full_row(row).iter();
            entries
                .map(|(u, number)| movement[*u as usize] * number)
                .sum()
        };
        let push: Vec<f64> = (0..rows.len())
            .map(|row| {
                let area = self.hats.get(row).map_or(0.0, |hat| hat.area);
                along(row, &alone) + overlap_mm * area
            })
            .collect();
        let rigid = floating
            .filter(|_| grip == Grip::Stick)
            .map(|region| rigid(held, region));
        let carried: Option<(Vec<f64>, f64)> = rigid.as_ref().map(|movement| {
            let moved = (0..rows.len()).map(|row| along(row, movement));
            (moved.collect(), dot(movement, &loads.force))
        });
        let settled = settle(&Pressing {
            compliance: &compliance,
            push: &push,
            count,
            free: carried.as_ref().map(|(c, force)| (c.as_slice(), *force)),
        })
        .map_err(|error| ElementsError::NotSettled(error.0))?;
        let mut force = loads.force.clone();
        for (row, pressed) in settled.forces.iter().enumerate() {
            for (unknown, number) in self.full_row(row) {
                force[*unknown as usize] -= number * pressed;
            }
        }
        let mut displacements_mm = held.solve_force(&force, true)?;
        if let Some(movement) = &rigid {
            for (u, way) in displacements_mm.iter_mut().zip(movement) {
                *u += way * settled.moved;
            }
        }
        let gap =
            |(row, hat): (usize, &Hat)| -along(row, &displacements_mm) / hat.area - overlap_mm;
        let gaps: Vec<f64> = self.hats.iter().enumerate().map(gap).collect();
        Ok(ContactAnswer {
            line: self.line(held.elastic.mesh, &settled.forces, &gaps, grip),
            solved: Solved { displacements_mm },
        })
    }

    /// Closing of each hat's gap, then sliding.
    fn full_row(&self, row: usize) -> &[(u32, f64)] {
        match self.hats.get(row) {
            Some(hat) => &hat.closing,
            None => &self.hats[row - self.hats.len()].sliding,
        }
    }

    /// The rows without held unknowns, which no force moves.
    fn rows(&self, held: &Held<'_>, grip: Grip) -> Vec<Vec<(u32, f64)>> {
        let both = self.hats.len() * if grip == Grip::Stick { 2 } else { 1 };
        (0..both)
            .map(|row| {
                let entries = self.full_row(row).iter().copied();
                entries.filter(|(u, _)| !held.held[*u as usize]).collect()
            })
            .collect()
    }

    fn line(&self, mesh: &Mesh, forces: &[f64], gaps: &[f64], grip: Grip) -> Vec<LinePressure> {
        let count = self.hats.len();
        self.hats
            .iter()
            .enumerate()
            .map(|(at, hat)| {
                let place = mesh.nodes[hat.node as usize];
                LinePressure {
                    node: hat.node,
                    x_mm: place.x,
                    y_mm: place.y,
                    // The multiplier of a hat is the pressure at its top; rounding may leave it a hair below 0.
                    pressure_mpa: forces[at].max(0.0),
                    shear_mpa: if grip == Grip::Stick {
                        -forces[count + at]
                    } else {
                        0.0
                    },
                    gap_mm: gaps[at],
                    area_mm2: hat.area,
                }
            })
            .collect()
    }
}

/// A region moved by 1 along the axis.
fn rigid(held: &Held<'_>, region: u32) -> Vec<f64> {
    let mesh = held.elastic.mesh;
    let mut out = vec![0.0; held.elastic.unknowns()];
    for (number, nodes) in mesh.triangles.iter().enumerate() {
        if mesh.regions[number] == region {
            for node in nodes {
                out[Axis::Along.of(*node)] = 1.0;
            }
        }
    }
    out
}
