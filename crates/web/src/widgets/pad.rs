//! Number keys on the page: large, for a thumb in a glove.

use super::field;
use crate::Dom;
use crate::protocol::attribute;

/// The key that takes back the last one.
const BACK: &str = "back";

/// Types the key of a pad into a field; whether one was pressed.
pub fn pressed(dom: &Dom, id: &str) -> bool {
    let Some(key) = dom.button().and_then(|button| button.get_attribute(attribute::KEY)) else { return false };
    let mut text = field::text(id);
    if key == BACK {
        text.pop();
    } else {
        text += &key;
    }
    field::overwrite(id, &text);
    true
}
