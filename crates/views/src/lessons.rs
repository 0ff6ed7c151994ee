//! Lessons: choose, edit and share.

// One step's fields, and the list of steps.
mod editor;
mod steps;

// What an earlier version stored and this one cannot read.
mod earlier;

// What is printed, and the picture beside the fields.
mod paper;

use crate::context::Context;
use crate::library::fresh_id;
use crate::presenter::Next;
use crate::records::{STORED, WhenStored};
use crate::save;
use crate::sharing::{self, CODEC, SharedLink, take_link};
use clothyard_studies::lesson::editing::{shortened, title_or_none};
use clothyard_studies::lesson::library::LessonLibrary;
use clothyard_studies::lesson::presentation::Presentation;
use clothyard_studies::lesson::ready::{self, ReadyLesson};
use clothyard_studies::lesson::{Lesson, MOST_HEADING_CHARS, MOST_LESSON_BYTES, SavedLesson, link};
use clothyard_studies::sharing::library::in_file_name;
use clothyard_web::bus::{Event, Reply};
use clothyard_web::protocol::storage;
use clothyard_web::store::Store;
use clothyard_web::widgets::{field, list, select};
use clothyard_web::{self as dom, Dom, Kind, View, plain};
use editor::Editor;
use paper::Paper;
use web_sys::HtmlInputElement;

const ID: &str = "lessons";
const CHOICE: &str = "lesson-choice";
const TITLE: &str = "lesson-title";
/// Before the id of a lesson of one's own in the list; those of the page's go by their key alone.
const OWN: &str = "own ";
/// The lesson that a link brought, in the list.
const LINKED: &str = "link";
/// The text of a file to read in.
const FILE: &str = "file";

static LINKED_LESSON: Store<SavedLesson> = Store::of_tab(storage::LINKED_LESSON);

pub(crate) struct Lessons {
    /// Where a lesson to be presented is put.
    next: Next,
    editor: Editor,
    link: SharedLink,
    /// What the printer gets.
    paper: Paper,
    /// What was deleted last, with its id, so that it can come back.
    removed: Option<(String, SavedLesson)>,
    /// A lesson that came by link: shown, and stored only when the user duplicates it.
    linked: Option<Lesson>,
    /// What the list of lessons was made from; while it is the same, it is left alone.
    listed: Option<u32>,
    when_stored: WhenStored,
}

impl Lessons {
    pub(crate) fn new(next: &Next) -> Self {
        let link = SharedLink::new(ID, ["lesson-link", "lesson-note", "lesson-code"]);
        Self {
            next: next.clone(),
            editor: Editor::default(),
            link,
            paper: Paper::default(),
            removed: None,
            linked: None,
            listed: None,
            when_stored: WhenStored::default(),
        }
    }
}

impl View<Context> for Lessons {
    fn id(&self) -> &'static str {
        ID
    }

    fn start(&mut self, context: &Context) {
        editor::fill_lists();
        let linked = LINKED_LESSON.read().ok().flatten();
        self.linked = linked.and_then(|lesson| Lesson::from_saved(&lesson).ok());
        self.show_choices(context);
        self.open_link(context);
    }

    /// Of the page only its units are shown here: a slider that is dragged there asks nothing.
    fn changed(&mut self, event: &Event, context: &Context) -> bool {
        match event {
            Event::Link => self.open_link(context),
            Event::BeforePrint => paper::write(self.paper, &self.chosen(context).unwrap_or_default(), &context.units()),
            Event::AfterPrint => self.paper = Paper::default(),
            _ => {}
        }
        // What it has changed itself it has shown.
        let changed = event.wrote(storage::LESSONS) && self.listed != Some(context.records.count_changes());
        matches!(event, Event::Units) || changed
    }

    fn show(&mut self, context: &Context) {
        self.show_choices(context);
        earlier::show_unread();
        let (lesson, own) = (self.chosen(context).unwrap_or_default(), own_id().is_some());
        let units = context.units();
        dom::hide("lesson-edit", !own);
        field::write(TITLE, &lesson.title);
        steps::show_steps(&lesson, own, self.editor.place, &units);
        self.editor.show_fields(&lesson, own, units);
        let link = link::encode(&lesson, &CODEC).map(|fragment| (fragment, ""));
        let link = link.map_err(|error| format!("This lesson has no link: {}", error.message()));
        let there = self.link.show_fragment(link);
        dom::hide("lesson-link-line", !there);
    }

    fn click(&mut self, dom: &Dom, context: &Context) {
        if let Some((act, place)) = list::pressed(dom, &steps::ACTS) {
            return self.change_steps(act, place, context);
        }
        match dom.button_id().as_str() {
            "lesson-show" => self.present(false, context),
            "lesson-quiz" => self.present(true, context),
            "lesson-print" => self.print(Paper::Handout, context),
            "lesson-print-quiz" => self.print(Paper::Quiz, context),
            "lesson-copy" => self.copy(context),
            "lesson-new" => self.begin(context),
            "lesson-add" => self.add_step(context),
            "lesson-delete" => self.delete(context),
            "lesson-bring-back" => self.bring_back(context),
            "lesson-save" => self.save_chosen(context),
            "lesson-copy-link" => self.link.copy(context),
            "lesson-new-list" => {
                earlier::set_aside();
                self.show(context);
            }
            "lesson-unread-save" => earlier::save_unread(),
            "step-load" => self.load_setup(context),
            "step-take" => self.take_setup(context),
            _ => {}
        }
    }

    fn input(&mut self, dom: &Dom, context: &Context) {
        let id = dom.id();
        if id == TITLE {
            self.edit(context, &mut |lesson| {
                lesson.title = shortened(&field::text(TITLE), MOST_HEADING_CHARS);
                Ok(())
            });
        } else if editor::TYPED.contains(&id.as_str()) {
            self.read_field(&id, context);
        }
    }

    fn change(&mut self, dom: &Dom, context: &Context) {
        match dom.id().as_str() {
            CHOICE => {
                self.editor.open_step(None);
                say("");
                self.show(context);
            }
            "lesson-file" => dom.target_as().into_iter().for_each(|input| read_file(input, context)),
            id if editor::CHOSEN.contains(&id) => self.read_field(id, context),
            _ => {}
        }
    }

    fn other(&mut self, dom: &Dom, _: &Context) {
        if dom.kind == Kind::Focus {
            field::own_undo(dom);
        }
    }

    fn reply(&mut self, reply: Reply, context: &Context) {
        match reply.what {
            STORED => return self.when_stored.end(reply.value.is_some()).iter().for_each(|words| say(words)),
            FILE => {}
            _ => return say(sharing::copied(&reply)),
        }
        match reply.value.and_then(|text| text.as_string()).map(|text| plain::from_json(&text)) {
            Some(Ok(lesson)) => self.import(&lesson, context),
            Some(Err(error)) => say(&format!("Not imported; nothing was changed. {}", error.message)),
            None => say("The file could not be read."),
        }
    }
}

