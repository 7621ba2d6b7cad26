//! Bodies held, loaded and solved.

use std::sync::Arc;

use super::elastic::{Axis, Elastic, Support};
use super::loads::Loads;
use super::solver::{Analysed, ElementsError, Factored};

impl Elastic<'_> {
    /// Holds the bodies and factors the stiffness; nodes on the axis stay on it. The nodes `last` are eliminated at the end,
    /// as contacts need (see [`Contact::nodes`](super::Contact::nodes)).
    ///
    /// # Errors
    /// [`ElementsError::Loose`] when a body can still move along the axis.
    pub fn hold(&self, supports: &[Support], last: &[u32]) -> Result<Held<'_>, ElementsError> {
        let mut held = vec![false; self.unknowns()];
        let mut given = vec![0.0; self.unknowns()];
        for (node, place) in self.mesh.nodes.iter().enumerate() {
            held[Axis::Away.of(node as u32)] = place.y <= 0.0;
        }
        for support in supports {
            let unknown = support.axis.of(support.node);
            if unknown >= held.len() {
                return Err(ElementsError::NoSuchNode(support.node));
            }
            held[unknown] = true;
            given[unknown] = support.displacement_mm;
        }
        let mut values = self.values.clone();
        self.pattern.hold(&mut values, &held);
        let analysed = Analysed::of(&self.pattern, last)?;
        let factored = analysed.factor(&self.pattern, &values)?;
        let couple = self.pattern.times(&self.values, &given);
        Ok(Held {
            elastic: self,
            analysed,
            factored,
            held,
            given,
            couple,
        })
    }

    /// The forces that hold the bodies in their displaced state under the loads, unknown by unknown; 0 but for
    /// rounding where nothing holds.
    #[must_use]
    pub fn reactions_n(&self, displacements_mm: &[f64], loads: &Loads) -> Vec<f64> {
        let mut force = self.pattern.times(&self.values, displacements_mm);
        for (force, load) in force.iter_mut().zip(&loads.force) {
            *force -= load;
        }
        force
    }
}

/// Bodies held so that they can be loaded: one factor for any number of loads.
#[derive(Debug)]
pub struct Held<'a> {
    /// The bodies.
    pub elastic: &'a Elastic<'a>,
    analysed: Arc<Analysed>,
    pub(super) factored: Factored,
    pub(super) held: Vec<bool>,
    given: Vec<f64>,
    /// The force that the given displacements alone call up.
    couple: Vec<f64>,
}

impl Held<'_> {
    /// The displacements under a load: unknown by unknown, along and away of each node.
    ///
    /// # Errors
    /// Memory ran out.
    pub fn solve(&self, loads: &Loads) -> Result<Solved, ElementsError> {
        let displacements_mm = self.solve_force(&loads.force, true)?;
        Ok(Solved { displacements_mm })
    }

    /// How many numbers the factor holds.
    #[must_use]
    pub fn factor_count(&self) -> usize {
        self.analysed.factor_count()
    }

    /// The displacements under forces; with the given displacements, or with 0 in their place.
    pub(super) fn solve_force(
        &self,
        force: &[f64],
        moved: bool,
    ) -> Result<Vec<f64>, ElementsError> {
        let mut right = force.to_vec();
        for (unknown, right) in right.iter_mut().enumerate() {
            if moved {
                *right -= self.couple[unknown];
            }
            if self.held[unknown] {
                *right = 0.0;
            }
        }
        let mut out = self.factored.solve(&right)?;
        for (unknown, out) in out.iter_mut().enumerate() {
            if self.held[unknown] {
                *out = if moved { self.given[unknown] } else { 0.0 };
            }
        }
        Ok(out)
    }
}

/// The displaced state.
#[derive(Debug, Clone, PartialEq)]
pub struct Solved {
    /// Along and away for each node, side by side.
    pub displacements_mm: Vec<f64>,
}

impl Solved {
    /// The displacement of a node along the axis and away from it.
    #[must_use]
    pub fn at(&self, node: u32) -> [f64; 2] {
        let first = 2 * node as usize;
        [
            self.displacements_mm[first],
            self.displacements_mm[first + 1],
        ]
    }
}
