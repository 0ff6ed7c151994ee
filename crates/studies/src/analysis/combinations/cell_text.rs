//! Text of a cell in the tables of combinations.

use super::limits::{Limit, first_broken};
use super::points::{GridPoint, Metric, danger_words};
use super::run::GridRun;
use clothyard_core::eval::BAND;
use clothyard_core::format;
use clothyard_core::units::{Quantity, Units};

/// How many steps of tint there are.
const TINTS: f64 = 4.0;

/// What a cell that shows all says besides the match.
const ALL_METRICS: [Metric; 4] =
    [Metric::TotalWeight, Metric::FrontOfCentre, Metric::LaunchSpeed, Metric::KineticEnergy];

/// What is to be said of each combination.
#[derive(Clone, Copy, Debug)]
pub struct CellFormat<'a> {
    metric: Metric,
    with_all: bool,
    /// What a combination is held against.
    pub limits: &'a [Limit],
    /// The units of its words.
    pub units: &'a Units,
}

/// What one cell says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CellText {
    /// Its number.
    pub number: String,
    /// Lines under it.
    pub words: String,
    /// How strong its tint is; 0 is none.
    pub tint: u8,
    /// What makes it unsafe, or the limit that it breaks, as a sentence; empty where there is neither.
    pub broken: String,
}

impl CellText {
    fn new(number: impl Into<String>, words: &str, tint: u8) -> Self {
        Self { number: number.into(), words: words.to_owned(), tint, broken: String::new() }
    }

    /// That it is not evaluated yet.
    #[must_use]
    pub fn waiting() -> Self {
        Self::new("…", "", 0)
    }

    /// Adds a line to its words.
    pub fn add_line(&mut self, line: &str) {
        let separator = if self.words.is_empty() { "" } else { "\n" };
        self.words = format!("{}{separator}{line}", self.words);
    }
}

impl<'a> CellFormat<'a> {
    /// From the key of a metric, or `all` for several of them.
    #[must_use]
    pub fn new(key: &str, limits: &'a [Limit], units: &'a Units) -> Self {
        let metric = Metric::by_key(key).unwrap_or(Metric::Match);
        Self { metric, with_all: key == "all", limits, units }
    }

    /// What the numbers and the tint mean.
    #[must_use]
    pub fn explanation(&self) -> &'static str {
        if self.metric == Metric::Match {
            "Match: best-match draw weight minus bow weight. + acts stiff on this bow, − acts weak."
        } else {
            "Higher values have a stronger tint."
        }
    }

    /// What the cell of a combination says.
    #[must_use]
    pub fn cell_text(&self, point: &GridPoint, run: &GridRun) -> CellText {
        let mut text = if self.metric == Metric::Match { self.match_text(point) } else { self.of_metric(point, run) };
        for metric in ALL_METRICS.into_iter().filter(|_| self.with_all) {
            text.add_line(&point.words(metric, self.units));
        }
        let danger = point.danger.map(|danger| danger_words(danger, point, &run.resolved_of(point), self.units));
        let danger = danger.map(|(short, sentence)| (short.to_owned(), sentence));
        let limit = || first_broken(point, self.limits).map(|limit| limit.broken_words(point, self.units));
        if let Some((short, sentence)) = danger.or_else(limit) {
            text.add_line(&short);
            (text.broken, text.tint) = (sentence, 0);
        }
        text
    }

    /// How well it matches: pounds, a word, and a tint the darker the better.
    #[must_use]
    pub fn match_text(&self, point: &GridPoint) -> CellText {
        let (Some(pounds), Some(share)) = (point.over_draw_weight_lb(), point.get(Metric::Match)) else {
            return CellText::new("–", "no match", 0);
        };
        let off = (share - 1.0).abs() / BAND;
        let (words, tint) = match off {
            ..=0.5 => ("✓ matched", 4),
            ..=1.0 => ("✓ matched", 3),
            _ if share < 1.0 => ("stiff", 0),
            _ => ("weak", 0),
        };
        CellText::new(signed_draw_weight(pounds, self.units), words, tint)
    }

    fn of_metric(&self, point: &GridPoint, run: &GridRun) -> CellText {
        let Some(number) = point.get(self.metric) else { return CellText::new("–", "no number", 0) };
        let step = (run.ranges().share(self.metric, number) * TINTS).min(TINTS - 1.0) as u8;
        CellText::new(point.words(self.metric, self.units), "", 1 + step)
    }
}

