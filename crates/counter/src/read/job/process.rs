//! The blocks of the press: `[press]`, `[process]` with its hold, `[resin]`.

use whirlwright_workshop::part::Dimension::{
    Force, Length, Mass, Pressure, Share, Speed, Temperature, Time,
};
use whirlwright_workshop::part::Job;
use whirlwright_workshop::part::mould_wishes::{
    HoldWish, PressWishes, ProcessWishes, RESIN_KEYS, ResinWishes,
};

use super::block::{Block, Faults};

/// Most steps of a hold: presses have about ten.
const MOST_STEPS: usize = 50;
/// mm in a m.
const MM: f64 = 1000.0;

/// Reads the three blocks into a job.
pub(super) fn blocks(top: &Block<'_>, faults: &Faults, job: &mut Job) {
    job.press = top.block("press", "[press]").map(|b| press(b, faults));
    job.process = top
        .block("process", "[process]")
        .map(|b| process(b, faults));
    job.resin = top.block("resin", "[resin]").map(resin);
}

fn press(block: Block<'_>, faults: &Faults) -> PressWishes {
    let length = |key| block.positive(key, Length).map(|(q, _)| q.value);
    let kelvin = |key| {
        let read = block.in_unit(key, "K", "1.5")?;
        if read < 0.0 {
            let what = format!("`{key}` is {read} K; 0 or more was expected");
            faults.add(block.span.clone(), what);
        }
        Some(read).filter(|k| *k >= 0.0)
    };
    let wishes = PressWishes {
        clamp_n: block.positive("class", Force).map(|(q, _)| q.value),
        screw_mm: length("screw"),
        stroke_mm: length("stroke"),
        most_mpa: block
            .positive("most_pressure", Pressure)
            .map(|(q, _)| q.value),
        most_mm_per_s: block
            .positive("most_speed", Speed)
            .map(|(q, _)| q.value * MM),
        hold_sd_mpa: not_below(&block, "hold_sd", Pressure, faults),
        melt_sd_k: kelvin("melt_sd"),
        wall_sd_k: kelvin("wall_sd"),
    };
    block.finish();
    wishes
}

/// A quantity of 0 or more.
fn not_below(
    block: &Block<'_>,
    key: &'static str,
    wanted: whirlwright_workshop::part::Dimension,
    faults: &Faults,
) -> Option<f64> {
    let (quantity, span) = block.quantity(key, wanted)?;
    if quantity.value < 0.0 {
        faults.add(
            span,
            format!("`{key}` is {quantity}; 0 or more was expected"),
        );
        return None;
    }
    Some(quantity.value)
}

fn process(block: Block<'_>, faults: &Faults) -> ProcessWishes {
    let degc = |key| block.quantity(key, Temperature).map(|(q, _)| q.value);
    let hold = block.blocks("hold", true);
    if hold.len() > MOST_STEPS {
        let what = format!(
            "the hold has {} steps; at most {MOST_STEPS} were expected",
            hold.len()
        );
        faults.add(block.span.clone(), what);
    }
    let share = |key| {
        let (quantity, span) = block.quantity(key, Share)?;
        if !(0.0..=1.0).contains(&quantity.value) {
            faults.add(
                span,
                format!("`{key}` is {quantity}; 0 % to 100 % was expected"),
            );
            return None;
        }
        Some(quantity.value)
    };
    let wishes = ProcessWishes {
        melt_degc: degc("melt"),
        wall_degc: degc("wall"),
        fill_s: block.positive("fill_time", Time).map(|(q, _)| q.value),
        switch_share: share("switch_over"),
        hold: hold
            .into_iter()
            .take(MOST_STEPS)
            .filter_map(|b| step(b, faults))
            .collect(),
        cooling_s: not_below(&block, "cooling", Time, faults),
        open_s: not_below(&block, "open", Time, faults),
        cushion_mm: not_below(&block, "cushion", Length, faults),
        regrind_share: share("regrind"),
        before: block.text("ran_before").map(|said| said.text.to_owned()),
        weight_within_g: block.positive("weight_within", Mass).map(|(q, _)| q.value),
    };
    block.finish();
    wishes
}

/// One step of the hold.
fn step(block: Block<'_>, faults: &Faults) -> Option<HoldWish> {
    let pressure = match block.has("pressure") {
        true => not_below(&block, "pressure", Pressure, faults),
        false => block.needed("pressure", Pressure),
    };
    let time = match block.has("time") {
        true => block.positive("time", Time).map(|(q, _)| q.value),
        false => block.needed("time", Time),
    };
    block.finish();
    Some(HoldWish {
        pressure_mpa: pressure?,
        time_s: time?,
    })
}

fn resin(block: Block<'_>) -> ResinWishes {
    let card = block.text("card").map(|said| said.text.to_owned());
    let mut changed = Vec::new();
    for group in ["flow", "room", "heat", "handling"] {
        let Some(inner) = block.block(group, format!("[resin.{group}]")) else {
            continue;
        };
        for side in ["melt", "solid"] {
            let of = format!("{group}.{side}.");
            let is_there = RESIN_KEYS.iter().any(|(key, _)| key.starts_with(&of));
            let deeper = is_there.then(|| inner.block(side, format!("[resin.{group}.{side}]")));
            if let Some(deeper) = deeper.flatten() {
                numbers(&deeper, &of, &mut changed);
                deeper.finish();
            }
        }
        numbers(&inner, &format!("{group}."), &mut changed);
        inner.finish();
    }
    block.finish();
    ResinWishes { card, changed }
}

