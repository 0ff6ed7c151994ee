//! The table of results: label, quantity, formula, its terms, source and accuracy of each.
//!
//! To add a result, add a row and compute it in `eval/outputs.rs` or `eval/inverse.rs`; the page, the report and the
//! working follow.

use crate::schema::Field;
use crate::units::Quantity;

/// A term of a formula.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Term {
    /// An input.
    Of(Field),
    /// Another result.
    From(Output),
}

/// A result.
#[derive(Debug)]
pub struct OutputSpec {
    /// The result.
    pub output: Output,
    /// Key in a report, with its unit.
    pub key: &'static str,
    /// Label on the page, without unit.
    pub label: &'static str,
    /// Quantity.
    pub quantity: Quantity,
    /// Symbol of each term of its formula.
    pub terms: &'static [(&'static str, Term)],
}

/// What is said of a result; apart from its row, so that only the code that shows it carries it.
#[derive(Clone, Copy, Debug, Default)]
pub struct Explanation {
    /// Formula, in the symbols of the terms.
    pub formula: &'static str,
    /// Source of the formula.
    pub source: &'static str,
    /// How accurate it is.
    pub sure: &'static str,
}

macro_rules! outputs {
    ($($name:ident $key:literal $label:literal $quantity:ident,
        $formula:literal, [$($symbol:literal $term:expr),*], $source:literal, $sure:literal;)*) => {
        /// A result.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        #[repr(u8)]
        #[allow(missing_docs, reason = "each result's row holds its label and formula")]
        pub enum Output { $($name),* }

        /// Number of results.
        pub const OUTPUT_COUNT: usize = [$(Output::$name),*].len();

        /// All results, in the order of the report.
        pub static OUTPUTS: [OutputSpec; OUTPUT_COUNT] = [$(OutputSpec {
            output: Output::$name, key: $key, label: $label, quantity: Quantity::$quantity,
            terms: &[$(($symbol, $term)),*],
        }),*];

        static QUANTITIES: [Quantity; OUTPUT_COUNT] = [$(Quantity::$quantity),*];

        static EXPLANATIONS: [Explanation; OUTPUT_COUNT] =
            [$(Explanation { formula: $formula, source: $source, sure: $sure }),*];
    };
}

impl Output {
    /// The result's row.
    #[must_use]
    #[allow(clippy::indexing_slicing, reason = "the table has a row for every result, in the same order")]
    pub fn row(self) -> &'static OutputSpec {
        &OUTPUTS[self as usize]
    }

    /// Its quantity; apart from its row, as the first screen needs nothing else of it.
    #[must_use]
    pub fn quantity(self) -> Quantity {
        QUANTITIES.get(self as usize).copied().unwrap_or(Quantity::Ratio)
    }

    /// Its formula, source and accuracy.
    #[must_use]
    pub fn explanation(self) -> Explanation {
        EXPLANATIONS.get(self as usize).copied().unwrap_or_default()
    }

    /// The result with this key.
    #[must_use]
    pub fn by_key(key: &str) -> Option<Self> {
        OUTPUTS.iter().find(|row| row.key == key).map(|row| row.output)
    }
}

use Term::{From, Of};

