//! From a job to a shot: what is taken, what is remembered, what is refused.

use whirlwright_workshop::design;
use whirlwright_workshop::moulding::{Channel, Given, Middle, Refusal, Section};
use whirlwright_workshop::part::job::{Job, MaterialKind, Piece, PieceMaterial, Side};
use whirlwright_workshop::part::mould_wishes::{
    CavityWish, GateWish, HoldWish, MouldWishes, PressWishes, ProcessWishes, ResinWishes,
    RunnerSection, RunnerWish, TaperWish,
};
use whirlwright_workshop::part::{Outline, Range};

/// A washer with a wall along its outside: 4 to 28 mm of radius.
const HALF: &str = "M 0 4 L 2 4 L 2 26 L 10 26 L 10 28 L 0 28 Z";

fn job() -> Job {
    let piece = Piece {
        name: "half".to_owned(),
        side: Side::Both,
        outline: Outline::read(HALF).expect("a path"),
        material: PieceMaterial {
            density_g_cm3: 1.05,
            shelf_id: Some("abs".to_owned()),
            kind: MaterialKind::Polymer,
            why: "stated here".to_owned(),
        },
        count: 1,
        least_wall_mm: None,
        presses_on: Vec::new(),
        features: Vec::new(),
    };
    Job {
        name: "moulding".to_owned(),
        pieces: vec![piece],
        ..Job::default()
    }
}

fn asked(job: Job) -> Result<Given, Refusal> {
    Given::of_design(&design::Given::new(job).expect("a sound drawing"))
}

fn with_mould(mould: MouldWishes) -> Job {
    Job {
        mould: Some(mould),
        ..job()
    }
}

fn with_process(process: ProcessWishes) -> Job {
    Job {
        process: Some(process),
        ..job()
    }
}

fn gate() -> GateWish {
    GateWish {
        cavity: None,
        after: None,
        axial_mm: Some(5.0),
        radius_mm: Some(28.0),
        angle_deg: Some(90.0),
        is_ring: false,
        width_mm: Some(4.0),
        depth_mm: Some(1.2),
        length_mm: Some(1.0),
    }
}

fn runner(name: &str, after: Option<&str>) -> RunnerWish {
    RunnerWish {
        name: name.to_owned(),
        after: after.map(str::to_owned),
        section: RunnerSection::Round {
            from_mm: 5.0,
            to_mm: 5.0,
        },
        length_mm: 30.0,
    }
}

fn cavity(name: &str, runner: Option<&str>) -> CavityWish {
    CavityWish {
        name: name.to_owned(),
        steel_ratio: None,
        runner: runner.map(str::to_owned),
    }
}

#[test]
fn law_a_bare_job_is_a_shot_and_every_default_is_remembered() {
    let given = asked(job()).expect("a shot");
    assert_eq!(
        (given.piece.as_str(), given.resin.id.as_str()),
        ("half", "abs")
    );
    assert_eq!(given.mould.cavities.len(), 1);
    let said = given.assumed.join("\n");
    for word in [
        "one cavity",
        "sprue",
        "gate",
        "melt: ",
        "mould wall: ",
        "hold pressure",
        "fill time",
        "clamp force",
        "shrinkage",
        "from memory",
        "common practice",
    ] {
        assert!(said.contains(word), "{word}: {said}");
    }
    // What is said leaves the list.
    let mut full = with_process(ProcessWishes {
        melt_degc: Some(240.0),
        wall_degc: Some(60.0),
        fill_s: Some(0.8),
        ..ProcessWishes::default()
    });
    full.press = Some(PressWishes {
        clamp_n: Some(800e3),
        screw_mm: Some(30.0),
        most_mm_per_s: Some(85.0),
        ..PressWishes::default()
    });
    let given = asked(full).expect("a shot");
    assert_eq!((given.press.clamp_kn, given.process.fill_s), (800.0, 0.8));
    // A screw of 30 mm at 85 mm/s.
    assert!((given.press.most_cm3_per_s - 60.083).abs() < 5e-4);
    let said = given.assumed.join("\n");
    assert!(
        !said.contains("fill time") && !said.contains("clamp force"),
        "{said}"
    );
}

