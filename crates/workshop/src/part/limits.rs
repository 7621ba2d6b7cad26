//! Limits of a size as a drawing writes them: `48 H7`, `48 H7/s6`, `48 +0.025/0`, `48.065 .. 48.115`.

use serde::{Deserialize, Serialize};

use crate::shelf::{self, GRADES, SizeStep};

/// A size with its limit deviations (ISO 286-1).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Limits {
    /// As it was written.
    pub text: String,
    /// The nominal size.
    pub nominal_mm: f64,
    /// The lower limit deviation, from the nominal size.
    pub lower_um: f64,
    /// The upper limit deviation.
    pub upper_um: f64,
}

/// A hole and a shaft of one nominal size.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FitLimits {
    /// The inner surface: the ring's bore.
    pub hole: Limits,
    /// The outer surface: the spigot.
    pub shaft: Limits,
}

/// Which of the two surfaces of a fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Surface {
    /// An inner surface; capital letters.
    Hole,
    /// An outer surface; small letters.
    Shaft,
}

impl Surface {
    fn word(self) -> &'static str {
        match self {
            Self::Hole => "a hole",
            Self::Shaft => "a shaft",
        }
    }

    fn example(self) -> &'static str {
        match self {
            Self::Hole => "\"48 H7\", \"48 +0.025/0\" or \"48.000 .. 48.025\"",
            Self::Shaft => "\"48 s6\", \"48 +0.115/+0.065\" or \"48.065 .. 48.115\"",
        }
    }
}

/// Why a text gives no limits: what was read, what was expected.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct NotLimits(String);

type Read<T> = Result<T, NotLimits>;

fn refuse<T>(what: String) -> Read<T> {
    Err(NotLimits(what))
}

impl Limits {
    /// Reads the limits of a hole or a shaft; lengths in mm, `mm` may be written behind them.
    ///
    /// # Errors
    /// No nominal size, a letter or grade or size that the table does not have, deviations upside
    /// down, or the other surface's case of letter.
    pub fn read(text: &str, surface: Surface) -> Read<Self> {
        let plain = plain(text);
        if let Some((low, high)) = plain.split_once("..") {
            return between(text, number(low, surface)?, number(high, surface)?);
        }
        let (nominal, rest) = nominal(&plain, surface)?;
        let (lower_um, upper_um) = deviations(nominal, rest, surface)?;
        checked(text, nominal, lower_um, upper_um)
    }

    /// Least size.
    #[must_use]
    pub fn least_mm(&self) -> f64 {
        self.nominal_mm + self.lower_um / UM
    }

    /// Largest size.
    #[must_use]
    pub fn most_mm(&self) -> f64 {
        self.nominal_mm + self.upper_um / UM
    }

    /// The middle between the limits.
    #[must_use]
    pub fn middle_mm(&self) -> f64 {
        self.nominal_mm + 0.5 * (self.lower_um + self.upper_um) / UM
    }

    /// Distance of the limits.
    #[must_use]
    pub fn width_um(&self) -> f64 {
        self.upper_um - self.lower_um
    }
}

impl FitLimits {
    /// Reads a fit such as `48 H7/s6`: the hole's class first, as ISO 286-1 writes it.
    ///
    /// # Errors
    /// As [`Limits::read`]; also where there are not two classes.
    pub fn read(text: &str) -> Read<Self> {
        let plain = plain(text);
        let (size, rest) = nominal(&plain, Surface::Hole)?;
        let Some((hole, shaft)) = rest.split_once('/').filter(|_| starts_with_letter(rest)) else {
            return refuse(format!(
                "`{text}` is no fit: a size with the class of the hole and of the shaft was expected, such as \"48 H7/s6\"; limits of other kinds go to `hole` and `shaft`"
            ));
        };
        let of = |class: &str, surface| {
            let class = class.trim();
            let (lower, upper) = deviations(size, class, surface)?;
            checked(&format!("{size} {class}"), size, lower, upper)
        };
        Ok(Self {
            hole: of(hole, Surface::Hole)?,
            shaft: of(shaft, Surface::Shaft)?,
        })
    }

    /// Least interference on the diameter; negative for clearance.
    #[must_use]
    pub fn least_interference_um(&self) -> f64 {
        difference_um(&self.shaft, &self.hole) + self.shaft.lower_um - self.hole.upper_um
    }

    /// Largest interference on the diameter; negative for clearance.
    #[must_use]
    pub fn most_interference_um(&self) -> f64 {
        difference_um(&self.shaft, &self.hole) + self.shaft.upper_um - self.hole.lower_um
    }
}

/// µm in a mm.
const UM: f64 = 1000.0;

/// What the nominal sizes themselves bring, in µm.
fn difference_um(shaft: &Limits, hole: &Limits) -> f64 {
    (shaft.nominal_mm - hole.nominal_mm) * UM
}

/// Without `mm`, with plain signs.
fn plain(text: &str) -> String {
    let text = text.replace('\u{2212}', "-").replace("mm", " ");
    text.replace("+/-", "±")
        .replace("+-", "±")
        .replace('Ø', " ")
}

fn starts_with_letter(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_alphabetic())
}

fn number(text: &str, surface: Surface) -> Read<f64> {
    let text = text.trim();
    match text.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        _ => {
            let hint = if text.contains(',') {
                "; write a point, not a comma"
            } else {
                ""
            };
            refuse(format!(
                "`{text}` is no number in mm: the limits of {} were expected, such as {}{hint}",
                surface.word(),
                surface.example()
            ))
        }
    }
}

