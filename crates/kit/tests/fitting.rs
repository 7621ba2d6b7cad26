//! Elliptic integrals and least squares, against closed forms and laws.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod elliptic {
    use std::f64::consts::{FRAC_PI_2, FRAC_PI_4, PI};
    use whirlwright_kit::elliptic::complete_elliptic;

    #[test]
    fn closed_form_the_ends_and_the_lemniscate() {
        let round = complete_elliptic(1.0);
        assert_eq!((round.k, round.e), (FRAC_PI_2, FRAC_PI_2));
        assert_eq!((round.d, round.b), (FRAC_PI_4, FRAC_PI_4));
        let flat = complete_elliptic(0.0);
        assert_eq!((flat.k, flat.e), (f64::INFINITY, 1.0));
        // K(1/2) = Γ(1/4)² / (4 √π); Γ(1/4) to 16 figures.
        let gamma = 3.625_609_908_221_908_f64;
        let half = complete_elliptic(0.5f64.sqrt());
        let lemniscate = gamma * gamma / (4.0 * PI.sqrt());
        // Some ten roundings.
        assert!((half.k / lemniscate - 1.0).abs() < 10.0 * f64::EPSILON);
        // Legendre's relation at m = 1/2: 2 E K − K² = π/2.
        assert!((2.0 * half.e * half.k - half.k * half.k - FRAC_PI_2).abs() < 20.0 * f64::EPSILON);
    }

    #[test]
    fn law_legendres_relation_holds_at_every_parameter() {
        for step in 1..200 {
            let m = f64::from(step) / 200.0;
            let (x, y) = (
                complete_elliptic((1.0 - m).sqrt()),
                complete_elliptic(m.sqrt()),
            );
            let relation = x.e * y.k + y.e * x.k - x.k * y.k;
            // Three products of numbers up to 5, each off by some roundings.
            assert!((relation - FRAC_PI_2).abs() < 100.0 * f64::EPSILON, "{m}");
            // The differences are what they are called.
            assert!((x.d * m - (x.k - x.e)).abs() < 20.0 * f64::EPSILON, "{m}");
            assert!(
                (x.b * m - (x.e - (1.0 - m) * x.k)).abs() < 20.0 * f64::EPSILON,
                "{m}"
            );
        }
    }

    #[test]
    fn law_nothing_is_lost_near_the_circle() {
        for apart in [1e-3, 1e-6, 1e-9, 1e-12] {
            let found = complete_elliptic(1.0 - apart);
            let m = apart * (2.0 - apart);
            // D = π/4 (1 + 3m/8 + 15m²/64 + …), the next term below 0.2 m³.
            let series = FRAC_PI_4 * (1.0 + 0.375 * m + 15.0 / 64.0 * m * m);
            assert!(
                (found.d / series - 1.0).abs() < 0.3 * m * m * m + 10.0 * f64::EPSILON,
                "{apart}"
            );
        }
    }
}

mod minimise {
    use whirlwright_kit::least_squares::{Model, NotFitted, fit, linear};

    /// `y = p₀ exp(−p₁ t)`.
    struct Fall {
        data: Vec<(f64, f64)>,
    }

    impl Model for Fall {
        fn residuals(&self) -> usize {
            self.data.len()
        }

        fn at(&self, p: &[f64], residuals: &mut [f64], jacobian: &mut [f64]) -> bool {
            let n = self.data.len();
            for (i, (t, y)) in self.data.iter().enumerate() {
                let e = (-p[1] * t).exp();
                residuals[i] = p[0] * e - y;
                jacobian[i] = e;
                jacobian[n + i] = -p[0] * t * e;
            }
            p[1] > 0.0
        }
    }

    #[test]
    fn closed_form_data_without_noise_give_their_parameters_back() {
        let data = (0..50)
            .map(|i| f64::from(i) * 0.1)
            .map(|t| (t, 3.0 * (-0.7 * t).exp()))
            .collect();
        let found = fit(&Fall { data }, &[1.0, 0.1], None).unwrap();
        // The search ends when a step is below 1e-11 of the parameters.
        assert!((found.parameters[0] / 3.0 - 1.0).abs() < 1e-10);
        assert!((found.parameters[1] / 0.7 - 1.0).abs() < 1e-10);
    }

