use super::*;
use crate::sharing::parts::PartKind;
use clothyard_core::plain::from_json;
use clothyard_core::schema::Value;
use clothyard_core::setup::SavedValue;
use clothyard_core::testing::any_setup;
use core::sync::atomic::{AtomicUsize, Ordering};
use proptest::collection::vec;
use proptest::prelude::*;

fn fresh_id() -> String {
    static NEXT: AtomicUsize = AtomicUsize::new(0);
    format!("fresh-{}", NEXT.fetch_add(1, Ordering::Relaxed))
}

fn any_kept() -> impl Strategy<Value = StoredSetup> {
    ("[a-d]", any_setup(), "[ab]{1,2}").prop_map(|(id, setup, name)| {
        let setup = SavedSetup { name, ..setup.to_saved() };
        StoredSetup { id, saved_on: "2026-02-28".to_owned(), setup }
    })
}

fn any_part() -> impl Strategy<Value = StoredPart> {
    ("[a-d]", 0usize..4, any_setup(), "[a-z ]{0,12}").prop_map(|(id, kind, setup, name)| {
        StoredPart::on_arrow(PartKind::ALL[kind], &setup, id, &name, &Units::ARCHERY)
    })
}

fn any_library() -> impl Strategy<Value = Library> {
    (vec(any_kept(), 0..5), vec(any_part(), 0..5)).prop_map(|(kept, drawer)| {
        let mut library = Library::default();
        library.import(Library { setups: kept, parts: drawer, ..Library::default() }, fresh_id, "");
        library
    })
}

fn named(library: &Library) -> Vec<&str> {
    library.setups.iter().map(|kept| kept.setup.name.as_str()).collect()
}

fn keep(library: &mut Library, name: &str) -> String {
    let setup = SavedSetup { name: name.to_owned(), ..Setup::default().to_saved() };
    library.add_setup(StoredSetup { id: fresh_id(), saved_on: String::new(), setup }).unwrap()
}

#[test]
fn a_name_that_is_taken_gets_a_number() {
    let mut library = Library::default();
    assert_eq!(
        ["Bow", " Bow ", "Bow", "Bow (2)"].map(|name| keep(&mut library, name)),
        ["Bow", "Bow (2)", "Bow (3)", "Bow (2) (2)"]
    );
    let id = library.setups[0].id.clone();
    assert_eq!(library.rename(&id, "Bow (2) (2)").as_deref(), Some("Bow (2) (2)"), "its own name is free to it");
    assert_eq!(library.rename(&id, "Bow").as_deref(), Some("Bow (4)"));
    assert_eq!(library.rename("gone", "Bow"), None);
    let long = "x".repeat(100);
    assert_eq!(keep(&mut library, &long).len(), MAX_NAME_CHARS);
    assert_eq!(keep(&mut library, &long), "x".repeat(MAX_NAME_CHARS - 4) + " (2)");
}

#[test]
fn what_is_deleted_comes_back_to_its_place() {
    let mut library = Library::default();
    for name in ["c", "b", "a"] {
        keep(&mut library, name);
    }
    let before = library.clone();
    let id = library.setups[1].id.clone();
    let removed = library.remove_setup(&id).unwrap();
    assert_eq!(named(&library), ["a", "c"]);
    library.restore_setup(removed.clone());
    library.restore_setup(removed);
    assert_eq!(library, before);
}

#[test]
fn a_full_shelf_takes_no_more() {
    let mut library = Library::default();
    keep(&mut library, "Bow");
    library.setups = vec![library.setups[0].clone(); MOST_ENTRIES];
    let one = library.setups[0].clone();
    let refused = library.add_setup(StoredSetup { id: fresh_id(), ..one.clone() });
    assert_eq!(refused, Err("Not saved: 5000 setups is the maximum.".to_owned()));
    let more = Library { setups: vec![StoredSetup { id: fresh_id(), ..one }], ..Library::default() };
    assert_eq!(library.import(more, fresh_id, "").no_room, 1);
    assert_eq!(library.check(), Ok(()));
}

