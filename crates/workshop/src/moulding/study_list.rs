//! What to try at the press after a study on paper: few runs, those that tell most, in an order that saves waiting.

use super::study_body::{PressRun, StudyKind, StudyRun};

/// Shots to throw away after a change of hold, and after a change of heat, which takes longer to settle.
const AFTER_HOLD: usize = 3;
const AFTER_HEAT: usize = 15;
/// Shots to weigh of each run.
const WEIGHED: usize = 3;
/// The most runs on a list: half a shift.
const MOST: usize = 9;

/// The list.
pub(super) fn run_list(
    kind: StudyKind,
    runs: &[StudyRun],
    take: Option<&StudyRun>,
) -> Vec<PressRun> {
    let chosen: Vec<&StudyRun> = match kind {
        StudyKind::Window => corners(runs, take),
        StudyKind::Hold => {
            let pressure = take.or(runs.last()).map_or(0.0, |r| r.hold_mpa);
            spread(runs.iter().filter(|r| r.hold_mpa == pressure).collect())
        }
        StudyKind::Freeze | StudyKind::Fill | StudyKind::Cooling => spread(runs.iter().collect()),
    };
    let away = match kind {
        StudyKind::Window | StudyKind::Cooling => AFTER_HEAT,
        StudyKind::Hold | StudyKind::Freeze | StudyKind::Fill => AFTER_HOLD,
    };
    let line = |(n, r): (usize, &&StudyRun)| PressRun {
        number: n + 1,
        melt_degc: r.melt_degc,
        wall_degc: r.wall_degc,
        fill_s: r.fill_s,
        hold_mpa: r.hold_mpa,
        hold_s: r.hold_s,
        shots: format!("{away} away, {WEIGHED} weighed"),
        expect: format!("{:.2} g", r.mass_g),
    };
    chosen.iter().enumerate().map(line).collect()
}

/// At most [`MOST`] of a row, the first and the last among them, in their order.
fn spread(mut row: Vec<&StudyRun>) -> Vec<&StudyRun> {
    row.sort_by(|a, b| a.along_at.total_cmp(&b.along_at));
    let count = row.len().min(MOST);
    if count < 2 {
        return row;
    }
    (0..count)
        .map(|n| row[n * (row.len() - 1) / (count - 1)])
        .collect()
}

/// The corners of what keeps every limit, from cold to hot as the barrel follows slowly, and the chosen point first and last.
fn corners<'a>(runs: &'a [StudyRun], take: Option<&StudyRun>) -> Vec<&'a StudyRun> {
    let inside: Vec<&StudyRun> = runs.iter().filter(|r| r.breaks.is_empty()).collect();
    let Some(take) = take.and_then(|t| runs.iter().find(|r| *r == t)) else {
        return Vec::new();
    };
    let melts = inside.iter().map(|r| r.melt_degc);
    let ends = [
        melts.clone().fold(f64::INFINITY, f64::min),
        melts.fold(f64::NEG_INFINITY, f64::max),
    ];
    let mut list = vec![take];
    for melt in ends {
        let row = inside.iter().copied().filter(|r| r.melt_degc == melt);
        let by_hold = |a: &&StudyRun, b: &&StudyRun| a.hold_mpa.total_cmp(&b.hold_mpa);
        list.extend(row.clone().min_by(by_hold));
        list.extend(row.max_by(by_hold));
    }
    list.push(take);
    list.dedup();
    list
}
