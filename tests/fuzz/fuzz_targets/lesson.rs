//! Any text as a lesson's file, as all lessons kept or as a lesson's link: what is written and read back the same, or an
//! error with a message.

#![no_main]

use clothyard_core::plain::from_json;
use clothyard_studies::lesson::library::LessonLibrary;
use clothyard_studies::lesson::{Lesson, link};
use clothyard_studies::sharing::link::NumberCodec;
use libfuzzer_sys::fuzz_target;

fn write(number: f64) -> String {
    number.to_string()
}

fn read(text: &str) -> Option<f64> {
    text.parse().ok().filter(|number: &f64| number.is_finite())
}

fuzz_target!(|text: &str| {
    let codec = NumberCodec { write, read };
    match from_json::<Lesson>(text) {
        Ok(lesson) => {
            let text = serde_json::to_string(&lesson.to_saved()).expect("it can be written");
            assert_eq!(from_json::<Lesson>(&text), Ok(lesson));
        }
        Err(error) => assert!(!error.message.is_empty()),
    }
    match from_json::<LessonLibrary>(text) {
        Ok(library) => {
            let text = serde_json::to_string(&library).expect("they can be written");
            assert_eq!(from_json::<LessonLibrary>(&text), Ok(library));
        }
        Err(error) => assert!(!error.message.is_empty()),
    }
    match link::decode(text, &codec) {
        Ok(lesson) => {
            if let Ok(again) = link::encode(&lesson, &codec) {
                assert_eq!(link::decode(&again, &codec), Ok(lesson));
            }
        }
        Err(error) => assert!(!error.message().is_empty()),
    }
});