    #[test]
    fn closed_form_a_line_has_the_covariance_of_the_textbook() {
        // x = 0…9, y = 2 + 3 x ± 1 in turn: variance of the slope s²/Σ(x − x̄)², Σ = 82.5.
        let x: Vec<f64> = (0..10).map(f64::from).collect();
        let y: Vec<f64> = (0..10)
            .map(|i| 2.0 + 3.0 * f64::from(i) + if i % 2 == 0 { 1.0 } else { -1.0 })
            .collect();
        let found = linear(&[vec![1.0; 10], x], &y).unwrap();
        let by_hand = found.noise_sd / 82.5f64.sqrt();
        // Some hundred roundings of numbers of like size.
        assert!((found.sd(1) / by_hand - 1.0).abs() < 1e-13);
        // The correlation of constant and slope: −x̄ / √(Σx²/n).
        assert!((found.correlation(0, 1) + 4.5 / 28.5f64.sqrt()).abs() < 1e-13);
        assert_eq!(found.degrees_of_freedom, 8);
        let along = found.sd_along(&[1.0, 4.5]);
        // At the mean of x the line is known to s/√n.
        assert!((along / (found.noise_sd / 10f64.sqrt()) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn law_what_cannot_be_told_apart_is_refused() {
        let x: Vec<f64> = (0..10).map(f64::from).collect();
        let twice: Vec<f64> = x.iter().map(|x| 2.0 * x).collect();
        assert_eq!(linear(&[x.clone(), twice], &x), Err(NotFitted::Singular));
        assert!(matches!(
            linear(&[x[..1].to_vec()], &x[..1]),
            Err(NotFitted::TooFew { .. })
        ));
        let data = vec![(0.0, 1.0); 5];
        assert!(fit(&Fall { data }, &[1.0, 0.5], None).is_err());
    }
}

mod runs_test {
    use whirlwright_kit::least_squares::runs;

    #[test]
    fn closed_form_an_alternating_and_a_divided_row() {
        let alternating: Vec<f64> = (0..40)
            .map(|i| if i % 2 == 0 { 1.0 } else { -1.0 })
            .collect();
        let found = runs(&alternating).unwrap();
        assert_eq!((found.runs, found.expected), (40, 21.0));
        assert!(found.sigmas > 6.0 && found.probability < 1e-8);
        let divided: Vec<f64> = (0..40).map(|i| if i < 20 { 1.0 } else { -1.0 }).collect();
        let found = runs(&divided).unwrap();
        // Variance 20·19/39.
        assert!((found.sigmas - (2.0 - 21.0) / (20.0 * 19.0 / 39.0f64).sqrt()).abs() < 1e-13);
        assert_eq!(runs(&[1.0; 30]), None);
    }
}

mod quantiles {
    use whirlwright_kit::least_squares::quantiles::*;

    #[test]
    fn closed_form_distributions_with_elementary_forms() {
        // Student's t of one degree is Cauchy's: beyond 1 lies a half. Of two: 1 − t/√(2 + t²).
        assert!((student_beyond(1.0, 1.0) - 0.5).abs() < 1e-12);
        assert!((student_beyond(2.0, 2.0) - (1.0 - 2.0 / 6.0f64.sqrt())).abs() < 1e-12);
        // F of 2 and 2 degrees: 1/(1 + f); chi square of 2: exp(−x/2).
        assert!((fisher_beyond(3.0, 2.0, 2.0) - 0.25).abs() < 1e-12);
        assert!((chi_square_beyond(2.0, 2.0) - (-1.0f64).exp()).abs() < 1e-12);
        assert!((normal_below(0.0) - 0.5).abs() < 1e-15);
        assert!((normal_quantile(normal_below(-1.3)) + 1.3).abs() < 1e-9);
        let t = student_quantile(0.5, 1.0).unwrap();
        assert!((t - 1.0).abs() < 1e-9);
    }
}
