//! The block `[mould]`: sprue, `[[mould.runner]]`, `[[mould.gate]]`, `[[mould.cavity]]`.

use whirlwright_workshop::part::Dimension::{Angle, HeatTransfer, Length, Share};
use whirlwright_workshop::part::Job;
use whirlwright_workshop::part::mould_wishes::{
    CavityWish, GateWish, MouldWishes, RunnerSection, RunnerWish, TaperWish,
};

use super::block::{Block, Faults};
use super::piece::known_piece;
use super::spin::{ABOVE_NOUGHT, Reader};

/// More hollows than any mould of halves has.
const MOST_CAVITIES: u32 = 128;

/// What runners may be.
#[derive(Clone, Copy)]
struct Cold;

/// Reads the block into a job.
pub(super) fn blocks(top: &Block<'_>, names: &[String], faults: &Faults, job: &mut Job) {
    job.mould = top
        .block("mould", "[mould]")
        .map(|b| mould(b, names, faults));
}

fn mould(block: Block<'_>, names: &[String], faults: &Faults) -> MouldWishes {
    let read = Reader::new(&block, faults);
    let piece = block.text("piece");
    if let Some(said) = &piece {
        known_piece(said.text, &said.span, names, faults);
    }
    // `runner = "cold"` says what kind; `[[mould.runner]]` says which: both are the key `runner`.
    let runners = if block.text_at("runner") {
        let _ = block.choice("runner", &[("cold", Cold)]);
        Vec::new()
    } else {
        let blocks = block.blocks("runner", true);
        blocks
            .into_iter()
            .filter_map(|b| runner(b, faults))
            .collect()
    };
    let sprue = block.block("sprue", "[mould.sprue]");
    let gates = block.blocks("gate", true);
    let cavities = block.blocks("cavity", true);
    let wishes = MouldWishes {
        piece: piece.map(|said| said.text.to_owned()),
        cavities_count: block.whole("cavities", 1, MOST_CAVITIES),
        cut_for_share: block.quantity("cut_for", Share).map(|(q, _)| q.value),
        sprue: sprue.and_then(|b| sprue_of(b, faults)),
        runners,
        gates: gates.into_iter().filter_map(gate).collect(),
        cavities: cavities.into_iter().filter_map(cavity).collect(),
        pressed_w_m2_k: read.range("film_pressed", HeatTransfer, ABOVE_NOUGHT),
        loose_w_m2_k: read.range("film_loose", HeatTransfer, ABOVE_NOUGHT),
    };
    block.finish();
    wishes
}

fn positive(block: &Block<'_>, key: &'static str) -> Option<f64> {
    block.positive(key, Length).map(|(q, _)| q.value)
}

/// A length above zero that must be there.
fn needed(block: &Block<'_>, key: &'static str) -> Option<f64> {
    if block.has(key) {
        positive(block, key)
    } else {
        block.needed(key, Length)
    }
}

/// `diameter`, or `from` and `to`.
fn ends(block: &Block<'_>, faults: &Faults) -> Option<(f64, f64)> {
    let straight = positive(block, "diameter");
    let (from, to) = (positive(block, "from"), positive(block, "to"));
    let said = ["diameter", "from", "to"].map(|key| block.has(key));
    match said {
        [true, false, false] => straight.map(|d| (d, d)),
        [false, true, true] => from.zip(to),
        _ => {
            let what = format!(
                "{}: one `diameter`, or `from` and `to`, was expected, such as diameter = \"5 mm\"",
                block.name
            );
            faults.missing(block.span.clone(), what);
            None
        }
    }
}

fn sprue_of(block: Block<'_>, faults: &Faults) -> Option<TaperWish> {
    let (ends, length) = (ends(&block, faults), needed(&block, "length"));
    block.finish();
    let (from_mm, to_mm) = ends?;
    Some(TaperWish {
        from_mm,
        to_mm,
        length_mm: length?,
    })
}