/// The size in front, and what follows it.
fn nominal(plain: &str, surface: Surface) -> Read<(f64, &str)> {
    let text = plain.trim();
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
        .unwrap_or(text.len());
    let size = number(&text[..end], surface)?;
    if size <= 0.0 {
        return refuse(format!(
            "`{text}`: a nominal size of more than 0 mm was expected"
        ));
    }
    Ok((size, text[end..].trim()))
}

fn between(text: &str, low: f64, high: f64) -> Read<Limits> {
    // Drawings stop at a tenth of a micrometre; the rounding of a difference of sizes lies far below.
    let tidy = |um: f64| (um * UM).round() / UM;
    let middle = 0.5 * (low + high);
    let nominal = (middle * 10.0).round() / 10.0;
    checked(
        text,
        nominal,
        tidy((low - nominal) * UM),
        tidy((high - nominal) * UM),
    )
}

fn checked(text: &str, nominal_mm: f64, lower_um: f64, upper_um: f64) -> Read<Limits> {
    let limits = Limits {
        text: text.trim().to_owned(),
        nominal_mm,
        lower_um,
        upper_um,
    };
    if lower_um > upper_um {
        return refuse(format!(
            "`{text}` runs from {} to {} mm: the smaller limit must not be above the larger",
            limits.least_mm(),
            limits.most_mm()
        ));
    }
    if limits.least_mm() <= 0.0 {
        return refuse(format!("`{text}`: a size of more than 0 mm was expected"));
    }
    Ok(limits)
}

/// Lower and upper deviation in µm from what stands behind the size.
fn deviations(nominal: f64, rest: &str, surface: Surface) -> Read<(f64, f64)> {
    if rest.is_empty() {
        return refuse(format!(
            "{nominal} mm has no limits: {} was expected, such as {}",
            surface.word(),
            surface.example()
        ));
    }
    let tidy = |mm: f64| (mm * UM * UM).round() / UM;
    if let Some(either) = rest.strip_prefix('±') {
        let half = tidy(number(either, surface)?);
        return Ok((-half, half));
    }
    if starts_with_letter(rest) {
        return class(nominal, rest, surface);
    }
    let Some((upper, lower)) = rest.split_once('/') else {
        return refuse(format!(
            "`{rest}` behind {nominal} mm are no limits: {} was expected, such as {}",
            surface.word(),
            surface.example()
        ));
    };
    let (upper, lower) = (number(upper, surface)?, number(lower, surface)?);
    Ok((tidy(lower), tidy(upper)))
}

/// Deviations of a tolerance class such as `H7` or `s6`.
fn class(nominal: f64, text: &str, surface: Surface) -> Read<(f64, f64)> {
    let at = text
        .find(|c: char| !c.is_ascii_alphabetic())
        .unwrap_or(text.len());
    let (letter, digits) = text.split_at(at);
    let capital = letter.chars().all(|c| c.is_ascii_uppercase());
    if capital != (surface == Surface::Hole) {
        return refuse(format!(
            "`{text}` is not the class of {}: holes have capital letters, shafts small ones",
            surface.word()
        ));
    }
    let (low, high) = shelf::sizes_mm();
    let Some(step) = shelf::size_step(nominal) else {
        return refuse(format!(
            "the table of ISO 286 here runs over {low} up to and including {high} mm, and the size is {nominal} mm: give the limits outright, such as {}",
            surface.example()
        ));
    };
    let grade = digits.trim().parse::<u32>().ok();
    let Some((grade, width)) = grade.and_then(|g| Some((g, step.grade_um(g)?))) else {
        return refuse(format!(
            "`{text}`: the table has the grades {} to {}; give the limits outright, such as {}",
            GRADES.start(),
            GRADES.end(),
            surface.example()
        ));
    };
    let small = letter.to_ascii_lowercase();
    let found = match surface {
        Surface::Shaft => shaft(step, &small, grade, width),
        Surface::Hole => hole(step, &small, grade, width),
    };
    found.map_or_else(
        || {
            refuse(format!(
                "`{text}` is not in the table for {nominal} mm (letters f, g, h, js, k, m, n, p, r, s, t from 24 mm, u, x; K only to grade 8, K to X of grade 5 not): give the limits outright, such as {}",
                surface.example()
            ))
        },
        Ok,
    )
}

/// ISO 286-1 for shafts; deviations in µm.
fn shaft(step: &SizeStep, letter: &str, grade: u32, width: f64) -> Option<(f64, f64)> {
    match letter {
        "h" => Some((-width, 0.0)),
        "js" => Some((-0.5 * width, 0.5 * width)),
        "f" | "g" => {
            let es = step.deviation_um(letter)?;
            Some((es - width, es))
        }
        // The tabulated k is that of the grades to 7; coarser ones start at the nominal size.
        "k" if grade > 7 => Some((0.0, width)),
        _ => {
            let ei = step.deviation_um(letter)?;
            Some((ei, ei + width))
        }
    }
}

/// ISO 286-1 for holes: mirrors of the shafts, K to N (to grade 8) and P to X (to grade 7) raised by
/// the difference to the next finer grade.
fn hole(step: &SizeStep, letter: &str, grade: u32, width: f64) -> Option<(f64, f64)> {
    match letter {
        "h" => return Some((0.0, width)),
        "js" => return Some((-0.5 * width, 0.5 * width)),
        "f" | "g" => {
            let ei = -step.deviation_um(letter)?;
            return Some((ei, ei + width));
        }
        "k" if grade > 8 => return None,
        "n" if grade > 8 => return Some((-width, 0.0)),
        _ => {}
    }
    let raised = grade
        <= if matches!(letter, "k" | "m" | "n") {
            8
        } else {
            7
        };
    let delta = if raised {
        width - step.grade_um(grade - 1)?
    } else {
        0.0
    };
    let es = -step.deviation_um(letter)? + delta;
    Some((es - width, es))
}
