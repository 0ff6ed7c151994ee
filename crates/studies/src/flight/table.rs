//! The trajectory table: columns, cells in the chosen units, and a file.

use super::legs::Leg;
use super::says::{distance, percent, roughly};
use super::shot::{Answer, Shot};
use clothyard_core::csv::Csv;
use clothyard_core::format::{entered_with_unit, heading, said, trimmed};
use clothyard_core::schema::Field;
use clothyard_core::setup::Resolved;
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::units::METER_PER_FOOT;

/// What a column is told of.
struct Place<'a> {
    leg: &'a Leg,
    /// The next distance that has an answer.
    next: Option<&'a Leg>,
    units: &'a Units,
}

/// A column: heading without its unit, what it measures, how many decimals more or fewer than a result of that
/// quantity, and its number in SI.
struct Column {
    heading: &'static str,
    quantity: Quantity,
    decimals: isize,
    number: fn(&Place<'_>) -> Option<f64>,
}

const fn column(
    heading: &'static str,
    quantity: Quantity,
    decimals: isize,
    number: fn(&Place<'_>) -> Option<f64>,
) -> Column {
    Column { heading, quantity, decimals, number }
}

/// The most asked for first: a phone shows few.
static COLUMNS: [Column; 13] = [
    column("Distance", Quantity::Distance, 1, |at| Some(at.leg.distance_m)),
    column("Height above line of sight", Quantity::Length, 0, |at| Some(at.leg.height_m)),
    column("Sight gap to next", Quantity::SmallLength, -1, |at| Some(at.next?.mark_m - at.leg.mark_m)),
    column("Speed", Quantity::Speed, 0, |at| Some(at.leg.speed_m_per_s)),
    column("Energy", Quantity::Energy, 0, |at| Some(at.leg.energy_j)),
    column("Wind drift", Quantity::Length, 0, |at| Some(at.leg.drift_m)),
    column("Drift per", Quantity::Length, 0, |at| Some(at.leg.drift_per_m_per_s * at.units.of(Quantity::WindSpeed).si)),
    column("Still hits from", Quantity::Distance, 1, |at| Some(at.leg.near_m)),
    column("Still hits to", Quantity::Distance, 1, |at| Some(at.leg.far_m)),
    column("Time, s", Quantity::Ratio, 0, |at| Some(at.leg.time_s)),
    column("Momentum", Quantity::Momentum, 0, |at| Some(at.leg.momentum_kg_m_per_s)),
    column("Peak height", Quantity::Length, 0, |at| Some(at.leg.highest_m)),
    column("Highest at", Quantity::Distance, 1, |at| Some(at.leg.highest_at_m)),
];

impl Column {
    fn heading(&self, units: &Units) -> String {
        let wind = if self.heading.ends_with("per") {
            format!(" {} of crosswind", units.of(Quantity::WindSpeed).symbol)
        } else {
            String::new()
        };
        heading(&format!("{}{wind}", self.heading), self.quantity, units)
    }

    fn decimals(&self, units: &Units) -> usize {
        units.of(self.quantity).decimals.saturating_add_signed(self.decimals)
    }

    fn shown(&self, place: &Place<'_>) -> Option<f64> {
        Some(place.units.show(self.quantity, self.quantity.from_si((self.number)(place)?)))
    }

    fn cell(&self, place: &Place<'_>) -> String {
        self.shown(place).map_or_else(|| "–".to_owned(), |number| said(number, self.decimals(place.units)))
    }
}

/// The headings, with their units.
#[must_use]
pub fn headings(units: &Units) -> Vec<String> {
    COLUMNS.iter().map(|column| column.heading(units)).collect()
}

/// A row of the table: a cell for each heading, or why there is none; its first cell is the distance.
pub type Cells = (String, Result<Vec<String>, &'static str>);

/// The rows of some distances.
#[must_use]
pub fn rows(distances_m: &[f64], legs: &[Answer<Leg>], units: &Units) -> Vec<Cells> {
    let row = |(place, (&meters, leg)): (usize, (&f64, &Answer<Leg>))| {
        let cells = leg.as_ref().map_err(super::FlightError::sentence).map(|leg| {
            let place = Place { leg, next: next(legs, place), units };
            COLUMNS.iter().skip(1).map(|column| column.cell(&place)).collect()
        });
        let shown = units.show(Quantity::Distance, Quantity::Distance.from_si(meters));
        (trimmed(shown, 1), cells)
    };
    distances_m.iter().zip(legs).enumerate().map(row).collect()
}

fn next(legs: &[Answer<Leg>], place: usize) -> Option<&Leg> {
    legs.iter().skip(place + 1).flatten().next()
}

/// The table as a file: of each setup, by its letter where there are two, every distance it comes to.
#[must_use]
pub fn to_csv(sets: &[(&str, Vec<Answer<Leg>>)], units: &Units) -> String {
    let mut csv = Csv::default();
    let lettered = sets.len() > 1;
    if lettered {
        csv.text("Setup");
    }
    COLUMNS.iter().for_each(|column| csv.text(&column.heading(units)));
    csv.end_row();
    for (letter, legs) in sets {
        for (place, leg) in legs.iter().enumerate() {
            let Ok(leg) = leg else { continue };
            if lettered {
                csv.text(letter);
            }
            let at = Place { leg, next: next(legs, place), units };
            COLUMNS.iter().for_each(|column| csv.number(column.shown(&at), column.decimals(units) + 1));
            csv.end_row();
        }
    }
    csv.finish()
}

/// What the table says of the farthest distance, aloud.
#[must_use]
pub fn takeaway(shot: &Shot, legs: &[Answer<Leg>], units: &Units) -> String {
    let Some(last) = legs.iter().flatten().last() else { return "All distances are out of range.".to_owned() };
    let at = distance(last.distance_m, units);
    let over = if last.height_m < 0.0 { "below" } else { "above" };
    let high = roughly(last.height_m.abs(), units);
    let set = distance(shot.sighted_m, units);
    let start_j = 0.5 * shot.mass_kg * shot.speed_m_per_s * shot.speed_m_per_s;
    let kept = percent(last.energy_j / start_j);
    let tall = if last.highest_m > METER_PER_FOOT {
        format!(" It peaks {} above line of sight. Watch for branches.", roughly(last.highest_m, units))
    } else {
        String::new()
    };
    format!(
        "Sighted in at {set}, the arrow comes to {at} {high} {over} the line of sight, with {kept}% of its launch energy.{tall}"
    )
}

/// Where the wind comes from, by eighths of the clock from the target.
const SIDES: [&str; 8] = [
    "the target",
    "ahead on the right",
    "the right",
    "behind on the right",
    "behind",
    "behind on the left",
    "the left",
    "ahead on the left",
];

/// The wind in words, and which way it carries.
#[must_use]
pub fn wind(resolved: &Resolved, units: &Units) -> String {
    let speed = resolved.number(Field::Wind);
    if speed <= 0.0 {
        return "Still air.".to_owned();
    }
    let eighth = (resolved.number(Field::WindFrom) / 45.0 + 0.5) as usize % SIDES.len();
    let side = SIDES.get(eighth).copied().unwrap_or_default();
    let said = entered_with_unit(Quantity::WindSpeed, speed, units);
    format!("Wind {said} from {side}. Drift is to the right; negative, to the left.")
}

#[cfg(test)]
mod tests {
    use super::super::legs::legs;
    use super::super::shot::distances_m;
    use super::*;
    use clothyard_core::eval::Evaluation;
    use clothyard_core::setup::Setup;
    use clothyard_core::setup::samples;

    fn setup() -> Setup {
        samples::all().remove(0).setup
    }

    fn flown(setup: &Setup) -> (Evaluation, Shot, Vec<Answer<Leg>>) {
        let all = Evaluation::of(setup);
        let shot = Shot::of(&all).unwrap();
        let legs = legs(&shot, &distances_m(setup)).unwrap();
        (all, shot, legs)
    }

    #[test]
    fn cells_follow_the_units_and_each_other() {
        let (_, shot, legs) = flown(&setup());
        for units in [Units::ARCHERY, Units::metric()] {
            let rows = rows(&distances_m(&setup()), &legs, &units);
            assert_eq!(rows.len(), 6);
            let cells: Vec<_> = rows.iter().map(|(_, cells)| cells.as_ref().unwrap()).collect();
            assert!(cells.iter().all(|row| row.len() + 1 == headings(&units).len()));
            let number = |text: &str| text.parse::<f64>().unwrap();
            // Energy from the mass and the speed shown, to a half of its last digit: m v^2 / 2.
            let (speed, energy) = (number(&cells[2][2]) * units.of(Quantity::Speed).si, number(&cells[2][3]));
            let expected = 0.5 * shot.mass_kg * speed * speed / units.of(Quantity::Energy).si;
            assert!((energy / expected - 1.0).abs() < 5e-3, "{energy} {expected}");
            // The gaps add up to the farthest mark.
            let gaps: f64 = cells.iter().take(5).map(|row| number(&row[1])).sum();
            let mark =
                units.show(Quantity::SmallLength, Quantity::SmallLength.from_si(legs[5].as_ref().unwrap().mark_m));
            assert!((gaps - mark).abs() < 0.05 * 5.0, "{gaps} {mark}");
            assert_eq!(cells[5][1], "–");
        }
        assert_eq!(headings(&Units::metric())[6], "Drift per km/h of crosswind, cm");
    }

    #[test]
    fn the_file_holds_both_setups_by_letter() {
        let (_, _, legs) = flown(&setup());
        let alone = to_csv(&[("", legs.clone())], &Units::ARCHERY);
        assert_eq!(alone.lines().count(), 7);
        assert!(alone.starts_with("\"Distance, yd\","));
        let both = to_csv(&[("A", legs.clone()), ("B", legs)], &Units::ARCHERY);
        assert_eq!(both.lines().count(), 13);
        assert!(both.starts_with("Setup,") && both.lines().nth(7).unwrap().starts_with("B,10,"));
    }

    #[test]
    fn a_distance_out_of_reach_is_shown_in_words() {
        let slow = setup().with(Field::PeakDrawWeight, 5.0).unwrap().with(Field::PointMass, 600.0).unwrap();
        let shot = Shot::of(&Evaluation::of(&slow.with(Field::SightedAt, 5.0).unwrap())).unwrap();
        let legs = legs(&shot, &[0.95, 5.0, 137.0]).unwrap();
        let rows = rows(&[0.95, 5.0, 137.0], &legs, &Units::metric());
        assert_eq!(rows[2].1, Err("Out of range."));
        assert_eq!(rows[0].1, Err("Too close to aim."));
        assert_eq!((rows[1].0.as_str(), rows[1].1.is_ok()), ("5", true));
    }

    #[test]
    fn the_farthest_distance_and_the_wind_are_said() {
        let (all, shot, legs) = flown(&setup());
        let words = takeaway(&shot, &legs, &Units::ARCHERY);
        assert!(words.starts_with("Sighted in at 30\u{a0}yd, the arrow comes to 60\u{a0}yd "), "{words}");
        assert_eq!(wind(&all.resolved, &Units::ARCHERY), "Still air.");
        let side = |from: f64| {
            let mut setup = setup().with(Field::Wind, 10.0).unwrap();
            setup.set(Field::WindFrom, Some(clothyard_core::Value::Number(from))).unwrap();
            wind(&Evaluation::of(&setup).resolved, &Units::ARCHERY)
        };
        assert!(side(90.0).starts_with("Wind 10\u{a0}mph from the right."));
        assert!(side(359.0).contains("from the target.") && side(225.0).contains("behind on the left"));
    }
}
