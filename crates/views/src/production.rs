//! From the setup to arrows: a batch sorted, the build sheet, the tuning log.

mod batch;
mod prices;
mod sheet;
mod tuning;

pub(crate) use batch::Batch;
pub(crate) use sheet::BuildSheet;
pub(crate) use tuning::TuningLog;

use crate::save;
use clothyard_web as dom;

/// Offers a table as a file, or says beside the button that it cannot be.
fn save_table(name: &str, text: &str, said: &str) {
    let done = save::file(name, "text/csv", text).is_some();
    dom::write_id(said, if done { "" } else { "The browser blocked saving the file." });
}
