//! From what a job says to a shot that can be reckoned; what it does not say the shelf says, and that is remembered.

use std::f64::consts::{FRAC_PI_4, PI};

use super::card;
use super::faults::Refusal;
use super::feed;
use super::given::{Channel, Given, Grid, HoldStep, Mould, Press, Process};
use super::notes::Notes;
use super::section::Section;
use crate::design;
use crate::part::Range;
use crate::part::job::{Job, MaterialKind, Piece};
use crate::part::mould_wishes::{MouldWishes, PressWishes, ProcessWishes};
use crate::part::resin::Resin;
use crate::shelf;

/// N in a kN, and mm³ in a cm³.
const THOUSAND: f64 = 1000.0;
/// A percent as a share.
const PERCENT: f64 = 0.01;

impl Given {
    /// The shot a design's job asks for.
    ///
    /// # Errors
    /// What cannot be: no such piece, resin or runner, a gate off the half, temperatures at which nothing flows or
    /// everything breaks down, resins that must never meet.
    pub fn of_design(design: &design::Given) -> Result<Self, Refusal> {
        let job = design.job();
        let empty = MouldWishes::default();
        let wishes = job.mould.as_ref().unwrap_or(&empty);
        let piece = moulded(job, wishes)?;
        let mut notes = Notes::default();
        let resin = card::resin(job, piece)?;
        let section = cut(job, piece, wishes, &resin, &mut notes)?;
        let mould = mould(wishes, &section, &mut notes)?;
        let press = press(&job.press.unwrap_or_default(), &mut notes);
        let said = job.process.clone().unwrap_or_default();
        let process = process(&said, &resin, &mut notes);
        let given = Self {
            piece: piece.name.clone(),
            resin,
            mould,
            press,
            process,
            grid: Grid::usual(),
            assumed: notes.into_words(),
        };
        given.check()?;
        given.check_gates(&section)?;
        Ok(given)
    }

    /// The same at another fineness.
    #[must_use]
    pub fn with_grid(mut self, grid: Grid) -> Self {
        self.grid = grid;
        self
    }
}

/// The piece the mould makes.
fn moulded<'a>(job: &'a Job, wishes: &MouldWishes) -> Result<&'a Piece, Refusal> {
    if let Some(name) = &wishes.piece {
        let found = job.pieces.iter().find(|p| p.name == *name);
        return found.ok_or_else(|| Refusal::NoPiece { name: name.clone() });
    }
    let card = job.resin.as_ref().and_then(|r| r.card.as_ref());
    let of_resin = |p: &&Piece| {
        let id = p.material.shelf_id.as_deref();
        let is_polymer = p.material.kind == MaterialKind::Polymer;
        is_polymer && (card.is_some() || id.is_some_and(|id| shelf::resin(id).is_some()))
    };
    let found = job.pieces.iter().find(of_resin);
    // A resin the press does not know is told by name.
    let polymer = |p: &&Piece| p.material.kind == MaterialKind::Polymer;
    found
        .or_else(|| job.pieces.iter().find(polymer))
        .ok_or(Refusal::NothingMoulded)
}

/// The section, cut for what the resin shrinks.
fn cut(
    job: &Job,
    piece: &Piece,
    wishes: &MouldWishes,
    resin: &Resin,
    notes: &mut Notes,
) -> Result<Section, Refusal> {
    let usual = resin.handling.shrinkage_share;
    let share = wishes.cut_for_share.unwrap_or_else(|| {
        notes.note(format!(
            "the cavity is cut for a shrinkage of {:.2} %, usual for {}",
            usual.likely / PERCENT,
            resin.id
        ));
        usual.likely
    });
    // A fifth is more than any resin shrinks.
    if !(0.0..0.2).contains(&share) {
        return Err(Refusal::OutOfRange {
            what: "the shrinkage the cavity is cut for, as a share".to_owned(),
            read: share,
            low: 0.0,
            high: 0.2,
        });
    }
    Ok(Section::of_piece(piece, &job.pieces, share))
}

