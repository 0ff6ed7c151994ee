//! A batch of shafts or finished arrows: how alike they are, which belong together, and what the spread of their
//! weights does to the impact.

use super::sort::{Sorted, sort};
use crate::flight::shot::{Answer, FlightError, Shot};
use clothyard_core::eval::Evaluation;
use clothyard_core::schema::Field;
use clothyard_core::schema::Row;
use clothyard_core::units::Quantity;
use clothyard_mechanics::measured::{
    HeightSensitivity, MatchedSet, MeanShot, Shaft, SpreadCost, StiffSide, best_matched_set, stiff_side,
};
use clothyard_mechanics::units::METER_PER_INCH;

/// A dial on a spine rig shows thousandths of an inch.
const DIAL_M: f64 = 0.001 * METER_PER_INCH;

/// A step of launch speed, and one of mass as a share, to see how the impact follows.
const SPEED_STEP_M_PER_S: f64 = 0.1;
const MASS_STEP: f64 = 0.002;

/// One shaft or arrow as it was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Its own number, else that of its row, from 1.
    pub number: usize,
    /// Weight in grains.
    pub weight_gr: f64,
    /// Mean of its spine readings in thousandths; none without a reading.
    pub spine: Option<f64>,
    /// Its spine readings in thousandths, a quarter turn apart.
    pub readings: Vec<f64>,
    /// How far it is from straight, in inches.
    pub straightness_in: Option<f64>,
    /// Its balance point in inches.
    pub balance_in: Option<f64>,
}

impl Piece {
    fn of(place: usize, row: &Row) -> Option<Self> {
        let number_at = |place: usize| row.get(place).copied().flatten();
        let readings: Vec<f64> = (1..=4).filter_map(number_at).collect();
        let spine = (!readings.is_empty()).then(|| readings.iter().sum::<f64>() / readings.len() as f64);
        Some(Self {
            number: number_at(7).map_or(place, |own| own as usize),
            weight_gr: number_at(0)?,
            spine,
            readings,
            straightness_in: number_at(5),
            balance_in: number_at(6),
        })
    }

    /// What its four readings tell of its stiff side; none where there are not four.
    #[must_use]
    pub fn stiff_side(&self) -> Option<StiffSide> {
        let sags: Vec<_> = self.readings.iter().map(|reading| reading * DIAL_M).collect();
        (sags.len() == 4).then(|| stiff_side(&sags, DIAL_M).ok()).flatten()
    }
}

/// The pieces of a list. Where two would have the same number, all are numbered by their rows.
#[must_use]
pub fn pieces(rows: &[Row]) -> Vec<Piece> {
    let mut pieces: Vec<_> = rows.iter().enumerate().filter_map(|(place, row)| Piece::of(place + 1, row)).collect();
    if numbered_twice(&pieces) {
        pieces.iter_mut().zip(1..).for_each(|(piece, number)| piece.number = number);
    }
    pieces
}

fn numbered_twice(pieces: &[Piece]) -> bool {
    pieces.iter().enumerate().any(|(place, piece)| pieces.iter().take(place).any(|other| other.number == piece.number))
}

/// Whether the numbers of a list's rows cannot be used, since some are the same.
#[must_use]
pub fn numbers_clash(rows: &[Row]) -> bool {
    numbered_twice(&rows.iter().enumerate().filter_map(|(place, row)| Piece::of(place + 1, row)).collect::<Vec<_>>())
}

/// The least, the mean and the most of some numbers, and their standard deviation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// How many.
    pub count: usize,
    /// The least.
    pub least: f64,
    /// The mean.
    pub mean: f64,
    /// The most.
    pub most: f64,
    /// Standard deviation of the sample; none of a single number.
    pub deviation: Option<f64>,
}

