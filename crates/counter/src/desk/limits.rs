//! From what a person typed to checked limits: every fault at once, each naming its flag.

use whirlwright_workshop::pairing::{FitWindow, Joint, Limits};
use whirlwright_workshop::part::Decimal;
use whirlwright_workshop::part::job::{Job, JointWish, PairingWishes};
use whirlwright_workshop::part::quantity::{Dimension, Quantity};

use super::wish::Wish;
use crate::error::Trouble;

/// Faults of what was typed, collected so that all are said at once.
#[derive(Debug, Default)]
pub struct Faults(Vec<String>);

impl Faults {
    /// Reads a limit, or notes the fault under the flag's name.
    pub fn limit(&mut self, flag: &str, text: Option<&str>, of: Dimension) -> Option<Decimal> {
        let read = Quantity::read(text?, of)
            .map_err(|e| e.to_string())
            .and_then(|quantity| {
                quantity
                    .as_limit()
                    .ok_or_else(|| format!("`{quantity}` is too large to reckon with"))
            });
        read.map_err(|why| self.note(flag, &why)).ok()
    }

    /// Notes a fault.
    pub fn note(&mut self, flag: &str, why: &str) {
        self.0.push(format!("--{flag}: {why}"));
    }

    /// Notes the flags that were typed although the question has no use for them.
    pub fn note_typed(&mut self, flags: &[(&str, bool)], why: &str) {
        for (flag, _) in flags.iter().filter(|(_, typed)| *typed) {
            self.note(flag, why);
        }
    }

    /// All faults as one trouble, if there are any.
    ///
    /// # Errors
    /// There are some.
    pub fn settle(self) -> Result<(), Trouble> {
        if self.0.is_empty() {
            Ok(())
        } else {
            Err(Trouble::Input(self.0.join("\n")))
        }
    }
}

/// The limits asked for: what was typed goes before what the job file says.
///
/// # Errors
/// Everything that cannot be read, at once.
pub fn wishes(wish: &Wish, job: Option<&Job>) -> Result<PairingWishes, Trouble> {
    let mut faults = Faults::default();
    let base = job.map(|job| job.pairing).unwrap_or_default();
    let mut limit = |flag: &str, text: &Option<String>, of| faults.limit(flag, text.as_deref(), of);
    let read = PairingWishes {
        mass_within_g: limit("mass-within", &wish.mass_within, Dimension::Mass)
            .or(base.mass_within_g),
        piece_mass_g: limit("piece-mass", &wish.piece_mass, Dimension::Mass).or(base.piece_mass_g),
        piece_within_g: limit("piece-within", &wish.piece_within, Dimension::Mass)
            .or(base.piece_within_g),
        unbalance_within_g_mm: limit(
            "unbalance-within",
            &wish.unbalance_within,
            Dimension::Unbalance,
        )
        .or(base.unbalance_within_g_mm),
        offset_within_mm: limit("offset-within", &wish.offset_within, Dimension::Length)
            .or(base.offset_within_mm),
        fit_window_mm: window(wish.fit_window.as_deref(), &mut faults).or(base.fit_window_mm),
        joint: marks(wish.clock_marks.as_deref(), &mut faults).or(base.joint),
        colour_must_agree: base.colour_must_agree,
    };
    faults.settle()?;
    Ok(read)
}

/// Reads a number of clock marks.
fn marks(text: Option<&str>, faults: &mut Faults) -> Option<JointWish> {
    let text = text?;
    match text.trim().parse() {
        Ok(marks) => Some(JointWish::Keyed { marks }),
        Err(_) => {
            faults.note(
                "clock-marks",
                &format!(
                    "`{text}` is no whole number; write how many marks the joint has, such as 8"
                ),
            );
            None
        }
    }
}

