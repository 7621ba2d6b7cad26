//! The last hearing: what goes with the angle, in windows of turns, and the map of it.

use whirlwright_kit::signal::decimate::Decimator;
use whirlwright_kit::signal::order_map::OrderMapper;
use whirlwright_kit::signal::orders::{OrderFit, Window};
use whirlwright_kit::signal::phase::Phase;

use super::body::OrderMap;
use super::lines::Lines;

/// Turns in a window: enough to part a free wobble from the unbalance.
const WINDOW_TURNS: f64 = 64.0;
/// A short recording is cut into so many windows, of no fewer turns than this.
const WINDOWS: f64 = 8.0;
const LEAST_TURNS: f64 = 12.0;
/// The map shows orders up to this; the signal is kept fine enough for it.
const MAP_ORDER: f64 = 8.0;
/// Columns of the map.
const COLUMNS: usize = 96;

/// Listens to the vibration along the angle.
pub(super) struct Hearing {
    phase: Phase,
    begin_s: f64,
    end_s: f64,
    per_turn: f64,
    decimator: Decimator,
    kept: Vec<f32>,
    at: u64,
    step_s: f64,
    fit: OrderFit,
    window_turns: f64,
    window_begin: Option<f64>,
    windows: Vec<Window>,
    mapper: OrderMapper,
}

impl Hearing {
    /// Along `phase` (counted in marks, `per_turn` of them a turn) from `begin_s` to `end_s`.
    #[must_use]
    pub fn new(
        rate_hz: f64,
        phase: Phase,
        stretch: (f64, f64),
        per_turn: f64,
        lines: &Lines,
    ) -> Self {
        let (begin_s, end_s) = stretch;
        let fastest = phase.rate(begin_s).max(phase.rate(end_s)) / per_turn;
        let highest = lines.highest_order().max(MAP_ORDER) * fastest;
        let decimator = Decimator::new((rate_hz * Decimator::PASS / highest) as usize);
        let turns = (phase.turns(end_s) - phase.turns(begin_s)) / per_turn;
        let window_turns = (turns / WINDOWS)
            .clamp(LEAST_TURNS, WINDOW_TURNS)
            .min(turns / 2.0);
        Self {
            begin_s,
            end_s,
            per_turn,
            step_s: decimator.factor() as f64 / rate_hz,
            decimator,
            kept: Vec::new(),
            at: 0,
            fit: OrderFit::new(&lines.fitted()),
            window_turns,
            window_begin: None,
            windows: Vec::new(),
            mapper: OrderMapper::new(begin_s, end_s, COLUMNS, (window_turns / 2.0) as usize),
            phase,
        }
    }

    /// Takes samples of the vibration's channel.
    pub fn push(&mut self, samples: &[f32]) {
        let mut kept = std::mem::take(&mut self.kept);
        kept.clear();
        self.decimator.push(samples, &mut kept);
        for sample in &kept {
            let time = self.at as f64 * self.step_s;
            self.at += 1;
            if time < self.begin_s || time > self.end_s {
                continue;
            }
            let turns = self.phase.turns(time) / self.per_turn;
            let rate = std::f64::consts::TAU * self.phase.rate(time) / self.per_turn;
            self.mapper.push(time, turns, *sample);
            self.fit.push(turns, rate * rate, f64::from(*sample));
            let begin = *self.window_begin.get_or_insert(turns);
            if turns - begin >= self.window_turns {
                self.window_begin = None;
                self.windows.extend(self.fit.take());
            }
        }
        self.kept = kept;
    }

    /// Whether anything that is still to come matters.
    #[must_use]
    pub fn goes_on(&self) -> bool {
        self.at as f64 * self.step_s <= self.end_s
    }

    /// The windows and the map.
    #[must_use]
    pub fn finish(self) -> (Vec<Window>, OrderMap) {
        let map = self.mapper.finish();
        let map = OrderMap {
            times_s: map.times,
            first_order: 0.0,
            step_order: map.step,
            columns_level: map.columns,
        };
        (self.windows, map)
    }
}
