//! Styles of the drawing: attributes, and the maximum width of text.
//!
//! Attributes and not rules, so that the page and a saved file look alike.

/// Size of words that have no size of their own, in pixels.
pub const SIZE: f64 = 14.0;

/// A hatching: name, distance of its strokes in pixels, their slant in degrees.
pub const HATCHES: [(&str, &str, &str); 2] = [("hatch-metal", "4", "-45"), ("hatch-vane", "6", "20")];

/// The attributes of a style; `paper` is the color drawn upon.
#[must_use]
pub fn look(style: &str, paper: &'static str) -> Vec<(&'static str, &'static str)> {
    let ink = "currentColor";
    let outlined = |fill: &'static str| vec![("fill", fill), ("stroke", ink)];
    let line = |more: &[(&'static str, &'static str)]| [&[("stroke", ink), ("fill", "none")], more].concat();
    match style {
        "under" => vec![("fill", paper), ("stroke", "none")],
        "vane" => outlined("url(#hatch-vane)"),
        "inside" | "over" | "ahead" | "own" | "point" => outlined("url(#hatch-metal)"),
        // Seen from outside: the bore is dashed, so the shaft does not look solid.
        "shaft" | "nock" | "wrap" | "blade" => outlined(paper),
        "fulcrum" | "head" | "dot" => vec![("fill", ink), ("stroke", "none")],
        "cut" => line(&[("stroke-width", "2.5")]),
        "rest" | "draw-length" => line(&[("stroke-dasharray", "6 4")]),
        "bore" | "frame" => line(&[("stroke-dasharray", "4 3")]),
        "break" => line(&[("stroke-dasharray", "10 3 2 3")]),
        "extension" | "leader" => line(&[("stroke-width", "0.7")]),
        "caption" => vec![("fill", ink), ("font-size", "15"), ("font-weight", "600")],
        "title" => vec![("fill", ink), ("font-size", "20"), ("font-weight", "600")],
        "number" => vec![("fill", ink), ("font-size", "13")],
        // What a line passes under stays readable.
        "dimension" | "label" => vec![
            ("fill", ink),
            ("font-size", "14"),
            ("stroke", paper),
            ("stroke-width", "4"),
            ("stroke-linejoin", "round"),
            ("paint-order", "stroke"),
        ],
        _ => line(&[]),
    }
}

/// How wide words are at most, in pixels, in any plain font: a share of their size for each kind of letter.
#[must_use]
pub fn width(words: &str, size: f64) -> f64 {
    words.chars().map(|letter| share(letter) * size).sum()
}

/// Widths of a wide sans serif, DejaVu Sans, rounded up (memory).
fn share(letter: char) -> f64 {
    match letter {
        'm' | 'w' | 'M' | 'W' | '@' | '%' => 1.0,
        'A'..='Z' | '+' | '=' | '<' | '>' | '#' | '&' | '~' => 0.85,
        ' ' | '\u{a0}' | 'i' | 'j' | 'l' | '.' | ',' | '\'' | '|' | ':' | ';' | '!' => 0.41,
        ' '..='~' | '°' | '·' => 0.65,
        '\u{a1}'..='\u{5ff}' | '…' => 1.05,
        _ => 1.6,
    }
}

/// Words cut short, with three dots, where they would be too wide.
#[must_use]
pub fn shortened(words: &str, size: f64, widest: f64) -> String {
    if width(words, size) <= widest {
        return words.to_owned();
    }
    let mut left = widest - width("…", size);
    let fits = |letter: &char| {
        left -= share(*letter) * size;
        left >= 0.0
    };
    let mut short: String = words.chars().take_while(fits).collect();
    short.truncate(short.trim_end().len());
    short + "…"
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn what_is_shortened_fits(words in "\\PC{0,60}", widest in 20.0..300.0f64) {
            let short = shortened(&words, SIZE, widest);
            prop_assert!(width(&short, SIZE) <= widest + 1e-9);
            prop_assert!(short == words || short.ends_with('…'));
        }
    }
}
