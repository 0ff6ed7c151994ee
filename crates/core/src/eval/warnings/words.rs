//! Sentences of the warnings, and the safety lines that always show.

use super::{Severity, Warning};
use crate::format::{fixed, length, measured, whole};
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
    /// What forbids shooting in two or three words; for another warning its key.
    #[must_use]
    pub const fn name(&self) -> &'static str {
        match self {
            Self::ShaftBehindRest { .. } | Self::ShaftShort { .. } => "arrow too short",
            Self::BladesNearRest { .. } => "blades too close to the rest",
            Self::WoodOnCompound => "wood shaft on a compound",
            Self::BadlyWeak { .. } => "shaft far too weak",
            Self::LighterThanAllowed { .. } => "arrow too light",
            Self::NotPointFirst => "does not fly point first",
            Self::BladesLongerThanPoint { .. } => "blades longer than the point",
            Self::NoStroke { .. } | Self::BoreTooWide { .. } | Self::EnergyBeyondBelief | Self::NoAnswer => "no answer",
            _ => self.key(),
        }
    }

    /// The sentence, in the units chosen.
    #[must_use]
    pub fn sentence(&self, units: &Units) -> String {
        let inches = |value: f64| measured(Quantity::Length, value, units);
        let small = |value: f64| measured(Quantity::SmallLength, value, units);
        let grains = |value: f64| measured(Quantity::Mass, value, units);
        let pounds = |value: f64| measured(Quantity::DrawWeight, value, units);
        let per_pound = |value: f64| measured(Quantity::MassPerDraw, value, units);
        match *self {
            Self::ShaftBehindRest { safe, .. } => format!(
                "arrow too short. At full draw it comes off the rest and can go into your hand. Use an arrow at least {} long.",
                length((8.0 * safe).ceil() / 8.0, units)
            ),
            Self::BladesNearRest { gap, reach } => format!(
                "broadhead blades too close to the rest and your hand. At full draw they begin {} {} the rest; {} ahead of it is needed. Use a longer shaft or shorter blades.",
                inches(gap.abs()), if gap < 0.0 { "behind" } else { "ahead of" }, inches(reach)
            ),
            Self::ShaftShort { length: has, safe } => format!(
                "arrow too short. It is {} long and needs {} to stay safely past the rest at full draw.",
                inches(has), inches(safe)
            ),
            Self::WoodOnCompound => "wood shaft on a compound bow. It can shatter on the shot: use a carbon or aluminum shaft.".to_owned(),
            Self::BadlyWeak { suits_to, draw_weight } => format!(
                "shaft far too weak. It suits bows up to {} and yours is {}: it can break on the shot. Use a stiffer shaft.",
                whole(Quantity::DrawWeight, suits_to, units), whole(Quantity::DrawWeight, draw_weight, units)
            ),
            Self::LighterThanAllowed { weight, weight_wanted, per_pound: has, least } => format!(
                "arrow too light. {}, this bow needs {}: heavier point or shaft. {}, minimum {}: so light an arrow acts like a dry fire and can break the bow.",
                whole(Quantity::Mass, weight, units), whole(Quantity::Mass, weight_wanted, units), per_pound(has), per_pound(least)
            ),
            Self::NotPointFirst => "arrow does not fly point first. Larger vanes, a heavier point or a head with less blade is needed.".to_owned(),
            Self::LightForBow { per_pound: has, usual } => format!(
                "light arrow for this kind of bow: {}. Rule of thumb: at least {}. Check your bow's manual.",
                per_pound(has), per_pound(usual)
            ),
            Self::MoreEnergyThanStored { percent } => format!(
                "that speed needs {} of the energy the bow stores. Check speed, arrow weight, draw weight and draw length.",
                measured(Quantity::Percent, percent, units)
            ),
            Self::NoStroke { true_draw, brace } => format!(
                "brace height {} is as long as the true draw of {}. Check both.",
                inches(brace), inches(true_draw)
            ),
            Self::BoreTooWide { outer, bore } => {
                format!("the inside diameter {} must be less than the outside diameter {}.", small(bore), small(outer))
            }
            Self::EnergyBeyondBelief => {
                "no bow shoots the rated or measured speed with its arrow, draw weight and draw length. Check them.".to_owned()
            }
            Self::NoAnswer => "these values do not work together. Undo the last change.".to_owned(),
            Self::WeighedAgainstLinear { weighed, computed } => format!(
                "the bare shaft was weighed at {}, but shaft weight and cut length make {}.",
                grains(weighed), grains(computed)
            ),
            Self::ArmSpanAgainstDraw { from_span, draw } => format!(
                "arm span suggests a draw length of {}, you entered {}. Have someone measure you.",
                inches(from_span), inches(draw)
            ),
            Self::VanesOffTheShaft { from, to, shaft_from, length } => format!(
                "the vanes are at {} to {}, but the shaft only at {} to {}.",
                inches(from),
                inches(to),
                inches(shaft_from),
                inches(length)
            ),
            Self::BladesLongerThanPoint { blade, point } => format!(
                "blades longer than the point. Blades {}, point {}: enter the point's length, or a shorter blade.",
                small(blade), small(point)
            ),
            Self::VanesSmall { margin, wanted } => format!(
                "the vanes are small for these blades: stability margin {}%, target {}%. See Stability for sets of vanes that steer enough.",
                fixed(margin, 1), fixed(wanted, 1)
            ),
            Self::InsertLongerThanShaft { inside, cut } => {
                format!("the insert reaches {} into a shaft of {}.", inches(inside), inches(cut))
            }
            Self::OwnPartOffTheArrow { place } => {
                format!("other part {} is ahead of the point. Its position is measured from the nock groove.", place + 1)
            }
            Self::ChronographWithoutArrow => {
                "a chronograph speed needs the weight of the arrow it was measured with; until then it is not used.".to_owned()
            }
            Self::DrawLengthEstimated { draw } => format!(
                "draw length {} is an estimate from arm span (rule of thumb). Have it measured before you cut a shaft.",
                inches(draw)
            ),
            Self::LabelOnly => "draw weight from the label. Check it on a bow scale: a few pounds can change the spine you need.".to_owned(),
            Self::DrawForceUnused => "the draw-force readings are not used. See Measurements.".to_owned(),
            Self::PeakAgainstReadings { read, field } => format!(
                "the draw-force readings peak at {}, you entered {}. Your entry is used; the readings set the curve shape. Reset the field to use the measured value.",
                pounds(read), pounds(field)
            ),
            Self::DrawAgainstReadings { read, field } => format!(
                "the draw-force readings end at a draw length of {}, you entered {}. Your entry is used; the readings set the curve shape. Reset the field to use the measured value.",
                inches(read), inches(field)
            ),
            Self::SpeedsContradict => "the chronograph readings disagree. Check speeds and arrow weights under Measurements.".to_owned(),
            Self::Broadhead => "broadheads: use a broadhead wrench, carry them covered, and keep the blades ahead of the rest and your hand at full draw.".to_owned(),
            Self::FocOutside { percent, low, high } => {
                let side = if percent < low { "below" } else { "above" };
                let percent = measured(Quantity::Percent, percent, units);
                format!("FOC {percent}: {side} the usual {}-{}%.", fixed(low, 0), fixed(high, 0))
            }
            Self::OffsetOutside { degrees, low, high } => {
                let degrees = measured(Quantity::Angle, degrees, units);
                format!("vane offset {degrees}: usual is {} to {}°.", fixed(low, 0), fixed(high, 0))
            }
        }
    }
}

/// What is always said, whatever the numbers.
pub const ALWAYS: [&str; 4] = [
    "Follow the bow maker's limits, your club's rules and local law, and a qualified bow technician.",
    "Inspect and flex-test every carbon shaft before each shot. Discard any that is cracked, dented, or has hit something hard.",
    "Never dry-fire. Draw only with an arrow that suits the bow, pointed at a safe backstop.",
    "The match is a starting point: tuning, form, cam timing, nock travel and torque are not in it. Confirm by bare-shaft tuning.",
];
