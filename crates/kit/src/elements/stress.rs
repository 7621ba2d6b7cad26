//! Stresses from displacements.

use super::elastic::Elastic;
use super::held::Solved;
use super::loads::Loads;
use super::shape::look;
use crate::revolve::Point;

/// A state of stress: along the axis, away from it, round it, and the shear between the first two.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stress {
    /// Along the axis.
    pub along_mpa: f64,
    /// Away from the axis.
    pub away_mpa: f64,
    /// Round the axis (hoop).
    pub round_mpa: f64,
    /// Shear in the section.
    pub shear_mpa: f64,
}

impl Stress {
    /// The equivalent stress of R. von Mises (1913).
    #[must_use]
    pub fn equivalent_mpa(&self) -> f64 {
        let (a, b, c, t) = (
            self.along_mpa,
            self.away_mpa,
            self.round_mpa,
            self.shear_mpa,
        );
        let squares = (a - b).powi(2) + (b - c).powi(2) + (c - a).powi(2);
        (0.5 * squares + 3.0 * t * t).sqrt()
    }

    /// The largest principal stress: how hard the material is pulled.
    #[must_use]
    pub fn greatest_mpa(&self) -> f64 {
        let (mean, half) = (
            0.5 * (self.along_mpa + self.away_mpa),
            0.5 * (self.along_mpa - self.away_mpa),
        );
        (mean + half.hypot(self.shear_mpa)).max(self.round_mpa)
    }

    fn as_list(self) -> [f64; 4] {
        [
            self.along_mpa,
            self.away_mpa,
            self.round_mpa,
            self.shear_mpa,
        ]
    }

    fn of_list([along_mpa, away_mpa, round_mpa, shear_mpa]: [f64; 4]) -> Self {
        Self {
            along_mpa,
            away_mpa,
            round_mpa,
            shear_mpa,
        }
    }
}

/// The largest of something in a region, and where.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Peak {
    /// The value.
    pub stress_mpa: f64,
    /// The node it stands at.
    pub node: u32,
    /// Its place along the axis.
    pub x_mm: f64,
    /// Its distance from the axis.
    pub y_mm: f64,
}

/// The stress at the corners of all triangles, the same from all triangles of a region that meet in a node.
#[derive(Debug, Clone, PartialEq)]
pub struct StressField {
    /// For each triangle the stress at its three corners.
    pub corners: Vec<[Stress; 3]>,
}

/// Three places inside a triangle where the stress of quadratic elements is one order better than elsewhere.
const INSIDE: f64 = 1.0 / 6.0;

impl StressField {
    /// Recovers the field: in each triangle a plane through the stress at three inner places, at each node the mean of the
    /// triangles of the same region, weighted by area.
    #[must_use]
    pub fn of(elastic: &Elastic<'_>, loads: &Loads, solved: &Solved) -> Self {
        let mesh = elastic.mesh;
        let corners: Vec<[Stress; 3]> = (0..mesh.triangles.len())
            .map(|number| {
                let inside = [0, 1, 2].map(|k| {
                    let mut place = [INSIDE; 3];
                    place[k] = 1.0 - 2.0 * INSIDE;
                    stress_at(elastic, loads, solved, number, place).as_list()
                });
                // The plane through the three places, at corner k: the own place counts 5/3, each other one -1/3.
                [0, 1, 2].map(|k| {
                    Stress::of_list(std::array::from_fn(|c| {
                        let all: f64 = inside.iter().map(|s| s[c]).sum();
                        2.0 * inside[k][c] - all / 3.0
                    }))
                })
            })
            .collect();
        Self {
            corners: smooth(elastic, corners),
        }
    }

    /// The largest equivalent stress in a region; none where the mesh has no such region.
    #[must_use]
    pub fn peak_equivalent(&self, elastic: &Elastic<'_>, region: u32) -> Option<Peak> {
        self.peak(elastic, region, |s| s.equivalent_mpa())
    }

