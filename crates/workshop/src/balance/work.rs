//! The correction made real: the pattern of holes, what each takes, and what they leave.

use super::given::{CorrectGiven, Depths, PlaneWork, Refusal, Way, Work, WorkSection};
use super::pattern::{Best, Cost, Offer, best};
use super::tool::{Bore, Lie, Removed, pocket};
use super::vectors::{Vector, at_deg, couple, in_planes, unbalance};
use super::work_body::{Hole, HoleKind, WorkBody, WorkPlace};
use whirlwright_kit::revolve::{Bounds, Segment};

/// Half the limit may be left by the work: the rest is for the next error.
const GOAL_SHARE: f64 = 0.5;
/// Without a limit a tenth of what there was may be left.
const GOAL_WITHOUT: f64 = 0.1;
/// Most settings of one tool.
const MOST_LEVELS: usize = 512;

/// What a setting does, with the sign it counts with.
#[derive(Debug, Clone, Copy)]
struct Level {
    what: Removed,
    /// Mass put on; negative where it is taken off.
    mass_g: f64,
}

impl Level {
    fn unbalance(&self) -> f64 {
        self.mass_g * self.what.centre_radius_mm
    }
}

/// One plane made ready.
struct Plane<'a> {
    work: &'a PlaneWork,
    kind: HoleKind,
    levels: Vec<Level>,
    offer: Offer,
}

/// The holes that correct what the planes have now.
pub(super) fn work(
    given: &CorrectGiven,
    work: &Work,
    now: &[Vector],
    plane_limits: &[Option<f64>],
) -> Result<WorkBody, Refusal> {
    let mut planes = Vec::with_capacity(work.planes.len());
    for plane in &work.planes {
        planes.push(ready(plane, work.least_wall_mm, now[plane.plane])?);
    }
    let cost = cost(given, work);
    let goals: Vec<f64> = work
        .planes
        .iter()
        .map(|p| match plane_limits[p.plane] {
            Some(limit) => GOAL_SHARE * limit,
            None => GOAL_WITHOUT * now[p.plane].norm(),
        })
        .collect();
    let found = search(&planes, &cost, &goals);
    Ok(answer(given, work, &planes, &found, now, plane_limits))
}

/// The pattern with the fewest holes that reaches the goals, and of those with as many the one that costs
/// least; where none reaches them, the one that costs least of all.
fn search(planes: &[Plane<'_>], cost: &Cost, goals: &[f64]) -> Best {
    let offers: Vec<Offer> = planes.iter().map(|p| p.offer.clone()).collect();
    let most: Vec<u32> = offers.iter().map(|o| o.most_holes).collect();
    let mut counts = counts(&most);
    counts.sort_by_key(|c| c.iter().sum::<u32>());
    let anything = vec![f64::INFINITY; goals.len()];
    least(&offers, &counts, cost, goals, true)
        .or_else(|| least(&offers, &counts, cost, &anything, false))
        .unwrap_or_else(|| Best {
            planes: Vec::new(),
            cost: 0.0,
            proved: true,
            looked_at: 0,
        })
}

/// The least cost over the counts of holes; with `fewest` only those with as few holes as will do.
fn least(
    offers: &[Offer],
    counts: &[Vec<u32>],
    cost: &Cost,
    within: &[f64],
    fewest: bool,
) -> Option<Best> {
    let mut least: Option<(u32, Best)> = None;
    let (mut looked_at, mut proved) = (0, true);
    for count in counts {
        let holes: u32 = count.iter().sum();
        if fewest && least.as_ref().is_some_and(|(known, _)| holes > *known) {
            break;
        }
        let found = match best(offers, count, cost, within) {
            Ok(found) => found,
            Err(is_proved) => {
                proved &= is_proved;
                continue;
            }
        };
        looked_at += found.looked_at;
        proved &= found.proved;
        if least
            .as_ref()
            .is_none_or(|(_, known)| found.cost < known.cost)
        {
            least = Some((holes, found));
        }
    }
    least.map(|(_, best)| Best {
        looked_at,
        proved,
        ..best
    })
}

/// Every way to share holes over the planes.
fn counts(most: &[u32]) -> Vec<Vec<u32>> {
    most.iter().fold(vec![Vec::new()], |all, most| {
        all.iter()
            .flat_map(|head| (0..=*most).map(move |n| head.iter().copied().chain([n]).collect()))
            .collect()
    })
}

/// Seat orbit and weighted rim wobble, both in µm, squared; without places or inertia the planes count by
/// themselves.
fn cost(given: &CorrectGiven, work: &Work) -> Cost {
    let rotor = &given.rotor;
    let at = |n: usize| {
        let plane = work.planes.get(n)?;
        Some(given.planes[plane.plane].x_mm? - rotor.centre_mm)
    };
    let wobble = rotor
        .inertia
        .zip(rotor.rim_radius_mm)
        .map(|(inertia, radius)| {
            let difference = (inertia.polar_g_mm2 - inertia.transverse_g_mm2).abs();
            work.wobble_weight * (radius / difference).powi(2)
        });
    let seat = rotor.mass_g.powi(-2);
    match (at(0), at(1), wobble) {
        (Some(a), Some(b), Some(wobble)) if wobble.is_finite() => Cost {
            q11: seat + wobble * a * a,
            q12: seat + wobble * a * b,
            q22: seat + wobble * b * b,
        },
        _ => Cost {
            q11: 1.0,
            q12: 0.0,
            q22: 1.0,
        },
    }
}

fn ready(plane: &PlaneWork, least_wall: f64, now: Vector) -> Result<Plane<'_>, Refusal> {
    let (kind, mut levels) = levels(plane, least_wall)?;
    levels.sort_by(|a, b| a.unbalance().abs().total_cmp(&b.unbalance().abs()));
    if levels.is_empty() {
        return Err(Refusal::Work {
            what: format!(
                "no setting of the tool leaves a wall of {least_wall} mm: take a smaller drill, a shallower hole or another place"
            ),
        });
    }
    let pitch = 360.0 / f64::from(plane.places);
    let places = (0..plane.places)
        .filter(|n| !plane.closed.contains(n))
        .map(|n| (n, plane.first_deg + f64::from(n) * pitch));
    let offer = Offer {
        unbalance: now,
        places: places.collect(),
        levels: levels.iter().map(Level::unbalance).collect(),
        taken_off: levels.iter().any(|l| l.mass_g < 0.0),
        apart_deg: apart_deg(plane, &levels, least_wall),
        most_holes: plane.most_holes,
    };
    Ok(Plane {
        work: plane,
        kind,
        levels,
        offer,
    })
}

