//! Drawings: unchanged shapes are left alone.

use crate::protocol::attribute;
use crate::{by_id, empty, set, shapes};
use clothyard_core::drawing::Shape;
use clothyard_core::format::fixed;
use core::mem::discriminant;
use web_sys::Element;

/// One shape of a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Its classes; an empty one is none.
    pub classes: [&'static str; 2],
    /// The group of fields it belongs to, by its key.
    pub group: Option<&'static str>,
    /// Its outline.
    pub shape: Shape,
}

impl Item {
    /// A shape of one class.
    #[must_use]
    pub fn new(class: &'static str, shape: Shape) -> Self {
        Self { classes: [class, ""], group: None, shape }
    }
}

/// A drawing: the `svg` with an id, and the group in it that holds the shapes, which are its own.
#[derive(Debug)]
pub struct Drawing {
    svg: &'static str,
    group: &'static str,
    drawn: Vec<(Element, Item)>,
}

impl Drawing {
    /// The drawing with an id and the id of its group of shapes.
    #[must_use]
    pub fn new(svg: &'static str, group: &'static str) -> Self {
        Self { svg, group, drawn: Vec::new() }
    }

    /// Draws these shapes, a unit of them a pixel.
    pub fn show(&mut self, items: impl IntoIterator<Item = Item>, (width, height): (f64, f64)) {
        let Some(svg) = by_id(self.svg) else { return };
        let (wide, high) = (fixed(width, 2), fixed(height, 2));
        set(&svg, "viewBox", &format!("0 0 {wide} {high}"));
        set(&svg, "height", &high);
        self.show_shapes(items.into_iter().collect());
    }

    /// The same, a unit of them a millimeter: it prints to scale.
    pub fn show_to_scale(&mut self, items: impl IntoIterator<Item = Item>, (width, height): (f64, f64)) {
        self.show(items, (width, height));
        if let Some(svg) = by_id(self.svg) {
            set(&svg, "width", &(fixed(width, 2) + "mm"));
            set(&svg, "height", &(fixed(height, 2) + "mm"));
        }
    }

    fn show_shapes(&mut self, fresh: Vec<Item>) {
        let Some(group) = by_id(self.group) else { return };
        let same = |(new, (_, old)): (&Item, &(Element, Item))| discriminant(&new.shape) == discriminant(&old.shape);
        if fresh.len() != self.drawn.len() || !fresh.iter().zip(&self.drawn).all(same) {
            empty(&group);
            self.drawn.clear();
        }
        for (place, new) in fresh.into_iter().enumerate() {
            match self.drawn.get_mut(place) {
                Some((_, old)) if *old == new => {}
                Some((element, old)) => {
                    write(element, &new);
                    *old = new;
                }
                None => self.drawn.extend(shapes::make(&group, &new.shape).map(|element| {
                    write(&element, &new);
                    (element, new)
                })),
            }
        }
    }
}

fn write(element: &Element, item: &Item) {
    let [first, second] = item.classes;
    let both = if second.is_empty() { first.to_owned() } else { format!("{first} {second}") };
    set(element, "class", &both);
    match item.group {
        Some(group) => set(element, attribute::GROUP, group),
        None => drop(element.remove_attribute(attribute::GROUP)),
    }
    shapes::outline(element, &item.shape);
}
