//! The middle line parted where it turns: stretches with names as a person would say them.

use std::f64::consts::TAU;

use whirlwright_kit::revolve::Segment;
use whirlwright_kit::skeleton::{Branch, Skeleton, Wanted, skeleton};

use super::faults::Refusal;

/// The outline is cut to about this many pieces.
const CUTS: f64 = 1200.0;
/// Within this of the axle's direction a stretch runs along it, in degrees.
const ALONG_DEG: f64 = 30.0;
/// Beyond this it runs outward.
const OUTWARD_DEG: f64 = 60.0;
/// A stretch is at least this many times as long as it is thick.
const LEAST_LONG: f64 = 1.0;
/// Inside this share of the largest radius lies the hub.
const INNER: f64 = 0.4;
/// Outside this one the rim's wall.
const OUTER: f64 = 0.7;

/// How a stretch runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Run {
    /// Along the axle.
    Along,
    /// Slanted.
    Slanted,
    /// Outward from the axle.
    Outward,
}

/// A part of a branch of the middle line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stretch {
    /// The branch.
    pub branch: usize,
    /// Where on it the stretch begins.
    pub from_mm: f64,
    /// Where it ends.
    pub to_mm: f64,
    /// How it runs.
    pub run: Run,
}

/// The middle line with its stretches, branch after branch and along each.
#[derive(Debug, Clone, PartialEq)]
pub struct Parted {
    /// The middle line.
    pub line: Skeleton,
    /// Its stretches.
    pub stretches: Vec<Stretch>,
}

/// The middle line of a section, parted.
pub fn part(loops: &[Vec<Segment>]) -> Result<Parted, Refusal> {
    let pieces = loops.iter().flatten();
    let length: f64 = pieces.map(length_mm).sum();
    let not = |why: String| Refusal::Section { why };
    if !(length.is_finite() && length > 0.0) {
        return Err(not("the outline has no length".to_owned()));
    }
    let line =
        skeleton(loops, &Wanted::of_step_mm(length / CUTS)).map_err(|e| not(e.to_string()))?;
    let mut stretches = Vec::new();
    for (number, branch) in line.branches.iter().enumerate() {
        stretches.extend(of_branch(number, branch));
    }
    Ok(Parted { line, stretches })
}

/// The length of a piece of outline, near enough to choose a step by.
fn length_mm(segment: &Segment) -> f64 {
    const LOOKS: u32 = 8;
    let at = |k: u32| segment.at(f64::from(k) / f64::from(LOOKS));
    (0..LOOKS).map(|k| at(k).distance(at(k + 1))).sum()
}

/// Runs of one direction; those shorter than the wall is thick go to their longer neighbour.
fn of_branch(number: usize, branch: &Branch) -> Vec<Stretch> {
    let length = branch.length_mm();
    let mut parts: Vec<Stretch> = Vec::new();
    for pair in branch.points.windows(2) {
        let middle = 0.5 * (pair[0].along_mm + pair[1].along_mm);
        let run = run_at(branch, middle);
        match parts.last_mut() {
            Some(last) if last.run == run => last.to_mm = pair[1].along_mm,
            _ => parts.push(Stretch {
                branch: number,
                from_mm: pair[0].along_mm,
                to_mm: pair[1].along_mm,
                run,
            }),
        }
    }
    let long = |s: &Stretch| s.to_mm - s.from_mm;
    while parts.len() > 1 {
        let short = (0..parts.len()).filter(|k| {
            let s = &parts[*k];
            long(s) < LEAST_LONG * branch.at(0.5 * (s.from_mm + s.to_mm)).width_mm
        });
        let Some(k) = short.min_by(|a, b| long(&parts[*a]).total_cmp(&long(&parts[*b]))) else {
            break;
        };
        let before = k.checked_sub(1).map(|b| long(&parts[b]));
        let after = parts.get(k + 1).map(long);
        let into = if before >= after { k - 1 } else { k + 1 };
        let gone = parts.remove(k);
        let into = if into > k { into - 1 } else { into };
        parts[into].from_mm = parts[into].from_mm.min(gone.from_mm);
        parts[into].to_mm = parts[into].to_mm.max(gone.to_mm);
        parts.dedup_by(|b, a| {
            let same = a.run == b.run;
            if same {
                a.to_mm = b.to_mm;
            }
            same
        });
    }
    if let Some(last) = parts.last_mut() {
        last.to_mm = length;
    }
    parts
}

