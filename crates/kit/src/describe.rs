//! Middle and spread of a handful of numbers, by moments and by ranks.

/// How many, where their middle is, and how they spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moments {
    /// How many numbers.
    pub count: usize,
    /// Their mean.
    pub mean: f64,
    /// Their sample standard deviation, divisor n − 1; none for a single number.
    pub sd: Option<f64>,
}

/// Mean and sample standard deviation in two passes; none for no numbers.
///
/// The second pass sums squared deviations from the mean and takes off what the rounding of the
/// mean left over (the corrected two-pass sum), so a large common offset costs no digits beyond
/// those that the numbers themselves lost when they were rounded to 64 bits.
/// Source: T. F. Chan, G. H. Golub, R. J. LeVeque, "Algorithms for computing the sample variance",
/// The American Statistician 37 (1983), from memory.
#[must_use]
pub fn moments(numbers: &[f64]) -> Option<Moments> {
    if numbers.is_empty() {
        return None;
    }
    let count = numbers.len();
    let n = count as f64;
    let mean = numbers.iter().sum::<f64>() / n;
    let (mut squares, mut rest) = (0.0, 0.0);
    for &number in numbers {
        let deviation = number - mean;
        squares += deviation * deviation;
        rest += deviation;
    }
    let mean = mean + rest / n;
    let sd = (count > 1).then(|| ((squares - rest * rest / n).max(0.0) / (n - 1.0)).sqrt());
    Some(Moments { count, mean, sd })
}

/// The middle number, or the mean of the two middle ones; none for no numbers.
#[must_use]
pub fn median(numbers: &[f64]) -> Option<f64> {
    quantile(numbers, 0.5)
}

/// The number below which the share `share` (0 to 1) of the numbers lies, straight lines between
/// the ordered numbers (Hyndman and Fan's seventh definition); none for no numbers.
#[must_use]
pub fn quantile(numbers: &[f64], share: f64) -> Option<f64> {
    let mut sorted = numbers.to_vec();
    sorted.sort_by(f64::total_cmp);
    let last = sorted.len().checked_sub(1)?;
    let place = share.clamp(0.0, 1.0) * last as f64;
    let below = (place.floor() as usize).min(last);
    let above = (below + 1).min(last);
    let part = place - below as f64;
    Some(sorted[below] + part * (sorted[above] - sorted[below]))
}

/// One over the third quartile of the standard normal distribution: what turns a median absolute
/// deviation into a standard deviation when the numbers are normal. A constant of mathematics.
const NORMAL_PER_MAD: f64 = 1.482_602_218_505_602;

/// Median and robust standard deviation (scaled median absolute deviation); none for no numbers.
///
/// Half of the numbers may be wrong without moving either far. For few numbers it is too small on
/// average (about a sixth at five); ask for at least eight before acting on it.
#[must_use]
pub fn robust(numbers: &[f64]) -> Option<(f64, f64)> {
    let middle = median(numbers)?;
    let away: Vec<f64> = numbers
        .iter()
        .map(|number| (number - middle).abs())
        .collect();
    Some((middle, NORMAL_PER_MAD * median(&away)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_nothing_has_no_middle_and_one_number_no_spread() {
        assert_eq!(moments(&[]), None);
        assert_eq!(median(&[]), None);
        assert_eq!(robust(&[]), None);
        assert_eq!(
            moments(&[3.0]),
            Some(Moments {
                count: 1,
                mean: 3.0,
                sd: None
            })
        );
    }

    #[test]
    fn closed_form_one_to_n_has_known_moments() {
        // Mean (n + 1) / 2 and variance n (n + 1) / 12; the sums are whole numbers, so exact.
        let numbers: Vec<f64> = (1..=9).map(f64::from).collect();
        assert_eq!(
            moments(&numbers),
            Some(Moments {
                count: 9,
                mean: 5.0,
                sd: Some(7.5f64.sqrt())
            })
        );
    }

    #[test]
    fn closed_form_the_robust_pair_of_one_to_nine() {
        let numbers: Vec<f64> = (1..=9).map(f64::from).collect();
        // The deviations from 5 are 0 1 1 2 2 3 3 4 4: their median is 2.
        assert_eq!(robust(&numbers), Some((5.0, 2.0 * NORMAL_PER_MAD)));
    }

    #[test]
    fn law_four_of_nine_wrong_numbers_do_not_move_the_median_out_of_the_right_ones() {
        let numbers = [10.7, 10.71, 10.69, 10.72, 10.68, 1e9, 1e9, 1e9, 1e9];
        let middle = median(&numbers);
        assert!(
            middle.is_some_and(|middle| (10.68..=10.72).contains(&middle)),
            "{middle:?}"
        );
    }

    #[test]
    fn closed_form_quartiles_lie_on_the_line_between_neighbours() {
        assert_eq!(quantile(&[4.0, 1.0, 3.0, 2.0], 0.25), Some(1.75));
        assert_eq!(quantile(&[4.0, 1.0, 3.0, 2.0], 1.0), Some(4.0));
    }
}
