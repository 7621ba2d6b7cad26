//! Tests at rest, positions on a fixture, an eccentricity, and parts that can be turned.

use whirlwright_workshop::balance::given::{
    ClockGiven, ClockJoint, ClockPart, EccentricityGiven, IndexPosition, IndexedGiven, PeriodRun,
    PlaneGiven, RodsGiven, Support,
};
use whirlwright_workshop::part::Dimension::{Angle, Length, Mass, Time};
use whirlwright_workshop::part::{AngleSense, Dimension, Quantity, Range};

use super::rig::{place, sense};
use super::vector::{texts, unbalance};
use crate::read::job::block::{Block, Faults};

/// `[rest]`: on rods or rollers.
pub(super) fn at_rest(block: Block<'_>, faults: &Faults) -> Option<RodsGiven> {
    let words = [("rods", false), ("rollers", true)];
    if !block.has("on") {
        faults.missing(
            block.span.clone(),
            "[rest] has no `on`; \"rods\" or \"rollers\" was expected",
        );
    }
    let rollers = block.choice("on", &words);
    let support = match rollers {
        Some(true) => Some(Support::Rollers),
        Some(false) => {
            let diameter = if block.has("shaft") {
                block.positive("shaft", Length).map(|(q, _)| q.value)
            } else {
                block.needed("shaft", Length)
            };
            diameter.map(|d| Support::Rods {
                shaft_radius_mm: d / 2.0,
            })
        }
        None => None,
    };
    let _ = block.value("shaft");
    let rest_angles_deg = list(&block, "angles", Angle, faults);
    let mut swings = Vec::new();
    for swing in block.blocks("swing", true) {
        let periods_s = list(&swing, "periods", Time, faults);
        if !swing.has("periods") {
            faults.missing(swing.span.clone(), "a swing has no `periods`; times of a full swing were expected, such as [\"12.3 s\", \"12.1 s\"]");
        }
        swings.push(PeriodRun {
            periods_s,
            mass_g: swing.quantity("mass", Mass).map_or(0.0, |(q, _)| q.value),
            radius_mm: swing
                .quantity("radius", Length)
                .map_or(0.0, |(q, _)| q.value),
            from_heavy_deg: swing
                .quantity("from_heavy", Angle)
                .map_or(0.0, |(q, _)| q.value),
        });
        swing.finish();
    }
    let rolling_arm_um = range(&block, "rolling_arm", Length).map(|r| r.map(|mm| mm * 1000.0));
    block.finish();
    Some(RodsGiven {
        support: support?,
        rest_angles_deg,
        swings,
        rolling_arm_um,
    })
}

/// Quantities, one or a list of them.
fn list(block: &Block<'_>, key: &'static str, of: Dimension, faults: &Faults) -> Vec<f64> {
    let Some(value) = block.value(key) else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for said in texts(value, faults, of.example()) {
        match Quantity::read(said.text, of) {
            Ok(quantity) => out.push(quantity.value),
            Err(why) => faults.add(said.span, format!("`{key}`: {why}")),
        }
    }
    out
}

/// One value, or two with `..` between them.
fn range(block: &Block<'_>, key: &'static str, of: Dimension) -> Option<Range> {
    let two = block
        .value(key)
        .and_then(crate::read::job::block::as_text)
        .is_some_and(|said| said.text.contains(".."));
    if two {
        let (low, high) = block.window(key, of)?;
        return Some(Range::between(low.to_f64(), high.to_f64()));
    }
    block
        .positive(key, of)
        .map(|(q, _)| Range::exactly(q.value))
}

/// `[[position]]`: the part turned on its fixture.
pub(super) fn positions(
    blocks: Vec<Block<'_>>,
    planes: &[PlaneGiven],
    faults: &Faults,
) -> Option<IndexedGiven> {
    const EXAMPLE: &str = "\"0.35 g·mm at 40 deg\"";
    let known: Vec<&str> = planes.iter().map(|plane| plane.name.as_str()).collect();
    let count = blocks.len();
    let mut positions = Vec::new();
    for block in blocks {
        let turned = block.needed("turned", Angle);
        let mut found = vec![Vec::new(); planes.len()];
        let table = block.block("readings", "readings");
        if table.is_none() && !block.has("readings") {
            let what = format!(
                "{} has no `readings`; the unbalance read in every plane was expected, such as readings = {{ left = {EXAMPLE} }}",
                block.name
            );
            faults.missing(block.span.clone(), what);
        }
        for (key, value) in table.iter().flat_map(Block::entries) {
            let Some(n) = place(key.text, &known, "plane", &key.span, faults) else {
                continue;
            };
            let said = texts(value, faults, EXAMPLE);
            found[n] = said
                .iter()
                .filter_map(|said| unbalance(said, faults))
                .collect();
        }
        for (plane, _) in known.iter().zip(&found).filter(|(_, read)| read.is_empty()) {
            faults.missing(
                block.span.clone(),
                format!(
                    "{} has no reading of the plane `{plane}`; one was expected",
                    block.name
                ),
            );
        }
        block.finish();
        positions.extend(turned.map(|index_deg| IndexPosition {
            index_deg,
            readings: found,
        }));
    }
    (positions.len() == count).then_some(IndexedGiven { positions })
}

/// `[recording]`: eccentricity and angle as order tracking gives them.
pub(super) fn eccentricity(block: Block<'_>) -> Option<EccentricityGiven> {
    let size = block.needed("eccentricity", Length);
    let angle = block.needed("angle", Angle);
    let uncertainty_um = block
        .positive("uncertainty", Length)
        .map(|(q, _)| q.value * 1000.0);
    block.finish();
    Some(EccentricityGiven {
        eccentricity_um: size? * 1000.0,
        uncertainty_um,
        angle_deg: angle?,
    })
}

/// `[[part]]`: parts that can be turned against each other before anything is cut.
pub(super) fn parts(
    blocks: Vec<Block<'_>>,
    own: AngleSense,
    faults: &Faults,
) -> Option<ClockGiven> {
    const MOST_MARKS: u32 = 360;
    let (count, mut parts, mut joints) = (blocks.len(), Vec::<ClockPart>::new(), Vec::new());
    for block in blocks {
        let known: Vec<String> = parts.iter().map(|part| part.name.clone()).collect();
        let known: Vec<&str> = known.iter().map(String::as_str).collect();
        let name = block.needed_text("name", "the part's name, such as \"left half\",");
        let x_mm = block.needed("place", Length);
        let said = block.needed_text(
            "unbalance",
            "the part's own unbalance, such as \"0.35 g·mm at 40 deg\",",
        );
        let vector = said.and_then(|said| unbalance(&said, faults));
        let sense = sense(&block, "angles").unwrap_or(own);
        let on = block.text("on");
        let marks = block.whole("marks", 2, MOST_MARKS);
        if !parts.is_empty() {
            let joint = marks.map_or(ClockJoint::Free, ClockJoint::Marks);
            let onto = match on {
                Some(said) => place(said.text, &known, "part before it", &said.span, faults),
                None => Some(0),
            };
            joints.push((onto?, joint));
        }
        block.finish();
        if let (Some(name), Some(x_mm), Some(unbalance)) = (name, x_mm, vector) {
            parts.push(ClockPart {
                name: name.text.to_owned(),
                x_mm,
                unbalance,
                sense,
            });
        }
    }
    (count > 0 && parts.len() == count).then_some(ClockGiven {
        parts,
        joints,
        wobble_weight: 1.0,
    })
}
