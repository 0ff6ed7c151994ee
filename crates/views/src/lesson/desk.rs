//! The desk: a lesson is chosen, prepared and sent on.

use super::{projector, sending, step, store};
use crate::kept::fresh_id;
use crate::{ask, page, save, share};
use clothyard_core::Units;
use clothyard_studies::lesson::shelf::MOST_LESSONS;
use clothyard_studies::lesson::{Lesson, MOST_HEADING_CHARS, MOST_STEPS, SavedLesson, Step, ready};
use clothyard_studies::sharing::shelf::summary;
use clothyard_web as dom;
use core::cell::{Cell, RefCell};
use wasm_bindgen::JsCast;
use web_sys::{Element, Event, HtmlInputElement, HtmlSelectElement};

/// Before the id of a lesson of one's own in the list; those of the page's go by their key alone.
const OWN: &str = "own ";

thread_local! {
    static REMOVED: RefCell<Option<(String, SavedLesson)>> = const { RefCell::new(None) };
    static UNITS: Cell<Option<Units>> = const { Cell::new(None) };
    /// What the list of lessons was made from; while it is the same, it is left alone.
    static LISTED: RefCell<Option<String>> = const { RefCell::new(None) };
}

/// Starts the desk; called once.
pub(super) fn start() {
    let (Some(view), Some(window)) = (dom::by_id("lessons"), dom::window()) else { return };
    dom::listen(&view, "click", on_click);
    dom::listen(&view, "change", on_change);
    dom::listen(&view, "input", on_input);
    dom::listen(&view, "focusin", ask::own_undo);
    dom::listen(&view, "toggle", |_| show());
    dom::listen(&window, "storage", |_| show());
    dom::listen(&window, "hashchange", |_| sending::open_link());
    page::on_change(|_| show_in_units());
    step::fill_lists();
    show_list();
    sending::open_link();
    show();
}

/// Of the page only its units are shown here: a slider that is dragged there asks nothing of the desk.
fn show_in_units() {
    let units = page::units();
    if UNITS.replace(Some(units)) != Some(units) {
        show();
    }
}

/// Says what has been done, or could not be.
pub(super) fn say(words: &str) {
    dom::write_id("lesson-said", words);
}

/// The id of the lesson of one's own that is chosen; none where it is one of the page's.
pub(super) fn own() -> Option<String> {
    ask::chosen("lesson-choice").strip_prefix(OWN).map(str::to_owned)
}

/// The lesson chosen.
pub(super) fn chosen() -> Option<Lesson> {
    match own() {
        Some(id) => Lesson::from_saved(&store::read().ok()?.kept(&id)?.lesson).ok(),
        None => {
            let key = ask::chosen("lesson-choice");
            ready::all().into_iter().find(|ready| ready.key == key).map(|ready| ready.lesson)
        }
    }
}

/// Changes the lesson of one's own that is chosen, and shows it; whether it was done.
pub(super) fn edit(change: &mut dyn FnMut(&mut Lesson) -> Result<(), String>) -> bool {
    let (Some(id), Some(mut lesson)) = (own(), chosen()) else { return false };
    if let Err(why) = change(&mut lesson) {
        say(&why);
        return false;
    }
    let saved = lesson.to_saved();
    let kept = store::change(&mut |shelf| {
        shelf.put(&id, saved.clone());
        Ok(())
    });
    show();
    kept
}

/// Keeps a lesson as one's own and chooses it; whether there was room.
pub(super) fn take_in(lesson: &Lesson) -> bool {
    let (id, saved) = (fresh_id(), lesson.to_saved());
    let done = store::change(&mut |shelf| {
        let room = shelf.put(&id, saved.clone());
        if room {
            Ok(())
        } else {
            Err(format!("Not kept: there are {MOST_LESSONS} lessons already, which is the most."))
        }
    });
    if done {
        choose(&format!("{OWN}{id}"));
    }
    done
}

/// Chooses a lesson that is there already, if it is.
pub(super) fn find(lesson: &Lesson) -> bool {
    let saved = lesson.to_saved();
    let ready = ready::all().into_iter().find(|ready| ready.lesson == *lesson).map(|ready| ready.key.to_owned());
    let own = || {
        let shelf = store::read().ok()?;
        shelf.lessons.iter().find(|kept| kept.lesson == saved).map(|kept| format!("{OWN}{}", kept.id))
    };
    let found = ready.or_else(own);
    found.iter().for_each(|value| choose(value));
    found.is_some()
}

fn choose(value: &str) {
    step::edit(None);
    show_list();
    if let Some(list) = dom::by_id("lesson-choice").and_then(|list| list.dyn_into::<HtmlSelectElement>().ok()) {
        list.set_value(value);
    }
    show();
}

