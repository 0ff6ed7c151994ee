//! How sure each result is, from how sure its inputs are.
//!
//! Linear propagation of standard uncertainties taken as independent: u² = Σ (c uᵢ)², where c is the
//! slope of the result over the input's own uncertainty either way (JCGM 100:2008, GUM, 5.1.2 and 5.1.3
//! note 2). About two results in three lie within one u, nineteen in twenty within two.
//!
//! It is the inputs' share alone. What the model leaves open (how far off a speed from the kind of bow may
//! be, how well the target is calibrated) comes on top; the row of each result says it.

use clothyard_core::eval::Outputs;
use clothyard_core::eval::baseline::{Baseline, range};
use clothyard_core::format;
use clothyard_core::schema::{DrawWeightFrom, Field, Output};
use clothyard_core::units::{Quantity, Units, clamp};

/// Two standard uncertainties: nineteen results in twenty.
const COVERAGE: f64 = 2.0;

/// How a field's value is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// Weighed or measured by the user.
    Weighed,
    /// Read off a label by the user.
    Label,
    /// Left to the page.
    Guessed,
}

/// How sure a result is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// The result.
    pub output: Output,
    /// Its number, in its saved unit.
    pub number: f64,
    /// Its standard uncertainty, in the same unit.
    pub standard: f64,
    /// The input that adds most to it: the first to measure. None where nothing does.
    pub most_from: Option<Field>,
}

/// How a field is known now.
#[must_use]
pub fn known(held: &Baseline<'_>, field: Field) -> Known {
    if !held.resolved.is_user_given(field) && !held.resolved.is_read(field) {
        Known::Guessed
    } else if field == Field::PeakDrawWeight && held.resolved.choice::<DrawWeightFrom>() == DrawWeightFrom::Label {
        Known::Label
    } else {
        Known::Weighed
    }
}

/// The standard uncertainty of an input, in the saved unit of its quantity (from memory, low confidence).
///
/// What is left to the page at nought stays absent where its uncertainty is a share of it. A count is
/// exact.
#[must_use]
pub fn standard_uncertainty(quantity: Quantity, known: Known, value: f64) -> f64 {
    // Weighed or measured, then guessed: in the saved unit, and as a share of the value.
    let [weighed, guessed] = match quantity {
        Quantity::DrawWeight => [(0.0, 0.01), (0.0, 0.1)],
        Quantity::Length => [(0.06, 0.0), (0.5, 0.0)],
        Quantity::SmallLength => [(0.003, 0.0), (0.0, 0.1)],
        Quantity::Mass => [(0.5, 0.0), (0.0, 0.2)],
        Quantity::LinearMass => [(0.05, 0.0), (0.0, 0.05)],
        Quantity::Speed => [(2.0, 0.0), (0.0, 0.05)],
        Quantity::StaticSpine => [(0.0, 0.02), (0.0, 0.1)],
        Quantity::Percent => [(1.0, 0.0), (3.0, 0.0)],
        Quantity::Angle => [(0.5, 0.0), (1.0, 0.0)],
        Quantity::MassPerDraw => [(0.1, 0.0), (0.5, 0.0)],
        // Exact, or no input that the results hang on.
        _ => [(0.0, 0.0); 2],
    };
    let (plain, share) = match known {
        Known::Weighed => weighed,
        // Only a draw weight is read off a label: some pounds either way.
        Known::Label => (0.0, 0.05),
        Known::Guessed => guessed,
    };
    plain + share * value.abs()
}

/// How sure each of the results is; one that has no number, or loses it within an input's uncertainty,
/// is left out.
#[must_use]
pub fn ranges(held: &Baseline<'_>, outputs: &[Output]) -> Vec<Range> {
    let stands = held.outputs(&held.resolved, outputs);
    let mut sums: Vec<Sum> = outputs.iter().map(|&output| Sum::new(output, &stands)).collect();
    for field in Field::ALL {
        if let Some(swing) = Swing::of(held, field, outputs) {
            sums.iter_mut().for_each(|sum| sum.add(&swing, field));
        }
    }
    sums.iter().filter_map(Sum::range).collect()
}

