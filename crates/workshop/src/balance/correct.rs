//! Unbalance from readings, its correction, and the work that makes it.

use super::allocate::{accepted_up_to, shares};
use super::clocking::clocking;
use super::correct_body::{AcceptLine, CorrectBody, PlaneResult};
use super::correct_words as words;
use super::found::Found;
use super::free_rotor::{eccentricity_um, free_rotor};
use super::given::{CorrectGiven, Readings, Refusal};
use super::others::{eccentricity, indexed, no_phase, rods};
use super::phased::phased;
use super::vectors::{Vector, angle_deg, couple, unbalance};
use super::work::work;
use super::work_body::WorkBody;
use crate::part::Answer;
use crate::part::answer::ANSWER_FORMAT;

/// What a rig, rods, a fixture or a recording tell of a part, and what corrects it.
///
/// - **What it finds:** the unbalance of every plane with the circle that holds the true one; correction
///   masses and angles; what every trial was worth; the pattern of holes with their true volume and
///   centre; how parts are turned against each other.
/// - **Method:** see `docs/theory`; influence coefficients by complex least squares, all others by
///   reckonings of their own.
/// - **Promised:** the same readings and seed give the same bytes.
///
/// # Errors
/// Readings that cannot be, or cannot tell what is asked: [`Refusal`] says what was read, what was expected
/// and what to do.
pub fn correct(given: &CorrectGiven) -> Result<Answer<CorrectBody>, Refusal> {
    given.checked()?;
    let found = match &given.readings {
        Readings::Phased(runs) => phased(given, runs)?,
        Readings::NoPhase(runs) => no_phase(given, runs)?,
        Readings::Rods(test) => rods(given, test)?,
        Readings::Indexed(positions) => indexed(given, positions)?,
        Readings::Eccentricity(e) => eccentricity(given, e),
    };
    let limit = limit_of(given);
    let limits = plane_limits(given, limit);
    // Nothing is drilled on readings that are in doubt.
    let work = match &given.work {
        Some(asked) if !found.forbids => Some(work(given, asked, &found.now, &limits)?),
        _ => None,
    };
    let body = body(given, &found, limit, &limits, work);
    let (verdict, decided_by) = words::verdict(&body, found.forbids);
    Ok(Answer {
        whirlwright: ANSWER_FORMAT,
        station: "balance".to_owned(),
        verdict,
        headline: words::headline(&body, found.forbids),
        decided_by,
        trust: words::trust(given, &body),
        cautions: words::cautions(&body),
        next: words::next(&body, found.forbids),
        body,
    })
}

/// The whole's limit: as stated, or by grade and speed.
fn limit_of(given: &CorrectGiven) -> Option<f64> {
    let by_grade = given.grade_mm_per_s.zip(given.speed_rpm);
    given.limit_g_mm.or_else(|| {
        by_grade.map(|(grade, speed)| eccentricity_um(grade, speed) * 1e-3 * given.rotor.mass_g)
    })
}

fn plane_limits(given: &CorrectGiven, limit: Option<f64>) -> Vec<Option<f64>> {
    let shared: Vec<f64> = match &given.planes[..] {
        [_] => vec![1.0],
        [a, b] => match (a.x_mm, b.x_mm) {
            (Some(a), Some(b)) => shares(a, b, given.rotor.centre_mm).to_vec(),
            _ => vec![0.5; 2],
        },
        many => vec![1.0 / many.len() as f64; many.len()],
    };
    let planes = given.planes.iter().zip(shared);
    planes
        .map(|(plane, share)| plane.limit_g_mm.or(limit.map(|l| share * l)))
        .collect()
}