fn runner(block: Block<'_>, faults: &Faults) -> Option<RunnerWish> {
    let name = block.needed_text("name", "a name such as \"left\"");
    let after = block.text("after");
    let section = if block.has("width") || block.has("depth") {
        let (width, depth) = (needed(&block, "width"), needed(&block, "depth"));
        width
            .zip(depth)
            .map(|(width_mm, depth_mm)| RunnerSection::Flat { width_mm, depth_mm })
    } else {
        let [_, _] = ["width", "depth"].map(|key| block.value(key).is_some());
        ends(&block, faults).map(|(from_mm, to_mm)| RunnerSection::Round { from_mm, to_mm })
    };
    let length = needed(&block, "length");
    block.finish();
    Some(RunnerWish {
        name: name?.text.to_owned(),
        after: after.map(|said| said.text.to_owned()),
        section: section?,
        length_mm: length?,
    })
}

fn gate(block: Block<'_>) -> Option<GateWish> {
    let own = |key| block.text(key).map(|said| said.text.to_owned());
    let wish = GateWish {
        cavity: own("cavity"),
        after: own("after"),
        axial_mm: block.quantity("x", Length).map(|(q, _)| q.value),
        radius_mm: positive(&block, "radius"),
        angle_deg: block.quantity("angle", Angle).map(|(q, _)| q.value),
        is_ring: block.flag("ring").unwrap_or(false),
        width_mm: positive(&block, "width"),
        depth_mm: positive(&block, "depth"),
        length_mm: positive(&block, "length"),
    };
    block.finish();
    Some(wish)
}

fn cavity(block: Block<'_>) -> Option<CavityWish> {
    let name = block.needed_text("name", "a name such as \"1\"");
    let wish = (
        block.ratio("steel"),
        block.text("runner").map(|said| said.text.to_owned()),
    );
    block.finish();
    Some(CavityWish {
        name: name?.text.to_owned(),
        steel_ratio: wish.0,
        runner: wish.1,
    })
}

#[cfg(test)]
mod tests {
    use whirlwright_workshop::part::{Job, Range};

    use super::*;

    const HEAD: &str = "whirlwright = 1\n[design]\nname = \"a\"\n[[piece]]\nname = \"half\"\nside = \"both\"\nmaterial = \"abs\"\noutline = \"M 2 4 L 4 4 L 4 28 L 2 28 Z\"\n";

    fn read(blocks: &str) -> Result<Job, String> {
        let text = format!("{HEAD}{blocks}");
        let fetch = |name: &str| Err(format!("no {name}"));
        super::super::read(&text, "job.toml", &fetch).map_err(|e| e.to_string())
    }

    #[test]
    fn reads_what_a_job_says_of_the_mould() {
        let job = read(
            "[mould]\ncavities = 2\nfilm_pressed = \"1000 W/(m2·K) .. 5000 W/m2K\"\n[mould.sprue]\nfrom = \"3.5 mm\"\nto = \"6 mm\"\nlength = \"6 cm\"\n",
        );
        assert!(job.is_err(), "centimetres are no unit of the table");
        let job = read(
            "[mould]\ncavities = 2\nfilm_pressed = \"1000 W/(m2·K) .. 5000 W/m2K\"\n[mould.sprue]\nfrom = \"3.5 mm\"\nto = \"6 mm\"\nlength = \"60 mm\"\n\
             [[mould.runner]]\nname = \"left\"\ndiameter = \"5 mm\"\nlength = \"30 mm\"\n[[mould.runner]]\nname = \"tab\"\nafter = \"left\"\nwidth = \"6 mm\"\ndepth = \"4 mm\"\nlength = \"1 in\"\n\
             [[mould.gate]]\nx = \"3 mm\"\nradius = \"28 mm\"\nangle = \"90 deg\"\nwidth = \"4 mm\"\ndepth = \"1.2 mm\"\nlength = \"1 mm\"\n[[mould.gate]]\ncavity = \"b\"\nring = true\n\
             [[mould.cavity]]\nname = \"a\"\n[[mould.cavity]]\nname = \"b\"\nsteel = 1.003\nrunner = \"tab\"\n",
        )
        .expect("a job");
        let mould = job.mould.expect("a mould");
        assert_eq!(mould.cavities_count, Some(2));
        assert_eq!(mould.pressed_w_m2_k, Some(Range::between(1000.0, 5000.0)));
        let sprue = mould.sprue.expect("a sprue");
        assert_eq!(
            (sprue.from_mm, sprue.to_mm, sprue.length_mm),
            (3.5, 6.0, 60.0)
        );
        assert_eq!(mould.runners[1].length_mm, 25.4);
        assert_eq!(mould.runners[1].after.as_deref(), Some("left"));
        assert!(matches!(
            mould.runners[1].section,
            RunnerSection::Flat { width_mm: 6.0, .. }
        ));
        assert_eq!(mould.gates[0].angle_deg, Some(90.0));
        assert!(mould.gates[1].is_ring && mould.gates[1].depth_mm.is_none());
        assert_eq!(mould.cavities[1].steel_ratio, Some(1.003));
    }