/// A difference of draw weight, always with its sign.
fn signed_draw_weight(pounds: f64, units: &Units) -> String {
    let words = format::measured(Quantity::DrawWeight, pounds, units);
    format::signed(&words).unwrap_or_else(|| format!("+{words}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::combinations::axis::{Axis, AxisKind};
    use crate::analysis::combinations::grid::Grid;
    use crate::testing::held;
    use clothyard_core::eval::Baseline;
    use clothyard_core::setup::Setup;

    /// Cuts from behind the rest to far too long, at a point that matches some of them.
    fn run() -> GridRun {
        let setup = Setup::default();
        let axes = vec![
            Axis { kind: AxisKind::Point, values: vec![100.0] },
            Axis { kind: AxisKind::Cut, values: (20..=36).map(f64::from).collect() },
        ];
        let grid = Grid::new(axes, &setup).unwrap();
        let mut run = GridRun::new(grid, held(&setup), &Baseline::new(&setup).resolved).unwrap();
        run.evaluate(usize::MAX);
        run
    }

    fn texts(key: &str, limits: &[Limit]) -> Vec<CellText> {
        let run = run();
        let format = CellFormat::new(key, limits, &Units::ARCHERY);
        run.points().iter().map(|point| format.cell_text(point, &run)).collect()
    }

    #[test]
    fn a_match_is_tinted_the_closer_the_stronger() {
        let texts = texts("match", &[]);
        assert_eq!((texts[0].number.as_str(), texts[0].words.as_str()), ("–", "no match\ntoo short"));
        assert!(texts[0].broken.starts_with("Arrow too short: shortest safe cut "), "{:?}", texts[0]);
        let matched: Vec<_> = texts.iter().filter(|text| text.words == "✓ matched").collect();
        assert!(!matched.is_empty() && matched.iter().all(|text| text.tint >= 3 && text.broken.is_empty()));
        assert!(texts.iter().any(|text| text.words == "weak" && text.tint == 0 && text.number.starts_with('−')));
        assert!(texts.iter().all(|text| text.broken.is_empty() || text.tint == 0), "what is unsafe has no tint");
    }

    #[test]
    fn a_metric_is_tinted_the_more_the_stronger() {
        let texts = texts("totalWeight", &[]);
        let safe: Vec<_> = texts.iter().filter(|text| text.broken.is_empty()).collect();
        assert!(safe.windows(2).all(|pair| pair[0].tint <= pair[1].tint), "{safe:?}");
        assert_eq!(run().points().len(), texts.len());
        assert!(safe.iter().all(|text| text.number.ends_with("\u{a0}gr") && text.words.is_empty()));
        assert_ne!(
            CellFormat::new("totalWeight", &[], &Units::ARCHERY).explanation(),
            CellFormat::new("all", &[], &Units::ARCHERY).explanation()
        );
    }

    #[test]
    fn a_broken_limit_is_said_under_the_rest() {
        let limit = Limit { metric: Metric::TotalWeight, minimum: Some(1e4), maximum: None };
        let texts = texts("all", &[limit]);
        let text =
            texts.iter().find(|text| text.words.starts_with("✓ matched") && text.broken.starts_with("Total")).unwrap();
        let lines: Vec<_> = text.words.lines().collect();
        assert_eq!((lines.len(), lines[5]), (6, "Total weight: low"), "{text:?}");
        assert!(lines[1].ends_with("gr") && lines[2].starts_with("FOC ") && lines[3].ends_with("fps"));
        assert!(text.broken.ends_with(": the limit is at least 10000\u{a0}gr.") && text.tint == 0, "{text:?}");
    }

    #[test]
    fn no_difference_of_draw_weight_has_a_sign_too() {
        assert_eq!(
            [0.0, 2.0, -2.0].map(|pounds| signed_draw_weight(pounds, &Units::ARCHERY)),
            ["+0.0\u{a0}lb", "+2.0\u{a0}lb", "−2.0\u{a0}lb"]
        );
    }
}
