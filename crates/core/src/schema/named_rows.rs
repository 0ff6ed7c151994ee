//! Rows with a name and numbers: shafts to choose from, and the user's own parts.

use crate::parse::EntryError;
use crate::schema::tables::{column, like, may_lack};
use crate::schema::{Column, Field, TableSpec};
use crate::units::Quantity::{Count, Length, Mass};
use serde::Serialize;

/// A row with a name and numbers.
pub trait NamedRow: Clone + PartialEq + 'static {
    /// Its table.
    const TABLE: &'static TableSpec;

    /// Key of the name, in messages.
    const NAME_KEY: &'static str;

    /// A row with these numbers, one for each column and 0 for an optional one left out; none where there are more or fewer.
    fn from_numbers(name: String, numbers: &[f64]) -> Option<Self>;

    /// Its name.
    fn name(&self) -> &str;

    /// Its name, to be changed.
    fn name_mut(&mut self) -> &mut String;

    /// Its numbers, in the order of the columns.
    fn numbers(&self) -> Vec<f64>;

    /// The number in a column, to be changed.
    fn number_mut(&mut self, column: usize) -> Option<&mut f64>;

    /// Checks relations between columns.
    ///
    /// # Errors
    /// The key of the column and [`EntryError`].
    fn check_whole(&self) -> Result<(), (&'static str, EntryError)> {
        Ok(())
    }

    /// Checks every number.
    ///
    /// # Errors
    /// The key of the first column that is refused and [`EntryError`].
    fn check(&self) -> Result<(), (&'static str, EntryError)> {
        for (column, number) in Self::TABLE.columns.iter().zip(self.numbers()) {
            column.check(Some(number)).map_err(|error| (column.key, error))?;
        }
        self.check_whole()
    }
}

/// Declares a row and its table in one place.
macro_rules! named_row {
    ($(#[$doc:meta])* $row:ident $key:literal $label:literal, $max_rows:expr, {
        $($(#[$number_doc:meta])* $number:ident: $make:ident($column_key:literal $(, $argument:expr)*) $($may_lack:ident)?),* $(,)?
    } $($rest:item)*) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Serialize)]
        pub struct $row {
            /// Name given by the user.
            pub name: String,
            $($(#[$number_doc])* #[serde(rename = $column_key)] pub $number: f64),*
        }

        impl $row {
            const COLUMNS: &'static [Column; [$($column_key),*].len()] = &[$($($may_lack)? ($make($column_key $(, $argument)*))),*];
        }

        impl NamedRow for $row {
            const TABLE: &'static TableSpec =
                &TableSpec { key: $key, label: $label, columns: Self::COLUMNS, max_rows: $max_rows };
            const NAME_KEY: &'static str = concat!($key, ".name");

            fn from_numbers(name: String, numbers: &[f64]) -> Option<Self> {
                let &[$($number),*] = numbers else { return None };
                Some(Self { name, $($number),* })
            }

            fn name(&self) -> &str {
                &self.name
            }

            fn name_mut(&mut self) -> &mut String {
                &mut self.name
            }

            fn numbers(&self) -> Vec<f64> {
                vec![$(self.$number),*]
            }

            fn number_mut(&mut self, column: usize) -> Option<&mut f64> {
                [$(&mut self.$number),*].into_iter().nth(column)
            }

            $($rest)*
        }
    };
}

named_row! {
    /// A stock shaft, as specified by its maker.
    StockShaft "shafts" "Shafts to choose from", 200, {
        /// Static spine after ASTM F2031, in thousandths of an inch.
        static_spine_thousandths: like("staticSpineThousandths", "static spine", Field::StaticSpine),
        /// Weight in grains per inch.
        shaft_gr_per_in: like("shaftGrPerIn", "weight", Field::ShaftLinearMass),
        /// Outer diameter in inches.
        outer_diameter_in: like("outerDiameterIn", "outer diameter", Field::OuterDiameter),
        /// Inner diameter in inches, less than the outer.
        bore_in: like("boreIn", "inner diameter", Field::Bore),
        /// Full length in inches, as it is sold; 0 where it is not known.
        full_length_in: column("fullLengthIn", "full length", Length, 0.0, 45.0) may_lack,
        /// How many there are on the rack; 0 where it is not known.
        on_rack: column("onRack", "on the rack", Count, 0.0, 9999.0) may_lack,
    }

    fn check_whole(&self) -> Result<(), (&'static str, EntryError)> {
        if self.bore_in < self.outer_diameter_in {
            return Ok(());
        }
        let (minimum, maximum) = (Field::Bore.input().clamp(0.0), self.outer_diameter_in);
        Err(("boreIn", EntryError::OutOfRange { value: self.bore_in, minimum, maximum }))
    }
}

named_row! {
    /// A part added by the user, anywhere on the arrow.
    OwnPart "ownParts" "Other parts", 12, {
        /// Weight in grains.
        mass_gr: column("massGr", "weight", Mass, 0.0, 500.0),
        /// Center of mass ahead of the nock groove, in inches.
        center_in: column("centreIn", "center from nock groove", Length, 0.0, 45.0),
        /// Length along the arrow in inches; only the drawing uses it.
        length_in: column("lengthIn", "length", Length, 0.0, 12.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::schema::shafts::invented_shafts;

    #[test]
    fn a_row_is_built_from_its_columns() {
        let shaft = invented_shafts().remove(7);
        let again = StockShaft::from_numbers(shaft.name.clone(), &shaft.numbers());
        assert_eq!(again, Some(shaft));
        assert_eq!(OwnPart::from_numbers(String::new(), &[1.0, 2.0]), None);
    }

    #[test]
    fn a_number_out_of_range_is_named() {
        let mut part = OwnPart { name: String::new(), mass_gr: 3.0, center_in: 10.0, length_in: 0.5 };
        assert_eq!(part.check(), Ok(()));
        *part.number_mut(1).unwrap() = 46.0;
        let error = EntryError::OutOfRange { value: 46.0, minimum: 0.0, maximum: 45.0 };
        assert_eq!(part.check(), Err(("centreIn", error)));
        assert_eq!(part.number_mut(3), None);
    }

    #[test]
    fn a_bore_wider_than_the_shaft_is_refused() {
        let mut shaft = invented_shafts().remove(0);
        shaft.bore_in = shaft.outer_diameter_in;
        assert!(matches!(shaft.check(), Err(("boreIn", _))));
    }
}
