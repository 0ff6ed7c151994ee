//! Why a calculation refuses its input or fails.

use crate::parameter::Parameter;
use core::fmt;

/// The result of a calculation that can fail: [`core::result::Result`] with this crate's [`Error`].
pub type Result<T> = core::result::Result<T, Error>;

/// Why a calculation has no answer.
///
/// It holds numbers and names, no text; [`core::fmt::Display`] writes a sentence in English.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{Error, Parameter, SpineRig};
/// // The spine number 400 in place of the deflection, 0.400 in = 0.010 16 m.
/// let error = SpineRig::ASTM_F2031.bending_stiffness_nm2(400.0).unwrap_err();
/// let (parameter, value) = (Parameter::Deflection, 400.0);
/// assert_eq!(error, Error::OutOfRange { parameter, value, minimum: 1e-4, maximum: 0.5 });
/// assert_eq!(error.to_string(), "deflection is 400, allowed is 0.0001 to 0.5 m");
/// ```
#[non_exhaustive]
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Error {
    /// A parameter outside its allowed range, or not finite.
    OutOfRange {
        /// Which parameter.
        parameter: Parameter,
        /// What was given, in the unit of [`Parameter::unit`].
        value: f64,
        /// The minimum allowed value, same unit.
        minimum: f64,
        /// The maximum allowed value, same unit.
        maximum: f64,
    },
    /// The rest is at or ahead of the shaft's front end: no column between string and rest.
    RestAheadOfShaft {
        /// Rest, from the nock groove, in meters.
        rest_m: f64,
        /// Front end of the shaft, from the nock groove, in meters.
        length_m: f64,
    },
    /// More parts, or more nodes of a beam, than the fixed capacity.
    TooManyParts {
        /// How many were given.
        given: usize,
        /// How many fit.
        maximum: usize,
    },
    /// Two readings at the same value of the independent variable.
    Repeated {
        /// The independent variable.
        parameter: Parameter,
        /// Its value, in the unit of [`Parameter::unit`].
        value: f64,
    },
    /// A beam that can move without bending, for lack of supports or, to within rounding, of
    /// stiffness: it carries no load.
    Unsupported,
    /// An iteration did not converge.
    NoConvergence {
        /// Iterations done.
        iterations: u32,
    },
    /// The arrow never reaches this distance, height or time.
    NotReached {
        /// Which of them.
        parameter: Parameter,
        /// The value requested, in the unit of [`Parameter::unit`].
        value: f64,
    },
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match *self {
            Self::OutOfRange { parameter, value, minimum, maximum } => {
                write!(f, "{} is {value}, allowed is {minimum} to {maximum}", parameter.name())?;
                if parameter.unit().is_empty() { Ok(()) } else { write!(f, " {}", parameter.unit()) }
            }
            Self::RestAheadOfShaft { rest_m, length_m } => {
                write!(f, "the rest at {rest_m} m is not behind the shaft's front end at {length_m} m")
            }
            Self::TooManyParts { given, maximum } => write!(f, "{given} parts given, {maximum} fit"),
            Self::Repeated { parameter, value } => {
                write!(f, "two readings have the {} {value} {}", parameter.name(), parameter.unit())
            }
            Self::Unsupported => f.write_str("the beam can move without bending, for lack of supports or of stiffness"),
            Self::NoConvergence { iterations } => {
                write!(f, "no convergence after {iterations} iterations")
            }
            Self::NotReached { parameter, value } => {
                write!(f, "the arrow never reaches a {} of {value} {}", parameter.name(), parameter.unit())
            }
        }
    }
}

impl core::error::Error for Error {}

/// The check of every input, here so that the table of parameters depends on nothing.
impl Parameter {
    /// `value` when it is in the table's range.
    #[inline(always)]
    pub(crate) fn check(self, value: f64) -> Result<f64> {
        let (minimum, maximum) = self.range();
        self.check_within(value, minimum, maximum)
    }

    /// `value` when it is between the given limits; NaN never is.
    pub(crate) fn check_within(self, value: f64, minimum: f64, maximum: f64) -> Result<f64> {
        if value >= minimum && value <= maximum {
            Ok(value)
        } else {
            Err(Error::OutOfRange { parameter: self, value, minimum, maximum })
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::string::ToString;

    #[test]
    fn a_refusal_reads_as_a_sentence_with_its_range() {
        let refused = Parameter::Span.check(3.0).unwrap_err();
        assert_eq!(refused.to_string(), "span is 3, allowed is 0.1 to 2 m");
        let refused = Parameter::Loss.check(1.0).unwrap_err();
        assert_eq!(refused.to_string(), "loss is 1, allowed is 0 to 0.9");
        let repeated = Error::Repeated { parameter: Parameter::DrawPlace, value: 0.5 };
        assert_eq!(repeated.to_string(), "two readings have the draw 0.5 m");
    }
}