/// How the line runs at a place, looked at over half the wall's thickness to each side.
fn run_at(branch: &Branch, along_mm: f64) -> Run {
    let reach = 0.5 * branch.at(along_mm).width_mm;
    let (a, b) = (
        branch.at((along_mm - reach).max(0.0)),
        branch.at((along_mm + reach).min(branch.length_mm())),
    );
    let way = b.place - a.place;
    let slant = way.y.abs().atan2(way.x.abs()).to_degrees();
    if slant < ALONG_DEG {
        Run::Along
    } else if slant > OUTWARD_DEG {
        Run::Outward
    } else {
        Run::Slanted
    }
}

/// What a stretch looks like.
struct Look {
    run: Run,
    radius_mm: f64,
    volume_mm3: f64,
    is_free: bool,
    is_short: bool,
}

fn look(of: &Parted, stretch: &Stretch) -> Look {
    let branch = &of.line.branches[stretch.branch];
    let (mut length, mut radius, mut volume, mut width) = (0.0, 0.0, 0.0, 0.0);
    for pair in branch.points.windows(2) {
        let middle = 0.5 * (pair[0].along_mm + pair[1].along_mm);
        if middle > stretch.from_mm && middle < stretch.to_mm {
            let (at, step) = (branch.at(middle), pair[1].along_mm - pair[0].along_mm);
            length += step;
            radius += step * at.place.y;
            width += step * at.width_mm;
            volume += step * TAU * at.place.y * at.width_mm;
        }
    }
    let ends = [
        (stretch.from_mm <= 0.0, branch.nodes[0]),
        (stretch.to_mm >= branch.length_mm(), branch.nodes[1]),
    ];
    Look {
        run: stretch.run,
        radius_mm: radius / length,
        volume_mm3: volume,
        is_free: ends
            .iter()
            .any(|(is_end, node)| *is_end && of.line.nodes[*node].branches_count == 1),
        is_short: length * length < 3.0 * width,
    }
}

/// Names by place and run, each but once.
pub fn names(of: &Parted, is_pressed_on: bool) -> Vec<String> {
    let looks: Vec<Look> = of.stretches.iter().map(|s| look(of, s)).collect();
    let points = of.line.branches.iter().flat_map(|b| &b.points);
    let largest = points.map(|p| p.place.y).fold(0.0, f64::max);
    let is_hub = |l: &Look| l.run == Run::Along && l.radius_mm < INNER * largest;
    let hubs = looks.iter().filter(|l| is_hub(l)).map(|l| l.volume_mm3);
    let hub = hubs.fold(0.0, f64::max);
    let name = |l: &Look| match l.run {
        Run::Along if is_hub(l) && l.volume_mm3 < hub => "post",
        Run::Along if is_hub(l) => "hub",
        _ if l.radius_mm > OUTER * largest && l.is_free && l.is_short => "lip",
        Run::Along if l.radius_mm > OUTER * largest && is_pressed_on => "spigot",
        Run::Along if l.radius_mm > OUTER * largest => "rim wall",
        Run::Along => "sleeve",
        Run::Slanted => "wall",
        Run::Outward => "web",
    };
    let mut out: Vec<String> = Vec::new();
    for look in &looks {
        let word = name(look);
        let same = |said: &&String| {
            let rest = said.strip_prefix(word);
            rest.is_some_and(|r| r.is_empty() || r.starts_with(' '))
        };
        let count = out.iter().filter(same).count();
        out.push(if count == 0 {
            word.to_owned()
        } else {
            format!("{word} {}", count + 1)
        });
    }
    out
}
