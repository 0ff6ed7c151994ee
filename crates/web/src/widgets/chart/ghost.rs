//! The line of a chart as it was before the last change.

use super::{Chart, Points};

/// The line as it was before the last change.
#[derive(Debug, Default)]
pub(super) struct Ghost {
    points: Points,
    changed_at: f64,
}

/// Changes closer together than this are one, in milliseconds: those of a slider that is dragged.
const ONE_CHANGE_MS: f64 = 1200.0;

impl Ghost {
    /// Follows a chart that takes the place of another. None is shown beside a comparison, or where the chart is of
    /// something else.
    pub(super) fn follow(&mut self, before: Option<&Chart>, chart: &Chart, now: f64) {
        let line = |chart: &Chart| match chart.series.as_slice() {
            [only] => only.points.clone(),
            _ => Points::new(),
        };
        let Some(before) = before.filter(|before| before.shows_what(chart)) else {
            self.points.clear();
            return;
        };
        let (old, new) = (line(before), line(chart));
        if new.is_empty() {
            self.points.clear();
        } else if old != new {
            if self.points.is_empty() || now - self.changed_at > ONE_CHANGE_MS {
                self.points = old;
            }
            self.changed_at = now;
        }
    }

    /// What of it is beside a line: within the line's ends.
    pub(super) fn beside(&self, line: &[(f64, Option<f64>)]) -> Points {
        let (Some(&(from, _)), Some(&(to, _))) = (line.first(), line.last()) else { return Points::new() };
        self.points.iter().copied().filter(|(x, _)| (from..=to).contains(x)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::widgets::chart::{Axis, Series};
    use clothyard_core::{Field, Output, Units};

    fn chart(output: Output, ends: &[f64]) -> Chart {
        let line = |&y: &f64| Series { name: "", dashed: false, points: vec![(0.0, Some(y)), (1.0, Some(y))] };
        Chart {
            title: String::new(),
            takeaway: String::new(),
            x: Axis::of_field(Field::PointMass),
            y: Axis::of_result(output),
            units: Units::ARCHERY,
            series: ends.iter().map(line).collect(),
            now: None,
            reading: Box::new(Chart::at_words),
        }
    }

    #[test]
    fn the_line_of_before_stays_while_a_slider_is_dragged() {
        let of = |y: f64| chart(Output::LaunchSpeed, &[y]);
        let at = |ghost: &Ghost| ghost.points.first().and_then(|&(_, y)| y);
        let mut ghost = Ghost::default();
        ghost.follow(None, &of(1.0), 0.0);
        assert_eq!(at(&ghost), None, "nothing was before");
        ghost.follow(Some(&of(1.0)), &of(2.0), 5000.0);
        ghost.follow(Some(&of(2.0)), &of(3.0), 5100.0);
        ghost.follow(Some(&of(3.0)), &of(3.0), 9000.0);
        assert_eq!(at(&ghost), Some(1.0), "from before the drag, also when nothing changes");
        ghost.follow(Some(&of(3.0)), &of(4.0), 9000.0);
        assert_eq!(at(&ghost), Some(3.0));
        ghost.follow(Some(&of(4.0)), &chart(Output::KineticEnergy, &[4.0]), 9100.0);
        assert_eq!(at(&ghost), None, "of another result there is no before");
        ghost.follow(Some(&of(1.0)), &of(2.0), 20_000.0);
        ghost.follow(Some(&of(2.0)), &chart(Output::LaunchSpeed, &[3.0, 1.0]), 30_000.0);
        assert_eq!(at(&ghost), None, "none beside a comparison");
    }

    #[test]
    fn it_is_cut_to_the_ends_of_the_line() {
        let ghost = Ghost { points: vec![(0.0, Some(1.0)), (1.0, None), (2.0, Some(3.0))], changed_at: 0.0 };
        assert_eq!(ghost.beside(&[(0.5, None), (2.0, None)]), [(1.0, None), (2.0, Some(3.0))]);
        assert_eq!(ghost.beside(&[]), []);
    }
}
