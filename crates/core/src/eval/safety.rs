//! Safety: each rule once, with its limit.
//!
//! A limit is a function of the resolved inputs, so that a search can keep within it. A rule holds a setup against
//! its limit. What is said of a broken rule is in [`crate::eval::warnings`].

use crate::eval::{BAND, ResolvedSetup};
use crate::schema::{BowKind, Field, Output, PointKind};
use crate::setup::{PhysicalModel, Resolved, flying};
use crate::units::SAME;
use clothyard_mechanics::flight::Stability;

/// Over this share of its target a column load is badly weak (our own margin, no source: three times the band).
pub const BADLY_WEAK: f64 = 1.0 + 3.0 * BAND;

/// Beyond so many standard deviations speeds and stored energy contradict each other (common practice, no source).
pub const MOST_ENERGY_DEVIATIONS: f64 = 3.0;

/// Over this column load a shaft is badly weak whatever its target (our own margin, no source: half as much again as
/// the highest calibrated target).
pub const MOST_COLUMN_LOAD: f64 = 1.8;

/// A way in which a setup may do harm, whoever asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Danger {
    /// At full draw the shaft ends at or behind the rest.
    ShaftBehindRest,
    /// At full draw the blades begin too near the rest, or behind it.
    BladesNearRest,
    /// At full draw the shaft ends too near the rest.
    ShaftShort,
    /// The shaft is wood and the bow a compound.
    WoodOnCompound,
    /// The shaft is badly weak and may break.
    BadlyWeak,
    /// The arrow is lighter than the bow allows.
    TooLight,
    /// The arrow does not fly point first.
    NotPointFirst,
}

impl Danger {
    /// All of them, the worst first: the order of [`dangers`].
    pub const ALL: [Self; 7] = [
        Self::ShaftBehindRest,
        Self::BladesNearRest,
        Self::ShaftShort,
        Self::WoodOnCompound,
        Self::BadlyWeak,
        Self::TooLight,
        Self::NotPointFirst,
    ];
}

/// Every danger of a setup, the worst first. A number that could not be computed is in no danger: a warning says why it
/// is missing.
pub fn dangers(at: &ResolvedSetup) -> impl Iterator<Item = Danger> {
    let resolved = &at.resolved;
    let behind = shaft_behind_rest(resolved);
    let weak = at.outputs.get(Output::ColumnLoad).zip(at.outputs.match_share());
    let ratio = at.outputs.get(Output::GrainsPerPound);
    [
        (behind, Danger::ShaftBehindRest),
        (blades_near_rest(resolved), Danger::BladesNearRest),
        (!behind && shaft_short(resolved), Danger::ShaftShort),
        (wood_on_compound(resolved), Danger::WoodOnCompound),
        (weak.is_some_and(|(load, share)| badly_weak(load, share)), Danger::BadlyWeak),
        (ratio.is_some_and(|ratio| too_light(resolved, ratio)), Danger::TooLight),
        (at.model.as_ref().is_some_and(|model| not_point_first(resolved, model)), Danger::NotPointFirst),
    ]
    .into_iter()
    .filter_map(|(holds, danger)| holds.then_some(danger))
}

/// Least weight of an arrow for each pound of peak draw weight, in gr/lb: what the bow's maker asks for, or what this
/// kind of bow allows.
#[must_use]
pub fn least_gr_per_lb(resolved: &Resolved) -> f64 {
    resolved.number(Field::MakersMinimum)
}

/// Least weight of an arrow on this bow, in grains, were it set to `draw_weight_lb`.
#[must_use]
pub fn least_weight_gr(resolved: &Resolved, draw_weight_lb: f64) -> f64 {
    least_gr_per_lb(resolved) * draw_weight_lb
}

/// Whether an arrow is lighter than the bow allows: it leaves too much of the energy in the bow.
#[must_use]
pub fn too_light(resolved: &Resolved, gr_per_lb: f64) -> bool {
    gr_per_lb < least_gr_per_lb(resolved)
}

