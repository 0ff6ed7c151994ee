use super::*;
use clothyard_core::parse::EntryError;
use clothyard_core::schema::{Cam, OwnPart, Value, shafts};
use clothyard_core::setup::samples;
use clothyard_core::testing::any_setup;
use proptest::prelude::*;

const CODEC: NumberCodec = NumberCodec { write: |number| format!("{number}"), read: |text| text.parse().ok() };

fn encoded(setup: &Setup) -> Result<Link, LinkError> {
    encode(setup, &CODEC)
}

fn decoded(fragment: &str) -> Result<Setup, LinkError> {
    decode(fragment, &CODEC)
}

#[test]
fn a_link_is_readable() {
    let mut setup = Setup::default();
    setup.name = "Blue bow".to_owned();
    setup.set(Field::PeakDrawWeight, Some(Value::Number(62.0))).unwrap();
    setup.choose(Cam::Hard);
    setup.own_parts.push(OwnPart { name: "ring".into(), mass_gr: 3.25, center_in: 9.5, length_in: 0.25 });
    let fragment = "v=1&name=Blue%20bow&peakDrawWeightLb=62&cam=hard&part=ring,3.25,9.5,0.25";
    assert_eq!(encoded(&setup), Ok(Link { fragment: fragment.to_owned(), shafts_left_out: false }));
    assert_eq!(decoded(fragment), Ok(setup.clone()));
    assert_eq!(decoded(&format!("#{fragment}")), Ok(setup));
}

#[test]
fn the_demo_fits() {
    for start in samples::all() {
        let link = encoded(&start.setup).unwrap();
        assert!(!link.shafts_left_out && is_link(&link.fragment), "{}", link.fragment);
        assert_eq!(decoded(&link.fragment), Ok(start.setup));
    }
}

#[test]
fn a_short_list_of_shafts_goes_along_and_a_long_one_stays() {
    let mut setup = Setup::default();
    setup.shafts.truncate(3);
    let link = encoded(&setup).unwrap();
    assert_eq!((link.shafts_left_out, decoded(&link.fragment)), (false, Ok(setup.clone())));

    setup.shafts = (0..200).map(|_| shafts::invented_shafts().remove(4)).collect();
    let link = encoded(&setup).unwrap();
    assert_eq!((link.shafts_left_out, decoded(&link.fragment)), (true, Ok(Setup::default())));
}

#[test]
fn what_fits_no_link_is_refused() {
    let part = OwnPart { name: "\u{20ac}".repeat(80), mass_gr: 1.0, center_in: 1.0, length_in: 1.0 };
    let mut setup = Setup::default();
    setup.own_parts = vec![part; 12];
    assert!(matches!(encoded(&setup), Err(LinkError::TooLong { chars }) if chars > MOST_LINK_CHARS));
    let long = format!("v=1&name={}", "a".repeat(MOST_LINK_CHARS));
    assert_eq!(decoded(&long), Err(LinkError::TooLong { chars: MOST_LINK_CHARS + 9 }));
}

#[test]
fn errors_name_the_key() {
    let key = |key: &str| key.to_owned();
    for (fragment, error) in [
        ("", LinkError::NoVersion),
        ("pointGr=100", LinkError::NoVersion),
        ("v=one", LinkError::NoVersion),
        ("v=0", LinkError::NoVersion),
        ("v=2&wonder", LinkError::Newer { found: 2 }),
        ("v=1&pointGr=1&pointGr=2", LinkError::Repeated(key("pointGr"))),
        ("v=1&pointGr", LinkError::Shape(key("pointGr"))),
        ("v=1&part=ring,1,2", LinkError::Shape(key("part"))),
        ("v=1&part=ring,1,2,3,4", LinkError::Shape(key("part"))),
        ("v=1&name=%4", LinkError::Escape(key("name"))),
        ("v=1&name=%FF", LinkError::Escape(key("name"))),
        ("v=1&pointGr=heavy", LinkError::NotANumber(key("pointGr"))),
        ("v=1&pointGr=NaN", LinkError::NotANumber(key("pointGr"))),
        ("v=1&pointGr=", LinkError::NotANumber(key("pointGr"))),
        ("v=1&pointGr=9e999", LinkError::NotANumber(key("pointGr"))),
        ("v=1&wonder=1", LinkError::Setup(SetupError::UnknownKey { key: key("wonder") })),
        ("v=1&cam=wild", LinkError::Setup(SetupError::UnknownAnswer { key: "cam", answer: key("wild") })),
    ] {
        assert_eq!(decoded(fragment), Err(error), "{fragment}");
    }
    let outside = EntryError::OutOfRange { value: -5.0, minimum: 10.0, maximum: 600.0 };
    let error = LinkError::Setup(SetupError::Value { key: "pointGr", error: outside });
    assert!(error.message().contains("pointGr"), "{}", error.message());
    assert_eq!(decoded("v=1&pointGr=-5"), Err(error));
}

proptest! {
    #[test]
    fn a_link_loses_nothing(setup in any_setup(), shafts in 1usize..=30) {
        let mut setup = setup;
        setup.shafts.truncate(shafts);
        match encoded(&setup) {
            Ok(link) => {
                prop_assert!(link.fragment.is_ascii() && link.fragment.len() < MOST_LINK_CHARS);
                if link.shafts_left_out {
                    setup.shafts = shafts::invented_shafts();
                }
                prop_assert_eq!(decoded(&link.fragment), Ok(setup));
            }
            Err(error) => {
                let too_long = matches!(error, LinkError::TooLong { chars } if chars > MOST_LINK_CHARS);
                prop_assert!(too_long, "{error:?}");
            }
        }
    }

    #[test]
    fn any_text_gives_a_build_or_an_error(text in "\\PC{0,60}") {
        if let Err(error) = decoded(&text) {
            prop_assert!(!error.message().is_empty());
        }
    }

    #[test]
    fn any_damage_gives_a_build_or_an_error(setup in any_setup(), at in 0usize..400, with in "[%&=,#+e.\u{e9}-]{0,3}") {
        if let Ok(link) = encoded(&setup) {
            let place = at.min(link.fragment.len());
            let damaged = format!("{}{with}{}", &link.fragment[..place], &link.fragment[(place + 1).min(link.fragment.len())..]);
            if let Err(error) = decoded(&damaged) {
                prop_assert!(!error.message().is_empty());
            }
        }
    }
}
