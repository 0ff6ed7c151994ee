//! A bow's draw-force curve from a scale and a ruler.

use super::standard_uncertainty;
use crate::error::{Error, Result};
use crate::list::List;
use crate::math::sqrt;
use crate::parameter::Parameter;

/// Maximum number of readings of one curve. More are refused.
pub const MAX_DRAW_READINGS: usize = 64;

/// Minimum number of readings that show a shape.
const MIN_DRAW_READINGS: usize = 3;

/// Readings closer than this, m, count as the same draw: no ruler beside a drawn bow resolves them.
const SAME_PLACE_M: f64 = 1e-4;

/// Height of the valley above its minimum, as a share of the let-off force. The choice is this project's own.
const VALLEY_DEPTH_SHARE: f64 = 0.1;

/// One reading of the scale. Example: see [`MeasuredCurve`].
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct DrawReading {
    /// String to pivot (true draw), m.
    pub draw_m: f64,
    /// Force on the string, N.
    pub force_n: f64,
}

/// A draw-force curve through readings, from brace height to the last of them.
///
/// Between readings `(x, F)`, draw (m) and force (N), the force is linear, for the curve, the shot in time
/// and the stored energy `W` (J) alike, so that the three agree:
///
/// ```text
/// W = sum of (x[i+1] - x[i]) (F[i] + F[i+1]) / 2
/// ```
///
/// The string is at rest at brace height, where the force is 0; that point need not be read. The force
/// between two readings is unknown: [`EnergyUncertainty`] estimates its effect.
///
/// # Examples
/// ```
/// use clothyard_mechanics::{DrawReading, MeasuredCurve};
/// let reading = |draw_m, force_n| DrawReading { draw_m, force_n };
/// // In any order; brace height 0.20 m.
/// let readings = [reading(0.50, 200.0), reading(0.30, 100.0), reading(0.40, 200.0), reading(0.60, 50.0)];
/// let curve = MeasuredCurve::new(&readings, 0.20)?;
/// assert_eq!((curve.readings().len(), curve.readings()[0].draw_m), (5, 0.20)); // the string at rest comes first
/// assert_eq!((curve.peak().draw_m, curve.peak().force_n, curve.full_draw().force_n), (0.40, 200.0, 50.0));
/// assert!((curve.stroke_m() - 0.40).abs() < 1e-15);
/// assert!((curve.force_n(0.35) - 150.0).abs() < 1e-13); // half-way from 100 to 200 N
/// assert!((curve.force_fraction(0.875) - 125.0 / 200.0).abs() < 1e-14); // at 0.55 m
/// // Trapezoids of 10 cm: 5 + 15 + 20 + 12.5 = 52.5 J, of 200 N times 0.4 m.
/// assert!((curve.stored_energy_j() - 52.5).abs() < 1e-13);
/// assert!((curve.energy_fraction() - 52.5 / 80.0).abs() < 1e-14);
/// // Let-off of three quarters; the valley extends from 50 N to a tenth of those 150 N above.
/// assert_eq!((curve.valley_force_n(), curve.let_off()), (50.0, 0.75));
/// assert!((curve.valley_width_m() - 0.10 * 15.0 / 150.0).abs() < 1e-15);
/// assert_eq!(curve.setback_n(), 0.0); // no drop on the way up
/// // For an archer who draws to 0.50 m: 5 + 15 + 20 J.
/// assert!((curve.up_to(0.50)?.stored_energy_j() - 40.0).abs() < 1e-13);
/// # Ok::<(), clothyard_mechanics::Error>(())
/// ```
///
/// # References
/// Tuijn & Kooi, Eur. J. Phys. 13 (1992), who use this rule on their readings; its error: Atkinson, *An
/// Introduction to Numerical Analysis*, section 5.1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredCurve {
    /// In order of draw, no two at the same draw; the first is the string at rest.
    nodes: List<DrawReading, { MAX_DRAW_READINGS + 1 }>,
}

/// Uncertainty of the stored energy: the result of [`MeasuredCurve::energy_uncertainty`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EnergyUncertainty {
    /// Standard uncertainty from the steps of scale and ruler, J.
    pub from_steps_j: f64,
    /// Maximum effect of those steps, every reading half a step off in the same direction, J.
    pub from_steps_at_most_j: f64,
    /// Estimate of the energy that a curved force stores beyond the straight lines, J: the second difference
    /// of each three neighbors taken as the curvature there. Exact for a parabola, and not a bound.
    pub from_spacing_j: f64,
}

