//! Stability as a table, by point weight, and on a small drawing.

use super::says::{distance, length};
use super::shot::Shot;
use super::steady::Steady;
use clothyard_core::drawing;
use clothyard_core::drawing::{Mark, Room, Shape};
use clothyard_core::eval::Evaluation;
use clothyard_core::eval::baseline::Baseline;
use clothyard_core::format::{entered, heading, measured, said};
use clothyard_core::schema::Output;
use clothyard_core::schema::{Field, Value};
use clothyard_core::setup::{PhysicalModel, flying};
use clothyard_core::units::{Quantity, Units};
use clothyard_mechanics::flight::{Stability, Yaw};
use core::f64::consts::PI;

/// Steps of the point's weight either way, in grains.
const POINT_STEPS_GR: [f64; 6] = [-50.0, -25.0, 0.0, 25.0, 50.0, 100.0];
/// Points of the line of spin.
const SPIN_POINTS: usize = 41;
/// Height of the small drawing, and how much lower than the large one it begins.
pub const DRAWING_PX: f64 = 104.0;
const LOWERED_PX: f64 = 14.0;

/// A name and its number in words.
pub type Row = (&'static str, String);

impl Steady {
    /// Its numbers, a row each.
    #[must_use]
    pub fn rows(&self, units: &Units) -> Vec<Row> {
        let margin = |stability: &Stability| {
            let share = said(100.0 * stability.margin_of_length, 1);
            format!("{}, {share}% of the length", length(stability.margin_m, units))
        };
        let mut rows = vec![
            ("Center of pressure, from nock groove", length(self.now.center_of_pressure_m, units)),
            ("Static margin (behind balance point)", margin(&self.now)),
            ("Static margin in shaft diameters", said(self.now.margin_calibers, 1)),
        ];
        if let Some(plain) = &self.with_a_field_point {
            rows.push(("Static margin with a field point of equal weight", margin(plain)));
        }
        let (swing, half) = match self.yaw {
            Yaw::Oscillates { wavelength_m, half_distance_m, .. } => (Some(wavelength_m), Some(half_distance_m)),
            Yaw::Decays { half_distance_m } => (None, Some(half_distance_m)),
            Yaw::Grows { .. } => (None, None),
        };
        let said = |meters: Option<f64>| meters.map_or_else(|| "–".to_owned(), |meters| distance(meters, units));
        let turn = self.spin.filter(|spin| spin.settled_rad_per_m > 0.0);
        rows.push(("Distance per wobble", said(swing)));
        rows.push(("Distance in which a wobble halves", said(half)));
        rows.push(("Distance per turn at full spin", said(turn.map(|spin| 2.0 * PI / spin.settled_rad_per_m))));
        rows
    }

    /// Turns a second against distance, in yards, out to a distance (m); nothing where nothing turns it.
    #[must_use]
    pub fn spin_line(&self, shot: &Shot, to_m: f64) -> Vec<(f64, Option<f64>)> {
        let Some(spin) = self.spin.filter(|spin| spin.settled_rad_per_m > 0.0) else { return Vec::new() };
        let point = |place: usize| {
            let way_m = to_m * place as f64 / (SPIN_POINTS - 1) as f64;
            let speed = shot.drag.speed_after_m_per_s(shot.speed_m_per_s, way_m, shot.mass_kg, &shot.air).ok();
            let turns = speed.map(|speed| spin.turning_rad_per_m(way_m) * speed / (2.0 * PI));
            (Quantity::Distance.from_si(way_m), turns)
        };
        (0..SPIN_POINTS).map(point).collect()
    }
}

/// The note on a single vane, whose effect is not calculated.
#[must_use]
pub fn one_vane(all: &Evaluation) -> &'static str {
    if (0.5..1.5).contains(&all.resolved.number(Field::VaneCount)) {
        "A single vane steers in one direction only. Its effect and drag are not included."
    } else {
        ""
    }
}

/// The headings of the table of point weights.
#[must_use]
pub fn headings(units: &Units) -> [String; 4] {
    [
        heading("Point", Quantity::Mass, units),
        heading("Balance point", Quantity::Length, units),
        heading("Center of pressure", Quantity::Length, units),
        "Margin, % of length".to_owned(),
    ]
}

/// Balance point, center of pressure and margin for the point's weight as it is and some steps either way, all else
/// held.
#[must_use]
pub fn point_weights(held: &Baseline<'_>, units: &Units) -> Vec<[String; 4]> {
    let now = held.resolved.number(Field::PointMass);
    let row = |step: &f64| {
        let weight = now + step;
        Field::PointMass.input().check(Value::Number(weight)).ok()?;
        let resolved = held.with(Field::PointMass, weight);
        let model = PhysicalModel::new(&resolved, &held.setup().own_parts).ok()?;
        let arrow = flying(&resolved, &model).ok()?;
        let stability = arrow.stability().ok()?;
        let bare =
            |meters: f64| clothyard_core::format::bare(Quantity::Length, Quantity::Length.from_si(meters), units);
        let cells = [
            entered(Quantity::Mass, weight, units) + if *step == 0.0 { ", current" } else { "" },
            bare(arrow.balance_m),
            bare(stability.center_of_pressure_m),
            said(100.0 * stability.margin_of_length, 1),
        ];
        Some(cells)
    };
    POINT_STEPS_GR.iter().filter_map(row).collect()
}

