//! Limits on the metrics of combinations, and the form in which they are typed.

use super::points::{GridPoint, Metric};
use clothyard_core::eval::BAND;
use clothyard_core::parse;
use clothyard_core::units::Units;

/// A limit on a metric, in its saved unit, ends included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Of what.
    pub metric: Metric,
    /// Least allowed, if there is a least.
    pub minimum: Option<f64>,
    /// Most allowed, if there is a most.
    pub maximum: Option<f64>,
}

impl Limit {
    /// A good match.
    const WELL_MATCHED: Self = Self { metric: Metric::Match, minimum: Some(1.0 - BAND), maximum: Some(1.0 + BAND) };

    /// Whether a combination keeps it; one without the number does not.
    fn keeps(&self, point: &GridPoint) -> bool {
        point.get(self.metric).is_some_and(|number| {
            self.minimum.is_none_or(|least| number >= least) && self.maximum.is_none_or(|most| number <= most)
        })
    }

    /// How far a combination is from the middle: 0 there, 1 at either end; none where it has no two ends.
    pub(super) fn off_middle(&self, point: &GridPoint) -> Option<f64> {
        let (least, most) = (self.minimum?, self.maximum?);
        let half = (most - least) / 2.0;
        if half > 0.0 { Some((point.get(self.metric)? - least - half).abs() / half) } else { None }
    }

    /// What is said of a combination that breaks it: in two or three words, and as a sentence.
    pub(super) fn broken_words(&self, point: &GridPoint, units: &Units) -> (String, String) {
        let label = self.metric.label();
        if self.metric == Metric::Match {
            return ("not matched".to_owned(), "Only good matches are wanted.".to_owned());
        }
        let Some(number) = point.get(self.metric) else {
            return (format!("{label}: none"), format!("{label}: no number to compare with the limit."));
        };
        let (side, words, end) = match (self.minimum.filter(|&least| number < least), self.maximum) {
            (Some(least), _) => ("low", "at least", least),
            (None, most) => ("high", "at most", most.unwrap_or(number)),
        };
        let [number, end] = [number, end].map(|number| self.metric.measured(number, units));
        (format!("{label}: {side}"), format!("{label} {number}: the limit is {words} {end}."))
    }
}

/// The first limit that a combination breaks; none where it keeps them all.
#[must_use]
pub fn first_broken<'a>(point: &GridPoint, limits: &'a [Limit]) -> Option<&'a Limit> {
    limits.iter().find(|limit| !limit.keeps(point))
}

/// Whether a combination is safe, as far as is known, and keeps every limit.
#[must_use]
pub fn is_allowed(point: &GridPoint, limits: &[Limit]) -> bool {
    point.danger.is_none() && first_broken(point, limits).is_none()
}

/// What can be limited on the form.
const LIMITED: [Metric; 5] =
    [Metric::TotalWeight, Metric::FrontOfCentre, Metric::GrainsPerPound, Metric::LaunchSpeed, Metric::KineticEnergy];

/// The ends of a limit: the key in the markup, and its words.
const ENDS: [(&str, &str); 2] = [("least", "at least"), ("most", "at most")];

/// An end of a limit as typed: nothing, a number in the saved unit, or what is wrong with it.
pub type TypedEnd = Result<Option<f64>, String>;

/// The limits on the form, and those in force: the last that could be read.
#[derive(Debug)]
pub struct LimitForm {
    ends: [[TypedEnd; 2]; LIMITED.len()],
    well_matched: bool,
    in_force: Vec<Limit>,
}

impl Default for LimitForm {
    fn default() -> Self {
        Self { ends: [const { [Ok(None), Ok(None)] }; LIMITED.len()], well_matched: false, in_force: Vec::new() }
    }
}

impl LimitForm {
    /// The limits in force.
    #[must_use]
    pub fn in_force(&self) -> &[Limit] {
        &self.in_force
    }

    /// Every end: its metric, its key in the markup, and what was typed.
    pub fn ends(&self) -> impl Iterator<Item = (Metric, &'static str, &TypedEnd)> {
        let of_metric = |(metric, ends)| ENDS.into_iter().zip(ends).map(move |((key, _), end)| (metric, key, end));
        LIMITED.into_iter().zip(&self.ends).flat_map(of_metric)
    }

    /// Reads what was typed as an end of a limit.
    pub fn type_end(&mut self, key: &str, metric: Metric, typed: &str, units: &Units) {
        let ends = LIMITED.into_iter().zip(&mut self.ends).find(|(limited, _)| *limited == metric);
        let mut ends = ends.into_iter().flat_map(|(_, ends)| ENDS.into_iter().zip(ends));
        let Some(((_, words), end)) = ends.find(|((known, _), _)| *known == key) else { return };
        *end = if typed.trim().is_empty() {
            Ok(None)
        } else {
            let label = format!("{}, {words}", metric.label());
            parse::labeled(typed, &label, metric.quantity(), units).map(Some)
        };
        self.put_in_force();
    }

    /// Whether only well matched combinations are wanted.
    pub fn want_well_matched(&mut self, wanted: bool) {
        self.well_matched = wanted;
        self.put_in_force();
    }

    fn put_in_force(&mut self) {
        if self.fault().is_some() {
            return;
        }
        let typed = LIMITED.into_iter().zip(&self.ends).filter_map(|(metric, ends)| {
            let [minimum, maximum] = ends.each_ref().map(|end| end.as_ref().ok().copied().flatten());
            minimum.or(maximum).map(|_| Limit { metric, minimum, maximum })
        });
        self.in_force = self.well_matched.then_some(Limit::WELL_MATCHED).into_iter().chain(typed).collect();
    }