fn body(
    given: &CorrectGiven,
    found: &Found,
    limit: Option<f64>,
    limits: &[Option<f64>],
    work: Option<WorkBody>,
) -> CorrectBody {
    let radii = found.circles.as_ref().map(|c| &c.radii_g_mm);
    let circle = |plane: usize| radii.map(|r| r[plane]);
    let resultant: Vector = found.unbalance.iter().sum();
    let places: Option<Vec<f64>> = given
        .planes
        .iter()
        .map(|p| p.x_mm.map(|x| x - given.rotor.centre_mm))
        .collect();
    let moment = places.filter(|p| p.len() > 1).map(|p| {
        found
            .unbalance
            .iter()
            .zip(p)
            .map(|(u, x)| u * x)
            .sum::<Vector>()
    });
    let planes = given.planes.iter().enumerate().map(|(n, plane)| {
        let now = found.now[n];
        let uncertainty = circle(n);
        PlaneResult {
            name: plane.name.clone(),
            x_mm: plane.x_mm,
            radius_mm: plane.radius_mm,
            unbalance: unbalance(found.unbalance[n]),
            now: unbalance(now),
            correction_mass_g: now.norm() / plane.radius_mm,
            add_at_deg: angle_deg(-now),
            take_off_at_deg: angle_deg(now),
            uncertainty_g_mm: uncertainty,
            mass_uncertainty_g: uncertainty.map(|u| u / plane.radius_mm),
            angle_uncertainty_deg: uncertainty.map(|u| angle_of_circle(u, now.norm())),
            limit_g_mm: limits[n],
            residual: work.as_ref().and_then(|w| w.residual.get(n).copied()),
        }
    });
    let planes: Vec<PlaneResult> = planes.collect();
    let whole_circle = radii.map(|r| r.iter().sum::<f64>());
    let whole = limit.map(|limit| accept("whole", resultant.norm(), whole_circle, limit));
    let by_plane = (given.planes.len() > 1)
        .then(|| {
            planes.iter().filter_map(|p| {
                let limit = p.limit_g_mm?;
                Some(accept(
                    &p.name,
                    p.unbalance.mass_distance_g_mm,
                    p.uncertainty_g_mm,
                    limit,
                ))
            })
        })
        .into_iter()
        .flatten();
    let feels = |s: f64, c: Option<f64>| {
        given
            .speed_rpm
            .map(|speed| free_rotor(&given.rotor, s, c, speed, None))
    };
    let corrected = work.as_ref().map(|w| {
        (
            w.residual_static.mass_distance_g_mm,
            w.residual_couple.map(|c| c.moment_g_mm2),
        )
    });
    CorrectBody {
        name: given.rotor.name.clone(),
        method: found.method,
        sense: given.sense,
        mass_g: given.rotor.mass_g,
        speed_rpm: given.speed_rpm,
        resultant: unbalance(resultant),
        couple: moment.map(couple),
        acceptance: whole.into_iter().chain(by_plane).collect(),
        as_it_came: feels(resultant.norm(), moment.map(|m| m.norm())),
        corrected: corrected
            .or_else(|| whole_circle.map(|circle| (circle, None)))
            .and_then(|(s, c)| feels(s, c)),
        arrows: found.arrows.clone(),
        effects: found.effects.clone(),
        trials: found.trials.clone(),
        uncertainty: found.circles.as_ref().map(|c| c.body.clone()),
        other: found.other.map(unbalance),
        fixture: found.fixture.iter().map(|f| unbalance(*f)).collect(),
        at_rest: found.at_rest.clone(),
        doubts: found.doubts.clone(),
        clocking: given.clocking.as_ref().map(|c| clocking(&given.rotor, c)),
        planes,
        work,
    }
}

/// The angle a circle of a radius covers at a distance; half a turn where it holds the middle.
fn angle_of_circle(radius: f64, distance: f64) -> f64 {
    if radius < distance {
        (radius / distance).asin().to_degrees()
    } else {
        180.0
    }
}

/// Found against permissible: what may be measured is the limit less the measuring error.
fn accept(of: &str, found: f64, uncertainty: Option<f64>, limit: f64) -> AcceptLine {
    let (accepted, _) = accepted_up_to(limit, uncertainty.unwrap_or_default());
    let measured_inside = found <= limit;
    let guaranteed_inside = uncertainty.map(|_| found <= accepted);
    let words = match (measured_inside, guaranteed_inside) {
        (_, Some(true)) => {
            format!("{of}: {found:.3} g·mm of {limit:.3} g·mm: inside, its uncertainty counted")
        }
        (true, Some(false)) => format!(
            "{of}: {found:.3} g·mm measured is inside {limit:.3} g·mm, but with its uncertainty of {:.3} g·mm only {accepted:.3} g·mm may be read",
            uncertainty.unwrap_or_default()
        ),
        (true, None) => format!(
            "{of}: {found:.3} g·mm measured is inside {limit:.3} g·mm; its uncertainty is not known"
        ),
        (false, _) => format!("{of}: {found:.3} g·mm of {limit:.3} g·mm: outside"),
    };
    AcceptLine {
        of: of.to_owned(),
        found_g_mm: found,
        uncertainty_g_mm: uncertainty,
        limit_g_mm: limit,
        accepted_up_to_g_mm: accepted,
        measured_inside,
        guaranteed_inside,
        words,
    }
}
