//! What is said of a warning, and what is always said.

use super::{Severity, Warning};
use crate::format::{fixed, measured};
use crate::units::{Quantity, Units};

impl Severity {
    /// The word before the sentence.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Danger => "Do not shoot",
            Self::Impossible | Self::Check => "Check",
            Self::Remark => "Note",
        }
    }
}

impl Warning {
    /// The sentence, in the units chosen.
    #[must_use]
    pub fn sentence(&self, units: &Units) -> String {
        let inches = |value: f64| measured(Quantity::Length, value, units);
        let small = |value: f64| measured(Quantity::SmallLength, value, units);
        let grains = |value: f64| measured(Quantity::Mass, value, units);
        let pounds = |value: f64| measured(Quantity::DrawWeight, value, units);
        let per_pound = |value: f64| measured(Quantity::MassPerDraw, value, units);
        match *self {
            Self::LighterThanAllowed { per_pound: has, least, weight_wanted } => format!(
                "the arrow is too light for this bow: {} where at least {} is asked. It wants {}; a lighter one can break the bow and hurt you.",
                per_pound(has), per_pound(least), grains(weight_wanted)
            ),
            Self::ShaftBehindRest { length, rest } => format!(
                "the shaft ends at {}, at or behind the rest at {}: at full draw it would fall off the rest, toward your hand.",
                inches(length), inches(rest)
            ),
            Self::ShaftShort { length, safe } => format!(
                "the arrow is {} long, shorter than the {} that keeps the shaft safely past the rest at full draw.",
                inches(length), inches(safe)
            ),
            Self::BadlyWeak { suits_to, draw_weight } => format!(
                "the shaft is far too weak: it suits bows up to {}, and yours pulls {}. A badly weak shaft can break under load.",
                pounds(suits_to), pounds(draw_weight)
            ),
            Self::MoreEnergyThanStored { percent } => format!(
                "the speed needs {} of the energy the bow stores. Check speed, arrow weight, draw weight and draw length.",
                measured(Quantity::Percent, percent, units)
            ),
            Self::NoStroke { true_draw, brace } => format!(
                "brace height {} leaves no stroke in a true draw of {}: one of the two is off.",
                inches(brace), inches(true_draw)
            ),
            Self::BoreTooWide { outer, bore } => {
                format!("the inner diameter {} must be less than the outer diameter {}.", small(bore), small(outer))
            }
            Self::EnergyBeyondBelief => {
                "no bow shoots the rated or measured speed with its arrow, draw weight and draw length. Check them.".to_owned()
            }
            Self::NoAnswer => "these fields together have no answer; change one back.".to_owned(),
            Self::WeighedAgainstLinear { weighed, computed } => format!(
                "the bare shaft was weighed at {}, but shaft weight and cut length make {}.",
                grains(weighed), grains(computed)
            ),
            Self::ArmSpanAgainstDraw { from_span, draw } => format!(
                "the arm span suggests a draw length of {}, the field says {}: measure again with someone to watch.",
                inches(from_span), inches(draw)
            ),
            Self::VanesOffTheShaft { from, to, shaft_from, length } => format!(
                "the vanes lie from {} to {}, but the shaft only from {} to {}.",
                inches(from),
                inches(to),
                inches(shaft_from),
                inches(length)
            ),
            Self::InsertLongerThanShaft { inside, cut } => {
                format!("the insert reaches {} into a shaft of {}.", inches(inside), inches(cut))
            }
            Self::OwnPartOffTheArrow { place } => {
                format!("part {} of your own lies ahead of the point; its place is measured from the nock's throat.", place + 1)
            }
            Self::ChronographWithoutArrow => {
                "a chronograph speed needs the weight of the arrow it was measured with; until then it is not used.".to_owned()
            }
            Self::DrawLengthEstimated { draw } => format!(
                "the draw length, {}, is only estimated from the arm span (divided by 2.5, common practice): have it measured before a shaft is cut.",
                inches(draw)
            ),
            Self::LabelOnly => {
                "the draw weight counts as read off the label, often a few pounds off: measure it on a bow scale.".to_owned()
            }
            Self::DrawForceUnused => "the draw-force readings make no curve and are not used; the bench says why.".to_owned(),
            Self::PeakAgainstReadings { read, field } => format!(
                "the draw-force readings peak at {}, the field says {}: the field counts, and the readings give the shape. Leave the field to the page to use theirs.",
                pounds(read), pounds(field)
            ),
            Self::DrawAgainstReadings { read, field } => format!(
                "the draw-force readings end at a draw length of {}, the field says {}: the field counts, and the readings give the shape. Leave the field to the page to use theirs.",
                inches(read), inches(field)
            ),
            Self::SpeedsContradict => "the chronograph readings contradict each other. Check speeds and arrow weights; the bench shows how far off each is.".to_owned(),
            Self::BladesNearRest { gap, reach } => format!(
                "at full draw the blades would begin {} {} the rest; {} ahead of it is asked: too near the rest and your hand.",
                inches(gap.abs()), if gap < 0.0 { "behind" } else { "ahead of" }, inches(reach)
            ),
            Self::Broadhead => "broadheads cut: use a wrench made for them, keep them covered, and never draw one past the rest toward your hand.".to_owned(),
            Self::FocOutside { percent, low, high } => {
                let percent = measured(Quantity::Percent, percent, units);
                let (low, high) = (fixed(low, 0), fixed(high, 0));
                format!("FOC is {percent}; {low} to {high}% is usual for this purpose (common practice).")
            }
            Self::OffsetOutside { degrees } => {
                let degrees = measured(Quantity::Angle, degrees, units);
                format!("a vane offset of {degrees} is outside the usual 1 to 3° (common practice).")
            }
        }
    }
}

/// What is always said, whatever the numbers.
pub const ALWAYS: [&str; 4] = [
    "Your bow maker's limits, your club's and your country's rules, and a licensed pro shop come first.",
    "Flex and look over every carbon shaft before each shot; never shoot one that is cracked, dented or has been hit.",
    "Never shoot, or draw and loose, a bow without a fitting arrow, and only toward a safe backstop.",
    "A column load is a starting point, not a promise: tuning, form, cam timing, nock travel and torque are not in it. The bare shaft decides.",
];
