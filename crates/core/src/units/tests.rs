//! Conversions, choices of units and bounds.

use super::*;
use proptest::prelude::*;

#[test]
fn choosable_are_all_with_a_choice() {
    for quantity in CHOOSABLE {
        assert!(quantity.units().len() > 1, "{quantity:?}");
    }
}

#[test]
fn known_conversions() {
    // NIST SP 811 (2008), Appendix B.8: 1 in = 2.54 cm, 1 lb = 453.59237 g, 1 gr = 64.79891 mg.
    let metric = Units::metric();
    assert!((metric.show(Quantity::Length, 28.0) - 71.12).abs() < 1e-12);
    assert!((metric.show(Quantity::Mass, 7000.0) - 453.592_37).abs() < 1e-9);
    assert!((metric.show(Quantity::DrawWeight, 60.0) - 27.215_542_2).abs() < 1e-9);
    assert!((metric.show(Quantity::Speed, 280.0) - 85.344).abs() < 1e-12);
    assert!((metric.show(Quantity::Temperature, 59.0) - 15.0).abs() < 1e-12);
    assert!((Quantity::Temperature.to_si(59.0) - 288.15).abs() < 1e-12);
    assert!((metric.show(Quantity::Distance, 100.0) - 91.44).abs() < 1e-12);
    // ISO 2533: 1013.25 hPa; 29.92 inHg to its four digits.
    assert!((Quantity::Pressure.from_si(101_325.0) - 29.92).abs() < 5e-3);
    assert!((Quantity::WindSpeed.to_si(10.0) - 4.470_4).abs() < 1e-12);
}

#[test]
fn steps_are_round_in_every_unit() {
    let metric = Units::metric();
    for (quantity, saved, round) in [
        (Quantity::Length, 0.25, 0.5),
        (Quantity::DrawWeight, 1.0, 0.2),
        (Quantity::Mass, 5.0, 0.2),
        (Quantity::SmallLength, 0.05, 1.0),
        (Quantity::Speed, 5.0, 1.0),
    ] {
        assert!((metric.round_step(quantity, saved) - round).abs() < 1e-12, "{quantity:?}");
        assert_eq!(Units::ARCHERY.round_step(quantity, saved), saved);
    }
}

#[test]
fn a_choice_survives_being_written() {
    let mut units = Units::metric();
    units.choose(Quantity::DrawWeight, 2);
    assert_eq!(Units::from_text(&units.to_text()), units);
    assert_eq!(Units::from_text("nonsense length=9 mass= =1"), Units::ARCHERY);
}

#[test]
fn a_spine_in_pounds_is_the_mechanics_s() {
    for pounds in [25.0, 45.0, 47.5, 90.0] {
        let stiffness = clothyard_mechanics::stiffness_from_amo_rating_nm2(Quantity::DrawWeight.to_si(pounds)).unwrap();
        let sag_m = SpineRig::ASTM_F2031.deflection_m(stiffness).unwrap();
        assert!((other_spine(pounds) / Quantity::StaticSpine.from_si(sag_m) - 1.0).abs() < 1e-14);
        assert!((other_spine(other_spine(pounds)) - pounds).abs() < 1e-12);
    }
}

#[test]
fn a_number_written_like_a_bound_is_the_bound() {
    let bound = |units: &Units, lb: f64| units.to_bound(Quantity::DrawWeight, lb, 5.0, 150.0);
    assert_eq!(
        [4.996, 4.99, 150.004, 150.01, 60.001].map(|lb| bound(&Units::ARCHERY, lb)),
        [5.0, 4.99, 150.0, 150.01, 60.001]
    );
    // 150 lb is 68.0389 kg, written 68.04.
    assert_eq!(bound(&Units::metric(), 68.04 / 0.453_592_37), 150.0);
    assert_eq!(Units::ARCHERY.to_bound(Quantity::Angle, -0.001, 0.0, 10.0), 0.0);
    assert!(bound(&Units::ARCHERY, f64::NAN).is_nan());
}

proptest! {
    #[test]
    fn there_and_back(value in -1e4..1e4f64, which in 0..CHOOSABLE.len(), index in 0usize..3) {
        let quantity = CHOOSABLE[which];
        let mut units = Units::ARCHERY;
        units.choose(quantity, index);
        let back = units.save(quantity, units.show(quantity, value));
        prop_assert!((back - value).abs() <= 4.0 * f64::EPSILON * (value.abs() + 600.0 * f64::from(CHOOSABLE[which] == Quantity::Temperature)));
    }
}