#[test]
fn law_runners_gates_and_cavities_find_each_other() {
    let given = asked(with_mould(MouldWishes {
        cavities_count: Some(4),
        ..MouldWishes::default()
    }))
    .expect("a shot");
    // Sprue, two mains, four branches; each cavity at the end of its own.
    assert_eq!(given.mould.branches.len(), 7);
    let ends: Vec<usize> = given
        .mould
        .cavities
        .iter()
        .map(|c| c.gates[0].after)
        .collect();
    assert_eq!(ends, [3, 4, 5, 6]);

    let mut own = gate();
    own.cavity = Some("b".to_owned());
    own.is_ring = true;
    own.width_mm = None;
    let given = asked(with_mould(MouldWishes {
        sprue: Some(TaperWish {
            from_mm: 3.0,
            to_mm: 5.0,
            length_mm: 40.0,
        }),
        runners: vec![
            runner("left", None),
            runner("right", Some("sprue")),
            runner("tip", Some("right")),
        ],
        gates: vec![gate(), own],
        cavities: vec![cavity("a", Some("left")), cavity("b", Some("tip"))],
        ..MouldWishes::default()
    }))
    .expect("a shot");
    let after: Vec<Option<usize>> = given.mould.branches.iter().map(|b| b.after).collect();
    assert_eq!(after, [None, Some(0), Some(0), Some(2)]);
    let (a, b) = (
        &given.mould.cavities[0].gates[0],
        &given.mould.cavities[1].gates[0],
    );
    assert_eq!((a.after, a.angle_deg), (1, Some(90.0)));
    assert_eq!((b.after, b.angle_deg), (3, None));
    // A ring gate is as wide as the half is round.
    let Channel::Slit { width_mm, .. } = b.channel else {
        panic!("a gate is flat")
    };
    assert!((width_mm - std::f64::consts::TAU * 28.0).abs() < 1e-9);
}

#[test]
fn law_the_cavity_is_the_drawing_larger_by_the_shrinkage() {
    let design = design::Given::new(with_mould(MouldWishes {
        cut_for_share: Some(0.005),
        ..MouldWishes::default()
    }))
    .expect("a sound drawing");
    let given = Given::of_design(&design).expect("a shot");
    let section = Section::of_design(&design, &given.piece).expect("a section");
    let middle = Middle::of_section(&section.loops, 12, false).expect("a middle surface");
    let larger = middle.volume_mm3() / section.drawn_mm3();
    assert!((larger * 0.995_f64.powi(3) - 1.0).abs() < 1e-9, "{larger}");
    let disc = std::f64::consts::PI * (28.0_f64.powi(2) - 16.0) / 0.995_f64.powi(2);
    assert!((given.mould.cavity_mm2 / disc - 1.0).abs() < 1e-12);
    // The shelf's table of usual shrinkage stands in where the job says nothing.
    let usual = Given::of_design(&design::Given::new(job()).expect("a drawing")).expect("a shot");
    assert!(
        usual
            .assumed
            .iter()
            .any(|a| a.contains("cut for a shrinkage"))
    );
}

#[test]
fn law_a_job_changes_what_it_names_of_the_card_and_no_more() {
    let mut changed = job();
    changed.resin = Some(ResinWishes {
        card: Some("pc-abs".to_owned()),
        changed: vec![
            ("flow.index", 0.4),
            ("heat.latent", 2.0),
            ("handling.shrinkage", 1.0),
        ],
    });
    let given = asked(changed).expect("a shot");
    let mut plain = whirlwright_workshop::shelf::resin("pc-abs")
        .expect("a card")
        .clone();
    plain.flow.index_ratio = 0.4;
    plain.heat.latent_j_kg = 2000.0;
    plain.handling.shrinkage_share = Range::exactly(0.01);
    plain.why.clone_from(&given.resin.why);
    assert_eq!(given.resin, plain);
    assert!(
        given
            .resin
            .why
            .iter()
            .any(|w| w.contains("flow.index: 0.4, as the job says"))
    );
}

