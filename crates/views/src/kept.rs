//! Ids of what is kept.

use clothyard_web as dom;
use js_sys::Math;

/// An id that no other entry has, of this browser or another.
pub(crate) fn fresh_id() -> String {
    format!("{:x}-{:x}", dom::now() as u64, (Math::random() * 4_294_967_296.0) as u64)
}
