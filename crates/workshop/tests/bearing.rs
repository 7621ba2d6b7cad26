//! The bearing station against printed tables, closed forms and laws.
#![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

mod friction {
    use whirlwright_workshop::bearing::viscous_un_m;
    /// The half width of the join that the documentation states.
    const JOIN_SHARE: f64 = 0.04;

    /// The join is smooth: value and slope go through both of its ends, and it rises everywhere.
    #[test]
    fn law_the_torque_and_its_slope_have_no_step() {
        let torque = |speed_rpm: f64| viscous_un_m(1.0, 1.0, speed_rpm, 9.525);
        let meet = 160f64.powf(1.5);
        for edge in [meet * (1.0 - JOIN_SHARE), meet * (1.0 + JOIN_SHARE)] {
            let h = 1e-3;
            let (before, at, after) = (torque(edge - h), torque(edge), torque(edge + h));
            let slope = |a: f64, b: f64| (b - a) / h;
            // The slope itself changes by its derivative times h, some 1e-6 of it; ten times that is asked.
            assert!((slope(before, at) - slope(at, after)).abs() < 1e-5 * at / 100.0);
        }
        let mut last = torque(0.0);
        for step in 0..4000 {
            let next = torque(f64::from(step));
            // Equal on the slow branch but for the last rounding.
            assert!(next >= last * (1.0 - 4.0 * f64::EPSILON), "{step}");
            last = next;
        }
    }

    #[test]
    fn law_the_join_stays_near_the_printed_branches() {
        for step in 0..400 {
            let n = 1900.0 + f64::from(step);
            let printed = if n < 2000.0 { 160.0 } else { n.powf(2.0 / 3.0) };
            let ours = viscous_un_m(1.0, 1.0, n, 10.0) / 0.1;
            assert!(
                (ours / printed - 1.0).abs() < 0.012,
                "{n}: {ours} for {printed}"
            );
        }
    }
}

mod viscosity {
    use whirlwright_workshop::bearing::ViscosityLine;
    use whirlwright_workshop::shelf::{LISTED_DEGC, lubricants};

    #[test]
    fn law_the_line_passes_through_its_points_and_falls() {
        for lubricant in lubricants() {
            let line = ViscosityLine::of(lubricant).unwrap();
            for (degc, cst) in [
                (LISTED_DEGC[0], lubricant.at_40_degc_cst.number),
                (LISTED_DEGC[1], lubricant.at_100_degc_cst.number),
            ] {
                // Two powers of ten one in the other: some ten roundings, enlarged by ln Z and its logarithm.
                assert!(
                    (line.viscosity_cst(degc) / cst - 1.0).abs() < 1e-12,
                    "{}",
                    lubricant.id
                );
            }
            assert!(line.viscosity_cst(10.0) > line.viscosity_cst(20.0));
        }
        assert_eq!(ViscosityLine::through((40.0, 10.0), (40.0, 3.0)), None);
        assert_eq!(
            ViscosityLine::through((40.0, 10.0), (100.0, f64::NAN)),
            None
        );
    }
}
