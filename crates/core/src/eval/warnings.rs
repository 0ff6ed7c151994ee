//! What a careful archer would look at before the arrow is cut or shot: which warnings a setup has.

#[cfg(test)]
mod tests;
mod words;

use crate::eval::safety::{self, Danger};
use crate::eval::{Outputs, ResolvedSetup};
use crate::schema::{ARM_SPAN_PER_DRAW, BowKind, Field, List, Output, OwnPart, PointKind, Purpose};
use crate::setup::{Known, ModelError, PhysicalModel, Resolved, Setup, draw_length_read_in};
use crate::units::Quantity;
use clothyard_mechanics::estimate::USUAL_SCATTER_M_PER_S;
use clothyard_mechanics::{MeasuredCurve, Parameter};

pub use words::ALWAYS;

/// Share by which a weighed shaft may differ from its weight for the length (our own margin, no source).
const WEIGHED_SHARE: f64 = 0.03;
/// How far a draw length may be from what the arm span suggests, in inches (our own margin, no source).
const SPAN_AGAINST_DRAW_IN: f64 = 1.5;
/// Within a pound, and within a quarter of an inch, field and readings are the same (our own margins, no source).
const PEAK_AGAINST_READINGS_LB: f64 = 1.0;
const DRAW_AGAINST_READINGS_IN: f64 = 0.25;
/// Chronograph readings that scatter more than three times as usual contradict each other (our own margin, no source).
const MOST_SCATTER_M_PER_S: f64 = 3.0 * USUAL_SCATTER_M_PER_S;
/// How much a warning matters, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Someone or the bow may come to harm.
    Danger,
    /// The fields contradict each other, so that nothing can be said of the shot.
    Impossible,
    /// Two fields cannot both be right, or one is not to be trusted.
    Check,
    /// Outside what is usual for the purpose.
    Remark,
}

impl Severity {
    /// Whether nothing may be shot before the setup is changed.
    #[must_use]
    pub const fn forbids_shooting(self) -> bool {
        match self {
            Self::Danger | Self::Impossible => true,
            Self::Check | Self::Remark => false,
        }
    }

    /// Key in a report.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Danger => "danger",
            Self::Impossible | Self::Check => "check",
            Self::Remark => "remark",
        }
    }
}

