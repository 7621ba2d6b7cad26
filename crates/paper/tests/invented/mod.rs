//! Answers made up for the tests and the samples: no station reckoned them. The same every time.

#![allow(dead_code, reason = "every test file uses a part of it")]

pub mod balance;
pub mod mould;

use whirlwright_workshop::design::{
    Cut, CutOutline, LimitLine, OverlapLine, PieceLine, SectionBody,
};
use whirlwright_workshop::measuring::{
    Doubt, Histogram as Counted, MeasuringBody, OriginCounts, Spread,
};
use whirlwright_workshop::pairing::{
    AskedLimit, Baselines, ClockOption, Histogram, IfMore, LeftOver, Leftovers, PairBody, PairSet,
    Place, RecutLine, RecutSum, Score, Scores,
};
use whirlwright_workshop::part::answer::ANSWER_FORMAT;
use whirlwright_workshop::part::job::{MaterialKind, Side};
use whirlwright_workshop::part::mass_properties::Tensor;
use whirlwright_workshop::part::{Answer, Basis, Kind, Trust, Verdict};

/// A text that would do harm wherever it is not escaped.
pub const HOSTILE: &str = "<script>alert('D26')</script>&\"\u{1b}[2J";

/// Small whole numbers that look shuffled (the recurrence of Numerical Recipes, from memory).
struct Shuffle(u32);

impl Shuffle {
    fn next(&mut self, below: u32) -> u32 {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 16) % below
    }

    /// Bell-like, from −3·step to 3·step in whole hundredths of a gram.
    fn bell_g(&mut self, spread_hundredths: u32) -> f64 {
        let sum: u32 = (0..6).map(|_| self.next(spread_hundredths + 1)).sum();
        f64::from(sum) / 100.0 - f64::from(3 * spread_hundredths) / 100.0
    }
}

/// The frame of an answer.
pub fn answer<B>(
    station: &str,
    verdict: Verdict,
    headline: &str,
    decided_by: &str,
    body: B,
) -> Answer<B> {
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: station.to_owned(),
        verdict,
        headline: headline.to_owned(),
        decided_by: decided_by.to_owned(),
        body,
        trust: vec![Trust {
            number: "mass_difference_g".to_owned(),
            basis: Basis::Measured,
            why: "± 0.007 g: two readings of a scale that shows 0.01 g (rectangular, root-sum)"
                .to_owned(),
        }],
        cautions: Vec::new(),
        next: vec![
            "Print the recut list and take the rims to the lathe.".to_owned(),
            "Weigh the cut rims again, then pick the sets by the pick list.".to_owned(),
        ],
    }
}

/// A pairing of halves and rims into `n` sets of four, some rims recut.
pub fn four_parts(n: usize) -> Answer<PairBody> {
    let mut shuffle = Shuffle(26);
    let sets: Vec<PairSet> = (0..n).map(|k| four_part_set(k, n, &mut shuffle)).collect();
    let recuts = recuts(&sets);
    let mut body = body(sets);
    body.recut_sum = (!recuts.is_empty()).then(|| RecutSum {
        rims: recuts.len(),
        mass_g: recuts.iter().map(|c| c.mass_g).sum(),
        largest_mass_g: 0.41,
        largest_face_mm: 0.18,
        sets_without: n - n / 5,
        least_possible_mass_g: 11.0,
        optimal: true,
    });
    body.recuts = recuts;
    body.baselines.half_and_rim_trays_sets = Some(n / 2);
    body.distribution = vec![
        histogram(Kind::Half, "1", 10.71, n / 2, &mut shuffle),
        histogram(Kind::Half, "2", 10.79, n / 2, &mut shuffle),
        histogram(Kind::Half, "3", 10.86, n / 2, &mut shuffle),
        histogram(Kind::Half, "4", 10.80, n / 2, &mut shuffle),
        histogram(Kind::Rim, "1", 18.02, n, &mut shuffle),
        histogram(Kind::Rim, "2", 17.97, n, &mut shuffle),
    ];
    let headline = format!(
        "{n} sets, every one inside its limits; {} rims are cut first.",
        body.recuts.len()
    );
    answer(
        "pairing",
        Verdict::Good,
        &headline,
        "mass of the two sides within 0.10 g in every set",
        body,
    )
}

