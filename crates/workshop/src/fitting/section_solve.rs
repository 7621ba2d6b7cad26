//! The sections meshed, pressed and read.

use whirlwright_kit::elements::{
    Axis, Contact, ContactAnswer, Elastic, Grip, Held, Loads, Material, StressField, Support,
};
use whirlwright_kit::mesh::{Mesh, Wanted, mesh};

use super::annulus;
use super::faults::Refusal;
use super::given::Stiffness;
use super::section_body::{SeatPoint, SectionBound, SectionPeak, StressPicture};
use super::section_given::{BODY, RING, SectionGiven};

/// µm on the diameter in a mm on the radius.
const UM_ACROSS: f64 = 2000.0;
/// µm on the radius in a mm on the radius.
const UM_RADIUS: f64 = 1000.0;
/// kg/m³ in a g/cm³.
const KG_M3: f64 = 1000.0;

/// Both sections meshed, not joined.
pub(super) fn meshed(given: &SectionGiven, size_mm: f64) -> Result<Mesh, Refusal> {
    let one = |body| mesh(std::slice::from_ref(body), &Wanted::of_size_mm(size_mm)).map_err(not);
    Ok(one(&given.body)?.beside(&one(&given.ring)?))
}

fn not(why: impl std::fmt::Display) -> Refusal {
    Refusal::Section {
        why: why.to_string(),
    }
}

/// Does something with the sections held ready to be pressed, at one stiffness.
pub(super) fn pressing<T>(
    given: &SectionGiven,
    mesh: &Mesh,
    stiffness: Stiffness,
    ask: impl FnOnce(&Ready<'_>) -> Result<T, Refusal>,
) -> Result<T, Refusal> {
    let hours = given.moment.hours_count;
    let (ring, body) = (
        given.fit.ring.elastic(stiffness, hours),
        given.fit.body.elastic(stiffness, hours),
    );
    let materials = [(BODY, material(&body)), (RING, material(&ring))];
    let elastic = Elastic::new(mesh, &materials).map_err(not)?;
    let (first, second) = if given.seat.ring_is_shorter {
        (RING, BODY)
    } else {
        (BODY, RING)
    };
    let contact = Contact::new(mesh, first, second).map_err(not)?;
    // One node of each keeps it from drifting along the axle; on a level seat it carries nothing.
    let pin = |label| {
        mesh.nodes_on(label).first().map(|node| Support {
            node: *node,
            axis: Axis::Along,
            displacement_mm: 0.0,
        })
    };
    let pins: Vec<Support> = [BODY, RING].into_iter().filter_map(pin).collect();
    let held = elastic.hold(&pins, contact.nodes()).map_err(not)?;
    let m = &given.moment;
    let change = given.fit.change(m.temperature_degc, m.wet, m.speed_rpm);
    let ring_grows = ring.expansion_per_k * change.warmer_k + change.ring_moisture_share;
    let body_grows = body.expansion_per_k * change.warmer_k + change.body_moisture_share;
    let loads = Loads::none(&elastic)
        .swelling(&elastic, |region, _| {
            if region == RING {
                ring_grows
            } else {
                body_grows
            }
        })
        .turning(&elastic, change.speed_rad_s);
    ask(&Ready {
        moduli_mpa: [body.modulus_mpa, ring.modulus_mpa],
        elastic: &elastic,
        contact: &contact,
        held: &held,
        loads: &loads,
    })
}

fn material(of: &annulus::Elastic) -> Material {
    Material {
        modulus_mpa: of.modulus_mpa,
        poisson_ratio: of.poisson_ratio,
        density_kg_m3: of.density_g_cm3 * KG_M3,
    }
}

/// Sections ready to be pressed together.
pub(super) struct Ready<'a> {
    /// Of body and ring.
    moduli_mpa: [f64; 2],
    elastic: &'a Elastic<'a>,
    contact: &'a Contact,
    held: &'a Held<'a>,
    loads: &'a Loads,
}

