//! The table of inputs.
//!
//! To add an input: add a row, its default rule in `setup/resolved.rs` (if it follows others), its use where the row
//! says that it counts, a value in `tests/golden/everything.json`, and run `scripts/write-form`, which writes its
//! markup.
//!
//! Defaults are from memory or common practice unless the row says otherwise.

use crate::schema::{Choice, ChoiceSpec, CountsIn, DefaultRule, Group, Input, Kind, When};
use crate::units::Quantity;
use clothyard_mechanics::PIVOT_TO_DRAW_LENGTH_M;
pub use clothyard_mechanics::flight::Outline as VaneOutline;
use clothyard_mechanics::units::{KILOGRAM_PER_POUND, METER_PER_INCH};
pub use clothyard_mechanics::{BowKind, Cam, Launch, Material as InsertMaterial};

/// Draw length less true draw, in inches (AMO/ATA).
pub const PIVOT_TO_DRAW_LENGTH_IN: f64 = PIVOT_TO_DRAW_LENGTH_M / METER_PER_INCH;

/// Arm span over draw length (common practice, no source).
pub const ARM_SPAN_PER_DRAW: f64 = 2.5;

const fn number(quantity: Quantity, minimum: f64, maximum: f64, step: f64) -> Kind {
    Kind::Number { quantity, minimum, maximum, step, slider: None }
}

const fn slider(quantity: Quantity, minimum: f64, maximum: f64, step: f64, low: f64, high: f64) -> Kind {
    Kind::Number { quantity, minimum, maximum, step, slider: Some((low, high)) }
}

/// Whether these are 0, 1, 2 and so on.
const fn in_order(mut places: &[u8]) -> bool {
    let mut next = 0;
    while let [place, rest @ ..] = places {
        if *place != next {
            return false;
        }
        (places, next) = (rest, next + 1);
    }
    true
}

/// The answers of a choice: a new enum named like the field (`one_of`), or an enum of the mechanics imported under
/// that name (`mechanics`). An answer without a row, or rows in another order, do not compile.
macro_rules! choice {
    (one_of $name:ident { $($answer:ident $key:literal $label:literal),* $(,)? }) => {
        #[doc = concat!("The answers of [`Field::", stringify!($name), "`].")]
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum $name { $(#[doc = concat!($label, ".")] $answer),* }
        choice! { mechanics $name { $($answer $key $label),* } }
    };
    (mechanics $name:ident { $($answer:ident $key:literal $label:literal),* $(,)? }) => {
        impl Choice for $name {
            const FIELD: Field = Field::$name;
            const ALL: &'static [Self] = &[$(Self::$answer),*];
            const FIRST: Self = {
                let [first, ..] = [$(Self::$answer),*];
                first
            };

            fn place(self) -> u8 {
                match self { $(Self::$answer => Self::$answer as u8),* }
            }
        }

        const _: () = assert!(in_order(&[$($name::$answer as u8),*]), "rows in another order than the enum's");
    };
}

/// The condition of a row, or none.
macro_rules! when {
    () => {
        When::Always
    };
    ($when:expr) => {
        $when
    };
}

/// Declares the fields, their rows and the answers of choices in one place, so that each has the others.
macro_rules! inputs {
    ($($field:ident $key:literal $group:ident $folded:literal $label:literal,
        $kind:ident $(($($argument:expr),*))? $({$($answer:ident $answer_key:literal $answer_label:literal),* $(,)?})?,
        $default:expr, $counts_in:ident $(if $when:expr)?, $hint:literal;)*) => {
        /// An input.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        #[repr(u8)]
        #[allow(missing_docs, reason = "each field's row holds its label and hint")]
        pub enum Field { $($field),* }

        $($(choice! { $kind $field { $($answer $answer_key $answer_label),* } })?)*

        /// All inputs, in the order of the page.
        pub static INPUTS: [Input; FIELD_COUNT] = [$(Input {
            field: Field::$field, key: $key, group: Group::$group, folded: $folded, label: $label,
            kind: $($kind($($argument),*))?
                $(Kind::Choice(&[$(ChoiceSpec { key: $answer_key, label: $answer_label }),*]))?,
            default: $default,
            counts_in: CountsIn::$counts_in,
            when: when!($($when)?),
        }),*];

        /// One sentence of help for each field, in a table of its own so that only the code that shows it links it.
        static HINTS: [&str; FIELD_COUNT] = [$($hint),*];

        /// Number of inputs.
        pub const FIELD_COUNT: usize = [$(Field::$field),*].len();

        impl Field {
            /// All fields, in the order of the page.
            pub const ALL: [Self; FIELD_COUNT] = [$(Self::$field),*];
        }
    };
}

impl Field {
    /// The field's row.
    #[must_use]
    #[allow(clippy::indexing_slicing, reason = "the table has a row for every field, in the same order")]
    pub fn input(self) -> &'static Input {
        &INPUTS[self as usize]
    }

    /// One sentence of help.
    #[must_use]
    pub fn hint(self) -> &'static str {
        HINTS.get(self as usize).copied().unwrap_or_default()
    }

    /// Whether results, warnings or the drawing of the page depend on it.
    #[must_use]
    pub fn moves_results(self) -> bool {
        matches!(self.input().counts_in, CountsIn::Outputs | CountsIn::Warnings | CountsIn::Drawing)
    }

    /// The field with this key in a saved setup.
    #[must_use]
    pub fn by_key(key: &str) -> Option<Self> {
        INPUTS.iter().find(|input| input.key == key).map(|input| input.field)
    }
}