/// The keys of one table, each in its unit.
fn numbers(block: &Block<'_>, of: &str, changed: &mut Vec<(&'static str, f64)>) {
    for (key, unit) in RESIN_KEYS {
        let Some(last) = key.strip_prefix(of).filter(|rest| !rest.contains('.')) else {
            continue;
        };
        if let Some(number) = block.in_unit(last, unit, "1.2e3") {
            changed.push((key, number));
        }
    }
}

#[cfg(test)]
mod tests {
    use whirlwright_workshop::part::Job;

    const HEAD: &str = "whirlwright = 1\n[design]\nname = \"a\"\n[[piece]]\nname = \"half\"\nside = \"both\"\nmaterial = \"abs\"\noutline = \"M 2 4 L 4 4 L 4 28 L 2 28 Z\"\n";

    fn read(blocks: &str) -> Result<Job, String> {
        let text = format!("{HEAD}{blocks}");
        let fetch = |name: &str| Err(format!("no {name}"));
        super::super::read(&text, "job.toml", &fetch).map_err(|e| e.to_string())
    }

    #[test]
    fn reads_what_a_job_says_of_press_set_up_and_resin() {
        let job = read(
            "[press]\nclass = \"650 kN\"\nscrew = \"30 mm\"\nmost_speed = \"85 mm/s\"\nmelt_sd = \"1.5 K\"\nhold_sd = \"2 bar\"\n\
             [process]\nmelt = \"509 degF\"\nfill_time = \"800 ms\"\nswitch_over = \"98 %\"\nhold = [{ pressure = \"400 bar\", time = \"4 s\" }, { pressure = \"20 MPa\", time = \"2 s\" }]\nran_before = \"pom\"\nweight_within = \"50 mg\"\n\
             [resin]\ncard = \"abs\"\n[resin.flow]\nindex = 0.31\nrest = \"1.6e12 Pa·s\"\n[resin.room.melt]\nvolume = \"9.8e-4 m³/kg\"\n[resin.heat]\neject = \"90 degC\"\n",
        )
        .expect("a job");
        let (press, process, resin) = (
            job.press.expect("a press"),
            job.process.expect("a set-up"),
            job.resin.expect("a resin"),
        );
        assert_eq!(
            (press.clamp_n, press.most_mm_per_s),
            (Some(650e3), Some(85.0))
        );
        assert_eq!((press.melt_sd_k, press.hold_sd_mpa), (Some(1.5), Some(0.2)));
        assert_eq!(process.weight_within_g, Some(0.05));
        assert_eq!(process.melt_degc.map(f64::round), Some(265.0));
        let steps = process.hold.iter().map(|s| (s.pressure_mpa, s.time_s));
        assert_eq!(steps.collect::<Vec<_>>(), [(40.0, 4.0), (20.0, 2.0)]);
        assert_eq!(
            (process.fill_s, process.switch_share),
            (Some(0.8), Some(0.98))
        );
        assert_eq!(
            resin.changed,
            [
                ("flow.index", 0.31),
                ("flow.rest", 1.6e12),
                ("room.melt.volume", 9.8e-4),
                ("heat.eject", 90.0),
            ]
        );
    }

    #[test]
    fn refuses_what_is_no_set_up_and_says_what_was_expected() {
        for (blocks, said) in [
            ("[press]\nclass = 65\n", "has no unit"),
            ("[press]\nclass = \"65 t\"\n", "is not a known unit"),
            ("[press]\nscrew = \"-3 mm\"\n", "more than 0"),
            ("[press]\nmelt_sd = \"1.5 degC\"\n", "a number in K"),
            ("[press]\nmelt_sd = \"-1 K\"\n", "0 or more"),
            ("[press]\nstrok = \"100 mm\"\n", "did you mean `stroke`"),
            ("[process]\nmelt = \"265\"\n", "has no unit"),
            ("[process]\nfill_time = \"0 s\"\n", "more than 0"),
            ("[process]\nfill_time = \"3 mm\"\n", "a time is wanted"),
            ("[process]\nswitch_over = \"120 %\"\n", "0 % to 100 %"),
            ("[process]\nhold = \"40 MPa\"\n", "tables were expected"),
            (
                "[process]\nhold = [{ pressure = \"40 MPa\" }]\n",
                "has no `time`",
            ),
            (
                "[process]\nhold = [{ pressure = \"-4 MPa\", time = \"1 s\" }]\n",
                "0 or more",
            ),
            (
                "[process]\nhold = [{ pressure = \"4 MPa\", time = \"0 s\" }]\n",
                "more than 0",
            ),
            ("[process]\ncooling = \"-2 s\"\n", "0 or more"),
            ("[process]\nregrind = \"-2 %\"\n", "0 % to 100 %"),
            ("[process]\nran_before = 3\n", "a text in quotes"),
            ("[resin]\ncard = 3\n", "a text in quotes"),
            ("[resin.flow]\nrest = \"1.6e12\"\n", "a number in Pa s"),
            (
                "[resin.flow]\nindex = \"much\"\n",
                "a plain number was expected",
            ),
            (
                "[resin.flow]\nrset = \"1.6e12 Pa s\"\n",
                "did you mean `rest`",
            ),
            (
                "[resin.room.melt]\nvolume = \"9.8e-4 m3\"\n",
                "a number in m3/kg",
            ),
            ("[resin.water]\na = 1\n", "`water` is not a key of [resin]"),
        ] {
            let why = read(blocks).expect_err(blocks);
            assert!(why.contains(said), "{blocks}: {why}");
        }
    }
}