fn mould(wishes: &MouldWishes, section: &Section, notes: &mut Notes) -> Result<Mould, Refusal> {
    let bounds = section.bounds().ok_or_else(|| Refusal::Section {
        why: "it has no outline".to_owned(),
    })?;
    let laid = feed::lay(wishes, section, notes)?;
    let area = |channel: &Channel| match *channel {
        Channel::Round {
            from_mm,
            to_mm,
            length_mm,
        } => 0.5 * (from_mm + to_mm) * length_mm,
        Channel::Slit {
            width_mm,
            length_mm,
            ..
        } => width_mm * length_mm,
    };
    // The sprue stands in the direction of opening and shows its foot; runners lie in the parting.
    let foot = match laid.branches.first().map(|b| b.channel) {
        Some(Channel::Round { to_mm, .. }) => FRAC_PI_4 * to_mm * to_mm,
        _ => 0.0,
    };
    let runners = laid.branches.iter().skip(1);
    let feed_mm2 = foot + runners.map(|b| area(&b.channel)).sum::<f64>();
    let film = |said: Option<Range>, what: &str, name: &str, notes: &mut Notes| {
        said.unwrap_or_else(|| notes.take_range(what, name))
    };
    Ok(Mould {
        cavity_mm2: PI
            * (bounds.high.y.powi(2) - bounds.low.y.powi(2))
            * section.larger_ratio().powi(2),
        feed_mm2,
        pressed_w_m2_k: film(
            wishes.pressed_w_m2_k,
            "heat from resin to steel while pressed on",
            "film.pressed",
            notes,
        ),
        loose_w_m2_k: film(
            wishes.loose_w_m2_k,
            "heat from resin to steel once shrunk off",
            "film.loose",
            notes,
        ),
        branches: laid.branches,
        cavities: laid.cavities,
    })
}

fn press(wishes: &PressWishes, notes: &mut Notes) -> Press {
    let mut or =
        |said: Option<f64>, what: &str, name: &str| said.unwrap_or_else(|| notes.take(what, name));
    let screw_mm = or(wishes.screw_mm, "diameter of the screw", "press.screw");
    let speed = or(
        wishes.most_mm_per_s,
        "fastest speed of the screw",
        "press.speed",
    );
    Press {
        clamp_kn: or(
            wishes.clamp_n.map(|n| n / THOUSAND),
            "clamp force of the press",
            "press.clamp",
        ),
        screw_mm,
        stroke_mm: or(wishes.stroke_mm, "stroke of the screw", "press.stroke"),
        most_mpa: or(
            wishes.most_mpa,
            "most pressure at the nozzle",
            "press.pressure",
        ),
        most_cm3_per_s: FRAC_PI_4 * screw_mm * screw_mm * speed / THOUSAND,
        hold_sd_mpa: or(
            wishes.hold_sd_mpa,
            "scatter of the hold pressure from shot to shot",
            "press.hold_sd",
        ),
        melt_sd_k: or(
            wishes.melt_sd_k,
            "scatter of the melt from shot to shot",
            "press.melt_sd",
        ),
        wall_sd_k: or(
            wishes.wall_sd_k,
            "scatter of the mould wall from shot to shot",
            "press.wall_sd",
        ),
    }
}

fn process(wishes: &ProcessWishes, resin: &Resin, notes: &mut Notes) -> Process {
    let mut usual = |said: Option<f64>, what: &str, of: Range| {
        said.unwrap_or_else(|| {
            let (likely, id) = (of.likely, &resin.id);
            notes.note(format!(
                "{what}: {likely:.0} °C, usual for {id} ({:.0} to {:.0})",
                of.low, of.high
            ));
            likely
        })
    };
    let melt_degc = usual(wishes.melt_degc, "melt", resin.handling.melt_degc);
    let wall_degc = usual(wishes.wall_degc, "mould wall", resin.handling.wall_degc);
    let mut or =
        |said: Option<f64>, what: &str, name: &str| said.unwrap_or_else(|| notes.take(what, name));
    let hold = if wishes.hold.is_empty() {
        vec![HoldStep {
            pressure_mpa: or(None, "hold pressure", "process.hold"),
            time_s: or(None, "hold time", "process.hold_time"),
        }]
    } else {
        let steps = wishes.hold.iter();
        steps
            .map(|step| HoldStep {
                pressure_mpa: step.pressure_mpa,
                time_s: step.time_s,
            })
            .collect()
    };
    let switch = wishes.switch_share.map(|share| share / PERCENT);
    Process {
        melt_degc,
        wall_degc,
        fill_s: or(wishes.fill_s, "fill time", "process.fill"),
        switch_share: or(switch, "switch-over", "process.switch") * PERCENT,
        hold,
        cooling_s: or(wishes.cooling_s, "cooling time", "process.cooling"),
        open_s: or(
            wishes.open_s,
            "opening, pushing out, closing",
            "process.open",
        ),
        cushion_mm: or(wishes.cushion_mm, "cushion", "process.cushion"),
        regrind_share: wishes.regrind_share.unwrap_or(0.0),
        before: wishes.before.clone(),
        weight_within_g: wishes.weight_within_g,
    }
}
