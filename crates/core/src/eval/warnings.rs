//! What a careful archer would say before the arrow is cut or shot.

use crate::eval::{BADLY_WEAK, Outputs};
use crate::format::{fixed, measured};
use crate::schema::{DrawWeightFrom, Field, List, Output, PointKind, Purpose};
use crate::setup::Resolved;
use crate::setup::{ModelError, PhysicalModel, SpeedFrom};
use crate::setup::{OwnPart, Setup};
use crate::units::{Quantity, Units};
use clothyard_mechanics::{MeasuredCurve, Quantity as Measured};

/// How loud a caution is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Someone or the bow may come to harm.
    Danger,
    /// Two fields cannot both be right, or one is not to be trusted.
    Check,
    /// Outside what is usual for the purpose.
    Remark,
}

impl Severity {
    /// Key in a report.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Danger => "danger",
            Self::Check => "check",
            Self::Remark => "remark",
        }
    }

    /// The word before the sentence.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Danger => "Do not shoot",
            Self::Check => "Check",
            Self::Remark => "Note",
        }
    }
}

/// A caution. Numbers are in the saved unit of their quantity.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
#[allow(missing_docs, reason = "each caution's sentence says what its numbers are")]
pub enum Warning {
    LighterThanAllowed { per_pound: f64, least: f64, weight_wanted: f64 },
    ShaftBehindRest { length: f64, rest: f64 },
    ShaftShort { length: f64, safe: f64 },
    BadlyWeak { suits_to: f64, draw_weight: f64 },
    MoreEnergyThanStored { percent: f64 },
    NoStroke { true_draw: f64, brace: f64 },
    BoreTooWide { outer: f64, bore: f64 },
    EnergyBeyondBelief,
    NoAnswer,
    WeighedAgainstLinear { weighed: f64, reckoned: f64 },
    ArmSpanAgainstDraw { from_span: f64, draw: f64 },
    VanesOffTheShaft { from: f64, to: f64, shaft_from: f64, length: f64 },
    InsertLongerThanShaft { inside: f64, cut: f64 },
    OwnPartOffTheArrow { place: usize },
    ChronographWithoutArrow,
    DrawLengthEstimated { draw: f64 },
    LabelOnly,
    DrawForceUnused,
    PeakAgainstReadings { read: f64, field: f64 },
    DrawAgainstReadings { read: f64, field: f64 },
    SpeedsContradict,
    BladesNearRest { gap: f64, reach: f64 },
    Broadhead,
    FocOutside { percent: f64, low: f64, high: f64 },
    OffsetOutside { degrees: f64 },
}

/// All cautions of a set-up, the loudest first.
#[must_use]
pub fn all(
    setup: &Setup,
    resolved: &Resolved,
    model: Option<&PhysicalModel>,
    outputs: &Outputs,
    error: Option<&ModelError>,
) -> Vec<Warning> {
    let mut list = Vec::new();
    list.extend(dangers(resolved, outputs));
    list.extend(error.map(from_error));
    list.extend(of_readings(setup, resolved, model));
    list.extend(disagreements(resolved, &setup.own_parts, outputs));
    list.extend(remarks(resolved, outputs));
    list
}

/// What the readings of the bow say against the fields, or against themselves.
fn of_readings(setup: &Setup, resolved: &Resolved, model: Option<&PhysicalModel>) -> impl Iterator<Item = Warning> {
    let [mut peak, mut end] = [None, None];
    if let Some(whole) = resolved.curve() {
        [peak, end] = against_fields(resolved, whole);
    } else if !setup.lists.rows(List::DrawForce).is_empty() {
        peak = Some(Warning::DrawForceUnused);
    }
    let passed_over = model.is_some_and(|model| model.speed_from != SpeedFrom::Chronograph);
    let contradict = (passed_over && !resolved.shots().all().is_empty()).then_some(Warning::SpeedsContradict);
    [peak, end, contradict].into_iter().flatten()
}