impl Spread {
    /// The spread of some numbers; none where there are none.
    #[must_use]
    pub fn of(numbers: &[f64]) -> Option<Self> {
        let count = numbers.len();
        let least = numbers.iter().copied().reduce(f64::min)?;
        let most = numbers.iter().copied().reduce(f64::max)?;
        let mean = numbers.iter().sum::<f64>() / count as f64;
        let squares: f64 = numbers.iter().map(|number| (number - mean) * (number - mean)).sum();
        let deviation = (count > 1).then(|| (squares / (count - 1) as f64).sqrt());
        Some(Self { count, least, mean, most, deviation })
    }

    /// The most less the least.
    #[must_use]
    pub fn range(&self) -> f64 {
        self.most - self.least
    }
}

/// What makes two pieces different: this much weight counts as this much spine.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worth {
    /// Grains that count as one.
    pub weight_gr: f64,
    /// Thousandths of spine that count as one.
    pub spine: f64,
}

/// The pieces that belong together: exactly the set of `wanted` whose spreads of weight and spine, each in its worth,
/// add up to the least. Pieces without a spine are matched by weight alone if none has one, else left out.
///
/// None where fewer than `wanted` can be taken.
#[must_use]
pub fn best_set(pieces: &[Piece], wanted: usize, worth: Worth) -> Option<(Vec<usize>, MatchedSet)> {
    let by_weight_alone = pieces.iter().all(|piece| piece.spine.is_none());
    let usable: Vec<_> = pieces.iter().filter(|piece| by_weight_alone || piece.spine.is_some()).collect();
    let shaft = |piece: &&Piece| Shaft {
        mass_kg: Quantity::Mass.to_si(piece.weight_gr),
        // Any one spine serves where weight alone decides.
        sag_m: Quantity::StaticSpine.to_si(piece.spine.unwrap_or(400.0)),
    };
    let shafts: Vec<_> = usable.iter().map(shaft).collect();
    let cost = SpreadCost {
        per_kg: 1.0 / Quantity::Mass.to_si(worth.weight_gr),
        per_m: 1.0 / Quantity::StaticSpine.to_si(worth.spine),
    };
    let set = best_matched_set(&shafts, wanted, cost).ok()?;
    let numbers = set.members().iter().filter_map(|&member| usable.get(usize::from(member)));
    Some((numbers.map(|piece| piece.number).collect(), set))
}

/// What a spread of weight does at a distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeightOfWeights {
    /// How far apart in height the lightest and the heaviest strike, in meters.
    pub spread_m: f64,
    /// The spread of weight in kilograms that keeps it within a size; none where any would.
    pub tolerance_kg: Option<f64>,
}

/// How far apart arrows strike at a distance whose weights differ by so much, aimed alike.
///
/// # Errors
/// [`FlightError`].
pub fn height_of_weights(
    all: &Evaluation,
    shot: &Shot,
    distance_m: f64,
    weight_spread_kg: f64,
    size_m: f64,
) -> Answer<HeightOfWeights> {
    let model = all.model.as_ref().ok_or(FlightError::NoLaunch)?;
    let elevation = shot.archer(|archer| archer.aim(distance_m))?.elevation_rad;
    let height = |shot: &Shot| {
        shot.archer(|archer| archer.flight().at_distance(&archer.launch(elevation, 0.0)?, distance_m))
            .map(|moment| moment.height_m)
    };
    let faster = |step: f64| height(&Shot { speed_m_per_s: shot.speed_m_per_s + step, ..*shot });
    let heavier = |step: f64| height(&Shot { mass_kg: shot.mass_kg * (1.0 + step), ..*shot });
    let sensitivity = HeightSensitivity {
        per_speed_s: (faster(SPEED_STEP_M_PER_S)? - faster(-SPEED_STEP_M_PER_S)?) / (2.0 * SPEED_STEP_M_PER_S),
        per_mass_m_per_kg: (heavier(MASS_STEP)? - heavier(-MASS_STEP)?) / (2.0 * MASS_STEP * shot.mass_kg),
    };
    let mean = MeanShot {
        speed_m_per_s: shot.speed_m_per_s,
        arrow_mass_kg: shot.mass_kg,
        virtual_mass_kg: model.bow.virtual_mass_kg,
    };
    Ok(HeightOfWeights {
        spread_m: mean.height_spread_m(weight_spread_kg, &sensitivity)?,
        tolerance_kg: mean.mass_tolerance_kg(size_m, &sensitivity)?,
    })
}