/// Shows the lesson chosen.
pub(super) fn show() {
    if !ask::is_open("lessons") {
        return;
    }
    show_list();
    show_unread();
    let lesson = chosen().unwrap_or_default();
    let mine = own().is_some();
    dom::hide("lesson-edit", !mine);
    ask::write("lesson-title", &lesson.title);
    show_steps(&lesson, mine);
    step::show(&lesson);
    sending::show(&lesson);
}

fn show_list() {
    let Some(list) = dom::by_id("lesson-choice").and_then(|list| list.dyn_into::<HtmlSelectElement>().ok()) else {
        return;
    };
    let text = store::text();
    if LISTED.replace(Some(text.clone())) == Some(text) {
        return;
    }
    let was = list.value();
    dom::empty(&list);
    let titled = |title: &str| if title.is_empty() { "without a title".to_owned() } else { title.to_owned() };
    let own = store::read().unwrap_or_default().lessons;
    let own = own.iter().map(|kept| (format!("{OWN}{}", kept.id), format!("Yours: {}", titled(&kept.lesson.title))));
    let ready = ready::all().into_iter().map(|ready| (ready.key.to_owned(), titled(&ready.lesson.title)));
    for (value, words) in ready.chain(own) {
        if let Some(option) = dom::add(&list, "option", "", &words) {
            dom::set(&option, "value", &value);
        }
    }
    list.set_value(&was);
    if list.selected_index() < 0 {
        list.set_selected_index(0);
    }
}

fn show_unread() {
    let unread = store::read().err();
    dom::hide("lesson-unread", unread.is_none());
    if let Some(error) = unread {
        dom::write_id("lesson-unread-why", &format!("The lessons kept in this browser: {}", error.message));
        // What a newer page wrote is sound, and stays for it.
        dom::hide("lesson-begin-anew", error.is_newer());
    }
}

fn show_steps(lesson: &Lesson, mine: bool) {
    let Some(list) = dom::by_id("lesson-steps") else { return };
    let units = page::units();
    dom::empty(&list);
    for (place, step) in lesson.steps.iter().enumerate() {
        let Some(row) = dom::add(&list, "li", "", "") else { continue };
        let heading = if step.heading.is_empty() { "without a heading" } else { &step.heading };
        if let Some(what) = dom::add(&row, "p", "what", "") {
            let _ = dom::add(&what, "b", "", heading);
            let name = &step.setup.name;
            let words = if name.is_empty() { summary(&step.setup, &units) } else { name.clone() };
            let _ = dom::add(&what, "span", "", &words);
        }
        let Some(acts) = dom::add(&row, "p", "acts", "").filter(|_| mine) else { continue };
        for (act, words) in [("change", "Change"), ("up", "Move up"), ("down", "Move down"), ("out", "Take out")] {
            let Some(button) = dom::add(&acts, "button", "", words) else { continue };
            for (name, value) in [("type", "button"), ("data-act", act), ("data-place", &place.to_string())] {
                dom::set(&button, name, value);
            }
            dom::set(&button, "aria-label", &format!("{words}: step {}, {heading}", place + 1));
            if act == "change" {
                dom::set(&button, "aria-pressed", if step::edited() == Some(place) { "true" } else { "false" });
            }
            let stuck = (act == "up" && place == 0) || (act == "down" && place + 1 == lesson.steps.len());
            dom::flag(&button, "disabled", stuck);
        }
    }
}

fn on_click(event: Event) {
    let Some(button) = dom::pressed(&event) else { return };
    if let Some(act) = button.get_attribute("data-act") {
        let place = button.get_attribute("data-place").and_then(|place| place.parse().ok()).unwrap_or(0);
        return on_step(&act, place);
    }
    match button.id().as_str() {
        "lesson-show" => present(false),
        "lesson-quiz" => present(true),
        "lesson-copy" => copy(),
        "lesson-new" => begin(),
        "lesson-add" => add(),
        "lesson-delete" => delete(),
        "lesson-bring-back" => bring_back(),
        "lesson-save" => sending::save(),
        "lesson-copy-link" => share::copy("lesson-link", say),
        "lesson-begin-anew" => begin_anew(),
        "lesson-unread-save" => save_unread(),
        id => step::press(id),
    }
}

fn on_change(event: Event) {
    let Some(element) = dom::target::<Element>(&event) else { return };
    match element.id().as_str() {
        "lesson-choice" => {
            step::edit(None);
            say("");
            show();
        }
        "lesson-file" => {
            if let Some(field) = element.dyn_ref::<HtmlInputElement>() {
                sending::read_file(field);
            }
        }
        id => step::chosen(id),
    }
}