/// Reads `"0.07 mm .. 0.11 mm"`; the first unit may be left out.
fn window(text: Option<&str>, faults: &mut Faults) -> Option<(Decimal, Decimal)> {
    const FLAG: &str = "fit-window";
    let text = text?;
    let Some((low, high)) = text.split_once("..").or_else(|| text.split_once('…')) else {
        faults.note(
            FLAG,
            &format!("`{text}` is no window; write it as \"0.07 mm .. 0.11 mm\""),
        );
        return None;
    };
    let high = high.trim();
    let low = low.trim();
    let unit =
        high.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+'));
    let bare = low.ends_with(|c: char| c.is_ascii_digit() || c == '.');
    let low = if bare {
        format!("{low} {}", unit.trim())
    } else {
        low.to_owned()
    };
    let low = faults.limit(FLAG, Some(&low), Dimension::Length);
    let high = faults.limit(FLAG, Some(high), Dimension::Length);
    low.zip(high)
}

/// Pairs of serials that must not meet.
///
/// # Errors
/// One that is not two serials.
pub fn forbidden(wish: &Wish) -> Result<Vec<(String, String)>, Trouble> {
    let mut faults = Faults::default();
    let mut pairs = Vec::new();
    for text in wish.forbid.iter().filter(|text| !text.trim().is_empty()) {
        let serials: Vec<&str> = text.split(',').map(str::trim).collect();
        match serials.as_slice() {
            [a, b] if !a.is_empty() && !b.is_empty() && a != b => {
                pairs.push(((*a).to_owned(), (*b).to_owned()));
            }
            _ => faults.note(
                "forbid",
                &format!("`{text}` is not two serials; write \"A,B\""),
            ),
        }
    }
    faults.settle()?;
    Ok(pairs)
}

/// The limits on two dressed halves.
#[must_use]
pub fn of_two(wishes: &PairingWishes) -> Limits {
    Limits {
        mass_within_g: wishes.mass_within_g,
        unbalance_within_g_mm: wishes.unbalance_within_g_mm,
        offset_within_mm: wishes.offset_within_mm,
    }
}

/// The fit window, if one is wished.
#[must_use]
pub fn fit(wishes: &PairingWishes) -> Option<FitWindow> {
    wishes
        .fit_window_mm
        .map(|(at_least_mm, at_most_mm)| FitWindow {
            at_least_mm,
            at_most_mm,
        })
}

/// What the joint allows.
#[must_use]
pub fn joint(wishes: &PairingWishes) -> Joint {
    match wishes.joint {
        None => Joint::Unknown,
        Some(JointWish::Free) => Joint::Free,
        Some(JointWish::Keyed { marks }) => Joint::Keyed { marks },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wish(fit_window: &str) -> Wish {
        Wish {
            fit_window: Some(fit_window.to_owned()),
            ..Wish::default()
        }
    }

    #[test]
    fn reads_a_window_with_one_unit_or_two() {
        for text in [
            "0.07 mm .. 0.11 mm",
            "0.07..0.11 mm",
            "0.07mm..0.11mm",
            "70 um .. 0.11 mm",
        ] {
            let (low, high) = wishes(&wish(text), None).unwrap().fit_window_mm.unwrap();
            assert_eq!((low.to_f64(), high.to_f64()), (0.07, 0.11), "{text}");
        }
    }

    #[test]
    fn refuses_everything_that_is_wrong_at_once() {
        let wish = Wish {
            mass_within: Some("0.1".to_owned()),
            piece_mass: Some("57.6 mm".to_owned()),
            ..wish("0.07 mm")
        };
        let told = wishes(&wish, None).unwrap_err().to_string();
        for part in [
            "--mass-within: `0.1` has no unit",
            "--piece-mass: `57.6 mm` is a length",
            "--fit-window",
        ] {
            assert!(told.contains(part), "{part} is not in: {told}");
        }
    }

    #[test]
    fn refuses_forbidden_pairs_that_are_no_pairs() {
        for text in ["A", "A,", "A,A", "A,B,C"] {
            let wish = Wish {
                forbid: vec![text.to_owned()],
                ..Wish::default()
            };
            assert!(forbidden(&wish).is_err(), "{text} was taken");
        }
    }
}