/// While a choice has this answer.
macro_rules! chosen {
    ($name:ident::$answer:ident) => {
        When::Chosen(Field::$name, $name::$answer as u8)
    };
}

const USUAL_CURVE_OF_CAMS: When = All(&[chosen!(BowKind::Compound), Not(&DrawForceMeasured)]);
const RELEASE_AID: When = chosen!(Launch::ReleaseAid);
/// Limbs whose weight depends on how far they are drawn, known by their label.
const MARKED_LIMBS: When = All(&[Not(&chosen!(BowKind::Compound)), chosen!(DrawWeightFrom::Label)]);
const OWN_RATING: When = All(&[Given(Field::RatedSpeed), chosen!(RatedUnder::Own)]);
const BROADHEAD: When = Not(&chosen!(PointKind::Field));
/// A half-out, an outsert, or an insert that the user gave a length ahead of the shaft.
const INSERT_STICKS_OUT: When =
    Any(&[chosen!(InsertKind::HalfOut), chosen!(InsertKind::Outsert), Positive(Field::InsertAhead)]);

use DefaultRule::{Absent, Choice as Chosen, Follows, Number};
use Quantity::{
    Altitude, Angle, Count, Distance, DrawWeight, Length, LinearMass, Mass, MassPerDraw, Percent, Pressure, Ratio,
    SmallLength, Speed, StaticSpine, Temperature, WindSpeed,
};
use When::{All, Any, DrawForceMeasured, Given, LightBow, Not, Positive};

