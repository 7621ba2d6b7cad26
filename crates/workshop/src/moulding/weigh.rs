//! The moulded half on the scale and on the balancer: weight, shrinkage, off-centre mass.

use std::f64::consts::PI;

use super::cells::Hollow;
use super::middle::Middle;
use super::scale::{KILO, kelvin};
use super::shot::CavityShot;
use super::tait::volume;
use crate::part::resin::Room;
use crate::part::{Couple, Unbalance};

/// Temperature at which a half is weighed and measured, in °C.
pub(super) const WEIGHED_DEGC: f64 = 23.0;

/// Weighs one member of a kind of cavity into `piece`; `mass_kg` is that of all cells, all copies.
pub(super) fn weigh(
    hollow: &Hollow,
    middle: &Middle,
    room: &Room,
    mass_kg: &[f64],
    kind: usize,
    piece: &mut CavityShot,
) {
    let [rings, columns] = hollow.grid;
    let first = hollow.kinds[kind].first;
    let cold = volume(room, kelvin(WEIGHED_DEGC), 0.0).m3_per_kg;
    let turn = 2.0 * PI / columns as f64;
    // The middle of the mass of a piece of ring lies a hair nearer to the axle than its arc.
    let chord = if columns > 1 {
        (0.5 * turn).sin() / (0.5 * turn)
    } else {
        0.0
    };
    let (mut u, mut c) = ((0.0, 0.0), (0.0, 0.0));
    let (mut mass, mut space) = (0.0, 0.0);
    for ring in 0..rings {
        let (mut ring_mass, mut ring_space) = (0.0, 0.0);
        let mut off = (0.0, 0.0);
        for column in 0..columns {
            let cell = first + ring * columns + column;
            let m = mass_kg[cell] / hollow.cells.copies[cell];
            let angle = piece.first_column_deg.to_radians() + turn * column as f64;
            let (sin, cos) = angle.sin_cos();
            off = (off.0 + m * cos, off.1 + m * sin);
            ring_mass += m;
            ring_space += hollow.cells.room_m3[cell];
            piece.cell_mass_g.push(m * KILO);
        }
        let arm = middle.rings[ring].radius_mm * KILO * chord;
        let axial = middle.rings[ring].axial_mm;
        u = (u.0 + arm * off.0, u.1 + arm * off.1);
        c = (c.0 + arm * off.0 * axial, c.1 + arm * off.1 * axial);
        piece.mass_radius_g_mm += ring_mass * KILO * middle.rings[ring].radius_mm;
        let shrinkage = 1.0 - ring_mass * cold / ring_space;
        piece.ring_shrinkage_share.push(shrinkage);
        mass += ring_mass;
        space += ring_space;
    }
    piece.mass_g = mass * KILO;
    piece.volume_shrinkage_share = 1.0 - mass * cold / space;
    piece.linear_shrinkage_share = linear_share(piece.volume_shrinkage_share);
    piece.unbalance = Unbalance::from_components(u);
    piece.couple = Couple::from_components(c);
    piece.eccentricity_um = KILO * piece.unbalance.mass_distance_g_mm / piece.mass_g;
}

/// Shrinkage along the part that goes with one of the room, alike all ways.
#[must_use]
pub fn linear_share(shrink_share: f64) -> f64 {
    1.0 - (1.0 - shrink_share).cbrt()
}