/// The arrow to scale with its balance point and its center of pressure; nothing where its fields contradict
/// together.
#[must_use]
pub fn draw(all: &Evaluation, steady: &Steady, width: f64, units: &Units) -> Vec<(&'static str, Shape)> {
    let (room, last_in) = (Room { width, strip: false }, drawing::reach_in(all));
    let marks = drawing::draw_to(all, room, units, last_in);
    let keep = |mark: &Mark| {
        mark.group.is_some() && !["rest", "draw-length", "cut"].contains(&mark.style) || mark.style == "fulcrum"
    };
    let mut shapes: Vec<_> =
        marks.into_iter().filter(keep).map(|mark| (mark.style, mark.shape.lowered(-LOWERED_PX))).collect();
    let axis = room.axis() - LOWERED_PX;
    let x = |inches: f64| drawing::place_px(room, last_in, inches);
    let pressure = x(Quantity::Length.from_si(steady.now.center_of_pressure_m));
    shapes.push(("pressure", Shape::Line((pressure, axis - 26.0), (pressure, axis + 12.0))));
    let put = |x: f64, y: f64, words: String| {
        ("label", Shape::Text((x, y), if x > width / 2.0 { "end" } else { "start" }, words))
    };
    shapes.push(put(
        pressure,
        axis - 32.0,
        format!("center of pressure {}", length(steady.now.center_of_pressure_m, units)),
    ));
    if let Some(balance) = all.outputs.get(Output::BalancePoint) {
        shapes.push(put(
            x(balance),
            axis + 36.0,
            format!("balance point {}", measured(Quantity::Length, balance, units)),
        ));
    }
    shapes
}

/// What the drawing shows, in words.
#[must_use]
pub fn in_words(all: &Evaluation, steady: &Steady, units: &Units) -> String {
    let balance = all.outputs.get(Output::BalancePoint).map(|inches| measured(Quantity::Length, inches, units));
    format!(
        "The arrow to scale, nock at the left. Center of pressure {} from the nock groove, balance point {}.",
        length(steady.now.center_of_pressure_m, units),
        balance.unwrap_or_default()
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::Setup;
    use clothyard_core::schema::PointKind;
    use clothyard_core::setup::samples;

    fn steady(setup: &Setup) -> (Evaluation, Shot, Steady) {
        let all = Evaluation::of(setup);
        let shot = Shot::of(&all).unwrap();
        let steady = Steady::of(&all, &shot).unwrap();
        (all, shot, steady)
    }

    fn setup() -> Setup {
        samples::all().remove(0).setup
    }

    #[test]
    fn a_heavier_point_takes_the_balance_forward_and_leaves_the_pressure() {
        let (all, _, steady) = steady(&setup());
        let rows = point_weights(&Baseline::new(&setup()), &Units::ARCHERY);
        let number = |row: usize, column: usize| rows[row][column].parse::<f64>().unwrap();
        assert_eq!(rows.len(), 6);
        for row in 1..6 {
            assert!(number(row, 1) > number(row - 1, 1) && number(row, 3) > number(row - 1, 3));
            assert!((number(row, 2) - number(0, 2)).abs() < 0.011);
        }
        assert_eq!(rows.iter().position(|row| row[0].ends_with(", current")), Some(2));
        assert_eq!(
            rows[2][1],
            clothyard_core::format::bare(
                Quantity::Length,
                all.outputs.get(Output::BalancePoint).unwrap(),
                &Units::ARCHERY
            )
        );
        assert_eq!(rows[2][3], said(100.0 * steady.now.margin_of_length, 1));
    }

    #[test]
    fn spin_rises_to_what_the_settled_turning_gives_at_the_speed_there() {
        let (_, shot, steady) = steady(&setup().with(Field::VaneOffset, 2.0).unwrap());
        let line = steady.spin_line(&shot, 60.0);
        assert_eq!((line.len(), line[0]), (41, (0.0, Some(0.0))));
        let turning = steady.spin.unwrap().settled_rad_per_m;
        let most = turning * shot.speed_m_per_s / (2.0 * PI);
        let last = line[40].1.unwrap();
        assert!(last < most && last > 0.8 * most, "{last} {most}");
        let straight = setup().with(Field::VaneOffset, 0.0).unwrap();
        let (_, shot, steady) = self::steady(&straight);
        assert!(steady.spin_line(&shot, 60.0).is_empty());
    }

    #[test]
    fn the_drawing_holds_both_marks_in_their_order() {
        let (all, _, steady) = steady(&setup());
        let shapes = draw(&all, &steady, 700.0, &Units::ARCHERY);
        let of = |style: &str| {
            let (_, shape) = shapes.iter().find(|(name, _)| *name == style).unwrap();
            match shape {
                Shape::Line(at, _) => at.0,
                Shape::Polygon(points) => points[0].0,
                Shape::Text(at, ..) => at.0,
            }
        };
        let per_meter = 1e3 / 25.4 * drawing::scale_px(Room { width: 700.0, strip: false }, drawing::reach_in(&all));
        let apart = (of("fulcrum") - of("pressure")) / per_meter;
        assert!((apart / steady.now.margin_m - 1.0).abs() < 1e-6, "{apart}");
        assert!(in_words(&all, &steady, &Units::ARCHERY).contains("balance point"));
    }

    #[test]
    fn a_single_vane_is_said_to_be_left_out() {
        assert_eq!(one_vane(&Evaluation::of(&setup())), "");
        let one = Evaluation::of(&setup().with(Field::VaneCount, 1.0).unwrap());
        assert!(one_vane(&one).starts_with("A single vane steers"));
    }

    #[test]
    fn rows_of_a_broadhead_name_the_field_point() {
        let mut setup = setup();
        setup.choose(PointKind::FixedBlade);
        let (_, _, broadhead) = steady(&setup);
        assert!(broadhead.rows(&Units::metric()).iter().any(|(name, _)| name.contains("with a field point")));
    }
}