impl Ready<'_> {
    fn modulus_mpa(&self, region: u32) -> f64 {
        self.moduli_mpa[usize::from(region == RING)]
    }

    /// Pressed with an interference on the diameter.
    pub(super) fn press(&self, interference_um: f64, grip: Grip) -> Result<ContactAnswer, Refusal> {
        let overlap_mm = interference_um / UM_ACROSS;
        self.contact
            .press(self.held, self.loads, overlap_mm, grip, Some(RING))
            .map_err(not)
    }

    /// What of the seat faces the other piece, all round, in mm².
    pub(super) fn seat_mm2(answer: &ContactAnswer) -> f64 {
        answer.line.iter().map(|p| p.area_mm2).sum()
    }

    pub(super) fn stress(&self, answer: &ContactAnswer) -> StressField {
        StressField::of(self.elastic, self.loads, &answer.solved)
    }

    /// The largest equivalent stress of body and ring.
    pub(super) fn peaks(&self, stress: &StressField) -> [SectionPeak; 2] {
        [BODY, RING].map(|region| {
            let peak = stress.peak_equivalent(self.elastic, region);
            SectionPeak {
                equivalent_mpa: peak.map_or(0.0, |p| p.stress_mpa),
                strain_percent: peak
                    .map_or(0.0, |p| 100.0 * p.stress_mpa / self.modulus_mpa(region)),
                x_mm: peak.map_or(0.0, |p| p.x_mm),
                radius_mm: peak.map_or(0.0, |p| p.y_mm),
                change_percent: 0.0,
            }
        })
    }

    /// Everything that is told of one bound; changes are filled in by who knows the other mesh.
    pub(super) fn bound(&self, answer: &ContactAnswer, stress: &StressField) -> SectionBound {
        let [body_peak, ring_peak] = self.peaks(stress);
        let places = answer.line.iter();
        let most = places.max_by(|a, b| a.pressure_mpa.total_cmp(&b.pressure_mpa));
        let gaps = answer.line.iter().map(|p| p.gap_mm * UM_RADIUS);
        let mut line: Vec<SeatPoint> = answer
            .line
            .iter()
            .map(|p| SeatPoint {
                x_mm: p.x_mm,
                pressure_mpa: p.pressure_mpa,
                shear_mpa: p.shear_mpa,
            })
            .collect();
        line.sort_by(|a, b| a.x_mm.total_cmp(&b.x_mm));
        let mesh = self.elastic.mesh;
        let of_region = |region: u32| {
            let own = mesh.triangles.iter().zip(&mesh.regions);
            own.filter(move |(_, r)| **r == region)
                .flat_map(|(nodes, _)| nodes[..3].iter().copied())
        };
        let radius = |node: u32| mesh.nodes[node as usize].y;
        let outside = of_region(RING).map(radius).fold(0.0, f64::max);
        let bore = of_region(BODY).map(radius).fold(f64::INFINITY, f64::min);
        // Nodes of a level side have that side's height to the last digits of the drawing.
        let level = |region: u32, at: f64| {
            let near = move |node: &u32| (radius(*node) - at).abs() <= 1e-9 * at.max(1.0);
            self.growth_um(answer, of_region(region).filter(near))
        };
        SectionBound {
            mean_pressure_mpa: answer.mean_pressure_mpa(),
            most_pressure_mpa: most.map_or(0.0, |p| p.pressure_mpa),
            most_pressure_at_mm: most.map_or(0.0, |p| p.x_mm),
            pressing_share: answer.pressing_share(),
            widest_gap_um: gaps.fold(0.0, f64::max),
            line,
            ring_peak,
            body_peak,
            ring_outside_growth_um: level(RING, outside),
            ring_bore_growth_um: self.growth_um(answer, mesh.nodes_on(RING).into_iter()),
            spigot_growth_um: self.growth_um(answer, mesh.nodes_on(BODY).into_iter()),
            body_bore_growth_um: level(BODY, bore),
        }
    }

    fn growth_um(&self, answer: &ContactAnswer, nodes: impl Iterator<Item = u32>) -> f64 {
        let (mut sum, mut count) = (0.0, 0.0);
        for node in nodes {
            sum += answer.solved.at(node)[1];
            count += 1.0;
        }
        if count > 0.0 {
            UM_ACROSS * sum / count
        } else {
            0.0
        }
    }

    pub(super) fn picture(&self, answer: &ContactAnswer, stress: &StressField) -> StressPicture {
        let mesh = self.elastic.mesh;
        let mut number = vec![u32::MAX; mesh.nodes.len()];
        let mut out = StressPicture::default();
        for (nodes, region) in mesh.triangles.iter().zip(&mesh.regions) {
            let mut corners = [0; 3];
            for (corner, node) in corners.iter_mut().zip(nodes) {
                let place = &mut number[*node as usize];
                if *place == u32::MAX {
                    *place = out.places_mm.len() as u32;
                    let at = mesh.nodes[*node as usize];
                    out.places_mm.push([at.x, at.y]);
                    out.displaced_mm.push(answer.solved.at(*node));
                }
                *corner = *place;
            }
            out.triangles.push(corners);
            out.of_ring.push(*region == RING);
        }
        let levels = stress.corners.iter();
        out.equivalent_mpa = levels.map(|c| c.map(|s| s.equivalent_mpa())).collect();
        out
    }
}
