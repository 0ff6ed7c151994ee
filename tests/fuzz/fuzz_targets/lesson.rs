//! Any text as a lesson's file or as its link: a lesson that is written and read back the same, or an error with a
//! message.

#![no_main]

use clothyard_studies::lesson::{Lesson, SavedLesson, link};
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
    if let Ok(saved) = serde_json::from_str::<SavedLesson>(text) {
        match Lesson::from_saved(&saved) {
            Ok(lesson) => assert_eq!(Lesson::from_saved(&lesson.to_saved()), Ok(lesson)),
            Err(error) => assert!(!error.message().is_empty()),
        }
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