/// How far two holes must stand apart so that the least wall is left between the widest of them.
fn apart_deg(plane: &PlaneWork, levels: &[Level], least_wall: f64) -> f64 {
    let widest = levels
        .iter()
        .map(|l| l.what.diameter_mm)
        .fold(0.0, f64::max);
    let chord = |radius: f64| {
        let half = (0.5 * (widest + least_wall) / radius).min(1.0);
        2.0 * half.asin().to_degrees()
    };
    match &plane.way {
        Way::AxialHole { radius_mm, .. } | Way::Pin { radius_mm, .. } => chord(*radius_mm),
        // Towards the axle holes draw together: what counts is their deepest place.
        Way::RadialHole { .. } => {
            let deepest = levels
                .iter()
                .map(|l| l.what.mouth_radius_mm - l.what.depth_mm)
                .fold(f64::INFINITY, f64::min);
            chord(deepest.max(f64::MIN_POSITIVE))
        }
        Way::Pocket { span_deg, .. } => {
            let deepest = levels
                .iter()
                .map(|l| l.what.mouth_radius_mm - l.what.depth_mm)
                .fold(f64::INFINITY, f64::min);
            span_deg + (least_wall / deepest.max(f64::MIN_POSITIVE)).to_degrees()
        }
        Way::Weight { .. } => 0.0,
    }
}

fn section(plane: &PlaneWork) -> Result<&WorkSection, Refusal> {
    plane.section.as_ref().ok_or_else(|| Refusal::Work {
        what: "a hole needs the section it is made in: name the piece and its side".to_owned(),
    })
}

