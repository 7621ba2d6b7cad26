//! What comes into the bearing station: a bearing, its lubricant, what it carries; checked.

use crate::part::spin_wishes::BearingWishes;
use crate::part::{Basis, Range, Trust};
use crate::shelf::{self, Lubricant, ShelfBearing, bearing_laws};

/// What is asked of the station.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked<'a> {
    /// The bearing's word on the shelf, where it is said.
    pub word: Option<&'a str>,
    /// What the job says of it; goes before the shelf.
    pub wishes: &'a BearingWishes,
    /// Mass of the piece it carries.
    pub mass_g: f64,
    /// Speed for frequencies and torque.
    pub speed_rpm: f64,
    /// Temperature it runs at.
    pub temperature_degc: f64,
    /// How many times its weight the piece pulls in a hard catch; the shelf's where it is not said.
    pub catch_jerk_ratio: Option<f64>,
}

/// Why there is no such bearing.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum NotABearing {
    /// A word the shelf does not know.
    #[error("`{word}` is no {what} of the shelf; known: {known}{hint}")]
    Unknown {
        /// What was written.
        word: String,
        /// Bearing or lubricant.
        what: &'static str,
        /// The words of the shelf.
        known: String,
        /// The near one, if any.
        hint: String,
    },
    /// A number that is missing.
    #[error(
        "the {what} of the bearing is not said, and the shelf has no bearing {bore_mm} × {outside_mm} mm: say it"
    )]
    Missing {
        /// What is missing.
        what: &'static str,
        /// Bore, mm.
        bore_mm: f64,
        /// Outside, mm.
        outside_mm: f64,
    },
    /// A number that cannot be.
    #[error("{what} is {value}; wanted is {wanted}")]
    Impossible {
        /// What it is of, with its unit.
        what: &'static str,
        /// What was read.
        value: f64,
        /// What would do.
        wanted: String,
    },
    /// More balls than fit.
    #[error(
        "{balls} balls of {ball_mm} mm do not fit on a pitch circle of {pitch_mm} mm: at most {most} do"
    )]
    TooManyBalls {
        /// How many were said.
        balls: u32,
        /// Diameter of a ball, mm.
        ball_mm: f64,
        /// Pitch diameter, mm.
        pitch_mm: f64,
        /// How many fit.
        most: u32,
    },
}

/// A bearing that can be, with its lubricant and load.
#[derive(Debug, Clone)]
pub struct Given {
    /// Its word on the shelf, where it was taken from there.
    pub id: Option<String>,
    /// Bore of the inner ring.
    pub bore_mm: f64,
    /// Outside diameter of the outer ring.
    pub outside_mm: f64,
    /// Width of the rings.
    pub width_mm: f64,
    /// How many balls.
    pub balls: u32,
    /// Diameter of a ball.
    pub ball_mm: f64,
    /// Contact angle.
    pub contact_angle_deg: f64,
    /// What is in it.
    pub lubricant: &'static Lubricant,
    /// Its viscosity as it runs in mm²/s (cSt), where the job says one.
    pub viscosity_cst: Option<Range>,
    /// How much of a flooded bearing's drag there is.
    pub f0_factor: Range,
    /// Friction torque that does not depend on speed.
    pub dry_torque_un_m: Range,
    /// Mass of the piece it carries.
    pub mass_g: f64,
    /// Speed for frequencies and torque.
    pub speed_rpm: f64,
    /// Temperature it runs at.
    pub temperature_degc: f64,
    /// How many times its weight the piece pulls in a hard catch.
    pub catch_jerk_ratio: f64,
    /// Where the numbers come from.
    pub whence: Vec<Trust>,
}

