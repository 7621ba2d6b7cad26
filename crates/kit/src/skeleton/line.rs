//! One chain as a line: middles of its gates, drawn on at free ends, smoothed, with the width of the wall.

use super::chains::{Chain, Graph, Plan};
use super::nodes::circle;
use crate::revolve::{Point, cross};

/// The line is smoothed over this share of the wall's width to each side.
const SMOOTH: f64 = 0.3;
/// The way a free end points is looked at over this many of the end's widths.
const LOOK_BACK: f64 = 1.0;

/// Nearer to a free end than this share of the width, the width stays.
const BY_END: f64 = 0.2;

/// A place of a middle line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MiddlePoint {
    /// Where it is.
    pub place: Point,
    /// Way along the branch from its first node.
    pub along_mm: f64,
    /// Thickness of the wall across the line.
    pub width_mm: f64,
}

/// A line from one node to another.
#[derive(Debug, Clone, PartialEq)]
pub struct Branch {
    /// The nodes it runs between, by number.
    pub nodes: [usize; 2],
    /// Its places, from the first node to the second, in steps of even length.
    pub points: Vec<MiddlePoint>,
    /// The part of the way on which it is a wall between two sides; before and after lie junction or end.
    pub wall_mm: [f64; 2],
}

impl Branch {
    /// Its whole length.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        self.points.last().map_or(0.0, |p| p.along_mm)
    }

    /// The place at a way along it, between two points in proportion.
    #[must_use]
    pub fn at(&self, along_mm: f64) -> MiddlePoint {
        let after = self.points.partition_point(|p| p.along_mm < along_mm);
        let after = after.clamp(1, self.points.len() - 1);
        let (a, b) = (self.points[after - 1], self.points[after]);
        let way = b.along_mm - a.along_mm;
        let share = if way > 0.0 {
            ((along_mm - a.along_mm) / way).clamp(0.0, 1.0)
        } else {
            0.0
        };
        MiddlePoint {
            place: a.place.toward(b.place, share),
            along_mm: a.along_mm + way * share,
            width_mm: a.width_mm + (b.width_mm - a.width_mm) * share,
        }
    }
}

/// A branch, and where each of its chain's gates lies along it.
#[derive(Debug)]
pub struct Drawn {
    pub branch: Branch,
    pub gates_mm: Vec<f64>,
}

/// The line of a chain; nodes in the branch are still numbered as in the graph.
pub fn draw(plan: &Plan, graph: &Graph, chain: &Chain, step_mm: f64) -> Drawn {
    let gates: Vec<[Point; 2]> = chain
        .gates
        .iter()
        .map(|g| g.map(|v| plan.places[v as usize]))
        .collect();
    let middles: Vec<Point> = gates.iter().map(|[a, b]| a.toward(*b, 0.5)).collect();
    let widths: Vec<f64> = gates.iter().map(|[a, b]| a.distance(*b)).collect();
    let mut places = vec![end(plan, graph, chain.nodes[0], &middles, &widths, false)];
    places.extend(&middles);
    places.push(end(plan, graph, chain.nodes[1], &middles, &widths, true));

    let rough = ways(&places);
    let reach: Vec<f64> = std::iter::once(0.0)
        .chain(widths.iter().map(|w| SMOOTH * w))
        .chain([0.0])
        .collect();
    let smooth = Smoothing::of(&rough);
    let xs = smooth.over(&places.iter().map(|p| p.x).collect::<Vec<_>>(), &reach);
    let ys = smooth.over(&places.iter().map(|p| p.y).collect::<Vec<_>>(), &reach);
    let line: Vec<Point> = xs
        .iter()
        .zip(&ys)
        .map(|(x, y)| Point::new(*x, *y))
        .collect();
    let along = ways(&line);

    let mut across: Vec<f64> = (0..gates.len())
        .map(|k| {
            let way = line[k + 2] - line[k];
            let long = way.x.hypot(way.y);
            let [a, b] = gates[k];
            if long > 0.0 {
                cross(b - a, way).abs() / long
            } else {
                widths[k]
            }
        })
        .collect();
    let last = gates.len() - 1;
    let ends = [
        end_width(plan, graph, chain.nodes[0], across[0], along[1]),
        end_width(
            plan,
            graph,
            chain.nodes[1],
            across[last],
            along[last + 2] - along[last + 1],
        ),
    ];
    across.insert(0, ends[0]);
    across.push(ends[1]);
    let mut across = smooth.over(&across, &reach);
    by_area(plan, chain, &along, &reach, &mut across);
    let mut points = even(&line, &along, &across, step_mm);
    let wall_mm = [along[1], along[last + 1]];
    end_widths(plan, graph, chain, wall_mm, &mut points);
    Drawn {
        branch: Branch {
            nodes: chain.nodes,
            points,
            wall_mm,
        },
        gates_mm: along[1..=last + 1].to_vec(),
    }
}