impl MeasuredCurve {
    /// The curve through 3 to 64 readings in any order, for a brace height (0 to 0.5 m, string to pivot).
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for the count, the brace height, a draw behind it, a force below 0
    /// or, at brace height, above it, and for a peak or a stroke that no bow has;
    /// [`Error::Repeated`] for two readings within 0.1 mm of draw.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::{Bow, DrawCurve, DrawReading, Error, MeasuredCurve};
    /// let reading = |draw_m, force_n| DrawReading { draw_m, force_n };
    /// let readings = [reading(0.35, 82.0), reading(0.50, 128.0), reading(0.66, 165.0)];
    /// let curve = MeasuredCurve::new(&readings, 0.21)?;
    /// let bow = Bow::new(curve.peak().force_n, curve.stroke_m(), DrawCurve::Measured(curve), 0.006, 0.1)?;
    /// assert!((bow.stored_energy_j() - curve.stored_energy_j()).abs() < 1e-13);
    /// // Which of two at the same draw is right cannot be known.
    /// let twice = [reading(0.35, 82.0), reading(0.50, 128.0), reading(0.50, 165.0)];
    /// assert!(matches!(MeasuredCurve::new(&twice, 0.21), Err(Error::Repeated { value: 0.50, .. })));
    /// # Ok::<(), Error>(())
    /// ```
    #[inline]
    pub fn new(readings: &[DrawReading], brace_height_m: f64) -> Result<Self> {
        let brace_m = Parameter::BraceHeight.check(brace_height_m)?;
        let (least, most) = (MIN_DRAW_READINGS as f64, MAX_DRAW_READINGS as f64);
        Parameter::Readings.check_within(readings.len() as f64, least, most)?;
        let at_rest = DrawReading { draw_m: brace_m, force_n: 0.0 };
        let mut nodes = List::new(at_rest);
        nodes.push(at_rest);
        for reading in readings {
            if is_drawn(*reading, brace_m)? {
                nodes.insert(*reading);
            }
        }
        Self { nodes }.checked()
    }

    /// The same curve for an archer who draws only to `draw_m`, between brace height and the last reading.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for a draw behind brace height or beyond the last reading, where
    /// nothing was measured, and for a peak or a stroke that no bow has.
    #[inline]
    pub fn up_to(&self, draw_m: f64) -> Result<Self> {
        Parameter::DrawPlace.check_within(draw_m, self.at_rest().draw_m, self.full_draw().draw_m)?;
        let end = DrawReading { draw_m, force_n: self.force_n(draw_m) };
        let mut nodes = List::new(self.at_rest());
        for node in self.readings().iter().filter(|node| node.draw_m < draw_m - SAME_PLACE_M) {
            nodes.push(*node);
        }
        nodes.push(end);
        Self { nodes }.checked()
    }

    #[inline]
    fn checked(self) -> Result<Self> {
        for pair in self.readings().windows(2) {
            if let [before, after] = pair
                && after.draw_m - before.draw_m < SAME_PLACE_M
            {
                return Err(Error::Repeated { parameter: Parameter::DrawPlace, value: after.draw_m });
            }
        }
        Parameter::Stroke.check(self.stroke_m())?;
        Parameter::PeakForce.check(self.peak().force_n)?;
        Ok(self)
    }

    /// The readings in order of draw, after the string at rest.
    #[must_use]
    #[inline]
    pub fn readings(&self) -> &[DrawReading] {
        self.nodes.as_slice()
    }

    /// Force (N) at `draw_m`, string to pivot: linear between readings, 0 behind brace height, and constant beyond full
    /// draw.
    #[must_use]
    #[inline]
    pub fn force_n(&self, draw_m: f64) -> f64 {
        let nodes = self.readings();
        let ahead = nodes.partition_point(|node| node.draw_m <= draw_m);
        let behind = ahead.checked_sub(1).and_then(|behind| nodes.get(behind));
        match (behind, nodes.get(ahead)) {
            (Some(a), Some(b)) => a.force_n + (b.force_n - a.force_n) * (draw_m - a.draw_m) / (b.draw_m - a.draw_m),
            (Some(last), None) => last.force_n,
            (None, _) => 0.0,
        }
    }

    /// Force over peak force with the string at the share `drawn` (0 to 1) of the stroke.
    #[must_use]
    pub fn force_fraction(&self, drawn: f64) -> f64 {
        let draw_m =
            if drawn < 1.0 { self.at_rest().draw_m + drawn * self.stroke_m() } else { self.full_draw().draw_m };
        self.force_n(draw_m) / self.peak().force_n
    }

