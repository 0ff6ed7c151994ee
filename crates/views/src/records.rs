//! What the user saves by name: setups, parts and lessons, each a record of its own in the browser's database.
//!
//! Every tab has all records in memory. A change is written record by record in one transaction, so that tabs side by
//! side lose nothing of each other; the others are told, and read again.

mod contents;
mod database;
mod when_stored;

pub(crate) use contents::{Contents, Kind, UnreadRecord};
pub(crate) use when_stored::WhenStored;

use crate::library::fresh_id;
use clothyard_core::format;
use clothyard_core::setup::SCHEMA_VERSION;
use clothyard_web::bus::{Event, Reply};
use clothyard_web::protocol::storage;
use clothyard_web::store;
use core::cell::{Cell, RefCell};
use database::{Database, Done, Write};
use js_sys::{Array, JSON, Object, Reflect};
use std::rc::Rc;
use wasm_bindgen::prelude::*;
use web_sys::BroadcastChannel;

/// What a reply about a change answers: with a value where it is on disk, with none where it is not.
pub(crate) const STORED: &str = "stored";

/// Why nothing is stored.
const OFF: &str = "Not saved: browser storage is off.";
const STILL_READING: &str = "Not saved: your saved setups are still being read. Try again.";
/// The views wait no longer than this for the records, in milliseconds.
const LONGEST_WAIT_MS: i32 = 1500;

/// What earlier versions stored: under a key the lists in one text, and what their entries are.
type Lists = &'static [(&'static str, Kind)];
const EARLIER: [(&str, Lists); 2] = [
    (storage::LIBRARY, &[("kept", Kind::Setup), ("drawer", Kind::Part)]),
    (storage::LESSONS, &[("lessons", Kind::Lesson)]),
];

/// The records of the browser.
pub(crate) struct Records {
    database: RefCell<Option<Database>>,
    refused: Cell<bool>,
    contents: RefCell<Rc<Contents>>,
    /// How often they have changed.
    changes: Cell<u32>,
    channel: Option<BroadcastChannel>,
}

impl Records {
    /// Opens the database. Calls when the records are there, or when it is known that there will be none; they may also
    /// come later, with [`Event::Stored`].
    pub(crate) fn open(ready: impl FnOnce(Rc<Self>) + 'static) {
        let name = format!("clothyard{}", store::folder());
        let records = Rc::new(Self {
            database: RefCell::default(),
            refused: Cell::new(false),
            contents: RefCell::default(),
            changes: Cell::new(0),
            channel: BroadcastChannel::new(&name).ok(),
        });
        records.listen();
        let waiting = Rc::new(Cell::new(Some(ready)));
        let (late, still_waiting) = (records.clone(), waiting.clone());
        clothyard_web::later(LONGEST_WAIT_MS, move || {
            if let Some(ready) = still_waiting.take() {
                ready(late);
            }
        });
        database::open(&name, move |database| {
            records.refused.set(database.is_none());
            records.database.replace(database);
            let read = records.clone();
            let then = move || {
                read.move_in();
                if let Some(ready) = waiting.take() {
                    ready(read);
                }
            };
            records.read_again(Box::new(then));
        });
    }

    /// Reads again when another tab has changed something.
    fn listen(self: &Rc<Self>) {
        let Some(channel) = &self.channel else { return };
        let records = self.clone();
        let told = Closure::<dyn FnMut()>::new(move || records.read_again(Box::new(|| {})));
        channel.set_onmessage(Some(told.as_ref().unchecked_ref()));
        told.forget();
    }

    /// The records as they are now.
    pub(crate) fn contents(&self) -> Rc<Contents> {
        self.contents.borrow().clone()
    }

    /// How often they have changed since the page was opened.
    pub(crate) fn count_changes(&self) -> u32 {
        self.changes.get()
    }

    fn set(&self, contents: Contents) {
        let contents = Rc::new(contents);
        let before = self.contents.replace(contents.clone());
        self.changes.set(self.changes.get().wrapping_add(1));
        let points = contents.library.point_weights();
        if points != before.library.point_weights() {
            let points: Vec<_> = points.into_iter().map(|weight| format::trimmed(weight, 3)).collect();
            // Without room for it the first screen offers the common weights.
            let _ = store::put(storage::POINTS, &points.join(" "));
        }
        let library = before.library != contents.library || before.unread != contents.unread;
        let changed = [(storage::LIBRARY, library), (storage::LESSONS, before.lessons != contents.lessons)];
        for (key, _) in changed.into_iter().filter(|&(_, changed)| changed) {
            crate::post(Event::Stored(Some(key.to_owned())));
        }
    }

