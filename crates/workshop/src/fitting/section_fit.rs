//! The press fit of the drawn sections as one answer.

use whirlwright_kit::elements::Grip;
use whirlwright_kit::mesh::Mesh;

use super::conditions::{YEAR_HOURS, worst_hold};
use super::faults::Refusal;
use super::given::Stiffness;
use super::press::Pressed;
use super::press::hold_n;
use super::section_body::{SectionBound, SectionFitBody, SectionPeak, SectionWorst, StressPicture};
use super::section_conditions::conditions;
use super::section_given::{SectionGiven, SectionMoment};
use super::section_solve::{Ready, meshed, pressing};
use super::section_words as words;
use crate::part::answer::ANSWER_FORMAT;
use crate::part::{Answer, Range};

/// µm on the diameter in a mm on the radius.
const UM_ACROSS: f64 = 2000.0;
/// The two bounds of friction.
const GRIPS: [Grip; 2] = [Grip::Slip, Grip::Stick];

/// The answer and the stress field of the sliding bound for its picture.
#[derive(Debug, Clone)]
pub struct SectionFit {
    /// The answer.
    pub answer: Answer<SectionFitBody>,
    /// The field.
    pub picture: StressPicture,
}

/// Pressure along the seat, peak stresses and growths of the actual sections.
///
/// - **What it finds:** elasticity of bodies of revolution on quadratic triangles, the interference as a constraint between the
///   two lines of the seat; no friction, and no sliding at all, as the bounds of what friction does; warmth, water, turning
///   and creep by the modulus of the time.
/// - **What must hold:** a drawn seat within a tenth of level.
/// - **What the size trades:** halving it takes four to five times as long and quarters the change of the stresses.
/// - **Promised:** the change from the mesh of twice the size stands beside every peak; a seat that gapes is told.
/// - **Not in it:** the shoulder (it seats and carries nothing), ribs, holes and threads (drawn round), yield.
///
/// # Errors
/// Outlines that cannot be meshed; see [`Refusal`].
pub fn section_fit(given: &SectionGiven) -> Result<SectionFit, Refusal> {
    let fit = &given.fit;
    let interference = Range::between(
        fit.fit.least_interference_um(),
        fit.fit.most_interference_um(),
    );
    let fine = meshed(given, given.size_mm)?;
    let coarse = meshed(given, 2.0 * given.size_mm)?;
    let likely = interference.likely;
    let before = pressing(given, &coarse, Stiffness::Likely, |ready| {
        GRIPS
            .iter()
            .map(|grip| {
                let answer = ready.press(likely, *grip)?;
                let peaks = ready.peaks(&ready.stress(&answer));
                Ok((answer.mean_pressure_mpa(), peaks))
            })
            .collect::<Result<Vec<_>, Refusal>>()
    })?;
    let (bounds, picture, seat_mm2) = pressing(given, &fine, Stiffness::Likely, |ready| {
        let mut bounds = Vec::with_capacity(GRIPS.len());
        let mut picture = StressPicture::default();
        let mut seat_mm2 = 0.0;
        for grip in GRIPS {
            let answer = ready.press(likely, grip)?;
            let stress = ready.stress(&answer);
            if grip == Grip::Slip {
                picture = ready.picture(&answer, &stress);
                seat_mm2 = Ready::seat_mm2(&answer);
            }
            bounds.push(ready.bound(&answer, &stress));
        }
        Ok((bounds, picture, seat_mm2))
    })?;
    let bounds: Vec<SectionBound> = bounds
        .into_iter()
        .zip(&before)
        .map(|(bound, (_, peaks))| with_changes(bound, peaks))
        .collect();
    let [slip, stick] = <[SectionBound; 2]>::try_from(bounds).map_err(|_| Refusal::Section {
        why: "two bounds were expected".to_owned(),
    })?;
    // The corners are reckoned on the coarser mesh and brought to the finer one by what it changes.
    let share = |bound: &SectionBound, coarse: f64| {
        if coarse > 0.0 {
            bound.mean_pressure_mpa / coarse
        } else {
            1.0
        }
    };
    let shares = [share(&slip, before[0].0), share(&stick, before[1].0)];
    let (soft, stiff) = (
        at_corner(given, &coarse, Stiffness::Soft, interference.low, shares)?,
        at_corner(given, &coarse, Stiffness::Stiff, interference.high, shares)?,
    );
    let mean_pressure_mpa = Range {
        low: soft[0].min(soft[1]),
        likely: 0.5 * (slip.mean_pressure_mpa + stick.mean_pressure_mpa),
        high: stiff[0].max(stiff[1]),
    };
    let seat_mm = given.seat.radius_mm;
    let seat_length_mm = seat_mm2 / (std::f64::consts::TAU * seat_mm);
    let push_on_n = held_n(given, seat_length_mm, mean_pressure_mpa);
    let worst = worst(given, &coarse, shares, seat_length_mm)?;
    let body = SectionFitBody {
        conditions: conditions(fit, &worst, [&slip, &stick]),
        ring: fit.ring.name.clone(),
        body: fit.body.name.clone(),
        interference_um: interference,
        temperature_degc: given.moment.temperature_degc,
        years_count: given.moment.hours_count / YEAR_HOURS,
        speed_rpm: given.moment.speed_rpm,
        seat_from_mm: given.seat.from_mm,
        seat_to_mm: given.seat.to_mm,
        seat_length_mm,
        mean_pressure_mpa,
        push_on_n,
        torque_n_mm: Range {
            low: push_on_n.low * seat_mm,
            likely: push_on_n.likely * seat_mm,
            high: push_on_n.high * seat_mm,
        },
        worst,
        plain_rings_mpa: plain(given, Stiffness::Likely, likely).pressure_mpa,
        size_mm: given.size_mm,
        nodes_count: fine.nodes.len(),
        least_angle_deg: fine.least_angle_deg(),
        pressure_change_percent: percent(slip.mean_pressure_mpa, before[0].0),
        slip,
        stick,
    };
    let verdict = words::verdict(&body);
    let answer = Answer {
        whirlwright: ANSWER_FORMAT,
        station: "fitting".to_owned(),
        verdict,
        headline: words::headline(&body),
        decided_by: words::decided_by(&body),
        trust: words::trust(fit, &body),
        cautions: words::cautions(),
        next: words::next(&body),
        body,
    };
    Ok(SectionFit { answer, picture })
}