/// How sure results are, as a table: each with its number, give or take two standard uncertainties, and the input to
/// measure first.
#[must_use]
pub fn rows(held: &Baseline<'_>, outputs: &[Output], units: &Units) -> Vec<[String; 4]> {
    let row = |range: Range| {
        let say = |number| format::result(range.output, Some(number), units);
        let first = range.most_from.map_or("–", |field| field.input().label);
        let spread = format!("± {}", say(COVERAGE * range.standard));
        [range.output.row().label.to_owned(), say(range.number), spread, first.to_owned()]
    };
    ranges(held, outputs).into_iter().map(row).collect()
}

/// The results a standard uncertainty below and above where a field stands.
struct Swing {
    below: Outputs,
    above: Outputs,
    /// The uncertainty over the way between the two: less than a half only where a range ends.
    share: f64,
}

impl Swing {
    fn of(held: &Baseline<'_>, field: Field, outputs: &[Output]) -> Option<Self> {
        let stands = held.in_play(field)?;
        // A shaft's weight that follows from the weighed bare shaft is as sure as that is, and counted there.
        let weighed = held.resolved.given(Field::BareShaft).is_some() && !held.resolved.is_user_given(field);
        if field == Field::ShaftLinearMass && weighed {
            return None;
        }
        let u = standard_uncertainty(field.input().quantity()?, known(held, field), stands);
        let (minimum, maximum) = range(field).ok()?;
        let (low, high) = (clamp(stands - u, minimum, maximum), clamp(stands + u, minimum, maximum));
        let at = |value| held.outputs(&held.with(field, value), outputs);
        (low < high).then(|| Self { below: at(low), above: at(high), share: u / (high - low) })
    }
}

/// The sum of squares of one result.
struct Sum {
    output: Output,
    number: Option<f64>,
    squares: f64,
    most: (f64, Option<Field>),
}

impl Sum {
    fn new(output: Output, stands: &Outputs) -> Self {
        Self { output, number: stands.get(output), squares: 0.0, most: (0.0, None) }
    }

    fn add(&mut self, swing: &Swing, field: Field) {
        let (Some(below), Some(above)) = (swing.below.get(self.output), swing.above.get(self.output)) else {
            self.number = None;
            return;
        };
        let part = (above - below) * swing.share;
        self.squares += part * part;
        if part.abs() > self.most.0 {
            self.most = (part.abs(), Some(field));
        }
    }

