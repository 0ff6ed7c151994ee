//! Save and share: saved setups, parts, backups and links.

// What stays in this browser, and how it is changed.
mod changes;
mod store;

// What the view shows.
mod files;
mod lists;
mod opening;
mod recovery;

pub(crate) use store::{add, fresh_id, readable_setups, today};

use crate::context::{Context, Reading};
use crate::records::{STORED, WhenStored};
use crate::sharing::{self, CODEC, SharedLink};
use changes::Removed;
use clothyard_core::Setup;
use clothyard_core::schema::{Field, shafts::invented_shafts};
use clothyard_core::setup::MAX_NAME_CHARS;
use clothyard_studies::sharing::link;
use clothyard_web::bus::{Debounce, Event, Reply, Tick};
use clothyard_web::protocol::storage;
use clothyard_web::widgets::field;
use clothyard_web::{self as dom, Dom, Kind, View};
use lists::Lists;
use recovery::Recovery;
use web_sys::HtmlInputElement;

const ID: &str = "keeping";
const NAME: &str = "keep-name";

/// A name that is typed is in the link after this long without a key, in milliseconds.
const SHOWN_AFTER_MS: i32 = 200;

/// Whether the browser promises not to clear what is stored.
const LASTING: &str = "lasting";
/// The text of a file to read in.
const FILE: &str = "file";

pub(crate) struct Library {
    /// What was removed last, with its place, so that it can come back.
    removed: Option<Removed>,
    when_stored: WhenStored,
    /// The name that the setup on the page had when the field of its name was filled.
    name_shown: Option<String>,
    lists: Lists,
    recovery: Recovery,
    link: SharedLink,
    typing: Debounce,
}

impl Default for Library {
    fn default() -> Self {
        Self {
            removed: None,
            when_stored: WhenStored::default(),
            name_shown: None,
            lists: Lists::default(),
            recovery: Recovery::default(),
            link: SharedLink::new(ID, ["share-link", "share-note", "share-code"]),
            typing: Debounce::new(Tick { view: ID, timer: "typing", count: 0 }, SHOWN_AFTER_MS),
        }
    }
}

impl View<Context> for Library {
    fn id(&self) -> &'static str {
        ID
    }

    fn start(&mut self, context: &Context) {
        opening::open_link(context);
    }

    fn changed(&mut self, event: &Event, context: &Context) -> bool {
        if matches!(event, Event::Link) {
            opening::open_link(context);
        }
        if event.wrote(storage::LIBRARY) || event.wrote(storage::LESSONS) {
            context.records.move_in();
        }
        matches!(event, Event::Setup | Event::Units | Event::Stored(_))
    }

    fn show(&mut self, context: &Context) {
        let Some(now) = context.read() else { return };
        self.show_name(&now);
        dom::hide("keeping-load-before", store::before_link().is_none());
        dom::hide("keeping-load-link", store::from_link().is_none());
        self.lists.show_rows(&now.units, &context.records);
        self.recovery.look();
        self.show_link(&now);
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if let Some((act, id)) = lists::pressed(dom) {
            return self.act(act, &id, context);
        }
        match dom.button_id().as_str() {
            "rename-leave" => self.end_renaming(context),
            "keeping-put-back" => self.put_back(context),
            "keeping-load-before" => load(store::before_link(), "Restored your setup from before the link.", context),
            "keeping-load-link" => load(store::from_link(), "Opened the setup from the last link.", context),
            "backup-all" => files::save_all(context),
            "backup-one" => files::save_one(context),
            "import-it" => self.import_pasted(context),
            "share-copy" => self.link.copy(context),
            "recovery-copy" => sharing::copy(ID, recovery::TEXT, context),
            "recovery-save" => say(&crate::save::json("clothyard-unread.txt", &field::text(recovery::TEXT))),
            "recovery-drop" => {
                match self.recovery.discard() {
                    Ok(said) => say(said),
                    Err(why) => say(&why),
                }
                self.show(context);
            }
            "recovery-close" => self.recovery.close(),
            _ => {}
        }
    }

    fn input(&mut self, _: &Dom, _: &Context) {
        self.typing.restart(crate::post);
    }

    fn change(&mut self, dom: &Dom, context: &Context) {
        if let Some(input) = dom.target_as::<HtmlInputElement>().filter(|_| dom.id() == "import-file") {
            files::read(input, context);
        }
    }

    fn other(&mut self, dom: &Dom, context: &Context) {
        match dom.kind {
            Kind::Focus => field::own_undo(dom),
            Kind::Submit => {
                dom.prevent();
                match dom.id().as_str() {
                    "keep-form" => self.add_setup(context),
                    "drawer-form" => self.add_part(context),
                    "rename-form" => self.rename(context),
                    _ => {}
                }
            }
            _ => {}
        }
    }

    fn tick(&mut self, tick: Tick, context: &Context) {
        if self.typing.is_over(tick) && self.is_open() {
            self.show(context);
        }
    }

    fn reply(&mut self, reply: Reply, context: &Context) {
        match reply.what {
            STORED => self.when_stored.end(reply.value.is_some()).iter().for_each(|words| say(words)),
            LASTING => say_lasting(reply.value.and_then(|answer| answer.as_bool())),
            FILE => match reply.value.and_then(|text| text.as_string()) {
                Some(text) => drop(self.import(&text, context)),
                None => say("The file could not be read."),
            },
            _ => say(sharing::copied(&reply)),
        }
    }
}

impl Library {
    /// Fills the field of the name when the setup on the page has another one. What is being typed is left alone.
    fn show_name(&mut self, now: &Reading) {
        let name = &now.setup.name;
        if self.name_shown.as_ref() != Some(name) {
            field::write(NAME, name);
            self.name_shown = Some(name.clone());
        }
    }

    fn show_link(&mut self, now: &Reading) {
        let link = link::encode(&named(&with_its_shaft(now)), &CODEC);
        self.link.show_fragment(match link {
            Ok(link) => Ok((link.note(), link.fragment)).map(|(note, fragment)| (fragment, note)),
            Err(error) => Err(format!("No link for this setup: {}", error.message())),
        });
    }
}

/// The setup with no more of the user's list of shafts than the one it uses: a link carries what it needs.
fn with_its_shaft(now: &Reading) -> Setup {
    let mut setup = now.setup.clone();
    if setup.has_own_shafts() {
        let used = now.all().recommendation.as_ref().filter(|_| setup.get(Field::StaticSpine).is_none());
        setup.shafts = used.map_or_else(invented_shafts, |found| vec![found.shaft.clone()]);
    }
    setup
}

/// Says what has been done, or could not be.
fn say(words: &str) {
    dom::write_id("keeping-said", words);
}

fn say_lasting(lasting: Option<bool>) {
    let words = match lasting {
        Some(true) => "The browser will keep it until you clear it yourself.",
        Some(false) => "The browser may clear it when storage runs low. Keep a backup file.",
        None => "This browser may clear it. Keep a backup file.",
    };
    dom::write_id("keeping-lasting", words);
}

fn typed(id: &str) -> String {
    field::text(id).trim().to_owned()
}

/// A setup under the name in the view's field.
fn named(setup: &Setup) -> Setup {
    let mut setup = setup.clone();
    setup.name = typed(NAME).chars().take(MAX_NAME_CHARS).collect();
    setup
}

fn load(setup: Option<Setup>, said: &str, context: &Context) {
    if let Some(setup) = setup {
        context.load(&setup);
        say(&format!("{said} Undo reverses this."));
    }
}
