//! The section cools between its steels: heat conduction on the drawn half, axisymmetric, until it may be pushed out.
//!
//! One diffusivity for the whole way from melt to pushing out (the card's effective one: heat of crystals and the fall of
//! the specific heat smeared into it), conductivity of the solid, so that one factor serves all steps. Every face of the
//! half lies on steel of the wall's temperature, through a film that is good while the melt presses and poor after.

use whirlwright_kit::elements::{Conduct, Conduction, Cooled, Scheme, Warming};
use whirlwright_kit::mesh::{Body, Mesh, Side, Wanted, mesh};
use whirlwright_kit::revolve::{Point, Segment};

use super::cooling_forms::{Look, plate_s};
use super::faults::Refusal;
use super::given::Given;
use super::middle::Middle;
use super::section::Section;
use crate::part::Range;
use crate::shelf::viscosity_law;

/// The region of the half.
const HALF: u32 = 1;
/// Sides on steel.
const STEEL: u32 = 1;
/// Sides on the axle itself, through which no heat goes.
const AXLE: u32 = 0;
/// Elements across the thinnest wall.
const ACROSS: f64 = 2.0;
/// Steps in the time a plate of the thickest wall takes.
const STEPS: f64 = 60.0;
/// Steps at most: a wall only just below the temperature of pushing out never gets there.
const MOST_STEPS: usize = 4000;
/// A finer mesh has edges shorter by this.
const FINER: f64 = 1.5;
/// Places across the wall at which it is told.
const DEPTHS: usize = 21;
/// Moments that are told, as shares of the time needed: earlier the cold layer is thinner than an element.
const MOMENTS: [f64; 6] = [0.1, 0.2, 0.4, 0.6, 0.8, 1.0];

/// What is asked of cooling.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CoolingAsked {
    /// How long the melt presses on the steel, from the end of filling.
    pub pressed_s: f64,
    /// Length of an element's edge; none takes one of the walls.
    pub size_mm: Option<f64>,
    /// Whether a finer mesh is reckoned as well, to say what it changes.
    pub is_refined: bool,
}

/// How the half cools.
#[derive(Debug, Clone, PartialEq)]
pub struct HalfCooling {
    /// From the end of filling until everywhere below the temperature of pushing out.
    pub needed_s: f64,
    /// The same for the ends of the diffusivity's range.
    pub range_s: Range,
    /// Where it cools last.
    pub hot: HotPlace,
    /// The middle of a plate of that wall between faces of the steel's temperature.
    pub plate_s: f64,
    /// Temperature through the wall there, at some moments.
    pub profiles: Vec<Profile>,
    /// Mean temperature of the half when it may be pushed out.
    pub mean_degc: f64,
    /// Heat the steel has taken by then, of one half.
    pub taken_j: f64,
    /// What a finer mesh changes of the time, as a share; none where it was not asked.
    pub change_share: Option<f64>,
}

/// The place that cools last.
#[derive(Debug, Clone, PartialEq)]
pub struct HotPlace {
    /// The stretch of the middle line it lies on.
    pub stretch: String,
    /// Along the axle.
    pub axial_mm: f64,
    /// From the axle.
    pub radius_mm: f64,
    /// Wall there.
    pub wall_mm: f64,
}

/// Temperature through the wall at a moment.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    /// From the end of filling.
    pub time_s: f64,
    /// From one face of the wall to the other.
    pub points: Vec<Depth>,
}

/// The temperature at a depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Depth {
    /// From the middle of the wall.
    pub depth_mm: f64,
    /// There.
    pub temperature_degc: f64,
}

/// Cools a half from its melt to where it may be pushed out.
///
/// # Errors
/// A section that cannot be meshed, a size that is no length, a half that never gets there.
pub fn cool(
    given: &Given,
    section: &Section,
    middle: &Middle,
    asked: &CoolingAsked,
) -> Result<HalfCooling, Refusal> {
    given.check()?;
    let thick = |r: &super::middle::Ring| r.thickness_mm;
    let thinnest = middle.rings.iter().map(thick).fold(f64::INFINITY, f64::min);
    let thickest = middle.rings.iter().map(thick).fold(0.0, f64::max);
    let size_mm = asked.size_mm.unwrap_or(thinnest / ACROSS);
    let run = Run::new(given, asked.pressed_s, thickest);
    let coarse = meshed(section, size_mm)?;
    let course = run.course(&coarse)?;
    let change_share = if asked.is_refined {
        let fine = run.course(&meshed(section, size_mm / FINER)?)?;
        Some(course.needed_s / fine.needed_s - 1.0)
    } else {
        None
    };
    let hot = hot_place(middle, course.hot);
    let share = |degc: f64| {
        let wall = given.process.wall_degc;
        (degc - wall) / (given.process.melt_degc - wall)
    };
    let eject_degc = given.resin.heat.eject_degc;
    let of = given.resin.heat.diffusivity_m2_per_s;
    let plate = |a: f64| plate_s(hot.1.wall_mm, a, share(eject_degc), Look::Centre);
    // The whole field goes with diffusivity times time but for the film, which only lessens how much.
    let scaled = |a: f64| course.needed_s * of.likely / a;
    Ok(HalfCooling {
        needed_s: course.needed_s,
        range_s: Range {
            low: scaled(of.high),
            likely: course.needed_s,
            high: scaled(of.low),
        },
        plate_s: plate(of.likely),
        profiles: run.profiles(&coarse, &course, &hot)?,
        hot: hot.1,
        mean_degc: course.mean_degc,
        taken_j: course.taken_j,
        change_share,
    })
}