    fn read_again(self: &Rc<Self>, then: Box<dyn FnOnce()>) {
        let Some(database) = self.database.borrow().clone() else { return then() };
        let records = self.clone();
        database.read(move |rows| {
            rows.into_iter().for_each(|rows| records.set(Contents::of(rows)));
            then();
        });
    }

    /// Changes the records in memory and writes what differs. A reply to the view says whether it is on disk.
    ///
    /// # Errors
    /// Why nothing was changed, in a sentence; empty where there is nothing to say.
    pub(crate) fn change(
        self: &Rc<Self>,
        view: &'static str,
        change: &mut dyn FnMut(&mut Contents) -> Result<(), String>,
    ) -> Result<(), String> {
        let why = if self.refused.get() { OFF } else { STILL_READING };
        let database = self.database.borrow().clone().filter(|_| self.count_changes() > 0).ok_or(why)?;
        let before = self.contents();
        let mut after = (*before).clone();
        change(&mut after)?;
        let writes = before.writes_to(&after);
        self.set(after);
        let reply = move |stored: bool| {
            let value = stored.then_some(JsValue::TRUE);
            crate::post(Event::Reply(Reply { view, what: STORED, value }));
        };
        self.write(&database, &writes, Box::new(reply));
        Ok(())
    }

    fn write(self: &Rc<Self>, database: &Database, writes: &[Write], done: Done) {
        let records = self.clone();
        let told = move |stored: bool| {
            if !stored {
                records.read_again(Box::new(|| {})); // back to what is on disk
            } else if let Some(channel) = &records.channel {
                let _ = channel.post_message(&JsValue::NULL);
            }
            done(stored);
        };
        database.write(writes, Box::new(told));
    }

    /// Moves what earlier versions stored, or store in another tab, entry by entry into the database. A text that
    /// cannot be read, or is newer, stays where it is; so does everything until the records are on disk.
    pub(crate) fn move_in(self: &Rc<Self>) {
        let Some(database) = self.database.borrow().clone() else { return };
        let found = EARLIER.into_iter().filter_map(|(key, lists)| Some((key, rows_of(&store::get(key)?, lists)?)));
        let (keys, rows): (Vec<_>, Vec<_>) = found.unzip();
        if keys.is_empty() {
            return;
        }
        let known = Contents::default().writes_to(&self.contents());
        let is_known = |key: &str| known.iter().any(|write| matches!(write, Write::Put { key: put, .. } if put == key));
        let new = rows.into_iter().flatten().filter(|(key, _)| !is_known(key));
        let writes: Vec<_> = new.map(|(key, text)| Write::Put { key, text }).collect();
        let records = self.clone();
        let forget = move |stored: bool| {
            if stored {
                keys.into_iter().for_each(store::forget);
                records.read_again(Box::new(|| {}));
            }
        };
        self.write(&database, &writes, Box::new(forget));
    }
}

/// The entries of lists in a text, as records; none where there is anything in it that would be left behind.
fn rows_of(text: &str, lists: Lists) -> Option<Vec<(String, String)>> {
    let all: Object = JSON::parse(text).ok()?.dyn_into().ok()?;
    let version = Reflect::get(&all, &"schemaVersion".into()).ok()?.as_f64()?;
    if version > f64::from(SCHEMA_VERSION) {
        return None;
    }
    let (mut rows, mut read) = (Vec::new(), 1);
    for &(list, kind) in lists {
        let entries = Reflect::get(&all, &list.into()).ok()?;
        if !entries.is_undefined() {
            let entries: Array = entries.dyn_into().ok()?;
            rows.extend(entries.iter().filter_map(|entry| row_of(&entry, kind)));
            read += 1;
        }
    }
    (Object::keys(&all).length() == read).then_some(rows)
}

fn row_of(entry: &JsValue, kind: Kind) -> Option<(String, String)> {
    let id = Reflect::get(entry, &"id".into()).ok().and_then(|id| id.as_string()).unwrap_or_else(fresh_id);
    Some((kind.key(&id), JSON::stringify(entry).ok()?.into()))
}