/// How many pieces belong together until the user says: a dozen where there are as many, else half of it.
const USUAL_SETS: [usize; 2] = [12, 6];

/// The batch sorted, with the size of its set.
#[must_use]
pub fn sorted(pieces: &[Piece], all: &Evaluation) -> (usize, Sorted) {
    let of = |wanted: usize| (wanted, sort(pieces, wanted, worth(all)));
    let [dozen, six] = USUAL_SETS;
    match all.resolved.given(Field::SetSize) {
        Some(wanted) => of(wanted as usize),
        None => Some(of(dozen)).filter(|(_, sorted)| sorted.set.is_some()).unwrap_or_else(|| of(six)),
    }
}

/// The worth set on the form.
#[must_use]
pub fn worth(all: &Evaluation) -> Worth {
    Worth { weight_gr: all.resolved.number(Field::WeightWorth), spine: all.resolved.number(Field::SpineWorth) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::setup::samples;
    use proptest::prelude::*;

    fn row(numbers: &[f64]) -> Row {
        (0..8).map(|place| numbers.get(place).copied()).collect()
    }

    const WORTH: Worth = Worth { weight_gr: 3.0, spine: 5.0 };

    #[test]
    fn a_spread_is_that_of_the_sample() {
        // NIST/SEMATECH e-Handbook's form of the standard deviation: n - 1. By hand: 2, 4, 4, 4, 5, 5, 7, 9.
        let spread = Spread::of(&[2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0]).unwrap();
        assert_eq!((spread.least, spread.mean, spread.most, spread.range()), (2.0, 5.0, 9.0, 7.0));
        assert!((spread.deviation.unwrap() - (32.0_f64 / 7.0).sqrt()).abs() < 1e-15);
        assert_eq!(Spread::of(&[1.0]).unwrap().deviation, None);
        assert_eq!(Spread::of(&[]), None);
    }

    #[test]
    fn without_a_spine_weight_alone_decides() {
        let list = pieces(&[row(&[300.0]), row(&[310.0]), row(&[301.0]), row(&[299.5])]);
        let (numbers, _) = best_set(&list, 3, WORTH).unwrap();
        assert_eq!(numbers, [1, 3, 4]);
        assert!(best_set(&list, 5, WORTH).is_none());
    }

    #[test]
    fn a_piece_without_a_spine_is_left_out_where_others_have_one() {
        let list = pieces(&[row(&[300.0, 400.0]), row(&[300.0]), row(&[305.0, 401.0])]);
        assert_eq!(best_set(&list, 2, WORTH).unwrap().0, [1, 3]);
    }

    #[test]
    fn pieces_have_their_own_numbers_unless_two_are_the_same() {
        let numbered = |own: [f64; 3]| {
            let rows = own.map(|own| {
                let mut row = row(&[300.0, 400.0]);
                row[7] = (own > 0.0).then_some(own);
                row
            });
            (pieces(&rows).iter().map(|piece| piece.number).collect::<Vec<_>>(), numbers_clash(&rows))
        };
        assert_eq!(numbered([17.0, 4.0, 0.0]), (vec![17, 4, 3], false));
        assert_eq!(numbered([3.0, 4.0, 0.0]), (vec![1, 2, 3], true));
    }

    #[test]
    fn the_set_is_a_dozen_where_there_are_as_many() {
        let all = Evaluation::of(&samples::all()[0].setup);
        let batch =
            |count: usize| pieces(&(0..count).map(|place| row(&[300.0 + place as f64, 400.0])).collect::<Vec<_>>());
        assert_eq!(sorted(&batch(13), &all).0, 12);
        assert_eq!(sorted(&batch(11), &all).0, 6);
        let mut crooked = batch(12);
        crooked[3].straightness_in = Some(0.02);
        assert_eq!(sorted(&crooked, &all).0, 6);
        let four = Evaluation::of(&samples::all()[0].setup.clone().with(Field::SetSize, 4.0).unwrap());
        assert_eq!(sorted(&batch(13), &four).0, 4);
    }

    #[test]
    fn four_readings_show_the_stiff_plane() {
        let list = pieces(&[row(&[300.0, 400.0, 390.0, 401.0, 391.0])]);
        let side = list[0].stiff_side().unwrap();
        assert!((side.stiff_plane_rad.unwrap().to_degrees() - 90.0).abs() < 1e-9);
        assert!((list[0].spine.unwrap() - 395.5).abs() < 1e-12);
    }

    #[test]
    fn the_tolerance_gives_just_the_size() {
        let all = Evaluation::of(&samples::all()[0].setup);
        let shot = Shot::of(&all).unwrap();
        let first = height_of_weights(&all, &shot, 45.0, 0.0003, 0.02).unwrap();
        let tolerance = first.tolerance_kg.unwrap();
        let there = height_of_weights(&all, &shot, 45.0, tolerance, 0.02).unwrap();
        assert!((there.spread_m - 0.02).abs() < 1e-12);
    }

    #[test]
    fn the_spread_is_that_of_two_arrows_shot() {
        // The same bow gives two arrows of different weights their speeds (Klopsteg); both fly with the same elevation.
        let all = Evaluation::of(&samples::all()[0].setup);
        let (shot, model) = (Shot::of(&all).unwrap(), all.model.as_ref().unwrap());
        let spread_kg = 0.000_2;
        let elevation = shot.archer(|archer| archer.aim(45.0)).unwrap().elevation_rad;
        let height = |mass_kg: f64| {
            let moving = model.bow.virtual_mass_kg;
            let speed = (2.0 * model.estimate.delivered_energy_j().value / (mass_kg + moving)).sqrt();
            let other = Shot { mass_kg, speed_m_per_s: speed, ..shot };
            let launch = |archer: &clothyard_mechanics::flight::Archer<'_>| {
                archer.flight().at_distance(&archer.launch(elevation, 0.0)?, 45.0)
            };
            other.archer(launch).unwrap().height_m
        };
        let shot_apart = height(shot.mass_kg - spread_kg / 2.0) - height(shot.mass_kg + spread_kg / 2.0);
        let said = height_of_weights(&all, &shot, 45.0, spread_kg, 0.02).unwrap().spread_m;
        assert!((said / shot_apart - 1.0).abs() < 1e-3, "{said} {shot_apart}");
    }

    proptest! {
        #[test]
        fn no_set_of_the_same_size_is_better(
            numbers in proptest::collection::vec((250.0..350.0f64, 380.0..420.0f64), 3..9), pick in 0u32..1000,
        ) {
            let rows: Vec<_> = numbers.iter().map(|&(weight, spine)| row(&[weight, spine])).collect();
            let list = pieces(&rows);
            let wanted = 2 + (pick as usize) % (list.len() - 1);
            let (_, set) = best_set(&list, wanted, WORTH).unwrap();
            // Any run of adjacent pieces, from a random place.
            let from = (pick as usize) % (list.len() - wanted + 1);
            let some = &list[from..from + wanted];
            let range = |of: &dyn Fn(&Piece) -> f64| Spread::of(&some.iter().map(of).collect::<Vec<_>>()).unwrap().range();
            let cost = range(&|piece| piece.weight_gr) / 3.0 + range(&|piece| piece.spine.unwrap()) / 5.0;
            prop_assert!(set.cost <= cost + 1e-9);
        }
    }
}
