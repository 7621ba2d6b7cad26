//! What comes into the forecast of a spin: a design with its bearing, string, throw and air, checked.

use super::faults::Refusal;
use crate::bearing::{self, ViscosityLine};
use crate::design::{self, SectionBody, section};
use crate::part::job::{Job, Side};
use crate::part::spin_factor::Factor;
use crate::part::spin_wishes::{AirWishes, BearingWishes, SpinWishes, StringWishes, ThrowWishes};
use crate::part::{Answer, Basis, Range, Trust};
use crate::shelf::known;

/// How many factors there are.
pub(super) const FACTORS: usize = Factor::ALL.len();

/// What shakes and tilts the piece, and what resists.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GivenFaults {
    /// Difference of mass between the sides.
    pub mass_difference_g: Range,
    /// How far off the middle the string runs.
    pub off_centre_mm: Range,
    /// Torsional stiffness of the string.
    pub torsion_un_m_per_rad: Range,
    /// Torque of a twisted string.
    pub twist_torque_un_m: Range,
    /// Static unbalance.
    pub static_unbalance_g_mm: Range,
    /// Couple unbalance.
    pub couple_unbalance_g_mm2: Range,
    /// How many times its weight it pulls in a hard catch.
    pub catch_jerk_ratio: Range,
}

/// A design with everything a forecast of its spin needs, checked.
#[derive(Debug, Clone)]
pub struct Given {
    pub(super) job: Job,
    pub(super) section: SectionBody,
    pub(super) ranges: [Range; FACTORS],
    pub(super) bearing: bearing::Given,
    pub(super) faults: GivenFaults,
    pub(super) string_length_mm: f64,
    pub(super) string_diameter_mm: f64,
    pub(super) gap_mm: f64,
    /// Distance of a side's centre of mass from the middle of the gap.
    pub(super) side_centre_mm: f64,
    /// Whether the job says the speed after the throw itself.
    pub(super) speed_is_said: bool,
    /// The viscosity against temperature of the lubricant, where the job does not say a viscosity.
    pub(super) viscosity: Option<ViscosityLine>,
    pub(super) sleep_at_least_s: Option<f64>,
    pub(super) trust: Vec<Trust>,
}

impl Given {
    /// Checks a design and fills what its job does not say from the shelf; each such value is told in
    /// the answer.
    ///
    /// # Errors
    /// A number that cannot be (a string without length, a share above 1, a range out of order, a speed
    /// below 0), an unknown lubricant, a piece without mass or without two sides.
    pub fn new(design: &design::Given) -> Result<Self, Refusal> {
        let Answer { body, .. } = section(design);
        let job = design.job();
        let mut gather = Gather { trust: Vec::new() };
        let mut ranges = [Range::exactly(0.0); FACTORS];
        gather.air(
            job.air.as_ref().unwrap_or(&AirWishes::default()),
            &mut ranges,
        )?;
        gather.throw(
            job.throw.as_ref().unwrap_or(&ThrowWishes::default()),
            &mut ranges,
        )?;
        let none = BearingWishes::default();
        let bearing = gather.bearing(job.bearing.as_ref().unwrap_or(&none), &body, &mut ranges)?;
        let viscosity = match bearing.viscosity_cst {
            Some(_) => None,
            None => ViscosityLine::of(bearing.lubricant),
        };
        let none = StringWishes::default();
        let string = job.string.as_ref().unwrap_or(&none);
        let (length, diameter) = gather.string(string, &mut ranges)?;
        let none = SpinWishes::default();
        let spin = job.spin.as_ref().unwrap_or(&none);
        gather.sleep(spin, &mut ranges)?;
        let doubt = known("throw.inertia.doubt").value;
        ranges[Factor::Inertia as usize] = Range::between(1.0 - doubt, 1.0 + doubt);
        gather.computed(
            "inertia_ratio",
            "from the drawing and its densities; 1 % either way is allowed for",
        );
        let side_centre_mm = side_centre_mm(&body)?;
        let faults = gather.faults(job, spin, string, &body, side_centre_mm)?;
        let gap_mm = body.gap_mm.filter(|gap| *gap > 0.0).ok_or_else(|| {
            Refusal::new(
                "the design has no gap for the string: a left and a right side apart from each other were expected",
                "draw both sides, or one with `side = \"both\"`",
            )
        })?;
        let speed_is_said = job.throw.as_ref().is_some_and(|t| t.speed_rpm.is_some());
        Ok(Self {
            job: job.clone(),
            section: body,
            ranges,
            bearing,
            faults,
            string_length_mm: length,
            string_diameter_mm: diameter,
            gap_mm,
            side_centre_mm,
            speed_is_said,
            viscosity,
            sleep_at_least_s: spin.sleep_at_least_s,
            trust: gather.trust,
        })
    }

