//! The words of the page, of the tables behind it, of reports and of the documents: plain US trade English. Sources are
//! checked for their spelling, names of tests and variables too.

#![allow(clippy::unwrap_used, reason = "a test that panics has failed, which is its job")]

use clothyard_core::schema::{INPUTS, OUTPUTS};
use serde_json::Value;
use std::collections::HashSet;
use std::path::{Path, PathBuf};

/// Old words and British spellings. Keys of saved setups are exempt: they are parts of other words.
const SPELLING: &str = "nought reckon reckons reckoned anew loosed overrule overrules overruled unlike set-up set-ups \
    metre metres millimetre millimetres centre centres centred colour colours grey licence licences calliper callipers \
    behaviour neighbour neighbours neighbouring labelled labelling travelled modelled cancelled judgement";

/// Words for which the trade, or any program, has a plainer one.
const PLAIN: &str = "mend mends mended stand stands throat drawer bench alike proven";

/// The same of more than one word.
const PHRASES: &[&str] = &[
    "left to the page",
    "in your stead",
    "to and fro",
    "let go",
    "how sure",
    "put in",
    "pro shop",
    "dead on",
    "as it stands",
    "worked out",
];

/// Names of units as users type them, and the lists above.
const EXEMPT: &[&str] = &["core/src/units/table.rs", "tools/tests/words.rs"];

const MOST_WORDS_OF_A_LABEL: usize = 4;
const MOST_WORDS_OF_A_HINT: usize = 25;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The words of a text.
fn split(text: &str) -> impl Iterator<Item = &str> {
    text.split(|letter: char| !letter.is_alphanumeric() && letter != '-')
}

fn set(lists: &[&'static str]) -> HashSet<&'static str> {
    lists.iter().flat_map(|list| list.split_whitespace()).collect()
}

/// What breaks the rules in a text.
fn faults(text: &str, banned: &HashSet<&str>) -> Vec<String> {
    let lower = text.to_lowercase();
    let plain = lower.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = split(&lower).filter(|word| banned.contains(word));
    let phrases = PHRASES.iter().copied().filter(|phrase| plain.contains(phrase));
    let mut found: Vec<_> = words.chain(phrases).map(str::to_owned).collect();
    let spaced = |(place, _): (usize, &str)| {
        let before = text.get(..place)?.strip_suffix([' ', '\u{a0}'])?;
        let number = before.rsplit(char::is_whitespace).next()?;
        number.ends_with(|last: char| last.is_ascii_digit()).then(|| format!("{number} %"))
    };
    found.extend(text.match_indices('%').filter_map(spaced));
    found
}

/// What a reader sees or hears of markup: its text, and attributes that are words.
fn words_of(markup: &str) -> String {
    let mut words = String::new();
    for piece in markup.split('<').skip(1) {
        let (tag, text) = piece.split_once('>').unwrap_or((piece, ""));
        for name in [" aria-label=\"", " title=\"", " data-hint=\"", " placeholder=\""] {
            words.extend(tag.split(name).skip(1).filter_map(|rest| rest.split('"').next()));
            words.push('\n');
        }
        words.push_str(text);
        words.push(' ');
    }
    words
}

/// Prose of a document: no code, no addresses of links.
fn prose(markdown: &str) -> String {
    let text: String = markdown.split("```").step_by(2).collect();
    let text: String = text.split('`').step_by(2).collect();
    text.split("](").map(|part| part.split_once(')').map_or(part, |(_, rest)| rest)).collect()
}

/// Every text in a report.
fn texts(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::String(text) => found.push(text.clone()),
        Value::Array(list) => list.iter().for_each(|each| texts(each, found)),
        Value::Object(map) => map.values().for_each(|each| texts(each, found)),
        _ => {}
    }
}

/// The files below a folder with one of these endings.
fn files(folder: &Path, endings: &[&str], found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_str().unwrap();
        if path.is_dir() && !["node_modules", "target", "fuzz"].contains(&name) {
            files(&path, endings, found);
        } else if endings.iter().any(|ending| name.ends_with(ending)) {
            found.push(path);
        }
    }
}

