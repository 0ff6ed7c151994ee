use super::*;
use crate::schema::shafts::invented_shafts;
use crate::schema::{DrawLengthFrom, DrawWeightFrom, RatedUnder};

fn resolved(given: &[(Field, Value)]) -> Resolved {
    let mut setup = Setup::default();
    for &(field, value) in given {
        setup.set(field, Some(value)).unwrap();
    }
    Resolved::new(&setup, &invented_shafts()[0])
}

#[test]
fn every_field_but_the_absent_has_a_value() {
    let resolved = resolved(&[]);
    for field in Field::ALL {
        let value = resolved.value(field);
        if field.input().default == DefaultRule::Absent {
            assert_eq!(value, None, "{field:?}");
        } else {
            let value = value.unwrap();
            assert_eq!(field.input().check(value), Ok(value), "{field:?}");
        }
    }
}

#[test]
fn the_conditions_of_a_rating_are_the_standard_s() {
    // ASTM F1544: 70 lb, 30 in, 350 gr. AMO: 60 lb, 30 in, 540 gr.
    let rated = [(RatedUnder::FiveGrainsPerPound, [70.0, 30.0, 350.0]), (RatedUnder::OlderAmo, [60.0, 30.0, 540.0])];
    for (rating, conditions) in rated {
        let resolved = resolved(&[(Field::RatedUnder, rating.into())]);
        let fields = [Field::RatingDrawWeight, Field::RatingDrawLength, Field::RatingArrow];
        assert_eq!(fields.map(|field| resolved.number(field)), conditions);
    }
}

#[test]
fn arm_span_fills_the_draw_length() {
    // Common practice, no source: arm span divided by 2.5.
    let resolved = resolved(&[(Field::ArmSpan, Value::Number(70.0))]);
    assert_eq!(resolved.number(Field::DrawLength), 28.0);
    assert!(!resolved.is_user_given(Field::DrawLength));
}

#[test]
fn of_arm_span_and_draw_length_the_last_given_counts() {
    let (span, draw) = ((Field::ArmSpan, Value::Number(70.0)), (Field::DrawLength, Value::Number(29.0)));
    let drawn = |given: &[(Field, Value)]| {
        let resolved = resolved(given);
        (resolved.number(Field::DrawLength), resolved.draw_length_estimated())
    };
    assert_eq!(drawn(&[draw, span]), (28.0, true));
    assert_eq!(drawn(&[span, draw]), (29.0, false));
    let from = |answer: DrawLengthFrom| (Field::DrawLengthFrom, answer.into());
    assert_eq!(drawn(&[span, draw, from(DrawLengthFrom::ArmSpan)]), (28.0, true));
    assert_eq!(drawn(&[draw, span, from(DrawLengthFrom::Measured)]), (29.0, false));
    assert_eq!(drawn(&[draw, from(DrawLengthFrom::ArmSpan)]), (29.0, false), "no arm span is given");
}

#[test]
fn limbs_marked_at_28_in_are_lighter_at_a_shorter_draw() {
    let marked = |kind: BowKind, draw: f64| {
        resolved(&[
            (Field::BowKind, kind.into()),
            (Field::MarkedWeight, Value::Number(40.0)),
            (Field::DrawLength, Value::Number(draw)),
        ])
    };
    let lb = |kind, draw| marked(kind, draw).number(Field::PeakDrawWeight);
    assert_eq!(lb(BowKind::Recurve, 28.0), 40.0);
    // Brace height 8.75 in: strokes of 15.5 and 17.5 in.
    assert!((lb(BowKind::Recurve, 26.0) - 40.0 * 15.5 / 17.5).abs() < 1e-12);
    // Common practice, no source: 2 to 2.5 lb an inch at 40 lb.
    for kind in [BowKind::Recurve, BowKind::Longbow] {
        for draw in [25.0, 26.0, 27.0, 29.0, 30.0] {
            let an_inch = (lb(kind, draw) - 40.0) / (draw - 28.0);
            assert!((2.0..2.5).contains(&an_inch), "{kind:?} {draw}: {an_inch}");
        }
    }
    assert!(marked(BowKind::Recurve, 26.0).draw_weight_estimated());
    assert_eq!(lb(BowKind::Compound, 26.0), 50.0, "a compound is not marked at a draw length");
}

#[test]
fn the_draw_weight_given_last_counts() {
    let recurve = (Field::BowKind, BowKind::Recurve.into());
    let [peak, marked] = [Field::PeakDrawWeight, Field::MarkedWeight].map(|field| (field, Value::Number(40.0)));
    let draw = (Field::DrawLength, Value::Number(26.0));
    let last = resolved(&[recurve, draw, marked, peak]);
    assert_eq!((last.number(Field::PeakDrawWeight), last.draw_weight_estimated()), (40.0, false));
    let first = resolved(&[recurve, draw, peak, marked]);
    assert!(first.draw_weight_estimated() && first.number(Field::PeakDrawWeight) < 36.0);
    let scale = resolved(&[recurve, draw, peak, marked, (Field::DrawWeightFrom, DrawWeightFrom::Scale.into())]);
    assert_eq!(scale.number(Field::PeakDrawWeight), 40.0);
}

#[test]
fn a_rest_far_ahead_asks_for_a_longer_arrow() {
    let near = resolved(&[(Field::DrawLength, Value::Number(29.0))]);
    assert_eq!(near.suggested_length_in(), 28.5);
    assert_eq!(near.suggested_cut_in(), 28.0);
    let far = resolved(&[(Field::DrawLength, Value::Number(29.0)), (Field::RestOffset, Value::Number(2.0))]);
    assert_eq!(far.suggested_length_in(), far.shortest_safe_length_in());
    assert_eq!(far.shortest_safe_length_in(), 30.25);
}

#[test]
fn a_fat_bore_moves_the_assumed_outside() {
    let fat = StockShaft { outer_diameter_in: 0.338, bore_in: 0.246, ..invented_shafts().remove(0) };
    let of = |field, number| {
        let resolved = Resolved::new(&Setup::default().with(field, number).unwrap(), &fat);
        (resolved.number(Field::OuterDiameter), resolved.number(Field::Bore))
    };
    assert_eq!(of(Field::Bore, 0.246), (0.338, 0.246));
    let (outer, bore) = of(Field::Bore, 0.4);
    assert!((outer - 0.492).abs() < 1e-12 && bore == 0.4);
    let (outer, bore) = of(Field::OuterDiameter, 0.24);
    assert!(outer == 0.24 && (bore - 0.148).abs() < 1e-12);
    assert_eq!(of(Field::OuterDiameter, 0.3), (0.3, 0.246));
}

#[test]
fn a_weighed_shaft_replaces_the_list() {
    let resolved = resolved(&[(Field::BareShaft, Value::Number(280.0)), (Field::CutLength, Value::Number(28.0))]);
    assert_eq!(resolved.number(Field::ShaftLinearMass), 10.0);
}
