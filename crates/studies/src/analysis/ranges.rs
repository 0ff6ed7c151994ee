//! Uncertainty of each result, from that of its inputs and of the bow's speed.
//!
//! Linear propagation of standard uncertainties taken as independent: u² = Σ (c uᵢ)², where c is the
//! slope of the result over the input's own uncertainty either way (JCGM 100:2008, GUM, 5.1.2 and 5.1.3
//! note 2). About two results in three are within one u, nineteen in twenty within two.
//!
//! What was read of the bow and what is usual for it are no inputs of that sum: their estimate is one more
//! uncertainty, that of the speed, and carries to energy and match. The launch speed's own uncertainty is the
//! one the page shows beside it, for an arrow of just this weight. How well the target is calibrated is not in it.

use clothyard_core::eval::baseline::{Baseline, range};
use clothyard_core::eval::{COVERAGE, Outputs};
use clothyard_core::format;
use clothyard_core::schema::{Field, Output};
use clothyard_core::setup::PhysicalModel;
use clothyard_core::units::{Units, clamp};

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

/// Fields that are known by the estimate of the bow alone.
const ESTIMATED: [Field; 8] = [
    Field::VirtualMass,
    Field::EnergyLoss,
    Field::RatedSpeed,
    Field::RatingDrawWeight,
    Field::RatingDrawLength,
    Field::RatingArrow,
    Field::ChronographSpeed,
    Field::ChronographArrow,
];

