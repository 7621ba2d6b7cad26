//! Reading balance readings, format 1: what a rig, rods or a fixture showed, with units in every
//! value; all faults at once, each with its place.

mod rest;
mod rig;
mod runs;
mod vector;

use toml::de::DeTable;
use whirlwright_workshop::balance::given::{ClockGiven, PlaneGiven, Readings};
use whirlwright_workshop::part::AngleSense;

use super::document::{self, Form};
use super::job::JobErrors;
use super::job::block::{Block, Faults};

/// The number of a balance quality grade, `G 6.3` or `6.3 mm/s`; none where the text is none.
#[must_use]
pub fn grade_of(text: &str) -> Option<f64> {
    super::job::balance::grade_of(text)
}

/// An end of the axle from which the piece is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// From the left of the drawing.
    Left,
    /// From the right of the drawing.
    Right,
}

/// Which way the piece turned on the rig.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Turns {
    /// As the hands of a clock go; against them otherwise.
    pub clockwise: bool,
    /// The end it was seen from.
    pub seen_from: End,
}

/// What the file says of the piece; the job says the rest.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct PieceSaid {
    /// Its mass.
    pub mass_g: Option<f64>,
    /// Its centre of mass along the axle.
    pub centre_mm: Option<f64>,
    /// Its inertia about the axle.
    pub polar_g_mm2: Option<f64>,
    /// Its inertia across.
    pub transverse_g_mm2: Option<f64>,
    /// Radius of its rim.
    pub rim_radius_mm: Option<f64>,
    /// The speed it is used at.
    pub speed_rpm: Option<f64>,
    /// The wanted grade.
    pub grade_mm_per_s: Option<f64>,
    /// The permissible residual unbalance.
    pub limit_g_mm: Option<f64>,
}

/// A file of balance readings.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadingsFile {
    /// What was measured.
    pub name: String,
    /// What is to be said of it wherever it is shown.
    pub note: Option<String>,
    /// What stands at 0°.
    pub mark: Option<String>,
    /// Which way it turned, where that was noted.
    pub turns: Option<Turns>,
    /// Which way angles on the piece are counted.
    pub sense: AngleSense,
    /// What the file says of the piece.
    pub piece: PieceSaid,
    /// The correction planes.
    pub planes: Vec<PlaneGiven>,
    /// The readings.
    pub readings: Readings,
    /// Parts that can be turned against each other.
    pub parts: Option<ClockGiven>,
}

const FORM: Form = Form {
    key: "balance_readings",
    what: "a file of balance readings",
};

/// Reads a file of balance readings; `file` is only a name for messages.
///
/// # Errors
/// Every fault of the file at once.
#[expect(
    clippy::redundant_closure,
    reason = "the function itself asks for one lifetime where the document gives two"
)]
pub fn read(text: &str, file: &str) -> Result<ReadingsFile, JobErrors> {
    document::read(text, file, &FORM, |table, faults| whole(table, faults))
}

fn whole<'a>(table: &'a DeTable<'a>, faults: &'a Faults) -> Option<ReadingsFile> {
    let top = Block::new(table, faults, "the file of readings", 0..0);
    let _ = top.value(FORM.key);
    let name = top.needed_text("name", "what was measured, such as \"D26-S017\",");
    let own = |key| top.text(key).map(|said| said.text.to_owned());
    let (note, mark) = (own("note"), own("mark"));
    let turns = rig::turns(&top, faults);
    let said_sense = rig::sense(&top, "angles");
    let sense = said_sense.unwrap_or_default();
    let piece = top
        .block("piece", "[piece]")
        .map(|block| rig::piece(block, faults))
        .unwrap_or_default();
    let planes = rig::planes(top.blocks("plane", false), faults);
    let parts = rest::parts(top.blocks("part", false), sense, faults);
    let readings = readings(&top, &planes, sense, faults);
    top.finish();
    Some(ReadingsFile {
        name: name?.text.to_owned(),
        note,
        mark,
        turns,
        sense,
        piece,
        planes,
        readings: readings?,
        parts,
    })
}

/// The readings by the one method the file holds.
fn readings<'a>(
    top: &Block<'a>,
    planes: &[PlaneGiven],
    sense: AngleSense,
    faults: &'a Faults,
) -> Option<Readings> {
    let sensors = rig::sensors(top.blocks("sensor", false), faults);
    let rig = top.block("rig", "[rig]").map(runs::rig);
    let (blocks, positions) = (top.blocks("run", false), top.blocks("position", false));
    let at_rest = top.block("rest", "[rest]");
    let recording = top.block("recording", "[recording]");
    let methods = [
        ("[[run]]", !blocks.is_empty()),
        ("[[position]]", !positions.is_empty()),
        ("[rest]", at_rest.is_some()),
        ("[recording]", recording.is_some()),
    ];
    let there: Vec<&str> = methods.iter().filter(|m| m.1).map(|m| m.0).collect();
    if there.len() != 1 {
        let found = if there.is_empty() {
            "no readings".to_owned()
        } else {
            there.join(" and ")
        };
        let what = format!(
            "the file has {found}; readings of one kind were expected: [[run]], [[position]], [rest] or [recording]"
        );
        faults.missing(0..0, what);
        return None;
    }
    if !blocks.is_empty() {
        if sensors.is_empty() {
            faults.missing(0..0, "the file has runs and no pick-up; at least one [[sensor]] with a `name` was expected");
            return None;
        }
        if planes.is_empty() {
            faults.missing(0..0, "the file has runs and no plane; at least one [[plane]] with `name` and `radius` was expected");
            return None;
        }
        return runs::runs(blocks, planes, sensors, rig, sense, faults);
    }
    if !positions.is_empty() {
        return rest::positions(positions, planes, faults).map(Readings::Indexed);
    }
    if let Some(block) = at_rest {
        return rest::at_rest(block, faults).map(Readings::Rods);
    }
    rest::eccentricity(recording?).map(Readings::Eccentricity)
}

#[cfg(test)]
mod tests;