    /// Travel of the string from brace height to the last reading, m.
    #[must_use]
    #[inline]
    pub fn stroke_m(&self) -> f64 {
        self.full_draw().draw_m - self.at_rest().draw_m
    }

    /// The reading of the greatest force; the first of equal ones.
    #[must_use]
    #[inline]
    pub fn peak(&self) -> DrawReading {
        let higher = |a: DrawReading, b: &DrawReading| if b.force_n > a.force_n { *b } else { a };
        self.readings().iter().fold(self.at_rest(), higher)
    }

    /// The last reading; its force is what the archer holds.
    #[must_use]
    #[inline]
    pub fn full_draw(&self) -> DrawReading {
        self.readings().last().copied().unwrap_or(self.at_rest())
    }

    /// The smallest force from the peak on, N: the minimum of the valley. Beyond it a bow may be against its
    /// stops, so the holding force can be greater.
    #[must_use]
    pub fn valley_force_n(&self) -> f64 {
        self.past_peak().iter().map(|node| node.force_n).fold(self.peak().force_n, f64::min)
    }

    /// Share of the peak force by which the force drops in the valley; 0 if it rises to the end.
    #[must_use]
    pub fn let_off(&self) -> f64 {
        1.0 - self.valley_force_n() / self.peak().force_n
    }

    /// Share of the stroke at which the force first reaches a `share` (0 to 1) of its peak.
    #[must_use]
    pub fn first_share_at(&self, share: f64) -> f64 {
        let level = share * self.peak().force_n;
        let rising = pairs(self.readings()).find(|(_, next)| next.force_n >= level);
        let draw_m = rising.map_or(self.full_draw().draw_m, |(before, next)| {
            let needed = (level - before.force_n) / (next.force_n - before.force_n);
            before.draw_m + needed * (next.draw_m - before.draw_m)
        });
        (draw_m - self.at_rest().draw_m) / self.stroke_m()
    }

    /// Width of the valley, m: the draw past the peak over which the force exceeds the valley's minimum by at
    /// most a tenth of the let-off force.
    #[must_use]
    pub fn valley_width_m(&self) -> f64 {
        let floor = self.valley_force_n();
        let level = floor + VALLEY_DEPTH_SHARE * (self.peak().force_n - floor);
        pairs(self.past_peak()).map(|(a, b)| (b.draw_m - a.draw_m) * share_below(level, a.force_n, b.force_n)).sum()
    }

    /// The largest drop of the force before the peak, N.
    ///
    /// More than a few steps of the scale indicates a wrong digit, or an unusual bow.
    #[must_use]
    pub fn setback_n(&self) -> f64 {
        let (mut highest, mut setback) = (0.0_f64, 0.0_f64);
        for node in self.readings().iter().take_while(|node| node.draw_m <= self.peak().draw_m) {
            highest = highest.max(node.force_n);
            setback = setback.max(highest - node.force_n);
        }
        setback
    }

    /// Stored energy, J, by the trapezoid rule.
    #[must_use]
    #[inline]
    pub fn stored_energy_j(&self) -> f64 {
        pairs(self.readings()).map(|(a, b)| 0.5 * (b.draw_m - a.draw_m) * (a.force_n + b.force_n)).sum()
    }

    /// Stored energy over peak force times stroke.
    #[must_use]
    #[inline]
    pub fn energy_fraction(&self) -> f64 {
        self.stored_energy_j() / (self.peak().force_n * self.stroke_m())
    }

    /// Uncertainty of the stored energy, for a ruler with steps of `rule_m` and a scale with steps of
    /// `scale_n`, 0 for none. The ruler measures brace height too.
    ///
    /// # Errors
    /// [`Error::OutOfRange`] for a negative step.
    ///
    /// # Examples
    /// ```
    /// use clothyard_mechanics::{DrawReading, MeasuredCurve};
    /// let reading = |draw_m, force_n| DrawReading { draw_m, force_n };
    /// let readings = [reading(0.30, 100.0), reading(0.40, 200.0), reading(0.50, 200.0), reading(0.60, 50.0)];
    /// let off = MeasuredCurve::new(&readings, 0.20)?.energy_uncertainty(0.0, 2.0)?;
    /// // A newton counts over 10 cm, the last over 5: with half a step of 2 N each, at most 0.35 J.
    /// assert!((off.from_steps_at_most_j - 0.35).abs() < 1e-15);
    /// let squares = 3.0 * 0.10_f64.powi(2) + 0.05_f64.powi(2);
    /// assert!((off.from_steps_j - 2.0 / f64::sqrt(12.0) * squares.sqrt()).abs() < 1e-15); // 0.10 J
    /// # Ok::<(), clothyard_mechanics::Error>(())
    /// ```
    pub fn energy_uncertainty(&self, rule_m: f64, scale_n: f64) -> Result<EnergyUncertainty> {
        let half_rule = 0.5 * Parameter::Resolution.check(rule_m)?;
        let half_scale = 0.5 * Parameter::Resolution.check(scale_n)?;
        let (mut squares, mut sum) = (0.0, 0.0);
        for (index, node) in self.readings().iter().enumerate() {
            let (per_draw, per_force) = self.energy_slopes(index, *node);
            // The force of the string at rest is 0 by definition, not by reading.
            let by_force = if index == 0 { 0.0 } else { per_force * half_scale };
            let by_draw = per_draw.abs() * half_rule;
            squares += by_force * by_force + by_draw * by_draw;
            sum += by_force + by_draw;
        }
        Ok(EnergyUncertainty {
            from_steps_j: standard_uncertainty(2.0 * sqrt(squares)),
            from_steps_at_most_j: sum,
            from_spacing_j: self.energy_between_j(),
        })
    }