/// Inside a wall the width is what the plastic about a place leaves for its length: so width times length is the area
/// where the smoothed line cuts a bend short, too. Near the ends, where there is too little to look at, it stays.
fn by_area(plan: &Plan, chain: &Chain, along: &[f64], reach: &[f64], across: &mut [f64]) {
    let last = along.len() - 2;
    let mut areas = vec![0.0];
    for t in &chain.steps {
        areas.push(areas[areas.len() - 1] + area(plan.triangle(*t)));
    }
    let ways = &along[1..=last];
    let until = |s: f64| {
        let after = ways.partition_point(|w| *w < s).clamp(1, ways.len() - 1);
        let (a, b) = (ways[after - 1], ways[after]);
        let share = if b > a {
            ((s - a) / (b - a)).clamp(0.0, 1.0)
        } else {
            1.0
        };
        areas[after - 1] + (areas[after] - areas[after - 1]) * share
    };
    if ways.len() < 2 {
        return;
    }
    for k in 1..=last {
        let room = (along[k] - ways[0]).min(ways[last - 1] - along[k]);
        let half = reach[k].min(room);
        if half > 0.5 * reach[k] {
            across[k] = (until(along[k] + half) - until(along[k] - half)) / (2.0 * half);
        }
    }
}

/// Where the line begins or ends: the middle of a junction, or the outline beyond a free end.
fn end(
    plan: &Plan,
    graph: &Graph,
    node: usize,
    middles: &[Point],
    widths: &[f64],
    at_end: bool,
) -> Point {
    let Some(of) = &graph.nodes[node] else {
        return middles[0];
    };
    let [a, b, c] = plan.triangle(of.triangles[0]);
    let middle = (a + b + c) * (1.0 / 3.0);
    if of.chains.len() >= 3 {
        return circle(plan, graph, node).0;
    }
    if of.chains.len() == 2 {
        // The seam of a closed line: between its first gate and its last.
        return middles[0].toward(middles[middles.len() - 1], 0.5);
    }
    // A junction whose side lines were pruned is passed through its centre; a bare end through its gate.
    let count = middles.len();
    let nth = |k: usize| if at_end { count - 1 - k } else { k };
    let is_bare = plan.degree(of.triangles[0]) == 1;
    let through = if is_bare {
        middles[nth(0)]
    } else {
        plan.circle(of.triangles[0]).0
    };
    let far = LOOK_BACK * widths[nth(0)];
    let back = (0..count).find(|k| middles[nth(*k)].distance(through) >= far);
    let from = back.map_or(middles[nth(count - 1)], |k| {
        mean_near(middles, widths, nth(k))
    });
    let way = through - from;
    let long = way.x.hypot(way.y);
    let way = if long > 0.0 {
        way * (1.0 / long)
    } else {
        // One gate and nothing behind it: straight on from its middle.
        let off = middle - middles[nth(0)];
        let long = off.x.hypot(off.y).max(f64::MIN_POSITIVE);
        off * (1.0 / long)
    };
    hit(plan, &of.triangles, through, way).unwrap_or(middle)
}

/// The mean of the middles about one, over half a width to each side: middles zigzag.
fn mean_near(middles: &[Point], widths: &[f64], at: usize) -> Point {
    let near = middles
        .iter()
        .filter(|p| p.distance(middles[at]) <= SMOOTH * widths[at]);
    let (sum, count) = near.fold((Point::default(), 0.0), |(sum, n), p| (sum + *p, n + 1.0));
    sum * (1.0 / count)
}

/// Where a way meets the outline sides of some triangles, the farthest.
fn hit(plan: &Plan, triangles: &[usize], from: Point, way: Point) -> Option<Point> {
    let sides = triangles.iter().flat_map(|t| outline_sides(plan, *t));
    let met = sides.filter_map(|[a, b]| meet(from, way, a, b));
    met.max_by(f64::total_cmp).map(|far| from + way * far)
}

/// At a free end whose corners were pruned there are no gates: the width is looked for across the line.
fn end_widths(
    plan: &Plan,
    graph: &Graph,
    chain: &Chain,
    wall_mm: [f64; 2],
    points: &mut [MiddlePoint],
) {
    let count = points.len();
    for (number, node) in chain.nodes.iter().enumerate() {
        let of = graph.nodes[*node].as_ref().filter(|n| n.chains.len() == 1);
        let Some(of) = of.filter(|n| plan.degree(n.triangles[0]) == 3) else {
            continue;
        };
        let near = of.triangles.iter().chain(&chain.steps).chain(&chain.extra);
        let sides: Vec<[Point; 2]> = near.flat_map(|t| outline_sides(plan, *t)).collect();
        // From the wall to the end.
        let order: Vec<usize> = if number == 0 {
            (0..count - 1).rev().collect()
        } else {
            (1..count).collect()
        };
        let end_mm = points[if number == 0 { 0 } else { count - 1 }].along_mm;
        for k in order {
            let at = points[k];
            let is_end = if number == 0 {
                at.along_mm < wall_mm[0]
            } else {
                at.along_mm > wall_mm[1]
            };
            let inward = points[if number == 0 { k + 1 } else { k - 1 }];
            let way = inward.place - at.place;
            let long = way.x.hypot(way.y);
            if !is_end || long <= 0.0 {
                continue;
            }
            let normal = Point::new(-way.y / long, way.x / long);
            let both = look(&sides, at.place, normal).zip(look(&sides, at.place, normal * -1.0));
            // By the outline itself a look across may meet a slanted end: there the width stays as it was.
            let is_by = (at.along_mm - end_mm).abs() < BY_END * inward.width_mm;
            points[k].width_mm = match both {
                Some((left, right)) if !is_by => left + right,
                _ => inward.width_mm,
            };
        }
    }
}