/// What cannot be, with the words it is refused in.
#[test]
fn law_what_cannot_be_is_refused_with_the_reason_and_what_to_do() {
    let process = |change: &dyn Fn(&mut ProcessWishes)| {
        let mut wishes = ProcessWishes::default();
        change(&mut wishes);
        with_process(wishes)
    };
    let mould = |change: &dyn Fn(&mut MouldWishes)| {
        let mut wishes = MouldWishes {
            gates: vec![gate()],
            ..MouldWishes::default()
        };
        change(&mut wishes);
        with_mould(wishes)
    };
    let resin = |key: &'static str, value: f64| Job {
        resin: Some(ResinWishes {
            card: None,
            changed: vec![(key, value)],
        }),
        ..job()
    };
    let mut glass = job();
    glass.pieces[0].material.shelf_id = Some("glass".to_owned());
    let mut steel = job();
    steel.pieces[0].material.kind = MaterialKind::Metal;
    let mut acetal = process(&|p| p.before = Some("rigid PVC".to_owned()));
    acetal.resin = Some(ResinWishes {
        card: Some("pom".to_owned()),
        changed: Vec::new(),
    });
    let table: Vec<(Job, &str)> = vec![
        (steel, "no piece of the job is of a moulding resin"),
        (glass, "does not know the resin `glass`; it knows "),
        (
            mould(&|m| m.piece = Some("haft".to_owned())),
            "none of that name",
        ),
        (mould(&|m| m.cavities_count = Some(0)), "has no cavity"),
        (
            mould(&|m| m.cavities = vec![cavity("a", Some("lef"))]),
            "names the runner `lef`",
        ),
        (
            mould(&|m| m.gates[0].cavity = Some("9".to_owned())),
            "names the cavity `9`",
        ),
        (
            mould(&|m| {
                m.gates[0].cavity = Some("a".to_owned());
                m.cavities = vec![cavity("a", None), cavity("b", None)];
                m.runners = vec![runner("to a", None), runner("to b", None)];
            }),
            "cavity `b` has no gate",
        ),
        (
            mould(&|m| m.runners = vec![runner("one", Some("two")), runner("two", None)]),
            "list runners from the sprue outward",
        ),
        (
            mould(&|m| m.runners = vec![runner("one", Some("ten"))]),
            "names the runner `ten`",
        ),
        (
            mould(&|m| {
                m.cavities_count = Some(3);
                m.runners = vec![runner("one", None), runner("two", None)];
            }),
            "3 cavities and 2 runner ends",
        ),
        (
            mould(&|m| m.gates[0].radius_mm = Some(31.0)),
            "3.00 mm off the half",
        ),
        (
            mould(&|m| m.gates[0].axial_mm = Some(f64::NAN)),
            "off the half",
        ),
        (
            mould(&|m| m.gates[0].depth_mm = Some(-1.0)),
            "the depth of the gate of cavity 1 in mm is -1",
        ),
        (
            mould(&|m| {
                m.runners = vec![RunnerWish {
                    length_mm: 0.0,
                    ..runner("r", None)
                }]
            }),
            "more than 0",
        ),
        (
            mould(&|m| m.cut_for_share = Some(0.4)),
            "the shrinkage the cavity is cut for",
        ),
        (
            mould(&|m| m.loose_w_m2_k = Some(Range::exactly(-5.0))),
            "once shrunk off",
        ),
        (
            mould(&|m| {
                let mut twice = cavity("a", None);
                twice.steel_ratio = Some(3.0);
                m.cavities = vec![twice];
            }),
            "the steel of cavity a is 3",
        ),
        (
            process(&|p| p.melt_degc = Some(110.0)),
            "does not flow below 130",
        ),
        (
            process(&|p| p.melt_degc = Some(f64::NAN)),
            "does not flow below",
        ),
        (process(&|p| p.melt_degc = Some(330.0)), "breaks down above"),
        (
            process(&|p| p.wall_degc = Some(95.0)),
            "stiff enough to be pushed out only below 88",
        ),
        (
            process(&|p| p.wall_degc = Some(-200.0)),
            "the mould wall in °C is -200",
        ),
        (
            process(&|p| p.fill_s = Some(-1.0)),
            "the fill time in s is -1",
        ),
        (
            process(&|p| p.switch_share = Some(0.2)),
            "0.5 to 1 was expected",
        ),
        (
            process(&|p| {
                p.hold = vec![HoldWish {
                    pressure_mpa: 400.0,
                    time_s: 3.0,
                }]
            }),
            "the press gives 184 MPa at most",
        ),
        (
            process(&|p| {
                p.hold = vec![HoldWish {
                    pressure_mpa: 40.0,
                    time_s: 0.0,
                }]
            }),
            "the time of a hold step",
        ),
        (process(&|p| p.cooling_s = Some(-3.0)), "the cooling time"),
        (
            process(&|p| p.cushion_mm = Some(500.0)),
            "the cushion in mm is 500",
        ),
        (
            process(&|p| p.regrind_share = Some(1.5)),
            "the share of regrind",
        ),
        (acetal, "STOP: rigid PVC ran before"),
        (resin("flow.index", 1.2), "the index of flow is 1.2"),
        (resin("heat.melt_capacity", -3.0), "melt capacity is -3"),
        (resin("heat.eject", 200.0), "the first must be the colder"),
        (resin("handling.shrinkage", 60.0), "the shrinkage is 60 %"),
        (resin("room.solid.volume", 8e-4), "the resin card: "),
        (
            resin("room.melt.growth", -1e-7),
            "growth of the melt is -0.0000001",
        ),
    ];
    for (job, said) in table {
        let refused = asked(job).expect_err(said).to_string();
        assert!(refused.contains(said), "{said}: {refused}");
    }
}

#[test]
fn law_acetal_after_vinyl_is_stopped_whichever_way_round_and_others_are_not() {
    let run = |card: &str, before: &str| {
        let mut job = with_process(ProcessWishes {
            before: Some(before.to_owned()),
            ..ProcessWishes::default()
        });
        job.resin = Some(ResinWishes {
            card: Some(card.to_owned()),
            changed: Vec::new(),
        });
        asked(job)
    };
    for before in ["pvc", "PVC-U", "clear pvc", "vinyl"] {
        assert!(
            matches!(run("pom", before), Err(Refusal::NeverTogether { .. })),
            "{before}"
        );
    }
    for (card, before) in [
        ("pom", "pp"),
        ("abs", "pvc"),
        ("abs", "pom"),
        ("pc-abs", "acetal"),
    ] {
        assert!(run(card, before).is_ok(), "{card} after {before}");
    }
}