fn four_part_set(k: usize, n: usize, shuffle: &mut Shuffle) -> PairSet {
    // Rows far apart, so that the order of the trays is not the order of the sets.
    let row = |part: usize| ((2 * k + part) * 7 % (2 * n.max(1)) + 1) as u32;
    let half = |part: usize| format!("D26-H{:04}", row(part));
    let rim = |part: usize| format!("D26-R{:04}", row(part));
    let left = 28.80 + shuffle.bell_g(4);
    let right = left + shuffle.bell_g(2);
    let place = |id: String, kind: Kind, row: u32| Place {
        id,
        kind,
        tray: None,
        row,
    };
    PairSet {
        number: k as u32 + 1,
        left: format!("{}+{}", half(0), rim(0)),
        right: format!("{}+{}", half(1), rim(1)),
        left_half: Some(half(0)),
        left_rim: Some(rim(0)),
        right_half: Some(half(1)),
        right_rim: Some(rim(1)),
        cost: 0.01,
        within_limits: true,
        left_mass_g: Some(left),
        right_mass_g: Some(right),
        mass_difference_g: Some((left - right).abs()),
        unbalance_difference_g_mm: None,
        offset_difference_mm: None,
        piece_mass_g: Some(left + right),
        left_interference_mm: None,
        right_interference_mm: None,
        clock_mark: None,
        clocking: Vec::new(),
        places: vec![
            place(half(0), Kind::Half, row(0)),
            place(rim(0), Kind::Rim, row(0)),
            place(half(1), Kind::Half, row(1)),
            place(rim(1), Kind::Rim, row(1)),
        ],
    }
}

fn recuts(sets: &[PairSet]) -> Vec<RecutLine> {
    let mut shuffle = Shuffle(7);
    let mut lines: Vec<RecutLine> = sets
        .iter()
        .filter(|set| set.number % 3 == 0)
        .map(|set| {
            let face_mm = f64::from(1 + shuffle.next(18)) / 100.0;
            let place = set.places[1].clone();
            let mass_before_g = 18.20 + shuffle.bell_g(3);
            let mass_g = face_mm * 2.25;
            RecutLine {
                id: place.id.clone(),
                half: set.left_half.clone().unwrap_or_default(),
                face_mm,
                mass_g,
                mass_before_g,
                mass_after_g: mass_before_g - mass_g,
                set: set.number,
                place,
            }
        })
        .collect();
    lines.sort_by_key(|line| line.place.row);
    lines
}

/// A pairing of dressed halves out of trays, with clock marks, unbalance and some left over.
pub fn dressed(n: usize) -> Answer<PairBody> {
    let mut shuffle = Shuffle(5);
    let sets: Vec<PairSet> = (0..n).map(|k| dressed_set(k, n, &mut shuffle)).collect();
    let mut body = body(sets);
    body.distribution = vec![histogram(Kind::Dressed, "", 28.80, 2 * n, &mut shuffle)];
    body.unpaired = vec!["D26-D9001".to_owned(), "D26-D9002".to_owned()];
    body.left_over = vec![
        LeftOver {
            id: "D26-D9001".to_owned(),
            kind: Kind::Dressed,
            why: "no partner within 0.10 g".to_owned(),
            left_out: false,
        },
        LeftOver {
            id: "D26-D9002".to_owned(),
            kind: Kind::Dressed,
            why: "not weighed".to_owned(),
            left_out: true,
        },
    ];
    let decided = "one set of four outside 0.10 g";
    answer(
        "pairing",
        Verdict::Look,
        "Sets are found, but one is outside a limit.",
        decided,
        body,
    )
}

