//! An evaluation as plain numbers, so that another program of this build need not compute it again.
//!
//! Only what is dear to compute is sent: the nearest shaft and the answers to the inverse questions, some hundred
//! column loads. The rest follows from the setup at the cost of one or two.

use crate::eval::inverse::{self, OutOfReach};
use crate::eval::{Evaluation, ResolvedSetup, ShaftChoice};
use crate::setup::Setup;

impl Evaluation {
    /// The numbers from which [`Evaluation::from_numbers`] rebuilds this evaluation: the place of the nearest shaft in
    /// the list of `setup`, every answer to an inverse question, and for each question the end of its range where it is
    /// out of reach. What there is none of is not-a-number.
    #[must_use]
    pub fn to_numbers(&self, setup: &Setup) -> Vec<f64> {
        let nearest = self.nearest.as_ref().and_then(|shaft| setup.shafts.iter().position(|each| each == shaft));
        let mut numbers = Vec::new();
        let mut put = |number: Option<f64>| numbers.push(number.unwrap_or(f64::NAN));
        put(nearest.map(|place| place as f64));
        for output in inverse::answers() {
            put(self.outputs.get(output));
        }
        for output in inverse::exact_answers() {
            put(self.out_of_reach.iter().find(|out| out.output == output).map(|out| out.nearest));
        }
        numbers
    }

    /// The evaluation of a setup, bit for bit that of [`Evaluation::of`], from the numbers that
    /// [`Evaluation::to_numbers`] gave for the same setup. None where there are more or fewer of them, or the nearest
    /// shaft is not in the list; numbers of another setup are not noticed.
    #[must_use]
    pub fn from_numbers(setup: &Setup, numbers: &[f64]) -> Option<Self> {
        let mut numbers = numbers.iter().map(|&number| (!number.is_nan()).then_some(number));
        let nearest = match numbers.next()? {
            Some(place) => Some(setup.shafts.get(place as usize)?),
            None => None,
        };
        let shafts = ShaftChoice::with_nearest(setup, nearest);
        let mut at = ResolvedSetup::of(shafts.resolve(), &setup.own_parts);
        for output in inverse::answers() {
            if let Some(number) = numbers.next()? {
                at.outputs.put(output, number);
            }
        }
        let mut out_of_reach = Vec::new();
        for output in inverse::exact_answers() {
            out_of_reach.extend(numbers.next()?.map(|nearest| OutOfReach { output, nearest }));
        }
        numbers.next().is_none().then(|| Self::with_choice(setup, &shafts, at, out_of_reach))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::any_setup;
    use proptest::prelude::*;

    /// Rust writes a float so that it is read back bit for bit.
    fn bits(evaluation: &Evaluation) -> String {
        format!("{evaluation:?}")
    }

    #[test]
    fn wrong_numbers_are_refused() {
        let setup = Setup::default();
        let numbers = Evaluation::of(&setup).to_numbers(&setup);
        assert!(Evaluation::from_numbers(&setup, &numbers[1..]).is_none());
        assert!(Evaluation::from_numbers(&setup, &[&numbers[..], &[1.0]].concat()).is_none());
        assert!(Evaluation::from_numbers(&setup, &[]).is_none());
        let beyond = [&[setup.shafts.len() as f64], &numbers[1..]].concat();
        assert!(Evaluation::from_numbers(&setup, &beyond).is_none());
    }

    #[test]
    fn of_two_shafts_alike_either_is_the_nearest() {
        let mut setup = Setup::default();
        setup.shafts = [setup.shafts.clone(), setup.shafts].concat();
        let all = Evaluation::of(&setup);
        let again = Evaluation::from_numbers(&setup, &all.to_numbers(&setup)).unwrap();
        assert_eq!(bits(&again), bits(&all));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]

        #[test]
        fn numbers_rebuild_the_evaluation_bit_for_bit(setup in any_setup()) {
            let all = Evaluation::of(&setup);
            let again = Evaluation::from_numbers(&setup, &all.to_numbers(&setup)).unwrap();
            prop_assert_eq!(bits(&again), bits(&all));
        }
    }
}