/// Every setting that leaves the least wall.
fn levels(plane: &PlaneWork, least_wall: f64) -> Result<(HoleKind, Vec<Level>), Refusal> {
    let off = |what: Removed| Level {
        what,
        mass_g: -what.mass_g,
    };
    let keeps = |level: &Level| level.what.wall_mm >= least_wall - 1e-9 && level.mass_g != 0.0;
    let drilled = |lie: Lie, diameters: &[f64], point: f64, depths: &Depths| {
        let mut all = Vec::new();
        for diameter in diameters {
            let bore = Bore::new(section(plane)?, lie, *diameter, point)?;
            all.extend(steps(depths)?.into_iter().map(|d| off(bore.at(d))));
        }
        all.retain(keeps);
        Ok::<_, Refusal>(all)
    };
    Ok(match &plane.way {
        Way::AxialHole {
            diameters_mm,
            radius_mm,
            point_angle_deg,
            depths,
        } => {
            let lie = Lie::Axial(*radius_mm);
            let all = drilled(lie, diameters_mm, *point_angle_deg, depths)?;
            (HoleKind::Axial, all)
        }
        Way::RadialHole {
            diameters_mm,
            x_mm,
            point_angle_deg,
            depths,
        } => {
            let lie = Lie::Radial(*x_mm);
            let all = drilled(lie, diameters_mm, *point_angle_deg, depths)?;
            (HoleKind::Radial, all)
        }
        Way::Pocket {
            width_mm,
            x_mm,
            span_deg,
            depths,
        } => {
            let one = |d: f64| {
                pocket(section(plane)?, *width_mm, *x_mm, span_deg.to_radians(), d).map(off)
            };
            let all: Result<Vec<Level>, Refusal> = steps(depths)?.into_iter().map(one).collect();
            let mut all = all?;
            all.retain(keeps);
            (HoleKind::Pocket, all)
        }
        Way::Pin {
            diameter_mm,
            radius_mm,
            density_g_cm3,
            depths,
        } => {
            const FLAT_DEG: f64 = 180.0;
            let section = section(plane)?;
            let bore = Bore::new(section, Lie::Axial(*radius_mm), *diameter_mm, FLAT_DEG)?;
            let heavier = density_g_cm3 / section.density_g_cm3 - 1.0;
            let put = |what: Removed| Level {
                what,
                mass_g: what.mass_g * heavier,
            };
            let mut all: Vec<Level> = steps(depths)?
                .into_iter()
                .map(|d| put(bore.at(d)))
                .collect();
            all.retain(keeps);
            (HoleKind::Pin, all)
        }
        Way::Weight {
            masses_g,
            radius_mm,
            x_mm,
        } => (HoleKind::Weight, weights(masses_g, *radius_mm, *x_mm)),
    })
}

fn weights(masses_g: &[f64], radius_mm: f64, x_mm: f64) -> Vec<Level> {
    let one = |mass_g: &f64| Level {
        what: Removed {
            diameter_mm: 0.0,
            depth_mm: 0.0,
            point_mm: 0.0,
            mass_g: *mass_g,
            centre_radius_mm: radius_mm,
            centre_x_mm: x_mm,
            mouth_radius_mm: radius_mm,
            mouth_x_mm: x_mm,
            wall_mm: f64::INFINITY,
        },
        mass_g: *mass_g,
    };
    masses_g.iter().map(one).collect()
}

fn steps(depths: &Depths) -> Result<Vec<f64>, Refusal> {
    let Depths {
        least_mm,
        most_mm,
        step_mm,
    } = *depths;
    let sound = least_mm > 0.0 && most_mm >= least_mm && step_mm > 0.0 && most_mm.is_finite();
    let count = ((most_mm - least_mm) / step_mm + 1e-9).floor();
    if !sound || count.is_nan() || count >= MOST_LEVELS as f64 {
        return Err(Refusal::Work {
            what: format!(
                "depths from {least_mm} mm to {most_mm} mm in steps of {step_mm} mm cannot be set: least above nought, most no less, and fewer than {MOST_LEVELS} steps are expected"
            ),
        });
    }
    Ok((0..=count as usize)
        .map(|n| least_mm + step_mm * n as f64)
        .collect())
}