fn dressed_set(k: usize, n: usize, shuffle: &mut Shuffle) -> PairSet {
    let row = |part: usize| ((2 * k + part) * 5 % (2 * n.max(1)) + 1) as u32;
    let id = |part: usize| format!("D26-D{:04}", row(part));
    let place = |part: usize| Place {
        id: id(part),
        kind: Kind::Dressed,
        tray: Some(format!(
            "{}{}-{}",
            ['A', 'B'][row(part) as usize % 2],
            row(part) / 48 + 1,
            row(part) % 48 + 1
        )),
        row: row(part),
    };
    let left = 28.80 + shuffle.bell_g(4);
    let outside = k == 3;
    let right = left + if outside { 0.14 } else { shuffle.bell_g(2) };
    PairSet {
        number: k as u32 + 1,
        left: id(0),
        right: id(1),
        left_half: None,
        left_rim: None,
        right_half: None,
        right_rim: None,
        cost: 0.02,
        within_limits: !outside,
        left_mass_g: Some(left),
        right_mass_g: Some(right),
        mass_difference_g: Some((left - right).abs()),
        unbalance_difference_g_mm: Some(0.125),
        offset_difference_mm: Some(0.011),
        piece_mass_g: Some(left + right),
        left_interference_mm: None,
        right_interference_mm: None,
        clock_mark: Some(k as u32 % 8 + 1),
        clocking: vec![ClockOption {
            setting: "least static unbalance".to_owned(),
            turn_deg: f64::from(row(0) % 8) * 45.0,
            static_unbalance_g_mm: 0.09,
            couple_per_arm_g_mm: 0.31,
        }],
        places: vec![place(0), place(1)],
    }
}

fn histogram(
    kind: Kind,
    origin: &str,
    mean: f64,
    count: usize,
    shuffle: &mut Shuffle,
) -> Histogram {
    let mut counts = vec![0u32; 40];
    for _ in 0..count {
        let bin = ((shuffle.bell_g(4) + 0.2) / 0.02).round().clamp(0.0, 39.0);
        counts[bin as usize] += 1;
    }
    Histogram {
        kind,
        origin: origin.to_owned(),
        count,
        mean_mass_g: mean,
        sd_mass_g: (count > 1).then_some(0.048),
        from_mass_g: mean - 0.205,
        step_mass_g: 0.02,
        counts,
    }
}

/// A body with these sets and nothing else.
pub fn body(sets: Vec<PairSet>) -> PairBody {
    let n = sets.len();
    let score = |known: bool, sentence: &str| Score {
        known,
        sets_within: if known { n } else { 0 },
        mean: if known { 0.012 } else { 0.0 },
        worst: if known { 0.06 } else { 0.0 },
        unit: "g".to_owned(),
        sentence: sentence.to_owned(),
    };
    PairBody {
        limits: vec![
            AskedLimit { what: "mass within".to_owned(), limit: "0.10 g".to_owned() },
            AskedLimit { what: "piece mass".to_owned(), limit: "57.60 ± 0.10 g".to_owned() },
        ],
        set_count: n,
        possible_sets_upper_bound: n,
        sets_optimal: true,
        optimal: true,
        total_cost: 0.01 * n as f64,
        lower_bound: 0.01 * n as f64,
        proof: "no missing pair has a negative reduced cost: checked on the complete graph in whole numbers".to_owned(),
        sets,
        unpaired: Vec::new(),
        left_over: Vec::new(),
        recuts: Vec::new(),
        recut_sum: None,
        scores: Scores {
            same_mass: score(true, "All sets within 0.10 g; mean difference 0.012 g, worst 0.06 g."),
            runs_true: score(false, "Not measured: equal mass keeps a piece from turning about its string, not from shaking."),
        },
        baselines: Baselines {
            as_it_comes_sets: n / 6,
            trays_sets: n / 3,
            half_and_rim_trays_sets: None,
            sheet_sets: n / 40,
            trays_would_do: false,
            sentence: "Trays would not do for this lot.".to_owned(),
        },
        leftovers: Leftovers {
            if_more: vec![IfMore {
                what: "40 more rims of this kind".to_owned(),
                count: 40,
                more_sets: 31.0,
                more_sets_least: 28,
                more_sets_most: 34,
                draws: 5,
                seed: 20_261_125,
                sentence: "If 40 more rims of this kind come: 31 sets more (28 to 34 in 5 draws).".to_owned(),
            }],
            wish: vec!["Lighter rims would help most: 17.60 to 17.75 g.".to_owned()],
        },
        distribution: Vec::new(),
    }
}