/// Says what has been done, or could not be.
fn say(words: &str) {
    dom::write_id("lesson-said", words);
}

/// The id of the lesson of one's own that is chosen; none where it is one of the page's.
fn own_id() -> Option<String> {
    select::chosen(CHOICE).strip_prefix(OWN).map(str::to_owned)
}

fn read_file(input: &HtmlInputElement, context: &Context) {
    if !save::read(input, MOST_LESSON_BYTES, (ID, FILE), context) {
        say("Not imported: larger than 1 MB.");
    }
}

impl Lessons {
    /// The lesson chosen.
    fn chosen(&self, context: &Context) -> Option<Lesson> {
        if let Some(id) = own_id() {
            return Lesson::from_saved(&context.records.contents().lessons.lesson(&id)?.lesson).ok();
        }
        let key = select::chosen(CHOICE);
        if key == LINKED {
            return self.linked.clone();
        }
        ready::all().into_iter().find(|ready| ready.key == key).map(|ready| ready.lesson)
    }

    fn save_chosen(&self, context: &Context) {
        let Some(lesson) = self.chosen(context) else { return };
        let name = format!("clothyard-lesson-{}.json", in_file_name(&lesson.title));
        say(&save::json(&name, &plain::to_readable_json(&lesson.to_saved())));
    }

    /// Changes what is stored; what goes wrong is said. Whether it was done.
    fn change(&mut self, context: &Context, change: &mut dyn FnMut(&mut LessonLibrary) -> Result<(), String>) -> bool {
        let done = context.records.change(ID, &mut |contents| change(&mut contents.lessons));
        match &done {
            Ok(()) => self.when_stored.begin(),
            Err(why) => say(why),
        }
        done.is_ok()
    }

    fn show_choices(&mut self, context: &Context) {
        let changes = Some(context.records.count_changes());
        if self.listed == changes {
            return;
        }
        self.listed = changes;
        let contents = context.records.contents();
        let own = contents.lessons.lessons.iter();
        let own = own
            .map(|kept| (format!("{OWN}{}", kept.id), format!("Your lesson: {}", title_or_none(&kept.lesson.title))));
        let named = |ready: ReadyLesson| (ready.key.to_owned(), title_or_none(&ready.lesson.title).to_owned());
        let linked = self.linked.iter();
        let linked =
            linked.map(|lesson| (LINKED.to_owned(), format!("From the link: {}", title_or_none(&lesson.title))));
        let all: Vec<_> = ready::all().into_iter().map(named).chain(own).chain(linked).collect();
        select::fill(CHOICE, all.iter().map(|(value, words)| (value.as_str(), words.as_str())));
    }

    fn choose(&mut self, value: &str, context: &Context) {
        self.editor.open_step(None);
        self.show_choices(context);
        select::choose(CHOICE, value);
        self.show(context);
    }

    /// Changes the lesson of one's own that is chosen, and shows it; whether it was done.
    fn edit(&mut self, context: &Context, change: &mut dyn FnMut(&mut Lesson) -> Result<(), String>) -> bool {
        let (Some(id), Some(mut lesson)) = (own_id(), self.chosen(context)) else { return false };
        if let Err(why) = change(&mut lesson) {
            say(&why);
            return false;
        }
        let saved = lesson.to_saved();
        let done = self.change(context, &mut |library| library.put(&id, saved.clone()));
        self.show(context);
        done
    }