impl Given {
    /// Fills in from the shelf what the job does not say, and checks that the bearing can be.
    ///
    /// # Errors
    /// The first thing that cannot be: an unknown word, a missing or impossible number, more balls than fit.
    pub fn new(asked: Asked<'_>) -> Result<Self, NotABearing> {
        let wishes = asked.wishes;
        let shelved = shelved(asked.word, wishes)?;
        let outside = |kept: fn(&ShelfBearing) -> f64| shelved.map(kept);
        let bore_mm = wishes.bore_mm.or(outside(|b| b.bore_mm.number));
        let outside_mm = wishes.outside_mm.or(outside(|b| b.outside_mm.number));
        let need = |value: Option<f64>, what: &'static str| {
            value.ok_or(NotABearing::Missing {
                what,
                bore_mm: bore_mm.unwrap_or(f64::NAN),
                outside_mm: outside_mm.unwrap_or(f64::NAN),
            })
        };
        let lubricant = lubricant(wishes.lubricant.as_deref())?;
        let balls = wishes.balls.map(f64::from).or(outside(|b| b.balls.number));
        let given = Self {
            id: shelved.map(|b| b.id.clone()),
            bore_mm: need(bore_mm, "bore")?,
            outside_mm: need(outside_mm, "outside diameter")?,
            width_mm: need(wishes.width_mm.or(outside(|b| b.width_mm.number)), "width")?,
            balls: need(balls, "number of balls")? as u32,
            ball_mm: need(
                wishes.ball_mm.or(outside(|b| b.ball_mm.number)),
                "ball diameter",
            )?,
            contact_angle_deg: wishes.contact_angle_deg.unwrap_or(0.0),
            lubricant,
            viscosity_cst: wishes.viscosity_cst,
            f0_factor: wishes.f0_factor.unwrap_or(lubricant.f0_factor),
            dry_torque_un_m: wishes.dry_torque_un_m.unwrap_or(lubricant.dry_torque_un_m),
            mass_g: asked.mass_g,
            speed_rpm: asked.speed_rpm,
            temperature_degc: asked.temperature_degc,
            catch_jerk_ratio: asked
                .catch_jerk_ratio
                .unwrap_or(bearing_laws().catch_jerk_ratio.number),
            whence: whence(wishes, shelved, lubricant),
        };
        given.check()?;
        Ok(given)
    }

    /// Pitch diameter, midway between bore and outside.
    #[must_use]
    pub fn pitch_mm(&self) -> f64 {
        0.5 * (self.bore_mm + self.outside_mm)
    }

    /// The weight of the piece.
    #[must_use]
    pub fn weight_n(&self) -> f64 {
        // Grams to kilograms.
        1e-3 * self.mass_g * bearing_laws().gravity_m_per_s2.number
    }

    fn check(&self) -> Result<(), NotABearing> {
        let fail = |what, value, wanted: String| {
            Err(NotABearing::Impossible {
                what,
                value,
                wanted,
            })
        };
        let above_nought = [
            ("the bore in mm", self.bore_mm),
            ("the width in mm", self.width_mm),
            ("the diameter of a ball in mm", self.ball_mm),
            ("the mass of the piece in g", self.mass_g),
        ];
        for (what, value) in above_nought {
            if !(value.is_finite() && value > 0.0) {
                return fail(what, value, "a number above 0".to_owned());
            }
        }
        let room_mm = 0.5 * (self.outside_mm - self.bore_mm);
        if !(self.outside_mm.is_finite() && room_mm > 0.0) {
            let wanted = format!("more than the bore of {} mm", self.bore_mm);
            return fail("the outside diameter in mm", self.outside_mm, wanted);
        }
        if self.ball_mm >= room_mm {
            let wanted = format!("less than the {room_mm:.3} mm between bore and outside");
            return fail("the diameter of a ball in mm", self.ball_mm, wanted);
        }
        if !(0.0..=60.0).contains(&self.contact_angle_deg) {
            return fail(
                "the contact angle in degrees",
                self.contact_angle_deg,
                "0 to 60".to_owned(),
            );
        }
        if !(self.speed_rpm.is_finite() && self.speed_rpm >= 0.0) {
            return fail(
                "the speed in rpm",
                self.speed_rpm,
                "a number from 0".to_owned(),
            );
        }
        if !(-50.0..=150.0).contains(&self.temperature_degc) {
            let wanted = "-50 to 150, where the law of viscosity holds".to_owned();
            return fail("the temperature in degC", self.temperature_degc, wanted);
        }
        if !(self.catch_jerk_ratio.is_finite() && self.catch_jerk_ratio >= 1.0) {
            let wanted = "1 (the weight alone) or more".to_owned();
            return fail(
                "the pull of a catch by the weight",
                self.catch_jerk_ratio,
                wanted,
            );
        }
        let ranges = [
            ("the factor f0", Some(self.f0_factor)),
            ("the dry torque in µN·m", Some(self.dry_torque_un_m)),
            ("the viscosity in cSt", self.viscosity_cst),
        ];
        for (what, range) in ranges {
            if let Some(range) = range.filter(|r| !r.is_in_order() || r.low < 0.0) {
                let wanted = "from 0 upwards, low to high".to_owned();
                return fail(what, range.low, wanted);
            }
        }
        self.balls_fit()
    }

    fn balls_fit(&self) -> Result<(), NotABearing> {
        let most = most_balls(self.ball_mm, self.pitch_mm());
        if self.balls == 0 {
            return Err(NotABearing::Impossible {
                what: "the number of balls",
                value: 0.0,
                wanted: format!("1 to {most}"),
            });
        }
        if self.balls > most {
            return Err(NotABearing::TooManyBalls {
                balls: self.balls,
                ball_mm: self.ball_mm,
                pitch_mm: self.pitch_mm(),
                most,
            });
        }
        Ok(())
    }
}

