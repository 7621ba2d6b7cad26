//! Heat conduction in bodies of revolution: conductance, capacity, cooled borders.
//!
//! One temperature a node. Lengths in mm as in the mesh, properties in SI, heat flows in W (all round the axis).

use super::elastic::check_axis;
use super::pattern::Pattern;
use super::shape::{edge_rule, edge_shapes, look, rule};
use super::solver::{Analysed, ElementsError};
use crate::mesh::Mesh;

/// Metres to the millimetre.
const MM: f64 = 1e-3;

/// How a body conducts and stores heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conduct {
    /// Conductivity, above 0.
    pub conductivity_w_m_k: f64,
    /// Specific heat capacity, 0 or above.
    pub capacity_j_kg_k: f64,
    /// Density, 0 or above.
    pub density_kg_m3: f64,
}

/// A border cooled (or warmed) by what it faces: heat flow = film × area × (own − ambient temperature).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cooled {
    /// The label of the sides.
    pub label: u32,
    /// Heat passed for each area and degree; 0 or above.
    pub film_w_m2_k: f64,
    /// The temperature it faces.
    pub ambient_degc: f64,
}

/// A mesh with its conductance and capacity.
#[derive(Debug)]
pub struct Conduction<'a> {
    /// The mesh.
    pub mesh: &'a Mesh,
    pub(super) pattern: Pattern<1>,
    /// Heat flow for temperatures, W/K.
    pub(super) conductance: Vec<f64>,
    /// Heat stored for temperatures, J/K.
    pub(super) capacity: Vec<f64>,
    /// Heat flowing in whatever the temperatures are, W.
    pub(super) inflow: Vec<f64>,
}

impl<'a> Conduction<'a> {
    /// Assembles a mesh with a material for each region.
    ///
    /// # Errors
    /// A region without material, a property out of range, a mesh below the axis.
    pub fn new(mesh: &'a Mesh, materials: &[(u32, Conduct)]) -> Result<Self, ElementsError> {
        let of = |region: &u32| {
            let found = materials.iter().find(|(r, _)| r == region);
            found.map_or(Err(ElementsError::NoMaterial(*region)), |(_, m)| Ok(*m))
        };
        let each: Vec<Conduct> = mesh.regions.iter().map(of).collect::<Result<_, _>>()?;
        Self::of_triangles(mesh, &each)
    }

    /// Assembles a mesh with a material for each triangle, as when properties follow the temperature.
    ///
    /// # Errors
    /// See [`Self::new`]; [`ElementsError::NoMaterial`] of the first region left out when the list is short.
    pub fn of_triangles(mesh: &'a Mesh, materials: &[Conduct]) -> Result<Self, ElementsError> {
        check_axis(mesh)?;
        if materials.len() < mesh.triangles.len() {
            return Err(ElementsError::NoMaterial(mesh.regions[materials.len()]));
        }
        for m in materials {
            check(m)?;
        }
        let pattern = Pattern::of(mesh);
        let mut conductance = vec![0.0; pattern.rows().len()];
        let mut capacity = conductance.clone();
        let rule = rule();
        for (number, nodes) in mesh.triangles.iter().enumerate() {
            let places = mesh.places(number);
            let looks = rule.map(|(l, weight)| look(&places, l, weight));
            let m = &materials[number];
            let (conducts, stores) = (
                m.conductivity_w_m_k * MM,
                m.capacity_j_kg_k * m.density_kg_m3 * MM.powi(3),
            );
            pattern.add(&mut conductance, number, nodes, |i, j| {
                let parts = looks.iter();
                let sum: f64 = parts
                    .map(|at| at.volume * (at.dx[i] * at.dx[j] + at.dy[i] * at.dy[j]))
                    .sum();
                [[conducts * sum]]
            });
            pattern.add(&mut capacity, number, nodes, |i, j| {
                let parts = looks.iter();
                let sum: f64 = parts.map(|at| at.volume * at.shape[i] * at.shape[j]).sum();
                [[stores * sum]]
            });
        }
        Ok(Self {
            mesh,
            inflow: vec![0.0; pattern.unknowns()],
            pattern,
            conductance,
            capacity,
        })
    }

    /// Cools a border as well.
    ///
    /// # Errors
    /// No border edge carries the label; a film that is no number of 0 or above.
    pub fn cooled(mut self, cooled: &Cooled) -> Result<Self, ElementsError> {
        let film = cooled.film_w_m2_k;
        if !(film.is_finite() && film >= 0.0) {
            return Err(ElementsError::OutOfRange {
                what: "a film coefficient in W/m2/K",
                read: film,
                expected: "a number of 0 or above",
            });
        }
        let mesh = self.mesh;
        let mut any = false;
        for edge in mesh.border(cooled.label) {
            any = true;
            let shared = edge_matrix(mesh, &edge.nodes);
            let nodes = &mesh.triangles[edge.triangle as usize];
            // The edge's nodes by their number in the triangle.
            let own = nodes.map(|node| edge.nodes.iter().position(|n| *n == node));
            let number = edge.triangle as usize;
            let films = &mut self.conductance;
            self.pattern.add(films, number, nodes, |i, j| {
                let both = own[i].zip(own[j]);
                [[both.map_or(0.0, |(i, j)| film * MM * MM * shared[i][j])]]
            });
            for (row, node) in shared.iter().zip(edge.nodes) {
                let area: f64 = row.iter().sum();
                self.inflow[node as usize] += film * MM * MM * area * cooled.ambient_degc;
            }
        }
        if any {
            Ok(self)
        } else {
            Err(ElementsError::NoSuchLabel(cooled.label))
        }
    }

