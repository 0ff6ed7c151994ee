//! Saving and reading files.

use crate::context::Context;
use web_sys::HtmlInputElement;

pub(crate) use clothyard_web::save::{blob, file};

/// The same for JSON, and says how that went.
pub(crate) fn json(name: &str, text: &str) -> String {
    said(name, file(name, "application/json", text))
}

/// The same for comma-separated values.
pub(crate) fn csv(name: &str, text: &str) -> String {
    said(name, file(name, "text/csv", text))
}

fn said(name: &str, done: Option<()>) -> String {
    match done {
        Some(()) => format!("Saved as {name} in your downloads."),
        None => "The browser blocked saving the file.".to_owned(),
    }
}

/// Asks for the text of the file chosen in a field, as a reply to a view; false where it has more bytes than that.
pub(crate) fn read(
    field: &HtmlInputElement,
    most_bytes: usize,
    reply: (&'static str, &'static str),
    context: &Context,
) -> bool {
    let file = field.files().and_then(|files| files.get(0));
    let fits = file.as_ref().is_none_or(|file| file.size() <= most_bytes as f64);
    if let Some(file) = file.filter(|_| fits) {
        context.reply_when(&file.text(), reply.0, reply.1);
    }
    // So that the same file can be chosen again.
    field.set_value("");
    fits
}
