//! The rule for what cannot be read, with texts in memory in the place of the browser's.

use super::*;
use crate::protocol::storage::HELD;
use clothyard_core::Setup;
use clothyard_core::plain;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// Texts in memory, of which there is room for so many.
#[derive(Default)]
struct Memory {
    texts: RefCell<BTreeMap<String, String>>,
    room: usize,
}

impl Texts for &Memory {
    fn get(&self, name: &str) -> Option<String> {
        self.texts.borrow().get(name).cloned()
    }

    fn put(&self, name: &str, text: &str) -> Result<(), &'static str> {
        let mut texts = self.texts.borrow_mut();
        if !texts.contains_key(name) && texts.len() >= self.room {
            return Err("full");
        }
        texts.insert(name.to_owned(), text.to_owned());
        Ok(())
    }

    fn forget(&self, name: &str) {
        self.texts.borrow_mut().remove(name);
    }
}

impl Memory {
    fn of(room: usize, text: &str) -> Self {
        let memory = Self { room, ..Self::default() };
        (&memory).put(HELD, text).unwrap();
        memory
    }

    fn all(&self) -> Vec<(String, String)> {
        self.texts.borrow().clone().into_iter().collect()
    }
}

fn store(memory: &Memory) -> Store<Setup, &Memory> {
    Store { name: HELD, texts: memory, read: plain::from_json, write: |setup| serde_json::to_string(setup).unwrap() }
}

fn named(name: &str) -> Setup {
    let mut setup = Setup::default();
    setup.name.push_str(name);
    setup
}

/// What writes over the text, or removes it.
type Act = fn(&Store<Setup, &Memory>) -> Result<(), &'static str>;

const DAMAGED: &str = r#"{"schemaVersion":1,"inputs":{"pointGr":"#;
const NEWER: &str = r#"{"schemaVersion":2,"marvel":true}"#;

#[test]
fn what_is_kept_is_read_changed_and_forgotten() {
    let memory = Memory { room: 9, ..Memory::default() };
    let store = store(&memory);
    assert_eq!((store.read(), store.text().as_str()), (Ok(None), ""));
    store.write(&named("a")).unwrap();
    assert_eq!(store.read(), Ok(Some(named("a"))));
    store.write(&named("ab")).unwrap();
    assert_eq!(store.read(), Ok(Some(named("ab"))));
    assert_eq!(memory.all().len(), 1, "what can be read is not put aside");
    store.clear().unwrap();
    assert_eq!(store.read(), Ok(None));
}

#[test]
fn a_text_that_cannot_be_read_is_given_with_the_reason_and_left() {
    for (text, newer, why) in [(DAMAGED, false, "not JSON"), (NEWER, true, "schemaVersion 2"), ("7", false, "object")] {
        let memory = Memory::of(9, text);
        let unread = store(&memory).read().unwrap_err();
        assert_eq!((unread.text.as_str(), unread.error.is_newer()), (text, newer));
        assert!(unread.error.message.contains(why), "{}", unread.error.message);
        assert_eq!(memory.all(), [(HELD.to_owned(), text.to_owned())]);
    }
}

#[test]
fn nothing_is_written_over_what_cannot_be_read_before_it_is_put_aside() {
    for text in [DAMAGED, NEWER] {
        let acts: [Act; 2] = [|store| store.write(&named("a")), |store| store.clear()];
        for act in acts {
            let memory = Memory::of(9, text);
            act(&store(&memory)).unwrap();
            assert_eq!((&memory).get(&aside(HELD)).as_deref(), Some(text));
            assert_ne!((&memory).get(HELD).as_deref(), Some(text));

            let full = Memory::of(1, text);
            assert_eq!(act(&store(&full)), Err("full"));
            assert_eq!(full.all(), [(HELD.to_owned(), text.to_owned())], "it stays where there is no room for a copy");
        }
    }
}

#[test]
fn what_was_put_aside_is_never_written_over() {
    let memory = Memory::of(9, DAMAGED);
    let store = store(&memory);
    assert_eq!(store.read_or_put_aside().unwrap_err().text, DAMAGED);
    assert_eq!((&memory).get(&aside(HELD)).as_deref(), Some(DAMAGED));
    store.write(&named("a")).unwrap();
    for text in [NEWER, "7", DAMAGED] {
        (&memory).put(HELD, text).unwrap();
        store.write(&named("b")).unwrap();
    }
    let asides: Vec<_> = memory.all().into_iter().filter(|(name, _)| name != HELD).collect();
    let expected = [("", DAMAGED), (".2", NEWER), (".3", "7")];
    assert_eq!(asides, expected.map(|(end, text)| (aside(HELD) + end, text.to_owned())));
}
