//! What comes into the press of the actual sections: the two outlines with their seat, and the moment looked at.

use whirlwright_kit::mesh::{Body, Side};
use whirlwright_kit::revolve::{Bounds, Segment};

use super::faults::Refusal;
use super::given::Given;
use super::seat::{Lands, loops};
use crate::design;

/// The number of the body's region and of its seat's label.
pub const BODY: u32 = 1;
/// The number of the ring's region and of its seat's label.
pub const RING: u32 = 2;
/// The label of every other side.
pub const ELSEWHERE: u32 = 0;

/// The moment that is looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SectionMoment {
    /// Temperature of both.
    pub temperature_degc: f64,
    /// Hours since it was pressed; 0 for the moment of pressing.
    pub hours_count: f64,
    /// Speed of turning.
    pub speed_rpm: f64,
    /// Whether the resin has taken up its water.
    pub wet: bool,
}

/// Two drawn pieces with a seat, and what presses them.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionGiven {
    /// Limits, materials, temperatures.
    pub fit: Given,
    /// The moment.
    pub moment: SectionMoment,
    /// Length of an element's edge.
    pub size_mm: f64,
    pub(super) ring: Body,
    pub(super) body: Body,
    pub(super) seat: Seat,
}

/// Where the two meet on the drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Seat {
    pub from_mm: f64,
    pub to_mm: f64,
    pub radius_mm: f64,
    /// Whether the ring's line is the shorter: the pressure is reckoned along that.
    pub ring_is_shorter: bool,
}

impl SectionGiven {
    /// The same sections at another moment.
    #[must_use]
    pub fn at(&self, moment: SectionMoment) -> Self {
        Self {
            moment,
            ..self.clone()
        }
    }

    /// The sections of a design's ring and body; new, at the temperature of measuring, at rest.
    ///
    /// `size_mm` is the wanted edge of an element; none takes 0.3 mm, or a 150th of the larger section.
    ///
    /// # Errors
    /// A piece that is not there, a drawing that shows no seat, a size that is no length.
    pub fn of_design(
        design: &design::Given,
        fit: Given,
        size_mm: Option<f64>,
    ) -> Result<Self, Refusal> {
        let piece = |name: &String| {
            let found = design.job().pieces.iter().find(|p| p.name == *name);
            found.ok_or_else(|| Refusal::NoPiece { name: name.clone() })
        };
        let (ring, body) = (loops(piece(&fit.ring.name)?), loops(piece(&fit.body.name)?));
        let radius_mm = 0.5 * fit.fit.hole.nominal_mm;
        let Lands { bore, spigot } = Lands::of(&ring, &body, radius_mm);
        let seat = seat(&bore, &spigot).ok_or_else(|| Refusal::NoSeat {
            ring: fit.ring.name.clone(),
            body: fit.body.name.clone(),
        })?;
        let reach = [&ring, &body].map(|loops| {
            let all = loops.iter().flatten().map(Segment::bounds);
            let all = all.reduce(Bounds::with);
            all.map_or(0.0, |b| b.low.distance(b.high))
        });
        let usual = ELEMENT_MM.max(reach[0].max(reach[1]) / ACROSS);
        let size_mm = size_mm.unwrap_or(usual);
        if !(size_mm > 0.0 && size_mm.is_finite()) {
            return Err(Refusal::NotPositive {
                what: "edge of an element in mm".to_owned(),
                read: size_mm,
            });
        }
        Ok(Self {
            moment: SectionMoment {
                temperature_degc: fit.measured_at_degc,
                hours_count: 0.0,
                speed_rpm: 0.0,
                wet: false,
            },
            size_mm,
            ring: labelled(RING, ring, &bore),
            body: labelled(BODY, body, &spigot),
            seat,
            fit,
        })
    }
}

/// The edge of an element where nobody asks for another: four to a wall of 1.2 mm.
const ELEMENT_MM: f64 = 0.3;
/// No more than this many elements across the larger section, so that large work stays quick.
const ACROSS: f64 = 150.0;

/// What bore and spigot share along the axle.
fn seat(bore: &[Segment], spigot: &[Segment]) -> Option<Seat> {
    let around = |lines: &[Segment]| lines.iter().map(Segment::bounds).reduce(Bounds::with);
    let length = |lines: &[Segment]| -> f64 {
        let spans = lines.iter().map(Segment::bounds);
        spans.map(|b| b.high.x - b.low.x).sum()
    };
    let (outer, inner) = (around(bore)?, around(spigot)?);
    let (from_mm, to_mm) = (outer.low.x.max(inner.low.x), outer.high.x.min(inner.high.x));
    (to_mm > from_mm).then(|| Seat {
        from_mm,
        to_mm,
        radius_mm: outer.middle().y,
        ring_is_shorter: length(bore) < length(spigot),
    })
}

fn labelled(region: u32, loops: Vec<Vec<Segment>>, seat: &[Segment]) -> Body {
    let side = |curve: Segment| Side {
        curve,
        label: if seat.contains(&curve) {
            region
        } else {
            ELSEWHERE
        },
        size_mm: None,
    };
    let sides = |segments: Vec<Segment>| segments.into_iter().map(side).collect();
    Body {
        region,
        loops: loops.into_iter().map(sides).collect(),
    }
}
