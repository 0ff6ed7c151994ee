//! What a cell of the table says.

use super::limits::{name, quantity};
use super::work::Job;
use clothyard_core::eval::BAND;
use clothyard_core::{Quantity, Units, format};
use clothyard_studies::analysis::combine::{Cell, INTEREST_COUNT, Interest};
use clothyard_studies::analysis::shortlist::{Limit, failed};

/// How many steps of tint there are.
const TINTS: f64 = 4.0;

/// Least and most of each number of interest.
pub(super) type Spans = [Option<(f64, f64)>; INTEREST_COUNT];

/// What is to be shown of each combination.
pub(super) struct Shown<'a> {
    /// The key of the choice.
    pub(super) what: String,
    pub(super) limits: &'a [Limit],
    pub(super) units: &'a Units,
}

/// What one cell says.
#[derive(Default)]
pub(super) struct Face {
    pub(super) number: String,
    pub(super) words: String,
    /// 0 is no tint.
    pub(super) tint: u8,
    /// What makes it unsafe or the limit it breaks, as a sentence; empty where there is neither.
    pub(super) broken: String,
}

impl Shown<'_> {
    /// The one number that is shown; the match, where it is all of them.
    pub(super) fn interest(&self) -> Interest {
        match self.what.as_str() {
            "totalWeight" => Interest::TotalWeight,
            "frontOfCentre" => Interest::FrontOfCentre,
            "launchSpeed" => Interest::LaunchSpeed,
            "kineticEnergy" => Interest::KineticEnergy,
            _ => Interest::Match,
        }
    }

    /// What a cell says.
    pub(super) fn face(&self, cell: &Cell, job: &Job) -> Face {
        let what = self.interest();
        let mut face = match what {
            Interest::Match => self.matched(cell),
            _ => self.number(cell, what, &job.spans),
        };
        if self.what == "all" {
            let more: Vec<_> = MORE.into_iter().map(|what| self.said(cell, what)).collect();
            face.words = format!("{}\n{}", face.words, more.join("\n"));
        }
        let danger = job.danger(cell, self.units).map(|(short, sentence)| (short.to_owned(), sentence));
        let limit = || Some(self.broken(cell, self.limits.get(failed(cell, self.limits)?)?));
        if let Some((short, sentence)) = danger.or_else(limit) {
            face.words = format!("{}\n{short}", face.words).trim_start().to_owned();
            (face.broken, face.tint) = (sentence, 0);
        }
        face
    }

    /// How well it matches: pounds, a word, and a tint the darker the better.
    fn matched(&self, cell: &Cell) -> Face {
        let (Some(pounds), Some(share)) = (over(cell), cell.get(Interest::Match)) else {
            return Face { number: "–".to_owned(), words: "no match".to_owned(), ..Face::default() };
        };
        let off = (share - 1.0).abs() / BAND;
        let words = if off <= 1.0 {
            "✓ matched"
        } else if share < 1.0 {
            "stiff"
        } else {
            "weak"
        };
        let tint = if off <= 0.5 { 4 } else { u8::from(off <= 1.0) * 3 };
        Face { number: signed(pounds, self.units), words: words.to_owned(), tint, broken: String::new() }
    }

    fn number(&self, cell: &Cell, what: Interest, spans: &Spans) -> Face {
        let (Some(number), Some(&Some((least, most)))) = (cell.get(what), spans.get(what as usize)) else {
            return Face { number: "–".to_owned(), words: "no number".to_owned(), ..Face::default() };
        };
        let share = if most > least { (number - least) / (most - least) } else { 0.0 };
        let tint = 1 + (share * TINTS).min(TINTS - 1.0) as u8;
        Face { number: self.said(cell, what), tint, ..Face::default() }
    }

    /// A number of interest with its unit.
    pub(super) fn said(&self, cell: &Cell, what: Interest) -> String {
        let words = |number| format::measured(quantity(what), number, self.units);
        let words = cell.get(what).map_or_else(|| "–".to_owned(), words);
        if what == Interest::FrontOfCentre { format!("FOC {words}") } else { words }
    }

    /// Which limit is broken: in two or three words, and as a sentence.
    fn broken(&self, cell: &Cell, limit: &Limit) -> (String, String) {
        let name = name(limit.what);
        if limit.what == Interest::Match {
            return ("not matched".to_owned(), "Only well matched ones are wanted.".to_owned());
        }
        let Some(number) = cell.get(limit.what) else {
            return (format!("{name}: none"), format!("{name}: there is no number to hold against the limit."));
        };
        let says = |saved: f64| format::measured(quantity(limit.what), saved, self.units);
        match (limit.minimum.filter(|&least| number < least), limit.maximum) {
            (Some(least), _) => {
                (format!("{name}: low"), format!("{name} {}: at least {} is wanted.", says(number), says(least)))
            }
            (None, Some(most)) => {
                (format!("{name}: high"), format!("{name} {}: at most {} is wanted.", says(number), says(most)))
            }
            (None, None) => (String::new(), String::new()),
        }
    }
}

/// What else stands in a cell that shows all.
const MORE: [Interest; 4] =
    [Interest::TotalWeight, Interest::FrontOfCentre, Interest::LaunchSpeed, Interest::KineticEnergy];

/// Pounds of draw weight that the arrow suits best over what the bow pulls.
pub(super) fn over(cell: &Cell) -> Option<f64> {
    let best = cell.get(Interest::SuitsFrom)? / (1.0 - BAND);
    // The load grows in proportion to the draw weight, so that the bow pulls that share of the best.
    Some(best * (1.0 - cell.get(Interest::Match)?))
}

/// A difference of draw weight, always with its sign.
pub(super) fn signed(pounds: f64, units: &Units) -> String {
    let words = format::measured(Quantity::DrawWeight, pounds, units);
    format::signed(&words).unwrap_or_else(|| format!("+{words}"))
}