fn not(why: impl std::fmt::Display) -> Refusal {
    Refusal::Section {
        why: why.to_string(),
    }
}

fn meshed(section: &Section, size_mm: f64) -> Result<Mesh, Refusal> {
    let side = |curve: &Segment| {
        let on_axle = curve.bounds().high.y <= 0.0;
        Side {
            curve: *curve,
            label: if on_axle { AXLE } else { STEEL },
            size_mm: None,
        }
    };
    let body = Body {
        region: HALF,
        loops: section
            .loops
            .iter()
            .map(|l| l.iter().map(side).collect())
            .collect(),
    };
    mesh(std::slice::from_ref(&body), &Wanted::of_size_mm(size_mm)).map_err(not)
}

/// One cooling, whatever the mesh.
struct Run {
    conduct: Conduct,
    films: [f64; 2],
    pressed_s: f64,
    melt_degc: f64,
    wall_degc: f64,
    eject_degc: f64,
    step_s: f64,
}

/// What came of it.
struct Course {
    needed_s: f64,
    hot: Point,
    mean_degc: f64,
    taken_j: f64,
    states: Vec<(f64, Vec<f64>)>,
}

impl Run {
    fn new(given: &Given, pressed_s: f64, thickest_mm: f64) -> Self {
        let (heat, room) = (&given.resin.heat, &given.resin.room);
        let (melt_degc, wall_degc) = (given.process.melt_degc, given.process.wall_degc);
        let solid = &room.solid;
        // At the temperature of pushing out and no pressure; the transition is in K and differences are what counts.
        let below = heat.eject_degc - (room.transition_k - viscosity_law().zero_k.number);
        let density_kg_m3 = 1.0 / (solid.volume_m3_per_kg + solid.growth_m3_per_kg_k * below);
        let diffusivity = heat.diffusivity_m2_per_s.likely;
        let share = (heat.eject_degc - wall_degc) / (melt_degc - wall_degc);
        let plate = plate_s(thickest_mm, diffusivity, share, Look::Centre);
        Self {
            conduct: Conduct {
                conductivity_w_m_k: heat.solid_w_m_k,
                capacity_j_kg_k: heat.solid_w_m_k / (diffusivity * density_kg_m3),
                density_kg_m3,
            },
            films: [
                given.mould.pressed_w_m2_k.likely,
                given.mould.loose_w_m2_k.likely,
            ],
            pressed_s: pressed_s.max(0.0),
            melt_degc,
            wall_degc,
            eject_degc: heat.eject_degc,
            step_s: plate.max(0.01) / STEPS,
        }
    }

