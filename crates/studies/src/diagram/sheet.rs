//! The drawing as a file of its own: SVG (W3C, Scalable Vector Graphics 1.1) with its ink in attributes, so that
//! it needs no style sheet, on white.

use super::looks::{self, HATCHES, look};
use super::plan::{Label, Paper, plan};
use super::words;
use clothyard_core::drawing::{Mark, Shape};
use clothyard_core::eval::Evaluation;
use clothyard_core::format::fixed;
use clothyard_core::setup::Setup;
use clothyard_core::units::{Quantity, Units};

/// What a file is drawn on: wide enough for a sheet laid on its side.
pub const PAPER: Paper = Paper { width: 1400.0, row: 26.0 };

const HEAD_PX: f64 = 64.0;
const EDGE_PX: f64 = 16.0;
const WHITE: &str = "#ffffff";
const INK: &str = "#000000";

/// A drawing as SVG, and how large it is in pixels.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// The file's text.
    pub svg: String,
    /// Its width.
    pub width: u32,
    /// Its height.
    pub height: u32,
}

/// Draws a setup on a sheet; nothing where its fields contradict each other.
#[must_use]
pub fn sheet(setup: &Setup, all: &Evaluation, units: &Units) -> Option<Sheet> {
    let plan = plan(setup, all, units, PAPER)?;
    let (width, height) = ((plan.width + 2.0 * EDGE_PX) as u32, (plan.height + HEAD_PX + 2.0 * EDGE_PX) as u32 + 1);
    let name = if setup.name.is_empty() { "An arrow" } else { &setup.name };
    let mut pen = Pen(String::new());
    let size = [("width", width.to_string()), ("height", height.to_string())];
    pen.open("svg", &[("xmlns", "http://www.w3.org/2000/svg"), ("viewBox", &format!("0 0 {width} {height}"))], &size);
    pen.words("title", &[], name);
    pen.words("desc", &[], &words::in_words(setup, all, units, Some(&plan)));
    pen.hatchings();
    pen.empty("rect", &[("fill", WHITE)], &size);
    let body = [("color", INK), ("font-family", "system-ui, sans-serif")];
    pen.open("g", &body, &[("transform", format!("translate({} {})", fixed(EDGE_PX, 0), fixed(EDGE_PX, 0)))]);
    let title = looks::shortened(name, 20.0, plan.width);
    pen.mark(&Mark { group: None, style: "title", shape: Shape::Text((2.0, 22.0), "start", title) });
    let below = Shape::Text((2.0, 46.0), "start", in_which_units(units));
    pen.mark(&Mark { group: None, style: "number", shape: below });
    pen.open("g", &[], &[("transform", format!("translate(0 {})", fixed(HEAD_PX, 0)))]);
    plan.marks.iter().for_each(|mark| pen.mark(mark));
    plan.labels.iter().for_each(|label| pen.label(label));
    pen.0.push_str("</g></g></svg>\n");
    Some(Sheet { svg: pen.0, width, height })
}

fn in_which_units(units: &Units) -> String {
    let name = |quantity| units.of(quantity).name;
    format!(
        "Drawn to scale; lengths in {}, weights in {}. Clothyard {}.",
        name(Quantity::Length),
        name(Quantity::Mass),
        env!("CARGO_PKG_VERSION")
    )
}

/// Writes elements.
struct Pen(String);

impl Pen {
    fn start(&mut self, tag: &str, attributes: &[(&str, &str)], more: &[(&str, String)], end: &str) {
        self.0 += "<";
        self.0 += tag;
        let more = more.iter().map(|(name, value)| (*name, value.as_str()));
        for (name, value) in attributes.iter().copied().chain(more) {
            self.0 += " ";
            self.0 += name;
            self.0 += "=\"";
            self.escaped(value);
            self.0 += "\"";
        }
        self.0 += end;
    }

    fn open(&mut self, tag: &str, attributes: &[(&str, &str)], more: &[(&str, String)]) {
        self.start(tag, attributes, more, ">\n");
    }

    fn empty(&mut self, tag: &str, attributes: &[(&str, &str)], more: &[(&str, String)]) {
        self.start(tag, attributes, more, "/>\n");
    }

    fn words(&mut self, tag: &str, attributes: &[(&str, &str)], words: &str) {
        self.start(tag, attributes, &[], ">");
        self.escaped(words);
        self.0 += "</";
        self.0 += tag;
        self.0 += ">\n";
    }