inputs! {
    PeakDrawWeight "peakDrawWeightLb" Bow false "Draw weight",
        slider(DrawWeight, 5.0, 150.0, 1.0, 15.0, 85.0), Follows("your draw-force readings, the marked weight, or 50 lb"), Outputs,
        "Compound: peak weight. Recurve or longbow: weight at your draw length. Enter 40@28 for limbs marked 40 lb at 28 in.";
    DrawWeightFrom "drawWeightFrom" Bow false "Draw weight from",
        one_of { Scale "scale" "Bow scale", Label "label" "Limb label" }, Chosen(DrawWeightFrom::Label as u8), Outputs,
        "Actual weight is often a few pounds off the label. Counts as the label until you choose.";
    MarkedWeight "markedWeightLb" Bow true "Marked weight",
        number(DrawWeight, 5.0, 150.0, 1.0), Absent, Outputs if MARKED_LIMBS,
        "Weight on the limb label. The weight on your fingers is estimated from it until you measure.";
    MarkedDraw "markedDrawLengthIn" Bow true "Marked at",
        number(Length, 15.0, 36.0, 0.5), Number(28.0), Outputs if All(&[Given(Field::MarkedWeight), MARKED_LIMBS]),
        "Draw length on the limb label, usually 28 in.";
    DrawLength "drawLengthIn" Bow false "Draw length",
        slider(Length, 15.0, 36.0, 0.25, 22.0, 33.0), Follows("your draw-force readings, arm span divided by 2.5, or 28 in"), Outputs,
        "AMO/ATA draw length: nock groove to the pivot point of the grip at full draw, plus 1 3/4 in.";
    DrawLengthFrom "drawLengthFrom" Bow false "Draw length from",
        one_of { Measured "measured" "Measured", ArmSpan "armSpan" "Arm span" }, Chosen(DrawLengthFrom::Measured as u8), Outputs,
        "Of draw length and arm span the one entered last counts. Arm span gives an estimate until draw length is measured.";
    ArmSpan "armSpanIn" Bow true "Arm span",
        number(Length, 40.0, 100.0, 0.5), Absent, Outputs,
        "Fingertip to fingertip, arms out. Arm span divided by 2.5 estimates draw length (rule of thumb).";
    BowKind "bowKind" Bow false "Bow type",
        mechanics { Compound "compound" "Compound", Recurve "recurve" "Recurve", Longbow "longbow" "Longbow" }, Chosen(BowKind::Compound as u8), Outputs,
        "Sets the draw-force curve and the defaults.";
    Launch "launch" Bow false "Release",
        mechanics {
            ReleaseAid "releaseAid" "Release aid",
            FingersCenterCut "fingersCentreCut" "Fingers, center-cut riser",
            FingersShelf "fingersShelf" "Fingers, not cut to center",
        }, Follows("the bow type"), Outputs,
        "Finger release and a riser not cut to center need a weaker arrow.";
    LetOff "letOffPercent" Bow false "Let-off",
        number(Percent, 0.0, 99.0, 5.0), Number(80.0), Outputs if USUAL_CURVE_OF_CAMS,
        "Percent drop from peak weight to holding weight.";
    Cam "cam" Bow true "Cam",
        mechanics { Soft "soft" "Smooth", Medium "medium" "Medium", Hard "hard" "Aggressive" }, Chosen(Cam::Medium as u8), Outputs if USUAL_CURVE_OF_CAMS,
        "How fast the cam reaches peak weight, and how short its valley is.";
    BraceHeight "braceHeightIn" Bow true "Brace height",
        number(Length, 3.0, 12.0, 0.25), Follows("a draw-force reading of 0 lb, or the bow type"), Outputs,
        "String at rest to the pivot point of the grip.";
    RestOffset "restOffsetIn" Bow true "Rest position",
        number(Length, -8.0, 6.0, 0.25), Number(0.0), Outputs,
        "Arrow rest ahead of the pivot point of the grip; negative if behind.";
    RestHolds "restHoldsPercent" Bow true "Rest support",
        number(Percent, 0.0, 100.0, 5.0), Number(100.0), Shot if RELEASE_AID,
        "Percent of the power stroke. 100% for a fixed rest, less for a drop-away.";
    RestAside "restAsideIn" Bow true "Rest from center",
        number(SmallLength, 0.0, 0.8, 0.02), Follows("the release: 0.08 in, 0.31 in if not cut to center"), Shot if Not(&RELEASE_AID),
        "From the line of the string to the middle of a shaft that touches plunger or shelf.";
    ShortestReach "shortestReachIn" Bow true "Minimum shaft past rest",
        number(Length, 0.0, 6.0, 0.25), Number(1.0), Outputs,
        "At full draw. Leave more for beginners and growing archers.";
    GrowthAllowance "growthAllowanceIn" Bow true "Room to grow",
        number(Length, 0.0, 6.0, 0.5), Number(2.0), Outputs if LightBow,
        "Extra arrow length for a bow under 30 lb or a draw under 25 in: its archer is likely to grow into it.";
    MakersMinimum "makersMinimumGrPerLb" Bow true "Minimum arrow weight",
        number(MassPerDraw, 5.0, 20.0, 0.5), Follows("the bow type: 5 gpp, longbow 7"), Outputs,
        "Grains per pound of draw weight. The figure in your bow's manual counts.";
    RatedSpeed "ratedSpeedFps" Bow true "Rated speed",
        number(Speed, 80.0, 450.0, 5.0), Absent, Outputs,
        "Published speed at the rating below.";
    RatedUnder "ratedUnder" Bow true "Rating",
        one_of {
            FiveGrainsPerPound "fiveGrainsPerPound" "70 lb, 30 in, 350 gr (5 gr per lb)",
            OlderAmo "olderAmo" "60 lb, 30 in, 540 gr (older AMO)",
            Own "own" "Custom",
        }, Chosen(RatedUnder::FiveGrainsPerPound as u8), Outputs if Given(Field::RatedSpeed),
        "Draw weight, draw length and arrow weight of the rated speed (ASTM F1544, AMO).";
    RatingDrawWeight "ratingDrawWeightLb" Bow true "Rating draw weight",
        number(DrawWeight, 10.0, 150.0, 1.0), Follows("the rating chosen"), Outputs if OWN_RATING,
        "Peak draw weight of the rating.";
    RatingDrawLength "ratingDrawLengthIn" Bow true "Rating draw length",
        number(Length, 20.0, 36.0, 0.25), Follows("the rating chosen"), Outputs if OWN_RATING,
        "Draw length of the rating.";
    RatingArrow "ratingArrowGr" Bow true "Rating arrow weight",
        number(Mass, 100.0, 1000.0, 5.0), Follows("the rating chosen"), Outputs if OWN_RATING,
        "Arrow weight of the rating.";
    ChronographSpeed "chronographSpeedFps" Bow true "Chronograph speed",
        number(Speed, 50.0, 450.0, 1.0), Absent, Outputs,
        "Measured with this bow as it is set now. Replaces the rated speed; combined with any chronograph readings under Measurements.";
    ChronographArrow "chronographArrowGr" Bow true "Chronograph arrow",
        number(Mass, 100.0, 1500.0, 1.0), Absent, Outputs if Given(Field::ChronographSpeed),
        "Weight of the arrow you chronographed. Without it the speed is not used.";
    StringAtNock "stringAtNockGr" Bow true "String weight at nock",
        number(Mass, 0.0, 200.0, 1.0), Number(0.0), Outputs,
        "D-loop and nock sets heavier than usual. Counts in full.";
    StringSpread "stringSpreadGr" Bow true "String accessories",
        number(Mass, 0.0, 300.0, 1.0), Number(0.0), Outputs,
        "Peep and silencers. A third of it counts.";
    VirtualMass "virtualMassGr" Bow true "Virtual mass",
        number(Mass, 5.0, 600.0, 5.0), Follows("the bow type; on a longbow the draw weight"), Outputs,
        "Limb and string mass that moves with the arrow, as an equivalent weight (Klopsteg). Taken as known to 10%; readings correct it.";
    EnergyLoss "energyLossPercent" Bow true "Hysteresis loss",
        number(Percent, 0.0, 60.0, 1.0), Follows("the bow type"), Outputs,
        "Draw energy lost to friction and hysteresis.";
    ProvenLoad "provenColumnLoad" Bow true "Reference arrow load",
        number(Ratio, 0.1, 5.0, 0.01), Absent, Outputs,
        "Column load of an arrow that tunes well from your bow. It becomes the target; Measurements calculates it.";

    NockKind "nockKind" Nock false "Nock",
        one_of { Plain "plain" "Press-fit", Lighted "lighted" "Lighted", Pin "pin" "Pin nock" }, Chosen(NockKind::Plain as u8), Outputs,
        "Lighted nocks weigh more; the battery sits in the shaft.";
    NockMass "nockGr" Nock false "Nock weight",
        number(Mass, 0.0, 100.0, 1.0), Follows("the nock type"), Outputs,
        "Nock only, with its light or pin.";
    ThroatToShaft "throatToShaftIn" Nock true "Nock groove to shaft",
        number(SmallLength, 0.0, 2.0, 0.05), Number(0.55), Outputs,
        "From the bottom of the nock groove to the rear end of the shaft.";
    BushingMass "bushingGr" Nock true "Bushing weight",
        number(Mass, 0.0, 100.0, 1.0), Follows("the nock type"), Outputs,
        "In or over the rear end of the shaft.";
    BushingLength "bushingLengthIn" Nock true "Bushing length",
        number(SmallLength, 0.0, 2.0, 0.05), Number(0.5), Outputs if Positive(Field::BushingMass),
        "Depth in the shaft.";

    VaneCount "vaneCount" Vanes false "Vanes",
        number(Count, 0.0, 6.0, 1.0), Number(3.0), Outputs,
        "Number of vanes or feathers.";
    VaneMaterial "vaneMaterial" Vanes false "Vane type",
        one_of { Plastic "plastic" "Plastic vane", Feather "feather" "Feather" }, Follows("the shaft material"), Outputs,
        "Sets the default length and weight. Feathers count with twice the drag of smooth vanes (estimate).";
    VaneMass "vaneGr" Vanes false "Vane weight",
        number(Mass, 0.0, 50.0, 0.5), Follows("the vane type, of a feather its length"), Outputs,
        "Weight of one vane. Weigh several and divide.";
    VaneLength "vaneLengthIn" Vanes true "Vane length",
        number(SmallLength, 0.2, 8.0, 0.25), Follows("the vane type"), Outputs,
        "Along the shaft.";
    VaneHeight "vaneHeightIn" Vanes true "Vane height",
        number(SmallLength, 0.05, 2.0, 0.05), Number(0.5), Drawing,
        "From the shaft surface to the top of the vane.";
    VaneSetBack "vaneSetBackIn" Vanes true "Nock groove to vane",
        number(SmallLength, 0.0, 10.0, 0.125), Number(1.25), Outputs,
        "From the bottom of the nock groove to the rear edge of the vanes.";
    VaneOutline "vaneOutline" Vanes true "Vane shape",
        mechanics {
            Parabola "parabolic" "Parabolic",
            Shield "shield" "Shield cut",
            StraightCut "straight" "Straight cut",
            LowProfile "low" "Low profile",
        }, Chosen(VaneOutline::Shield as u8), Flight,
        "A taller vane set farther back steers more.";
    VaneOffset "vaneOffsetDeg" Vanes true "Vane offset",
        number(Angle, 0.0, 10.0, 0.5), Number(2.0), Warnings,
        "Angle between vane and shaft. Usually 1 to 3 degrees; 0 is straight fletching (rule of thumb).";
    MarginWanted "marginWantedPercent" Vanes true "Target stability margin",
        number(Percent, 0.0, 60.0, 1.0), Number(15.0), Flight,
        "Center of pressure behind balance point, percent of arrow length. 15% is our estimate.";
    WrapMass "wrapGr" Vanes true "Wrap weight",
        number(Mass, 0.0, 50.0, 1.0), Number(0.0), Outputs,
        "Around the rear of the shaft, under the vanes.";
    WrapLength "wrapLengthIn" Vanes true "Wrap length",
        number(Length, 0.5, 12.0, 0.5), Number(4.0), Outputs if Positive(Field::WrapMass),
        "From the rear end of the shaft.";
    RearGlue "rearGlueGr" Vanes true "Fletching glue",
        number(Mass, 0.0, 30.0, 0.5), Number(2.0), Outputs,
        "Weigh before and after fletching.";

    ShaftMaterial "shaftMaterial" Shaft false "Shaft material",
        one_of { Carbon "carbon" "Carbon", Aluminum "aluminum" "Aluminum", Wood "wood" "Wood, solid" }, Follows("the shaft chosen from your list"), Outputs,
        "Wood is solid. An aluminum tube gets its spine and weight from outside diameter and wall.";
    StaticSpine "staticSpineThousandths" Shaft false "Static spine",
        number(StaticSpine, 100.0, 3000.0, 10.0), Follows("the best match in your shaft list, or the aluminum tube"), Outputs,
        "Deflection under 1.94 lb (880 g) on a 28 in span (ASTM F2031). Enter 340 or .340, or wood in pounds: 45# or 45-50#.";
    CutLength "cutLengthIn" Shaft false "Cut length",
        slider(Length, 10.0, 40.0, 0.125, 20.0, 33.0), Follows("the draw length, the rest and what suits the shaft"), Outputs,
        "Bare shaft, end to end.";
    ShaftLinearMass "shaftGrPerIn" Shaft true "Shaft weight per inch",
        number(LinearMass, 1.0, 60.0, 0.1), Follows("the weighed bare shaft, the aluminum tube, or the closest spine in your list"), Outputs,
        "GPI of the bare shaft.";
    BareShaft "bareShaftGr" Shaft true "Bare shaft weight",
        number(Mass, 30.0, 1500.0, 1.0), Absent, Outputs,
        "Weighed at its cut length. Gives the GPI unless you enter that too.";
    ShaftBow "shaftBowIn" Shaft true "Straightness",
        number(SmallLength, 0.0005, 0.05, 0.001), Number(0.003), Shot,
        "Plus or minus, on a spinner. The shot magnifies it. .003 in is a straight shaft (rule of thumb).";
    OuterDiameter "outerDiameterIn" Shaft true "Outside diameter",
        number(SmallLength, 0.1, 0.6, 0.001), Follows("the closest spine in your list, or the inside diameter"), Outputs,
        "Measure with calipers, or enter a fraction such as 5/16, 11/32 or 23/64.";
    Wall "wallIn" Shaft true "Wall thickness",
        number(SmallLength, 0.005, 0.1, 0.001), Absent, Outputs if chosen!(ShaftMaterial::Aluminum),
        "With the outside diameter it gives spine, weight and inside diameter, computed for 7075 aluminum.";
    Bore "boreIn" Shaft true "Inside diameter",
        number(SmallLength, 0.0, 0.5, 0.001), Follows("the shaft chosen from your list, near 0.204 in"), Outputs,
        "ID: 0.246, 0.204 and 0.166 in are common. 0 is solid wood; any other makes it a tube again, chosen from shafts of this ID.";

    InsertKind "insertKind" Front false "Insert type",
        one_of {
            Insert "insert" "Insert",
            HalfOut "halfOut" "Half-out",
            Outsert "outsert" "Outsert",
            GlueIn "glueIn" "None, glue-in point",
            GlueOn "glueOn" "None, glue-on point",
        }, Follows("the shaft material"), Outputs,
        "An insert ends flush with the shaft; a half-out or outsert sticks out. A glue-on point sits on the taper of a wood shaft.";
    InsertMass "insertGr" Front false "Insert weight",
        slider(Mass, 0.0, 250.0, 5.0, 0.0, 150.0), Follows("the insert type"), Outputs,
        "Insert, half-out or outsert only, with any weight screwed into it.";
    InsertInside "insertInsideIn" Front true "Insert depth",
        number(SmallLength, 0.0, 6.0, 0.05), Follows("the insert type"), Outputs,
        "Depth in the shaft; for an outsert, overlap on the shaft.";
    InsertAhead "insertAheadIn" Front true "Insert stick-out",
        number(SmallLength, 0.0, 4.0, 0.05), Follows("the insert type"), Outputs if INSERT_STICKS_OUT,
        "Length ahead of the shaft end.";
    InsertMaterial "insertMaterial" Front true "Insert material",
        mechanics {
            Aluminum "aluminium" "Aluminum",
            Steel "steel" "Steel",
            Titanium "titanium" "Titanium",
            Brass "brass" "Brass",
        }, Chosen(InsertMaterial::Aluminum as u8), Outputs,
        "Sets how much the insert stiffens the shaft end.";
    CollarMass "collarGr" Front true "Collar weight",
        number(Mass, 0.0, 100.0, 1.0), Number(0.0), Outputs,
        "Ring between the shaft end and the point.";
    CollarLength "collarLengthIn" Front true "Collar length",
        number(SmallLength, 0.0, 2.0, 0.05), Number(0.0), Outputs,
        "Length ahead of the shaft end.";
    SleeveMass "sleeveGr" Front true "Footer weight",
        number(Mass, 0.0, 150.0, 1.0), Number(0.0), Outputs,
        "Aluminum tube over the front of the shaft. It stiffens what it covers.";
    SleeveLength "sleeveLengthIn" Front true "Footer length",
        number(SmallLength, 0.1, 8.0, 0.1), Number(1.0), Outputs if Positive(Field::SleeveMass),
        "Back from the front end of the shaft.";
    FrontGlue "frontGlueGr" Front true "Insert glue",
        number(Mass, 0.0, 30.0, 0.5), Number(3.0), Outputs,
        "Weigh before and after gluing the insert.";

    PointMass "pointGr" Point false "Point weight",
        slider(Mass, 10.0, 600.0, 5.0, 50.0, 250.0), Number(100.0), Outputs,
        "Point or broadhead only.";
    PointKind "pointKind" Point false "Point type",
        one_of {
            Field "field" "Field or target point",
            FixedBlade "fixedBlade" "Fixed-blade broadhead",
            FoldingBlade "foldingBlade" "Mechanical broadhead",
        }, Chosen(PointKind::Field as u8), Warnings,
        "Broadheads need more steering from the vanes.";
    PointLength "pointLengthIn" Point true "Point length",
        number(SmallLength, 0.1, 6.0, 0.1), Number(1.2), Outputs,
        "Length ahead of the insert. Balance is taken at its middle.";
    BladeCount "bladeCount" Point true "Blades",
        number(Count, 2.0, 6.0, 1.0), Number(3.0), Drawing if BROADHEAD,
        "Number of blades.";
    CuttingWidth "cuttingWidthIn" Point true "Cutting width",
        number(SmallLength, 0.3, 4.0, 0.125), Follows("the point type"), Drawing if BROADHEAD,
        "Across the blades. For mechanicals, the closed diameter.";
    BladeLength "bladeLengthIn" Point true "Blade length",
        number(SmallLength, 0.2, 4.0, 0.1), Number(1.2), Warnings if BROADHEAD,
        "Along the arrow.";

    Purpose "purpose" Purpose false "Use",
        one_of { Target "target" "Target", ThreeD "threeD" "3-D", Hunting "hunting" "Hunting" }, Chosen(Purpose::Target as u8), Warnings,
        "Sets the usual FOC range only.";

    AirTemperature "airTemperatureF" Air false "Temperature",
        number(Temperature, -40.0, 130.0, 5.0), Follows("the altitude (ISO 2533: 59 °F, 15 °C at sea level)"), Flight,
        "Warm air is thinner: less drag.";
    SiteAltitude "altitudeFt" Air false "Altitude",
        number(Altitude, -1500.0, 20000.0, 500.0), Number(0.0), Flight,
        "Above sea level. Sets the air pressure unless you enter it.";
    StationPressure "stationPressureInHg" Air true "Station pressure",
        number(Pressure, 13.0, 33.0, 0.1), Absent, Flight,
        "Barometer reading not corrected to sea level. Replaces the altitude.";
    Humidity "humidityPercent" Air true "Humidity",
        number(Percent, 0.0, 100.0, 5.0), Number(50.0), Flight,
        "Humid air is slightly lighter. It matters least.";
    Wind "windMph" Air false "Wind",
        number(WindSpeed, 0.0, 60.0, 1.0), Number(0.0), Flight,
        "Steady wind speed along the flight.";
    WindFrom "windFromDeg" Air false "Wind from",
        number(Angle, 0.0, 360.0, 15.0), Number(90.0), Flight if Positive(Field::Wind),
        "0 = headwind, 90 = from the right, 180 = tailwind, 270 = from the left.";
    ShaftFlow "shaftFlow" Air true "Flow over the shaft",
        one_of {
            Laminar "laminar" "Laminar (least drag)",
            Between "between" "By speed and point",
            Turbulent "turbulent" "Turbulent (most drag)",
        }, Chosen(ShaftFlow::Between as u8), Flight,
        "Laminar flow has half the drag. By speed and point: turbulent behind blades, on fast or thick shafts; laminar on slow, thin ones.";
    FarSpeed "downrangeSpeedFps" Air true "Downrange speed",
        number(Speed, 50.0, 450.0, 1.0), Absent, Flight,
        "A downrange chronograph speed replaces the calculated drag.";
    FarDistance "downrangeDistanceYd" Air true "Downrange distance",
        number(Distance, 5.0, 150.0, 5.0), Absent, Flight if Given(Field::FarSpeed),
        "Distance of that chronograph. Without it the speed is not used.";

    SightedAt "sightedAtYd" Aim false "Sighted in at",
        number(Distance, 2.0, 150.0, 5.0), Number(30.0), Flight,
        "Distance at which the arrow hits where you aim.";
    Slope "slopeDeg" Aim false "Shot angle",
        number(Angle, -60.0, 60.0, 5.0), Number(0.0), Flight,
        "Angle to the target. Uphill is positive, downhill negative.";
    Zone "zoneIn" Aim false "Ring or vital zone",
        number(Length, 0.5, 60.0, 1.0), Number(8.0), Flight,
        "Diameter of scoring ring or vital zone. A yardage error may put the arrow half of it high or low.";
    EyeHeight "eyeHeightIn" Aim true "Peep height above arrow",
        number(Length, 0.0, 12.0, 0.25), Number(4.5), Flight,
        "At full draw, nock to peep or eye, square to the arrow.";
    SightRadius "sightRadiusIn" Aim true "Peep to pin",
        number(Length, 10.0, 60.0, 0.5), Number(33.0), Flight,
        "From peep or eye to the pin. Sets the spacing of the sight marks.";
    LaunchHeight "launchHeightIn" Aim true "Release height",
        number(Length, 0.0, 120.0, 1.0), Number(58.0), Flight,
        "Height of the arrow above ground, for maximum range.";

    RuleSpeed "ruleSpeedFps" Rules false "Speed limit",
        number(Speed, 100.0, 450.0, 1.0), Absent, Flight,
        "Highest arrow speed your rule book allows.";
    RuleSpeedTolerance "ruleSpeedTolerancePercent" Rules false "Speed tolerance",
        number(Percent, 0.0, 10.0, 0.5), Number(0.0), Flight if Given(Field::RuleSpeed),
        "Chronograph tolerance in the rule book.";
    RuleDrawWeight "ruleDrawWeightLb" Rules false "Draw weight limit",
        number(DrawWeight, 10.0, 150.0, 1.0), Absent, Flight,
        "Highest peak draw weight your rule book allows.";
    RuleDiameter "ruleDiameterIn" Rules false "Shaft diameter limit",
        number(SmallLength, 0.15, 0.6, 0.001), Absent, Flight,
        "Largest shaft diameter your rule book allows.";
    RuleGrainsPerPound "ruleGrPerLb" Rules false "Minimum GPP",
        number(MassPerDraw, 3.0, 20.0, 0.5), Absent, Flight,
        "Least grains per pound your rule book allows.";

    ArrowsToMake "arrowsToMake" Make false "Arrows to make",
        number(Count, 1.0, 144.0, 1.0), Number(12.0), Production,
        "Number of arrows on the build sheet.";
    SpareParts "spareParts" Make false "Spare sets of parts",
        number(Count, 0.0, 48.0, 1.0), Number(1.0), Production,
        "Parts for this many extra arrows.";
    SetSize "setSize" Make false "Arrows in a set",
        number(Count, 2.0, 144.0, 1.0), Absent, Production,
        "Picked from the batch. Default: a dozen if as many are straight, else 6.";
    WeightWorth "weightWorthGr" Make true "Weight difference",
        number(Mass, 0.1, 50.0, 0.5), Number(3.0), Production,
        "Counts the same as the spine difference beside it.";
    SpineWorth "spineWorthThousandths" Make true "Equals spine difference",
        number(Ratio, 0.5, 100.0, 0.5), Number(5.0), Production,
        "In thousandths of an inch of deflection.";
    HeightWanted "heightWantedIn" Make true "Allowed vertical spread",
        number(Length, 0.1, 24.0, 0.5), Number(2.0), Production,
        "At the sighted-in distance. Sets the weight tolerance of the set.";
    Hand "hand" Make false "Archer",
        one_of { Left "left" "Right-handed", Right "right" "Left-handed" }, Chosen(Hand::Left as u8), Production,
        "A right-handed archer holds the bow in the left hand. Left and right are mirrored for left-handed archers.";

    RuleStep "ruleStepIn" Instruments false "Ruler resolution",
        number(SmallLength, 0.0, 0.5, 0.01), Number(0.0625), Outputs,
        "Smallest division on your ruler or tape; for draw length, arm span and balance point.";
    BowScaleStep "bowScaleStepLb" Instruments false "Bow scale resolution",
        number(DrawWeight, 0.0, 5.0, 0.1), Number(0.5), Outputs,
        "Smallest division of your bow scale.";
    ChronographStep "chronographStepFps" Instruments false "Chronograph resolution",
        number(Speed, 0.0, 10.0, 0.1), Number(1.0), Outputs,
        "Smallest step of your chronograph.";
    GrainScaleStep "grainScaleStepGr" Instruments false "Grain scale resolution",
        number(Mass, 0.1, 20.0, 0.1), Number(1.0), Measurements,
        "Smallest step of your grain scale.";

    FinishedWeight "finishedWeightGr" Finished false "Finished arrow weight",
        number(Mass, 100.0, 1500.0, 1.0), Absent, Measurements,
        "Complete arrow on a grain scale.";
    FinishedBalance "finishedBalanceIn" Finished false "Measured balance point",
        number(Length, 5.0, 40.0, 0.0625), Absent, Measurements,
        "From the bottom of the nock groove to where the arrow balances on an edge.";

    RigSpan "rigSpanIn" Rig false "Support span",
        number(Length, 10.0, 40.0, 0.0625), Number(28.0), Measurements,
        "Between the two supports. 28 in is standard (ASTM F2031).";
    RigWeight "rigWeightLb" Rig false "Test weight",
        number(DrawWeight, 0.2, 10.0, 0.01), Number(0.88 / KILOGRAM_PER_POUND), Measurements,
        "At the center of the span. 880 g (1.94 lb) is standard (ASTM F2031).";
    RigReading "rigReadingIn" Rig false "Deflection",
        number(SmallLength, 0.02, 3.0, 0.001), Absent, Measurements,
        "Under the test weight. Zero the dial before hanging it.";
    DialStep "dialStepIn" Rig true "Dial resolution",
        number(SmallLength, 0.0001, 0.1, 0.0005), Number(0.001), Measurements,
        "Smallest division of the dial.";

    NockThroat "nockThroatIn" Nock false "Nock groove width",
        number(SmallLength, 0.05, 0.25, 0.001), Absent, Measurements,
        "Where the string sits. Measure with calipers or a drill shank as a gauge.";
    ServedString "servedStringIn" Nock false "Serving diameter",
        number(SmallLength, 0.05, 0.25, 0.001), Absent, Measurements,
        "Center serving where the nock sits. Usually 0.105 to 0.125 in (rule of thumb).";
    InsertOuter "insertOuterIn" Fit false "Insert outside diameter",
        number(SmallLength, 0.05, 0.5, 0.001), Absent, Measurements,
        "The part that goes into the shaft.";
    BushingOuter "bushingOuterIn" Fit false "Nock or bushing diameter",
        number(SmallLength, 0.05, 0.5, 0.001), Absent, Measurements,
        "The part that goes into the rear end of the shaft.";
    Clearance "clearanceIn" Fit false "Vane clearance",
        number(SmallLength, 0.1, 4.0, 0.05), Absent, Measurements,
        "From the center of the arrow to the nearest cable, rest or riser the vanes pass.";
}