macro_rules! warnings {
    ($($(#[$doc:meta])* $name:ident $({ $($number:ident: $type:ty),+ })? $key:literal $severity:ident;)+) => {
        /// A warning. Numbers are in the saved unit of their quantity.
        #[derive(Clone, Copy, Debug, PartialEq)]
        #[non_exhaustive]
        #[allow(missing_docs, reason = "a field is a number of the sentence, which says what it is")]
        pub enum Warning { $($(#[$doc])* $name $({ $($number: $type),+ })?),+ }

        impl Warning {
            /// Every key, in the order of the table.
            pub const KEYS: [&str; [$($key),+].len()] = [$($key),+];

            /// Key in a report.
            #[must_use]
            pub const fn key(&self) -> &'static str {
                match self { $(Self::$name { .. } => $key),+ }
            }

            /// How much it matters.
            #[must_use]
            pub const fn severity(&self) -> Severity {
                match self { $(Self::$name { .. } => Severity::$severity),+ }
            }
        }
    };
}

warnings! {
    /// At full draw the shaft ends at or behind the rest.
    ShaftBehindRest { length: f64, safe: f64 } "shaftBehindRest" Danger;
    /// At full draw the blades begin too near the rest.
    BladesNearRest { gap: f64, reach: f64 } "bladesNearRest" Danger;
    /// At full draw the shaft ends too near the rest.
    ShaftShort { length: f64, safe: f64 } "shaftShort" Danger;
    /// A wood shaft from a compound.
    WoodOnCompound "woodOnCompound" Danger;
    /// The shaft may break.
    BadlyWeak { suits_to: f64, draw_weight: f64 } "badlyWeak" Danger;
    /// The arrow is lighter than the bow allows.
    LighterThanAllowed { weight: f64, weight_wanted: f64, per_pound: f64, least: f64 } "lighterThanAllowed" Danger;
    /// The air takes hold of the arrow ahead of its balance point.
    NotPointFirst "notPointFirst" Danger;
    /// The string at rest is at or ahead of where the draw ends.
    NoStroke { true_draw: f64, brace: f64 } "noStroke" Impossible;
    /// The bore is not smaller than the shaft.
    BoreTooWide { outer: f64, bore: f64 } "boreTooWide" Impossible;
    /// The blades are longer than the point that carries them.
    BladesLongerThanPoint { blade: f64, point: f64 } "bladesLongerThanPoint" Impossible;
    /// A speed asks for an energy or a virtual mass that no bow has.
    EnergyBeyondBelief "energyBeyondBelief" Impossible;
    /// The mechanics refuse the fields for another reason.
    NoAnswer "noAnswer" Impossible;
    /// A speed asks for more energy than the bow stores.
    MoreEnergyThanStored { percent: f64 } "moreEnergyThanStored" Check;
    /// The shaft's weight is given twice.
    WeighedAgainstLinear { weighed: f64, computed: f64 } "weighedAgainstLinear" Check;
    /// Arm span and draw length do not go together.
    ArmSpanAgainstDraw { from_span: f64, draw: f64 } "armSpanAgainstDraw" Check;
    /// The vanes are not all on the shaft.
    VanesOffTheShaft { from: f64, to: f64, shaft_from: f64, length: f64 } "vanesOffTheShaft" Check;
    /// The insert is longer than the shaft.
    InsertLongerThanShaft { inside: f64, cut: f64 } "insertLongerThanShaft" Check;
    /// One of the user's own parts is ahead of the point; by its place in the list.
    OwnPartOffTheArrow { place: usize } "ownPartOffTheArrow" Check;
    /// A chronograph speed without the weight of its arrow.
    ChronographWithoutArrow "chronographWithoutArrow" Check;
    /// The draw length is only estimated.
    DrawLengthEstimated { draw: f64 } "drawLengthEstimated" Check;
    /// The draw weight is read off the limb's label.
    LabelOnly "labelOnly" Remark;
    /// The draw-force readings make no curve.
    DrawForceUnused "drawForceUnused" Check;
    /// The draw-force readings peak elsewhere than the draw weight says.
    PeakAgainstReadings { read: f64, field: f64 } "peakAgainstReadings" Check;
    /// The draw-force readings end elsewhere than the draw length says.
    DrawAgainstReadings { read: f64, field: f64 } "drawAgainstReadings" Check;
    /// The chronograph readings contradict each other.
    SpeedsContradict "speedsContradict" Check;
    /// The arrow is light for this kind of bow, though the bow allows it.
    LightForBow { per_pound: f64, usual: f64 } "lightForBow" Check;
    /// The vanes steer less than the blades ask for.
    VanesSmall { margin: f64, wanted: f64 } "vanesSmall" Check;
    /// The point cuts.
    Broadhead "broadhead" Check;
    /// FOC is unusual for the purpose.
    FocOutside { percent: f64, low: f64, high: f64 } "focOutside" Remark;
    /// The vanes' offset is unusual.
    OffsetOutside { degrees: f64, low: f64, high: f64 } "offsetOutside" Remark;
}

/// All warnings of a setup, the dangers first.
#[must_use]
pub fn all(setup: &Setup, at: &ResolvedSetup) -> Vec<Warning> {
    let (resolved, outputs) = (&at.resolved, &at.outputs);
    let mut list = Vec::new();
    list.extend(safety::dangers(at).filter_map(|danger| from_danger(danger, resolved, outputs)));
    list.extend(at.error.as_ref().map(from_error));
    list.extend(blades_longer_than_point(resolved));
    list.extend(of_readings(setup, resolved, at.model.as_ref()));
    given_twice(&mut list, resolved);
    off_the_arrow(&mut list, resolved, &setup.own_parts);
    list.extend(at.model.as_ref().and_then(|model| vanes_small(resolved, model)));
    not_to_be_trusted(&mut list, resolved);
    list.extend(light_for_bow(resolved, outputs));
    list.extend(remarks(resolved, outputs));
    list
}

fn from_danger(danger: Danger, resolved: &Resolved, outputs: &Outputs) -> Option<Warning> {
    let draw_weight = resolved.number(Field::PeakDrawWeight);
    let (length, safe) = (resolved.arrow_length_in(), resolved.shortest_safe_length_in());
    Some(match danger {
        Danger::ShaftBehindRest => Warning::ShaftBehindRest { length, safe },
        Danger::BladesNearRest => Warning::BladesNearRest {
            gap: safety::blades_past_rest_in(resolved)?,
            reach: resolved.number(Field::ShortestReach),
        },
        Danger::ShaftShort => Warning::ShaftShort { length, safe },
        Danger::WoodOnCompound => Warning::WoodOnCompound,
        Danger::BadlyWeak => Warning::BadlyWeak { suits_to: outputs.get(Output::SuitsTo)?, draw_weight },
        Danger::TooLight => {
            let per_pound = outputs.get(Output::GrainsPerPound)?;
            let weight_wanted = safety::least_weight_gr(resolved, draw_weight);
            let least = safety::least_gr_per_lb(resolved);
            Warning::LighterThanAllowed { weight: per_pound * draw_weight, weight_wanted, per_pound, least }
        }
        Danger::NotPointFirst => Warning::NotPointFirst,
    })
}

fn from_error(error: &ModelError) -> Warning {
    match *error {
        ModelError::NoStroke { true_draw_in, brace_in } => {
            Warning::NoStroke { true_draw: true_draw_in, brace: brace_in }
        }
        ModelError::BoreTooWide { outer_in, bore_in } => Warning::BoreTooWide { outer: outer_in, bore: bore_in },
        ModelError::Mechanics(clothyard_mechanics::Error::OutOfRange {
            parameter: Parameter::Energy | Parameter::Speed | Parameter::VirtualMass,
            ..
        }) => Warning::EnergyBeyondBelief,
        ModelError::Mechanics(_) => Warning::NoAnswer,
    }
}

/// What the readings of the bow say against the fields, or against themselves.
fn of_readings(setup: &Setup, resolved: &Resolved, model: Option<&PhysicalModel>) -> impl Iterator<Item = Warning> {
    let [mut peak, mut end] = [None, None];
    if let Some(whole) = resolved.curve() {
        [peak, end] = against_fields(resolved, whole);
    } else if !setup.lists.rows(List::DrawForce).is_empty() {
        peak = Some(Warning::DrawForceUnused);
    }
    let contradict = model.is_some_and(|model| model.estimate.scatter_m_per_s() > MOST_SCATTER_M_PER_S);
    let over = model.and_then(|model| safety::over_stored_energy(resolved, model));
    [
        peak,
        end,
        contradict.then_some(Warning::SpeedsContradict),
        over.map(|percent| Warning::MoreEnergyThanStored { percent }),
    ]
    .into_iter()
    .flatten()
}

/// Limbs drawn less far than they were read simply end there.
fn against_fields(resolved: &Resolved, curve: &MeasuredCurve) -> [Option<Warning>; 2] {
    let peak = Quantity::DrawWeight.from_si(curve.peak().force_n);
    let end = draw_length_read_in(curve);
    let (weight, length) = (resolved.number(Field::PeakDrawWeight), resolved.number(Field::DrawLength));
    let peaks = (peak - weight).abs() > PEAK_AGAINST_READINGS_LB;
    let ends = (end - length).abs() > DRAW_AGAINST_READINGS_IN;
    [
        peaks.then_some(Warning::PeakAgainstReadings { read: peak, field: weight }),
        ends.then_some(Warning::DrawAgainstReadings { read: end, field: length }),
    ]
}

/// Two fields that say different things of one.
fn given_twice(list: &mut Vec<Warning>, resolved: &Resolved) {
    if let Some(weighed) = resolved.given(Field::BareShaft)
        && resolved.is_user_given(Field::ShaftLinearMass)
    {
        let computed = resolved.number(Field::ShaftLinearMass) * resolved.number(Field::CutLength);
        if (weighed - computed).abs() > WEIGHED_SHARE * weighed {
            list.push(Warning::WeighedAgainstLinear { weighed, computed });
        }
    }
    if let Some(span) = resolved.given(Field::ArmSpan) {
        let (from_span, draw) = (span / ARM_SPAN_PER_DRAW, resolved.number(Field::DrawLength));
        if (from_span - draw).abs() > SPAN_AGAINST_DRAW_IN {
            list.push(Warning::ArmSpanAgainstDraw { from_span, draw });
        }
    }
}

/// Parts that would not sit on the arrow.
fn off_the_arrow(list: &mut Vec<Warning>, resolved: &Resolved, own_parts: &[OwnPart]) {
    let (cut, length) = (resolved.number(Field::CutLength), resolved.arrow_length_in());
    let (shaft_from, vanes_from) = (resolved.number(Field::ThroatToShaft), resolved.number(Field::VaneSetBack));
    let vanes_to = vanes_from + resolved.number(Field::VaneLength);
    if resolved.number(Field::VaneCount) > 0.0 && (vanes_to > length || vanes_from < shaft_from) {
        list.push(Warning::VanesOffTheShaft { from: vanes_from, to: vanes_to, shaft_from, length });
    }
    let inside = resolved.number(Field::InsertInside);
    if inside > cut {
        list.push(Warning::InsertLongerThanShaft { inside, cut });
    }
    let tip = resolved.tip_in();
    let off = own_parts.iter().position(|part| part.center_in > tip);
    list.extend(off.map(|place| Warning::OwnPartOffTheArrow { place }));
}

fn blades_longer_than_point(resolved: &Resolved) -> Option<Warning> {
    let (blade, point) = (resolved.number(Field::BladeLength), resolved.number(Field::PointLength));
    let longer = resolved.choice::<PointKind>().is_broadhead() && blade > point;
    longer.then_some(Warning::BladesLongerThanPoint { blade, point })
}

/// Vanes that leave an arrow with blades less margin than is wanted, though it flies point first.
fn vanes_small(resolved: &Resolved, model: &PhysicalModel) -> Option<Warning> {
    let margin = 100.0 * safety::stability_under_blades(resolved, model)?.margin_of_length;
    let wanted = resolved.number(Field::MarginWanted);
    // Less by a tenth, to which it is said.
    (0.0 < margin && margin < wanted - 0.05).then_some(Warning::VanesSmall { margin, wanted })
}

/// Fields that are not used, or should not be relied upon.
fn not_to_be_trusted(list: &mut Vec<Warning>, resolved: &Resolved) {
    if resolved.given(Field::ChronographSpeed).is_some() && resolved.given(Field::ChronographArrow).is_none() {
        list.push(Warning::ChronographWithoutArrow);
    }
    if resolved.draw_length_estimated() {
        list.push(Warning::DrawLengthEstimated { draw: resolved.number(Field::DrawLength) });
    }
    if resolved.known(Field::PeakDrawWeight) == Known::Label {
        list.push(Warning::LabelOnly);
    }
    if resolved.choice::<PointKind>().is_broadhead() {
        list.push(Warning::Broadhead);
    }
}

fn light_for_bow(resolved: &Resolved, outputs: &Outputs) -> Option<Warning> {
    let (per_pound, usual) = (outputs.get(Output::GrainsPerPound)?, safety::light_gr_per_lb(resolved)?);
    let light = per_pound < usual && !safety::too_light(resolved, per_pound);
    light.then_some(Warning::LightForBow { per_pound, usual })
}

fn remarks(resolved: &Resolved, outputs: &Outputs) -> impl Iterator<Item = Warning> {
    let foc = outputs.get(Output::FrontOfCentre).zip(usual_foc(resolved));
    let foc = foc
        .filter(|(percent, (low, high))| !(*low..=*high).contains(percent))
        .map(|(percent, (low, high))| Warning::FocOutside { percent, low, high });
    let degrees = resolved.number(Field::VaneOffset);
    let (low, high) = usual_offset(resolved);
    let fletched = resolved.number(Field::VaneCount) > 0.0;
    let unusual = fletched && !(low..=high).contains(&degrees);
    foc.into_iter().chain(unusual.then_some(Warning::OffsetOutside { degrees, low, high }))
}

/// Outside diameter in inches from which a shaft is a fat one, shot indoors with a heavy point (common practice, no
/// source).
const FAT_SHAFT_IN: f64 = 0.34;

/// Usual FOC in percent by bow and purpose (common practice, no source); none for a longbow, whose wood arrows have
/// any, and none for a light bow, whose short, light shafts have a high one with any point.
fn usual_foc(resolved: &Resolved) -> Option<(f64, f64)> {
    if resolved.is_light_bow() {
        return None;
    }
    let fat = resolved.number(Field::OuterDiameter) >= FAT_SHAFT_IN;
    match (resolved.choice(), resolved.choice()) {
        (BowKind::Longbow, _) => None,
        (BowKind::Compound, Purpose::Hunting) => Some((10.0, 20.0)),
        (BowKind::Recurve, Purpose::Hunting) => Some((10.0, 25.0)),
        (BowKind::Compound, Purpose::Target | Purpose::ThreeD) => Some((7.0, if fat { 20.0 } else { 16.0 })),
        (BowKind::Recurve, Purpose::Target | Purpose::ThreeD) => Some((10.0, 20.0)),
    }
}

/// Usual offset of a vane in degrees (common practice, no source). Off the fingers straight fletching is as usual as
/// any.
fn usual_offset(resolved: &Resolved) -> (f64, f64) {
    if resolved.choice::<BowKind>() == BowKind::Compound { (1.0, 3.0) } else { (0.0, 5.0) }
}
