//! The tables: every input, every output, every list of readings, and the shafts to choose from.

mod choice;
mod group;
mod input;
mod inputs;
mod lists;
mod named_rows;
mod outputs;
pub mod shafts;
mod tables;
mod when;

pub use choice::*;
pub use group::*;
pub use input::*;
pub use inputs::*;
pub use lists::*;
pub use named_rows::*;
pub use outputs::*;
pub use tables::*;
pub use when::*;