    /// Stores a lesson as one's own and chooses it; whether there was room.
    fn add_own(&mut self, lesson: &Lesson, context: &Context) -> bool {
        let (id, saved) = (fresh_id(), lesson.to_saved());
        let done = self.change(context, &mut |library| library.put(&id, saved.clone()));
        if done {
            self.choose(&format!("{OWN}{id}"), context);
        }
        done
    }

    /// Chooses a lesson from elsewhere where it is in the list already, and says so.
    fn choose_known(&mut self, lesson: &Lesson, context: &Context) -> bool {
        let ready = ready::all().into_iter().find(|ready| ready.lesson == *lesson).map(|ready| ready.key.to_owned());
        let saved = lesson.to_saved();
        let contents = context.records.contents();
        let own = contents.lessons.lessons.iter().find(|kept| kept.lesson == saved);
        let Some(value) = ready.or_else(|| own.map(|kept| format!("{OWN}{}", kept.id))) else { return false };
        self.choose(&value, context);
        say(&format!("{}: already saved.", lesson.in_words()));
        true
    }

    /// Stores a lesson that the user imports, as a copy unless it is there already.
    fn import(&mut self, lesson: &Lesson, context: &Context) {
        if !self.choose_known(lesson, context) && self.add_own(lesson, context) {
            self.when_stored.say(format!("Imported as a copy: {}.", lesson.in_words()));
        }
    }

    /// Shows a lesson that came by link, without storing it.
    fn show_linked(&mut self, lesson: Lesson, context: &Context) {
        if self.choose_known(&lesson, context) {
            return;
        }
        // Where the tab stores nothing, the lesson is there until the page is loaded again.
        let _ = LINKED_LESSON.write(&lesson.to_saved());
        say(&format!("Opened from the link, not saved: {}. Duplicate it to save or edit it.", lesson.in_words()));
        (self.linked, self.listed) = (Some(lesson), None);
        self.choose(LINKED, context);
    }

    /// Opens the lesson that the page's address holds, if it holds one.
    fn open_link(&mut self, context: &Context) {
        let Some(fragment) = take_link(link::is_lesson) else { return };
        // The page opens the tool that its address names.
        let _ = dom::window().map(|window| window.location().set_hash(ID));
        self.show(context);
        match link::decode(&fragment, &CODEC) {
            Ok(lesson) => self.show_linked(lesson, context),
            Err(error) => {
                say(&format!("The link could not be opened, and nothing was changed: {}", error.message()));
            }
        }
    }

    fn present(&self, quiz: bool, context: &Context) {
        let presentation = self.chosen(context).and_then(|lesson| Presentation::new(lesson, quiz, context.units()));
        match presentation {
            Some(presentation) => crate::presenter::begin(&self.next, presentation, context),
            None => say("This lesson has no steps. Add the current setup as a step."),
        }
    }

    /// Prints the lesson; what is printed is written when the browser says that it begins.
    fn print(&mut self, paper: Paper, context: &Context) {
        self.paper = paper;
        paper::write(paper, &self.chosen(context).unwrap_or_default(), &context.units());
        let done = dom::window().is_some_and(|window| window.print().is_ok());
        say(if done { "" } else { "The browser blocked printing." });
    }

    fn copy(&mut self, context: &Context) {
        let Some(lesson) = self.chosen(context).map(Lesson::copied) else { return };
        if self.add_own(&lesson, context) {
            self.when_stored.say(format!("You can edit \u{201c}{}\u{201d}.", lesson.title));
        }
    }

    fn begin(&mut self, context: &Context) {
        let Some(setup) = context.setup() else { return };
        if self.add_own(&Lesson::first_draft(setup), context) {
            self.editor.open_step(Some(0));
            self.show(context);
            self.when_stored.say("New lesson with the current setup as its first step. Saved as you type.".to_owned());
        }
    }

    fn delete(&mut self, context: &Context) {
        let Some(id) = own_id() else { return };
        let mut removed = None;
        let done = self.change(context, &mut |library| {
            removed = library.remove(&id);
            Ok(())
        });
        if let Some(lesson) = removed.filter(|_| done) {
            let words = format!("\u{201c}{}\u{201d}", lesson.title);
            self.removed = Some((id, lesson));
            self.editor.open_step(None);
            self.show(context);
            self.when_stored.say(format!("Deleted {words}."));
            dom::write_id("lesson-bring-back", &format!("Restore {words}"));
            dom::hide("lesson-bring-back", false);
            field::focus("#lesson-bring-back");
        }
    }

    fn bring_back(&mut self, context: &Context) {
        let Some((id, lesson)) = self.removed.take() else { return };
        if self.change(context, &mut |library| library.put(&id, lesson.clone())) {
            dom::hide("lesson-bring-back", true);
            self.choose(&format!("{OWN}{id}"), context);
            self.when_stored.say("Restored.".to_owned());
            field::focus("#lesson-choice");
        } else {
            self.removed = Some((id, lesson));
        }
    }
}
