//! An evaluation as plain numbers, so that another program of this build need not compute it again.
//!
//! Only what is dear to compute is sent: the choice of shaft and cut, and the answers to the inverse questions, some
//! ninety column loads. The rest follows from the setup at the cost of one or two.

use crate::eval::inverse::{self, OutOfReach};
use crate::eval::shaft_choice::{Found, Places};
use crate::eval::{Evaluation, ResolvedSetup, ShaftChoice};
use crate::setup::Setup;

/// How many numbers describe what was found in the list, before the answers to inverse questions.
const FOUND_NUMBERS: usize = 11;

impl Evaluation {
    /// The numbers from which [`Evaluation::from_numbers`] rebuilds this evaluation: what was found in the list of shafts,
    /// every answer to an inverse question, and for each question the end of its range where it is out of reach. What
    /// there is none of is not-a-number.
    #[must_use]
    pub fn to_numbers(&self) -> Vec<f64> {
        let mut numbers = found_numbers(&self.found, self.own_cut_in);
        let mut put = |number: Option<f64>| numbers.push(number.unwrap_or(f64::NAN));
        for output in inverse::answers() {
            put(self.outputs.get(output));
        }
        for output in inverse::exact_answers() {
            put(self.out_of_reach.iter().find(|out| out.output == output).map(|out| out.nearest));
        }
        numbers
    }

    /// The evaluation of a setup, bit for bit that of [`Evaluation::of`], from the numbers that
    /// [`Evaluation::to_numbers`] gave for the same setup. None where there are more or fewer of them, or a shaft is
    /// not in the list; numbers of another setup are not noticed.
    #[must_use]
    pub fn from_numbers(setup: &Setup, numbers: &[f64]) -> Option<Self> {
        let (found, answers) = numbers.split_first_chunk::<FOUND_NUMBERS>()?;
        let (found, own_cut_in) = found_of(found, setup.shafts.len())?;
        let shafts = ShaftChoice::with_found(setup, found, own_cut_in);
        let mut numbers = answers.iter().map(|&number| given(number));
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

fn given(number: f64) -> Option<f64> {
    (!number.is_nan()).then_some(number)
}

fn found_numbers(found: &Found, own_cut_in: Option<f64>) -> Vec<f64> {
    let places = found.recommended;
    let next = places.and_then(|places| places.neighbor);
    let numbers: [Option<f64>; FOUND_NUMBERS] = [
        own_cut_in,
        found.default.map(|(place, _)| place as f64),
        found.default.map(|(_, cut)| cut),
        places.map(|places| places.shaft as f64),
        places.map(|places| places.cut_in),
        places.and_then(|places| places.point_gr),
        next.map(|(place, ..)| place as f64),
        next.map(|(_, cut, _)| cut),
        next.and_then(|(.., point)| point),
        places.map(|places| f64::from(u8::from(places.between))),
        places.and_then(|places| places.wanted_beyond),
    ];
    numbers.map(|number| number.unwrap_or(f64::NAN)).to_vec()
}

/// None where a place is not in a list of `count` shafts.
fn found_of(numbers: &[f64; FOUND_NUMBERS], count: usize) -> Option<(Found, Option<f64>)> {
    let &[own_cut, default, default_cut, shaft, cut_in, point, next, next_cut, next_point, between, beyond] = numbers;
    if [default, shaft, next].iter().any(|&place| place >= count as f64) {
        return None;
    }
    let neighbor = given(next).map(|place| (place as usize, next_cut, given(next_point)));
    let recommended = given(shaft).map(|place| Places {
        shaft: place as usize,
        cut_in,
        point_gr: given(point),
        neighbor,
        between: between > 0.0,
        wanted_beyond: given(beyond),
    });
    let default = given(default).map(|place| (place as usize, default_cut));
    Some((Found { default, recommended }, given(own_cut)))
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
        let numbers = Evaluation::of(&setup).to_numbers();
        assert!(Evaluation::from_numbers(&setup, &numbers[1..]).is_none());
        assert!(Evaluation::from_numbers(&setup, &[&numbers[..], &[1.0]].concat()).is_none());
        assert!(Evaluation::from_numbers(&setup, &[]).is_none());
        let beyond = [&numbers[..3], &[setup.shafts.len() as f64], &numbers[4..]].concat();
        assert!(Evaluation::from_numbers(&setup, &beyond).is_none());
    }

    #[test]
    fn of_two_shafts_alike_either_is_proposed() {
        let mut setup = Setup::default();
        setup.shafts = [setup.shafts.clone(), setup.shafts].concat();
        let all = Evaluation::of(&setup);
        let again = Evaluation::from_numbers(&setup, &all.to_numbers()).unwrap();
        assert_eq!(bits(&again), bits(&all));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(400))]

        #[test]
        fn numbers_rebuild_the_evaluation_bit_for_bit(setup in any_setup()) {
            let all = Evaluation::of(&setup);
            let again = Evaluation::from_numbers(&setup, &all.to_numbers()).unwrap();
            prop_assert_eq!(bits(&again), bits(&all));
        }
    }
}
