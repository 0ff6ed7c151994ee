//! The steps of a lesson: listed, added, moved, removed, and the one that is changed.

use super::{Lessons, editor, say};
use crate::context::Context;
use clothyard_core::Units;
use clothyard_studies::lesson::{Lesson, Step};
use clothyard_web::widgets::field;
use clothyard_web::widgets::list::{self, Act};
use clothyard_web::{self as dom, View};

const CHANGE: Act = Act::Other("change");
/// What can be done with a step.
pub(super) const ACTS: [Act; 4] = [CHANGE, Act::Up, Act::Down, Act::Remove];
const WORDS: [&str; 4] = ["Change", "Move up", "Move down", "Remove"];

/// Lists the steps, those of one's own lesson with buttons; one of them may be in the fields.
pub(super) fn show_steps(lesson: &Lesson, own: bool, edited: Option<usize>, units: &Units) {
    let Some(list) = dom::by_id("lesson-steps") else { return };
    dom::empty(&list);
    for (place, step) in lesson.steps.iter().enumerate() {
        let Some(row) = dom::add(&list, "li", "", "") else { continue };
        let heading = step.heading_or_none();
        if let Some(what) = dom::add(&row, "p", "what", "") {
            dom::add(&what, "b", "", heading);
            dom::add(&what, "span", "", &step.setup_in_words(units));
        }
        let Some(group) = dom::add(&row, "p", "acts", "").filter(|_| own) else { continue };
        for (act, words) in ACTS.into_iter().zip(WORDS) {
            let name = format!("{words}: step {}, {heading}", place + 1);
            let button = list::button(&group, act, words, &name, (place, lesson.steps.len()));
            if let Some(button) = button.filter(|_| act == CHANGE) {
                dom::set(&button, "aria-pressed", if edited == Some(place) { "true" } else { "false" });
            }
        }
    }
}

impl Lessons {
    /// Does what a button of a step asks for.
    pub(super) fn change_steps(&mut self, act: Act, place: usize, context: &Context) {
        if act == CHANGE {
            self.editor.open_step(Some(place).filter(|_| self.editor.place != Some(place)));
            return self.show(context);
        }
        let mut moved_to = None;
        let done = self.edit(context, &mut |lesson| {
            moved_to = act.apply(&mut lesson.steps, place);
            Ok(())
        });
        let Some(to) = moved_to.filter(|_| done) else { return };
        let removed = act == Act::Remove;
        self.editor.open_step(Some(to).filter(|_| !removed));
        self.show(context);
        if removed {
            say(&format!("Removed step {}.", place + 1));
            field::focus("#lesson-add");
        } else {
            say(&format!("Moved to step {}.", to + 1));
            field::focus(&format!("[data-act=change][data-place=\"{to}\"]"));
        }
    }

    /// Adds a step about the setup on the page.
    pub(super) fn add_step(&mut self, context: &Context) {
        let Some(setup) = context.setup() else { return };
        let mut place = 0;
        let done = self.edit(context, &mut |lesson| {
            place = lesson.add_step(setup.clone())?;
            Ok(())
        });
        if done {
            self.editor.open_step(Some(place));
            self.show(context);
            say(&format!("Step {} uses the current setup.", place + 1));
        }
    }

    /// Changes the step in the fields; what is not allowed is said beside them, and the last good one stays.
    fn change_step(&mut self, context: &Context, change: &mut dyn FnMut(&mut Step) -> Result<(), String>) {
        let Some(place) = self.editor.place else { return };
        let mut said = String::new();
        self.edit(context, &mut |lesson| {
            said = lesson.steps.get_mut(place).and_then(|step| step.change(change).err()).unwrap_or_default();
            Ok(())
        });
        dom::write_id("step-said", &said);
    }

    /// Reads a field of the step, in which something has been typed or chosen.
    pub(super) fn read_field(&mut self, id: &str, context: &Context) {
        let units = context.units();
        self.change_step(context, &mut |step| editor::read(id, step, &units));
    }

    /// Puts the setup of the step on the page.
    pub(super) fn load_setup(&self, context: &Context) {
        if let Some(step) = self.editor.place.and_then(|place| self.chosen(context)?.steps.into_iter().nth(place)) {
            context.load(&step.setup);
            say("Opened the setup of the step. Undo restores your setup.");
        }
    }

    /// Gives the step the setup on the page.
    pub(super) fn take_setup(&mut self, context: &Context) {
        let Some(setup) = context.setup() else { return };
        self.change_step(context, &mut |step| {
            step.setup.clone_from(&setup);
            Ok(())
        });
        say("The step uses the current setup.");
    }
}