    /// How many limits are in force, in words.
    #[must_use]
    pub fn count_words(&self) -> String {
        if self.in_force.is_empty() { "none".to_owned() } else { format!("{} set", self.in_force.len()) }
    }

    /// What is wrong with the first end that cannot be read or does not go with the other one.
    fn fault(&self) -> Option<String> {
        LIMITED.into_iter().zip(&self.ends).find_map(|(metric, ends)| match ends {
            [Err(why), _] | [_, Err(why)] => Some(why.clone()),
            [Ok(Some(least)), Ok(Some(most))] if least > most => {
                Some(format!("{}: the minimum is above the maximum.", metric.label()))
            }
            _ => None,
        })
    }

    /// What is wrong with the form, in a sentence or two; empty where nothing is.
    #[must_use]
    pub fn remark(&self) -> String {
        self.fault().map_or_else(String::new, |why| format!("{why} Limits unchanged."))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::combinations::points::METRIC_COUNT;
    use clothyard_core::eval::safety::Danger;

    fn point(share: f64, foc: f64) -> GridPoint {
        let mut numbers = [None; METRIC_COUNT];
        numbers[Metric::Match as usize] = Some(share);
        numbers[Metric::FrontOfCentre as usize] = Some(foc);
        GridPoint { index: 0, numbers, cost_lb: None, danger: None }
    }

    fn limit(metric: Metric, minimum: Option<f64>, maximum: Option<f64>) -> Limit {
        Limit { metric, minimum, maximum }
    }

    #[test]
    fn the_first_limit_broken_is_named() {
        let limits = [
            limit(Metric::Match, None, Some(1.1)),
            limit(Metric::FrontOfCentre, Some(10.0), None),
            limit(Metric::LaunchSpeed, None, None),
        ];
        let broken = |point: GridPoint, limits| first_broken(&point, limits).map(|limit: &Limit| limit.metric);
        assert_eq!(broken(point(1.2, 5.0), &limits), Some(Metric::Match));
        assert_eq!(broken(point(1.1, 9.9), &limits), Some(Metric::FrontOfCentre));
        assert_eq!(broken(point(1.1, 10.0), &limits), Some(Metric::LaunchSpeed), "there is no speed");
        assert_eq!(broken(point(1.1, 10.0), &limits[..2]), None);
        assert!(is_allowed(&point(1.1, 10.0), &limits[..2]));
        let unsafe_point = GridPoint { danger: Some(Danger::TooLight), ..point(1.1, 10.0) };
        assert!(!is_allowed(&unsafe_point, &limits[..2]));
    }

    #[test]
    fn a_broken_limit_says_how_far_off_it_is() {
        let say = |limit: Limit, point: &GridPoint| limit.broken_words(point, &Units::ARCHERY);
        let foc = limit(Metric::FrontOfCentre, Some(10.0), Some(14.0));
        let (short, sentence) = say(foc, &point(1.0, 9.0));
        assert_eq!((short.as_str(), sentence.as_str()), ("FOC: low", "FOC 9.0%: the limit is at least 10.0%."));
        let (short, sentence) = say(foc, &point(1.0, 15.0));
        assert_eq!((short.as_str(), sentence.as_str()), ("FOC: high", "FOC 15.0%: the limit is at most 14.0%."));
        assert_eq!(say(limit(Metric::LaunchSpeed, Some(1.0), None), &point(1.0, 9.0)).0, "Launch speed: none");
        assert_eq!(say(Limit::WELL_MATCHED, &point(1.2, 9.0)).0, "not matched");
    }

    #[test]
    fn limits_that_cannot_be_read_leave_the_last_in_force() {
        let mut form = LimitForm::default();
        let weight = Metric::TotalWeight;
        let (mut units, mut remark) = (Units::ARCHERY, String::new());
        let mut type_end = |form: &mut LimitForm, key, typed, units: &Units| {
            form.type_end(key, weight, typed, units);
            remark = form.remark();
            (form.in_force().to_vec(), remark.clone())
        };
        assert_eq!(form.count_words(), "none");
        let one = vec![limit(weight, Some(400.0), None)];
        assert_eq!(type_end(&mut form, "least", "400,0", &units), (one.clone(), String::new()));
        let (in_force, remark) = type_end(&mut form, "most", "100", &units);
        assert_eq!(in_force, one);
        assert!(remark.starts_with("Total weight: the minimum is above the maximum."), "{remark}");
        let (in_force, remark) = type_end(&mut form, "most", "abc", &units);
        assert_eq!(in_force, one);
        assert!(remark.starts_with("Total weight, at most: enter a number of gr."), "{remark}");
        assert!(remark.ends_with(" Limits unchanged."));
        units = Units::metric();
        let (in_force, _) = type_end(&mut form, "most", "32.399455", &units);
        assert!((in_force[0].maximum.unwrap() - 500.0).abs() < 1e-6);
        form.want_well_matched(true);
        assert_eq!((form.in_force()[0], form.count_words().as_str()), (Limit::WELL_MATCHED, "2 set"));
        assert_eq!(form.ends().count(), 10);
        form.type_end("use", weight, "x", &units);
        form.type_end("least", Metric::Match, "x", &units);
        assert_eq!(form.remark(), "", "there are no such ends");
    }
}