fn answer(
    given: &CorrectGiven,
    work: &Work,
    planes: &[Plane<'_>],
    found: &Best,
    now: &[Vector],
    plane_limits: &[Option<f64>],
) -> WorkBody {
    let mut residual: Vec<Vector> = now.to_vec();
    let places_known: Option<Vec<f64>> = given
        .planes
        .iter()
        .map(|p| p.x_mm.map(|x| x - given.rotor.centre_mm))
        .collect();
    let (mut resultant, mut moment) = (now.iter().sum::<Vector>(), None);
    if let Some(places) = &places_known {
        moment = Some(now.iter().zip(places).map(|(u, x)| u * *x).sum::<Vector>());
    }
    let mut holes = Vec::new();
    for (plane, pattern) in planes.iter().zip(&found.planes) {
        for (place, level) in &pattern.holes {
            let (number, angle) = plane.offer.places[*place];
            let level = &plane.levels[*level];
            let brings = at_deg(level.unbalance(), angle);
            resultant += brings;
            if let Some(moment) = &mut moment {
                *moment += brings * (level.what.centre_x_mm - given.rotor.centre_mm);
            }
            residual[plane.work.plane] += brings;
            let name = &given.planes[plane.work.plane].name;
            holes.push(hole(plane, name, number, angle.rem_euclid(360.0), level));
        }
    }
    // With both planes' places known, holes count where their true centres are.
    if let (Some(places), Some(moment)) = (&places_known, moment)
        && let [a, b] = places[..]
        && a != b
    {
        residual = in_planes(resultant, moment, a, b).to_vec();
    }
    let limits = residual.iter().zip(plane_limits);
    let judged: Option<Vec<bool>> = limits.map(|(r, l)| l.map(|l| r.norm() <= l)).collect();
    let inside = judged.map(|all| {
        all.iter().all(|inside| *inside)
            && given
                .limit_g_mm
                .is_none_or(|limit| resultant.norm() <= limit)
    });
    WorkBody {
        places: planes.iter().map(|p| work_place(given, p)).collect(),
        residual: residual.iter().map(|r| unbalance(*r)).collect(),
        residual_static: unbalance(resultant),
        residual_couple: moment.map(couple),
        inside,
        proved: found.proved,
        patterns_count: found.looked_at,
        words: words(work, found, holes.len()),
        holes,
    }
}

fn words(work: &Work, found: &Best, holes: usize) -> String {
    let planes = if work.planes.len() == 1 {
        "one plane"
    } else {
        "two planes"
    };
    if found.proved {
        format!(
            "{holes} in {planes}: no pattern of fewer holes reaches the goal (half the limit in each plane; without a limit a tenth of what there was), and none of as many that does leaves less; where none reaches it, none at all leaves less; {} looked at one by one, all others ruled out by a bound",
            found.looked_at
        )
    } else {
        format!(
            "{holes} in {planes}: the best of {} patterns; the search was stopped before all others were ruled out",
            found.looked_at
        )
    }
}

fn work_place(given: &CorrectGiven, plane: &Plane<'_>) -> WorkPlace {
    let section = plane.work.section.as_ref();
    let bounds = section.and_then(|s| {
        let boxes = s.loops.iter().flatten().map(Segment::bounds);
        boxes.reduce(Bounds::with)
    });
    WorkPlace {
        plane: given.planes[plane.work.plane].name.clone(),
        piece: section.map(|s| s.piece.clone()),
        side: section.map(|s| s.side),
        outer_radius_mm: bounds.map(|b| b.high.y),
        inner_radius_mm: bounds.map(|b| b.low.y),
        places_number: plane.work.places,
        first_deg: plane.work.first_deg,
    }
}

fn hole(plane: &Plane<'_>, name: &str, number: u32, angle_deg: f64, level: &Level) -> Hole {
    let what = &level.what;
    let cut = plane.kind != HoleKind::Weight;
    let drilled = matches!(plane.kind, HoleKind::Axial | HoleKind::Radial);
    let mass = level.mass_g.abs();
    let does = match plane.kind {
        HoleKind::Axial | HoleKind::Radial => format!(
            "drill {:.2} mm, {:.2} mm deep at full diameter",
            what.diameter_mm, what.depth_mm
        ),
        HoleKind::Pocket => format!(
            "mill {:.2} mm wide, {:.2} mm deep",
            what.diameter_mm, what.depth_mm
        ),
        HoleKind::Pin => format!(
            "press in a pin {:.2} mm, {:.2} mm long",
            what.diameter_mm, what.depth_mm
        ),
        HoleKind::Weight => format!("put on {mass:.4} g"),
    };
    let takes = if level.mass_g < 0.0 {
        "takes off"
    } else {
        "adds"
    };
    Hole {
        plane: name.to_owned(),
        kind: plane.kind,
        place_number: number + 1,
        angle_deg,
        diameter_mm: cut.then_some(what.diameter_mm),
        depth_mm: cut.then_some(what.depth_mm),
        point_mm: drilled.then_some(what.point_mm),
        at_radius_mm: what.mouth_radius_mm,
        at_x_mm: what.mouth_x_mm,
        span_deg: match plane.work.way {
            Way::Pocket { span_deg, .. } => Some(span_deg),
            _ => None,
        },
        mass_g: level.mass_g,
        centre_radius_mm: what.centre_radius_mm,
        centre_x_mm: what.centre_x_mm,
        unbalance_g_mm: level.unbalance().abs(),
        wall_left_mm: cut.then_some(what.wall_mm),
        words: format!(
            "{name}, place {} at {angle_deg:.1} deg: {does}; {takes} {mass:.4} g at radius {:.2} mm",
            number + 1,
            what.centre_radius_mm
        ),
    }
}
