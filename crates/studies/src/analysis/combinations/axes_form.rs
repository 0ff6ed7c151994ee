//! The form of the axes of a grid: which inputs are combined, and which values of each.

use super::axis::{Axis, AxisKind};
use clothyard_core::eval::baseline::Baseline;
use clothyard_core::format;
use clothyard_core::parse::number_list;
use clothyard_core::schema::shafts::invented_shafts;
use clothyard_core::schema::{Field, StockShaft};
use clothyard_core::setup::{Resolved, Setup};
use clothyard_core::units::Units;

/// How many shafts are chosen at first.
const SHAFTS_AT_FIRST: usize = 3;
/// How many values of each other input there are at first.
const VALUES_AT_FIRST: usize = 5;

/// One axis on the form.
#[derive(Debug)]
pub struct AxisEntry {
    /// What runs along it.
    pub kind: AxisKind,
    /// Its values, in saved units or as places in the list of shafts, or what is wrong with what was typed.
    pub values: Result<Vec<f64>, String>,
    taken: bool,
}

impl AxisEntry {
    /// What its field holds; none where it has none, or what was typed cannot be read.
    #[must_use]
    pub fn text(&self, units: &Units) -> Option<String> {
        let quantity = self.kind.field()?.input().quantity()?;
        let values = self.values.as_ref().ok()?.iter();
        Some(values.map(|&value| format::entered(quantity, value, units)).collect::<Vec<_>>().join("; "))
    }

    /// What is wrong with it, if it counts.
    #[must_use]
    pub fn fault(&self) -> Option<&str> {
        self.values.as_ref().err().filter(|_| self.taken).map(String::as_str)
    }
}

/// Every axis on the form; none before there is a setup to begin with.
#[derive(Debug, Default)]
pub struct AxesForm(Vec<AxisEntry>);

impl AxesForm {
    /// A few values around those of a setup, for every axis; `is_taken` says which axes are taken.
    #[must_use]
    pub fn around(setup: &Setup, resolved: &Resolved, is_taken: impl Fn(AxisKind) -> bool) -> Self {
        let held = Baseline::as_resolved(setup, *resolved);
        let entry = |kind: AxisKind| {
            let values = match kind.field() {
                Some(field) => values_around(field, &held),
                None => similar_shafts(resolved, &setup.shafts),
            };
            AxisEntry { kind, values: Ok(values), taken: is_taken(kind) }
        };
        Self(AxisKind::ALL.map(entry).into())
    }

    /// Every axis, in the order of the page.
    #[must_use]
    pub fn entries(&self) -> &[AxisEntry] {
        &self.0
    }

    fn entry(&mut self, kind: AxisKind) -> Option<&mut AxisEntry> {
        self.0.iter_mut().find(|entry| entry.kind == kind)
    }

    /// Reads what was typed as the values of an axis.
    pub fn type_values(&mut self, kind: AxisKind, typed: &str, units: &Units) {
        let Some(input) = kind.field().map(Field::input) else { return };
        if let Some(entry) = self.entry(kind) {
            let values = number_list::read(input, typed, units);
            entry.values = values.map_err(|error| number_list::message(input, &error, units));
        }
    }

    /// Takes an axis, or leaves it.
    pub fn take(&mut self, kind: AxisKind, taken: bool) {
        self.entry(kind).into_iter().for_each(|entry| entry.taken = taken);
    }

    /// The shafts chosen, as places in the list.
    #[must_use]
    pub fn shafts(&self) -> &[f64] {
        let entry = self.0.iter().find(|entry| entry.kind == AxisKind::Shaft);
        entry.and_then(|entry| entry.values.as_deref().ok()).unwrap_or_default()
    }

    /// Takes the shaft at a place of the list, or leaves it.
    pub fn take_shaft(&mut self, place: f64, taken: bool) {
        self.change_shafts(|places| {
            places.retain(|&other| (other - place).abs() > 0.5);
            if taken {
                places.insert(places.partition_point(|&other| other < place), place);
            }
        });
    }

