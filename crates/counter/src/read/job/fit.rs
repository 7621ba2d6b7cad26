//! The blocks of a rim: `[turning]` and `[fit]` with `[fit.ring]` and `[fit.body]`.

use toml::de::DeValue;
use whirlwright_workshop::part::Dimension::{
    AngularSpeed, Length, Mass, Pressure, Share, Temperature, Torque, Unbalance,
};
use whirlwright_workshop::part::Job;
use whirlwright_workshop::part::fit_wishes::{FitWishes, MechanicsWishes, TurningWishes};

use super::block::{Block, Faults, as_text, kind};
use super::piece::known_piece;
use super::spin::{ABOVE_NOUGHT, ANY, NOUGHT_OR_MORE, Reader};

/// Reads both blocks into a job.
pub(super) fn blocks(top: &Block<'_>, names: &[String], faults: &Faults, job: &mut Job) {
    job.turning = top
        .block("turning", "[turning]")
        .map(|b| turning(b, names, faults));
    job.fit = top.block("fit", "[fit]").map(|b| fit(b, names, faults));
}

fn turning(block: Block<'_>, names: &[String], faults: &Faults) -> TurningWishes {
    let size = |key| block.quantity(key, Length).map(|(q, _)| q.value);
    let mass = |key| block.positive(key, Mass).map(|(q, _)| q.value);
    let wishes = TurningWishes {
        piece: piece(&block, "piece", names, faults),
        mass_g: mass("mass"),
        mass_within_g: mass("mass_within"),
        cut: list(&block, "cut", faults),
        least_width_mm: size("least_width"),
        least_outside_mm: size("least_outside"),
        held: held(&block, faults),
        scale_sd_g: block.quantity("scale_sd", Mass).map(|(q, _)| q.value),
        cut_sd_mm: size("cut_sd"),
        runout_mm: size("runout"),
    };
    block.finish();
    wishes
}

fn fit(block: Block<'_>, names: &[String], faults: &Faults) -> FitWishes {
    let read = Reader::new(&block, faults);
    let text = |key| block.text(key).map(|said| said.text.to_owned());
    let size = |key| block.quantity(key, Length).map(|(q, _)| q.value);
    let um = |key| size(key).map(|mm| mm * 1000.0);
    let material = |key: &'static str| {
        let inner = block.block(key, format!("[fit.{key}]"));
        inner.map(|b| mechanics(b, faults)).unwrap_or_default()
    };
    let wishes = FitWishes {
        ring: piece(&block, "ring_piece", names, faults),
        body: piece(&block, "body_piece", names, faults),
        fit: text("fit"),
        hole: text("hole"),
        shaft: text("shaft"),
        ring_outside_mm: size("ring_outside"),
        body_inside_mm: size("body_inside"),
        length_mm: size("length"),
        friction_coefficient: read.factor("friction"),
        measured_at_degc: block
            .quantity("measured_at", Temperature)
            .map(|(q, _)| q.value),
        temperature_degc: read.range("temperature", Temperature, ANY),
        speed_rpm: block.quantity("speed", AngularSpeed).map(|(q, _)| q.value),
        years_count: block.ratio("years"),
        moisture_strain_share: read.range("moisture_growth", Share, NOUGHT_OR_MORE),
        // The base unit of torque is µN·m.
        torque_n_mm: block
            .positive("torque", Torque)
            .map(|(q, _)| q.value / 1000.0),
        hole_sd_um: um("hole_sd"),
        shaft_sd_um: um("shaft_sd"),
        slip_on_mm: size("slip_on"),
        seat_runout_mm: size("seat_runout"),
        unbalance_g_mm: block.positive("unbalance", Unbalance).map(|(q, _)| q.value),
        ring_material: material("ring"),
        body_material: material("body"),
    };
    block.finish();
    wishes
}

fn mechanics(block: Block<'_>, faults: &Faults) -> MechanicsWishes {
    let read = Reader::new(&block, faults);
    let stress = |key| block.positive(key, Pressure).map(|(q, _)| q.value);
    let share = |key| block.positive(key, Share).map(|(q, _)| q.value);
    let wishes = MechanicsWishes {
        modulus_mpa: read.range("modulus", Pressure, ABOVE_NOUGHT),
        poisson_ratio: block.ratio("poisson"),
        expansion_per_k: expansion(&block, faults),
        creep_1h_mpa: stress("creep_1h"),
        creep_1000h_mpa: stress("creep_1000h"),
        short_strain_share: share("short_strain"),
        long_strain_share: share("long_strain"),
        proof_stress_mpa: stress("proof_stress"),
    };
    block.finish();
    wishes
}

/// A thermal expansion such as `"68e-6 1/K"`.
fn expansion(block: &Block<'_>, faults: &Faults) -> Option<f64> {
    let number = block.in_unit("expansion", "1/K", "68e-6")?;
    if number < 0.0 {
        faults.add(
            block.span.clone(),
            format!("`expansion` is {number} 1/K; 0 or more was expected"),
        );
        return None;
    }
    Some(number)
}

fn piece(
    block: &Block<'_>,
    key: &'static str,
    names: &[String],
    faults: &Faults,
) -> Option<String> {
    let said = block.text(key)?;
    known_piece(said.text, &said.span, names, faults);
    Some(said.text.to_owned())
}

