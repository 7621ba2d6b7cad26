//! The parts of the answer, each from what the shot and the cooling gave.

use super::body::{
    CavityLine, ClampLine, CoolingLine, CutSize, CycleLine, CycleStep, DropLine, FillLine,
    HandlingLine, ShotLine, ShrinkageLine, WallPoint, WallProfile,
};
use super::cooling::HalfCooling;
use super::given::Given;
use super::ready::Ready;
use super::scatter::gate_deg;
use super::setup::{
    cavity_size_mm, inventory_factor, residence_s, stroke_mm, swept_cm3, thousand_hours_count,
    thousand_kg,
};
use super::shot::{CavityShot, Shot};
use super::study_plan::hold_s;
use crate::part::Range;
use crate::shelf::known;

/// A percent as a share.
const PERCENT: f64 = 0.01;

pub(super) fn cavities(ready: &Ready, shot: &Shot) -> Vec<CavityLine> {
    let mean = shot.mean_mass_g();
    let numbered = shot.cavities.iter().enumerate();
    numbered
        .map(|(number, c)| cavity(ready, number, c, mean, shot))
        .collect()
}

fn cavity(ready: &Ready, number: usize, c: &CavityShot, mean_g: f64, shot: &Shot) -> CavityLine {
    let shrinks = c.ring_shrinkage_share.iter().enumerate();
    let (ring, most) = shrinks
        .max_by(|(_, a), (_, b)| a.total_cmp(b))
        .map_or((0, 0.0), |(n, s)| (n, *s));
    let stretch = ready.middle.rings.get(ring).map_or(0, |r| r.stretch);
    let from_gate = |gate: f64| (c.unbalance.angle_deg - gate).rem_euclid(360.0);
    CavityLine {
        name: c.name.clone(),
        mass_g: c.mass_g,
        from_mean_percent: (c.mass_g / mean_g - 1.0) / PERCENT,
        // The last corner of all closes the filling, whichever cavity it lies in.
        full_s: c.full_s.or(shot.full_s),
        filled_share: c.filled_share,
        gate_freeze_s: c.gate_freeze_s,
        unbalance: c.unbalance,
        from_gate_deg: gate_deg(&ready.given, number).map(from_gate),
        couple: c.couple,
        eccentricity_um: c.eccentricity_um,
        volume_shrinkage_percent: c.volume_shrinkage_share / PERCENT,
        most_volume_shrinkage_percent: most / PERCENT,
        most_shrinkage_at: ready
            .middle
            .stretches
            .get(stretch)
            .cloned()
            .unwrap_or_default(),
    }
}

pub(super) fn fill(given: &Given, shot: &Shot) -> FillLine {
    let f = &shot.fill;
    let drop = |d: &super::shot::Drop| DropLine {
        name: d.name.clone(),
        pressure_mpa: d.pressure_mpa,
        shear_per_s: d.shear_per_s,
    };
    FillLine {
        switch_s: f.switch_s,
        switch_mpa: f.switch_mpa,
        press_mpa: given.press.most_mpa,
        limited: f.limited,
        flow_cm3_per_s: f.flow_cm3_per_s,
        drops: f.drops.iter().map(drop).collect(),
        short_because: shot.short_because(),
    }
}

pub(super) fn clamp(given: &Given, shot: &Shot) -> ClampLine {
    let lift = &shot.opening;
    let count = given.mould.cavities.len();
    let area_cm2 = given.mould.cavity_mm2 / 100.0;
    let margin = known("mould.rule.clamp_margin").value;
    let wanted_kn = lift.most_kn * margin;
    // kN over cm² are ten MPa.
    let mean_mpa = 10.0 * lift.cavities_kn / (count as f64 * area_cm2);
    ClampLine {
        opening_kn: lift.most_kn,
        wanted_kn,
        press_kn: given.press.clamp_kn,
        share: lift.most_kn / given.press.clamp_kn,
        sum: format!(
            "{count} × {area_cm2:.1} cm² × {mean_mpa:.1} MPa on the mean = {:.0} kN, sprue and runners {:.0} kN, together {:.0} kN after {:.2} s; with a margin of {:.0} % {wanted_kn:.0} kN",
            lift.cavities_kn,
            lift.feed_kn,
            lift.most_kn,
            lift.time_s,
            (margin - 1.0) / PERCENT
        ),
    }
}

pub(super) fn shot(given: &Given, shot: &Shot, cycle_s: f64) -> ShotLine {
    let halves: f64 = shot.cavities.iter().map(|c| c.mass_g).sum();
    let mass_g = halves + shot.feed_mass_g;
    let melt_cm3 = shot.melt_cm3;
    let cm3_per_g = melt_cm3 / mass_g;
    let (press, cushion_mm) = (&given.press, given.process.cushion_mm);
    let stroke = stroke_mm(melt_cm3, press.screw_mm);
    let inventory_g = inventory_factor() * swept_cm3(press.screw_mm, press.stroke_mm) / cm3_per_g;
    let share = (stroke + cushion_mm) / press.stroke_mm;
    ShotLine {
        mass_g,
        feed_g: shot.feed_mass_g,
        melt_cm3,
        stroke_mm: stroke,
        cushion_mm,
        stroke_share: share,
        residence_min: residence_s(inventory_g, mass_g, cycle_s) / 60.0,
        sum: format!(
            "{} halves {halves:.2} g + sprue and runners {:.2} g are {melt_cm3:.2} cm³ of melt: {stroke:.1} mm of a {:.0} mm screw, + {cushion_mm:.1} mm cushion of {:.0} mm",
            shot.cavities.len(),
            shot.feed_mass_g,
            press.screw_mm,
            press.stroke_mm
        ),
    }
}