/// The mean pressure of both bounds at one end of the stiffness with one interference.
fn at_corner(
    given: &SectionGiven,
    mesh: &Mesh,
    stiffness: Stiffness,
    interference_um: f64,
    shares: [f64; 2],
) -> Result<[f64; 2], Refusal> {
    pressing(given, mesh, stiffness, |ready| {
        let mut out = shares;
        for (out, grip) in out.iter_mut().zip(GRIPS) {
            *out *= ready.press(interference_um, grip)?.mean_pressure_mpa();
        }
        Ok(out)
    })
}

/// What friction holds along the axle with a range of pressures.
fn held_n(given: &SectionGiven, length_mm: f64, pressure_mpa: Range) -> Range {
    let (friction, seat_mm) = (given.fit.friction_coefficient, given.seat.radius_mm);
    Range {
        low: hold_n(pressure_mpa.low, seat_mm, length_mm, friction.low),
        likely: hold_n(pressure_mpa.likely, seat_mm, length_mm, friction.likely),
        high: hold_n(pressure_mpa.high, seat_mm, length_mm, friction.high),
    }
}

/// The moment of its years at which holding needs the most, as the sections are drawn.
fn worst(
    given: &SectionGiven,
    mesh: &Mesh,
    shares: [f64; 2],
    length_mm: f64,
) -> Result<SectionWorst, Refusal> {
    let fit = &given.fit;
    let (temperature_degc, hours_count) = worst_hold(fit);
    let then = given.at(SectionMoment {
        temperature_degc,
        hours_count,
        speed_rpm: fit.speed_rpm,
        wet: false,
    });
    let least = fit.fit.least_interference_um();
    let held = |pressure_mpa: f64| {
        held_n(&then, length_mm, Range::exactly(pressure_mpa)).low * given.seat.radius_mm
    };
    let (mean_pressure_mpa, at_least_um) = pressing(&then, mesh, Stiffness::Soft, |ready| {
        let lesser = |interference_um: f64| -> Result<f64, Refusal> {
            let mut found = f64::INFINITY;
            for (grip, share) in GRIPS.into_iter().zip(shares) {
                let pressure = ready.press(interference_um, grip)?.mean_pressure_mpa();
                found = found.min(share * pressure);
            }
            Ok(found)
        };
        let wanted = fit.torque_n_mm.unwrap_or(0.0);
        let enough = |um: f64| lesser(um).map(|p| p > 0.0 && held(p) >= wanted);
        Ok((lesser(least)?, from_where(enough)?))
    })?;
    let torque_n_mm = held(mean_pressure_mpa);
    let mut worst = SectionWorst {
        name: words::moment(temperature_degc, hours_count > 0.0, fit),
        temperature_degc,
        years_count: hours_count / YEAR_HOURS,
        speed_rpm: fit.speed_rpm,
        mean_pressure_mpa,
        plain_rings_mpa: plain(&then, Stiffness::Soft, least).pressure_mpa,
        at_least_um,
        torque_n_mm,
        kept: fit
            .torque_n_mm
            .map_or(mean_pressure_mpa > 0.0, |wanted| torque_n_mm >= wanted),
        words: String::new(),
    };
    worst.words = words::worst(&worst, fit);
    Ok(worst)
}

/// The interference from which it is enough, to a tenth of a µm; more always is where less was.
fn from_where(enough: impl Fn(f64) -> Result<bool, Refusal>) -> Result<Option<f64>, Refusal> {
    /// Where to look, on the diameter: far below and far above any fit of this trade.
    const WITHIN_UM: (f64, f64) = (-500.0, 1500.0);
    const FINE_UM: f64 = 0.1;
    let (mut low, mut high) = WITHIN_UM;
    if !enough(high)? {
        return Ok(None);
    }
    while high - low > FINE_UM {
        let middle = 0.5 * (low + high);
        if enough(middle)? {
            high = middle;
        } else {
            low = middle;
        }
    }
    Ok(Some(high))
}

/// Two plain rings of the same walls at the same moment.
fn plain(given: &SectionGiven, stiffness: Stiffness, interference_um: f64) -> Pressed {
    let (fit, m) = (&given.fit, &given.moment);
    let press = fit.press(stiffness, m.hours_count);
    let change = fit.change(m.temperature_degc, m.wet, m.speed_rpm);
    press.at(interference_um / UM_ACROSS, &change)
}

fn with_changes(bound: SectionBound, [body, ring]: &[SectionPeak; 2]) -> SectionBound {
    let changed = |peak: SectionPeak, before: &SectionPeak| SectionPeak {
        change_percent: percent(peak.equivalent_mpa, before.equivalent_mpa),
        ..peak
    };
    SectionBound {
        body_peak: changed(bound.body_peak, body),
        ring_peak: changed(bound.ring_peak, ring),
        ..bound
    }
}

/// The change from a value to a later one, in percent of the later; 0 where both are nothing.
fn percent(later: f64, before: f64) -> f64 {
    if later == 0.0 {
        0.0
    } else {
        100.0 * (later - before) / later
    }
}
