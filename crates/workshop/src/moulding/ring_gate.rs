//! For comparison: the same half fed all round at the hub, as deep as the gate it has.

use std::f64::consts::TAU;

use super::body::RingGateLine;
use super::cycle::shoot;
use super::given::{Channel, Gate};
use super::ready::Ready;
use super::shot::Shot;

/// What a ring gate at the hub would do against the `edge` shot of the same question; none where the half is fed so
/// already, or has no gate.
pub(super) fn with_ring_gate(ready: &Ready, edge: &Shot) -> Option<RingGateLine> {
    let mut asked = ready.clone();
    let place = asked.middle.rings[hub_ring(&asked)?];
    for cavity in &mut asked.given.mould.cavities {
        let Some(Gate {
            after,
            channel:
                Channel::Slit {
                    depth_mm,
                    length_mm,
                    ..
                },
            angle_deg: Some(_),
            ..
        }) = cavity.gates.first().copied()
        else {
            return None;
        };
        let width_mm = TAU * place.radius_mm;
        cavity.gates = vec![Gate {
            after,
            channel: Channel::Slit {
                width_mm,
                depth_mm,
                length_mm,
            },
            axial_mm: place.axial_mm,
            radius_mm: place.radius_mm,
            angle_deg: None,
        }];
    }
    let made = shoot(&asked.given, &asked.middle);
    let pull = |s: &Shot| {
        s.cavities
            .first()
            .map_or(0.0, |c| c.unbalance.mass_distance_g_mm)
    };
    Some(RingGateLine {
        place: asked
            .middle
            .stretches
            .get(place.stretch)
            .cloned()
            .unwrap_or_default(),
        mass_g: made.mean_mass_g(),
        unbalance_g_mm: pull(&made),
        edge_unbalance_g_mm: pull(edge),
        switch_mpa: made.fill.switch_mpa,
        gate_freeze_s: made.gate_freeze_s(),
        fills: made.full_s.is_some(),
    })
}

/// The ring of the hub nearest to the axle; without a hub the ring nearest to it of all.
fn hub_ring(ready: &Ready) -> Option<usize> {
    let middle = &ready.middle;
    let hub = middle.stretches.iter().position(|name| name == "hub");
    let of_hub = |ring: &usize| hub.is_none_or(|hub| middle.rings[*ring].stretch == hub);
    let rings = (0..middle.rings.len()).filter(of_hub);
    rings.min_by(|a, b| {
        middle.rings[*a]
            .radius_mm
            .total_cmp(&middle.rings[*b].radius_mm)
    })
}