    fn range(&self) -> Option<Range> {
        let (output, (_, most_from)) = (self.output, self.most);
        Some(Range { output, number: self.number?, standard: self.squares.sqrt(), most_from })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::Setup;
    use clothyard_core::eval::ResolvedSetup;
    use clothyard_core::testing::all_user_given;
    use clothyard_core::testing::any_setup;
    use clothyard_core::{Evaluation, Value};
    use proptest::prelude::*;

    /// Normal deviates from a fixed seed: xorshift64* (Vigna 2016, from memory), Box and Muller (1958).
    struct Deviates(u64);

    impl Deviates {
        fn uniform(&mut self) -> f64 {
            self.0 ^= self.0 >> 12;
            self.0 ^= self.0 << 25;
            self.0 ^= self.0 >> 27;
            ((self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11) as f64 + 0.5) / (1u64 << 53) as f64
        }

        fn normal(&mut self) -> f64 {
            (-2.0 * self.uniform().ln()).sqrt() * (core::f64::consts::TAU * self.uniform()).cos()
        }
    }

    const WANTED: [Output; 5] = [
        Output::TotalWeight,
        Output::FrontOfCentre,
        Output::LaunchSpeed,
        Output::KineticEnergy,
        Output::IdealDrawWeight,
    ];

    /// All measured, and nothing at the end of its range or near it, so that every slope has two sides.
    fn measured() -> Setup {
        let mut setup = all_user_given(&Setup::default().with(Field::PeakDrawWeight, 60.0).unwrap());
        for field in Field::ALL {
            let (Ok((minimum, _)), Some(Value::Number(number))) = (range(field), setup.get(field)) else { continue };
            if number == minimum {
                setup.set(field, None).unwrap();
            }
        }
        setup.with(Field::EnergyLoss, 10.0).unwrap()
    }

    #[test]
    fn the_propagation_is_a_monte_carlo_s() {
        const SAMPLES: usize = 4000;
        let setup = measured();
        let held = Baseline::new(&setup);
        let mut deviates = Deviates(0x5EED);
        let (mut sums, mut squares) = ([0.0; 5], [0.0; 5]);
        let stands = Evaluation::of(&setup).outputs;
        for _ in 0..SAMPLES {
            let mut sample = setup.clone();
            for field in Field::ALL {
                if let (Some(quantity), Some(value)) = (field.input().quantity(), held.in_play(field)) {
                    let u = standard_uncertainty(quantity, known(&held, field), value);
                    let (minimum, maximum) = range(field).unwrap();
                    let drawn = clamp(value + u * deviates.normal(), minimum, maximum);
                    sample.set(field, Some(Value::Number(drawn))).unwrap();
                }
            }
            let outputs = ResolvedSetup::new(&sample).outputs;
            for (place, output) in WANTED.into_iter().enumerate() {
                let off = outputs.get(output).unwrap() - stands.get(output).unwrap();
                sums[place] += off;
                squares[place] += off * off;
            }
        }
        let count = SAMPLES as f64;
        for (place, range) in ranges(&Baseline::new(&setup), &WANTED).into_iter().enumerate() {
            let deviation = ((squares[place] - sums[place] * sums[place] / count) / (count - 1.0)).sqrt();
            // A sample's standard deviation scatters by 1 / √(2 (n − 1)), here 1.1 %; four of these.
            let tolerance = 4.0 / (2.0 * (count - 1.0)).sqrt();
            let off = range.standard / deviation - 1.0;
            assert!(off.abs() < tolerance, "{:?}: {} {deviation} {off}", range.output, range.standard);
        }
    }

    #[test]
    fn weight_in_closed_form() {
        // Only the point is uncertain by much: guessed, 20 % of 100 gr.
        let mut setup = measured();
        let sure = ranges(&Baseline::new(&setup), &WANTED)[0];
        setup.set(Field::PointMass, None).unwrap();
        let unsure = ranges(&Baseline::new(&setup), &WANTED)[0];
        assert!((unsure.standard.powi(2) - sure.standard.powi(2) - (20.0_f64.powi(2) - 0.25)).abs() < 1e-6);
        assert_eq!(unsure.most_from, Some(Field::PointMass));
    }

    #[test]
    fn a_label_is_less_sure_than_a_scale() {
        let scale = measured();
        let mut label = scale.clone();
        label.choose(DrawWeightFrom::Label);
        let speed = |setup: &Setup| ranges(&Baseline::new(setup), &[Output::LaunchSpeed])[0];
        let (scale, label) = (speed(&scale), speed(&label));
        assert!(label.standard > scale.standard);
        // Speed grows with the root of the draw weight: 5 % of one is 2.5 % of the other.
        let added = (label.standard.powi(2) - scale.standard.powi(2)).sqrt() / label.number;
        assert!((added - 0.025 * (1.0_f64 - 0.04).sqrt()).abs() < 1e-4, "{added}");
        assert_eq!(label.most_from, Some(Field::PeakDrawWeight));
    }

    #[test]
    fn a_weighed_shaft_is_counted_once() {
        let setup = Setup::default().with(Field::CutLength, 28.0).unwrap().with(Field::BareShaft, 252.0).unwrap();
        let range = ranges(&Baseline::new(&setup), &[Output::ShaftWeight])[0];
        // Its own half grain, and the cut's 0.06 in at 9 gr per inch.
        assert!((range.standard - 0.5_f64.hypot(0.06 * 9.0)).abs() < 1e-9, "{}", range.standard);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(40))]

        #[test]
        fn a_range_is_about_the_page_s_own_number(setup in any_setup()) {
            let outputs = Evaluation::of(&setup).outputs;
            for range in ranges(&Baseline::new(&setup), &WANTED) {
                prop_assert_eq!(Some(range.number), outputs.get(range.output));
                prop_assert!(range.standard.is_finite() && range.standard >= 0.0);
                prop_assert_eq!(range.most_from.is_some(), range.standard > 0.0);
            }
        }
    }
}