#[test]
fn what_came_of_a_backup_is_said() {
    let none = Imported { known: 2, ..Imported::default() };
    assert_eq!(none.in_words(), "No setup added. 2 already saved, unchanged.");
    let some = Imported { names: vec!["A".into(), "B".into()], parts: 1, no_room: 3, ..Imported::default() };
    let words = "Added: A; B. 1 added to My parts. 3 left out, no room.";
    assert_eq!((some.in_words().as_str(), in_file_name("Ä bow/7").as_str()), (words, "Ä-bow-7"));
}

#[test]
fn messages_name_the_entry() {
    let json = r#"{"schemaVersion":1,"kept":[{"id":"a","keptOn":"","build":
        {"schemaVersion":1,"name":"Blue","inputs":{"pointGr":-5}}}]}"#;
    let message = from_json::<Library>(json).unwrap_err().into_message();
    assert!(message.contains("Blue") && message.contains("pointGr"), "{message}");

    let json = r#"{"schemaVersion":1,"drawer":[{"id":"a","kind":"nock","name":"Pin","inputs":{"pointGr":100}}]}"#;
    let error = from_json::<Library>(json).unwrap_err();
    assert_eq!((error.code, error.message.as_str()), ("unknownKey", "“Pin”: pointGr: unknown input."));

    let newer = Library { schema_version: 7, ..Library::default() };
    assert!(newer.check().unwrap_err().message().contains("schemaVersion 7"));
}

#[test]
fn the_points_are_known_by_weight() {
    let part = |kind: PartKind, field: Field, number: f64| StoredPart {
        id: fresh_id(),
        kind,
        name: String::new(),
        inputs: [(field.input().key.to_owned(), SavedValue::Number(number))].into_iter().collect(),
    };
    let points = [145.0, 110.0, 145.0].map(|weight| part(PartKind::Point, Field::PointMass, weight));
    let nock = part(PartKind::Nock, Field::NockMass, 9.0);
    let library = Library { parts: points.into_iter().chain([nock]).collect(), ..Library::default() };
    assert_eq!(library.point_weights(), [110.0, 145.0]);
}

#[test]
fn a_setup_is_summed_up() {
    let mut setup = Setup::default();
    assert_eq!(summary(&setup, &Units::ARCHERY), "50\u{a0}lb at 28\u{a0}in, point 100\u{a0}gr, spine default");
    setup.set(Field::StaticSpine, Some(Value::Number(340.0))).unwrap();
    assert!(summary(&setup, &Units::metric()).contains("71.12\u{a0}cm"));
    assert!(summary(&setup, &Units::ARCHERY).ends_with("spine 340"));
}

proptest! {
    #[test]
    fn a_backup_loses_nothing(mut library in any_library(), current in any_setup()) {
        library.current = Some(current.to_saved());
        let text = serde_json::to_string(&library).unwrap();
        let back: Library = from_json(&text).unwrap();
        prop_assert_eq!(&back, &library);

        let mut empty = Library::default();
        empty.import(Library { current: None, ..back }, fresh_id, "");
        prop_assert_eq!(empty, Library { current: None, ..library });
    }

    #[test]
    fn reading_in_changes_nothing_that_is_here(here in any_library(), backup in any_library()) {
        let mut both = here.clone();
        let taken = both.import(backup.clone(), fresh_id, "");
        prop_assert!(here.setups.iter().all(|kept| both.setups.contains(kept)));
        prop_assert!(here.parts.iter().all(|part| both.parts.contains(part)));
        let backed_up = backup.setups.len() + backup.parts.len();
        prop_assert_eq!(taken.names.len() + taken.parts + taken.known, backed_up);

        let mut names = named(&both);
        names.sort_unstable();
        names.dedup();
        prop_assert_eq!(names.len(), both.setups.len());
        for (place, kept) in both.setups.iter().enumerate() {
            prop_assert!(both.setups[..place].iter().all(|other| other.id != kept.id));
        }
    }
}
