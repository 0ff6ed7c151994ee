//! The documents name only files that exist.

#![allow(clippy::unwrap_used, reason = "a test that panics has failed, which is its job")]

use std::path::Path;

const DOCUMENTS: [&str; 5] =
    ["README.md", "DEVELOPERS.md", "tests/accuracy.md", "crates/mechanics/README.md", "crates/npm/package/README.md"];
const ENDINGS: [&str; 10] = [".rs", ".js", ".mjs", ".md", ".json", ".toml", ".py", ".html", ".ts", ".png"];

fn is_path(word: &str) -> bool {
    let named = word.contains('/') && ENDINGS.iter().any(|ending| word.ends_with(ending));
    (named || word.starts_with("scripts/")) && !word.starts_with("dist/") && !word.contains("NAME")
}

/// The paths in code spans, and those that links lead to.
fn paths(text: &str) -> Vec<&str> {
    let spans = text.split('`').skip(1).step_by(2).flat_map(str::split_whitespace);
    let links = text.split("](").skip(1).filter_map(|rest| rest.split([')', '#']).next());
    let links = links.filter(|link| !link.is_empty() && !link.starts_with("http"));
    spans.filter(|word| is_path(word)).chain(links).collect()
}

#[test]
fn every_path_in_the_documents_exists() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    for name in DOCUMENTS {
        let document = root.join(name);
        let text = std::fs::read_to_string(&document).unwrap();
        // Paths begin at the document, at the root, or at `crates`.
        let bases = [document.parent().unwrap().to_owned(), root.clone(), root.join("crates")];
        for path in paths(&text) {
            assert!(bases.iter().any(|base| base.join(path).exists()), "{name}: {path} does not exist");
        }
    }
}

#[test]
fn paths_are_found_in_spans_and_links() {
    let text = "Run `scripts/build here`, see `app/src/a.rs`, [x](b.md#c), [y](#d) and `Setup::set`.";
    assert_eq!(paths(text), ["scripts/build", "app/src/a.rs", "b.md"]);
}
