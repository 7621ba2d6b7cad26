//! From mass too much to a depth of cut, and where the mass lands.

use whirlwright_kit::normal::below;

use super::body::{CutLine, TwoSteps};
use super::dimension::{Dimension, Surface};
use super::given::Given;
use super::sensitivity::{Piece, cut_sign};

/// Standard deviations left on for the second cut: one piece in forty-four is lighter already.
const LEFT_SIGMAS: f64 = 2.0;
/// A gain in probability below this is not worth a second cut.
const WORTH_GAIN: f64 = 0.005;

/// How much may come off a dimension, on the diameter for diameters.
pub(super) fn most_mm(given: &Given, of: &Dimension) -> f64 {
    let size = of.size_mm;
    match of.surface {
        Surface::Outside => {
            let wall = given.least_outside_mm.zip(size);
            wall.map_or(given.most_outside_mm, |(least, size)| size - least)
        }
        Surface::Face => {
            let wall = given.least_width_mm.zip(size);
            wall.map_or(given.most_face_mm, |(least, size)| size - least)
        }
        Surface::Bore | Surface::Taper => given.most_face_mm,
    }
    .max(0.0)
}

/// The cut that takes `over_g` off, and what is left of the piece after it.
pub(super) fn cut(
    given: &Given,
    piece: &Piece,
    of: &Dimension,
    mass_g: f64,
    over_g: f64,
) -> CutLine {
    let exact_mm = depth_mm(piece, of, over_g);
    let steps = (exact_mm / given.step_mm).round().max(0.0);
    let set_mm = steps * given.step_mm;
    let drawn = piece.mass();
    let after = piece.changed(of, cut_sign(of) * set_mm);
    let taken_g = drawn.mass_g - after.mass_g;
    let most_mm = most_mm(given, of);
    // A step of the lathe must not be lost to rounding.
    let allowed = set_mm <= most_mm + 1e-9;
    let mass_after_g = mass_g - taken_g;
    let mass_after_sd_g = landing_sd_g(given, piece, of, taken_g);
    let wanted = mass_g - over_g;
    let within_probability = within(given, mass_after_g - wanted, mass_after_sd_g);
    let mut line = CutLine {
        name: of.name.clone(),
        surface: of.surface,
        border_mm: border(of),
        exact_mm,
        set_mm,
        size_after_mm: of.size_mm.map(|size| size + cut_sign(of) * set_mm),
        most_mm,
        allowed,
        mass_after_g,
        mass_after_sd_g,
        polar_change_g_mm2: after.polar_g_mm2 - drawn.polar_g_mm2,
        transverse_change_g_mm2: after.transverse_g_mm2 - drawn.transverse_g_mm2,
        centre_change_mm: after.centre_mm - drawn.centre_mm,
        static_g_mm_at_most: piece.runs_out(of, given.runout_mm).0,
        within_probability,
        words: String::new(),
    };
    line.words = words(&line, most_mm);
    line
}

/// Where a surface stands on the drawing.
fn border(of: &Dimension) -> Vec<[f64; 2]> {
    let stretches = of.stretches.iter().flatten();
    let ends = stretches.flat_map(|s| [s.start(), s.end()]);
    let mut places: Vec<[f64; 2]> = ends.map(|p| [p.x, p.y]).collect();
    places.dedup();
    places
}

fn words(line: &CutLine, most_mm: f64) -> String {
    let on = match line.surface {
        Surface::Outside | Surface::Bore => " on the diameter",
        Surface::Face | Surface::Taper => "",
    };
    let sign = if line.surface == Surface::Bore {
        '+'
    } else {
        '−'
    };
    let too_much = if line.allowed {
        String::new()
    } else {
        format!(", and at most {most_mm:.3} mm may come off")
    };
    format!(
        "{} {sign}{:.3} mm{on} (set {:.3} mm){too_much}",
        line.name, line.exact_mm, line.set_mm
    )
}

/// The depth that takes a mass off: Newton's steps with the exact mass and its slope.
pub(super) fn depth_mm(piece: &Piece, of: &Dimension, over_g: f64) -> f64 {
    let slope = piece.gram_per_mm(of).abs();
    let drawn_g = piece.mass().mass_g;
    let sign = cut_sign(of);
    let mut depth = over_g / slope;
    // Mass is a polynomial of second degree at most, and nearly straight: four steps settle it.
    for _ in 0..4 {
        let taken = drawn_g - piece.changed(of, sign * depth).mass_g;
        depth += (over_g - taken) / slope;
    }
    depth
}

