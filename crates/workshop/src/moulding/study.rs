//! A study: planned, run by run, gathered. The runs know nothing of each other, so they can be made in any order.

use super::cooling::{CoolingAsked, cool};
use super::cycle::shoot;
use super::faults::Refusal;
use super::given::Given;
use super::ready::Ready;
use super::scatter::worst_pull_g_mm;
use super::shot::Shot;
use super::study_body::{StudyBody, StudyKind, StudyMark, StudyRun};
use super::study_choose::{choose, scatter};
use super::study_list::run_list;
use super::study_plan::{StudySetting, first_mpa, hold_s, scales, settings, with_time};
use super::study_words as words;
use crate::part::Answer;
use crate::part::answer::ANSWER_FORMAT;
use crate::shelf::known;

/// A study that is to be made.
#[derive(Debug, Clone)]
pub struct StudyPlan {
    /// Which.
    pub kind: StudyKind,
    /// The mould and its press.
    pub ready: Ready,
    /// The runs.
    pub settings: Vec<StudySetting>,
    /// Mass of a half at the job's own set-up.
    base_mass_g: f64,
    /// When the gate freezes there, from the start of filling.
    frozen_s: Option<f64>,
}

/// A percent as a share.
const PERCENT: f64 = 0.01;
/// Time in which any gate of a thin-walled half freezes: only what is longer than the freezing matters.
const LONG_S: f64 = 60.0;

/// Plans a study, all cavities as the mean of them; two shots of the job's own set-up tell where to look.
///
/// # Errors
/// See [`Refusal`].
pub fn study_plan(
    ready: Ready,
    kind: StudyKind,
    runs_count: Option<usize>,
) -> Result<StudyPlan, Refusal> {
    let ready = ready.alike();
    let given = &ready.given;
    let own = shoot(given, &ready.middle);
    let long = ready.with(with_time(&given.process, LONG_S));
    let held = shoot(&long.given, &long.middle);
    let frozen_s = held.gate_freeze_s();
    let began_s = held.fill.switch_s;
    let freezes_s = frozen_s.map_or(hold_s(&given.process), |at| (at - began_s).max(0.1));
    Ok(StudyPlan {
        kind,
        settings: settings(given, kind, freezes_s, runs_count),
        base_mass_g: own.mean_mass_g(),
        frozen_s,
        ready,
    })
}

impl StudyPlan {
    /// Makes one run.
    #[must_use]
    pub fn run(&self, setting: &StudySetting) -> StudyRun {
        let asked = self.ready.with(setting.process.clone());
        let made = shoot(&asked.given, &asked.middle);
        let process = &setting.process;
        StudyRun {
            along_at: setting.along_at,
            across_at: setting.across_at,
            melt_degc: process.melt_degc,
            wall_degc: process.wall_degc,
            fill_s: process.fill_s,
            hold_mpa: first_mpa(process),
            hold_s: hold_s(process),
            mass_g: made.mean_mass_g(),
            toward_gate_g_mm: worst_pull_g_mm(&asked.given, &made),
            switch_mpa: made.fill.switch_mpa,
            opening_kn: made.opening.most_kn,
            gate_freeze_s: made.gate_freeze_s(),
            cooling_s: self.cooling_s(&asked),
            shot_sd_g: None,
            shot_sd_g_mm: None,
            breaks: self.breaks(&asked.given, &made),
        }
    }

    /// Only the cooling study asks for it.
    fn cooling_s(&self, asked: &Ready) -> Option<f64> {
        if self.kind != StudyKind::Cooling {
            return None;
        }
        let how = CoolingAsked {
            pressed_s: hold_s(&asked.given.process),
            size_mm: None,
            is_refined: false,
        };
        let cooled = cool(&asked.given, &asked.section, &asked.middle, &how);
        cooled.ok().map(|c| c.needed_s)
    }

    /// Which limit a run breaks, the gravest; empty where it keeps all.
    fn breaks(&self, given: &Given, made: &Shot) -> String {
        if let Some(why) = made.short_because() {
            return format!("short: {why}");
        }
        let usable = PERCENT * known("mould.rule.pressure_usable").value;
        let press = &given.press;
        let at_switch = made.fill.switch_mpa;
        if made.fill.limited || at_switch > usable * press.most_mpa {
            return "pressure".to_owned();
        }
        if made.opening.most_kn > PERCENT * known("mould.rule.clamp_usable").value * press.clamp_kn
        {
            return "clamp".to_owned();
        }
        let held_s = made.fill.switch_s + hold_s(&given.process);
        let open = made.gate_freeze_s().is_none_or(|at| at > held_s);
        let of_hold = matches!(self.kind, StudyKind::Hold | StudyKind::Freeze);
        if open && !of_hold {
            return "hold too short".to_owned();
        }
        let within = given.process.weight_within_g.unwrap_or_else(|| {
            PERCENT * known("mould_study.weight_within").value * self.base_mass_g
        });
        let off = made.mean_mass_g() - self.base_mass_g;
        if self.kind == StudyKind::Window && off.abs() > within {
            return if off > 0.0 { "too heavy" } else { "too light" }.to_owned();
        }
        String::new()
    }
}

/// Gathers the runs that were made, in the order of the plan's settings.
#[must_use]
pub fn study(plan: &StudyPlan, made: Vec<Option<StudyRun>>) -> Answer<StudyBody> {
    let left_out_count = made.iter().filter(|run| run.is_none()).count();
    let pairs = plan.settings.iter().zip(made);
    let (mut runs, mut probes) = (Vec::new(), Vec::new());
    for (setting, run) in pairs {
        if let Some(run) = run {
            if setting.is_probe {
                probes.push(run)
            } else {
                runs.push(run)
            }
        }
    }
    if plan.kind == StudyKind::Window {
        scatter(&mut runs, &probes, &plan.ready.given.press);
    }
    let chosen = choose(plan.kind, &runs, plan.base_mass_g);
    let (along, across) = scales(plan.kind);
    let mut marks: Vec<StudyMark> = chosen
        .marks
        .into_iter()
        .map(|(words, along_at)| StudyMark { words, along_at })
        .collect();
    marks.extend(own_mark(plan));
    let given = &plan.ready.given;
    let body = StudyBody {
        piece: given.piece.clone(),
        resin: given.resin.id.clone(),
        study: plan.kind,
        along: along.to_owned(),
        across: across.to_owned(),
        run_list: run_list(plan.kind, &runs, chosen.take.as_ref()),
        take: chosen.take,
        why: chosen.why,
        marks,
        left_out_count,
        runs,
    };
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: "moulding".to_owned(),
        verdict: words::verdict(&body),
        headline: words::headline(&body),
        decided_by: body.why.clone(),
        trust: words::trust(given),
        cautions: words::cautions(),
        next: words::next(&body),
        body,
    }
}

/// Where the job's own set-up stands on the plot, and when its gate freezes by the reckoned temperatures.
fn own_mark(plan: &StudyPlan) -> Vec<StudyMark> {
    let process = &plan.ready.given.process;
    let mark = |words: &str, along_at: f64| StudyMark {
        words: words.to_owned(),
        along_at,
    };
    let own = |along_at: f64| mark("as set", along_at);
    match plan.kind {
        StudyKind::Hold | StudyKind::Freeze => {
            let held_s = |at: f64| (at - process.fill_s).max(0.0);
            let frozen = plan.frozen_s.map(|at| mark("gate solid", held_s(at)));
            frozen.into_iter().collect()
        }
        StudyKind::Fill => vec![own(process.fill_s)],
        StudyKind::Cooling => vec![own(process.wall_degc)],
        StudyKind::Window => Vec::new(),
    }
}
