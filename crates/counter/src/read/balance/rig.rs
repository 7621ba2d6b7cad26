//! What turns on the rig, its planes and its pick-ups.

use whirlwright_workshop::balance::given::{PlaneGiven, SensorGiven};
use whirlwright_workshop::part::AngleSense;
use whirlwright_workshop::part::Dimension::{AngularSpeed, Inertia, Length, Mass, Unbalance};

use super::{End, PieceSaid, Turns};
use crate::read::job::balance::grade;
use crate::read::job::block::{Block, Faults, Span, near};

/// Most planes of one file: a rotor that needs more is no piece of this trade.
const MOST_PLANES: usize = 8;
const MOST_SENSORS: usize = 16;

pub(super) fn sense(block: &Block<'_>, key: &'static str) -> Option<AngleSense> {
    let words = AngleSense::ALL.map(|sense| (sense.word(), sense));
    block.choice(key, &words)
}

/// Which way it turns, and from which end that was seen.
pub(super) fn turns(top: &Block<'_>, faults: &Faults) -> Option<Turns> {
    let ways = [("clockwise", true), ("counter-clockwise", false)];
    let clockwise = top.choice("turns", &ways);
    let seen_from = top.choice("seen_from", &[("left", End::Left), ("right", End::Right)]);
    if top.has("turns") != top.has("seen_from") {
        faults.missing(
            0..0,
            "`turns` and `seen_from` belong together: turns = \"clockwise\" and seen_from = \"left\" were expected, or neither",
        );
    }
    Some(Turns {
        clockwise: clockwise?,
        seen_from: seen_from?,
    })
}

pub(super) fn piece(block: Block<'_>, faults: &Faults) -> PieceSaid {
    let said = PieceSaid {
        mass_g: block.positive("mass", Mass).map(|(q, _)| q.value),
        centre_mm: block.quantity("centre", Length).map(|(q, _)| q.value),
        polar_g_mm2: block
            .positive("polar_inertia", Inertia)
            .map(|(q, _)| q.value),
        transverse_g_mm2: block
            .positive("transverse_inertia", Inertia)
            .map(|(q, _)| q.value),
        rim_radius_mm: block.positive("rim_radius", Length).map(|(q, _)| q.value),
        speed_rpm: block.positive("speed", AngularSpeed).map(|(q, _)| q.value),
        grade_mm_per_s: grade(&block, faults),
        limit_g_mm: block.positive("limit", Unbalance).map(|(q, _)| q.value),
    };
    if said.polar_g_mm2.is_some() != said.transverse_g_mm2.is_some() {
        faults.missing(
            block.span.clone(),
            "[piece] says one moment of inertia; both `polar_inertia` and `transverse_inertia` were expected, or neither",
        );
    }
    block.finish();
    said
}

pub(super) fn planes(blocks: Vec<Block<'_>>, faults: &Faults) -> Vec<PlaneGiven> {
    most(&blocks, MOST_PLANES, "planes", faults);
    let mut names = Names::default();
    let mut planes = Vec::new();
    for block in blocks.into_iter().take(MOST_PLANES) {
        let name = block.needed_text("name", "the plane's name, such as \"left\",");
        let x_mm = block.quantity("place", Length).map(|(q, _)| q.value);
        let radius = if block.has("radius") {
            block.positive("radius", Length).map(|(q, _)| q.value)
        } else {
            block.needed("radius", Length)
        };
        let limit_g_mm = block.positive("limit", Unbalance).map(|(q, _)| q.value);
        if let Some(said) = &name {
            names.add(said.text, &said.span, faults);
        }
        block.finish();
        // A plane without a good radius is told; its name stays known to the runs.
        planes.extend(name.map(|name| PlaneGiven {
            name: name.text.to_owned(),
            x_mm,
            radius_mm: radius.unwrap_or(f64::NAN),
            limit_g_mm,
        }));
    }
    planes
}

pub(super) fn sensors(blocks: Vec<Block<'_>>, faults: &Faults) -> Vec<SensorGiven> {
    most(&blocks, MOST_SENSORS, "pick-ups", faults);
    let mut names = Names::default();
    let mut sensors = Vec::new();
    for block in blocks.into_iter().take(MOST_SENSORS) {
        let name = block.needed_text("name", "the pick-up's name, such as \"left\",");
        let x_mm = block.quantity("place", Length).map(|(q, _)| q.value);
        if let Some(said) = &name {
            names.add(said.text, &said.span, faults);
        }
        block.finish();
        sensors.extend(name.map(|name| SensorGiven {
            name: name.text.to_owned(),
            x_mm,
        }));
    }
    sensors
}

fn most(blocks: &[Block<'_>], most: usize, what: &str, faults: &Faults) {
    if let Some(over) = blocks.get(most) {
        let told = format!(
            "the file has {} {what}; at most {most} were expected",
            blocks.len()
        );
        faults.add(over.span.clone(), told);
    }
}

/// Names that must differ.
#[derive(Default)]
struct Names(Vec<String>);

impl Names {
    fn add(&mut self, name: &str, span: &Span, faults: &Faults) {
        if self.0.iter().any(|known| known == name) {
            faults.add(
                span.clone(),
                format!("the name `{name}` stands twice; another was expected"),
            );
        }
        self.0.push(name.to_owned());
    }
}

/// The number of a thing by its name; a name that is not known is told with the near one.
pub(super) fn place(
    name: &str,
    known: &[&str],
    what: &str,
    span: &Span,
    faults: &Faults,
) -> Option<usize> {
    let found = known.iter().position(|k| *k == name);
    if found.is_none() {
        let list = known.join(", ");
        let told = format!("there is no {what} `{name}`; this file has {list}");
        faults.push(span.clone(), told, near(name, known));
    }
    found
}