#[test]
fn page_tables_reports_and_documents_are_in_plain_words() {
    let read = |name: &str| std::fs::read_to_string(root().join(name)).unwrap();
    let mut said: Vec<(String, String)> = Vec::new();
    for page in clothyard_tools::markup::FILES {
        said.push((page.to_owned(), words_of(&read(page))));
    }
    for document in ["README.md", "DEVELOPERS.md", "crates/mechanics/README.md", "crates/npm/package/README.md"] {
        said.push((document.to_owned(), prose(&read(document)).split("## Results changed").next().unwrap().to_owned()));
    }
    for input in &INPUTS {
        said.push((input.key.to_owned(), format!("{}. {}", input.label, input.field.hint())));
        said.extend(input.choices().iter().map(|answer| (input.key.to_owned(), answer.label.to_owned())));
    }
    for row in &OUTPUTS {
        let explanation = row.output.explanation();
        said.push((row.key.to_owned(), format!("{}. {}. {}", row.label, explanation.source, explanation.sure)));
    }
    let mut reports = Vec::new();
    files(&root().join("tests/golden"), &[".report.json"], &mut reports);
    for report in reports {
        let mut found = Vec::new();
        texts(&serde_json::from_str(&std::fs::read_to_string(&report).unwrap()).unwrap(), &mut found);
        said.extend(found.into_iter().map(|text| (report.display().to_string(), text)));
    }
    let banned = set(&[SPELLING, PLAIN]);
    let wrong: Vec<_> = said
        .iter()
        .map(|(place, text)| (place, faults(text, &banned)))
        .filter(|(_, faults)| !faults.is_empty())
        .collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn labels_and_hints_are_short() {
    // A unit in parentheses is no word of a label.
    let count = |text: &str| {
        let outside = text.split('(').map(|part| part.rsplit(')').next().unwrap_or(part));
        outside.flat_map(str::split_whitespace).filter(|word| word.chars().any(char::is_alphabetic)).count()
    };
    for input in &INPUTS {
        assert!(count(input.label) <= MOST_WORDS_OF_A_LABEL, "{}: {}", input.key, input.label);
        let hint = input.field.hint();
        assert!(hint.split_whitespace().count() <= MOST_WORDS_OF_A_HINT, "{}: {hint}", input.key);
    }
    for page in clothyard_tools::markup::FILES {
        let markup = std::fs::read_to_string(root().join(page)).unwrap();
        for label in markup.split("<label").skip(1).filter_map(|rest| rest.split("</label>").next()) {
            let words = words_of(&format!("<label{label}"));
            assert!(count(&words) <= MOST_WORDS_OF_A_LABEL, "{page}: {words}");
        }
    }
}

#[test]
fn sources_are_spelled_the_us_way() {
    let banned = set(&[SPELLING]);
    let mut sources = Vec::new();
    for folder in ["crates", "scripts", "tests", "www"] {
        files(&root().join(folder), &[".rs", ".js", ".mjs", ".css", ".py", ".html"], &mut sources);
    }
    assert!(sources.len() > 300, "{}", sources.len());
    for source in sources {
        let name = source.display().to_string();
        if EXEMPT.iter().any(|exempt| name.ends_with(exempt)) {
            continue;
        }
        let text = std::fs::read_to_string(&source).unwrap();
        for (place, line) in text.lines().enumerate() {
            // The key of a published value is quoted.
            let line = line.replace("\"centre\"", "").replace('_', " ").to_lowercase();
            let found: Vec<_> = split(&line).filter(|word| banned.contains(word)).collect();
            assert!(found.is_empty(), "{name}:{}: {found:?}", place + 1);
        }
    }
}

#[test]
fn the_rules_find_what_breaks_them() {
    let banned = set(&[SPELLING, PLAIN]);
    for (text, fault) in [
        ("It stands there.", "stands"),
        ("The nock's throat", "throat"),
        ("Your set-up", "set-up"),
        ("This is left to\nthe page.", "left to the page"),
        ("FOC 14.6 % of it", "14.6 %"),
        ("FOC 14.6\u{a0}%", "14.6 %"),
    ] {
        assert_eq!(faults(text, &banned), [fault], "{text}");
    }
    assert!(faults("FOC 14.6%, 100% of standard setups. Center.", &banned).is_empty());
    assert_eq!(words_of("<p title=\"a\">b <i>c</i></p>").split_whitespace().collect::<Vec<_>>(), ["a", "b", "c"]);
    assert_eq!(prose("a `nought` [b](c.md) d").split_whitespace().collect::<Vec<_>>(), ["a", "[b", "d"]);
}