    /// The range of a factor.
    #[must_use]
    pub fn range(&self, factor: Factor) -> Range {
        self.ranges[factor as usize]
    }

    /// The bearing.
    #[must_use]
    pub fn bearing(&self) -> &bearing::Given {
        &self.bearing
    }
}

/// Mean distance of the two sides' centres of mass from the middle of the gap.
fn side_centre_mm(body: &SectionBody) -> Result<f64, Refusal> {
    let of = |side: Side| {
        let pieces = body.pieces.iter().filter(|p| p.side == side);
        let (mass, moment) = pieces.fold((0.0, 0.0), |(mass, moment), p| {
            (mass + p.mass_g, moment + p.mass_g * p.centre_of_mass_mm)
        });
        (mass > 0.0).then(|| moment / mass)
    };
    match (of(Side::Left), of(Side::Right)) {
        (Some(left), Some(right)) if right > left => Ok(0.5 * (right - left)),
        _ => Err(Refusal::new(
            "the design has no two sides: a left and a right one with mass were expected",
            "draw both sides, or one with `side = \"both\"`",
        )),
    }
}

/// Collects values and what is to be said of them.
struct Gather {
    trust: Vec<Trust>,
}

/// What a number must keep to.
#[derive(Debug, Clone, Copy)]
enum Must {
    BePositive,
    NotBeNegative,
    BeShare,
    BeAnything,
}

impl Gather {
    fn computed(&mut self, number: &str, why: &str) {
        self.trust.push(Trust {
            number: number.to_owned(),
            basis: Basis::Computed,
            why: why.to_owned(),
        });
    }

    fn assumed(&mut self, number: &str, why: String) {
        self.trust.push(Trust {
            number: number.to_owned(),
            basis: Basis::Assumed,
            why,
        });
    }

    /// The job's range, or the shelf's; the latter is told.
    fn range(
        &mut self,
        key: &str,
        said: Option<Range>,
        shelf: &str,
        must: Must,
    ) -> Result<Range, Refusal> {
        let range = said.unwrap_or_else(|| {
            let known = known(shelf);
            self.assumed(
                key,
                format!("{}, {}", spread(known.range, &known.unit), known.why()),
            );
            known.range
        });
        check(key, range, must)
    }

    fn one(&mut self, key: &str, said: Option<f64>, shelf: &str) -> Result<f64, Refusal> {
        let range = self.range(key, said.map(Range::exactly), shelf, Must::BePositive)?;
        Ok(range.likely)
    }

    /// The bearing station's own check of the bearing, at the temperature of the air.
    fn bearing(
        &mut self,
        wishes: &BearingWishes,
        body: &SectionBody,
        ranges: &mut [Range; FACTORS],
    ) -> Result<bearing::Given, Refusal> {
        let asked = bearing::Asked {
            word: None,
            wishes,
            mass_g: body.mass_g,
            speed_rpm: known("throw.speed.strong").value,
            temperature_degc: ranges[Factor::Temperature as usize].likely,
            catch_jerk_ratio: None,
        };
        let bearing = bearing::Given::new(asked)
            .map_err(|fault| Refusal::new(fault.to_string(), "put the [bearing] block right"))?;
        for (factor, range) in [
            (Factor::DryTorque, bearing.dry_torque_un_m),
            (Factor::Oil, bearing.f0_factor),
            // Where it is not said it follows the temperature of the case by the lubricant's own line.
            (
                Factor::Viscosity,
                bearing.viscosity_cst.unwrap_or(Range::exactly(0.0)),
            ),
        ] {
            ranges[factor as usize] = check(factor.key(), range, Must::NotBeNegative)?;
        }
        self.trust.extend(bearing.whence.iter().cloned());
        Ok(bearing)
    }

