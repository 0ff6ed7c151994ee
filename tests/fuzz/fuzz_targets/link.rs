//! The fragment of any link: a build that is written and read back the same, or an error with a message.

#![no_main]

use clothyard_studies::sharing::link;
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
    match link::decode(text, &codec) {
        Ok(setup) => {
            if let Ok(again) = link::encode(&setup, &codec)
                && !again.shafts_left_out
            {
                assert_eq!(link::decode(&again.fragment, &codec), Ok(setup));
            }
        }
        Err(error) => assert!(!error.message().is_empty()),
    }
});
