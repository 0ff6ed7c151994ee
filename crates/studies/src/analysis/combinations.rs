//! Every combination of a few values of a few inputs.

pub mod axes_form;
pub mod axis;
pub mod cell_text;
pub mod grid;
pub mod limits;
pub mod loosen;
pub mod matrix;
pub mod points;
pub mod ranking;
pub mod run;
