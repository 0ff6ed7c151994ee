//! Shapes of a drawing as elements of the page.

use clothyard_core::drawing::Shape;
use clothyard_core::format;
use web_sys::Element;

/// A shape of a drawing, as a new element.
#[must_use]
pub fn add(parent: &Element, shape: &Shape, class: &str) -> Option<Element> {
    let element = make(parent, shape)?;
    crate::set(&element, "class", class);
    outline(&element, shape);
    Some(element)
}

/// A shape's element, without its outline.
#[must_use]
pub fn make(parent: &Element, shape: &Shape) -> Option<Element> {
    let tag = match shape {
        Shape::Polygon(_) => "polygon",
        Shape::Line(..) => "line",
        Shape::Text(..) => "text",
    };
    crate::add_shape(parent, tag)
}

/// Gives a shape's element its outline.
pub fn outline(element: &Element, shape: &Shape) {
    let place = |value: f64| format::fixed(value, 2);
    let at = |names: [&str; 2], (x, y): (f64, f64)| {
        for (name, value) in names.into_iter().zip([x, y]) {
            crate::set(element, name, &place(value));
        }
    };
    match shape {
        Shape::Polygon(points) => {
            let points: Vec<_> = points.iter().map(|&(x, y)| place(x) + "," + &place(y)).collect();
            crate::set(element, "points", &points.join(" "));
        }
        Shape::Line(from, to) => {
            at(["x1", "y1"], *from);
            at(["x2", "y2"], *to);
        }
        Shape::Text(from, anchor, words) => {
            at(["x", "y"], *from);
            crate::set(element, "text-anchor", anchor);
            crate::write(element, words);
        }
    }
}