    /// A text as XML 1.0 takes it: its own signs escaped, and letters it does not allow left out.
    fn escaped(&mut self, text: &str) {
        for letter in text.chars() {
            match letter {
                '&' => self.0 += "&amp;",
                '<' => self.0 += "&lt;",
                '>' => self.0 += "&gt;",
                '"' => self.0 += "&quot;",
                '\0'..=' ' => self.0.push(' '),
                '\u{fffe}' | '\u{ffff}' => {}
                _ => self.0.push(letter),
            }
        }
    }

    fn hatchings(&mut self) {
        self.open("defs", &[], &[]);
        for (id, apart, slant) in HATCHES {
            let square = [("id", id), ("width", apart), ("height", apart), ("patternUnits", "userSpaceOnUse")];
            self.open("pattern", &square, &[("patternTransform", format!("rotate({slant})"))]);
            self.empty("path", &[("stroke", INK), ("fill", "none")], &[("d", format!("M0 0V{apart}"))]);
            self.0 += "</pattern>\n";
        }
        self.0 += "</defs>\n";
    }

    fn mark(&mut self, mark: &Mark) {
        let look = look(mark.style, WHITE);
        let place = |value: f64| fixed(value, 2);
        match &mark.shape {
            Shape::Polygon(points) => {
                let points: Vec<_> = points.iter().map(|&(x, y)| place(x) + "," + &place(y)).collect();
                self.empty("polygon", &look, &[("points", points.join(" "))]);
            }
            Shape::Line(from, to) => {
                let ends = [("x1", place(from.0)), ("y1", place(from.1)), ("x2", place(to.0)), ("y2", place(to.1))];
                self.empty("line", &look, &ends);
            }
            Shape::Text((x, y), anchor, words) => {
                let (x, y) = (place(*x), place(*y));
                let at = [("x", x.as_str()), ("y", &y), ("text-anchor", anchor)];
                self.words("text", &[&look[..], &at[..]].concat(), words);
            }
        }
    }

    fn label(&mut self, label: &Label) {
        self.open("g", &[("class", "label")], &[]);
        self.words("title", &[], &label.full);
        let [top, foot, end] = label.leader;
        for (from, to) in [(top, foot), (foot, end)] {
            self.mark(&Mark { group: None, style: "leader", shape: Shape::Line(from, to) });
        }
        let words = Shape::Text(label.at, label.anchor, label.words.clone());
        self.mark(&Mark { group: None, style: "label", shape: words });
        self.0 += "</g>\n";
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::testing::any_setup;
    use proptest::prelude::*;

    /// Every tag that opens is closed by its own name, in order, and no bare sign is in the text.
    fn is_well_formed(svg: &str) -> bool {
        let mut open = Vec::new();
        for (place, piece) in svg.split('<').enumerate() {
            let Some((tag, text)) = piece.split_once('>') else { return place == 0 && piece.is_empty() };
            if text.contains('>') {
                return false;
            }
            let name = |tag: &str| tag.split([' ', '/']).next().unwrap_or_default().to_owned();
            match tag.strip_prefix('/') {
                Some(name) if open.pop().as_deref() != Some(name) => return false,
                None if !tag.ends_with('/') => open.push(name(tag)),
                _ => {}
            }
        }
        open.is_empty()
    }

    #[test]
    fn a_name_of_signs_is_escaped() {
        let mut setup = Setup::default();
        setup.name = "<3 & \"4\" \u{1}\u{ffff}".to_owned();
        setup.own_parts.push(clothyard_core::schema::OwnPart {
            name: "</text>".to_owned(),
            mass_gr: 1.0,
            center_in: 3.0,
            length_in: 1.0,
        });
        let svg = sheet(&setup, &Evaluation::of(&setup), &Units::ARCHERY).unwrap().svg;
        assert!(is_well_formed(&svg));
        assert!(svg.contains("<title>&lt;3 &amp; &quot;4&quot;  </title>") && svg.contains("&lt;/text&gt;"));
        assert!(!svg.contains("var(") && !svg.contains("class=\"shaft"));
    }

    proptest! {
            #[test]
            fn any_sheet_is_well_formed(setup in any_setup()) {
                let all = Evaluation::of(&setup);
                let sheet = sheet(&setup, &all, &Units::metric());
                prop_assert_eq!(sheet.is_some(), all.model.is_some());
                if let Some(sheet) = sheet {
                    prop_assert!(is_well_formed(&sheet.svg));
    // A dash is how a number that is not finite would be written.
                    let in_attributes = sheet.svg.split('<').filter_map(|piece| piece.split('>').next());
                    prop_assert!(in_attributes.into_iter().all(|tag| !tag.contains('–') && !tag.contains("NaN")));
                }
            }
        }
}