    /// Leaves the shafts that a list of so many lacks.
    pub fn limit_shafts(&mut self, count: usize) {
        self.change_shafts(|places| places.retain(|&place| place < count as f64));
    }

    fn change_shafts(&mut self, change: impl FnOnce(&mut Vec<f64>)) {
        if let Some(Ok(places)) = self.entry(AxisKind::Shaft).map(|entry| &mut entry.values) {
            change(places);
        }
    }

    /// The axes that are taken.
    ///
    /// # Errors
    /// What is wrong with the first that cannot be read, in a sentence.
    pub fn axes(&self) -> Result<Vec<Axis>, String> {
        let taken = self.0.iter().filter(|entry| entry.taken);
        taken.map(|entry| Ok(Axis { kind: entry.kind, values: entry.values.clone()? })).collect()
    }
}

/// A few values around a field's own, in its saved unit; no cut too short to be safe.
fn values_around(field: Field, held: &Baseline<'_>) -> Vec<f64> {
    let offsets: &[f64] = match field {
        Field::PeakDrawWeight => &[-4.0, -2.0, 0.0, 2.0, 4.0],
        Field::DrawLength => &[-1.0, -0.5, 0.0, 0.5, 1.0],
        Field::CutLength => &[-1.0, -0.5, 0.0, 0.5, 1.0, 1.5, 2.0],
        Field::PointMass => &[-25.0, 0.0, 25.0, 50.0],
        Field::InsertMass => &[-10.0, 0.0, 10.0, 25.0, 50.0],
        _ => &[-2.0, -1.0, 0.0, 1.0, 2.0],
    };
    let (least, most) = held.safe_range(field).unwrap_or_default();
    let values = offsets.iter().map(|offset| held.resolved.number(field) + offset);
    values.filter(|value| (least..=most).contains(value)).take(VALUES_AT_FIRST).collect()
}

/// The places of a list of shafts in the order in which one chooses from them: those the user listed before samples.
#[must_use]
pub fn own_first(shafts: &[StockShaft]) -> Vec<usize> {
    let samples = invented_shafts();
    let (mut places, others): (Vec<_>, Vec<_>) =
        shafts.iter().enumerate().partition(|(_, shaft)| !samples.contains(shaft));
    places.extend(others);
    places.into_iter().map(|(place, _)| place).collect()
}

