//! What the browser keeps for this page, each text under a name.

use web_sys::Storage;

fn storage() -> Option<Storage> {
    crate::window()?.local_storage().ok()?
}

/// The text under a name.
#[must_use]
pub fn get(name: &str) -> Option<String> {
    storage()?.get_item(name).ok()?
}

/// Keeps a text under a name.
///
/// # Errors
/// Why the browser did not keep it, to stand in a sentence.
pub fn put(name: &str, text: &str) -> Result<(), &'static str> {
    let storage = storage().ok_or("this browser keeps nothing for this page")?;
    storage.set_item(name, text).map_err(|_| "this browser has no room left, or refuses to keep it")
}

/// Forgets the text under a name.
pub fn forget(name: &str) {
    if let Some(storage) = storage() {
        let _ = storage.remove_item(name);
    }
}
