//! Lines of one time over a ring of cells, by the crossing of the sides of small triangles.

/// A point of a field: its place and its level.
pub type Level = ((f64, f64), f64);

/// Stretches of the line where the field of a triangle has the level; none where it lies on one side of it.
#[must_use]
pub fn crossing(corners: [Level; 3], level: f64) -> Option<((f64, f64), (f64, f64))> {
    if corners.iter().any(|(_, value)| !value.is_finite()) {
        return None;
    }
    let mut ends = [(0.0, 0.0); 2];
    let mut count = 0;
    for n in 0..3 {
        let ((a, low), (b, high)) = (corners[n], corners[(n + 1) % 3]);
        if (low < level) == (high < level) || count == 2 {
            continue;
        }
        let share = (level - low) / (high - low);
        ends[count] = (a.0 + share * (b.0 - a.0), a.1 + share * (b.1 - a.1));
        count += 1;
    }
    (count == 2).then_some((ends[0], ends[1]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closed_form_a_level_field_is_cut_where_it_has_the_level() {
        let corners = [((0.0, 0.0), 0.0), ((1.0, 0.0), 1.0), ((0.0, 1.0), 0.0)];
        let (a, b) = crossing(corners, 0.25).expect("the level is in it");
        let mut ends = [a, b];
        ends.sort_by(|p, q| p.1.total_cmp(&q.1));
        assert_eq!(ends, [(0.25, 0.0), (0.25, 0.75)]);
        assert_eq!(crossing(corners, 2.0), None);
        assert_eq!(
            crossing([corners[0], corners[1], ((0.0, 1.0), f64::NAN)], 0.25),
            None
        );
    }
}
