//! From triangles with straight edges to quadratic ones, their middle nodes on the true curve.

use super::border::Cut;
use super::delaunay::{Triangle, places};
use super::section::{Border, Mesh};
use crate::revolve::{Point, cross};

/// A curved element keeps its middle node on the curve while its least stretch is above this share of its mean one;
/// at a quarter the mapping is still one to one with room to spare.
const SOUND: f64 = 0.25;

/// Numbers the nodes, sets the middle ones and lists the border.
pub fn quadratic(border: &Cut, inner: &[Point], triangles: &[Triangle]) -> Mesh {
    let all = places(border, inner);
    let (mut nodes, number) = corners(&all, triangles);
    let edges = edges(triangles);
    let first = nodes.len() as u32;
    nodes.extend(
        edges
            .iter()
            .map(|(a, b)| all[*a as usize].toward(all[*b as usize], 0.5)),
    );
    let middle = |a: u32, b: u32| {
        let at = edges.binary_search(&(a.min(b), a.max(b)));
        first + at.unwrap_or_else(|at| at) as u32
    };
    let six: Vec<[u32; 6]> = triangles
        .iter()
        .map(|t| {
            let [a, b, c] = t.corners;
            let [i, j, k] = t.corners.map(|v| number[v as usize]);
            [i, j, k, middle(a, b), middle(b, c), middle(c, a)]
        })
        .collect();
    let pieces = sorted_pieces(border);
    let mut out = Mesh {
        nodes,
        triangles: six,
        regions: Vec::with_capacity(triangles.len()),
        borders: Vec::new(),
    };
    let mut bent: Vec<(u32, u32, Point)> = Vec::new();
    for (at, t) in triangles.iter().enumerate() {
        let body = t.body.unwrap_or(0);
        for k in 0..3 {
            let (a, b) = (t.corners[k], t.corners[(k + 1) % 3]);
            let Ok(found) = pieces.binary_search_by_key(&(a.min(b), a.max(b)), |p| p.0) else {
                continue;
            };
            let piece = border.pieces[pieces[found].1];
            let curve = &border.curves[piece.curve as usize];
            let node = out.triangles[at][3 + k];
            let on = curve.segment.at(0.5 * (piece.at[0] + piece.at[1]));
            bent.push((node, at as u32, on));
            // A body's own edge appears once in its list of owners; an edge it has on both sides is no border of it.
            for owner in curve.owners.iter().filter(|o| o.body == body) {
                out.borders.push(Border {
                    nodes: [out.triangles[at][k], out.triangles[at][(k + 1) % 3], node],
                    triangle: at as u32,
                    region: owner.region,
                    label: owner.label,
                });
            }
        }
        out.regions.push(body as u32);
    }
    name_regions(border, &mut out);
    bend(&mut out, bent);
    out
}

/// Bodies are known by number so far; triangles carry the caller's region.
fn name_regions(border: &Cut, mesh: &mut Mesh) {
    let mut region_of = vec![0; border.bodies];
    for owner in border.curves.iter().flat_map(|c| &c.owners) {
        region_of[owner.body] = owner.region;
    }
    for region in &mut mesh.regions {
        *region = region_of[*region as usize];
    }
}

/// The vertices in use as nodes, and the node of each vertex.
fn corners(all: &[Point], triangles: &[Triangle]) -> (Vec<Point>, Vec<u32>) {
    let mut number = vec![u32::MAX; all.len()];
    for vertex in triangles.iter().flat_map(|t| t.corners) {
        number[vertex as usize] = 0;
    }
    let mut nodes = Vec::new();
    for (vertex, number) in number.iter_mut().enumerate() {
        if *number == 0 {
            *number = nodes.len() as u32;
            nodes.push(all[vertex]);
        }
    }
    (nodes, number)
}

/// All edges once, the lower vertex first, rising.
fn edges(triangles: &[Triangle]) -> Vec<(u32, u32)> {
    let mut edges = Vec::with_capacity(3 * triangles.len());
    for t in triangles {
        for k in 0..3 {
            let (a, b) = (t.corners[k], t.corners[(k + 1) % 3]);
            edges.push((a.min(b), a.max(b)));
        }
    }
    edges.sort_unstable();
    edges.dedup();
    edges
}

/// The border pieces by their ends, for search.
fn sorted_pieces(border: &Cut) -> Vec<((u32, u32), usize)> {
    let pieces = border.pieces.iter().enumerate();
    let mut out: Vec<((u32, u32), usize)> = pieces
        .map(|(at, p)| {
            let [a, b] = p.ends;
            ((a.min(b), a.max(b)), at)
        })
        .collect();
    out.sort_unstable();
    out
}

/// Moves the middle nodes of the border onto the curve; back again where an element would fold.
fn bend(mesh: &mut Mesh, bent: Vec<(u32, u32, Point)>) {
    let straight: Vec<Point> = bent.iter().map(|b| mesh.nodes[b.0 as usize]).collect();
    for (node, _, on) in &bent {
        mesh.nodes[*node as usize] = *on;
    }
    for ((node, triangle, _), back) in bent.iter().zip(straight) {
        if !is_sound(&mesh.places(*triangle as usize)) {
            mesh.nodes[*node as usize] = back;
        }
    }
}

/// Whether the mapping stretches every place of the element the same way round, by a fair share.
fn is_sound(p: &[Point; 6]) -> bool {
    let mean = cross(p[1] - p[0], p[2] - p[0]);
    let at = |l: [f64; 3]| {
        // Slopes of the six shapes by the first two barycentric coordinates.
        let u = [
            4.0 * l[0] - 1.0,
            0.0,
            1.0 - 4.0 * l[2],
            4.0 * l[1],
            -4.0 * l[1],
            4.0 * (l[2] - l[0]),
        ];
        let v = [
            0.0,
            4.0 * l[1] - 1.0,
            1.0 - 4.0 * l[2],
            4.0 * l[0],
            4.0 * (l[2] - l[1]),
            -4.0 * l[0],
        ];
        let sum = |s: [f64; 6]| (0..6).fold(Point::default(), |sum, k| sum + p[k] * s[k]);
        cross(sum(u), sum(v))
    };
    let places = [
        [1.0, 0.0, 0.0],
        [0.0, 1.0, 0.0],
        [0.0, 0.0, 1.0],
        [0.5, 0.5, 0.0],
        [0.0, 0.5, 0.5],
        [0.5, 0.0, 0.5],
    ];
    places.iter().all(|l| at(*l) > SOUND * mean)
}