/// The few shafts of a list most like the one of a setup, the user's own before samples; as places in the list, in its
/// order.
fn similar_shafts(resolved: &Resolved, shafts: &[StockShaft]) -> Vec<f64> {
    let samples = invented_shafts();
    let difference = |shaft: &StockShaft| {
        (shaft.static_spine_thousandths - resolved.number(Field::StaticSpine)).abs()
            // Another bore takes other inserts and points: it counts before any spine.
            + (shaft.bore_in - resolved.number(Field::Bore)).abs() * 1e5
            + if samples.contains(shaft) { 1e6 } else { 0.0 }
    };
    let mut places: Vec<_> = shafts.iter().map(difference).enumerate().collect();
    places.sort_by(|(_, one), (_, other)| one.total_cmp(other));
    places.truncate(SHAFTS_AT_FIRST);
    places.sort_by_key(|&(place, _)| place);
    places.into_iter().map(|(place, _)| place as f64).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::eval::safety;

    fn form(setup: &Setup) -> AxesForm {
        let taken = |kind| matches!(kind, AxisKind::Point | AxisKind::Cut | AxisKind::Shaft);
        AxesForm::around(setup, &Baseline::new(setup).resolved, taken)
    }

    fn entry(form: &AxesForm, kind: AxisKind) -> &AxisEntry {
        form.entries().iter().find(|entry| entry.kind == kind).unwrap()
    }

    #[test]
    fn it_begins_with_values_around_a_setup() {
        let setup = Setup::default().with(Field::PointMass, 15.0).unwrap();
        let form = form(&setup);
        assert_eq!(entry(&form, AxisKind::Point).text(&Units::ARCHERY).unwrap(), "15; 40; 65", "10 is the least");
        let resolved = Baseline::new(&setup).resolved;
        let cuts = entry(&form, AxisKind::Cut).values.clone().unwrap();
        assert!(cuts.len() == 5 && cuts.iter().all(|&cut| cut >= safety::shortest_cut_in(&resolved)), "{cuts:?}");
        let spine = resolved.number(Field::StaticSpine);
        let shafts: Vec<_> = form.shafts().iter().map(|&place| &setup.shafts[place as usize]).collect();
        assert_eq!(shafts.len(), SHAFTS_AT_FIRST);
        assert!(shafts.iter().any(|shaft| shaft.static_spine_thousandths == spine));
        assert!(shafts.iter().all(|shaft| shaft.bore_in == resolved.number(Field::Bore)));
        assert!(form.shafts().is_sorted());
        assert_eq!(entry(&form, AxisKind::Shaft).text(&Units::ARCHERY), None, "it has no field");
    }

    #[test]
    fn the_axes_come_in_the_order_of_the_page() {
        let mut form = form(&Setup::default());
        let kinds = |form: &AxesForm| form.axes().unwrap().iter().map(|axis| axis.kind).collect::<Vec<_>>();
        assert_eq!(kinds(&form), [AxisKind::Point, AxisKind::Cut, AxisKind::Shaft]);
        form.take(AxisKind::Shaft, false);
        assert_eq!(kinds(&form), [AxisKind::Point, AxisKind::Cut]);
        assert!(AxesForm::default().axes().unwrap().is_empty());
    }

    #[test]
    fn own_shafts_are_chosen_before_samples() {
        let mut setup = Setup::default();
        let own = setup.shafts.len();
        setup.shafts.push(StockShaft {
            name: "Mine".to_owned(),
            static_spine_thousandths: 900.0,
            ..setup.shafts[0].clone()
        });
        assert!(form(&setup).shafts().contains(&(own as f64)));
        let order = own_first(&setup.shafts);
        assert_eq!((order[0], order[1], order.len()), (own, 0, own + 1));
    }

    #[test]
    fn what_cannot_be_read_counts_only_where_it_is_taken() {
        let mut form = form(&Setup::default());
        form.type_values(AxisKind::Vanes, "x", &Units::ARCHERY);
        assert!(form.axes().is_ok() && entry(&form, AxisKind::Vanes).fault().is_none());
        assert_eq!(entry(&form, AxisKind::Vanes).text(&Units::ARCHERY), None, "what was typed stays");
        form.take(AxisKind::Vanes, true);
        let fault = entry(&form, AxisKind::Vanes).fault().unwrap().to_owned();
        assert!(fault.starts_with("Vane weight: enter a number"), "{fault}");
        assert_eq!(form.axes(), Err(fault));
        form.type_values(AxisKind::Vanes, "1 g; 2", &Units::ARCHERY);
        let vanes = entry(&form, AxisKind::Vanes);
        assert_eq!((vanes.fault(), vanes.text(&Units::ARCHERY).as_deref()), (None, Some("15.43; 2")));
        form.type_values(AxisKind::Shaft, "1; 2", &Units::ARCHERY);
        assert_eq!(form.shafts().len(), SHAFTS_AT_FIRST, "shafts are not typed");
    }

    #[test]
    fn shafts_stay_in_the_order_of_the_list() {
        let mut form = form(&Setup::default());
        for place in form.shafts().to_vec() {
            form.take_shaft(place, false);
        }
        for place in [7.0, 3.0, 29.0, 3.0] {
            form.take_shaft(place, true);
        }
        assert_eq!(form.shafts(), [3.0, 7.0, 29.0]);
        form.limit_shafts(29);
        assert_eq!(form.shafts(), [3.0, 7.0]);
    }
}