/// Within a pound, and within a quarter of an inch, field and readings are the same. Limbs drawn less far
/// than they were read simply end there.
fn against_fields(resolved: &Resolved, curve: &MeasuredCurve) -> [Option<Warning>; 2] {
    let peak = Quantity::DrawWeight.from_si(curve.peak().force_n);
    let end = Quantity::Length.from_si(curve.full_draw().draw_m) + 1.75;
    let (weight, length) = (resolved.number(Field::PeakDrawWeight), resolved.number(Field::DrawLength));
    let peaks = ((peak - weight).abs() > 1.0).then_some(Warning::PeakAgainstReadings { read: peak, field: weight });
    let ends = ((end - length).abs() > 0.25).then_some(Warning::DrawAgainstReadings { read: end, field: length });
    [peaks, ends]
}

fn from_error(error: &ModelError) -> Warning {
    match *error {
        ModelError::NoStroke { true_draw_in, brace_in } => {
            Warning::NoStroke { true_draw: true_draw_in, brace: brace_in }
        }
        ModelError::BoreTooWide { outer_in, bore_in } => Warning::BoreTooWide { outer: outer_in, bore: bore_in },
        ModelError::Mechanics(clothyard_mechanics::Error::OutOfRange {
            quantity: Measured::Energy | Measured::Speed,
            ..
        }) => Warning::EnergyBeyondBelief,
        ModelError::Mechanics(_) => Warning::NoAnswer,
    }
}

fn dangers(resolved: &Resolved, outputs: &Outputs) -> impl Iterator<Item = Warning> {
    let draw_weight = resolved.number(Field::PeakDrawWeight);
    let least = resolved.number(Field::MakersMinimum);
    let light = outputs
        .get(Output::GrainsPerPound)
        .filter(|&per_pound| per_pound < least)
        .map(|per_pound| Warning::LighterThanAllowed { per_pound, least, weight_wanted: least * draw_weight });
    let (length, rest) = (outputs.get(Output::ArrowLength), outputs.get(Output::RestPlace));
    let safe = outputs.get(Output::ShortestSafeLength);
    let short = length.zip(rest).zip(safe).and_then(|((length, rest), safe)| {
        if length <= rest {
            Some(Warning::ShaftBehindRest { length, rest })
        } else if length < safe - 1e-9 {
            Some(Warning::ShaftShort { length, safe })
        } else {
            None
        }
    });
    let weak = outputs.get(Output::ColumnLoad).zip(outputs.get(Output::TargetLoad)).and_then(|(load, target)| {
        let suits_to = outputs.get(Output::SuitsTo)?;
        (load > BADLY_WEAK * target).then_some(Warning::BadlyWeak { suits_to, draw_weight })
    });
    let blades = blades_near_rest(resolved, length.zip(rest));
    light.into_iter().chain(short).chain(blades).chain(weak)
}

/// Blades that reach back over the shaft must clear the rest as the shaft does.
fn blades_near_rest(resolved: &Resolved, lengths: Option<(f64, f64)>) -> Option<Warning> {
    let (length, rest) = lengths.filter(|_| resolved.choice::<PointKind>().is_broadhead())?;
    let ahead = resolved.number(Field::InsertAhead) + resolved.number(Field::CollarLength);
    let rear = length + ahead + resolved.number(Field::PointLength) - resolved.number(Field::BladeLength);
    let (gap, reach) = (rear - rest, resolved.number(Field::ShortestReach));
    (rear < length - 1e-9 && gap < reach - 1e-9).then_some(Warning::BladesNearRest { gap, reach })
}