/// The sides of a triangle that are outline.
fn outline_sides(plan: &Plan, t: usize) -> Vec<[Point; 2]> {
    let corners = plan.triangle(t);
    let sides = (0..3).filter(|k| plan.beyond[t][*k].is_none());
    sides.map(|k| [corners[k], corners[(k + 1) % 3]]).collect()
}

/// How far a look goes to the nearest of some sides.
fn look(sides: &[[Point; 2]], from: Point, way: Point) -> Option<f64> {
    let met = sides.iter().filter_map(|[a, b]| meet(from, way, *a, *b));
    met.min_by(f64::total_cmp)
}

/// How far along a way of length 1 it meets a side, if it does ahead.
fn meet(from: Point, way: Point, a: Point, b: Point) -> Option<f64> {
    let (a, b) = (a - from, b - from);
    let (sa, sb) = (cross(way, a), cross(way, b));
    if (sa > 0.0) == (sb > 0.0) || sa == sb {
        return None;
    }
    let at = a.toward(b, sa / (sa - sb));
    let far = at.x * way.x + at.y * way.y;
    (far > 0.0).then_some(far)
}

/// The width at a node: across a junction that of its circle; at a free end what its plastic has left.
fn end_width(plan: &Plan, graph: &Graph, node: usize, gate: f64, way: f64) -> f64 {
    let Some(of) = &graph.nodes[node] else {
        return gate;
    };
    if of.chains.len() >= 3 {
        return 2.0 * circle(plan, graph, node).1;
    }
    if of.chains.len() == 2 || way <= 0.0 {
        return gate;
    }
    let area: f64 = of.triangles.iter().map(|t| area(plan.triangle(*t))).sum();
    (2.0 * area / way - gate).clamp(0.0, 2.0 * gate)
}

/// The area of a triangle.
pub fn area([a, b, c]: [Point; 3]) -> f64 {
    0.5 * cross(b - a, c - a).abs()
}

/// Way along a line at each of its places.
fn ways(places: &[Point]) -> Vec<f64> {
    let mut along = vec![0.0];
    for pair in places.windows(2) {
        along.push(along[along.len() - 1] + pair[0].distance(pair[1]));
    }
    along
}

/// Means along a line.
struct Smoothing<'a> {
    along: &'a [f64],
}

impl<'a> Smoothing<'a> {
    fn of(along: &'a [f64]) -> Self {
        Self { along }
    }

    /// Each value's mean over the line `reach` to both sides, less near the ends so that they keep their places.
    fn over(&self, values: &[f64], reach: &[f64]) -> Vec<f64> {
        let along = self.along;
        let end = along[along.len() - 1];
        let mut sums = vec![0.0];
        for k in 1..along.len() {
            let mean = 0.5 * (values[k] + values[k - 1]);
            sums.push(sums[k - 1] + mean * (along[k] - along[k - 1]));
        }
        let integral = |t: f64| {
            let after = along.partition_point(|s| *s < t).clamp(1, along.len() - 1);
            let (a, b) = (along[after - 1], along[after]);
            let share = if b > a { (t - a) / (b - a) } else { 0.0 };
            let value = values[after - 1] + (values[after] - values[after - 1]) * share;
            sums[after - 1] + 0.5 * (values[after - 1] + value) * (t - a)
        };
        (0..along.len())
            .map(|k| {
                let t = along[k];
                let half = reach[k].min(t).min(end - t);
                if half <= end * 1e-12 {
                    return values[k];
                }
                (integral(t + half) - integral(t - half)) / (2.0 * half)
            })
            .collect()
    }
}

/// The line in steps of even length, near the wanted one.
fn even(line: &[Point], along: &[f64], widths: &[f64], step: f64) -> Vec<MiddlePoint> {
    let length = along[along.len() - 1];
    let count = (length / step).ceil().max(1.0);
    (0..=count as usize)
        .map(|k| {
            let t = length * k as f64 / count;
            let after = along.partition_point(|s| *s < t).clamp(1, along.len() - 1);
            let way = along[after] - along[after - 1];
            let share = if way > 0.0 {
                ((t - along[after - 1]) / way).clamp(0.0, 1.0)
            } else {
                0.0
            };
            MiddlePoint {
                place: line[after - 1].toward(line[after], share),
                along_mm: t,
                width_mm: widths[after - 1] + (widths[after] - widths[after - 1]) * share,
            }
        })
        .collect()
}
