//! A turned piece from a design: which one, what it must hold, what is taken for granted.

use whirlwright_kit::revolve::oriented;

use super::faults::Refusal;
use super::given::Given;
use crate::design;
use crate::part::job::{Job, Piece, Side};
use crate::part::{Decimal, Limits};
use crate::shelf;

impl Given {
    /// From a design with its `[turning]`, `[recut]` and `[fit]` blocks.
    ///
    /// # Errors
    /// The first thing that is missing or cannot be: see [`Refusal`].
    pub fn of_design(design: &design::Given) -> Result<Self, Refusal> {
        let job = design.job();
        let wishes = job.turning.clone().unwrap_or_default();
        let piece = turned(job, wishes.piece.as_deref())?;
        let defaults = shelf::turning_defaults();
        let recut = job.recut.as_ref().filter(|r| r.piece == piece.name);
        let mut assumed = Vec::new();
        let mut or = |said: Option<f64>, default: f64, what: &str, unit: &str| {
            said.unwrap_or_else(|| {
                assumed.push(format!(
                    "{what} {default} {unit}: common practice, no source"
                ));
                default
            })
        };
        let mass_within_g = or(
            wishes.mass_within_g,
            defaults.mass_within_g,
            "a rim may be off by",
            "g",
        );
        let scale_sd_g = or(
            wishes.scale_sd_g,
            defaults.scale_sd_g,
            "standard deviation of the scale",
            "g",
        );
        let cut_sd_mm = or(
            wishes.cut_sd_mm,
            defaults.cut_sd_mm,
            "standard deviation of a cut",
            "mm",
        );
        let runout_mm = or(
            wishes.runout_mm,
            defaults.runout_mm,
            "run-out of a turned surface",
            "mm",
        );
        let step = recut.map(|r| r.step_mm.to_f64());
        let step_mm = or(step, defaults.step_mm, "step of the lathe", "mm");
        let most = recut.map(|r| r.most_face_mm.to_f64());
        let loops: Vec<_> = piece
            .outline
            .loops
            .iter()
            .map(|l| l.segments.clone())
            .collect();
        let answer = design::section(design);
        let given = Self {
            piece: piece.name.clone(),
            side: piece.side,
            density_g_cm3: piece.material.density_g_cm3,
            why: piece.material.why.clone(),
            loops: oriented(&loops),
            mass_g: wishes.mass_g,
            mass_within_g,
            step_mm,
            most_face_mm: most.unwrap_or(defaults.most_outside_mm),
            most_outside_mm: most_outside(design, piece, defaults.most_outside_mm),
            least_width_mm: wishes.least_width_mm,
            least_outside_mm: wishes.least_outside_mm,
            cut: wishes.cut,
            held: held(job, &wishes.held)?,
            scale_sd_g,
            cut_sd_mm,
            mass_of_cut_share: defaults.mass_of_cut_share,
            runout_mm,
            budget_g_mm: job.pairing.unbalance_within_g_mm.map(Decimal::to_f64),
            whole_mass_g: (job.pieces.len() > 1).then_some(answer.body.mass_g),
            assumed,
        };
        given.checked()
    }
}

/// The turned piece: as said, or the one that is recut.
fn turned<'a>(job: &'a Job, said: Option<&str>) -> Result<&'a Piece, Refusal> {
    let name = said.or(job.recut.as_ref().map(|r| r.piece.as_str()));
    let name = name.ok_or(Refusal::NoTurnedPiece)?;
    let found = job.pieces.iter().find(|p| p.name == name);
    found.ok_or_else(|| Refusal::NoPiece {
        name: name.to_owned(),
    })
}

/// Limits that stand: what the job holds, and the bore of its fit.
fn held(job: &Job, said: &[(String, String)]) -> Result<Vec<(String, Limits)>, Refusal> {
    let mut out = Vec::new();
    for (name, text) in said {
        out.push((name.clone(), Given::limits_of(name, text)?));
    }
    let fit = job.fit.as_ref();
    let hole = fit.and_then(|f| f.hole.clone());
    let of_fit = fit
        .and_then(|f| f.fit.as_deref())
        .and_then(|text| crate::part::FitLimits::read(text).ok())
        .map(|limits| limits.hole);
    let hole = match hole {
        Some(text) => Some(Given::limits_of("bore", &text)?),
        None => of_fit,
    };
    if let Some(limits) = hole
        && !out.iter().any(|(name, _)| name.starts_with("bore"))
    {
        out.push((format!("bore {}", limits.nominal_mm), limits));
    }
    Ok(out)
}

/// Most that may come off the outside: common practice, and never so much that the whole's diameter
/// leaves its limits.
fn most_outside(design: &design::Given, piece: &Piece, practice_mm: f64) -> f64 {
    let Some(wanted) = design.job().limits.diameter_mm else {
        return practice_mm;
    };
    let outside = |p: &Piece| {
        let boxes = p.outline.loops.iter().flat_map(|l| &l.segments);
        boxes.fold(0.0f64, |most, s| most.max(2.0 * s.bounds().high.y))
    };
    let own = outside(piece);
    let others = design.job().pieces.iter().filter(|p| p.name != piece.name);
    let other = others.map(outside).fold(0.0, f64::max);
    let least = wanted.value - wanted.within;
    if other >= least || piece.side == Side::Centre {
        return practice_mm;
    }
    (own - least).clamp(0.0, practice_mm)
}
