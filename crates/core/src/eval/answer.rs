//! The answer in one line, and what would put it right: every place that says how a setup does takes its words from
//! here, so that none praises the match of an arrow that must not be shot.

use crate::eval::{BAND, Evaluation, Verdict, Warning, safety};
use crate::format::{bare_whole, length, upper_first, whole};
use crate::parse::cut_at;
use crate::schema::{BowKind, Field, Output};
use crate::setup::LIGHT_BOW_LB;
use crate::units::{Quantity, Units};
use clothyard_mechanics::units::KILOGRAM_PER_GRAIN;

/// Point weights one can buy, in grains (common practice, no source).
pub const POINT_WEIGHTS_GR: [f64; 9] = [75.0, 85.0, 100.0, 125.0, 150.0, 175.0, 200.0, 250.0, 300.0];

/// How much a bow's draw weight can be changed, down and up, as shares: by a compound's limb bolts, a little by a
/// recurve's, of a longbow not at all (common practice, no source).
const fn draw_weight_step(bow: BowKind) -> Option<(f64, f64)> {
    match bow {
        BowKind::Compound => Some((0.2, 0.1)),
        BowKind::Recurve => Some((0.05, 0.05)),
        BowKind::Longbow => None,
    }
}

/// What is said of a stiff arrow where nothing else helps.
const STIFF_IS_SAFE: &str = "Stiffer than it needs: safe, it only costs a little forgiveness.";

/// The answer as a headline.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Headline {
    /// Whether nothing may be shot before the setup is changed.
    pub forbids_shooting: bool,
    /// `danger`, `check`, the key of a [`Verdict`], or `noMatch`.
    pub key: &'static str,
    /// The answer in a few words.
    pub title: String,
    /// Why, in numbers; with a danger also what to do.
    pub reason: String,
}

impl Evaluation {
    /// What forbids shooting, the worst first; none where nothing does.
    #[must_use]
    pub fn forbidding(&self) -> Option<&Warning> {
        self.warnings.iter().find(|warning| warning.severity().forbids_shooting())
    }

    /// The answer as a headline: a danger where there is one, else the match.
    #[must_use]
    pub fn headline(&self, units: &Units) -> Headline {
        let Some(warning) = self.forbidding() else {
            let key = self.verdict.map_or("noMatch", Verdict::key);
            let title = upper_first(self.match_words());
            return Headline { forbids_shooting: false, key, title, reason: self.range_sentence(units) };
        };
        let sentence = warning.sentence(units);
        let (name, reason) = cut_at(&sentence, ". ").unwrap_or((&sentence, ""));
        let title = format!("{}: {name}", warning.severity().word());
        let key = warning.severity().key();
        Headline { forbids_shooting: true, key, title, reason: reason.to_owned() }
    }

