//! What acts on the bodies: swelling, turning, pressure.

use super::elastic::Elastic;
use super::shape::{edge_rule, edge_shapes, look, rule};
use super::solver::ElementsError;

/// N/mm³ for each kg/m³ times (rad/s)² times mm: a kilogram has a billion mm³ to the m³, a newton a thousand kg·mm/s².
const BODY_FORCE: f64 = 1e-12;

/// Loads, added up.
#[derive(Debug, Clone, PartialEq)]
pub struct Loads {
    /// Force on every unknown, in N.
    pub(super) force: Vec<f64>,
    /// The strain free of stress at each triangle's nodes; empty when there is none.
    pub(super) swelling: Vec<[f64; 6]>,
}

impl Loads {
    /// No load.
    #[must_use]
    pub fn none(elastic: &Elastic<'_>) -> Self {
        Self {
            force: vec![0.0; elastic.unknowns()],
            swelling: Vec::new(),
        }
    }

    /// The same strain in every direction that a free body would take on (warming, moisture), by region and node.
    #[must_use]
    pub fn swelling(mut self, elastic: &Elastic<'_>, strain: impl Fn(u32, u32) -> f64) -> Self {
        let mesh = elastic.mesh;
        self.swelling.resize(mesh.triangles.len(), [0.0; 6]);
        let rule = rule();
        for (number, nodes) in mesh.triangles.iter().enumerate() {
            let region = mesh.regions[number];
            let free = nodes.map(|node| strain(region, node));
            for (sum, free) in self.swelling[number].iter_mut().zip(free) {
                *sum += free;
            }
            let (volume_part, shear) = elastic.materials()[number].lame();
            let bulk = 3.0 * volume_part + 2.0 * shear;
            let places = mesh.places(number);
            for (l, weight) in rule {
                let at = look(&places, l, weight);
                let here: f64 = (0..6).map(|k| at.shape[k] * free[k]).sum();
                let push = bulk * here * at.volume;
                for (k, node) in nodes.iter().enumerate() {
                    let first = 2 * *node as usize;
                    self.force[first] += push * at.dx[k];
                    self.force[first + 1] += push * (at.dy[k] + at.shape[k] / at.radius);
                }
            }
        }
        self
    }

    /// Turning about the axis, in radians a second.
    #[must_use]
    pub fn turning(mut self, elastic: &Elastic<'_>, speed_rad_s: f64) -> Self {
        let mesh = elastic.mesh;
        let rule = rule();
        for (number, nodes) in mesh.triangles.iter().enumerate() {
            let pull = elastic.materials()[number].density_kg_m3 * speed_rad_s * speed_rad_s;
            let places = mesh.places(number);
            for (l, weight) in rule {
                let at = look(&places, l, weight);
                let pull = BODY_FORCE * pull * at.radius * at.volume;
                for (k, node) in nodes.iter().enumerate() {
                    self.force[2 * *node as usize + 1] += pull * at.shape[k];
                }
            }
        }
        self
    }

    /// A pressure on all sides with a label; below 0 it pulls.
    ///
    /// # Errors
    /// No border edge carries the label.
    pub fn pressure(
        mut self,
        elastic: &Elastic<'_>,
        label: u32,
        pressure_mpa: f64,
    ) -> Result<Self, ElementsError> {
        let mesh = elastic.mesh;
        let mut any = false;
        for edge in mesh.border(label) {
            any = true;
            let places = edge.nodes.map(|node| mesh.nodes[node as usize]);
            for (t, weight) in edge_rule() {
                let (shape, slope) = edge_shapes(t);
                let sum = |f: &dyn Fn(usize) -> f64| (0..3).map(f).sum::<f64>();
                let radius = sum(&|k| shape[k] * places[k].y);
                let way_x = sum(&|k| slope[k] * places[k].x);
                let way_y = sum(&|k| slope[k] * places[k].y);
                // The material lies on the left of the way: outward is (way_y, -way_x), the pressure inward.
                let round = pressure_mpa * weight * std::f64::consts::TAU * radius;
                for (k, node) in edge.nodes.iter().enumerate() {
                    let first = 2 * *node as usize;
                    self.force[first] -= round * shape[k] * way_y;
                    self.force[first + 1] += round * shape[k] * way_x;
                }
            }
        }
        if any {
            Ok(self)
        } else {
            Err(ElementsError::NoSuchLabel(label))
        }
    }
}
