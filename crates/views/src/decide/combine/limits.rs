//! The limits a person sets on what comes of a combination.

use super::axes::mark;
use crate::ask;
use clothyard_core::eval::BAND;
use clothyard_core::{Quantity, Units, format};
use clothyard_studies::analysis::combine::Interest;
use clothyard_studies::analysis::shortlist::Limit;
use clothyard_web as dom;
use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlInputElement};

/// What can be limited: its name in the markup and on the page.
const LIMITED: [(Interest, &str, &str); 5] = [
    (Interest::TotalWeight, "totalWeight", "Total weight"),
    (Interest::FrontOfCentre, "frontOfCentre", "FOC"),
    (Interest::GrainsPerPound, "grainsPerPound", "Weight for the draw weight"),
    (Interest::LaunchSpeed, "launchSpeed", "Launch speed"),
    (Interest::KineticEnergy, "kineticEnergy", "Kinetic energy"),
];

const ENDS: [(&str, &str); 2] = [("least", "at least"), ("most", "at most")];

/// What a number of interest measures.
pub(super) fn quantity(what: Interest) -> Quantity {
    what.output().map_or(Quantity::Ratio, |output| output.row().quantity)
}

/// What a number of interest is called in a sentence.
pub(super) fn name(what: Interest) -> &'static str {
    LIMITED.iter().find(|(other, ..)| *other == what).map_or("Match", |(_, _, label)| label)
}

/// An end of a limit as typed: nothing, a number in the saved unit, or what is wrong with it.
type End = Result<Option<f64>, String>;

/// The limits on the form, and those in force.
pub(super) struct Limits {
    ends: [[End; 2]; LIMITED.len()],
    matched: bool,
    in_force: Vec<Limit>,
}

impl Default for Limits {
    fn default() -> Self {
        Self { ends: [const { [Ok(None), Ok(None)] }; LIMITED.len()], matched: false, in_force: Vec::new() }
    }
}

impl Limits {
    /// The limits in force: the last that could be read.
    pub(super) fn list(&self) -> &[Limit] {
        &self.in_force
    }

    /// Reads what was typed into an end of a limit.
    pub(super) fn typed(&mut self, element: &Element, text: &str, units: &Units) {
        let id = element.id();
        for ((what, key, label), ends) in LIMITED.into_iter().zip(&mut self.ends) {
            for ((side, words), end) in ENDS.into_iter().zip(ends) {
                if id == format!("combine-{side}-{key}") {
                    let label = format!("{label}, {words}");
                    *end = if text.trim().is_empty() {
                        Ok(None)
                    } else {
                        ask::number(text, &label, quantity(what), units).map(Some)
                    };
                }
            }
        }
        self.put_in_force();
    }

    /// Reads whether only well matched ones are wanted.
    pub(super) fn read_matched(&mut self) {
        let tick = dom::by_id("combine-matched").and_then(|tick| tick.dyn_into::<HtmlInputElement>().ok());
        self.matched = tick.is_some_and(|tick| tick.checked());
        self.put_in_force();
    }

    fn put_in_force(&mut self) {
        if self.wrong().is_some() {
            return;
        }
        let matched = Limit { what: Interest::Match, minimum: Some(1.0 - BAND), maximum: Some(1.0 + BAND) };
        self.in_force = if self.matched { vec![matched] } else { Vec::new() };
        for ((what, ..), [least, most]) in LIMITED.iter().zip(&self.ends) {
            if let (&Ok(minimum), &Ok(maximum)) = (least, most)
                && (minimum.is_some() || maximum.is_some())
            {
                self.in_force.push(Limit { what: *what, minimum, maximum });
            }
        }
        let set = self.in_force.len();
        dom::write_id("combine-limits-set", &if set == 0 { "none".to_owned() } else { format!("{set} set") });
    }

    /// What is wrong with the first field that cannot be read or does not go with its neighbour.
    fn wrong(&self) -> Option<String> {
        for ((_, _, label), ends) in LIMITED.iter().zip(&self.ends) {
            match ends {
                [Err(why), _] | [_, Err(why)] => return Some(why.clone()),
                [Ok(Some(least)), Ok(Some(most))] if least > most => {
                    return Some(format!("{label}: the least is more than the most, so that nothing is left."));
                }
                _ => {}
            }
        }
        None
    }

    /// Says what is wrong, if anything is.
    pub(super) fn remark(&self) {
        let why = self.wrong().map_or_else(String::new, |why| format!("{why} The limits are as they were."));
        dom::write_id("combine-limits-said", &why);
        self.each(|input, _, end| mark(input, end.is_err()));
    }

    /// Writes every end in the units chosen.
    pub(super) fn write(&self, units: &Units) {
        self.each(|input, what, end| {
            if let &Ok(Some(saved)) = end {
                input.set_value(&format::entered(quantity(what), saved, units));
            }
        });
        for (what, key, _) in LIMITED {
            dom::write_id(&format!("combine-unit-{key}"), units.of(quantity(what)).symbol);
        }
    }

    fn each(&self, action: impl Fn(&HtmlInputElement, Interest, &End)) {
        for ((what, key, _), ends) in LIMITED.into_iter().zip(&self.ends) {
            for ((side, _), end) in ENDS.into_iter().zip(ends) {
                let input = dom::by_id(&format!("combine-{side}-{key}"));
                if let Some(input) = input.and_then(|input| input.dyn_into().ok()) {
                    action(&input, what, end);
                }
            }
        }
    }
}
