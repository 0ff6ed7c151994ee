//! Every combination of a few values of a few inputs.

pub mod axes_form;
pub mod cell_text;
pub mod grid;
pub mod layout;
pub mod limits;
pub mod points;
pub mod run;
pub mod shortlist;