    /// Derivative of the stored energy with the draw (J/m) and with the force (J/N) of one node.
    fn energy_slopes(&self, index: usize, node: DrawReading) -> (f64, f64) {
        let nodes = self.readings();
        let before = index.checked_sub(1).and_then(|before| nodes.get(before));
        let after = nodes.get(index + 1);
        let (draw_before, push_before) = before.map_or((node.draw_m, 0.0), |b| (b.draw_m, b.force_n + node.force_n));
        let (draw_after, push_after) = after.map_or((node.draw_m, 0.0), |a| (a.draw_m, a.force_n + node.force_n));
        (0.5 * (push_before - push_after), 0.5 * (draw_after - draw_before))
    }

    /// The trapezoid rule's error, `-h^3 F'' / 12` in each interval, with the second differences
    /// at its two ends averaged for `F''`; an outermost interval has one.
    fn energy_between_j(&self) -> f64 {
        let triples = self.readings().windows(3);
        let last = triples.len().saturating_sub(1);
        let mut energy = 0.0;
        for (index, triple) in triples.enumerate() {
            if let [a, b, c] = triple {
                let (left, right) = (b.draw_m - a.draw_m, c.draw_m - b.draw_m);
                let slopes = ((b.force_n - a.force_n) / left, (c.force_n - b.force_n) / right);
                let curvature = 2.0 * (slopes.1 - slopes.0) / (left + right);
                let share_left = if index == 0 { 1.0 } else { 0.5 };
                let share_right = if index == last { 1.0 } else { 0.5 };
                let cubes = share_left * left * left * left + share_right * right * right * right;
                energy -= curvature * cubes / 12.0;
            }
        }
        energy
    }

    #[inline]
    fn at_rest(&self) -> DrawReading {
        self.readings().first().copied().unwrap_or(DrawReading { draw_m: 0.0, force_n: 0.0 })
    }

    fn past_peak(&self) -> &[DrawReading] {
        let peak = self.peak();
        let before = self.readings().partition_point(|node| node.draw_m < peak.draw_m);
        self.readings().get(before..).unwrap_or_default()
    }
}

/// Checks a reading; whether the string is drawn, not at rest.
#[inline]
fn is_drawn(reading: DrawReading, brace_m: f64) -> Result<bool> {
    let DrawReading { draw_m, force_n } = reading;
    let (_, furthest) = Parameter::DrawPlace.range();
    Parameter::DrawPlace.check_within(draw_m, brace_m - SAME_PLACE_M, furthest)?;
    let drawn = draw_m - brace_m >= SAME_PLACE_M;
    let (weakest, strongest) = Parameter::DrawForce.range();
    Parameter::DrawForce.check_within(force_n, weakest, if drawn { strongest } else { 0.0 })?;
    Ok(drawn)
}

/// Each node with the next.
#[inline]
fn pairs(nodes: &[DrawReading]) -> impl Iterator<Item = (DrawReading, DrawReading)> {
    nodes.iter().copied().zip(nodes.iter().copied().skip(1))
}

/// Share of a straight line from `from` to `to` that is at or below `level`.
fn share_below(level: f64, from: f64, to: f64) -> f64 {
    let (low, high) = if from < to { (from, to) } else { (to, from) };
    if high <= level {
        1.0
    } else if low > level {
        0.0
    } else {
        (level - low) / (high - low)
    }
}

#[cfg(test)]
#[path = "draw_force/tests.rs"]
mod tests;