    fn conduction<'a>(&self, mesh: &'a Mesh, film_w_m2_k: f64) -> Result<Conduction<'a>, Refusal> {
        let cooled = Cooled {
            label: STEEL,
            film_w_m2_k,
            ambient_degc: self.wall_degc,
        };
        let made = Conduction::new(mesh, &[(HALF, self.conduct)]).map_err(not)?;
        made.cooled(&cooled).map_err(not)
    }

    /// Steps until everywhere is stiff; a state is kept at every step for the profiles.
    fn course(&self, mesh: &Mesh) -> Result<Course, Refusal> {
        let pressed = self.conduction(mesh, self.films[0])?;
        let loose = self.conduction(mesh, self.films[1])?;
        let step = |of| Warming::new(of, &[], Scheme::TwoStage, self.step_s).map_err(not);
        let (press, free) = (step(&pressed)?, step(&loose)?);
        let mut state = vec![self.melt_degc; mesh.nodes.len()];
        let first = pressed.stored_j(&state);
        let whole = pressed.stored_j(&vec![1.0; mesh.nodes.len()]);
        let mut states = vec![(0.0, state.clone())];
        for count in 1..=MOST_STEPS {
            let before = (count - 1) as f64 * self.step_s;
            let warming = if before < self.pressed_s {
                &press
            } else {
                &free
            };
            warming.step(&mut state).map_err(not)?;
            let time = count as f64 * self.step_s;
            states.push((time, state.clone()));
            let (hot, most) = hottest(&state);
            if most < self.eject_degc {
                let (_, was) = hottest(&states[count - 1].1);
                // Over a step the difference to the steel falls evenly in its logarithm.
                let over = |degc: f64| ((degc - self.wall_degc).max(f64::MIN_POSITIVE)).ln();
                let share = (over(was) - over(self.eject_degc)) / (over(was) - over(most));
                let now = pressed.stored_j(&state);
                return Ok(Course {
                    needed_s: before + share.clamp(0.0, 1.0) * self.step_s,
                    hot: mesh.nodes[hot],
                    mean_degc: now / whole,
                    taken_j: first - now,
                    states,
                });
            }
        }
        Err(not(format!(
            "after {:.0} s it is still not below {} °C everywhere: take a colder wall of the mould",
            MOST_STEPS as f64 * self.step_s,
            self.eject_degc
        )))
    }

    fn profiles(
        &self,
        mesh: &Mesh,
        course: &Course,
        hot: &(Across, HotPlace),
    ) -> Result<Vec<Profile>, Refusal> {
        let places: Vec<(f64, Located)> = (0..DEPTHS)
            .filter_map(|k| {
                let share = 2.0 * k as f64 / (DEPTHS - 1) as f64 - 1.0;
                let depth = 0.5 * hot.1.wall_mm * share;
                let at = hot.0.middle + hot.0.across * depth;
                Some((depth, Located::of(mesh, at)?))
            })
            .collect();
        let last = course.states.len() - 1;
        let profile = |share: f64| {
            let state = ((course.needed_s * share / self.step_s).round() as usize).clamp(1, last);
            let (time_s, field) = &course.states[state];
            Profile {
                time_s: *time_s,
                points: places
                    .iter()
                    .map(|(depth_mm, at)| Depth {
                        depth_mm: *depth_mm,
                        temperature_degc: at.value(mesh, field),
                    })
                    .collect(),
            }
        };
        let mut out: Vec<Profile> = MOMENTS.iter().map(|share| profile(*share)).collect();
        out.dedup_by(|b, a| a.time_s == b.time_s);
        Ok(out)
    }
}

fn hottest(state: &[f64]) -> (usize, f64) {
    let numbered = state.iter().copied().enumerate();
    numbered.fold((0, f64::NEG_INFINITY), |best, (node, degc)| {
        if degc > best.1 { (node, degc) } else { best }
    })
}

/// A line across a wall, through the middle line's place next to the hottest one.
struct Across {
    middle: Point,
    across: Point,
}

/// The stretch a place lies on, with the wall there and the line across it.
fn hot_place(middle: &Middle, at: Point) -> (Across, HotPlace) {
    let mut best = (f64::INFINITY, 0, 0);
    for (stretch, line) in middle.lines.iter().enumerate() {
        for (point, of) in line.points.iter().enumerate() {
            let far = Point::new(of.axial_mm, of.radius_mm).distance(at);
            if far < best.0 {
                best = (far, stretch, point);
            }
        }
    }
    let points = middle.lines.get(best.1).map_or(&[][..], |l| &l.points);
    let place = |k: usize| {
        points
            .get(k)
            .map_or(at, |p| Point::new(p.axial_mm, p.radius_mm))
    };
    let last = points.len().saturating_sub(1);
    let way = place((best.2 + 2).min(last)) - place(best.2.saturating_sub(2));
    let long = way.x.hypot(way.y).max(f64::MIN_POSITIVE);
    (
        Across {
            middle: place(best.2),
            across: Point::new(-way.y / long, way.x / long),
        },
        HotPlace {
            stretch: middle.stretches.get(best.1).cloned().unwrap_or_default(),
            axial_mm: at.x,
            radius_mm: at.y,
            wall_mm: points.get(best.2).map_or(0.0, |p| p.thickness_mm),
        },
    )
}

/// A place in an element.
struct Located {
    triangle: usize,
    shares: [f64; 3],
}

impl Located {
    fn of(mesh: &Mesh, at: Point) -> Option<Self> {
        let cross = |a: Point, b: Point| a.x * b.y - a.y * b.x;
        (0..mesh.triangles.len()).find_map(|triangle| {
            let p = mesh.places(triangle);
            let twice = cross(p[1] - p[0], p[2] - p[0]);
            let one = cross(p[1] - at, p[2] - at) / twice;
            let two = cross(p[2] - at, p[0] - at) / twice;
            let shares = [one, two, 1.0 - one - two];
            // A hair for places on an edge.
            shares
                .iter()
                .all(|s| *s >= -1e-9)
                .then_some(Self { triangle, shares })
        })
    }

    /// The quadratic field there.
    fn value(&self, mesh: &Mesh, field: &[f64]) -> f64 {
        let [a, b, c] = self.shares;
        let weights = [
            a * (2.0 * a - 1.0),
            b * (2.0 * b - 1.0),
            c * (2.0 * c - 1.0),
            4.0 * a * b,
            4.0 * b * c,
            4.0 * c * a,
        ];
        let nodes = mesh.triangles[self.triangle].iter();
        nodes
            .zip(weights)
            .map(|(n, w)| w * field[*n as usize])
            .sum()
    }
}
