//! The gap between two lines that face each other, weighed along one of them.
//!
//! The first line carries the pressure: a broken straight line with one value at each corner node, and the gap is weighed
//! with the same hats (mortar method, linear pressures on quadratic edges: F. B. Belgacem et al. 1999, A. Popp et al.
//! 2012). The lines' nodes need not match. Every pair of facing edges is integrated over what they share, so
//! an even pressure is carried across exactly.

use super::shape::{edge_rule, edge_shapes};
use super::solver::ElementsError;
use crate::mesh::{Border, Mesh};
use crate::revolve::Point;

/// Edges face each other when the cosine of the angle between their ways is below this (against each other within 60 degrees).
const FACING: f64 = -0.5;
/// A hat that sees less than this share of a whole one's width facing the other line bears on nothing.
const SEEN: f64 = 1e-3;

/// A sparse row: unknowns and their numbers.
pub type Row = Vec<(u32, f64)>;

/// The weighed gap of one hat.
#[derive(Debug, Clone)]
pub struct Hat {
    /// The corner node the hat stands on.
    pub node: u32,
    /// Its area, all round the axis, as far as it faces the other line.
    pub area: f64,
    /// Closing of the gap by unit displacements, across the line.
    pub closing: Row,
    /// Sliding of the first line along the other, by unit displacements.
    pub sliding: Row,
}

/// The hats of the line `first` against the line `second`, along the line.
pub fn hats(mesh: &Mesh, first: u32, second: u32) -> Result<Vec<Hat>, ElementsError> {
    let line = in_order(mesh.border(first).copied().collect());
    let other: Vec<Border> = mesh.border(second).copied().collect();
    for (edges, label) in [(&line, first), (&other, second)] {
        if edges.is_empty() {
            return Err(ElementsError::NoSuchLabel(label));
        }
    }
    let mut hats: Vec<Hat> = Vec::new();
    let mut whole: Vec<f64> = Vec::new();
    let find = |hats: &mut Vec<Hat>, node: u32| {
        // Edges come in order, so a known corner is one of the last two, or the first of a closed line.
        let known = hats.iter().rposition(|h| h.node == node);
        known.unwrap_or_else(|| {
            hats.push(Hat {
                node,
                area: 0.0,
                closing: Vec::new(),
                sliding: Vec::new(),
            });
            hats.len() - 1
        })
    };
    for edge in &line {
        let ends = [edge.nodes[0], edge.nodes[1]].map(|node| find(&mut hats, node));
        whole.resize(hats.len(), 0.0);
        let places = edge.nodes.map(|node| mesh.nodes[node as usize]);
        let ring = std::f64::consts::PI * (places[0].y + places[1].y);
        for end in ends {
            whole[end] += 0.5 * ring * places[0].distance(places[1]);
        }
        for facing in &other {
            add_pair(mesh, edge, facing, ends, &mut hats);
        }
    }
    let seen = hats.iter().zip(&whole);
    let kept: Vec<Hat> = seen
        .filter(|(hat, whole)| hat.area > SEEN * **whole)
        .map(|(hat, _)| Hat {
            closing: gathered(&hat.closing),
            sliding: gathered(&hat.sliding),
            ..hat.clone()
        })
        .collect();
    if kept.is_empty() {
        return Err(ElementsError::Apart);
    }
    Ok(kept)
}

/// Integrates over what an edge of the first line and one of the second share.
fn add_pair(mesh: &Mesh, edge: &Border, facing: &Border, ends: [usize; 2], hats: &mut [Hat]) {
    let place = |node: u32| mesh.nodes[node as usize];
    let (a, b) = (place(edge.nodes[0]), place(edge.nodes[1]));
    let (c, d) = (place(facing.nodes[0]), place(facing.nodes[1]));
    let length = a.distance(b);
    let way = (b - a) * (1.0 / length);
    let along = |p: Point| (p.x - a.x) * way.x + (p.y - a.y) * way.y;
    let (c_at, d_at) = (along(c), along(d));
    let span = d_at - c_at;
    if span >= FACING * c.distance(d) {
        return;
    }
    let (from, to) = (d_at.max(0.0), c_at.min(length));
    if to - from <= 1e-12 * length {
        return;
    }
    // Outward of the first line: to the right of its way.
    let normal = Point::new(way.y, -way.x);
    for (share, weight) in edge_rule() {
        let at = from + (to - from) * share;
        let t = at / length;
        let (own, _) = edge_shapes(t);
        let (theirs, _) = edge_shapes((at - c_at) / span);
        let radius = (0..3).map(|k| own[k] * place(edge.nodes[k]).y).sum::<f64>();
        let ring = std::f64::consts::TAU * radius * weight * (to - from);
        for (hat, height) in ends.iter().zip([1.0 - t, t]) {
            let hat = &mut hats[*hat];
            let area = ring * height;
            hat.area += area;
            let lines = [(edge, own, area), (facing, theirs, -area)];
            for (edge, shape, area) in lines {
                for (node, shape) in edge.nodes.iter().zip(shape) {
                    let part = area * shape;
                    let (x, y) = (2 * node, 2 * node + 1);
                    hat.closing
                        .extend([(x, part * normal.x), (y, part * normal.y)]);
                    hat.sliding.extend([(x, part * way.x), (y, part * way.y)]);
                }
            }
        }
    }
}

/// Each unknown once, rising; what cancels to nothing left out.
fn gathered(row: &Row) -> Row {
    let mut sorted = row.clone();
    sorted.sort_by_key(|(unknown, _)| *unknown);
    let mut out: Row = Vec::new();
    for (unknown, number) in sorted {
        match out.last_mut() {
            Some((last, sum)) if *last == unknown => *sum += number,
            _ => out.push((unknown, number)),
        }
    }
    out.retain(|(_, number)| *number != 0.0);
    out
}

/// The edges of a line in the order they follow each other; of several lines one after the other.
fn in_order(mut edges: Vec<Border>) -> Vec<Border> {
    let mut out = Vec::with_capacity(edges.len());
    while !edges.is_empty() {
        let is_end = |e: &Border| !edges.iter().any(|o| o.nodes[1] == e.nodes[0]);
        let mut at = edges.iter().position(is_end);
        if at.is_none() {
            at = Some(0);
        }
        while let Some(index) = at {
            let edge = edges.remove(index);
            out.push(edge);
            at = edges.iter().position(|e| e.nodes[0] == edge.nodes[1]);
        }
    }
    out
}
