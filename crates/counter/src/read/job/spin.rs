//! The blocks of a spin: `[bearing]`, `[string]`, `[throw]`, `[air]`, `[spin]`.
//!
//! What is not known better than a range is written as one: `"3 uN·m .. 20 uN·m"`, or with what is
//! most likely between its ends: `"3 uN·m .. 8 uN·m .. 20 uN·m"`.

use toml::de::DeValue;
use whirlwright_workshop::part::Dimension::{
    Angle, AngularSpeed, Force, Inertia, KinematicViscosity, Length, Mass, Pressure, Share, Speed,
    Temperature, Time, Torque, TorsionalStiffness, Unbalance,
};
use whirlwright_workshop::part::spin_wishes::{
    AirWishes, BearingWishes, SpinWishes, StringWishes, ThrowWishes,
};
use whirlwright_workshop::part::{Dimension, Job, Quantity, Range};

use super::block::{Block, Faults, as_text, kind, number_text};

/// What a value may sensibly be, in its base unit.
#[derive(Clone, Copy)]
pub(super) struct Sense {
    low: f64,
    high: f64,
    words: &'static str,
}

pub(super) const ABOVE_NOUGHT: Sense = Sense {
    low: f64::MIN_POSITIVE,
    high: f64::INFINITY,
    words: "more than 0",
};
pub(super) const NOUGHT_OR_MORE: Sense = Sense {
    low: 0.0,
    high: f64::INFINITY,
    words: "0 or more",
};
const A_SHARE: Sense = Sense {
    low: 0.0,
    high: 1.0,
    words: "0 % to 100 %",
};
pub(super) const ANY: Sense = Sense {
    low: f64::NEG_INFINITY,
    high: f64::INFINITY,
    words: "a number",
};

/// Reads the five blocks into a job.
pub(super) fn blocks(top: &Block<'_>, faults: &Faults, job: &mut Job) {
    job.bearing = top
        .block("bearing", "[bearing]")
        .map(|b| bearing(b, faults));
    job.string = top.block("string", "[string]").map(|b| string(b, faults));
    job.throw = top.block("throw", "[throw]").map(|b| throw(b, faults));
    job.air = top.block("air", "[air]").map(|b| air(b, faults));
    job.spin = top.block("spin", "[spin]").map(|b| spin(b, faults));
}

fn bearing(block: Block<'_>, faults: &Faults) -> BearingWishes {
    /// More balls than fit any ring that is strung.
    const MOST_BALLS: u32 = 100;
    let read = Reader::new(&block, faults);
    let wishes = BearingWishes {
        bore_mm: read.size("bore"),
        outside_mm: read.size("outside"),
        width_mm: read.size("width"),
        balls: block.whole("balls", 1, MOST_BALLS),
        ball_mm: read.size("ball"),
        contact_angle_deg: block.quantity("contact_angle", Angle).map(|(q, _)| q.value),
        lubricant: block.text("lubricant").map(|said| said.text.to_owned()),
        viscosity_cst: read.range("viscosity", KinematicViscosity, ABOVE_NOUGHT),
        f0_factor: read.factor("f0_factor"),
        dry_torque_un_m: read.range("dry_torque", Torque, NOUGHT_OR_MORE),
    };
    block.finish();
    wishes
}

fn string(block: Block<'_>, faults: &Faults) -> StringWishes {
    let read = Reader::new(&block, faults);
    let wishes = StringWishes {
        length_mm: read.size("length"),
        diameter_mm: read.size("diameter"),
        packing_share: read.range("packing", Share, A_SHARE),
        torsion_un_m_per_rad: read.range("torsion", TorsionalStiffness, NOUGHT_OR_MORE),
        off_centre_mm: read.range("off_centre", Length, NOUGHT_OR_MORE),
        friction_coefficient: read.factor("friction"),
        wall_force_mn: read
            .range("wall_force", Force, NOUGHT_OR_MORE)
            .map(thousandfold),
        twist_torque_un_m: read.range("twist_torque", Torque, ANY),
    };
    block.finish();
    wishes
}

fn throw(block: Block<'_>, faults: &Faults) -> ThrowWishes {
    let read = Reader::new(&block, faults);
    let wishes = ThrowWishes {
        hand_speed_m_per_s: read.range("hand_speed", Speed, NOUGHT_OR_MORE),
        speed_rpm: read.range("speed", AngularSpeed, ABOVE_NOUGHT),
        stop_time_s: read.range("stop_time", Time, NOUGHT_OR_MORE),
    };
    block.finish();
    wishes
}