/// How far the mass after a cut may lie off: the reading, the depth, and what the drawing leaves open.
fn landing_sd_g(given: &Given, piece: &Piece, of: &Dimension, taken_g: f64) -> f64 {
    let depth = piece.gram_per_mm(of) * given.cut_sd_mm;
    let drawing = given.mass_of_cut_share * taken_g;
    given.scale_sd_g.hypot(depth).hypot(drawing)
}

/// Chance that a mass so far off on average lands within the limits.
fn within(given: &Given, off_g: f64, sd_g: f64) -> f64 {
    let limit = given.mass_within_g;
    if sd_g <= 0.0 {
        return f64::from(u8::from(off_g.abs() <= limit));
    }
    below((limit - off_g) / sd_g) - below((-limit - off_g) / sd_g)
}

/// Two cuts with a weighing between, where that lands better than one.
///
/// The first cut leaves [`LEFT_SIGMAS`] of its own landing error, in whole steps. After it the piece is
/// weighed again and cut to the wanted mass if it is over; the second cut is short, so what the
/// drawing leaves open hardly counts. The chance is integrated over the landing of the first cut and
/// the second reading.
pub(super) fn two_steps(
    given: &Given,
    piece: &Piece,
    of: &Dimension,
    line: &CutLine,
    mass_g: f64,
    over_g: f64,
) -> Option<TwoSteps> {
    let gram_per_step = piece.gram_per_mm(of).abs() * given.step_mm;
    let left = LEFT_SIGMAS * line.mass_after_sd_g;
    let steps_left = (left / gram_per_step).ceil().max(1.0);
    let first_mm = line.set_mm - steps_left * given.step_mm;
    if first_mm < given.step_mm || !line.allowed {
        return None;
    }
    let wanted = mass_g - over_g;
    let between =
        mass_g - (piece.mass().mass_g - piece.changed(of, cut_sign(of) * first_mm).mass_g);
    let leave_g = between - wanted;
    let first_sd = landing_sd_g(given, piece, of, mass_g - between);
    let second_sd = (piece.gram_per_mm(of) * given.cut_sd_mm)
        .hypot(given.mass_of_cut_share * leave_g)
        // The second cut is set in whole steps too: a step's rounding is spread evenly over it.
        .hypot(gram_per_step / 12f64.sqrt());
    let within_probability = landing(given, leave_g, first_sd, second_sd);
    if within_probability < line.within_probability + WORTH_GAIN {
        return None;
    }
    let words = format!(
        "cut {first_mm:.3} mm first, which leaves {leave_g:.3} g, weigh again, and cut the rest: {:.1} % land within ± {} g, against {:.1} % in one cut",
        100.0 * within_probability,
        given.mass_within_g,
        100.0 * line.within_probability
    );
    Some(TwoSteps {
        name: of.name.clone(),
        leave_g,
        first_mm,
        mass_between_g: between,
        within_probability,
        one_step_probability: line.within_probability,
        words,
    })
}

/// The chance of landing within the limits after the second cut.
fn landing(given: &Given, leave_g: f64, first_sd: f64, second_sd: f64) -> f64 {
    /// Equal shares of each error; the probability is smooth, so this is good to a few 10⁻⁴.
    const SLICES: u32 = 101;
    let errors: Vec<f64> = (0..SLICES)
        .map(|n| quantile((f64::from(n) + 0.5) / f64::from(SLICES)))
        .collect();
    let mut sum = 0.0;
    for first in &errors {
        let truly = leave_g + first * first_sd;
        for reading in &errors {
            let read = truly + reading * given.scale_sd_g;
            sum += if read > 0.0 {
                within(given, truly - read, second_sd)
            } else {
                f64::from(u8::from(truly.abs() <= given.mass_within_g))
            };
        }
    }
    sum / f64::from(SLICES * SLICES)
}

/// The place below which a share of the standard normal lies, by halving.
fn quantile(share: f64) -> f64 {
    /// Nothing that counts lies farther out.
    const FAR: f64 = 9.0;
    let (mut low, mut high) = (-FAR, FAR);
    // A double has 53 binary digits.
    for _ in 0..53 {
        let middle = 0.5 * (low + high);
        if below(middle) < share {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}