    fn air(&mut self, wishes: &AirWishes, ranges: &mut [Range; FACTORS]) -> Result<(), Refusal> {
        for (factor, said, shelf, must) in [
            (
                Factor::Temperature,
                wishes.temperature_degc,
                "air.room.temperature",
                Must::BeAnything,
            ),
            (
                Factor::Pressure,
                wishes.pressure_kpa,
                "air.room.pressure",
                Must::NotBeNegative,
            ),
            (
                Factor::Humidity,
                wishes.humidity_percent,
                "air.room.humidity",
                Must::NotBeNegative,
            ),
        ] {
            ranges[factor as usize] = self.range(factor.key(), said, shelf, must)?;
        }
        let coldest = ranges[Factor::Temperature as usize].low;
        if coldest < -40.0 || ranges[Factor::Temperature as usize].high > 60.0 {
            return Err(Refusal::new(
                format!(
                    "air of {coldest} degC or more was read; the law of moist air is good from -40 to 60 degC"
                ),
                "write the temperature of the room, with its unit",
            ));
        }
        if ranges[Factor::Humidity as usize].high > 100.0 {
            return Err(Refusal::new(
                "a relative humidity above 100 % was read; 0 to 100 % was expected",
                "write the relative humidity",
            ));
        }
        Ok(())
    }

    fn throw(
        &mut self,
        wishes: &ThrowWishes,
        ranges: &mut [Range; FACTORS],
    ) -> Result<(), Refusal> {
        if let Some(speed) = wishes.speed_rpm {
            ranges[Factor::ThrowSpeed as usize] =
                check(Factor::ThrowSpeed.key(), speed, Must::BePositive)?;
            return Ok(());
        }
        for (factor, said, shelf) in [
            (
                Factor::HandSpeed,
                wishes.hand_speed_m_per_s,
                "throw.hand.speed",
            ),
            (Factor::StopTime, wishes.stop_time_s, "throw.hand.stop_time"),
        ] {
            ranges[factor as usize] = self.range(factor.key(), said, shelf, Must::NotBeNegative)?;
        }
        Ok(())
    }

    fn string(
        &mut self,
        wishes: &StringWishes,
        ranges: &mut [Range; FACTORS],
    ) -> Result<(f64, f64), Refusal> {
        for (factor, said, shelf, must) in [
            (
                Factor::Packing,
                wishes.packing_share,
                "string.packing",
                Must::BeShare,
            ),
            (
                Factor::WallForce,
                wishes.wall_force_mn,
                "string.wall_force",
                Must::NotBeNegative,
            ),
            (
                Factor::Friction,
                wishes.friction_coefficient,
                "string.friction",
                Must::NotBeNegative,
            ),
        ] {
            ranges[factor as usize] = self.range(factor.key(), said, shelf, must)?;
        }
        let length = self.one("string_length_mm", wishes.length_mm, "string.length")?;
        let diameter = self.one("string_diameter_mm", wishes.diameter_mm, "string.diameter")?;
        Ok((length, diameter))
    }

    fn sleep(&mut self, wishes: &SpinWishes, ranges: &mut [Range; FACTORS]) -> Result<(), Refusal> {
        for (factor, said, shelf, must) in [
            (
                Factor::EndSpeed,
                wishes.ends_at_rpm,
                "throw.sleep.ends_at",
                Must::BePositive,
            ),
            (
                Factor::Rim,
                wishes.rim_factor,
                "drag.rim.factor",
                Must::NotBeNegative,
            ),
            (
                Factor::Gap,
                wishes.gap_factor,
                "drag.gap.factor",
                Must::NotBeNegative,
            ),
        ] {
            ranges[factor as usize] = self.range(factor.key(), said, shelf, must)?;
        }
        Ok(())
    }