/// A list of texts.
fn list(block: &Block<'_>, key: &'static str, faults: &Faults) -> Vec<String> {
    let Some(value) = block.value(key) else {
        return Vec::new();
    };
    let DeValue::Array(array) = value.get_ref() else {
        let found = kind(value.get_ref());
        faults.add(
            value.span(),
            format!("`{key}` is {found}; a list of dimensions was expected, such as [\"face 21.5\", \"outside 58\"]"),
        );
        return Vec::new();
    };
    let text = |each| {
        let said = as_text(each);
        if said.is_none() {
            faults.add(
                each.span(),
                format!(
                    "`{key}` holds {}; names in quotes were expected",
                    kind(each.get_ref())
                ),
            );
        }
        said.map(|s| s.text.to_owned())
    };
    array.iter().filter_map(text).collect()
}

/// `held = { "bore 48" = "48 H7" }`.
fn held(block: &Block<'_>, faults: &Faults) -> Vec<(String, String)> {
    let Some(inner) = block.block("held", "[turning.held]") else {
        return Vec::new();
    };
    let text = |(name, value)| {
        let name: super::block::Said<'_> = name;
        let said = as_text(value);
        if said.is_none() {
            faults.add(
                value.span(),
                format!(
                    "the limits of `{}` are {}; a text was expected, such as \"48 H7\"",
                    name.text,
                    kind(value.get_ref())
                ),
            );
        }
        said.map(|s| (name.text.to_owned(), s.text.to_owned()))
    };
    inner.entries().filter_map(text).collect()
}

#[cfg(test)]
mod tests {
    use whirlwright_workshop::part::{Job, Range};

    const HEAD: &str = "whirlwright = 1\n[design]\nname = \"a\"\n[[piece]]\nname = \"rim\"\nside = \"both\"\ndensity = \"2.7 g/cm3\"\noutline = \"M 8 24 L 16 24 L 16 29 L 8 29 Z\"\n";

    fn read(blocks: &str) -> Result<Job, String> {
        let text = format!("{HEAD}{blocks}");
        let fetch = |name: &str| Err(format!("no {name}"));
        super::super::read(&text, "job.toml", &fetch).map_err(|e| e.to_string())
    }

    #[test]
    fn reads_what_a_job_says_of_turning_and_fit() {
        let job = read(
            "[turning]\nmass = \"18.00 g\"\ncut = [\"face 16\"]\nheld = { \"bore 48\" = \"48 H7\" }\nrunout = \"20 um\"\n\
             [fit]\nfit = \"48 H7/s6\"\nfriction = \"0.1 .. 0.2 .. 0.3\"\ntemperature = \"0 degC .. 40 degC\"\ntorque = \"0.2 N·m\"\n\
             shaft_sd = \"8 um\"\nyears = 5\nmoisture_growth = \"0.1 %\"\n[fit.body]\nmodulus = \"2.35 GPa\"\nexpansion = \"68e-6 1/K\"\n",
        )
        .expect("a job");
        let (turning, fit) = (job.turning.expect("turning"), job.fit.expect("fit"));
        assert_eq!(
            (turning.mass_g, turning.runout_mm),
            (Some(18.0), Some(0.02))
        );
        assert_eq!(turning.held, [("bore 48".to_owned(), "48 H7".to_owned())]);
        assert_eq!((fit.torque_n_mm, fit.shaft_sd_um), (Some(200.0), Some(8.0)));
        assert_eq!(fit.temperature_degc, Some(Range::between(0.0, 40.0)));
        assert_eq!(fit.moisture_strain_share, Some(Range::exactly(0.001)));
        assert_eq!(fit.body_material.expansion_per_k, Some(68e-6));
        assert_eq!(fit.body_material.modulus_mpa, Some(Range::exactly(2350.0)));
    }

    #[test]
    fn refuses_what_is_no_wish_and_says_what_was_expected() {
        for (blocks, said) in [
            ("[turning]\nmass = 18\n", "has no unit"),
            (
                "[turning]\ncut = \"face 16\"\n",
                "a list of dimensions was expected",
            ),
            ("[turning]\ncut = [3]\n", "names in quotes were expected"),
            (
                "[turning]\nheld = { \"bore 48\" = 48 }\n",
                "a text was expected",
            ),
            ("[turning]\npiece = \"rum\"\n", "there is no piece `rum`"),
            ("[turning]\nmas = \"18 g\"\n", "did you mean `mass`"),
            ("[fit]\ntorque = \"0 N·m\"\n", "more than 0 was expected"),
            ("[fit]\nfriction = \"0.3 .. 0.1\"\n", "in this order"),
            ("[fit]\nyears = -1\n", "a number above 0"),
            (
                "[fit.body]\nexpansion = \"68e-6\"\n",
                "such as \"68e-6 1/K\"",
            ),
            ("[fit.body]\nmodulus = \"2 mm\"\n", "a pressure is wanted"),
        ] {
            let why = read(blocks).expect_err(blocks);
            assert!(why.contains(said), "{blocks}: {why}");
        }
    }
}