/// How many balls touch side by side on the pitch circle at most: the chord of one is its diameter.
#[must_use]
pub fn most_balls(ball_mm: f64, pitch_mm: f64) -> u32 {
    let half_angle = (ball_mm / pitch_mm).clamp(0.0, 1.0).asin();
    // A hair, so that balls that touch exactly are not lost to rounding.
    (std::f64::consts::PI / half_angle + 1e-9).floor() as u32
}

/// The bearing of the shelf: by its word, by bore and outside, or the first where nothing is said.
fn shelved(
    word: Option<&str>,
    wishes: &BearingWishes,
) -> Result<Option<&'static ShelfBearing>, NotABearing> {
    if let Some(word) = word {
        let known: Vec<&str> = shelf::bearings().iter().map(|b| b.id.as_str()).collect();
        return match shelf::bearing(word) {
            Some(bearing) => Ok(Some(bearing)),
            None => Err(unknown(word, "bearing", &known)),
        };
    }
    // A thousandth of an inch is how unlike nominal sizes are written.
    const ALIKE_MM: f64 = 0.026;
    let alike =
        |said: Option<f64>, shelf: f64| said.is_none_or(|said| (said - shelf).abs() < ALIKE_MM);
    Ok(shelf::bearings().iter().find(|b| {
        alike(wishes.bore_mm, b.bore_mm.number) && alike(wishes.outside_mm, b.outside_mm.number)
    }))
}

fn lubricant(word: Option<&str>) -> Result<&'static Lubricant, NotABearing> {
    let all = shelf::lubricants();
    let Some(word) = word else {
        return Ok(&all[0]);
    };
    let known: Vec<&str> = all.iter().map(|l| l.id.as_str()).collect();
    shelf::lubricant(word).ok_or_else(|| unknown(word, "lubricant", &known))
}

fn unknown(word: &str, what: &'static str, known: &[&str]) -> NotABearing {
    let near = known
        .iter()
        .min_by_key(|known| strsim::levenshtein(known, word))
        .filter(|known| strsim::levenshtein(known, word) <= 3);
    NotABearing::Unknown {
        word: word.to_owned(),
        what,
        known: known.join(", "),
        hint: near.map_or(String::new(), |near| format!("; did you mean `{near}`?")),
    }
}

fn whence(
    wishes: &BearingWishes,
    shelved: Option<&ShelfBearing>,
    lubricant: &Lubricant,
) -> Vec<Trust> {
    let mut trust = Vec::new();
    let mut say = |number: &str, why: String| {
        trust.push(Trust {
            number: number.to_owned(),
            basis: Basis::Assumed,
            why,
        });
    };
    if let Some(bearing) = shelved.filter(|_| wishes.balls.is_none() || wishes.ball_mm.is_none()) {
        let whence = bearing.balls.whence();
        say(
            "balls, ball_mm",
            format!(
                "{} of {} mm, {whence}; {}",
                bearing.balls.text, bearing.ball_mm.text, bearing.balls.note
            ),
        );
    }
    if wishes.lubricant.is_none() {
        say(
            "lubricant",
            format!("not said: taken as {}", lubricant.words),
        );
    }
    if wishes.f0_factor.is_none() {
        say(
            "f0_factor",
            format!(
                "{}: {}; {}",
                lubricant.words,
                lubricant.f0_whence.whence(),
                lubricant.f0_whence.note
            ),
        );
    }
    if wishes.dry_torque_un_m.is_none() {
        let of = &lubricant.dry_whence;
        say("dry_torque_un_m", format!("{}; {}", of.whence(), of.note));
    }
    trust
}