    fn faults(
        &mut self,
        job: &Job,
        spin: &SpinWishes,
        string: &StringWishes,
        body: &SectionBody,
        side_centre_mm: f64,
    ) -> Result<GivenFaults, Refusal> {
        let allowed = |limit: Option<f64>| {
            limit.map(|most| Range {
                low: 0.0,
                likely: 0.5 * most,
                high: most,
            })
        };
        let mass_limit = allowed(job.pairing.mass_within_g.map(|d| d.to_f64()));
        let mass = match (spin.mass_difference_g, mass_limit) {
            (None, Some(limit)) => {
                self.assumed(
                    "mass_difference_g",
                    format!(
                        "{}, up to what the job's pairing allows",
                        spread(limit, "g")
                    ),
                );
                limit
            }
            (said, _) => self.range(
                "mass_difference_g",
                said,
                "throw.mass.difference",
                Must::NotBeNegative,
            )?,
        };
        let static_limit = allowed(job.pairing.unbalance_within_g_mm.map(|d| d.to_f64()));
        let unbalance = spin
            .static_unbalance_g_mm
            .or(static_limit)
            .unwrap_or_else(|| Range::exactly(body.static_unbalance_g_mm));
        if spin.static_unbalance_g_mm.is_none() {
            let why = if static_limit.is_some() {
                "up to what the job's pairing allows"
            } else {
                "of the drawing alone: parts as made have more; balance one and write it in [spin]"
            };
            self.assumed(
                "static_unbalance_g_mm",
                format!("{}, {why}", spread(unbalance, "g·mm")),
            );
        }
        let couple = spin.couple_unbalance_g_mm2.unwrap_or_else(|| {
            let drawn = body.couple_unbalance_g_mm2;
            let range = unbalance.map(|u| drawn + u * side_centre_mm);
            self.assumed(
                "couple_unbalance_g_mm2",
                format!(
                    "{}: the static unbalance in the two sides, one against the other",
                    spread(range, "g·mm²")
                ),
            );
            range
        });
        Ok(GivenFaults {
            mass_difference_g: check("mass_difference_g", mass, Must::NotBeNegative)?,
            off_centre_mm: self.range(
                "off_centre_mm",
                string.off_centre_mm,
                "string.off_centre",
                Must::NotBeNegative,
            )?,
            torsion_un_m_per_rad: self.range(
                "torsion_un_m_per_rad",
                string.torsion_un_m_per_rad,
                "string.torsion",
                Must::NotBeNegative,
            )?,
            twist_torque_un_m: self.range(
                "twist_torque_un_m",
                string.twist_torque_un_m,
                "string.twist",
                Must::NotBeNegative,
            )?,
            static_unbalance_g_mm: check("static_unbalance_g_mm", unbalance, Must::NotBeNegative)?,
            couple_unbalance_g_mm2: check("couple_unbalance_g_mm2", couple, Must::NotBeNegative)?,
            catch_jerk_ratio: self.range(
                "catch_jerk_ratio",
                spin.catch_jerk_ratio,
                "throw.catch.jerk",
                Must::NotBeNegative,
            )?,
        })
    }
}

/// A range in words.
fn spread(range: Range, unit: &str) -> String {
    let unit = if unit == "1" { "" } else { unit };
    let text = if range.is_one() {
        format!("{} {unit}", range.likely)
    } else {
        format!(
            "{} {unit} (from {} to {})",
            range.likely, range.low, range.high
        )
    };
    text.replace("  ", " ").trim().to_owned()
}

fn check(key: &str, range: Range, must: Must) -> Result<Range, Refusal> {
    let (fine, expected) = match must {
        Must::BePositive => (range.low > 0.0, "more than 0"),
        Must::NotBeNegative => (range.low >= 0.0, "0 or more"),
        Must::BeShare => (
            range.low > 0.0 && range.high <= 1.0,
            "a share above 0 and up to 1",
        ),
        Must::BeAnything => (true, "a number"),
    };
    if fine && range.is_in_order() {
        return Ok(range);
    }
    Err(Refusal::new(
        format!(
            "`{key}` was read as {}; {expected} was expected, least first",
            spread(range, "")
        ),
        "put it right in the job file",
    ))
}
