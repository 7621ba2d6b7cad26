//! The block `[balance]`: grade, speed, planes, the errors the drawing allows, and how a correction
//! may be made.

use toml::de::DeValue;
use whirlwright_workshop::part::Dimension::{
    Angle, AngularSpeed, Density, Length, Mass, Unbalance,
};
use whirlwright_workshop::part::balance_wishes::{
    BalanceWishes, Depths, ErrorKind, ErrorWish, WayWish, WorkSide, WorkWish,
};
use whirlwright_workshop::part::{Dimension, Quantity, Range};
use whirlwright_workshop::shelf;

use super::block::{Block, Faults, as_text, kind};
use super::piece::known_piece;

/// Draws above this take minutes.
const MOST_DRAWS: u32 = 1_000_000;
const MOST_PLACES: u32 = 360;
const MOST_HOLES: u32 = 12;
/// Most drills, masses or closed places of one list.
const MOST_LISTED: usize = 64;

pub(super) fn balance(block: Block<'_>, names: &[String], faults: &Faults) -> BalanceWishes {
    let planes = block.window("planes", Length);
    let wishes = BalanceWishes {
        grade_mm_per_s: grade(&block, faults),
        limit_g_mm: block.positive("limit", Unbalance).map(|(q, _)| q.value),
        speed_rpm: block.positive("speed", AngularSpeed).map(|(q, _)| q.value),
        planes_mm: planes.map(|(left, right)| (left.to_f64(), right.to_f64())),
        rim: piece(&block, "rim", names, faults),
        wobble_weight: block.ratio("wobble_weight"),
        string_stretch_mm: range(&block, "string_stretch", Length),
        measuring_error_g_mm: block
            .positive("measuring_error", Unbalance)
            .map(|(q, _)| q.value),
        errors: block
            .blocks("error", false)
            .into_iter()
            .filter_map(|one| error(one, names, faults))
            .collect(),
        draws: block.whole("draws", 1, MOST_DRAWS),
        seed: block.whole("seed", 0, u32::MAX).map(u64::from),
        works: works(&block, names, faults),
    };
    block.finish();
    wishes
}

/// A balance quality grade: `"G 6.3"`, or its number with its unit, `"6.3 mm/s"`.
pub(in crate::read) fn grade(block: &Block<'_>, faults: &Faults) -> Option<f64> {
    let said = block.text("grade")?;
    let text = said.text.trim();
    let number = grade_of(text);
    if number.is_none() {
        let what =
            format!("`grade` is `{text}`; a balance quality grade was expected, such as \"G 6.3\"");
        faults.add(said.span, what);
    }
    number
}

/// The number of a grade; none where the text is no grade.
pub(in crate::read) fn grade_of(text: &str) -> Option<f64> {
    let text = text.trim();
    text.strip_prefix(['G', 'g'])
        .or_else(|| text.strip_suffix("mm/s"))
        .and_then(|rest| rest.trim().parse::<f64>().ok())
        .filter(|grade| grade.is_finite() && *grade > 0.0)
}