/// Under how many gr/lb an arrow is light for this kind of bow, though the bow allows it (common practice, no source);
/// none for a compound, or where the user knows what the bow allows.
#[must_use]
pub fn light_gr_per_lb(resolved: &Resolved) -> Option<f64> {
    let light = match resolved.choice() {
        BowKind::Compound => None,
        BowKind::Recurve => Some(6.5),
        BowKind::Longbow => Some(8.0),
    };
    light.filter(|_| !resolved.is_user_given(Field::MakersMinimum))
}

/// The shortest cut, in inches, that a search may propose: the shaft reaches far enough past the rest, and so do
/// blades that reach back over it.
#[must_use]
pub fn shortest_cut_in(resolved: &Resolved) -> f64 {
    resolved.shortest_safe_cut_in() + blades_over_shaft_in(resolved).unwrap_or(0.0)
}

/// Whether the shaft ends at or behind the rest at full draw: there is nothing left for it to be on.
#[must_use]
pub fn shaft_behind_rest(resolved: &Resolved) -> bool {
    resolved.arrow_length_in() <= resolved.rest_in()
}

/// Whether the shaft ends nearer to the rest at full draw than the user asks for, or behind it.
#[must_use]
pub fn shaft_short(resolved: &Resolved) -> bool {
    shaft_behind_rest(resolved) || resolved.arrow_length_in() < resolved.shortest_safe_length_in() - SAME
}

/// How far ahead of the rest the blades begin at full draw, in inches, behind it negative; none without blades.
#[must_use]
pub fn blades_past_rest_in(resolved: &Resolved) -> Option<f64> {
    resolved.blades_from_in().map(|rear| rear - resolved.rest_in())
}

/// How far the blades reach back over the shaft, in inches; none where they do not.
fn blades_over_shaft_in(resolved: &Resolved) -> Option<f64> {
    let over = resolved.arrow_length_in() - resolved.blades_from_in()?;
    (over > SAME).then_some(over)
}

/// Whether blades that reach back over the shaft come nearer to the rest than the shaft's end may. Blades that begin
/// ahead of the shaft's end are as far from the rest as it is at least.
#[must_use]
pub fn blades_near_rest(resolved: &Resolved) -> bool {
    let reach = resolved.number(Field::ShortestReach);
    blades_over_shaft_in(resolved).is_some() && blades_past_rest_in(resolved).is_some_and(|gap| gap < reach - SAME)
}

/// Whether a wood shaft would be shot from a compound, whose push can shatter it (common practice, no source: makers of
/// compounds and of wood shafts warn of it).
#[must_use]
pub fn wood_on_compound(resolved: &Resolved) -> bool {
    resolved.is_wood() && resolved.choice::<BowKind>() == BowKind::Compound
}

/// Whether a column load, and what share of its target it is, are badly weak.
#[must_use]
pub fn badly_weak(load: f64, share: f64) -> bool {
    share > BADLY_WEAK || load > MOST_COLUMN_LOAD
}

/// How an arrow with blades is steered; none with another point, or where the mechanics refuse it.
#[must_use]
pub fn stability_under_blades(resolved: &Resolved, model: &PhysicalModel) -> Option<Stability> {
    let blades = resolved.choice::<PointKind>().is_broadhead();
    blades.then(|| flying(resolved, model).ok()?.stability().ok()).flatten()
}

/// Whether the air takes hold of the arrow ahead of its balance point.
#[must_use]
pub fn not_point_first(resolved: &Resolved, model: &PhysicalModel) -> bool {
    let stability = flying(resolved, model).ok().and_then(|arrow| arrow.stability().ok());
    stability.is_some_and(|stability| stability.margin_m <= 0.0)
}

/// The energy that the speeds read ask for, in percent of what the bow stores, where that is surely more than it can be.
#[must_use]
pub fn over_stored_energy(resolved: &Resolved, model: &PhysicalModel) -> Option<f64> {
    let excess = model.estimate.energy_excess(resolved).ok()??;
    (excess.deviations > MOST_ENERGY_DEVIATIONS).then_some(100.0 * excess.ratio)
}