fn air(block: Block<'_>, faults: &Faults) -> AirWishes {
    let read = Reader::new(&block, faults);
    let wishes = AirWishes {
        temperature_degc: read.range("temperature", Temperature, ANY),
        // The base unit is MPa, and a thousand kPa are one.
        pressure_kpa: read
            .range("pressure", Pressure, ABOVE_NOUGHT)
            .map(thousandfold),
        humidity_percent: read
            .range("humidity", Share, A_SHARE)
            .map(|r| r.map(|share| share * 100.0)),
    };
    block.finish();
    wishes
}

fn spin(block: Block<'_>, faults: &Faults) -> SpinWishes {
    let read = Reader::new(&block, faults);
    let wishes = SpinWishes {
        ends_at_rpm: read.range("ends_at", AngularSpeed, ABOVE_NOUGHT),
        sleep_at_least_s: block.positive("sleep_at_least", Time).map(|(q, _)| q.value),
        rim_factor: read.factor("rim_factor"),
        gap_factor: read.factor("gap_factor"),
        mass_difference_g: read.range("mass_difference", Mass, NOUGHT_OR_MORE),
        static_unbalance_g_mm: read.range("static_unbalance", Unbalance, NOUGHT_OR_MORE),
        couple_unbalance_g_mm2: read.range("couple_unbalance", Inertia, NOUGHT_OR_MORE),
        catch_jerk_ratio: read.factor("catch_jerk"),
    };
    block.finish();
    wishes
}

fn thousandfold(range: Range) -> Range {
    range.map(|value| value * 1000.0)
}

/// Reads ranges out of one block.
pub(super) struct Reader<'b, 'a> {
    block: &'b Block<'a>,
    faults: &'b Faults,
}

impl<'b, 'a> Reader<'b, 'a> {
    pub(super) fn new(block: &'b Block<'a>, faults: &'b Faults) -> Self {
        Self { block, faults }
    }

    /// A length above zero.
    fn size(&self, key: &'static str) -> Option<f64> {
        self.block.positive(key, Length).map(|(q, _)| q.value)
    }

    /// One value with its unit, or two or three with `..` between them.
    pub(super) fn range(
        &self,
        key: &'static str,
        wanted: Dimension,
        sense: Sense,
    ) -> Option<Range> {
        let example = wanted.example().trim_matches('"');
        let one = |text: &str| {
            let read = Quantity::read(text, wanted).map(|quantity| quantity.value);
            read.map_err(|error| error.to_string())
        };
        self.read(key, sense, example, &one)
    }

    /// The same for a number without unit.
    pub(super) fn factor(&self, key: &'static str) -> Option<Range> {
        let one = |text: &str| {
            let number = text.trim().parse::<f64>().ok().filter(|n| n.is_finite());
            number.ok_or_else(|| {
                format!(
                    "`{}` is no number; a plain number without unit was expected",
                    text.trim()
                )
            })
        };
        self.read(key, NOUGHT_OR_MORE, "0.6", &one)
    }

    fn read(
        &self,
        key: &'static str,
        sense: Sense,
        example: &str,
        one: &dyn Fn(&str) -> Result<f64, String>,
    ) -> Option<Range> {
        let value = self.block.value(key)?;
        let fault = |what: String| self.faults.add(value.span(), format!("`{key}`: {what}"));
        let text = match value.get_ref() {
            number @ (DeValue::Integer(_) | DeValue::Float(_)) => number_text(number),
            _ => as_text(value).map(|said| said.text.to_owned()),
        };
        let Some(text) = text else {
            let found = kind(value.get_ref());
            fault(format!(
                "{found} was read; one value, or two with `..` between them, was expected, such as \"{example}\""
            ));
            return None;
        };
        let read: Vec<Result<f64, String>> = text.split("..").map(one).collect();
        let mut numbers = Vec::new();
        for number in read {
            match number {
                Ok(number) if number >= sense.low && number <= sense.high => numbers.push(number),
                Ok(_) => {
                    fault(format!("`{text}` was read; {} was expected", sense.words));
                    return None;
                }
                Err(why) => {
                    fault(why);
                    return None;
                }
            }
        }
        let range = match *numbers.as_slice() {
            [one] => Some(Range::exactly(one)),
            [low, high] if low <= high => Some(Range::between(low, high)),
            [low, likely, high] => Some(Range { low, likely, high }),
            [..] => None,
        };
        let range = range.filter(Range::is_in_order);
        if range.is_some() {
            return range;
        }
        fault(format!(
            "`{text}` was read; the least, what is most likely (may be left out) and the largest were \
             expected in this order, such as \"{example} .. {example}\""
        ));
        None
    }
}
