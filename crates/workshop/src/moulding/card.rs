//! The resin a job asks for: a card of the shelf, and what the job says of it.

use super::faults::Refusal;
use super::tait;
use crate::part::Range;
use crate::part::job::{Job, Piece};
use crate::part::resin::Resin;
use crate::shelf;

/// A kilojoule in joules.
const KILO: f64 = 1e3;
/// A percent as a share.
const PERCENT: f64 = 0.01;

/// The resin of the moulded piece.
pub(super) fn resin(job: &Job, piece: &Piece) -> Result<Resin, Refusal> {
    let wishes = job.resin.clone().unwrap_or_default();
    let word = wishes.card.or_else(|| piece.material.shelf_id.clone());
    let word = word.unwrap_or_else(|| piece.name.clone());
    let found = shelf::resin(&word).ok_or_else(|| {
        let known: Vec<&str> = shelf::resins().iter().map(|r| r.id.as_str()).collect();
        Refusal::NoResin {
            read: word.clone(),
            known: known.join(", "),
        }
    })?;
    let mut resin = found.clone();
    for (key, value) in &wishes.changed {
        change(&mut resin, key, *value);
        resin.why.push(format!("{key}: {value}, as the job says"));
    }
    check(&resin)?;
    Ok(resin)
}

/// Puts a value, in the unit of `RESIN_KEYS`, into its place; a key that is not there does nothing.
fn change(of: &mut Resin, key: &str, value: f64) {
    let (flow, room, heat) = (&mut of.flow, &mut of.room, &mut of.heat);
    let place = match key {
        "flow.index" => &mut flow.index_ratio,
        "flow.bend" => &mut flow.bend_pa,
        "flow.rest" => &mut flow.rest_pa_s,
        "flow.reference" => &mut flow.reference_k,
        "flow.rise" => &mut flow.rise_k_per_pa,
        "flow.first" => &mut flow.first_factor,
        "flow.second" => &mut flow.second_k,
        "room.transition" => &mut room.transition_k,
        "room.rise" => &mut room.rise_k_per_pa,
        "room.melt.volume" => &mut room.melt.volume_m3_per_kg,
        "room.melt.growth" => &mut room.melt.growth_m3_per_kg_k,
        "room.melt.stiffness" => &mut room.melt.stiffness_pa,
        "room.melt.softening" => &mut room.melt.softening_per_k,
        "room.solid.volume" => &mut room.solid.volume_m3_per_kg,
        "room.solid.growth" => &mut room.solid.growth_m3_per_kg_k,
        "room.solid.stiffness" => &mut room.solid.stiffness_pa,
        "room.solid.softening" => &mut room.solid.softening_per_k,
        "room.extra" => &mut room.extra_m3_per_kg,
        "room.extra_per_k" => &mut room.extra_per_k,
        "room.extra_per_pa" => &mut room.extra_per_pa,
        "heat.melt_conductivity" => &mut heat.melt_w_m_k,
        "heat.solid_conductivity" => &mut heat.solid_w_m_k,
        "heat.melt_capacity" => &mut heat.melt_j_kg_k,
        "heat.solid_capacity" => &mut heat.solid_j_kg_k,
        "heat.no_flow" => &mut heat.no_flow_degc,
        "heat.eject" => &mut heat.eject_degc,
        "handling.most_melt" => &mut of.handling.most_melt_degc,
        "heat.latent" => {
            heat.latent_j_kg = value * KILO;
            return;
        }
        "heat.diffusivity" => {
            heat.diffusivity_m2_per_s = Range::exactly(value);
            return;
        }
        "handling.shrinkage" => {
            of.handling.shrinkage_share = Range::exactly(value * PERCENT);
            return;
        }
        _ => return,
    };
    *place = value;
}

/// Whether the numbers could be a resin at all.
fn check(of: &Resin) -> Result<(), Refusal> {
    let not = |why: String| Err(Refusal::Card { why });
    let positive = [
        ("bend", of.flow.bend_pa),
        ("rest", of.flow.rest_pa_s),
        ("second", of.flow.second_k),
        ("transition", of.room.transition_k),
        ("volume of the melt", of.room.melt.volume_m3_per_kg),
        ("volume of the solid", of.room.solid.volume_m3_per_kg),
        ("growth of the melt", of.room.melt.growth_m3_per_kg_k),
        ("stiffness of the melt", of.room.melt.stiffness_pa),
        ("stiffness of the solid", of.room.solid.stiffness_pa),
        ("melt conductivity", of.heat.melt_w_m_k),
        ("solid conductivity", of.heat.solid_w_m_k),
        ("melt capacity", of.heat.melt_j_kg_k),
        ("solid capacity", of.heat.solid_j_kg_k),
        ("diffusivity", of.heat.diffusivity_m2_per_s.low),
    ];
    if let Some((what, read)) = positive.iter().find(|(_, v)| !(v.is_finite() && *v > 0.0)) {
        return not(format!("{what} is {read}; more than 0 was expected"));
    }
    if !(of.flow.index_ratio > 0.0 && of.flow.index_ratio < 1.0) {
        return not(format!(
            "the index of flow is {}; more than 0 and less than 1 was expected",
            of.flow.index_ratio
        ));
    }
    let shrinkage = of.handling.shrinkage_share;
    if !(shrinkage.low > -0.05 && shrinkage.high < 0.2) {
        return not(format!(
            "the shrinkage is {} %; -5 to 20 was expected",
            shrinkage.likely / PERCENT
        ));
    }
    if of.heat.eject_degc >= of.heat.no_flow_degc {
        return not(format!(
            "it is pushed out at {} °C and stops flowing at {} °C; the first must be the colder",
            of.heat.eject_degc, of.heat.no_flow_degc
        ));
    }
    tait::check(&of.room).map_err(|why| Refusal::Card {
        why: why.to_string(),
    })
}