    /// The answer in two or three words, for a table or the middle of a sentence.
    #[must_use]
    pub fn answer_words(&self) -> &'static str {
        match self.forbidding() {
            Some(warning) => warning.name(),
            None => self.match_words(),
        }
    }

    /// How the spine suits, in words; between the band and the range that is sure to be outside it, "slightly".
    #[must_use]
    pub fn match_words(&self) -> &'static str {
        let Some(verdict) = self.verdict else { return "no match" };
        let pounds = self.resolved.number(Field::PeakDrawWeight);
        let close = self.match_range_lb().is_some_and(|(low, high)| low <= pounds && pounds <= high);
        match verdict {
            Verdict::WellMatched => "good match",
            Verdict::ActsStiff if self.resolved.is_light_bow() => "stiff, but fine",
            Verdict::ActsStiff if close => "slightly stiff",
            Verdict::ActsStiff => "too stiff",
            Verdict::ActsWeak if close => "slightly weak",
            Verdict::ActsWeak => "too weak",
        }
    }

    /// The draw weights in lb that this arrow matches: the band that shoots well and one standard error of the bow's
    /// estimate together (root of the sum of squares).
    #[must_use]
    pub fn match_range_lb(&self) -> Option<(f64, f64)> {
        let best = self.outputs.get(Output::IdealDrawWeight)?;
        let arrow_kg = self.outputs.get(Output::TotalWeight)? * KILOGRAM_PER_GRAIN;
        // The push grows with the square of the speed.
        let error = 2.0 * self.model.as_ref()?.estimate.estimate_log_error(arrow_kg).ok()?;
        let share = (BAND * BAND + error * error).sqrt();
        Some((best * (1.0 - share), best * (1.0 + share)))
    }

    /// The match in pounds, and its verdict unless something forbids shooting.
    #[must_use]
    pub fn match_sentence(&self, units: &Units) -> String {
        let range = self.range_sentence(units);
        if self.forbidding().is_some() || self.verdict.is_none() {
            return range;
        }
        format!("{range} {}.", upper_first(self.match_words()))
    }

    fn range_sentence(&self, units: &Units) -> String {
        let Some((low, high)) = self.match_range_lb() else {
            return "No match can be computed.".to_owned();
        };
        let quantity = Quantity::DrawWeight;
        let low = bare_whole(quantity, low, units);
        let pounds = self.resolved.number(Field::PeakDrawWeight);
        format!("Matches about {low}-{}. Your bow: {}.", whole(quantity, high, units), whole(quantity, pounds, units))
    }

    /// What would make it match: a point one can buy, a cut, a draw weight, or another shaft; nothing where it is
    /// matched or has no match at all.
    #[must_use]
    pub fn remedy_sentence(&self, units: &Units) -> String {
        let stiff = match self.verdict {
            Some(Verdict::ActsStiff) => true,
            Some(Verdict::ActsWeak) => false,
            Some(Verdict::WellMatched) | None => return String::new(),
        };
        if stiff && self.resolved.is_light_bow() {
            return STIFF_IS_SAFE.to_owned();
        }
        let mut ways = Vec::new();
        // The user's own shaft against the one of the list.
        let own = self.resolved.has_own_shaft();
        ways.extend(self.recommendation.as_ref().filter(|_| own).map(|found| found.words(units)));
        ways.extend(self.point_remedy_gr().map(|grains| format!("{} point", whole(Quantity::Mass, grains, units))));
        let cut = self.outputs.get(Output::CutForMatch);
        ways.extend(cut.map(|inches| format!("cut {}", length(inches, units))));
        ways.extend(self.draw_weight_remedy_lb().map(|pounds| whole(Quantity::DrawWeight, pounds, units)));
        if !ways.is_empty() {
            return format!("To match: {}.", ways.join(", or "));
        }
        if stiff {
            STIFF_IS_SAFE.to_owned()
        } else {
            "No safe change of point, cut or draw weight fixes it: use a stiffer shaft.".to_owned()
        }
    }

    /// The point one can buy that matches, in grains: within the window of the point, and the nearest to the exact one.
    fn point_remedy_gr(&self) -> Option<f64> {
        let [low, high] = [Output::LightestPoint, Output::HeaviestPoint].map(|output| self.outputs.get(output));
        let (low, high) = low.zip(high)?;
        let exact = self.outputs.get(Output::PointForMatch).unwrap_or(if self.verdict == Some(Verdict::ActsStiff) {
            high
        } else {
            low
        });
        let off = |grains: &f64| (grains - exact).abs();
        let in_window = POINT_WEIGHTS_GR.into_iter().filter(|grains| (low..=high).contains(grains));
        in_window.min_by(|a, b| off(a).total_cmp(&off(b)))
    }

    /// The draw weight that matches, in lb: less than the bow has, or little more, and for no light bow more.
    fn draw_weight_remedy_lb(&self) -> Option<f64> {
        let now = self.resolved.number(Field::PeakDrawWeight);
        let best = self.outputs.get(Output::IdealDrawWeight)?;
        let (down, up) = draw_weight_step(self.resolved.choice())?;
        // No more is asked of an archer with a light bow.
        let up = if now < LIGHT_BOW_LB { 0.0 } else { up };
        let allowed = (now * (1.0 - down)..=now * (1.0 + up)).contains(&best);
        // An arrow that would then be too light is no remedy.
        let heavy = self.outputs.get(Output::TotalWeight)? >= safety::least_weight_gr(&self.resolved, best);
        (allowed && heavy).then_some(best)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::setup::Setup;
    use crate::testing::any_setup;
    use proptest::prelude::*;

    const UNITS: Units = Units::ARCHERY;

    fn evaluate(kind: BowKind, given: &[(Field, f64)]) -> Evaluation {
        let mut setup = given.iter().fold(Setup::default(), |setup, &(field, value)| setup.with(field, value).unwrap());
        setup.choose(kind);
        Evaluation::of(&setup)
    }

    /// A 60 lb compound with a shaft of some spine, cut to 27.5 in.
    fn with_spine(spine: f64) -> Evaluation {
        let arrow = [(Field::PeakDrawWeight, 60.0), (Field::StaticSpine, spine), (Field::ShaftLinearMass, 9.0)];
        evaluate(BowKind::Compound, &[&arrow[..], &[(Field::CutLength, 27.5)]].concat())
    }

    #[test]
    fn a_danger_is_the_headline_with_its_way_out() {
        let light = [(Field::PeakDrawWeight, 50.0), (Field::ShaftLinearMass, 3.0), (Field::PointMass, 60.0)];
        let all = evaluate(BowKind::Longbow, &light);
        let headline = all.headline(&UNITS);
        assert_eq!((headline.key, headline.title.as_str()), ("danger", "Do not shoot: arrow too light"));
        let grains = format!("{:.0}\u{a0}gr", all.outputs.get(Output::TotalWeight).unwrap());
        let starts = format!("{grains}, this bow needs 350\u{a0}gr: heavier point or shaft.");
        assert!(headline.forbids_shooting && headline.reason.starts_with(&starts), "{}", headline.reason);
        assert_eq!(all.answer_words(), "arrow too light");
        assert!(all.match_sentence(&UNITS).ends_with("Your bow: 50\u{a0}lb."), "the match is not praised");
    }

    #[test]
    fn the_match_is_the_headline_where_nothing_is_dangerous() {
        let all = with_spine(380.0);
        let headline = all.headline(&UNITS);
        assert_eq!(
            (headline.key, headline.title.as_str(), headline.forbids_shooting),
            ("wellMatched", "Good match", false)
        );
        let (low, high) = all.match_range_lb().unwrap();
        let best = all.outputs.get(Output::IdealDrawWeight).unwrap();
        assert!(low < best * (1.0 - BAND) && high > best * (1.0 + BAND), "the estimate widens the band");
        let says = format!("Matches about {low:.0}-{high:.0}\u{a0}lb. Your bow: 60\u{a0}lb.");
        assert_eq!(headline.reason, says);
        assert_eq!(all.remedy_sentence(&UNITS), "");
    }

    #[test]
    fn from_weak_to_stiff_in_words() {
        let words = [200.0, 350.0, 380.0, 430.0, 470.0].map(|spine| with_spine(spine).match_words());
        assert_eq!(words, ["too stiff", "slightly stiff", "good match", "slightly weak", "too weak"]);
        let child = [(Field::PeakDrawWeight, 20.0), (Field::DrawLength, 24.0), (Field::StaticSpine, 600.0)];
        assert_eq!(evaluate(BowKind::Recurve, &child).match_words(), "stiff, but fine");
    }

    #[test]
    fn no_longbow_is_asked_for_another_draw_weight() {
        let arrow = [(Field::PeakDrawWeight, 60.0), (Field::StaticSpine, 520.0), (Field::CutLength, 28.0)];
        let weight = |kind, pounds: f64| {
            let all = evaluate(kind, &[&arrow[1..], &[(Field::PeakDrawWeight, pounds)]].concat());
            let best = all.outputs.get(Output::IdealDrawWeight).unwrap();
            (best / pounds, all.draw_weight_remedy_lb().is_some())
        };
        // From 10 % over what the arrow matches to 10 % under it.
        for kind in [BowKind::Compound, BowKind::Recurve, BowKind::Longbow] {
            for pounds in [44.0, 46.0, 48.0, 50.0, 52.0, 54.0, 56.0, 58.0] {
                let (share, named) = weight(kind, pounds);
                let reach = match kind {
                    BowKind::Compound => (0.8..=1.1).contains(&share),
                    BowKind::Recurve => (0.95..=1.05).contains(&share),
                    BowKind::Longbow => false,
                };
                assert!(reach || !named, "{kind:?} {pounds} {share}");
            }
        }
    }

    #[test]
    fn remedies_are_what_one_can_do() {
        assert!(with_spine(440.0).remedy_sentence(&UNITS).contains("75\u{a0}gr point"));
        for far in [150.0, 900.0] {
            assert_eq!(with_spine(far).remedy_sentence(&UNITS), "To match: Osier 390, cut 27 1/2\u{a0}in.");
        }
        let without_list = |spine| Evaluation { recommendation: None, ..with_spine(spine) }.remedy_sentence(&UNITS);
        assert_eq!(without_list(150.0), "Stiffer than it needs: safe, it only costs a little forgiveness.");
        let weak = "No safe change of point, cut or draw weight fixes it: use a stiffer shaft.";
        assert_eq!(without_list(900.0), weak);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(300))]

        #[test]
        fn no_remedy_is_beyond_reach(setup in any_setup()) {
            let all = Evaluation::of(&setup);
            let resolved = &all.resolved;
            if let Some(grains) = all.point_remedy_gr() {
                prop_assert!(POINT_WEIGHTS_GR.contains(&grains) && grains <= 2.0 * resolved.number(Field::PointMass));
            }
            if let Some(cut) = all.outputs.get(Output::CutForMatch) {
                let longest = (resolved.number(Field::DrawLength) + 2.0).max(resolved.number(Field::CutLength));
                let shortest = safety::shortest_cut_in(resolved).max(Field::CutLength.input().clamp(0.0));
                prop_assert!(cut >= shortest - 1e-6 && cut <= longest + 1e-6, "{shortest} {cut} {longest}");
            }
            if let Some(pounds) = all.draw_weight_remedy_lb() {
                let now = resolved.number(Field::PeakDrawWeight);
                let most = if now < 30.0 { 1.0 } else { 1.1 };
                prop_assert!(pounds <= now * most);
            }
            let dangerous = all.forbidding().is_some();
            prop_assert_eq!(all.headline(&UNITS).forbids_shooting, dangerous);
            prop_assert!(!dangerous || !all.match_sentence(&UNITS).contains("ood match"));
        }
    }
}
