//! Lists of lines, and lists whose rows can be moved and removed.

use crate::protocol::attribute;
use crate::{Dom, add, by_id, empty, flag, set};
use web_sys::Element;

/// Makes a list hold just these lines, touching it only where they differ.
pub fn lines(id: &str, lines: &[String]) {
    let Some(list) = by_id(id) else { return };
    let same =
        list.child_element_count() as usize == lines.len() && list.text_content().unwrap_or_default() == lines.concat();
    if same {
        return;
    }
    empty(&list);
    for line in lines {
        add(&list, "li", "", line);
    }
}

/// Makes an element hold just these ticks: for each the value of an attribute, its words, and whether it is on.
pub fn ticks<'a>(id: &str, attribute: &str, ticks: impl Iterator<Item = (&'a str, &'a str, bool)>) {
    let Some(list) = by_id(id) else { return };
    empty(&list);
    for (value, words, on) in ticks {
        let Some(label) = add(&list, "label", "tick", "") else { continue };
        if let Some(input) = add(&label, "input", "", "") {
            set(&input, "type", "checkbox");
            set(&input, attribute, value);
            flag(&input, "checked", on);
        }
        add(&label, "span", "", words);
    }
}

/// What can be done with a row of a list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Act {
    /// Something of the view's own, by the name its button carries.
    Other(&'static str),
    /// The row goes one place up.
    Up,
    /// The row goes one place down.
    Down,
    /// The row is removed.
    Remove,
}

impl Act {
    fn name(self) -> &'static str {
        match self {
            Self::Other(name) => name,
            Self::Up => "up",
            Self::Down => "down",
            Self::Remove => "remove",
        }
    }

    /// Does it to a list, unless it is of the view's own or the place is gone; the place of the row, or of the one
    /// after it where it was removed.
    pub fn apply<T>(self, list: &mut Vec<T>, place: usize) -> Option<usize> {
        let to = match self {
            Self::Up => place.checked_sub(1)?,
            Self::Down => place + 1,
            Self::Remove => place,
            Self::Other(_) => return None,
        };
        if place >= list.len() || to >= list.len() {
            return None;
        }
        if self == Self::Remove {
            list.remove(place);
        } else {
            list.swap(place, to);
        }
        Some(to)
    }
}

/// A button of the row at a place in a list of so many: its words, and a name that tells it from the other rows'.
pub fn button(parent: &Element, act: Act, words: &str, name: &str, (place, count): (usize, usize)) -> Option<Element> {
    let button = add(parent, "button", "", words)?;
    set(&button, "type", "button");
    set(&button, attribute::ACT, act.name());
    set(&button, attribute::PLACE, &place.to_string());
    set(&button, "aria-label", name);
    let stuck = (act == Act::Up && place == 0) || (act == Act::Down && place + 1 >= count);
    flag(&button, "disabled", stuck);
    Some(button)
}

/// The row and the one of these acts whose button was pressed.
#[must_use]
pub fn pressed(dom: &Dom, acts: &[Act]) -> Option<(Act, usize)> {
    let button = dom.button()?;
    let name = button.get_attribute(attribute::ACT)?;
    let act = acts.iter().copied().find(|act| act.name() == name)?;
    Some((act, button.get_attribute(attribute::PLACE)?.parse().ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_move_within_their_list_and_go() {
        let done = |act: Act, place| {
            let mut list = vec!['a', 'b', 'c'];
            let to = act.apply(&mut list, place);
            (list.into_iter().collect::<String>(), to)
        };
        assert_eq!(done(Act::Up, 2), ("acb".to_owned(), Some(1)));
        assert_eq!(done(Act::Down, 0), ("bac".to_owned(), Some(1)));
        assert_eq!(done(Act::Remove, 1), ("ac".to_owned(), Some(1)));
        for (act, place) in [(Act::Up, 0), (Act::Down, 2), (Act::Up, 3), (Act::Remove, 3), (Act::Other("change"), 1)] {
            assert_eq!(done(act, place), ("abc".to_owned(), None), "{act:?} {place}");
        }
    }
}