/// How sure each of the results is; one that has no number, or loses it within an input's uncertainty,
/// is left out.
#[must_use]
pub fn ranges(held: &Baseline<'_>, outputs: &[Output]) -> Vec<Range> {
    let current = held.outputs(&held.resolved, outputs);
    let mut sums: Vec<Sum> = outputs.iter().map(|&output| Sum::new(output, &current)).collect();
    let of_speed = Swing::of_speed(held, outputs).map(|swing| (swing, Field::ChronographSpeed));
    let of_fields = Field::ALL.into_iter().filter_map(|field| Some((Swing::of(held, field, outputs)?, field)));
    for (swing, field) in of_speed.into_iter().chain(of_fields) {
        sums.iter_mut().for_each(|sum| sum.add(&swing, field));
    }
    let of_launch = speed_share(&current);
    sums.iter().filter_map(|sum| sum.range(of_launch)).collect()
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

/// Standard uncertainty of the launch speed as a share of it: the one that the page shows.
fn speed_share(outputs: &Outputs) -> Option<f64> {
    Some(outputs.get(Output::SpeedSpread)? / COVERAGE / outputs.get(Output::LaunchSpeed)?)
}

/// How many times the share that the speed is off by a result is, where it hangs on nothing else that is unsure.
fn follows_speed(output: Output) -> Option<f64> {
    match output {
        Output::LaunchSpeed | Output::Momentum => Some(1.0),
        Output::KineticEnergy => Some(2.0),
        _ => None,
    }
}

/// The results a standard uncertainty below and above the value of a field.
struct Swing {
    below: Outputs,
    above: Outputs,
    /// The uncertainty over the way between the two: less than a half only where a range ends.
    share: f64,
}

impl Swing {
    fn of(held: &Baseline<'_>, field: Field, outputs: &[Output]) -> Option<Self> {
        let current = held.in_play(field).filter(|_| !ESTIMATED.contains(&field))?;
        // A shaft's weight that follows from the weighed bare shaft is as sure as that is, and counted there.
        let weighed = held.resolved.given(Field::BareShaft).is_some() && !held.resolved.is_user_given(field);
        if field == Field::ShaftLinearMass && weighed {
            return None;
        }
        let u = held.resolved.standard_uncertainty(field);
        let (minimum, maximum) = range(field).ok()?;
        let (low, high) = (clamp(current - u, minimum, maximum), clamp(current + u, minimum, maximum));
        // A number that is off was off when the speeds were read.
        let at = |value| held.outputs(&held.with(field, value).as_shot(), outputs);
        (low < high).then(|| Self { below: at(low), above: at(high), share: u / (high - low) })
    }

    /// The bow a standard uncertainty of its estimate slower and faster.
    fn of_speed(held: &Baseline<'_>, outputs: &[Output]) -> Option<Self> {
        let model = PhysicalModel::new(&held.resolved, &held.setup().own_parts).ok()?;
        let u = model.estimate.estimate_log_error(model.arrow().ok()?.mass_kg()).ok()?;
        let at = |factor| held.outputs(&held.resolved.with_speed_factor(factor), outputs);
        Some(Self { below: at(1.0 - u), above: at(1.0 + u), share: 0.5 })
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
    fn new(output: Output, current: &Outputs) -> Self {
        Self { output, number: current.get(output), squares: 0.0, most: (0.0, None) }
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

    fn range(&self, speed_share: Option<f64>) -> Option<Range> {
        let (output, number) = (self.output, self.number?);
        let of_speed = follows_speed(output).zip(speed_share).map(|(times, share)| times * share * number);
        let standard = of_speed.unwrap_or_else(|| self.squares.sqrt());
        Some(Range { output, number, standard, most_from: self.most.1 })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::Setup;
    use clothyard_core::eval::ResolvedSetup;
    use clothyard_core::schema::DrawWeightFrom;
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

    const WANTED: [Output; 5] =
        [Output::TotalWeight, Output::FrontOfCentre, Output::StoredEnergy, Output::ColumnLoad, Output::IdealDrawWeight];

    /// All measured, and nothing at the end of its range or near it, so that every slope has two sides.
    fn measured() -> Setup {
        let mut setup = all_user_given(&Setup::default().with(Field::PeakDrawWeight, 60.0).unwrap());
        for field in Field::ALL {
            let (Ok((minimum, _)), Some(Value::Number(number))) = (range(field), setup.get(field)) else { continue };
            if number == minimum {
                setup.set(field, None).unwrap();
            }
        }
        setup.choose(DrawWeightFrom::Scale);
        setup.with(Field::EnergyLoss, 10.0).unwrap()
    }

    #[test]
    fn the_propagation_is_a_monte_carlo_s() {
        const SAMPLES: usize = 4000;
        let setup = measured();
        let held = Baseline::new(&setup);
        let mut deviates = Deviates(0x5EED);
        let model = PhysicalModel::new(&held.resolved, &[]).unwrap();
        let of_speed = model.estimate.estimate_log_error(model.arrow().unwrap().mass_kg()).unwrap();
        let (mut sums, mut squares) = ([0.0; 5], [0.0; 5]);
        let current = Evaluation::of(&setup).outputs;
        for _ in 0..SAMPLES {
            let mut sample = held.resolved.with_speed_factor(1.0 + of_speed * deviates.normal());
            for field in Field::ALL {
                if let (Ok((minimum, maximum)), Some(value)) = (range(field), held.in_play(field))
                    && !ESTIMATED.contains(&field)
                {
                    let drawn = value + held.resolved.standard_uncertainty(field) * deviates.normal();
                    sample = sample.with(field, clamp(drawn, minimum, maximum));
                }
            }
            let outputs = ResolvedSetup::of(sample, &[]).outputs;
            for (place, output) in WANTED.into_iter().enumerate() {
                let off = outputs.get(output).unwrap() - current.get(output).unwrap();
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
        // A chronograph would tell more than a scale.
        assert_eq!(label.most_from, Some(Field::ChronographSpeed));
    }

    #[test]
    fn the_speed_is_as_sure_as_estimate_and_draw_make_it() {
        let wanted = [Output::LaunchSpeed, Output::Momentum, Output::KineticEnergy];
        let shot =
            measured().with(Field::ChronographSpeed, 270.0).unwrap().with(Field::ChronographArrow, 420.0).unwrap();
        for setup in [Setup::default(), measured(), shot] {
            let held = Baseline::new(&setup);
            let outputs = held.outputs(&held.resolved, &wanted);
            let shares: Vec<_> = ranges(&held, &wanted).iter().map(|range| range.standard / range.number).collect();
            let shown = outputs.get(Output::SpeedSpread).unwrap() / 2.0 / outputs.get(Output::LaunchSpeed).unwrap();
            for (share, times) in shares.into_iter().zip([1.0, 1.0, 2.0]) {
                assert!((share / shown - times).abs() < 1e-12, "{share} {shown}");
            }
            // Its closed form is what moving the draw's fields and the estimate comes to.
            let draw = [Field::PeakDrawWeight, Field::DrawLength, Field::BraceHeight, Field::LetOff];
            let swings = draw.into_iter().filter_map(|field| Swing::of(&held, field, &wanted));
            let mut sum = Sum::new(Output::LaunchSpeed, &outputs);
            for swing in swings.chain(Swing::of_speed(&held, &wanted)) {
                sum.add(&swing, Field::ChronographSpeed);
            }
            let moved = sum.squares.sqrt() / outputs.get(Output::LaunchSpeed).unwrap();
            assert!((moved / shown - 1.0).abs() < 0.01, "{moved} {shown}");
        }
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
