//! Temperatures in time, with one factor for each length of step.

use super::conduction::Conduction;
use super::solver::{Analysed, ElementsError, Factored};

/// How time is stepped.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Scheme {
    /// The share of the new state in the flow of a step: 1 (implicit Euler, first order, never rings), one half
    /// (J. Crank, P. Nicolson 1947, second order, rings after a sudden change), not below one half.
    Share(f64),
    /// Two implicit stages (R. Alexander 1977): second order and never rings for long; two solves a step.
    TwoStage,
}

/// A conduction stepped in time.
#[derive(Debug)]
pub struct Warming<'a> {
    conduction: &'a Conduction<'a>,
    factored: Factored,
    held: Vec<bool>,
    scheme: Scheme,
    step_s: f64,
}

impl Scheme {
    /// The share of a step that the matrix looks ahead.
    fn ahead(self) -> f64 {
        match self {
            Self::Share(share) => share,
            // The smaller root of 2 g² − 4 g + 1: nothing of an infinitely fast mode is left after a step.
            Self::TwoStage => 1.0 - 0.5_f64.sqrt(),
        }
    }
}

impl<'a> Warming<'a> {
    /// Prepares steps of one length; the nodes in `held` keep their temperatures.
    ///
    /// # Errors
    /// A step that is no time above 0, a share out of one half to 1, a node that is not there, memory.
    pub fn new(
        conduction: &'a Conduction<'a>,
        held_nodes: &[u32],
        scheme: Scheme,
        step_s: f64,
    ) -> Result<Self, ElementsError> {
        if !(step_s.is_finite() && step_s > 0.0) {
            return Err(ElementsError::OutOfRange {
                what: "the time step in s",
                read: step_s,
                expected: "a time above 0",
            });
        }
        if let Scheme::Share(share) = scheme
            && !(0.5..=1.0).contains(&share)
        {
            return Err(ElementsError::OutOfRange {
                what: "the share of the new state",
                read: share,
                expected: "0.5 to 1",
            });
        }
        let pattern = &conduction.pattern;
        let mut held = vec![false; pattern.unknowns()];
        for node in held_nodes {
            let Some(is) = held.get_mut(*node as usize) else {
                return Err(ElementsError::NoSuchNode(*node));
            };
            *is = true;
        }
        let ahead = scheme.ahead() * step_s;
        let both = conduction.capacity.iter().zip(&conduction.conductance);
        let mut values: Vec<f64> = both.map(|(c, k)| c + ahead * k).collect();
        pattern.hold(&mut values, &held);
        let factored = Analysed::of(pattern, &[])?.factor(pattern, &values)?;
        Ok(Self {
            conduction,
            factored,
            held,
            scheme,
            step_s,
        })
    }

    /// One step on.
    ///
    /// # Errors
    /// Memory ran out.
    pub fn step(&self, temperatures_degc: &mut [f64]) -> Result<(), ElementsError> {
        let first = self.rate(temperatures_degc)?;
        match self.scheme {
            Scheme::Share(_) => add(temperatures_degc, &first, self.step_s),
            Scheme::TwoStage => {
                let ahead = self.scheme.ahead() * self.step_s;
                add(temperatures_degc, &first, self.step_s - ahead);
                let second = self.rate(temperatures_degc)?;
                add(temperatures_degc, &second, ahead);
            }
        }
        Ok(())
    }

    /// The rate of every temperature, looked at ahead of time.
    fn rate(&self, temperatures: &[f64]) -> Result<Vec<f64>, ElementsError> {
        let mut flow = self.conduction.flows_w(temperatures);
        for (flow, held) in flow.iter_mut().zip(&self.held) {
            *flow = if *held { 0.0 } else { -*flow };
        }
        self.factored.solve(&flow)
    }
}

fn add(to: &mut [f64], rate: &[f64], time: f64) {
    for (to, rate) in to.iter_mut().zip(rate) {
        *to += rate * time;
    }
}