fn on_input(event: Event) {
    let Some(element) = dom::target::<Element>(&event) else { return };
    match element.id().as_str() {
        "lesson-title" => {
            edit(&mut |lesson| {
                lesson.title = ask::text("lesson-title").chars().take(MOST_HEADING_CHARS).collect();
                Ok(())
            });
        }
        id => step::typed(id),
    }
}

fn present(quiz: bool) {
    match chosen().filter(|lesson| !lesson.steps.is_empty()) {
        Some(lesson) => projector::show(lesson, quiz),
        None => say("This lesson has no step yet: add the set-up on the page as one."),
    }
}

fn copy() {
    let Some(mut lesson) = chosen() else { return };
    lesson.title = format!("{}, a copy", lesson.title).chars().take(MOST_HEADING_CHARS).collect();
    if take_in(&lesson) {
        say(&format!("\u{201c}{}\u{201d} is yours to change.", lesson.title));
    }
}

fn begin() {
    let Some(setup) = page::setup() else { return };
    if take_in(&Lesson { title: "A new lesson".to_owned(), steps: vec![Step::about(setup)] }) {
        step::edit(Some(0));
        show();
        say("A new lesson, with the set-up on the page as its first step. It is kept as you write.");
    }
}

fn add() {
    let Some(setup) = page::setup() else { return };
    let mut place = 0;
    let done = edit(&mut |lesson| {
        if lesson.steps.len() >= MOST_STEPS {
            return Err(format!("A lesson has at most {MOST_STEPS} steps."));
        }
        place = lesson.steps.len();
        // As the one before, so that a lesson is quickly made; its words are its own.
        let fresh = Step::about(setup.clone());
        lesson.steps.push(match lesson.steps.last() {
            Some(before) => Step { setup: fresh.setup, heading: fresh.heading, words: fresh.words, ..before.clone() },
            None => fresh,
        });
        Ok(())
    });
    if done {
        step::edit(Some(place));
        show();
        say(&format!("Step {} has the set-up on the page.", place + 1));
    }
}

fn on_step(act: &str, place: usize) {
    let other = match act {
        "up" => place.wrapping_sub(1),
        "down" => place + 1,
        _ => place,
    };
    if act == "change" {
        step::edit(if step::edited() == Some(place) { None } else { Some(place) });
        return show();
    }
    let done = edit(&mut |lesson| {
        if place < lesson.steps.len() && other < lesson.steps.len() {
            if act == "out" {
                lesson.steps.remove(place);
            } else {
                lesson.steps.swap(place, other);
            }
        }
        Ok(())
    });
    if done {
        step::edit(if act == "out" { None } else { Some(other) });
        show();
        say(&if act == "out" {
            format!("Step {} is taken out.", place + 1)
        } else {
            format!("It is step {} now.", other + 1)
        });
        let next =
            if act == "out" { "#lesson-add".to_owned() } else { format!("[data-act=change][data-place=\"{other}\"]") };
        ask::focus(&next);
    }
}

fn delete() {
    let Some(id) = own() else { return };
    let mut removed = None;
    let done = store::change(&mut |shelf| {
        removed = shelf.remove(&id);
        Ok(())
    });
    if let Some(lesson) = removed.filter(|_| done) {
        let words = format!("\u{201c}{}\u{201d}", lesson.title);
        REMOVED.replace(Some((id, lesson)));
        step::edit(None);
        show();
        say(&format!("{words} is deleted."));
        dom::write_id("lesson-bring-back", &format!("Bring {words} back"));
        dom::hide("lesson-bring-back", false);
        ask::focus("#lesson-bring-back");
    }
}

fn bring_back() {
    let Some((id, lesson)) = REMOVED.take() else { return };
    let done = store::change(&mut |shelf| {
        shelf.put(&id, lesson.clone());
        Ok(())
    });
    if done {
        dom::hide("lesson-bring-back", true);
        choose(&format!("{OWN}{id}"));
        say("It is back.");
        ask::focus("#lesson-choice");
    } else {
        REMOVED.replace(Some((id, lesson)));
    }
}

fn begin_anew() {
    match store::begin_new() {
        Ok(()) => say("A new list is begun; the old text is put aside in this browser."),
        Err(why) => say(&format!("Not put aside: {why}.")),
    }
    show();
}

fn save_unread() {
    if save::file("clothyard-lessons-unread.txt", "text/plain", &store::text()).is_none() {
        say("This browser would not write a file.");
    }
}