fn disagreements(resolved: &Resolved, own_parts: &[OwnPart], outputs: &Outputs) -> Vec<Warning> {
    let mut list = Vec::new();
    said_twice(&mut list, resolved);
    off_the_arrow(&mut list, resolved, own_parts);
    if resolved.given(Field::ChronographSpeed).is_some() && resolved.given(Field::ChronographArrow).is_none() {
        list.push(Warning::ChronographWithoutArrow);
    }
    let drawn = outputs.get(Output::DeliveredEnergy).zip(outputs.get(Output::StoredEnergy));
    let share = drawn.map(|(delivered, stored)| 100.0 * delivered / stored);
    list.extend(share.filter(|&percent| percent > 100.5).map(|percent| Warning::MoreEnergyThanStored { percent }));
    if resolved.draw_length_estimated() {
        list.push(Warning::DrawLengthEstimated { draw: resolved.number(Field::DrawLength) });
    }
    if resolved.choice::<DrawWeightFrom>() == DrawWeightFrom::Label {
        list.push(Warning::LabelOnly);
    }
    if resolved.choice::<PointKind>().is_broadhead() {
        list.push(Warning::Broadhead);
    }
    list
}

/// Two fields that say different things of one.
fn said_twice(list: &mut Vec<Warning>, resolved: &Resolved) {
    if let Some(weighed) = resolved.given(Field::BareShaft)
        && resolved.is_user_given(Field::ShaftLinearMass)
    {
        let reckoned = resolved.number(Field::ShaftLinearMass) * resolved.number(Field::CutLength);
        if (weighed - reckoned).abs() > 0.03 * weighed {
            list.push(Warning::WeighedAgainstLinear { weighed, reckoned });
        }
    }
    if let Some(span) = resolved.given(Field::ArmSpan) {
        let (from_span, draw) = (span / 2.5, resolved.number(Field::DrawLength));
        if (from_span - draw).abs() > 1.5 {
            list.push(Warning::ArmSpanAgainstDraw { from_span, draw });
        }
    }
}

/// Parts that would not sit on the arrow.
fn off_the_arrow(list: &mut Vec<Warning>, resolved: &Resolved, own_parts: &[OwnPart]) {
    let cut = resolved.number(Field::CutLength);
    let length = cut + resolved.number(Field::ThroatToShaft);
    let (shaft_from, vanes_from) = (resolved.number(Field::ThroatToShaft), resolved.number(Field::VaneSetBack));
    let vanes_to = vanes_from + resolved.number(Field::VaneLength);
    if resolved.number(Field::VaneCount) > 0.0 && (vanes_to > length || vanes_from < shaft_from) {
        list.push(Warning::VanesOffTheShaft { from: vanes_from, to: vanes_to, shaft_from, length });
    }
    let inside = resolved.number(Field::InsertInside);
    if inside > cut {
        list.push(Warning::InsertLongerThanShaft { inside, cut });
    }
    let point_end = length
        + resolved.number(Field::InsertAhead)
        + resolved.number(Field::CollarLength)
        + resolved.number(Field::PointLength);
    let off = own_parts.iter().position(|part| part.centre_in > point_end);
    list.extend(off.map(|place| Warning::OwnPartOffTheArrow { place }));
}

/// Usual ranges of FOC: 7 to 15 % for targets, 10 to 20 % for hunting (common practice, no source).
fn remarks(resolved: &Resolved, outputs: &Outputs) -> impl Iterator<Item = Warning> {
    let (low, high) = match resolved.choice() {
        Purpose::Hunting => (10.0, 20.0),
        Purpose::Target | Purpose::ThreeD => (7.0, 15.0),
    };
    let foc = outputs
        .get(Output::FrontOfCentre)
        .filter(|percent| !(low..=high).contains(percent))
        .map(|percent| Warning::FocOutside { percent, low, high });
    let degrees = resolved.number(Field::VaneOffset);
    let fletched = resolved.number(Field::VaneCount) > 0.0;
    let offset = (fletched && !(1.0..=3.0).contains(&degrees)).then_some(Warning::OffsetOutside { degrees });
    foc.into_iter().chain(offset)
}