/// A lot looked over.
pub fn measuring() -> Answer<MeasuringBody> {
    let spread = |origin: Option<&str>, count: usize, mean: f64| Spread {
        kind: Kind::Half,
        origin: origin.map(str::to_owned),
        count,
        mean_mass_g: mean,
        sd_mass_g: Some(0.048),
        min_mass_g: 10.52,
        max_mass_g: 11.06,
        range_mass_g: 0.54,
    };
    let body = MeasuringBody {
        parts: 240,
        weighed: 238,
        by_kind: vec![spread(None, 238, 10.79)],
        by_origin: vec![spread(Some("1"), 119, 10.74), spread(Some("2"), 119, 10.84)],
        histograms: vec![Counted {
            kind: Kind::Half,
            step_mass_g: 0.01,
            bin_mass_g: 0.02,
            start_mass_g: 10.515,
            counts: vec![1, 3, 9, 20, 41, 50, 44, 38, 20, 9, 3],
            by_origin: vec![
                OriginCounts { origin: Some("1".to_owned()), counts: vec![1, 3, 9, 18, 31, 30, 17, 8, 2, 0, 0] },
                OriginCounts { origin: Some("2".to_owned()), counts: vec![0, 0, 0, 2, 10, 20, 27, 30, 18, 9, 3] },
            ],
        }],
        differences: vec!["Cavity 2 is 0.10 g heavier than cavity 1: pairing must know the cavity.".to_owned()],
        doubts: vec![Doubt {
            part: 17,
            serial: "D26-H0018".to_owned(),
            mass_g: 10.38,
            robust_distance: 8.1,
            why: "10.38 g lies 8.1 robust standard deviations from its cavity; 10.83 g would not: weigh it again".to_owned(),
        }],
    };
    answer(
        "measuring",
        Verdict::Look,
        "238 of 240 halves are weighed; weigh 1 again.",
        "one reading lies 8.1 robust standard deviations off",
        body,
    )
}

/// A piece with half, rim, bearing, axle and pads, drawn with the demo's round measures.
pub fn section() -> Answer<SectionBody> {
    let outlines = vec![
        outline("half", Side::Right, MaterialKind::Polymer, HALF),
        outline("half", Side::Left, MaterialKind::Polymer, HALF),
        outline("rim", Side::Right, MaterialKind::Metal, RIM),
        outline("rim", Side::Left, MaterialKind::Metal, RIM),
        outline("pad", Side::Right, MaterialKind::Elastomer, PAD),
        outline("pad", Side::Left, MaterialKind::Elastomer, PAD),
        outline("bearing", Side::Centre, MaterialKind::Bought, BEARING),
        outline("axle", Side::Centre, MaterialKind::Metal, AXLE),
    ];
    let body = SectionBody {
        name: "Dunlin".to_owned(),
        revision: Some("B".to_owned()),
        mass_g: 63.03,
        polar_inertia_g_mm2: 31_234.5,
        transverse_inertia_g_mm2: 20_345.6,
        centre_of_mass_mm: 0.012,
        inertia_ratio: 0.6514,
        nutation_order: 1.535,
        couple_amplification: Some(2.868),
        inertia_tensor_g_mm2: Tensor::default(),
        static_unbalance_g_mm: 0.0,
        static_unbalance_at_deg: None,
        couple_unbalance_g_mm2: 0.0,
        diameter_mm: 58.0,
        width_mm: 43.0,
        gap_mm: Some(4.4),
        pieces: [
            piece("half", Side::Right, 10.80, 0.171, 0.11, 9.8),
            piece("half", Side::Left, 10.80, 0.171, 0.11, -9.8),
            piece("rim", Side::Right, 17.98, 0.285, 0.386, 15.0),
            piece("rim", Side::Left, 17.98, 0.285, 0.386, -15.0),
            piece("pad", Side::Right, 0.20, 0.003, 0.001, 2.4),
            piece("pad", Side::Left, 0.20, 0.003, 0.001, -2.4),
            piece("bearing", Side::Centre, 2.6, 0.041, 0.004, 0.0),
            piece("axle", Side::Centre, 2.47, 0.039, 0.002, 0.0),
        ]
        .to_vec(),
        limits: vec![LimitLine {
            number: "mass_g".to_owned(),
            piece: None,
            found: 63.03,
            at_least: Some(62.9),
            at_most: Some(63.1),
            inside: true,
            words: "mass 63.03 g, wanted 62.9 g to 63.1 g".to_owned(),
        }],
        overlaps: vec![OverlapLine {
            first: "half".to_owned(),
            second: "rim".to_owned(),
            depth_mm: 0.045,
            allowed_mm: 0.06,
            at_mm: (15.0, 24.0),
        }],
        recut_gram_per_mm: Some(2.25),
        cut: Cut {
            outlines,
            reach_mm: 21.5,
            radius_mm: 29.0,
        },
    };
    answer(
        "design",
        Verdict::Good,
        "63.03 g, 58.00 mm across, 43.00 mm wide: every limit is kept.",
        "mass 63.03 g inside 62.9 g to 63.1 g",
        body,
    )
}