pub(super) fn cooling(given: &Given, cooled: &HalfCooling) -> CoolingLine {
    CoolingLine {
        needed_s: cooled.needed_s,
        set_s: hold_s(&given.process) + given.process.cooling_s,
        eject_degc: given.resin.heat.eject_degc,
        hot_place: cooled.hot.stretch.clone(),
        hot_axial_mm: cooled.hot.axial_mm,
        hot_radius_mm: cooled.hot.radius_mm,
        hot_wall_mm: cooled.hot.wall_mm,
        plate_s: cooled.plate_s,
        change_percent: cooled.change_share.unwrap_or(0.0).abs() / PERCENT,
    }
}

pub(super) fn shrinkage(ready: &Ready, shot: &Shot) -> ShrinkageLine {
    let n = shot.cavities.len().max(1) as f64;
    let linear = shot
        .cavities
        .iter()
        .map(|c| c.linear_shrinkage_share)
        .sum::<f64>()
        / n;
    let along = known("mould_study.along").range.map(|part| part * linear);
    let size = |name: &str, half_mm: f64| {
        let cavity = |share: f64| cavity_size_mm(half_mm, share);
        CutSize {
            name: name.to_owned(),
            half_mm,
            cavity_mm: cavity(along.likely),
            doubt_mm: 0.5 * (cavity(along.high) - cavity(along.low)),
        }
    };
    let mut sizes = Vec::new();
    if let Some(seat) = ready.seat_mm {
        sizes.push(size("seat of the pressed-on ring, across", seat));
    }
    if let Some(b) = ready.section.bounds() {
        sizes.push(size("largest diameter", 2.0 * b.high.y));
        sizes.push(size("length along the axle", b.high.x - b.low.x));
    }
    let percent = |range: Range| range.map(|s| s / PERCENT);
    ShrinkageLine {
        along_percent: percent(along),
        usual_percent: percent(ready.given.resin.handling.shrinkage_share),
        sizes,
    }
}

pub(super) fn cycle(given: &Given, shot: &Shot) -> CycleLine {
    let p = &given.process;
    let step = |name: &str, time_s: f64| CycleStep {
        name: name.to_owned(),
        time_s,
    };
    let filling = shot.fill.switch_s;
    let steps = vec![
        step("filling", filling),
        step("hold", hold_s(p)),
        step("cooling", p.cooling_s),
        step("opening", p.open_s),
    ];
    let cycle_s: f64 = steps.iter().map(|s| s.time_s).sum();
    let count = given.mould.cavities.len();
    let halves: f64 = shot.cavities.iter().map(|c| c.mass_g).sum();
    let mass_g = halves + shot.feed_mass_g;
    CycleLine {
        cycle_s,
        steps,
        thousand_kg: thousand_kg(mass_g, count),
        thousand_h: thousand_hours_count(cycle_s, count),
        feed_share: shot.feed_mass_g / mass_g,
    }
}

pub(super) fn handling(given: &Given) -> HandlingLine {
    let (h, p) = (&given.resin.handling, &given.process);
    let range = |r: Range, unit: &str| format!("{:.0} to {:.0} {unit}", r.low, r.high);
    let drying = match (h.drying_hours, h.drying_degc) {
        (Some(hours), Some(degc)) => {
            let most = h.moisture_share.map_or_else(String::new, |m| {
                format!(", below {:.2} % of water", m / PERCENT)
            });
            format!(
                "{} at {}{most}; keep the hopper dry",
                range(hours, "h"),
                range(degc, "°C")
            )
        }
        _ => "usually not dried".to_owned(),
    };
    let regrind = match h.regrind_share {
        Some(most) => format!(
            "{:.0} % set, up to {:.0} % usual; a change of share changes weight and shrinkage",
            p.regrind_share / PERCENT,
            most / PERCENT
        ),
        None => format!(
            "{:.0} % set; no usual share is known",
            p.regrind_share / PERCENT
        ),
    };
    let purge = match &p.before {
        Some(before) if *before == given.resin.id => "the same resin ran before".to_owned(),
        Some(before) => format!("{before} ran before: purge until the melt is clear, look at the purge for black specks"),
        None => "not said what ran before (`ran_before` in [process]): find out, and never acetal and PVC in one barrel".to_owned(),
    };
    HandlingLine {
        drying,
        temperatures: format!(
            "melt {} usual, above {:.0} °C it breaks down; wall {} usual",
            range(h.melt_degc, "°C"),
            h.most_melt_degc,
            range(h.wall_degc, "°C")
        ),
        regrind,
        purge,
    }
}

/// Through the wall at the place that cools last; times from the start of filling.
pub(super) fn walls(cooled: &HalfCooling, shot: &Shot) -> Vec<WallProfile> {
    let filled_s = shot.full_s.unwrap_or(0.0);
    let point = |d: &super::cooling::Depth| WallPoint {
        depth_mm: d.depth_mm,
        temperature_degc: d.temperature_degc,
    };
    cooled
        .profiles
        .iter()
        .map(|p| WallProfile {
            place: cooled.hot.stretch.clone(),
            time_s: filled_s + p.time_s,
            points: p.points.iter().map(point).collect(),
        })
        .collect()
}
