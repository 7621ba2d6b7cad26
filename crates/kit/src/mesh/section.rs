//! A mesh of quadratic triangles, and what is measured of it.

use crate::revolve::Point;

/// One edge of a body's border.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Border {
    /// Its start, its end and the node in its middle; the material on the left of the way from start to end.
    pub nodes: [u32; 3],
    /// The triangle it is an edge of.
    pub triangle: u32,
    /// The region that triangle lies in.
    pub region: u32,
    /// The caller's label of the side.
    pub label: u32,
}

/// Quadratic triangles over one or more bodies.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Mesh {
    /// The nodes; x along the axis, y the distance from it.
    pub nodes: Vec<Point>,
    /// Each triangle's corners against the clock, then the nodes in the middle of the edges from the first, the second
    /// and the third corner on.
    pub triangles: Vec<[u32; 6]>,
    /// The region of each triangle.
    pub regions: Vec<u32>,
    /// All edges on the border; an edge that two bodies share stands once for each.
    pub borders: Vec<Border>,
}

impl Mesh {
    /// Both meshes as one; nothing is joined, even where they touch.
    #[must_use]
    pub fn beside(mut self, other: &Self) -> Self {
        let (nodes, triangles) = (self.nodes.len() as u32, self.triangles.len() as u32);
        self.nodes.extend(&other.nodes);
        let moved = |t: &[u32; 6]| t.map(|node| node + nodes);
        self.triangles.extend(other.triangles.iter().map(moved));
        self.regions.extend(&other.regions);
        self.borders.extend(other.borders.iter().map(|b| Border {
            nodes: b.nodes.map(|node| node + nodes),
            triangle: b.triangle + triangles,
            ..*b
        }));
        self
    }

    /// The border edges with a label.
    pub fn border(&self, label: u32) -> impl Iterator<Item = &Border> {
        self.borders.iter().filter(move |b| b.label == label)
    }

    /// The nodes on the border edges with a label, rising.
    #[must_use]
    pub fn nodes_on(&self, label: u32) -> Vec<u32> {
        let mut nodes: Vec<u32> = self.border(label).flat_map(|b| b.nodes).collect();
        nodes.sort_unstable();
        nodes.dedup();
        nodes
    }

    /// The places of a triangle's six nodes.
    #[must_use]
    pub fn places(&self, triangle: usize) -> [Point; 6] {
        self.triangles[triangle].map(|node| self.nodes[node as usize])
    }

    /// The smallest angle between two straight edges of any triangle.
    #[must_use]
    pub fn least_angle_deg(&self) -> f64 {
        let angles = (0..self.triangles.len()).flat_map(|t| {
            let p = self.places(t);
            [0, 1, 2].map(|k| {
                let (u, v) = (p[(k + 1) % 3] - p[k], p[(k + 2) % 3] - p[k]);
                crate::revolve::cross(u, v).atan2(u.x * v.x + u.y * v.y)
            })
        });
        angles.fold(f64::INFINITY, f64::min).to_degrees()
    }

    /// The area of a region, its curved edges counted as the parabolas they are.
    #[must_use]
    pub fn area_mm2(&self, region: u32) -> f64 {
        let in_region = (0..self.triangles.len()).filter(|t| self.regions[*t] == region);
        in_region.map(|t| area_mm2(&self.places(t))).sum()
    }

    /// The longest straight edge of any triangle.
    #[must_use]
    pub fn longest_edge_mm(&self) -> f64 {
        let lengths = (0..self.triangles.len()).flat_map(|t| {
            let p = self.places(t);
            [0, 1, 2].map(|k| p[k].distance(p[(k + 1) % 3]))
        });
        lengths.fold(0.0, f64::max)
    }
}

/// The area of one quadratic triangle: its straight part, and two thirds of what each middle node bows out.
fn area_mm2(p: &[Point; 6]) -> f64 {
    let straight = 0.5 * crate::revolve::cross(p[1] - p[0], p[2] - p[0]);
    let bows = [0, 1, 2].map(|k| {
        let (a, b, middle) = (p[k], p[(k + 1) % 3], p[3 + k]);
        // The node's deviation from the chord's middle, to the right of the way: outward.
        -crate::revolve::cross(b - a, middle - a.toward(b, 0.5)) * (2.0 / 3.0)
    });
    straight + bows.iter().sum::<f64>()
}