impl Warning {
    /// Key in a report.
    #[must_use]
    pub const fn key(&self) -> &'static str {
        match self {
            Self::LighterThanAllowed { .. } => "lighterThanAllowed",
            Self::ShaftBehindRest { .. } => "shaftBehindRest",
            Self::ShaftShort { .. } => "shaftShort",
            Self::BadlyWeak { .. } => "badlyWeak",
            Self::MoreEnergyThanStored { .. } => "moreEnergyThanStored",
            Self::NoStroke { .. } => "noStroke",
            Self::BoreTooWide { .. } => "boreTooWide",
            Self::EnergyBeyondBelief => "energyBeyondBelief",
            Self::NoAnswer => "noAnswer",
            Self::WeighedAgainstLinear { .. } => "weighedAgainstLinear",
            Self::ArmSpanAgainstDraw { .. } => "armSpanAgainstDraw",
            Self::VanesOffTheShaft { .. } => "vanesOffTheShaft",
            Self::InsertLongerThanShaft { .. } => "insertLongerThanShaft",
            Self::OwnPartOffTheArrow { .. } => "ownPartOffTheArrow",
            Self::ChronographWithoutArrow => "chronographWithoutArrow",
            Self::DrawLengthEstimated { .. } => "drawLengthEstimated",
            Self::LabelOnly => "labelOnly",
            Self::DrawForceUnused => "drawForceUnused",
            Self::PeakAgainstReadings { .. } => "peakAgainstReadings",
            Self::DrawAgainstReadings { .. } => "drawAgainstReadings",
            Self::SpeedsContradict => "speedsContradict",
            Self::BladesNearRest { .. } => "bladesNearRest",
            Self::Broadhead => "broadhead",
            Self::FocOutside { .. } => "focOutside",
            Self::OffsetOutside { .. } => "offsetOutside",
        }
    }

    /// How loud it is.
    #[must_use]
    pub const fn weight(&self) -> Severity {
        match self {
            Self::LighterThanAllowed { .. }
            | Self::ShaftBehindRest { .. }
            | Self::ShaftShort { .. }
            | Self::BladesNearRest { .. }
            | Self::BadlyWeak { .. } => Severity::Danger,
            Self::FocOutside { .. } | Self::OffsetOutside { .. } => Severity::Remark,
            _ => Severity::Check,
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
                "the speed given would need {} of the energy the bow stores: the speed, its arrow, the draw weight, the draw length or the cam is off.",
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
                "the rated or measured speed, with its arrow, draw weight and draw length, asks for an energy no bow gives: one of them is off.".to_owned()
            }
            Self::NoAnswer => "these fields together have no answer; change one back.".to_owned(),
            Self::WeighedAgainstLinear { weighed, reckoned } => format!(
                "the bare shaft was weighed at {}, but shaft weight and cut length make {}.",
                grains(weighed), grains(reckoned)
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
            Self::LabelOnly => "only the limb's label is known: bows pull some pounds more or less, and a few pounds decide a spine. Put it on a bow scale.".to_owned(),
            Self::DrawForceUnused => "the draw-force readings make no curve and are not used; the bench says why.".to_owned(),
            Self::PeakAgainstReadings { read, field } => format!(
                "the draw-force readings peak at {}, the field says {}: the field counts, and the readings give the shape. Leave the field to the page to use theirs.",
                pounds(read), pounds(field)
            ),
            Self::DrawAgainstReadings { read, field } => format!(
                "the draw-force readings end at a draw length of {}, the field says {}: the field counts, and the readings give the shape. Leave the field to the page to use theirs.",
                inches(read), inches(field)
            ),
            Self::SpeedsContradict => "the chronograph readings contradict each other and are not used; the bench says why.".to_owned(),
            Self::BladesNearRest { gap, reach } => format!(
                "at full draw the blades would begin {} {} the rest; {} ahead of it is asked: too near the rest and your hand.",
                inches(gap.abs()), if gap < 0.0 { "behind" } else { "ahead of" }, inches(reach)
            ),
            Self::Broadhead => "broadheads cut: use a wrench made for them, keep them covered, and never draw one past the rest toward your hand.".to_owned(),
            Self::FocOutside { percent, low, high } => {
                let percent = measured(Quantity::Percent, percent, units);
                let (low, high) = (fixed(low, 0), fixed(high, 0));
                format!("FOC is {percent}; {low} to {high}\u{a0}% is usual for this purpose (common practice).")
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
