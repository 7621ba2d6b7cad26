//! The half laid flat for the picture of its front: the long way from the axle outward, and what branches off it.

use super::given::Given;
use super::middle::Middle;
use super::shot::Shot;
use super::view::{FillGate, FillRing, FillStretch, FillView};

/// The front of a shot's first cavity.
pub(super) fn laid_flat(given: &Given, middle: &Middle, shot: &Shot) -> FillView {
    let Some(cavity) = shot.cavities.first() else {
        return FillView::default();
    };
    let way = long_way_of_whole_stretches(middle);
    let columns = cavity.columns_count;
    let arrivals = |ring: usize| -> Vec<f64> {
        let row = cavity.arrival_s.get(ring * columns..(ring + 1) * columns);
        from_the_mark(row.unwrap_or_default(), cavity.first_column_deg)
    };
    let mut stretches = Vec::new();
    let mut places = vec![(0, 0); middle.rings.len()];
    for (number, name) in middle.stretches.iter().enumerate() {
        let (rings, on_long_way) = ordered(middle, &way, number);
        let mut at = start_mm(middle, &way, &rings, on_long_way);
        let mut laid = Vec::new();
        for (k, ring) in rings.iter().enumerate() {
            let length = middle.rings[*ring].length_mm;
            places[*ring] = (number, k);
            laid.push(FillRing {
                from_mm: at,
                to_mm: at + length,
                arrival_s: arrivals(*ring),
            });
            at += length;
        }
        stretches.push(FillStretch {
            name: name.clone(),
            on_long_way,
            rings: laid,
        });
    }
    let gates = given.mould.cavities.first().map_or(&[][..], |c| &c.gates);
    let gate = |g: &super::given::Gate| {
        let ring = middle.ring_at(g.axial_mm, g.radius_mm)?;
        let (stretch, ring) = places[ring];
        Some(FillGate {
            stretch,
            ring,
            angle_deg: g.angle_deg,
        })
    };
    FillView {
        stretches,
        columns_count: columns,
        gates: gates.iter().filter_map(gate).collect(),
        switch_s: shot.fill.switch_s,
    }
}

/// A row of columns turned so that it begins at the half's mark: the nearest column stands first.
fn from_the_mark(row: &[f64], first_column_deg: f64) -> Vec<f64> {
    let count = row.len().max(1);
    let shift = (first_column_deg.rem_euclid(360.0) / 360.0 * count as f64).round() as usize;
    let mut turned = row.to_vec();
    turned.rotate_right(shift % count);
    turned
}

/// The rings of a stretch in the order they are laid, and whether it lies on the long way.
fn ordered(middle: &Middle, way: &[usize], stretch: usize) -> (Vec<usize>, bool) {
    let own: Vec<usize> = (0..middle.rings.len())
        .filter(|r| middle.rings[*r].stretch == stretch)
        .collect();
    let on: Vec<usize> = way.iter().copied().filter(|r| own.contains(r)).collect();
    if 2 * on.len() > own.len() {
        return (on, true);
    }
    // From the end that hangs on the rest.
    let hangs = |ring: Option<&usize>| {
        middle.links.iter().any(|l| {
            let other = if Some(&l.one) == ring { l.other } else { l.one };
            (Some(&l.one) == ring || Some(&l.other) == ring) && !own.contains(&other)
        })
    };
    let turned = hangs(own.last()) && !hangs(own.first());
    if turned {
        (own.into_iter().rev().collect(), false)
    } else {
        (own, false)
    }
}

/// Where the first ring of a stretch begins: on the long way, at the radius of the way's first end and on from there.
fn start_mm(middle: &Middle, way: &[usize], rings: &[usize], on_long_way: bool) -> f64 {
    let Some(first) = rings.first().filter(|_| on_long_way) else {
        return 0.0;
    };
    let head = way.first().map_or(0.0, |r| middle.rings[*r].radius_mm);
    let before = way.iter().take_while(|r| *r != first);
    head + before.map(|r| middle.rings[*r].length_mm).sum::<f64>()
}

/// The long way without rings it only passes, whose stretch branches off.
fn long_way_of_whole_stretches(middle: &Middle) -> Vec<usize> {
    let way = long_way(middle);
    let of = |ring: usize| middle.rings[ring].stretch;
    let lies_on = |ring: &usize| {
        let on = way.iter().filter(|r| of(**r) == of(*ring)).count();
        let all = middle
            .rings
            .iter()
            .filter(|r| r.stretch == of(*ring))
            .count();
        2 * on > all
    };
    way.iter().copied().filter(lies_on).collect()
}

/// The longest way over the rings, from the end nearer to the axle.
fn long_way(middle: &Middle) -> Vec<usize> {
    if middle.rings.is_empty() {
        return Vec::new();
    }
    let far = farthest(middle, 0);
    let one = far.last().copied().unwrap_or(0);
    let mut way = farthest(middle, one);
    let radius = |ring: Option<&usize>| ring.map_or(0.0, |r| middle.rings[*r].radius_mm);
    if radius(way.first()) > radius(way.last()) {
        way.reverse();
    }
    way
}

/// The way from a ring to the one that lies farthest, along links; in a section with hollows the shortest such way.
fn farthest(middle: &Middle, from: usize) -> Vec<usize> {
    let count = middle.rings.len();
    let mut far = vec![f64::INFINITY; count];
    let mut before = vec![usize::MAX; count];
    let mut open: Vec<usize> = (0..count).collect();
    far[from] = 0.0;
    while let Some(place) = (0..open.len()).min_by(|a, b| far[open[*a]].total_cmp(&far[open[*b]])) {
        let ring = open.swap_remove(place);
        for link in middle
            .links
            .iter()
            .filter(|l| l.one == ring || l.other == ring)
        {
            let next = if link.one == ring {
                link.other
            } else {
                link.one
            };
            let way = far[ring] + link.one_mm + link.other_mm;
            if way < far[next] {
                (far[next], before[next]) = (way, ring);
            }
        }
    }
    let reached = (0..count).filter(|r| far[*r].is_finite());
    let last = reached
        .max_by(|a, b| far[*a].total_cmp(&far[*b]))
        .unwrap_or(from);
    let mut way = vec![last];
    while let Some(previous) = way.last().map(|r| before[*r]).filter(|r| *r != usize::MAX) {
        way.push(previous);
    }
    way.reverse();
    way
}
