//! What a cell holds at a pressure: the mass of its layers by the equation of Tait.

use super::layers::Layers;
use super::tait::At;
use crate::part::resin::Room;

/// Mass of a room, and how it grows with pressure.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Held {
    /// Mass for a room of one, in kg/m³.
    pub density_kg_m3: f64,
    /// Its growth with pressure, in kg/(m³·Pa) (unit here).
    pub growth_factor: f64,
}

/// The equation of Tait of every layer, for temperatures that stand still while a pressure is sought.
#[derive(Debug, Clone)]
pub struct Stores {
    at: Vec<At>,
    count: usize,
}

impl Stores {
    /// None yet.
    #[must_use]
    pub fn none(cells: usize, count: usize) -> Self {
        Self {
            at: vec![At::default(); cells * count],
            count,
        }
    }

    /// Takes the temperatures of all layers.
    pub fn take(&mut self, room: &Room, t_k: &[f64]) {
        for (at, t) in self.at.iter_mut().zip(t_k) {
            *at = At::of(room, *t);
        }
    }

    /// What a cell holds at a pressure in Pa.
    #[must_use]
    pub fn held(&self, layers: &Layers, cell: usize, pa: f64) -> Held {
        let at = &self.at[cell * self.count..(cell + 1) * self.count];
        let (mut mass, mut growth, mut all) = (0.0, 0.0, 0.0);
        for (at, room) in at.iter().zip(&layers.room) {
            let volume = at.volume(pa);
            let density = 1.0 / volume.m3_per_kg;
            mass += room * density;
            growth -= room * density * density * volume.per_pa;
            all += room;
        }
        Held {
            density_kg_m3: mass / all,
            growth_factor: growth / all,
        }
    }
}
