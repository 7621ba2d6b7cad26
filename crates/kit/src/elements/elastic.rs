//! Linear elasticity of bodies of revolution.
//!
//! Unknowns are the displacements of every node along the axis and away from it. Strains: along, away, round the
//! axis (displacement away over distance), and the shear between the first two; isotropic materials.
//! Lengths in mm, stresses in MPa, forces in N (all round the axis).

use super::pattern::Pattern;
use super::shape::{Look, look, rule};
use super::solver::ElementsError;
use crate::mesh::Mesh;

/// What a body is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Modulus of elasticity, above 0.
    pub modulus_mpa: f64,
    /// Poisson's ratio, above −1 and below 0.5. Near 0.5 these elements grow stiff; up to 0.49 they serve.
    pub poisson_ratio: f64,
    /// Density, 0 or above; felt when the body turns.
    pub density_kg_m3: f64,
}

impl Material {
    /// Lamé's two constants, in MPa: that of volume and that of shear.
    pub(super) fn lame(&self) -> (f64, f64) {
        let (e, v) = (self.modulus_mpa, self.poisson_ratio);
        (e * v / ((1.0 + v) * (1.0 - 2.0 * v)), e / (2.0 * (1.0 + v)))
    }

    fn check(&self) -> Result<(), ElementsError> {
        let fails = |what, read, expected| {
            Err(ElementsError::OutOfRange {
                what,
                read,
                expected,
            })
        };
        if !(self.modulus_mpa.is_finite() && self.modulus_mpa > 0.0) {
            return fails(
                "a modulus of elasticity in MPa",
                self.modulus_mpa,
                "a number above 0",
            );
        }
        if !(self.poisson_ratio > -1.0 && self.poisson_ratio < 0.5) {
            return fails(
                "Poisson's ratio",
                self.poisson_ratio,
                "a number between -1 and 0.5",
            );
        }
        if !(self.density_kg_m3.is_finite() && self.density_kg_m3 >= 0.0) {
            return fails(
                "a density in kg/m3",
                self.density_kg_m3,
                "a number of 0 or above",
            );
        }
        Ok(())
    }
}

/// A direction in the section.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Axis {
    /// Along the axis.
    Along,
    /// Away from the axis.
    Away,
}

impl Axis {
    /// The unknown of a node in this direction.
    #[must_use]
    pub fn of(self, node: u32) -> usize {
        2 * node as usize + usize::from(self == Self::Away)
    }
}

/// A displacement that is given.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Support {
    /// The node.
    pub node: u32,
    /// The direction.
    pub axis: Axis,
    /// How far it is moved.
    pub displacement_mm: f64,
}

impl Support {
    /// The same displacement for all nodes on the sides with a label.
    #[must_use]
    pub fn on(mesh: &Mesh, label: u32, axis: Axis, displacement_mm: f64) -> Vec<Self> {
        let nodes = mesh.nodes_on(label).into_iter();
        let held = |node| Self {
            node,
            axis,
            displacement_mm,
        };
        nodes.map(held).collect()
    }
}

/// A mesh with its stiffness.
#[derive(Debug)]
pub struct Elastic<'a> {
    /// The mesh.
    pub mesh: &'a Mesh,
    pub(super) pattern: Pattern<2>,
    pub(super) values: Vec<f64>,
    /// The material of each triangle.
    materials: Vec<Material>,
}

impl<'a> Elastic<'a> {
    /// Assembles the stiffness of a mesh, with a material for each region.
    ///
    /// # Errors
    /// A region without material, a property out of range, a mesh below the axis.
    pub fn new(mesh: &'a Mesh, materials: &[(u32, Material)]) -> Result<Self, ElementsError> {
        check_axis(mesh)?;
        for (_, material) in materials {
            material.check()?;
        }
        let of = |region: &u32| {
            let found = materials.iter().find(|(r, _)| r == region);
            found.map_or(Err(ElementsError::NoMaterial(*region)), |(_, m)| Ok(*m))
        };
        let materials: Vec<Material> = mesh.regions.iter().map(of).collect::<Result<_, _>>()?;
        let pattern = Pattern::of(mesh);
        let mut values = vec![0.0; pattern.rows().len()];
        let rule = rule();
        for (number, nodes) in mesh.triangles.iter().enumerate() {
            let places = mesh.places(number);
            let looks = rule.map(|(l, weight)| look(&places, l, weight));
            let lame = materials[number].lame();
            pattern.add(&mut values, number, nodes, |i, j| block(&looks, lame, i, j));
        }
        Ok(Self {
            mesh,
            pattern,
            values,
            materials,
        })
    }

    /// The material of each triangle.
    #[must_use]
    pub fn materials(&self) -> &[Material] {
        &self.materials
    }

    /// How many unknowns there are, held ones counted.
    #[must_use]
    pub fn unknowns(&self) -> usize {
        self.pattern.unknowns()
    }

    /// The energy stored by displacements when no strain is free of stress but 0.
    #[must_use]
    pub fn energy_nmm(&self, displacements_mm: &[f64]) -> f64 {
        let force = self.pattern.times(&self.values, displacements_mm);
        0.5 * dot(&force, displacements_mm)
    }
}

pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

pub(super) fn check_axis(mesh: &Mesh) -> Result<(), ElementsError> {
    let lowest = mesh.nodes.iter().map(|p| p.y).fold(0.0, f64::min);
    if lowest < 0.0 {
        return Err(ElementsError::BelowAxis(lowest));
    }
    Ok(())
}

/// What nodes `i` and `j` of an element share: rows and columns along, away.
fn block(looks: &[Look], (volume_part, shear): (f64, f64), i: usize, j: usize) -> [[f64; 2]; 2] {
    let whole = volume_part + 2.0 * shear;
    let mut out = [[0.0; 2]; 2];
    for at in looks {
        let (xi, xj, yi, yj) = (at.dx[i], at.dx[j], at.dy[i], at.dy[j]);
        let (hi, hj) = (at.shape[i] / at.radius, at.shape[j] / at.radius);
        let v = at.volume;
        out[0][0] += v * (whole * xi * xj + shear * yi * yj);
        out[0][1] += v * (volume_part * xi * (yj + hj) + shear * yi * xj);
        out[1][0] += v * (volume_part * (yi + hi) * xj + shear * xi * yj);
        out[1][1] +=
            v * (whole * (yi * yj + hi * hj) + volume_part * (yi * hj + hi * yj) + shear * xi * xj);
    }
    out
}
