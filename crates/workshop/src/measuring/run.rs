//! Looks a lot over: spread by kind and by origin, and what should be weighed again.

use crate::part::{Answer, LotPart, Verdict, answer::ANSWER_FORMAT};

use super::body::MeasuringBody;
use super::windows::Windows;

/// Looks the parts over.
#[must_use]
pub fn look_over(parts: &[LotPart], _windows: &Windows) -> Answer<MeasuringBody> {
    Answer {
        whirlwright: ANSWER_FORMAT,
        station: "measuring".to_owned(),
        verdict: Verdict::Look,
        headline: String::new(),
        decided_by: String::new(),
        body: MeasuringBody {
            parts: parts.len(),
            weighed: 0,
            by_kind: Vec::new(),
            by_origin: Vec::new(),
            histograms: Vec::new(),
            differences: Vec::new(),
            doubts: Vec::new(),
        },
        trust: Vec::new(),
        cautions: Vec::new(),
        next: Vec::new(),
    }
}