    /// The largest of any measure of the stress in a region.
    #[must_use]
    pub fn peak(
        &self,
        elastic: &Elastic<'_>,
        region: u32,
        measure: impl Fn(&Stress) -> f64,
    ) -> Option<Peak> {
        let mesh = elastic.mesh;
        let mut best: Option<Peak> = None;
        for (number, corners) in self.corners.iter().enumerate() {
            if mesh.regions[number] != region {
                continue;
            }
            for (k, stress) in corners.iter().enumerate() {
                let stress_mpa = measure(stress);
                if best.is_none_or(|b| stress_mpa > b.stress_mpa) {
                    let node = mesh.triangles[number][k];
                    let Point { x, y } = mesh.nodes[node as usize];
                    best = Some(Peak {
                        stress_mpa,
                        node,
                        x_mm: x,
                        y_mm: y,
                    });
                }
            }
        }
        best
    }

    /// The stress at a node as a region has it; none where no triangle of the region has that corner.
    #[must_use]
    pub fn at(&self, elastic: &Elastic<'_>, region: u32, node: u32) -> Option<Stress> {
        let mesh = elastic.mesh;
        let triangles = mesh.triangles.iter().enumerate();
        let mut of_region = triangles.filter(|(number, _)| mesh.regions[*number] == region);
        of_region.find_map(|(number, nodes)| {
            let k = nodes[..3].iter().position(|n| *n == node)?;
            Some(self.corners[number][k])
        })
    }
}

/// The stress at a place of a triangle, straight from the displacements.
pub(super) fn stress_at(
    elastic: &Elastic<'_>,
    loads: &Loads,
    solved: &Solved,
    number: usize,
    place: [f64; 3],
) -> Stress {
    let nodes = &elastic.mesh.triangles[number];
    let at = look(&elastic.mesh.places(number), place, 1.0);
    let mut strain = [0.0; 4];
    let mut free = 0.0;
    for (k, node) in nodes.iter().enumerate() {
        let [u, v] = solved.at(*node);
        strain[0] += at.dx[k] * u;
        strain[1] += at.dy[k] * v;
        // On the axis the ring closes up: round is as away.
        strain[2] += if at.radius > 0.0 {
            at.shape[k] * v / at.radius
        } else {
            at.dy[k] * v
        };
        strain[3] += at.dy[k] * u + at.dx[k] * v;
        if let Some(swelling) = loads.swelling.get(number) {
            free += at.shape[k] * swelling[k];
        }
    }
    let (volume_part, shear) = elastic.materials()[number].lame();
    let whole = volume_part * (strain[0] + strain[1] + strain[2] - 3.0 * free);
    let direct = |e: f64| whole + 2.0 * shear * (e - free);
    Stress {
        along_mpa: direct(strain[0]),
        away_mpa: direct(strain[1]),
        round_mpa: direct(strain[2]),
        shear_mpa: shear * strain[3],
    }
}

/// The mean at each node over the triangles of each region.
fn smooth(elastic: &Elastic<'_>, corners: Vec<[Stress; 3]>) -> Vec<[Stress; 3]> {
    let mesh = elastic.mesh;
    // Regions one after another: a node on a shared side has one mean in each.
    let mut regions = mesh.regions.clone();
    regions.sort_unstable();
    regions.dedup();
    let mut out = corners.clone();
    let mut sum = vec![([0.0; 4], 0.0); mesh.nodes.len()];
    for region in regions {
        let own = || (0..corners.len()).filter(|number| mesh.regions[*number] == region);
        for number in own() {
            let p = mesh.places(number);
            let area = crate::revolve::cross(p[1] - p[0], p[2] - p[0]);
            for (k, stress) in corners[number].iter().enumerate() {
                let node = &mut sum[mesh.triangles[number][k] as usize];
                for (sum, part) in node.0.iter_mut().zip(stress.as_list()) {
                    *sum += area * part;
                }
                node.1 += area;
            }
        }
        for number in own() {
            for k in 0..3 {
                let (total, area) = sum[mesh.triangles[number][k] as usize];
                out[number][k] = Stress::of_list(total.map(|part| part / area));
            }
        }
        sum.fill(([0.0; 4], 0.0));
    }
    out
}
