//! Where a field lies at or above a level, as closed loops of places.

use std::collections::BTreeMap;

use whirlwright_workshop::fitting::StressPicture;

/// A corner of a loop: a place of the field, or where the level crosses the edge between two.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Corner {
    At(u32),
    /// The lower number first, so that both triangles of an edge name its crossing alike.
    Between(u32, u32),
}

/// The loops round everything that is at or above a level, along the axle and away from it, in mm.
///
/// What two triangles share is left out, so that only the border remains. `None` as level takes all of it.
pub fn at_least(field: &StressPicture, ring: bool, level: Option<f64>) -> Vec<Vec<(f64, f64)>> {
    let mut edges: BTreeMap<(Corner, Corner), i32> = BTreeMap::new();
    let mut places: BTreeMap<Corner, (f64, f64)> = BTreeMap::new();
    let parts = field.triangles.iter().zip(&field.equivalent_mpa);
    for ((nodes, values), of_ring) in parts.zip(&field.of_ring) {
        if *of_ring != ring {
            continue;
        }
        let corners = clipped(field, *nodes, *values, level);
        let next = corners.iter().cycle().skip(1);
        for ((from, place), (to, _)) in corners.iter().zip(next) {
            places.insert(*from, *place);
            if let Some(back) = edges.get_mut(&(*to, *from)).filter(|count| **count > 0) {
                *back -= 1;
            } else {
                *edges.entry((*from, *to)).or_insert(0) += 1;
            }
        }
    }
    let mut onward: BTreeMap<Corner, Vec<Corner>> = BTreeMap::new();
    for ((from, to), count) in edges {
        for _ in 0..count {
            onward.entry(from).or_default().push(to);
        }
    }
    loops(onward, &places)
}

/// The part of a triangle that is at or above the level.
fn clipped(
    field: &StressPicture,
    nodes: [u32; 3],
    values: [f64; 3],
    level: Option<f64>,
) -> Vec<(Corner, (f64, f64))> {
    let place = |node: u32| {
        let [x, y] = field.places_mm[node as usize];
        (x, y)
    };
    let mut out = Vec::with_capacity(4);
    for n in 0..3 {
        let (a, b) = (nodes[n], nodes[(n + 1) % 3]);
        let (of_a, of_b) = (values[n], values[(n + 1) % 3]);
        let Some(level) = level else {
            out.push((Corner::At(a), place(a)));
            continue;
        };
        if of_a >= level {
            out.push((Corner::At(a), place(a)));
        }
        if (of_a >= level) != (of_b >= level) {
            let ((p, of_p), (q, of_q)) = if a < b {
                ((a, of_a), (b, of_b))
            } else {
                ((b, of_b), (a, of_a))
            };
            let share = (level - of_p) / (of_q - of_p);
            let ((px, py), (qx, qy)) = (place(p), place(q));
            let at = (px + share * (qx - px), py + share * (qy - py));
            out.push((Corner::Between(p, q), at));
        }
    }
    out
}

fn loops(
    mut onward: BTreeMap<Corner, Vec<Corner>>,
    places: &BTreeMap<Corner, (f64, f64)>,
) -> Vec<Vec<(f64, f64)>> {
    let mut out = Vec::new();
    while let Some(first) = onward.keys().next().copied() {
        let mut round = Vec::new();
        let mut at = first;
        while let Some(ways) = onward.get_mut(&at) {
            let to = ways.pop();
            if ways.is_empty() {
                onward.remove(&at);
            }
            let Some(to) = to else { break };
            round.extend(places.get(&at));
            at = to;
        }
        if round.len() > 2 {
            out.push(round);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A square of two triangles with a value that rises along x from 0 to 1.
    fn square() -> StressPicture {
        StressPicture {
            places_mm: vec![[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]],
            displaced_mm: vec![[0.0; 2]; 4],
            triangles: vec![[0, 1, 2], [0, 2, 3]],
            of_ring: vec![false, false],
            equivalent_mpa: vec![[0.0, 1.0, 1.0], [0.0, 1.0, 0.0]],
        }
    }

    fn area(loops: &[Vec<(f64, f64)>]) -> f64 {
        let of = |l: &Vec<(f64, f64)>| {
            let next = l.iter().cycle().skip(1);
            let twice: f64 = l.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
            0.5 * twice
        };
        loops.iter().map(of).sum()
    }

    #[test]
    fn closed_form_bands_of_a_square_have_their_areas_and_one_border() {
        let field = square();
        let whole = at_least(&field, false, None);
        assert_eq!(whole.len(), 1);
        assert_eq!(whole[0].len(), 4);
        assert!((area(&whole) - 1.0).abs() < 1e-12);
        for level in [0.25, 0.5, 0.9] {
            let band = at_least(&field, false, Some(level));
            assert_eq!(band.len(), 1, "{band:?}");
            assert!((area(&band) - (1.0 - level)).abs() < 1e-12, "{band:?}");
        }
        assert!(at_least(&field, false, Some(1.1)).is_empty());
        assert!(at_least(&field, true, None).is_empty());
    }
}
