//! What a view has to say of its changes, which is true once they are on disk.

/// Why a change is not on disk.
const FULL: &str = "Not saved: browser storage is full or blocked.";

/// The words for each change that is not on disk yet, the oldest first.
#[derive(Debug, Default)]
pub(crate) struct WhenStored(Vec<String>);

impl WhenStored {
    /// A change has been asked for.
    pub(crate) fn begin(&mut self) {
        self.0.push(String::new());
    }

    /// What to say of the last change.
    pub(crate) fn say(&mut self, words: String) {
        if let Some(last) = self.0.last_mut() {
            *last = words;
        }
    }

    /// The oldest change is on disk, or is not: what to say now, if anything.
    pub(crate) fn end(&mut self, stored: bool) -> Option<String> {
        let words = (!self.0.is_empty()).then(|| self.0.remove(0))?;
        if stored { Some(words).filter(|words| !words.is_empty()) } else { Some(FULL.to_owned()) }
    }
}
