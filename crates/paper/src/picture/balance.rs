//! The answers of the balance station as pictures: polar plots of readings and planes, the rims with
//! their holes, the holes in the cut.

use whirlwright_workshop::balance::{CorrectBody, Hole, HoleKind, PlaneResult, WorkPlace};
use whirlwright_workshop::design::CutOutline;
use whirlwright_workshop::part::job::{FeatureShape, Side};
use whirlwright_workshop::part::{AngleSense, Unbalance};

use super::polar::{Polar, Stands, Turn, Vector, polar_drawing};
use super::rim_view::{CutWork, Edge, RimView, Work, cut_works_drawing, rim_view_drawing};
use crate::ink::Drawing;
use crate::rounding;

/// Most corrections drawn in the cut; more of one size look alike.
const MOST_CUTS: usize = 6;

/// What the pictures need to know beside the answer.
#[derive(Debug, Clone, Default)]
pub struct BalanceView {
    /// What stands at 0°.
    pub mark: Option<String>,
    /// Whether the piece turns clockwise as seen from the left; none where nobody noted it.
    pub clockwise_from_left: Option<bool>,
    /// Outlines of the pieces, where the design is known.
    pub outlines: Vec<CutOutline>,
}

/// How one end of the piece is seen.
struct Sight {
    spins: Turn,
    seen_from: String,
}

impl BalanceView {
    fn mark(&self) -> String {
        self.mark.clone().unwrap_or_else(|| "mark".to_owned())
    }

    /// The end of a place along the axle: a left plane is worked on from the left.
    fn sight(&self, x_mm: Option<f64>) -> Sight {
        let left = x_mm.is_some_and(|x| x < 0.0);
        let Some(clockwise_from_left) = self.clockwise_from_left else {
            return Sight {
                spins: Turn::Counterclockwise,
                seen_from: "seen so that it turns counter-clockwise".to_owned(),
            };
        };
        let (spins, seen_from) = match clockwise_from_left == left {
            true => (Turn::Clockwise, if left { "left" } else { "right" }),
            false => (Turn::Counterclockwise, if left { "left" } else { "right" }),
        };
        Sight {
            spins,
            seen_from: format!("seen from the {seen_from}"),
        }
    }
}

/// Which way angles grow where the piece turns like this.
fn grows(spins: Turn, sense: AngleSense) -> Turn {
    match (spins, sense) {
        (turn, AngleSense::WithRotation) => turn,
        (Turn::Clockwise, AngleSense::AgainstRotation) => Turn::Counterclockwise,
        (Turn::Counterclockwise, AngleSense::AgainstRotation) => Turn::Clockwise,
    }
}

/// Readings and planes as polar plots.
#[must_use]
pub fn balance_polar_drawing(body: &CorrectBody, view: &BalanceView) -> Drawing {
    let mut plots: Vec<Polar> = body
        .planes
        .iter()
        .map(|plane| plane_plot(body, view, plane))
        .collect();
    plots.extend(sensor_plots(body, view));
    polar_drawing(&format!("Unbalance of {}", body.name), &plots)
}

fn plane_plot(body: &CorrectBody, view: &BalanceView, plane: &PlaneResult) -> Polar {
    let sight = view.sight(plane.x_mm);
    let vector = |stands, label: &str, of: Unbalance, within| Vector {
        stands,
        label: label.to_owned(),
        size: of.mass_distance_g_mm,
        angle_deg: of.angle_deg,
        within,
    };
    let mut vectors = vec![vector(
        Stands::Found,
        "found",
        plane.now,
        plane.uncertainty_g_mm,
    )];
    match (brought(body, plane), plane.residual) {
        (Some(work), Some(left)) => {
            vectors.push(vector(Stands::Correction, "what the work does", work, None));
            vectors.push(vector(
                Stands::Left,
                "left after it",
                left,
                plane.uncertainty_g_mm,
            ));
        }
        _ => {
            let added = Unbalance::new(plane.correction_mass_g * plane.radius_mm, plane.add_at_deg);
            vectors.push(vector(Stands::Correction, "what corrects it", added, None));
        }
    }
    Polar {
        heading: format!("Plane {}", plane.name),
        seen_from: sight.seen_from,
        mark: view.mark(),
        unit: "g·mm".to_owned(),
        grows: grows(sight.spins, body.sense),
        spins: Some(sight.spins),
        limit: plane.limit_g_mm,
        vectors,
    }
}

