//! Numbers as archers write them.

use super::*;
use proptest::prelude::*;

fn length(text: &str) -> Result<f64, EntryError> {
    read(text, Quantity::Length, Quantity::Length.saved_unit())
}

#[test]
fn a_labeled_number_says_what_is_wanted() {
    let read = |text, quantity| labeled(text, "Wanted", quantity, &Units::metric());
    assert!((read("2,54", Quantity::Length).unwrap() - 1.0).abs() < 1e-12);
    let end = ". 28.5, 28,5 and 28 1/2 all work.";
    assert_eq!(read("x", Quantity::Length), Err(format!("Wanted: enter a number of cm{end}")));
    assert_eq!(read("", Quantity::Ratio), Err(format!("Wanted: enter a number{end}")));
}

#[test]
fn as_archers_write() {
    for (text, value) in [
        ("10.5", 10.5),
        ("10,5", 10.5),
        ("28 1/2", 28.5),
        ("28-1/2", 28.5),
        ("28½", 28.5),
        ("1/4", 0.25),
        (" 28 ", 28.0),
        ("28.5\"", 28.5),
        ("28.5 in", 28.5),
        ("-1/2", -0.5),
        ("−0,25", -0.25),
        ("0,125", 0.125),
        ("1 234", 1234.0),
        ("1,234.5", 1234.5),
        ("1.234,5", 1234.5),
        ("1,234,567", 1_234_567.0),
        (".5", 0.5),
        ("12,", 12.0),
        ("28⅝", 28.625),
        ("28\u{a0}3/4", 28.75),
        ("10,55", 10.55),
        ("10,5555", 10.5555),
        ("1'000", 1000.0),
        ("1’234’567.5", 1_234_567.5),
        ("5'10\"", 70.0),
        ("5’ 10 1/2″", 70.5),
        ("5 ft 10 in", 70.0),
        ("5ft10", 70.0),
        ("6'", 72.0),
        ("6 feet", 72.0),
        ("70''", 70.0),
        ("5'10''", 70.0),
    ] {
        assert_eq!(length(text), Ok(value), "{text}");
    }
}

#[test]
fn typed_units() {
    assert!((length("72 cm").unwrap() - 28.346_456_692_9).abs() < 1e-9);
    assert_eq!(read("60#", Quantity::DrawWeight, Quantity::DrawWeight.saved_unit()), Ok(60.0));
    assert!(
        (read("27 kg", Quantity::DrawWeight, Quantity::DrawWeight.saved_unit()).unwrap() - 59.524_810_8).abs() < 1e-6
    );
    assert_eq!(length("3 kg"), Err(EntryError::UnknownUnit { typed: "kg".into() }));
    let metric = Units::metric();
    assert_eq!(read("28 in", Quantity::Length, metric.of(Quantity::Length)), Ok(28.0));
}

#[test]
fn spine_both_ways() {
    let unit = Quantity::StaticSpine.saved_unit();
    assert_eq!(read(".340", Quantity::StaticSpine, unit), Ok(340.0));
    assert_eq!(read("0,5", Quantity::StaticSpine, unit), Ok(500.0));
    assert_eq!(read("500", Quantity::StaticSpine, unit), Ok(500.0));
    // 26 / 45 = 0.5778 in under 2 lb on 26 in; (1.94 / 2) (28 / 26)^3 times as far under 1.94 lb on 28 in.
    let pounds = |text: &str| read(text, Quantity::StaticSpine, unit).unwrap();
    assert!((pounds("45#") / 700.0 - 1.0).abs() < 1e-4 && pounds("45 lb") == pounds("45#"));
    assert!((pounds("45-50#") - pounds("47.5#")).abs() < 1e-9 && (pounds("45 1/2#") - pounds("45,5 lbs")).abs() < 1e-9);
    for text in ["#", "-5#", "0#", "45-x#", "a#"] {
        assert_eq!(read(text, Quantity::StaticSpine, unit), Err(EntryError::NotANumber), "{text}");
    }
    for text in [".340 in", ".34\"", "340 thou"] {
        assert_eq!(read(text, Quantity::StaticSpine, unit), Ok(340.0), "{text}");
    }
}

#[test]
fn ambiguous_asks() {
    assert_eq!(length("1,234"), Err(EntryError::Ambiguous { as_decimal: 1.234, as_thousands: 1234.0 }));
    assert_eq!(length("-28,125"), Err(EntryError::Ambiguous { as_decimal: -28.125, as_thousands: -28125.0 }));
    let Err(EntryError::Ambiguous { as_decimal, as_thousands }) = length("28,448 cm") else { panic!("not asked") };
    assert!((as_decimal - 11.2).abs() < 1e-9 && (as_thousands - 11_200.0).abs() < 1e-6);
}

#[test]
fn not_numbers() {
    for text in [
        "",
        "-",
        ".",
        ",",
        "abc",
        "1e9",
        "1..2",
        "1,2,3",
        "1 23",
        "--1",
        "1/",
        "/2",
        "1 2/3/4",
        "NaN",
        "inf",
        "28 1/2 1/2",
        "5-5",
        "5'x",
        "'10",
        "5.5'3",
    ] {
        assert!(
            matches!(length(text), Err(EntryError::NotANumber | EntryError::UnknownUnit { .. })),
            "{text}: {:?}",
            length(text)
        );
    }
    assert_eq!(length("1/0"), Err(EntryError::DivisionByZero));
}

proptest! {
    #[test]
    fn any_text_gives_a_finite_number_or_an_error(text in "\\PC{0,24}") {
        if let Ok(value) = length(&text) {
            prop_assert!(value.is_finite());
        }
    }

    #[test]
    fn the_nearest_number_is_read(whole in 0u64..10_000_000, part in 0u32..10_000_000) {
        let text = format!("{whole}.{part:07}");
        prop_assert_eq!(length(&text).map(f64::to_bits), Ok(text.parse::<f64>().unwrap().to_bits()));
    }

    #[test]
    fn point_and_comma_read_alike(whole in 0u32..999, part in 0u32..99) {
        let point = length(&format!("{whole}.{part:02}"));
        prop_assert_eq!(point.clone(), length(&format!("{whole},{part:02}")));
        prop_assert_eq!(point, format!("{whole}.{part:02}").parse().map_err(|_| EntryError::NotANumber));
    }
}