    #[test]
    fn refuses_what_is_no_mould_and_says_what_was_expected() {
        for (blocks, said) in [
            ("[mould]\ncavities = 0\n", "a whole number from 1 to 128"),
            (
                "[mould]\ncavities = \"four\"\n",
                "a whole number from 1 to 128",
            ),
            ("[mould]\ncavity = 4\n", "tables were expected: [[cavity]]"),
            ("[mould]\ncavitys = 4\n", "did you mean `cavit"),
            ("[mould]\nrunner = \"hot\"\n", "one of cold was expected"),
            (
                "[mould]\nrunner = \"cold\"\npiece = \"haft\"\n",
                "there is no piece `haft`",
            ),
            (
                "[mould]\nfilm_loose = \"-3 W/(m2·K)\"\n",
                "more than 0 was expected",
            ),
            ("[mould]\nfilm_loose = \"3 W\"\n", "a heat transfer"),
            (
                "[mould.sprue]\nfrom = \"3 mm\"\nlength = \"50 mm\"\n",
                "`from` and `to`, was expected",
            ),
            (
                "[mould.sprue]\nfrom = \"3 mm\"\nto = \"5 mm\"\n",
                "has no `length`",
            ),
            (
                "[mould.sprue]\ndiameter = \"-3 mm\"\nlength = \"9 mm\"\n",
                "more than 0 was expected",
            ),
            (
                "[mould.sprue]\ndiameter = \"3 mm\"\nlength = 9\n",
                "has no unit",
            ),
            (
                "[[mould.runner]]\ndiameter = \"3 mm\"\nlength = \"9 mm\"\n",
                "has no `name`",
            ),
            (
                "[[mould.runner]]\nname = \"a\"\nlength = \"9 mm\"\n",
                "one `diameter`",
            ),
            (
                "[[mould.runner]]\nname = \"a\"\nwidth = \"5 mm\"\nlength = \"9 mm\"\n",
                "has no `depth`",
            ),
            (
                "[[mould.runner]]\nname = \"a\"\ndiameter = \"0 mm\"\nlength = \"9 mm\"\n",
                "more than 0",
            ),
            ("[[mould.gate]]\nangle = \"30 mm\"\n", "an angle is wanted"),
            (
                "[[mould.gate]]\nring = \"yes\"\n",
                "true or false was expected",
            ),
            ("[[mould.gate]]\ndept = \"1 mm\"\n", "did you mean `depth`"),
            ("[[mould.cavity]]\nsteel = 1.01\n", "has no `name`"),
            (
                "[[mould.cavity]]\nname = \"1\"\nsteel = \"-1\"\n",
                "a number above 0",
            ),
        ] {
            let why = read(blocks).expect_err(blocks);
            assert!(why.contains(said), "{blocks}: {why}");
        }
    }
}
