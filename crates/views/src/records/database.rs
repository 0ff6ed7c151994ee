//! The browser's database (IndexedDB): texts under keys, written in transactions that are on disk when they are done.

use js_sys::{Array, JSON};
use wasm_bindgen::prelude::*;
use web_sys::{IdbDatabase, IdbObjectStore, IdbOpenDbRequest, IdbRequest, IdbTransaction, IdbTransactionMode};

/// The one store of the database.
const STORE: &str = "records";

/// Without this a browser may say that a transaction is done before the disk has it.
const STRICT: &str = r#"{"durability":"strict"}"#;

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(extends = IdbDatabase)]
    type StrictDatabase;

    /// As in `web-sys`, where the options are not stable yet.
    #[wasm_bindgen(method, catch, js_name = transaction)]
    fn strict_transaction(
        this: &StrictDatabase,
        store: &str,
        mode: &str,
        options: &JsValue,
    ) -> Result<IdbTransaction, JsValue>;
}

/// A change of one record.
#[derive(Debug, PartialEq)]
pub(super) enum Write {
    /// The text of the record from now on.
    Put { key: String, text: String },
    /// The record goes.
    Delete { key: String },
}

/// An open database.
#[derive(Clone)]
pub(super) struct Database(IdbDatabase);

/// What is done once it is known whether something went as hoped.
pub(super) type Done = Box<dyn FnOnce(bool)>;

/// Calls once, with whether an event is the one hoped for. Boxed, so that it is in the wasm once.
fn once(hoped_for: &'static str, done: Done) -> JsValue {
    Closure::once_into_js(move |event: web_sys::Event| done(event.type_() == hoped_for))
}

/// Opens a database, made if there is none; none where the browser refuses.
pub(super) fn open(name: &str, done: impl FnOnce(Option<Database>) + 'static) {
    let factory = clothyard_web::window().and_then(|window| window.indexed_db().ok()?);
    let Some(request) = factory.and_then(|factory| factory.open_with_u32(name, 1).ok()) else { return done(None) };
    let made = result_of(&request);
    request.set_onupgradeneeded(Some(
        once(
            "upgradeneeded",
            Box::new(move |_| {
                let _ = made().map(|database| database.create_object_store(STORE));
            }),
        )
        .unchecked_ref(),
    ));
    let opened = result_of(&request);
    let opened = move |success| {
        let database = opened().filter(|_| success);
        database.iter().for_each(make_way);
        done(database.map(Database));
    };
    let done = once("success", Box::new(opened));
    request.set_onsuccess(Some(done.unchecked_ref()));
    request.set_onerror(Some(done.unchecked_ref()));
}

fn result_of(request: &IdbOpenDbRequest) -> impl Fn() -> Option<IdbDatabase> + 'static {
    let request = request.clone();
    move || request.result().ok()?.dyn_into().ok()
}

/// A later version that opens the database in another tab need not wait for this one.
fn make_way(database: &IdbDatabase) {
    let held = database.clone();
    let close = once("", Box::new(move |_| held.close()));
    database.set_onversionchange(Some(close.unchecked_ref()));
}

impl Database {
    /// Reads every record: its key and its text. None where the database cannot be read.
    pub(super) fn read(&self, done: impl FnOnce(Option<Vec<(String, String)>>) + 'static) {
        let Some((transaction, keys, texts)) = self.ask_for_all() else { return done(None) };
        let read = move |complete: bool| done(complete.then(|| strings(&keys).zip(strings(&texts)).collect()));
        end(&transaction, &once("complete", Box::new(read)));
    }

    fn ask_for_all(&self) -> Option<(IdbTransaction, IdbRequest, IdbRequest)> {
        let transaction = self.0.transaction_with_str_and_mode(STORE, IdbTransactionMode::Readonly).ok()?;
        let store = transaction.object_store(STORE).ok()?;
        Some((transaction, store.get_all_keys().ok()?, store.get_all().ok()?))
    }

    /// Makes all of these changes, or none; calls with whether they are on disk.
    pub(super) fn write(&self, writes: &[Write], done: Done) {
        let Some((transaction, store)) = self.begin() else { return done(false) };
        let asked = writes.iter().try_for_each(|write| match write {
            Write::Put { key, text } => store.put_with_key(&text.into(), &key.into()).map(drop),
            Write::Delete { key } => store.delete(&key.into()).map(drop),
        });
        if asked.is_err() {
            let _ = transaction.abort();
        }
        end(&transaction, &once("complete", done));
    }

    fn begin(&self) -> Option<(IdbTransaction, IdbObjectStore)> {
        let options = JSON::parse(STRICT).ok()?;
        let database: &StrictDatabase = self.0.unchecked_ref();
        let transaction = database.strict_transaction(STORE, "readwrite", &options).ok()?;
        let store = transaction.object_store(STORE).ok()?;
        Some((transaction, store))
    }
}

/// Calls when a transaction is over, either way.
fn end(transaction: &IdbTransaction, done: &JsValue) {
    transaction.set_oncomplete(Some(done.unchecked_ref()));
    transaction.set_onabort(Some(done.unchecked_ref()));
}

/// What a request for many has found; what is no text is an empty one.
fn strings(request: &IdbRequest) -> impl Iterator<Item = String> + use<> {
    let found: Array = request.result().map(JsCast::unchecked_into).unwrap_or_default();
    found.to_vec().into_iter().map(|value| value.as_string().unwrap_or_default())
}
