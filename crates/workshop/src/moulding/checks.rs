//! What cannot be: a shot that would not flow, would break down, or must not be run.

use whirlwright_kit::revolve::Point;

use super::faults::Refusal;
use super::given::{Channel, Given};
use super::section::Section;
use crate::part::Range;
use crate::shelf::{self, known};

/// Families of resins that must never meet in a barrel.
const NEVER_TOGETHER: [(&str, &str); 1] = [("acetal", "pvc")];
/// Words for families that have no card.
const FAMILIES: [(&str, &str); 8] = [
    ("pvc", "pvc"),
    ("upvc", "pvc"),
    ("pvc-u", "pvc"),
    ("vinyl", "pvc"),
    ("cpvc", "pvc"),
    ("pom-c", "acetal"),
    ("pom-h", "acetal"),
    ("acetal", "acetal"),
];

impl Given {
    /// Checks everything that does not need the drawing; for a set-up that was changed.
    ///
    /// # Errors
    /// The first thing that cannot be.
    pub fn check(&self) -> Result<(), Refusal> {
        self.check_company()?;
        self.check_feed()?;
        self.check_press()?;
        self.check_temperatures()?;
        self.check_process()
    }

    /// Every gate stands on the half.
    pub(super) fn check_gates(&self, section: &Section) -> Result<(), Refusal> {
        let most = known("mould.feed.gate_off").value;
        for gate in self.mould.cavities.iter().flat_map(|c| &c.gates) {
            let (axial_mm, radius_mm) = (gate.axial_mm, gate.radius_mm);
            let near = section.nearest(Point::new(axial_mm, radius_mm));
            if near.off_mm.is_nan() || near.off_mm > most {
                return Err(Refusal::GateOff {
                    axial_mm,
                    radius_mm,
                    off_mm: near.off_mm,
                    near_axial_mm: near.place.x,
                    near_radius_mm: near.place.y,
                });
            }
        }
        Ok(())
    }

    /// What ran before and what shall run.
    fn check_company(&self) -> Result<(), Refusal> {
        let Some(before) = &self.process.before else {
            return Ok(());
        };
        let (was, is) = (family(before), self.resin.handling.family.clone());
        let clash = NEVER_TOGETHER
            .iter()
            .any(|(a, b)| (was == *a && is == *b) || (was == *b && is == *a));
        if clash {
            return Err(Refusal::NeverTogether {
                before: before.clone(),
                after: self.resin.id.clone(),
            });
        }
        Ok(())
    }

    fn check_feed(&self) -> Result<(), Refusal> {
        let mould = &self.mould;
        if mould.cavities.is_empty() {
            return Err(Refusal::NoCavity);
        }
        for (number, branch) in mould.branches.iter().enumerate() {
            positive_channel(&branch.channel, &format!("the {}", branch.name))?;
            if let Some(after) = branch.after.filter(|after| *after >= number) {
                let name = mould.branches.get(after).map(|b| b.name.clone());
                return Err(Refusal::Backward {
                    name: branch.name.clone(),
                    after: name.unwrap_or_else(|| after.to_string()),
                });
            }
        }
        for cavity in &mould.cavities {
            let of = |what: &str| format!("{what} of cavity {}", cavity.name);
            within(of("the steel"), cavity.steel_ratio, 0.5, 2.0)?;
            if cavity.gates.is_empty() {
                return Err(Refusal::NoGate {
                    cavity: cavity.name.clone(),
                });
            }
            for gate in &cavity.gates {
                positive_channel(&gate.channel, &of("the gate"))?;
                if gate.after >= mould.branches.len() {
                    return Err(Refusal::NoSuch {
                        who: of("the gate"),
                        what: "runner",
                        name: gate.after.to_string(),
                        known: format!("{} of them", mould.branches.len()),
                    });
                }
            }
        }
        positive("the projected area of a cavity in mm²", mould.cavity_mm2)?;
        let films = [
            (
                "heat from resin to steel while pressed on",
                mould.pressed_w_m2_k,
            ),
            (
                "heat from resin to steel once shrunk off",
                mould.loose_w_m2_k,
            ),
        ];
        for (what, range) in films {
            let Range { low, .. } = range;
            positive(what, if range.is_in_order() { low } else { f64::NAN })?;
        }
        Ok(())
    }

    fn check_press(&self) -> Result<(), Refusal> {
        let press = &self.press;
        for (what, read) in [
            ("the clamp force in kN", press.clamp_kn),
            ("the screw's diameter in mm", press.screw_mm),
            ("the screw's stroke in mm", press.stroke_mm),
            ("the most pressure in MPa", press.most_mpa),
            ("the most flow in cm³/s", press.most_cm3_per_s),
        ] {
            positive(what, read)?;
        }
        for (what, read) in [
            ("the scatter of the hold in MPa", press.hold_sd_mpa),
            ("the scatter of the melt in K", press.melt_sd_k),
            ("the scatter of the wall in K", press.wall_sd_k),
        ] {
            within(what.to_owned(), read, 0.0, f64::MAX)?;
        }
        Ok(())
    }

