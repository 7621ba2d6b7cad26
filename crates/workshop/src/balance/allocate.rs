//! The permissible unbalance shared between two planes.

use crate::shelf::balance_rules;

/// Shares of planes at `a` and `b` for a centre of mass at `centre`: each plane's share is the other
/// one's distance over the distance between them, kept between the least and the largest share.
///
/// A centre outside the two planes (an overhung rotor) gives the nearer plane the largest share and the
/// other the least.
pub(super) fn shares(a_mm: f64, b_mm: f64, centre_mm: f64) -> [f64; 2] {
    let rules = balance_rules();
    let first = (b_mm - centre_mm) / (b_mm - a_mm);
    let first = first.clamp(rules.plane_least_share, rules.plane_most_share);
    [first, 1.0 - first]
}

/// What may be measured where `limit` is permissible and readings err by `error`: the limit less the
/// error, unless the error is small enough to be left out. The second number is the error taken off.
pub(super) fn accepted_up_to(limit: f64, error: f64) -> (f64, f64) {
    if error < balance_rules().error_left_out_share * limit {
        return (limit, 0.0);
    }
    ((limit - error).max(0.0), error)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_shares_make_the_whole_and_a_symmetric_piece_has_halves() {
        assert_eq!(shares(-17.5, 17.5, 0.0), [0.5, 0.5]);
        for centre in [-40.0, -10.0, 3.0, 17.0, 90.0] {
            let [a, b] = shares(-17.5, 17.5, centre);
            assert!((a + b - 1.0).abs() < 1e-15 && a >= 0.3 - 1e-15 && b >= 0.3 - 1e-15);
        }
        // Overhung beyond the second plane: it bears most.
        assert!(shares(-17.5, 17.5, 90.0)[1] > 0.69);
    }

    #[test]
    fn closed_form_a_small_error_is_left_out_and_a_large_one_leaves_nothing() {
        assert_eq!(accepted_up_to(1.0, 0.05), (1.0, 0.0));
        assert_eq!(accepted_up_to(1.0, 0.25), (0.75, 0.25));
        assert_eq!(accepted_up_to(1.0, 2.0), (0.0, 2.0));
    }
}