outputs! {
    TotalWeight "totalWeightGr" "Total weight" Mass,
        "m = m_shaft + m_point + m_insert + m_nock + every other part", ["m_shaft" From(Output::ShaftWeight), "m_point" Of(Field::PointMass), "m_insert" Of(Field::InsertMass), "m_nock" Of(Field::NockMass)],
        "NIST SP 811: 7000 grains to the pound", "Parts you have not weighed may be a few grains off.";
    ShaftWeight "shaftWeightGr" "Bare shaft weight" Mass,
        "m_shaft = g · c", ["g" Of(Field::ShaftLinearMass), "c" Of(Field::CutLength)],
        "definition", "Weigh the bare shaft to check.";
    GrainsPerPound "grainsPerPound" "Grains per pound (GPP)" MassPerDraw,
        "m / F", ["m" From(Output::TotalWeight), "F" Of(Field::PeakDrawWeight)],
        "definition", "Accuracy: limited by both scales.";
    ArrowLength "arrowLengthIn" "Arrow length" Length,
        "L = c + n", ["c" Of(Field::CutLength), "n" Of(Field::ThroatToShaft)],
        "AMO/ATA: nock groove to the front end of the shaft, point excluded", "Accuracy: limited by your tape measure.";
    BalancePoint "balancePointIn" "Balance point (from nock groove)" Length,
        "A = (sum of each part's weight times its place) / m", ["m" From(Output::TotalWeight)],
        "center of mass of the parts", "Within about 1/8 in if the parts are weighed. Balance the arrow on an edge to check.";
    FrontOfCentre "frontOfCentrePercent" "FOC" Percent,
        "FOC = 100 (A / L − 1/2)", ["A" From(Output::BalancePoint), "L" From(Output::ArrowLength)],
        "AMO Field Publication FP-3, 2000", "An eighth of an inch of balance point is about half a percent.";
    TrueDraw "trueDrawIn" "True draw" Length,
        "T = D − 1.75 in", ["D" Of(Field::DrawLength)],
        "AMO/ATA draw length: true draw plus 1.75 in", "As accurate as your draw length.";
    Stroke "strokeIn" "Power stroke" Length,
        "S = T − b", ["T" From(Output::TrueDraw), "b" Of(Field::BraceHeight)],
        "definition", "Accuracy: limited by your tape measure.";
    RestPlace "restPlaceIn" "Nock groove to rest at full draw" Length,
        "R = T + offset", ["T" From(Output::TrueDraw), "offset" Of(Field::RestOffset)],
        "definition", "Accuracy: limited by your tape measure.";
    StoredEnergy "storedEnergyFtLb" "Stored energy" Energy,
        "E = F S · area under the draw-force curve", ["F" Of(Field::PeakDrawWeight), "S" From(Output::Stroke)],
        "the trapezoid rule on your readings (Tuijn & Kooi 1992); else closed form of the model curve; recurve inside Tuijn & Kooi, Eur. J. Phys. 13 (1992), Table I; cam shapes from memory",
        "Within about 10% until you measure the draw-force curve.";
    DeliveredEnergy "deliveredEnergyFtLb" "Energy delivered" Energy,
        "E (1 − loss), corrected by every speed read: one least-squares estimate, each weighted by its error", ["E" From(Output::StoredEnergy), "loss" Of(Field::EnergyLoss)],
        "Klopsteg 1943; least squares of the logarithms, with what is usual for the bow type (from memory)", "Percent error about twice that of speed.";
    MovingMass "movingMassGr" "Virtual mass, with string accessories" Mass,
        "K = K_bow + m_nock + m_string / 3, K_bow corrected by every speed read, in the same estimate", ["K_bow" Of(Field::VirtualMass), "m_nock" Of(Field::StringAtNock), "m_string" Of(Field::StringSpread)],
        "Klopsteg 1943; a third of a mass spread evenly along the string (Hickman 1947)", "Known to about 30% until you chronograph arrows of different weights.";
    LaunchSpeed "launchSpeedFps" "Launch speed" Speed,
        "v = √(2 E_d / (m + K))", ["E_d" From(Output::DeliveredEnergy), "m" From(Output::TotalWeight), "K" From(Output::MovingMass)],
        "Klopsteg 1943 (virtual mass)", "See the next row. Best from a chronograph; a rated speed is better than the bow type alone.";
    SpeedSpread "speedSpreadFps" "Speed, plus or minus" Speed,
        "± 2 u v, u the relative error of the estimate at this arrow weight, with those of draw weight, draw length, brace height and let-off", ["v" From(Output::LaunchSpeed)],
        "JCGM 100:2008 (GUM), the covariance of the least squares; errors of the bow type and of readings from memory", "95% range.";
    KineticEnergy "kineticEnergyFtLb" "Kinetic energy" Energy,
        "KE = m v² / 2", ["m" From(Output::TotalWeight), "v" From(Output::LaunchSpeed)],
        "definition; in gr and fps divide by 450 436.68 (NIST SP 811)", "Percent error is twice that of speed.";
    Momentum "momentumSlugFps" "Momentum" Momentum,
        "p = m v", ["m" From(Output::TotalWeight), "v" From(Output::LaunchSpeed)],
        "definition; in gr and fps divide by 225 218.34 (NIST SP 811)", "Percent error is that of speed.";
    Efficiency "efficiencyPercent" "Efficiency" Percent,
        "KE / E", ["KE" From(Output::KineticEnergy), "E" From(Output::StoredEnergy)],
        "definition", "As accurate as the stored energy.";
    PeakAcceleration "peakAcceleration" "Peak acceleration" Acceleration,
        "a_pk = F (1 − loss_ref) / (m + K_ref) · (v / v_ref)²; v_ref the speed that is usual for the bow type; loss_ref, K_ref: 3%, 4.9 g compound; 4%, 5.9 g recurve; 10%, 7.1 g longbow", ["F" Of(Field::PeakDrawWeight), "m" From(Output::TotalWeight), "v" From(Output::LaunchSpeed)],
        "Newton; Klopsteg 1943 (virtual mass); the references are those the targets were calibrated with", "Percent error is twice that of speed.";
    CriticalAcceleration "criticalAcceleration" "Buckling acceleration" Acceleration,
        "a_cr = lowest a with K v = a K_G v; K from the spine, K_G from the masses (m_point and everything behind it), over L, supported at the string and at R", ["spine" Of(Field::StaticSpine), "L" From(Output::ArrowLength), "R" From(Output::RestPlace), "m_point" Of(Field::PointMass)],
        "Euler–Bernoulli beam finite elements; stiffness from ASTM F2031: EI = W s³ / (48 d); checked against Timoshenko & Gere's columns",
        "Calculated to better than 0.01%; the spine of a shaft varies by a few percent.";
    ColumnLoad "columnLoad" "Column load" Ratio,
        "λ = a_pk / a_cr; on a compound times (1 + 0.0033 (80 − q)) (1 + (0.35 − r) / 3), r 0.50, 0.35 or 0.20 by cam", ["a_pk" From(Output::PeakAcceleration), "a_cr" From(Output::CriticalAcceleration), "q" Of(Field::LetOff)],
        "definition: peak acceleration over buckling acceleration; let-off and cam: rule of thumb", "A starting point. Confirm by bare-shaft tuning.";
    TargetLoad "targetLoad" "Target column load" Ratio,
        "that of your reference arrow; else 1.04 release aid, 1.10 fingers and center-cut riser, 1.385 fingers and a riser not cut to center; times 1.08 / 1.04 compound, 1 recurve, 0.90 longbow", [],
        "calibrated on rules of thumb; the last on the AMO wood-arrow rule", "Your own reference arrow is a better target.";
    IdealDrawWeight "idealDrawWeightLb" "Best-match draw weight" DrawWeight,
        "F* = F · target / λ", ["F" Of(Field::PeakDrawWeight), "target" From(Output::TargetLoad), "λ" From(Output::ColumnLoad)],
        "column load grows in proportion to the draw weight", "A starting point: tune from here.";
    SuitsFrom "suitsFromLb" "Match band from" DrawWeight,
        "F* (1 − 1/12)", ["F*" From(Output::IdealDrawWeight)],
        "rule of thumb, 5 lb either way at 60 lb", "The range stated with the match adds one standard error of the speed estimate.";
    SuitsTo "suitsToLb" "Match band up to" DrawWeight,
        "F* (1 + 1/12)", ["F*" From(Output::IdealDrawWeight)],
        "rule of thumb, 5 lb either way at 60 lb", "The range stated with the match adds one standard error of the speed estimate.";
    IdealSpine "idealSpineThousandths" "Ideal spine" StaticSpine,
        "the spine at which λ = target, m and L unchanged", ["target" From(Output::TargetLoad), "m" From(Output::TotalWeight), "L" From(Output::ArrowLength)],
        "column load solved for the spine by bracketing", "The next spine up or down can often be tuned too.";
    NearestStock "nearestStockThousandths" "Closest shaft in your list" StaticSpine,
        "of your list the shaft that costs least at its best cut: pounds off the target (a weak pound counts 1.5) and 1 lb for every inch longer than usual, 3 shorter; a light bow gets its room to grow", ["target" From(Output::TargetLoad)],
        "your list of shafts, each with its own weight, diameter and full length; the costs are a rule of thumb", "As accurate as your list.";
    SpinePounds "spinePoundsLb" "Spine in pounds" DrawWeight,
        "26 / (0.825 · d / 1000), d the static spine", ["d" Of(Field::StaticSpine)],
        "AMO: 26 over the deflection in inches under 2 lb on a 26 in span (memory); 0.825 takes d to that span and weight", "Wood shafts are sold in groups of 5 lb.";
    PointForMatch "pointForMatchGr" "Best-match point weight" Mass,
        "the point weight at which λ = target", ["target" From(Output::TargetLoad)],
        "column load solved for the point weight by bracketing", "A starting point: tune from here.";
    LightestPoint "lightestPointGr" "Lightest point in range" Mass,
        "the point weight at which λ = target · (1 − 1/12), or the lightest that is safe", ["target" From(Output::TargetLoad)],
        "column load solved for the point weight by bracketing", "The limits are approximate.";
    HeaviestPoint "heaviestPointGr" "Heaviest point in range" Mass,
        "the point weight at which λ = target · (1 + 1/12), or the heaviest there is", ["target" From(Output::TargetLoad)],
        "column load solved for the point weight by bracketing", "The limits are approximate.";
    CutForMatch "cutForMatchIn" "Best-match cut length" Length,
        "the cut length at which λ = target", ["target" From(Output::TargetLoad)],
        "column load solved for the cut length by bracketing", "Cut long. You can always trim more.";
    ShortestCut "shortestCutIn" "Shortest cut in range" Length,
        "the cut at which λ = target · (1 − 1/12), or the shortest that is long and heavy enough", ["target" From(Output::TargetLoad)],
        "column load solved for the cut length by bracketing", "The limits are approximate.";
    LongestCut "longestCutIn" "Longest cut in range" Length,
        "the cut at which λ = target · (1 + 1/12), or the longest there is", ["target" From(Output::TargetLoad)],
        "column load solved for the cut length by bracketing", "The limits are approximate.";
    SuggestedLength "suggestedLengthIn" "Usual arrow length" Length,
        "D − 1/2 in with a release aid, D + 1/2 in with fingers, and never less than R + reach", ["D" Of(Field::DrawLength), "R" From(Output::RestPlace)],
        "rule of thumb", "Have someone mark an extra-long arrow while you hold full draw.";
    SuggestedCut "suggestedCutIn" "Usual cut length" Length,
        "c = L − n, rounded up to 1/8 in", ["L" From(Output::SuggestedLength), "n" Of(Field::ThroatToShaft)],
        "AMO/ATA arrow length", "A starting point: the shaft recommended may be cut longer or shorter to match.";
    ShortestSafeLength "shortestSafeLengthIn" "Shortest safe arrow length" Length,
        "R + reach", ["R" From(Output::RestPlace), "reach" Of(Field::ShortestReach)],
        "rule of thumb: the shaft reaches past the rest at full draw", "Leave extra for beginners: draw length increases as form develops, and juniors grow.";
    ShortestSafeCut "shortestSafeCutIn" "Shortest safe cut length" Length,
        "R + reach − n", ["R" From(Output::RestPlace), "reach" Of(Field::ShortestReach), "n" Of(Field::ThroatToShaft)],
        "rule of thumb", "Leave extra for beginners: draw length increases as form develops, and juniors grow.";
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sound() {
        for (place, row) in OUTPUTS.iter().enumerate() {
            assert_eq!(row.output as usize, place);
            assert_eq!(Output::by_key(row.key), Some(row.output), "no other has its key");
            let Explanation { formula, source, sure } = row.output.explanation();
            assert!(!source.is_empty() && sure.ends_with('.'), "{}", row.key);
            for (symbol, _) in row.terms {
                assert!(formula.contains(symbol), "{}: {symbol}", row.key);
            }
        }
    }
}
