//! What the angle between two halves does: static against couple, and clock marks.
//!
//! With static unbalances u1, u2 on either side of the middle and a relative angle ψ,
//! S² + (C/z)² = 2(u1² + u2²) whatever ψ: what leaves the static goes into the couple. Any weighted
//! sum of the two is therefore, for a given pair, least where S is least (or, if the couple weighs
//! more, where it is greatest): only S has to be looked at.

use super::body::ClockOption;

/// A static unbalance as a vector in the part's own frame, g·mm.
#[derive(Debug, Clone, Copy)]
pub(super) struct Arrow {
    pub x: f64,
    pub y: f64,
}

impl Arrow {
    /// From size and angle as seen from outside the part.
    pub(super) fn new(size_g_mm: f64, angle_deg: f64) -> Self {
        let (sin, cos) = angle_deg.to_radians().sin_cos();
        Self {
            x: size_g_mm * cos,
            y: size_g_mm * sin,
        }
    }

    /// The same arrow seen from the other side: the halves face each other, so the right half's
    /// angles run the other way when both are seen from the left.
    fn mirrored(self) -> Self {
        Self {
            x: self.x,
            y: -self.y,
        }
    }

    fn turned(self, angle_deg: f64) -> Self {
        let (sin, cos) = angle_deg.to_radians().sin_cos();
        Self {
            x: self.x * cos - self.y * sin,
            y: self.x * sin + self.y * cos,
        }
    }
}

/// Static and couple (per arm) of two halves, the right one turned by `angle_deg`.
pub(super) fn left_over(left: Arrow, right: Arrow, angle_deg: f64) -> (f64, f64) {
    let right = right.mirrored().turned(angle_deg);
    let size = |x: f64, y: f64| x.hypot(y);
    (
        size(left.x + right.x, left.y + right.y),
        size(left.x - right.x, left.y - right.y),
    )
}

/// Best of `marks` positions: its number from 1, and what it leaves.
pub(super) fn best_mark(left: Arrow, right: Arrow, marks: u32) -> (u32, ClockOption) {
    let angle = |mark: u32| 360.0 * f64::from(mark) / f64::from(marks);
    let mut best = (0, left_over(left, right, 0.0));
    for mark in 1..marks {
        let left_over = left_over(left, right, angle(mark));
        if left_over.0 < best.1.0 {
            best = (mark, left_over);
        }
    }
    let option = ClockOption {
        setting: format!(
            "right mark against the left half's mark {} of {marks}",
            best.0 + 1
        ),
        turn_deg: angle(best.0),
        static_unbalance_g_mm: best.1.0,
        couple_per_arm_g_mm: best.1.1,
    };
    (best.0 + 1, option)
}

/// Both settings of a free joint, from the sizes alone.
pub(super) fn free(left_g_mm: f64, right_g_mm: f64) -> Vec<ClockOption> {
    let (sum, difference) = (left_g_mm + right_g_mm, (left_g_mm - right_g_mm).abs());
    vec![
        ClockOption {
            setting: "least static: the two heavy spots opposite".to_owned(),
            turn_deg: 180.0,
            static_unbalance_g_mm: difference,
            couple_per_arm_g_mm: sum,
        },
        ClockOption {
            setting: "least couple: the two heavy spots together".to_owned(),
            turn_deg: 0.0,
            static_unbalance_g_mm: sum,
            couple_per_arm_g_mm: difference,
        },
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_static_and_couple_share_one_sum_of_squares() {
        let (left, right) = (Arrow::new(0.4, 30.0), Arrow::new(0.7, 200.0));
        for angle in [0.0, 17.0, 90.0, 181.5, 315.0] {
            let (s, c) = left_over(left, right, angle);
            // Ten roundings of numbers of size one.
            assert!((s * s + c * c - 2.0 * (0.16 + 0.49)).abs() < 10.0 * f64::EPSILON);
        }
    }

    #[test]
    fn closed_form_equal_arrows_cancel_at_the_opposite_mark() {
        // Both at 0° of their own mark: half a turn brings them opposite, mark 5 of 8.
        let (mark, option) = best_mark(Arrow::new(0.5, 0.0), Arrow::new(0.5, 0.0), 8);
        assert_eq!(mark, 5);
        assert!(option.static_unbalance_g_mm < 4.0 * f64::EPSILON);
        assert!((option.couple_per_arm_g_mm - 1.0).abs() < 4.0 * f64::EPSILON);
    }

    #[test]
    fn closed_form_angles_of_the_two_sides_run_against_each_other() {
        // Left heavy at +45° seen from the left; right heavy at +135° seen from the right is at
        // -135° seen from the left: already opposite, mark 1.
        let (mark, option) = best_mark(Arrow::new(0.5, 45.0), Arrow::new(0.5, 135.0), 8);
        assert_eq!(mark, 1);
        assert!(option.static_unbalance_g_mm < 4.0 * f64::EPSILON);
    }
}
