//! Any text as a lesson's file, as all lessons kept or as a lesson's link: what is written and read back the same, or an
//! error with a message.

#![no_main]

use clothyard_core::plain::from_json;
use clothyard_studies::lesson::shelf::LessonShelf;
use clothyard_studies::lesson::{Lesson, link};
use clothyard_studies::sharing::link::Digits;
use libfuzzer_sys::fuzz_target;

fn write(number: f64) -> String {
    number.to_string()
}

fn read(text: &str) -> Option<f64> {
    text.parse().ok().filter(|number: &f64| number.is_finite())
}

fuzz_target!(|text: &str| {
    let digits = Digits { write, read };
    match from_json::<Lesson>(text) {
        Ok(lesson) => {
            let text = serde_json::to_string(&lesson.to_saved()).expect("it can be written");
            assert_eq!(from_json::<Lesson>(&text), Ok(lesson));
        }
        Err(error) => assert!(!error.message.is_empty()),
    }
    match from_json::<LessonShelf>(text) {
        Ok(shelf) => {
            let text = serde_json::to_string(&shelf).expect("they can be written");
            assert_eq!(from_json::<LessonShelf>(&text), Ok(shelf));
        }
        Err(error) => assert!(!error.message.is_empty()),
    }
    match link::decode(text, &digits) {
        Ok(lesson) => {
            if let Ok(again) = link::encode(&lesson, &digits) {
                assert_eq!(link::decode(&again, &digits), Ok(lesson));
            }
        }
        Err(error) => assert!(!error.message().is_empty()),
    }
});