/// One value, or two with `..` between them.
fn range(block: &Block<'_>, key: &'static str, of: Dimension) -> Option<Range> {
    let two = block
        .value(key)
        .and_then(as_text)
        .is_some_and(|said| said.text.contains(".."));
    if two {
        let (low, high) = block.window(key, of)?;
        return Some(Range::between(low.to_f64(), high.to_f64()));
    }
    block
        .positive(key, of)
        .map(|(q, _)| Range::exactly(q.value))
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

/// How a correction may be made; a side can have but one way.
fn works(block: &Block<'_>, names: &[String], faults: &Faults) -> Vec<WorkWish> {
    let mut works: Vec<WorkWish> = Vec::new();
    for one in block.blocks("work", true) {
        let span = one.span.clone();
        let Some(wish) = work(one, names, faults) else {
            continue;
        };
        let meets = |other: &WorkWish| {
            other.side == wish.side || other.side == WorkSide::Both || wish.side == WorkSide::Both
        };
        if works.iter().any(meets) {
            let what = "this side has a work already; one [[balance.work]] a side was expected";
            faults.add(span, what);
        }
        works.push(wish);
    }
    works
}

/// One error that the drawing allows.
fn error(block: Block<'_>, names: &[String], faults: &Faults) -> Option<ErrorWish> {
    #[derive(Clone, Copy)]
    enum Word {
        RunOut,
        Eccentric,
        Clearance,
        FaceRunOut,
        Spot,
    }
    let words = [
        ("run-out", Word::RunOut),
        ("eccentric", Word::Eccentric),
        ("clearance", Word::Clearance),
        ("face run-out", Word::FaceRunOut),
        ("spot", Word::Spot),
    ];
    let name = block.needed_text("name", "what the error is called, such as \"rim run-out\",");
    let of = piece(&block, "piece", names, faults);
    let word = one_of(&block, "kind", &words, faults);
    let size = |key| needed(&block, key, Length);
    let kind = word.and_then(|word| {
        Some(match word {
            Word::RunOut => ErrorKind::RunOut {
                movement_mm: size("movement")?,
            },
            Word::Eccentric => ErrorKind::Eccentric {
                offset_mm: size("offset")?,
            },
            Word::Clearance => ErrorKind::Clearance {
                clearance_mm: size("clearance")?,
            },
            Word::FaceRunOut => ErrorKind::FaceRunOut {
                at_diameter_mm: block.positive("at_diameter", Length).map(|(q, _)| q.value),
                movement_mm: size("movement")?,
            },
            Word::Spot => ErrorKind::Spot {
                radius_mm: block.positive("radius", Length).map(|(q, _)| q.value),
                mass_g: needed(&block, "mass", Mass)?,
            },
        })
    });
    if word.is_some() {
        block.finish();
    }
    Some(ErrorWish {
        name: name?.text.to_owned(),
        piece: of,
        kind: kind?,
    })
}

fn one_of<T: Copy>(
    block: &Block<'_>,
    key: &'static str,
    words: &[(&'static str, T)],
    faults: &Faults,
) -> Option<T> {
    if !block.has(key) {
        let list: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        let what = format!(
            "{} has no `{key}`; one of {} was expected",
            block.name,
            list.join(", ")
        );
        faults.missing(block.span.clone(), what);
    }
    block.choice(key, words)
}

/// A quantity above zero that must be there.
fn needed(block: &Block<'_>, key: &'static str, of: Dimension) -> Option<f64> {
    if block.has(key) {
        block.positive(key, of).map(|(q, _)| q.value)
    } else {
        block.needed(key, of)
    }
}

#[derive(Clone, Copy, PartialEq)]
enum Tool {
    Hole,
    RadialHole,
    Pocket,
    Pin,
    Weight,
}

/// One way in which a correction may be made.
fn work(block: Block<'_>, names: &[String], faults: &Faults) -> Option<WorkWish> {
    let tools = [
        ("hole", Tool::Hole),
        ("radial hole", Tool::RadialHole),
        ("pocket", Tool::Pocket),
        ("pin", Tool::Pin),
        ("weight", Tool::Weight),
    ];
    let sides = [
        ("both", WorkSide::Both),
        ("left", WorkSide::Left),
        ("right", WorkSide::Right),
    ];
    let tool = one_of(&block, "kind", &tools, faults);
    let side = if block.has("side") {
        block.choice("side", &sides)
    } else {
        let _ = block.value("side");
        Some(WorkSide::Both)
    };
    let of = piece(&block, "piece", names, faults);
    let places = block.whole("places", 1, MOST_PLACES);
    if !block.has("places") {
        faults.missing(
            block.span.clone(),
            "a work has no `places`; the number of places round the axle was expected, such as places = 24",
        );
    }
    let first_deg = block.quantity("first", Angle).map_or(0.0, |(q, _)| q.value);
    let closed = closed(&block, places.unwrap_or(MOST_PLACES), faults);
    let most_holes = if block.has("most_holes") {
        block.whole("most_holes", 1, MOST_HOLES)
    } else {
        let _ = block.value("most_holes");
        Some(2)
    };
    let way = tool.and_then(|tool| way(&block, tool, faults));
    if tool.is_some() {
        block.finish();
    }
    Some(WorkWish {
        side: side?,
        piece: of,
        way: way?,
        places: places?,
        first_deg,
        closed,
        most_holes: most_holes?,
    })
}

fn way(block: &Block<'_>, tool: Tool, faults: &Faults) -> Option<WayWish> {
    /// A flat end: what a point angle is where an end mill is used.
    const FLAT_DEG: f64 = 180.0;
    let size = |key| needed(block, key, Length);
    let point = || {
        let said = block.positive("point_angle", Angle);
        said.map_or(FLAT_DEG, |(q, _)| q.value)
    };
    match tool {
        Tool::Hole => {
            let (drills, radius, point) = (
                list(block, "drills", Length, faults),
                size("radius"),
                point(),
            );
            Some(WayWish::AxialHole {
                depths: depths(block)?,
                diameters_mm: drills?,
                radius_mm: radius?,
                point_angle_deg: point,
            })
        }
        Tool::RadialHole => {
            let (drills, x, point) = (
                list(block, "drills", Length, faults),
                block.quantity("place", Length),
                point(),
            );
            Some(WayWish::RadialHole {
                depths: depths(block)?,
                diameters_mm: drills?,
                x_mm: x.map(|(q, _)| q.value),
                point_angle_deg: point,
            })
        }
        Tool::Pocket => {
            let (width, x, span) = (
                size("width"),
                block.quantity("place", Length),
                needed(block, "span", Angle),
            );
            Some(WayWish::Pocket {
                depths: depths(block)?,
                width_mm: width?,
                x_mm: x.map(|(q, _)| q.value),
                span_deg: span?,
            })
        }
        Tool::Pin => {
            let (diameter, radius, density) =
                (size("diameter"), size("radius"), density(block, faults));
            Some(WayWish::Pin {
                depths: depths(block)?,
                diameter_mm: diameter?,
                radius_mm: radius?,
                density_g_cm3: density?,
            })
        }
        Tool::Weight => {
            let (masses, radius, x) = (
                list(block, "masses", Mass, faults),
                size("radius"),
                block.quantity("place", Length),
            );
            Some(WayWish::Weight {
                masses_g: masses?,
                radius_mm: radius?,
                x_mm: x.map(|(q, _)| q.value),
            })
        }
    }
}

/// `shallowest`, `deepest` and `step` of the stop.
fn depths(block: &Block<'_>) -> Option<Depths> {
    let (least, most, step) = (
        needed(block, "shallowest", Length),
        needed(block, "deepest", Length),
        needed(block, "step", Length),
    );
    Some(Depths {
        least_mm: least?,
        most_mm: most?,
        step_mm: step?,
    })
}

fn density(block: &Block<'_>, faults: &Faults) -> Option<f64> {
    let (said, material) = (block.positive("density", Density), block.text("material"));
    if block.has("density") == block.has("material") {
        faults.missing(
            block.span.clone(),
            "a pin: one of `density` and `material` was expected",
        );
        return None;
    }
    let Some(word) = material else {
        return said.map(|(q, _)| q.value);
    };
    let found = shelf::material(word.text);
    if found.is_none() {
        let what = format!(
            "`{}` is not a material of the shelf; give a density",
            word.text
        );
        faults.add(word.span, what);
    }
    found.map(|material| material.density_g_cm3)
}

/// Quantities above zero, one or a list; there must be one.
fn list(block: &Block<'_>, key: &'static str, of: Dimension, faults: &Faults) -> Option<Vec<f64>> {
    let Some(value) = block.value(key) else {
        let what = format!(
            "{} has no `{key}`; a list was expected, such as {key} = [{}]",
            block.name,
            of.example()
        );
        faults.missing(block.span.clone(), what);
        return None;
    };
    let each: Vec<_> = match value.get_ref() {
        DeValue::Array(array) => array.iter().collect(),
        _ => vec![value],
    };
    if each.is_empty() || each.len() > MOST_LISTED {
        let what = format!(
            "`{key}` has {} values; 1 to {MOST_LISTED} were expected",
            each.len()
        );
        faults.add(value.span(), what);
        return None;
    }
    let mut out = Vec::new();
    for one in &each {
        let Some(said) = as_text(one) else {
            let what = format!(
                "`{key}` holds {}; {} with its unit was expected, such as {}",
                kind(one.get_ref()),
                of.name(),
                of.example()
            );
            faults.add(one.span(), what);
            continue;
        };
        match Quantity::read(said.text, of) {
            Ok(quantity) if quantity.value > 0.0 => out.push(quantity.value),
            Ok(quantity) => faults.add(
                said.span,
                format!("`{key}` holds {quantity}; more than 0 was expected"),
            ),
            Err(why) => faults.add(said.span, format!("`{key}`: {why}")),
        }
    }
    (out.len() == each.len()).then_some(out)
}

/// Places that must not be used, by number from 1 as the bench counts; from 0 inside.
fn closed(block: &Block<'_>, places: u32, faults: &Faults) -> Vec<u32> {
    let Some(value) = block.value("closed") else {
        return Vec::new();
    };
    let DeValue::Array(array) = value.get_ref() else {
        let what = format!(
            "`closed` is {}; a list of numbers of places was expected, such as closed = [3, 7]",
            kind(value.get_ref())
        );
        faults.add(value.span(), what);
        return Vec::new();
    };
    let mut out = Vec::new();
    for one in array.iter() {
        let number = match one.get_ref() {
            DeValue::Integer(n) => n.as_str().parse::<u32>().ok(),
            _ => None,
        };
        match number.filter(|n| (1..=places).contains(n)) {
            Some(n) => out.push(n - 1),
            None => {
                let what = format!(
                    "`closed` holds {}; a number of a place from 1 to {places} was expected",
                    kind(one.get_ref())
                );
                faults.add(one.span(), what);
            }
        }
    }
    out
}