/// What the work in a plane adds up to; none where there is none.
fn brought(body: &CorrectBody, plane: &PlaneResult) -> Option<Unbalance> {
    let work = body.work.as_ref()?;
    let holes = work.holes.iter().filter(|hole| hole.plane == plane.name);
    let sum = holes
        .map(|hole| {
            let sign = if hole.mass_g < 0.0 { -1.0 } else { 1.0 };
            Unbalance::new(sign * hole.unbalance_g_mm.abs(), hole.angle_deg).components_g_mm()
        })
        .fold((0.0, 0.0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
    Some(Unbalance::from_components(sum))
}

/// One plot a pick-up, with its readings.
fn sensor_plots(body: &CorrectBody, view: &BalanceView) -> Vec<Polar> {
    let mut names: Vec<&str> = Vec::new();
    for arrow in &body.arrows {
        if !names.contains(&arrow.sensor.as_str()) {
            names.push(&arrow.sensor);
        }
    }
    let plot = |name: &str| {
        let of_this = body.arrows.iter().filter(|arrow| arrow.sensor == name);
        let unit = of_this.clone().next().map(|arrow| arrow.unit.clone());
        let sight = view.sight(None);
        Polar {
            heading: format!("Readings of the pick-up {name}"),
            seen_from: sight.seen_from,
            mark: view.mark(),
            unit: shown(&unit.unwrap_or_default()),
            grows: grows(sight.spins, body.sense),
            spins: Some(sight.spins),
            limit: None,
            vectors: of_this
                .map(|arrow| Vector {
                    stands: Stands::Reading,
                    label: arrow.run.clone(),
                    size: arrow.amplitude_value,
                    angle_deg: arrow.phase_deg,
                    within: None,
                })
                .collect(),
        }
    };
    names.into_iter().map(plot).collect()
}

/// A unit as it is printed.
fn shown(unit: &str) -> String {
    match unit {
        "um" => "µm".to_owned(),
        "m/s2" => "m/s²".to_owned(),
        other => other.to_owned(),
    }
}

/// The rims with their corrections, one drawing a side.
#[must_use]
pub fn balance_rim_drawings(body: &CorrectBody, view: &BalanceView) -> Vec<Drawing> {
    let places = body.work.iter().flat_map(|work| &work.places);
    places
        .map(|place| rim_view_drawing(&rim_view(body, view, place)))
        .collect()
}

fn rim_view(body: &CorrectBody, view: &BalanceView, place: &WorkPlace) -> RimView {
    let plane = body.planes.iter().find(|plane| plane.name == place.plane);
    let sight = view.sight(plane.and_then(|plane| plane.x_mm));
    let mut edges: Vec<Edge> = [place.outer_radius_mm, place.inner_radius_mm]
        .into_iter()
        .flatten()
        .map(|radius_mm| Edge {
            radius_mm,
            what: place.piece.clone().unwrap_or_default(),
        })
        .collect();
    let holes = numbered(body).filter(|(_, hole)| hole.plane == place.plane);
    let works: Vec<Work> = holes
        .filter_map(|(number, hole)| {
            Some(Work {
                number,
                shape: shape(hole, side_of(body, hole)?),
                comes_off: hole.mass_g < 0.0,
                words: hole.words.clone(),
            })
        })
        .collect();
    let radius = works.first().map(|_| {
        let first = numbered(body).find(|(_, hole)| hole.plane == place.plane);
        first.map_or(0.0, |(_, hole)| hole.at_radius_mm)
    });
    if edges.is_empty() {
        let reach = plane.map_or(0.0, |plane| plane.radius_mm) + 2.0;
        edges.push(Edge {
            radius_mm: reach.max(radius.unwrap_or(0.0) + 2.0),
            what: "outside".to_owned(),
        });
    }
    RimView {
        heading: match &place.piece {
            Some(piece) => format!("Plane {}: {piece}", place.plane),
            None => format!("Plane {}", place.plane),
        },
        seen_from: sight.seen_from,
        mark: view.mark(),
        grows: grows(sight.spins, body.sense),
        edges,
        places: radius.map(|radius| (radius, place.places_number, place.first_deg)),
        works,
    }
}

/// Every hole with its number on the list.
pub(crate) fn numbered(body: &CorrectBody) -> impl Iterator<Item = (usize, &Hole)> {
    let holes = body.work.iter().flat_map(|work| &work.holes);
    holes.enumerate().map(|(n, hole)| (n + 1, hole))
}

fn side_of(body: &CorrectBody, hole: &Hole) -> Option<Side> {
    let place = body
        .work
        .iter()
        .flat_map(|work| &work.places)
        .find(|place| place.plane == hole.plane)?;
    place.side.or(Some(if hole.at_x_mm < 0.0 {
        Side::Left
    } else {
        Side::Right
    }))
}

/// The shape of a hole, from what the list says of it.
fn shape(hole: &Hole, side: Side) -> FeatureShape {
    let (depth, wide) = (
        hole.depth_mm.unwrap_or(0.0),
        hole.diameter_mm.unwrap_or(0.0),
    );
    let inward = if side == Side::Left { 1.0 } else { -1.0 };
    let (radius_mm, x, angle_deg) = (hole.at_radius_mm, hole.at_x_mm, hole.angle_deg);
    match hole.kind {
        HoleKind::Axial | HoleKind::Pin => FeatureShape::AxialCylinder {
            diameter_mm: wide,
            radius_mm,
            angle_deg,
            x_mm: (x, x + inward * depth),
        },
        HoleKind::Radial => FeatureShape::RadialCylinder {
            diameter_mm: wide,
            x_mm: x,
            angle_deg,
            radius_mm: (radius_mm - depth, radius_mm),
        },
        HoleKind::Pocket => FeatureShape::RingSector {
            radius_mm: (radius_mm - depth, radius_mm),
            x_mm: (x - wide / 2.0, x + wide / 2.0),
            angle_deg,
            span_deg: hole.span_deg.unwrap_or(0.0),
        },
        HoleKind::Weight => FeatureShape::Point {
            x_mm: x,
            radius_mm,
            angle_deg,
        },
    }
}

/// The holes in the cut, those alike as one; none where the design is not known.
#[must_use]
pub fn balance_cut_drawing(body: &CorrectBody, view: &BalanceView) -> Option<Drawing> {
    let mut cuts: Vec<(Vec<usize>, CutWork)> = Vec::new();
    for (number, hole) in numbered(body).filter(|(_, hole)| hole.kind != HoleKind::Weight) {
        let Some(side) = side_of(body, hole) else {
            continue;
        };
        let place = body
            .work
            .iter()
            .flat_map(|work| &work.places)
            .find(|place| place.plane == hole.plane);
        let piece = place.and_then(|place| place.piece.as_deref());
        let outline = view
            .outlines
            .iter()
            .find(|outline| Some(outline.name.as_str()) == piece && outline.side == side);
        let Some(outline) = outline else {
            continue;
        };
        let words = cut_words(hole);
        let alike = cuts
            .iter_mut()
            .find(|(_, cut)| cut.words == words && cut.outline == outline.path);
        match alike {
            Some((numbers, _)) => numbers.push(number),
            None => cuts.push((
                vec![number],
                CutWork {
                    heading: String::new(),
                    outline: outline.path.clone(),
                    shape: shape(hole, side),
                    words,
                },
            )),
        }
    }
    cuts.truncate(MOST_CUTS);
    let cuts: Vec<CutWork> = cuts
        .into_iter()
        .map(|(numbers, cut)| {
            let said: Vec<String> = numbers.iter().map(usize::to_string).collect();
            CutWork {
                heading: format!("Number {}", said.join(", ")),
                ..cut
            }
        })
        .collect();
    (!cuts.is_empty()).then(|| cut_works_drawing(&cuts))
}

fn cut_words(hole: &Hole) -> String {
    let depth = rounding::places(hole.depth_mm.unwrap_or(0.0), 2, "mm");
    let what = match hole.kind {
        HoleKind::Pocket => "pocket",
        HoleKind::Pin => "pin",
        _ => "hole",
    };
    let wall = hole.wall_left_mm.map(|wall| {
        let wall = rounding::places(wall, 2, "mm");
        format!(", thinnest wall {wall}")
    });
    format!("{what} {depth} deep{}", wall.unwrap_or_default())
}

/// Everything in one drawing: planes and readings, rims, cut.
#[must_use]
pub fn balance_drawing(body: &CorrectBody, view: &BalanceView) -> Drawing {
    let mut parts = vec![balance_polar_drawing(body, view)];
    parts.extend(balance_rim_drawings(body, view));
    parts.extend(balance_cut_drawing(body, view));
    let description: Vec<&str> = parts.iter().map(|part| part.description.as_str()).collect();
    let title = format!("Unbalance and correction of {}", body.name);
    let mut whole = Drawing::new(super::WIDTH, 0.0, &title, &description.join(" "));
    for part in &parts {
        let top = whole.height;
        whole.height += whole.put(0.0, top, super::WIDTH, part) + 10.0;
    }
    whole
}

/// The same as SVG.
#[must_use]
pub fn balance(body: &CorrectBody, view: &BalanceView) -> String {
    balance_drawing(body, view).to_svg()
}