    fn check_temperatures(&self) -> Result<(), Refusal> {
        let (heat, handling) = (&self.resin.heat, &self.resin.handling);
        let (melt_degc, wall_degc) = (self.process.melt_degc, self.process.wall_degc);
        let resin = self.resin.id.clone();
        if melt_degc.is_nan() || melt_degc <= heat.no_flow_degc {
            return Err(Refusal::TooColdToFlow {
                melt_degc,
                resin,
                no_flow_degc: heat.no_flow_degc,
                usual_low_degc: handling.melt_degc.low,
                usual_high_degc: handling.melt_degc.high,
            });
        }
        if melt_degc > handling.most_melt_degc {
            return Err(Refusal::BreaksDown {
                melt_degc,
                resin,
                most_degc: handling.most_melt_degc,
                usual_low_degc: handling.melt_degc.low,
                usual_high_degc: handling.melt_degc.high,
            });
        }
        if wall_degc.is_nan() || wall_degc >= heat.eject_degc {
            return Err(Refusal::NeverStiff {
                wall_degc,
                resin,
                eject_degc: heat.eject_degc,
                usual_low_degc: handling.wall_degc.low,
                usual_high_degc: handling.wall_degc.high,
            });
        }
        // Colder than any coolant of a mould is a slip of the pen.
        within(
            "the mould wall in °C".to_owned(),
            wall_degc,
            -50.0,
            heat.eject_degc,
        )
    }

    fn check_process(&self) -> Result<(), Refusal> {
        let process = &self.process;
        positive("the fill time in s", process.fill_s)?;
        // Below half the volume nobody gives over to pressure.
        within(
            "the switch-over as a share".to_owned(),
            process.switch_share,
            0.5,
            1.0,
        )?;
        for step in &process.hold {
            positive("the time of a hold step in s", step.time_s)?;
            within(
                "a hold pressure in MPa".to_owned(),
                step.pressure_mpa,
                0.0,
                f64::MAX,
            )?;
            if step.pressure_mpa > self.press.most_mpa {
                return Err(Refusal::HoldTooHigh {
                    asked_mpa: step.pressure_mpa,
                    most_mpa: self.press.most_mpa,
                });
            }
        }
        let stroke = self.press.stroke_mm;
        within(
            "the cooling time in s".to_owned(),
            process.cooling_s,
            0.0,
            f64::MAX,
        )?;
        within(
            "the opening time in s".to_owned(),
            process.open_s,
            0.0,
            f64::MAX,
        )?;
        within(
            "the cushion in mm".to_owned(),
            process.cushion_mm,
            0.0,
            stroke,
        )?;
        within(
            "the share of regrind".to_owned(),
            process.regrind_share,
            0.0,
            1.0,
        )
    }
}

/// The family of a word: of a card's word, of a family's, or the word itself.
pub(super) fn family(word: &str) -> String {
    let plain = word.trim().to_lowercase().replace([' ', '_'], "-");
    if let Some(resin) = shelf::resin(&plain) {
        return resin.handling.family.clone();
    }
    let found = FAMILIES.iter().find(|(name, _)| *name == plain);
    let by_part = || ["pvc", "acetal"].into_iter().find(|f| plain.contains(f));
    found.map_or_else(
        || by_part().map_or(plain.clone(), str::to_owned),
        |(_, family)| (*family).to_owned(),
    )
}

fn positive(what: &str, read: f64) -> Result<(), Refusal> {
    if read.is_finite() && read > 0.0 {
        return Ok(());
    }
    Err(Refusal::NotPositive {
        what: what.to_owned(),
        read,
    })
}

fn within(what: String, read: f64, low: f64, high: f64) -> Result<(), Refusal> {
    if read >= low && read <= high {
        return Ok(());
    }
    Err(Refusal::OutOfRange {
        what,
        read,
        low,
        high,
    })
}

fn positive_channel(channel: &Channel, of: &str) -> Result<(), Refusal> {
    let sizes = match *channel {
        Channel::Round {
            from_mm,
            to_mm,
            length_mm,
        } => [
            ("diameter", from_mm),
            ("diameter", to_mm),
            ("length", length_mm),
        ],
        Channel::Slit {
            width_mm,
            depth_mm,
            length_mm,
        } => [
            ("width", width_mm),
            ("depth", depth_mm),
            ("length", length_mm),
        ],
    };
    for (what, read) in sizes {
        positive(&format!("the {what} of {of} in mm"), read)?;
    }
    Ok(())
}
