//! The losses of a known design against a log: by what factors they meet it.

use super::log_body::{DesignLine, FactorLine};
use super::log_fit::{Fitted, fit_shapes};
use super::log_given::LogGiven;
use super::log_judge::{carries, in_kg_m2, percent};
use super::log_laws::{KnownLoss, Shape, Term};
use crate::part::SpinLog;
use std::sync::Arc;

/// Compares; none where the design or the inertia is not known.
pub(super) fn against(given: &LogGiven, log: &SpinLog, base: &Fitted) -> Option<DesignLine> {
    let (inertia, inertia_sd) = in_kg_m2(given.inertia)?;
    let reference = base.reference_rad_s;
    let acting: Vec<KnownLoss> = given
        .known
        .iter()
        .filter(|loss| Shape::known(loss, reference).is_some())
        .cloned()
        .collect();
    if acting.is_empty() {
        return None;
    }
    let designed: f64 = acting
        .iter()
        .map(|loss| (loss.torque)(reference))
        .sum::<f64>()
        / inertia;
    let (read, read_sd) = base.slowing(reference);
    let slowing_ratio = read / designed;
    // All by themselves if the log tells them apart, otherwise those that go alike together.
    let groups = [acting.clone(), gathered(&acting, reference)];
    let fitted = groups
        .iter()
        .filter_map(|group| Some((group, fit_known(log, group, reference)?)))
        .find(|(group, fitted)| (0..group.len()).all(|at| carries(fitted, at)) || group.len() <= 2);
    let factors = fitted.map_or(Vec::new(), |(group, fitted)| {
        let line = |(at, loss): (usize, &KnownLoss)| {
            let factor = fitted.theta()[at] * inertia / (loss.torque)(reference);
            FactorLine {
                name: loss.name.clone(),
                factor,
                factor_sd: factor.abs()
                    * fitted.fit.relative_sd(at + 1).hypot(inertia_sd / inertia),
                reported: carries(&fitted, at),
            }
        };
        group.iter().enumerate().map(line).collect()
    });
    let sd = (slowing_ratio * (read_sd / read).hypot(inertia_sd / inertia)).abs();
    Some(DesignLine {
        words: words(slowing_ratio, sd, &factors),
        factors,
        predicted_sleep_s: given.predicted_sleep_s,
        slowing_ratio,
    })
}

fn fit_known(log: &SpinLog, losses: &[KnownLoss], reference: f64) -> Option<Fitted> {
    let shapes: Vec<Shape> = losses
        .iter()
        .filter_map(|loss| Shape::known(loss, reference))
        .collect();
    let terms = vec![Term::Known; shapes.len()];
    fit_shapes(log, shapes, terms, reference).ok()
}

/// Losses that hardly grow with the speed together, and those that do.
fn gathered(losses: &[KnownLoss], reference: f64) -> Vec<KnownLoss> {
    let grows = |loss: &&KnownLoss| {
        let half = (loss.torque)(0.5 * reference);
        // The power of the speed that the loss goes with; between a constant and a linear one the line is drawn.
        ((loss.torque)(reference) / half).log2() > 0.75
    };
    let (air, slow): (Vec<&KnownLoss>, Vec<&KnownLoss>) = losses.iter().partition(grows);
    let together = |of: Vec<&KnownLoss>| {
        let name = of
            .iter()
            .map(|l| l.name.as_str())
            .collect::<Vec<_>>()
            .join(" + ");
        let torques: Vec<_> = of.iter().map(|l| Arc::clone(&l.torque)).collect();
        (!torques.is_empty()).then(|| KnownLoss {
            name,
            torque: Arc::new(move |speed| torques.iter().map(|t| t(speed)).sum()),
        })
    };
    [together(slow), together(air)]
        .into_iter()
        .flatten()
        .collect()
}

fn words(ratio: f64, sd: f64, factors: &[FactorLine]) -> String {
    let mut words = if (ratio - 1.0).abs() <= 2.0 * sd {
        format!("the piece slows as the design says, {ratio:.2} ± {sd:.2} of it")
    } else if ratio > 1.0 {
        format!("the piece slows {ratio:.2} ± {sd:.2} times as hard as the design says")
    } else {
        format!("the piece slows less than the design says, {ratio:.2} ± {sd:.2} of it")
    };
    for factor in factors.iter().filter(|f| f.reported) {
        words.push_str(&format!(
            "; {} × {:.2} (to {})",
            factor.name,
            factor.factor,
            percent(factor.factor_sd / factor.factor)
        ));
    }
    if factors.iter().any(|f| !f.reported) {
        words.push_str("; the log does not carry the factors of the others");
    }
    words
}
