//! What to buy and where to cut it, with its neighbor: the one recommendation, in numbers and in words.

use crate::eval::{Evaluation, Verdict, Warning};
use crate::format::{length, spine, spine_of, whole};
use crate::schema::{Field, Output, StockShaft};
use crate::setup::Setup;
use crate::units::{Quantity, Units};

/// The shaft of the list to buy, and its cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Recommendation {
    /// The shaft.
    pub shaft: StockShaft,
    /// Its cut, in inches.
    pub cut_in: f64,
    /// The point it needs, in grains, where no shaft is safe with the present one.
    pub point_gr: Option<f64>,
    /// The next spine.
    pub neighbor: Option<Neighbor>,
    /// Whether the ideal is about midway between the two spines.
    pub between: bool,
    /// The spine that is wanted, in thousandths, where it is beyond the end of the list.
    pub wanted_beyond: Option<f64>,
}

/// The next spine, which matches as well at its own cut or with its own point.
#[derive(Clone, Debug, PartialEq)]
pub struct Neighbor {
    /// The shaft.
    pub shaft: StockShaft,
    /// Its cut, in inches.
    pub cut_in: f64,
    /// Its point, in grains; none where it is the present one.
    pub point_gr: Option<f64>,
}

impl Recommendation {
    /// What to buy and cut: "Osier 340, cut 28 1/4 in".
    #[must_use]
    pub fn words(&self, units: &Units) -> String {
        let shaft = shaft_words(&self.shaft);
        let point = self
            .point_gr
            .map_or_else(String::new, |grains| format!(", {} point", whole(Quantity::Mass, grains, units)));
        format!("{shaft}, cut {}{point}", length(self.cut_in, units))
    }

    /// The next spine, the end of the list, or that the ideal is between two spines, in sentences; empty where there
    /// is nothing to say.
    #[must_use]
    pub fn beside(&self, units: &Units) -> String {
        let mut list = Vec::new();
        let first = spine_words(&self.shaft);
        if let Some(wanted) = self.wanted_beyond {
            let wanted = spine_of(self.shaft.is_solid(), wanted);
            list.push(format!("Your list ends at {first}; this bow wants about {wanted}."));
        }
        if let Some(neighbor) = &self.neighbor {
            let next = spine_words(&neighbor.shaft);
            list.push(match neighbor.point_gr {
                Some(grains) => format!("Or {next} with the {} point.", whole(Quantity::Mass, grains, units)),
                None => format!("Or {next} at {}.", length(neighbor.cut_in, units)),
            });
            if self.between {
                // The lower number first: of wood, sold by the pound, that is the softer shaft.
                let stiffer = self.shaft.static_spine_thousandths < neighbor.shaft.static_spine_thousandths;
                let (low, high) = if stiffer == self.shaft.is_solid() { (next, first) } else { (first, next) };
                list.push(format!("Between {low} and {high}: either can be tuned."));
            }
        }
        list.join(" ")
    }
}

/// The spine of a shaft; the name of a wood shaft, which is sold by the pound.
fn spine_words(shaft: &StockShaft) -> String {
    if shaft.is_solid() { shaft_words(shaft) } else { spine(shaft.static_spine_thousandths) }
}

/// The name of a shaft, or its spine where it has none.
#[must_use]
pub fn shaft_words(shaft: &StockShaft) -> String {
    if shaft.name.is_empty() { spine(shaft.static_spine_thousandths) } else { shaft.name.clone() }
}

impl Evaluation {
    /// The recommendation with what is beside it, in sentences.
    #[must_use]
    pub fn recommendation_sentence(&self, units: &Units) -> String {
        let Some(found) = &self.recommendation else {
            return self.none_sentence(units);
        };
        let mut words = format!("{}.", found.words(units));
        for more in [found.beside(units), self.growth_sentence(units)].iter().filter(|more| !more.is_empty()) {
            words.push(' ');
            words.push_str(more);
        }
        words
    }

    /// The shaft that is used from a list of the user's own; none with the built-in list, or a spine of the user's.
    #[must_use]
    pub fn own_list_shaft(&self, setup: &Setup) -> Option<&StockShaft> {
        let found = self.recommendation.as_ref().filter(|_| !self.resolved.is_user_given(Field::StaticSpine));
        found.filter(|_| setup.has_own_shafts()).map(|found| &found.shaft)
    }

    /// Why nothing is recommended, and the spine that would be where the list is too weak.
    fn none_sentence(&self, units: &Units) -> String {
        if self.warnings.contains(&Warning::NotPointFirst) {
            return "No shaft makes it fly point first: change vanes or point.".to_owned();
        }
        if self.warnings.contains(&Warning::WoodOnCompound) {
            return "Choose a carbon or aluminum shaft.".to_owned();
        }
        if self.model.is_some() && self.found.default.is_none() {
            let cut = length(self.resolved.number(Field::CutLength), units);
            return format!("No shaft in your list is long enough for a cut of {cut}.");
        }
        let ideal = self.outputs.get(Output::IdealSpine).filter(|_| self.verdict == Some(Verdict::ActsWeak));
        let is_wood = self.resolved.is_wood();
        let wanted =
            ideal.map_or_else(String::new, |ideal| format!(" It wants a spine of about {}.", spine_of(is_wood, ideal)));
        let of_bore =
            if self.resolved.is_user_given(Field::Bore) && !is_wood { " of this inside diameter" } else { "" };
        format!("No shaft{of_bore} in your list can be shot safely from this bow.{wanted}")
    }

    /// What is said beside the arrow of the page: the safe one where it must not be shot, what would make it match, or
    /// the next spine.
    #[must_use]
    pub fn beside_sentence(&self, units: &Units) -> String {
        if self.forbidding().is_some() && self.verdict.is_some() {
            let safe = self.recommendation.as_ref().map(|found| format!("Safe: {}.", found.words(units)));
            return safe.unwrap_or_else(|| self.none_sentence(units));
        }
        let own = self.resolved.has_own_shaft();
        if self.recommendation.is_none() && self.verdict.is_some() && !own {
            return self.none_sentence(units);
        }
        let remedy = self.remedy_sentence(units);
        let beside = self.recommendation.as_ref().filter(|_| remedy.is_empty() && !own);
        let beside = beside.map_or(remedy, |found| found.beside(units));
        format!("{beside} {}", self.growth_sentence(units)).trim().to_owned()
    }

    /// Until when the arrow of a light bow does; empty for another bow.
    #[must_use]
    pub fn growth_sentence(&self, units: &Units) -> String {
        let spare = self.resolved.number(Field::CutLength) - self.resolved.suggested_cut_in();
        let now = self.resolved.number(Field::PeakDrawWeight);
        let pounds = self.outputs.get(Output::SuitsTo).filter(|&pounds| pounds >= now + 1.0);
        let (true, Some(pounds)) = (self.resolved.is_light_bow() && spare > 0.0, pounds) else { return String::new() };
        let until = length(self.resolved.number(Field::DrawLength) + spare, units);
        format!("It will do until you draw {until} or {}.", whole(Quantity::DrawWeight, pounds, units))
    }
}