const HALF: &str = "M 0.3 2 L 0.3 2.9 L 0.575 3.175 L 2.38 3.175 L 2.38 4.1 L 2.6 4.3 L 2.6 6.6 \
    L 2.2 6.6 L 2.2 8 L 3.1 8 L 3.1 10.5 L 2.2 10.5 L 2.2 11.6 C 2.6 15.5 6.5 21.5 10.6 25.2 \
    A 4 4 0 0 0 13.3 26.25 A 0.2 0.2 0 0 0 13.5 26.05 L 13.5 24.045 L 21.2 24.045 L 21.5 23.745 \
    L 21.5 22.73 L 14 22.73 C 9.2 20.4 5.4 15.5 5 10.5 L 5 6.5 A 1.2 1.2 0 0 1 6.2 5.3 L 13.2 5.3 \
    L 13.2 2 Z";
const RIM: &str = "M 13.5 24 L 21.5 24 L 21.5 29 L 13.5 29 Z";
const PAD: &str = "M 2.2 8 L 3.1 8 L 3.1 10.5 L 2.2 10.5 Z";
const BEARING: &str = "M -2.38 3.175 L 2.38 3.175 L 2.38 4.3 L -2.38 4.3 Z \
    M -2.38 5.3 L 2.38 5.3 L 2.38 6.35 L -2.38 6.35 Z";
const AXLE: &str = "M -12.5 0 L 12.5 0 L 12.5 2 L -12.5 2 Z";

fn outline(name: &str, side: Side, kind: MaterialKind, path: &str) -> CutOutline {
    let path = if side == Side::Left {
        mirrored(path)
    } else {
        path.to_owned()
    };
    CutOutline {
        name: name.to_owned(),
        side,
        kind,
        path,
    }
}

/// The same outline left of the middle.
fn mirrored(path: &str) -> String {
    let path = kurbo::BezPath::from_svg(path).expect("the outlines below are well formed");
    (kurbo::Affine::FLIP_X * path).to_svg()
}

fn piece(
    name: &str,
    side: Side,
    mass_g: f64,
    mass_share: f64,
    inertia_share: f64,
    centre: f64,
) -> PieceLine {
    PieceLine {
        name: name.to_owned(),
        side,
        volume_mm3: mass_g * 800.0,
        mass_g,
        density_g_cm3: 1.25,
        count: 1,
        centre_of_mass_mm: centre,
        polar_inertia_g_mm2: 31_234.5 * inertia_share,
        transverse_inertia_g_mm2: 15_000.0 * inertia_share,
        inertia_share,
        mass_share,
        least_wall_mm: Some(1.2),
        least_wall_at_mm: Some((12.0, 20.0)),
    }
}
