//! How a rim may be recut: from the flags, the job file, or what is taken for granted.

use std::path::Path;

use serde::Deserialize;
use whirlwright_workshop::design;
use whirlwright_workshop::pairing::{Recut, ring_face_gram_per_mm};
use whirlwright_workshop::part::quantity::{Dimension, Quantity};
use whirlwright_workshop::part::{Basis, Decimal, Job, Trust};

use super::limits::Faults;
use super::section;
use super::wish::Wish;
use crate::error::Trouble;

const SHELF: &str = include_str!("../../../../shelf/defaults.toml");

#[derive(Deserialize)]
struct Shelf {
    recut: ShelfRecut,
}

#[derive(Deserialize)]
struct ShelfRecut {
    rim_outside: ShelfValue,
    rim_inside: ShelfValue,
    rim_density: ShelfValue,
    step: ShelfValue,
    most_face: ShelfValue,
}

#[derive(Deserialize)]
struct ShelfValue {
    value: Decimal,
    unit: String,
}

impl ShelfValue {
    fn text(&self) -> String {
        format!("{} {}", self.value, self.unit)
    }
}

/// A recut and where its numbers come from.
#[derive(Debug, Clone)]
pub struct Allowed {
    /// What pairing reckons with.
    pub recut: Recut,
    /// Where the mass of a millimetre of face comes from.
    pub trust: Trust,
}

/// How rims may be recut: what was typed first, then the job file, then the shelf.
///
/// # Errors
/// What was typed cannot be read, or the job's design has faults.
pub fn allowed(wish: &Wish, job: Option<(&Job, &Path)>) -> Result<Allowed, Trouble> {
    let shelf: Shelf = toml::from_str(SHELF)
        .map_err(|e| Trouble::Ours(format!("shelf/defaults.toml in the program: {e}")))?;
    let shelf = shelf.recut;
    let mut faults = Faults::default();
    let said = job.and_then(|(job, _)| job.recut.as_ref());
    let step = faults.limit("step", wish.step.as_deref(), Dimension::Length);
    let most = faults.limit("most-face", wish.most_face.as_deref(), Dimension::Length);
    let ring = Ring::read(wish, &shelf, &mut faults);
    faults.settle()?;
    let (gram_per_mm, basis, why) = match (ring.typed, job) {
        (true, _) => (ring.gram_per_mm, Basis::Computed, ring.words("as typed")),
        (false, Some((job, path))) if job.recut.is_some() => {
            let (gram_per_mm, why) = of_design(job, path)?;
            (gram_per_mm, Basis::Computed, why)
        }
        _ => (ring.gram_per_mm, Basis::Assumed, ring.words("from memory; name a job file or --rim-outside, --rim-inside, --rim-density to be sure")),
    };
    let recut = Recut {
        gram_per_mm,
        step_mm: step.or(said.map(|r| r.step_mm)).unwrap_or(shelf.step.value),
        most_face_mm: most
            .or(said.map(|r| r.most_face_mm))
            .unwrap_or(shelf.most_face.value),
    };
    let why = format!("{gram_per_mm:.3} g a millimetre of face: {why}");
    Ok(Allowed {
        recut,
        trust: Trust {
            number: "recuts.face_mm".to_owned(),
            basis,
            why,
        },
    })
}

/// The flat ring a face cut takes off.
struct Ring {
    typed: bool,
    outside_mm: f64,
    inside_mm: f64,
    density_g_cm3: f64,
    gram_per_mm: f64,
}

impl Ring {
    fn read(wish: &Wish, shelf: &ShelfRecut, faults: &mut Faults) -> Self {
        let texts = [
            (
                "rim-outside",
                &wish.rim_outside,
                &shelf.rim_outside,
                Dimension::Length,
            ),
            (
                "rim-inside",
                &wish.rim_inside,
                &shelf.rim_inside,
                Dimension::Length,
            ),
            (
                "rim-density",
                &wish.rim_density,
                &shelf.rim_density,
                Dimension::Density,
            ),
        ];
        let [outside_mm, inside_mm, density_g_cm3] = texts.map(|(flag, typed, shelf, of)| {
            let text = typed.clone().unwrap_or_else(|| shelf.text());
            Quantity::read(&text, of)
                .map_err(|e| faults.note(flag, &e.to_string()))
                .map_or(0.0, |q| q.value)
        });
        let typed = [&wish.rim_outside, &wish.rim_inside, &wish.rim_density]
            .iter()
            .any(|t| t.is_some());
        let gram_per_mm = ring_face_gram_per_mm(outside_mm, inside_mm, density_g_cm3);
        if gram_per_mm.is_none() {
            faults.note("rim-outside", "the ring has no face: outside must be larger than inside, and the density above zero");
        }
        Self {
            typed,
            outside_mm,
            inside_mm,
            density_g_cm3,
            gram_per_mm: gram_per_mm.unwrap_or(0.0),
        }
    }

    fn words(&self, from: &str) -> String {
        format!(
            "a flat ring of {} × {} mm and {} g/cm³, {from}",
            self.outside_mm, self.inside_mm, self.density_g_cm3
        )
    }
}

/// What the design says a millimetre of the recut face weighs.
fn of_design(job: &Job, path: &Path) -> Result<(f64, String), Trouble> {
    let name = &job.name;
    if let Some(said) = job.recut.as_ref().and_then(|r| r.gram_per_mm) {
        return Ok((said, format!("said by the job file of {name}")));
    }
    let answer = design::section(&section::of_job(job.clone(), path)?);
    let reckoned = answer.body.recut_gram_per_mm.ok_or_else(|| {
        Trouble::Input(format!(
            "{}: the design of {name} does not say what a millimetre of the face weighs; give gram_per_mm in [recut], or --rim-outside, --rim-inside and --rim-density",
            path.display()
        ))
    })?;
    Ok((reckoned, format!("reckoned from the design of {name}")))
}