    /// Heats a region evenly through its volume, in W/m³.
    #[must_use]
    pub fn heated(mut self, region: u32, power_w_m3: f64) -> Self {
        let rule = rule();
        for (number, nodes) in self.mesh.triangles.iter().enumerate() {
            if self.mesh.regions[number] != region {
                continue;
            }
            let places = self.mesh.places(number);
            for (l, weight) in rule {
                let at = look(&places, l, weight);
                let power = power_w_m3 * MM.powi(3) * at.volume;
                for (node, shape) in nodes.iter().zip(at.shape) {
                    self.inflow[*node as usize] += power * shape;
                }
            }
        }
        self
    }

    /// The temperatures at rest, some nodes held at theirs.
    ///
    /// # Errors
    /// [`ElementsError::Loose`] when nothing holds or cools a body; a node that is not there.
    pub fn at_rest(&self, held_degc: &[(u32, f64)]) -> Result<Vec<f64>, ElementsError> {
        let count = self.pattern.unknowns();
        let mut held = vec![false; count];
        let mut given = vec![0.0; count];
        for (node, degc) in held_degc {
            let at = *node as usize;
            if at >= count {
                return Err(ElementsError::NoSuchNode(*node));
            }
            held[at] = true;
            given[at] = *degc;
        }
        let mut values = self.conductance.clone();
        self.pattern.hold(&mut values, &held);
        let factored = Analysed::of(&self.pattern, &[])?.factor(&self.pattern, &values)?;
        let couple = self.pattern.times(&self.conductance, &given);
        let right: Vec<f64> = (0..count)
            .map(|at| {
                if held[at] {
                    0.0
                } else {
                    self.inflow[at] - couple[at]
                }
            })
            .collect();
        let mut out = factored.solve(&right)?;
        for at in (0..count).filter(|at| held[*at]) {
            out[at] = given[at];
        }
        Ok(out)
    }

    /// The heat stored above 0 °C.
    #[must_use]
    pub fn stored_j(&self, temperatures_degc: &[f64]) -> f64 {
        self.pattern
            .times(&self.capacity, temperatures_degc)
            .iter()
            .sum()
    }

    /// The heat that flows in at the nodes to keep temperatures as they are: 0 but for rounding at free nodes at rest.
    #[must_use]
    pub fn flows_w(&self, temperatures_degc: &[f64]) -> Vec<f64> {
        let out = self.pattern.times(&self.conductance, temperatures_degc);
        out.iter().zip(&self.inflow).map(|(a, b)| a - b).collect()
    }
}

/// What an edge's three shapes share: their products over the edge's area, in mm².
fn edge_matrix(mesh: &Mesh, nodes: &[u32; 3]) -> [[f64; 3]; 3] {
    let places = nodes.map(|node| mesh.nodes[node as usize]);
    let mut out = [[0.0; 3]; 3];
    for (t, weight) in edge_rule() {
        let (shape, slope) = edge_shapes(t);
        let sum = |f: &dyn Fn(usize) -> f64| (0..3).map(f).sum::<f64>();
        let radius = sum(&|k| shape[k] * places[k].y);
        let length = sum(&|k| slope[k] * places[k].x).hypot(sum(&|k| slope[k] * places[k].y));
        let area = weight * length * std::f64::consts::TAU * radius;
        for i in 0..3 {
            for j in 0..3 {
                out[i][j] += area * shape[i] * shape[j];
            }
        }
    }
    out
}

fn check(m: &Conduct) -> Result<(), ElementsError> {
    let checks = [
        (
            "a conductivity in W/m/K",
            m.conductivity_w_m_k,
            f64::MIN_POSITIVE,
            "a number above 0",
        ),
        (
            "a heat capacity in J/kg/K",
            m.capacity_j_kg_k,
            0.0,
            "a number of 0 or above",
        ),
        (
            "a density in kg/m3",
            m.density_kg_m3,
            0.0,
            "a number of 0 or above",
        ),
    ];
    for (what, read, least, expected) in checks {
        if !(read.is_finite() && read >= least) {
            return Err(ElementsError::OutOfRange {
                what,
                read,
                expected,
            });
        }
    }
    Ok(())
}
