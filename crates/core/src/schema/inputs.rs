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
const OWN_RATING: When = All(&[Given(Field::RatedSpeed), chosen!(RatedUnder::Own)]);
const BROADHEAD: When = Not(&chosen!(PointKind::Field));
/// A half-out, an outsert, or an insert that the user gave a length ahead of the shaft.
const INSERT_STANDS_OUT: When = Any(&[Not(&chosen!(InsertKind::Insert)), Positive(Field::InsertAhead)]);

use DefaultRule::{Absent, Choice as Chosen, Follows, Number};
use Quantity::{
    Altitude, Angle, Count, Distance, DrawWeight, Length, LinearMass, Mass, MassPerDraw, Percent, Pressure, Ratio,
    SmallLength, Speed, StaticSpine, Temperature, WindSpeed,
};
use When::{All, Any, DrawForceMeasured, Given, Not, Positive};

inputs! {
    PeakDrawWeight "peakDrawWeightLb" Bow false "Peak draw weight",
        slider(DrawWeight, 5.0, 150.0, 1.0, 15.0, 85.0), Follows("your draw-force readings, or 50 lb"), Outputs,
        "The most the bow pulls at your draw, read off a bow scale: a few pounds decide a spine.";
    DrawWeightFrom "drawWeightFrom" Bow false "Read from",
        one_of { Scale "scale" "a bow scale", Label "label" "the limb's label" }, Chosen(DrawWeightFrom::Scale as u8), Outputs,
        "Limbs often pull some pounds more or less than their label says.";
    DrawLength "drawLengthIn" Bow false "Draw length",
        slider(Length, 15.0, 36.0, 0.25, 22.0, 33.0), Follows("your draw-force readings, arm span divided by 2.5, or 28 in"), Outputs,
        "From the nock's throat at full draw to the grip's pivot, plus 1.75 in (the ATA convention).";
    ArmSpan "armSpanIn" Bow true "Arm span",
        number(Length, 40.0, 100.0, 0.5), Absent, Outputs,
        "Fingertip to fingertip; divided by 2.5 it estimates the draw length (common practice).";
    BowKind "bowKind" Bow false "Kind of bow",
        mechanics { Compound "compound" "Compound", Recurve "recurve" "Recurve", Longbow "longbow" "Longbow" }, Chosen(BowKind::Compound as u8), Outputs,
        "Sets the shape of the draw-force curve and what is usual for the rest.";
    Launch "launch" Bow false "Loosed by",
        mechanics {
            ReleaseAid "releaseAid" "Release aid",
            FingersCenterCut "fingersCentreCut" "Fingers, riser cut to centre",
            FingersShelf "fingersShelf" "Fingers, shelf short of centre",
        }, Follows("the kind of bow"), Outputs,
        "How far the arrow has to bend around the bow decides how stiff it must be.";
    LetOff "letOffPercent" Bow false "Let-off",
        number(Percent, 0.0, 99.0, 5.0), Number(80.0), Outputs if USUAL_CURVE_OF_CAMS,
        "How much less a compound holds at full draw than at its peak.";
    Cam "cam" Bow true "Cam",
        mechanics { Soft "soft" "Soft, slow to peak", Medium "medium" "Medium", Hard "hard" "Hard, fast to peak" }, Chosen(Cam::Medium as u8), Outputs if USUAL_CURVE_OF_CAMS,
        "How soon a compound reaches its peak and how short its valley is.";
    BraceHeight "braceHeightIn" Bow true "Brace height",
        number(Length, 3.0, 12.0, 0.25), Follows("a draw-force reading of nought, or the kind of bow"), Outputs,
        "From the string at rest to the grip's pivot, square to the string.";
    RestOffset "restOffsetIn" Bow true "Rest ahead of pivot",
        number(Length, -8.0, 6.0, 0.25), Number(0.0), Outputs,
        "How far the arrow rest stands ahead of the grip's pivot; behind it is negative.";
    RestHolds "restHoldsPercent" Bow true "Rest holds for",
        number(Percent, 0.0, 100.0, 5.0), Number(100.0), Shot,
        "How much of the string's way the rest stays up: 100 for one that stands, less for one that drops away.";
    ShortestReach "shortestReachIn" Bow true "Shaft past the rest, at least",
        number(Length, 0.0, 6.0, 0.25), Number(1.0), Outputs,
        "How far the shaft must reach past the rest at full draw to be safe; beginners want more.";
    MakersMinimum "makersMinimumGrPerLb" Bow true "Lightest arrow the bow allows",
        number(MassPerDraw, 5.0, 20.0, 0.5), Number(5.0), Outputs,
        "What the bow's maker asks for, if more than 5 grains for each pound of peak draw weight.";
    RatedSpeed "ratedSpeedFps" Bow true "Rated speed",
        number(Speed, 80.0, 450.0, 5.0), Absent, Outputs,
        "The speed the bow's maker states, under the conditions chosen below it.";
    RatedUnder "ratedUnder" Bow true "Rated under",
        one_of {
            FiveGrainsPerPound "fiveGrainsPerPound" "70 lb, 30 in, 350 gr (5 gr per lb)",
            OlderAmo "olderAmo" "60 lb, 30 in, 540 gr (older AMO)",
            Own "own" "conditions of your own",
        }, Chosen(RatedUnder::FiveGrainsPerPound as u8), Outputs if Given(Field::RatedSpeed),
        "The draw weight, draw length and arrow the stated speed belongs to (ASTM F1544, AMO).";
    RatingDrawWeight "ratingDrawWeightLb" Bow true "Rating draw weight",
        number(DrawWeight, 10.0, 150.0, 1.0), Follows("the rating chosen"), Outputs if OWN_RATING,
        "Peak draw weight at which the speed was stated.";
    RatingDrawLength "ratingDrawLengthIn" Bow true "Rating draw length",
        number(Length, 20.0, 36.0, 0.25), Follows("the rating chosen"), Outputs if OWN_RATING,
        "Draw length at which the speed was stated.";
    RatingArrow "ratingArrowGr" Bow true "Rating arrow weight",
        number(Mass, 100.0, 1000.0, 5.0), Follows("the rating chosen"), Outputs if OWN_RATING,
        "Weight of the arrow with which the speed was stated.";
    ChronographSpeed "chronographSpeedFps" Bow true "Chronograph speed",
        number(Speed, 50.0, 450.0, 1.0), Absent, Outputs,
        "A speed you measured with this bow as it is set now; it overrules the rated speed, and counts as one more beside the readings on the bench.";
    ChronographArrow "chronographArrowGr" Bow true "Arrow shot over it",
        number(Mass, 100.0, 1500.0, 1.0), Absent, Outputs if Given(Field::ChronographSpeed),
        "Weight of the arrow you measured that speed with; without it the speed is not used.";
    StringAtNock "stringAtNockGr" Bow true "Weight added at the nock",
        number(Mass, 0.0, 200.0, 1.0), Number(0.0), Outputs,
        "Anything heavier than usual tied to the string where the nock sits; it counts in full.";
    StringSpread "stringSpreadGr" Bow true "Weight added along the string",
        number(Mass, 0.0, 300.0, 1.0), Number(0.0), Outputs,
        "Silencers or a peep along the string; a third of it counts.";
    VirtualMass "virtualMassGr" Bow true "Virtual mass of the bow",
        number(Mass, 5.0, 600.0, 5.0), Follows("the kind of bow; on a longbow the draw weight"), Outputs,
        "Mass of limbs and string that moves as if it rode on the nock (Klopsteg). Your value counts as known to 10%; readings correct it.";
    EnergyLoss "energyLossPercent" Bow true "Energy lost in the bow",
        number(Percent, 0.0, 60.0, 1.0), Follows("the kind of bow"), Outputs,
        "Part of the drawn energy that friction and hysteresis keep, apart from the virtual mass.";
    ProvenLoad "provenColumnLoad" Bow true "Load of your proven arrow",
        number(Ratio, 0.1, 5.0, 0.01), Absent, Outputs,
        "The column load of an arrow that tunes well from your bow: it becomes the target. The bench works it out for you.";

    NockKind "nockKind" Nock false "Nock",
        one_of { Plain "plain" "Plain", Lighted "lighted" "Lighted", Pin "pin" "On a pin and bushing" }, Chosen(NockKind::Plain as u8), Outputs,
        "What holds the string. A lighted nock carries its battery inside the shaft.";
    NockMass "nockGr" Nock false "Nock weight",
        number(Mass, 0.0, 100.0, 1.0), Follows("the kind of nock"), Outputs,
        "The nock alone, with its light or pin.";
    ThroatToShaft "throatToShaftIn" Nock true "Throat to shaft",
        number(SmallLength, 0.0, 2.0, 0.05), Number(0.55), Outputs,
        "From the bottom of the nock's groove to the rear end of the shaft.";
    BushingMass "bushingGr" Nock true "Bushing weight",
        number(Mass, 0.0, 100.0, 1.0), Follows("the kind of nock"), Outputs,
        "A bushing inside or over the rear end of the shaft.";
    BushingLength "bushingLengthIn" Nock true "Bushing length",
        number(SmallLength, 0.0, 2.0, 0.05), Number(0.5), Outputs if Positive(Field::BushingMass),
        "How far the bushing reaches into the shaft.";

    VaneCount "vaneCount" Vanes false "Vanes",
        number(Count, 0.0, 6.0, 1.0), Number(3.0), Outputs,
        "How many vanes or feathers the arrow carries.";
    VaneMass "vaneGr" Vanes false "Each vane",
        number(Mass, 0.0, 50.0, 0.5), Number(7.0), Outputs,
        "One vane alone; weigh all and divide.";
    VaneLength "vaneLengthIn" Vanes true "Vane length",
        number(SmallLength, 0.2, 8.0, 0.25), Number(2.0), Outputs,
        "Along the shaft.";
    VaneHeight "vaneHeightIn" Vanes true "Vane height",
        number(SmallLength, 0.05, 2.0, 0.05), Number(0.5), Drawing,
        "From the shaft's surface outward.";
    VaneSetBack "vaneSetBackIn" Vanes true "Throat to vane",
        number(SmallLength, 0.0, 10.0, 0.125), Number(1.25), Outputs,
        "From the bottom of the nock's groove to the rear edge of the vanes.";
    VaneOutline "vaneOutline" Vanes true "Outline of the vanes",
        mechanics {
            Parabola "parabolic" "Parabolic, rounded at the back",
            Shield "shield" "Shield, hollow at the back",
            StraightCut "straight" "Cut straight at the back",
            LowProfile "low" "Long and low",
        }, Chosen(VaneOutline::Shield as u8), Flight,
        "Its shape from the side: where a vane is high and far back it steers most.";
    VaneOffset "vaneOffsetDeg" Vanes true "Vane offset",
        number(Angle, 0.0, 10.0, 0.5), Number(2.0), Warnings,
        "Angle between the vane's base and the shaft; 1 to 3 degrees is usual (common practice).";
    MarginWanted "marginWantedPercent" Vanes true "Static margin wanted",
        number(Percent, 0.0, 60.0, 1.0), Number(15.0), Flight,
        "How far behind the balance point the air should take hold, in hundredths of the arrow's length; a guess of the page's own, no source.";
    WrapMass "wrapGr" Vanes true "Wrap weight",
        number(Mass, 0.0, 50.0, 1.0), Number(0.0), Outputs,
        "A wrap around the rear of the shaft, under the vanes.";
    WrapLength "wrapLengthIn" Vanes true "Wrap length",
        number(Length, 0.5, 12.0, 0.5), Number(4.0), Outputs if Positive(Field::WrapMass),
        "Along the shaft, from its rear end.";
    RearGlue "rearGlueGr" Vanes true "Glue under the vanes",
        number(Mass, 0.0, 30.0, 0.5), Number(2.0), Outputs,
        "Weigh an arrow before and after fletching to know it.";

    StaticSpine "staticSpineThousandths" Shaft false "Static spine",
        number(StaticSpine, 100.0, 3000.0, 10.0), Follows("the shaft in your list that suits the bow best"), Outputs,
        "How far the shaft sags, in thousandths of an inch, with 880 g hung at the middle of a 28 in span (ASTM F2031); type 340 or .340.";
    CutLength "cutLengthIn" Shaft false "Cut length",
        slider(Length, 10.0, 40.0, 0.125, 20.0, 33.0), Follows("the draw length and the rest"), Outputs,
        "The bare shaft from end to end.";
    ShaftLinearMass "shaftGrPerIn" Shaft true "Shaft weight",
        number(LinearMass, 1.0, 60.0, 0.1), Follows("the weighed bare shaft, or the shaft in your list nearest in spine"), Outputs,
        "The bare shaft for each inch of its length.";
    BareShaft "bareShaftGr" Shaft true "Bare shaft, weighed",
        number(Mass, 30.0, 1500.0, 1.0), Absent, Outputs,
        "The bare shaft at its cut length on a grain scale; it gives the weight for its length, unless that is typed too.";
    ShaftBow "shaftBowIn" Shaft true "Bow of the bare shaft",
        number(SmallLength, 0.0005, 0.05, 0.001), Number(0.003), Shot,
        "How far its middle is from straight, on a spinner; the shot magnifies it. 0.003 in is a straight shaft (common practice).";
    OuterDiameter "outerDiameterIn" Shaft true "Outer diameter",
        number(SmallLength, 0.1, 0.6, 0.001), Follows("the shaft in your list nearest in spine"), Outputs,
        "Over the shaft, with a calliper.";
    Bore "boreIn" Shaft true "Inner diameter",
        number(SmallLength, 0.05, 0.5, 0.001), Follows("the shaft chosen from your list, near 0.204 in"), Outputs,
        "The shaft's bore: 0.246, 0.204 and 0.166 in are common. The page proposes shafts of this bore.";

    InsertKind "insertKind" Front false "Point held by",
        one_of { Insert "insert" "Insert", HalfOut "halfOut" "Half-out", Outsert "outsert" "Outsert" }, Chosen(InsertKind::Insert as u8), Outputs,
        "An insert ends flush with the shaft; a half-out or an outsert carries the point ahead of it.";
    InsertMass "insertGr" Front false "Insert weight",
        slider(Mass, 0.0, 250.0, 5.0, 0.0, 150.0), Follows("the kind of insert"), Outputs,
        "Insert, half-out or outsert alone, with any weight screwed into it.";
    InsertInside "insertInsideIn" Front true "Length on the shaft",
        number(SmallLength, 0.0, 6.0, 0.05), Follows("the kind of insert"), Outputs,
        "How far it reaches into the shaft, or back over it.";
    InsertAhead "insertAheadIn" Front true "Length ahead of the shaft",
        number(SmallLength, 0.0, 4.0, 0.05), Follows("the kind of insert"), Outputs if INSERT_STANDS_OUT,
        "How far it carries the point ahead of the shaft's end.";
    InsertMaterial "insertMaterial" Front true "Material",
        mechanics {
            Aluminum "aluminium" "Aluminium",
            Steel "steel" "Steel",
            Titanium "titanium" "Titanium",
            Brass "brass" "Brass",
        }, Chosen(InsertMaterial::Aluminum as u8), Outputs,
        "Sets how much it stiffens the end of the shaft.";
    CollarMass "collarGr" Front true "Collar weight",
        number(Mass, 0.0, 100.0, 1.0), Number(0.0), Outputs,
        "A ring between the shaft's end and the point.";
    CollarLength "collarLengthIn" Front true "Collar length",
        number(SmallLength, 0.0, 2.0, 0.05), Number(0.0), Outputs,
        "How far the collar carries the point ahead of the shaft's end.";
    SleeveMass "sleeveGr" Front true "Front sleeve weight",
        number(Mass, 0.0, 150.0, 1.0), Number(0.0), Outputs,
        "An aluminium tube over the front end of the shaft; it stiffens what it covers.";
    SleeveLength "sleeveLengthIn" Front true "Front sleeve length",
        number(SmallLength, 0.1, 8.0, 0.1), Number(1.0), Outputs if Positive(Field::SleeveMass),
        "Along the shaft, back from its front end.";
    FrontGlue "frontGlueGr" Front true "Glue at the insert",
        number(Mass, 0.0, 30.0, 0.5), Number(3.0), Outputs,
        "Weigh an arrow before and after setting the insert to know it.";

    PointMass "pointGr" Point false "Point weight",
        slider(Mass, 10.0, 600.0, 5.0, 50.0, 250.0), Number(100.0), Outputs,
        "The point or broadhead alone, as it screws or glues on.";
    PointKind "pointKind" Point false "Kind of point",
        one_of {
            Field "field" "Field or target",
            FixedBlade "fixedBlade" "Broadhead, fixed blades",
            FoldingBlade "foldingBlade" "Broadhead, folding blades",
        }, Chosen(PointKind::Field as u8), Warnings,
        "Blades need more vane, and more care.";
    PointLength "pointLengthIn" Point true "Point length",
        number(SmallLength, 0.1, 6.0, 0.1), Number(1.2), Outputs,
        "What stands ahead of the insert; its weight is taken at half of it.";
    BladeCount "bladeCount" Point true "Blades",
        number(Count, 2.0, 6.0, 1.0), Number(3.0), Drawing if BROADHEAD,
        "How many blades the broadhead carries.";
    CuttingWidth "cuttingWidthIn" Point true "Cutting width",
        number(SmallLength, 0.3, 4.0, 0.125), Follows("the kind of point"), Drawing if BROADHEAD,
        "Across the blades; of folding blades, across them while folded.";
    BladeLength "bladeLengthIn" Point true "Blade length",
        number(SmallLength, 0.2, 4.0, 0.1), Number(1.2), Warnings if BROADHEAD,
        "Along the arrow.";

    Purpose "purpose" Purpose false "What the arrow is for",
        one_of { Target "target" "Target", ThreeD "threeD" "3-D", Hunting "hunting" "Hunting" }, Chosen(Purpose::Target as u8), Warnings,
        "Only sets which ranges the page remarks upon; it changes no number.";

    AirTemperature "airTemperatureF" Air false "Temperature",
        number(Temperature, -40.0, 130.0, 5.0), Follows("the altitude (ISO 2533: 59 °F, 15 °C at sea level)"), Flight,
        "Warm air is thinner and slows the arrow less.";
    SiteAltitude "altitudeFt" Air false "Altitude",
        number(Altitude, -1500.0, 20000.0, 500.0), Number(0.0), Flight,
        "Height above the sea; it gives the air's pressure unless that is known.";
    StationPressure "stationPressureInHg" Air true "Pressure where you stand",
        number(Pressure, 13.0, 33.0, 0.1), Absent, Flight,
        "Read off a barometer not corrected to sea level; it overrules the altitude.";
    Humidity "humidityPercent" Air true "Humidity",
        number(Percent, 0.0, 100.0, 5.0), Number(50.0), Flight,
        "Damp air is a little lighter: it matters least of all.";
    Wind "windMph" Air false "Wind",
        number(WindSpeed, 0.0, 60.0, 1.0), Number(0.0), Flight,
        "Its steady speed where the arrow flies.";
    WindFrom "windFromDeg" Air false "Wind from",
        number(Angle, 0.0, 360.0, 15.0), Number(90.0), Flight if Positive(Field::Wind),
        "As on a clock laid before you: 0 from the target, 90 from the right, 180 from behind, 270 from the left.";
    ShaftFlow "shaftFlow" Air true "Flow over the shaft",
        one_of {
            Laminar "laminar" "Laminar, the least drag",
            Between "between" "By speed and point",
            Turbulent "turbulent" "Turbulent, the most drag",
        }, Chosen(ShaftFlow::Between as u8), Flight,
        "Laminar flow has half the drag. By speed and point: turbulent behind blades, on fast or thick shafts; laminar on slow, thin ones.";
    FarSpeed "downrangeSpeedFps" Air true "Speed measured downrange",
        number(Speed, 50.0, 450.0, 1.0), Absent, Flight,
        "A chronograph reading some way off overrules the reckoned drag.";
    FarDistance "downrangeDistanceYd" Air true "Measured at",
        number(Distance, 5.0, 150.0, 5.0), Absent, Flight if Given(Field::FarSpeed),
        "How far from the launch that speed was measured; without it the speed is not used.";

    SightedAt "sightedAtYd" Aim false "Sight set for",
        number(Distance, 2.0, 150.0, 5.0), Number(30.0), Flight,
        "The distance at which the arrow strikes where you aim.";
    Slope "slopeDeg" Aim false "Uphill",
        number(Angle, -60.0, 60.0, 5.0), Number(0.0), Flight,
        "Angle of the line to the target: uphill is positive, downhill negative.";
    Zone "zoneIn" Aim false "Size of the ring or zone",
        number(Length, 0.5, 60.0, 1.0), Number(8.0), Flight,
        "Its diameter; a misjudged distance may carry the arrow half of it high or low.";
    EyeHeight "eyeHeightIn" Aim true "Eye above the arrow",
        number(Length, 0.0, 12.0, 0.25), Number(4.5), Flight,
        "At full draw, from the nock up to the peep or the eye, square to the arrow.";
    SightRadius "sightRadiusIn" Aim true "Eye to sight pin",
        number(Length, 10.0, 60.0, 0.5), Number(33.0), Flight,
        "From the peep or the eye forward to the pin; it sets how far apart the sight marks lie.";
    LaunchHeight "launchHeightIn" Aim true "Arrow above the ground",
        number(Length, 0.0, 120.0, 1.0), Number(58.0), Flight,
        "Height of the arrow at the loose, for how far it can fly.";

    RuleSpeed "ruleSpeedFps" Rules false "Speed allowed",
        number(Speed, 100.0, 450.0, 1.0), Absent, Flight,
        "The highest arrow speed your rule book allows.";
    RuleSpeedTolerance "ruleSpeedTolerancePercent" Rules false "Tolerance on it",
        number(Percent, 0.0, 10.0, 0.5), Number(0.0), Flight if Given(Field::RuleSpeed),
        "What the rule book adds for the chronograph.";
    RuleDrawWeight "ruleDrawWeightLb" Rules false "Draw weight allowed",
        number(DrawWeight, 10.0, 150.0, 1.0), Absent, Flight,
        "The highest peak draw weight your rule book allows.";
    RuleDiameter "ruleDiameterIn" Rules false "Shaft diameter allowed",
        number(SmallLength, 0.15, 0.6, 0.001), Absent, Flight,
        "The thickest shaft your rule book allows.";
    RuleGrainsPerPound "ruleGrPerLb" Rules false "Least arrow weight",
        number(MassPerDraw, 3.0, 20.0, 0.5), Absent, Flight,
        "The lightest arrow your rule book allows for each pound of draw weight.";

    ArrowsToMake "arrowsToMake" Make false "Arrows to make",
        number(Count, 1.0, 144.0, 1.0), Number(12.0), Production,
        "How many the build sheet is for.";
    SpareParts "spareParts" Make false "Spare parts for",
        number(Count, 0.0, 48.0, 1.0), Number(1.0), Production,
        "For how many more arrows to have parts.";
    SetSize "setSize" Make false "Arrows that belong together",
        number(Count, 2.0, 144.0, 1.0), Number(6.0), Production,
        "How many alike the page picks out of the batch.";
    WeightWorth "weightWorthGr" Make true "This much weight",
        number(Mass, 0.1, 50.0, 0.5), Number(3.0), Production,
        "So much spread of weight counts as much as the spread of spine beside it.";
    SpineWorth "spineWorthThousandths" Make true "counts as this much spine",
        number(Ratio, 0.5, 100.0, 0.5), Number(5.0), Production,
        "In thousandths of an inch of deflection.";
    HeightWanted "heightWantedIn" Make true "Spread in height to stay within",
        number(Length, 0.1, 24.0, 0.5), Number(2.0), Production,
        "At the distance the sight is set for; the page says what spread of weight keeps to it.";
    Hand "hand" Make false "Bow held in",
        one_of { Left "left" "the left hand", Right "right" "the right hand" }, Chosen(Hand::Left as u8), Production,
        "A right-handed archer holds the bow in the left hand; what a bare shaft says turns about with it.";

    RuleStep "ruleStepIn" Instruments false "Steps of your rule",
        number(SmallLength, 0.0, 0.5, 0.01), Number(0.0625), Outputs,
        "The least your rule or tape tells apart; for draw, span and balance point.";
    BowScaleStep "bowScaleStepLb" Instruments false "Steps of your bow scale",
        number(DrawWeight, 0.0, 5.0, 0.1), Number(0.5), Outputs,
        "The least your bow scale tells apart.";
    ChronographStep "chronographStepFps" Instruments false "Steps of your chronograph",
        number(Speed, 0.0, 10.0, 0.1), Number(1.0), Outputs,
        "The least your chronograph tells apart.";
    GrainScaleStep "grainScaleStepGr" Instruments false "Steps of your grain scale",
        number(Mass, 0.1, 20.0, 0.1), Number(1.0), Measurements,
        "The least your grain scale tells apart.";

    FinishedWeight "finishedWeightGr" Finished false "Finished arrow, weighed",
        number(Mass, 100.0, 1500.0, 1.0), Absent, Measurements,
        "The arrow as it is shot, on a grain scale.";
    FinishedBalance "finishedBalanceIn" Finished false "Balance point, measured",
        number(Length, 5.0, 40.0, 0.0625), Absent, Measurements,
        "From the bottom of the nock's groove to where the arrow lies level on an edge.";

    RigSpan "rigSpanIn" Rig false "Span of the rig",
        number(Length, 10.0, 40.0, 0.0625), Number(28.0), Measurements,
        "Between the two supports; 28 in is the standard (ASTM F2031).";
    RigWeight "rigWeightLb" Rig false "Weight hung on it",
        number(DrawWeight, 0.2, 10.0, 0.01), Number(0.88 / KILOGRAM_PER_POUND), Measurements,
        "At the middle of the span; 880 g, or 1.94 lb, is the standard (ASTM F2031).";
    RigReading "rigReadingIn" Rig false "Sag read off the dial",
        number(SmallLength, 0.02, 3.0, 0.001), Absent, Measurements,
        "How far the bare shaft sags under that weight; set the dial to nought without it.";
    DialStep "dialStepIn" Rig true "Steps of the dial",
        number(SmallLength, 0.0001, 0.1, 0.0005), Number(0.001), Measurements,
        "The least the dial tells apart.";

    NockThroat "nockThroatIn" Fit false "Width of the nock's throat",
        number(SmallLength, 0.05, 0.25, 0.001), Absent, Measurements,
        "Across the groove where the string lies, with a calliper or a drill's shank as a gauge.";
    ServedString "servedStringIn" Fit false "Served string",
        number(SmallLength, 0.05, 0.25, 0.001), Absent, Measurements,
        "Over the centre serving where the nock sits; servings run from about 0.105 to 0.125 in (common practice).";
    InsertOuter "insertOuterIn" Fit false "Insert, outer diameter",
        number(SmallLength, 0.05, 0.5, 0.001), Absent, Measurements,
        "Over the part that goes into the shaft.";
    BushingOuter "bushingOuterIn" Fit false "Nock or bushing, outer diameter",
        number(SmallLength, 0.05, 0.5, 0.001), Absent, Measurements,
        "Over the part that goes into the shaft's rear end.";
    Clearance "clearanceIn" Fit false "Room beside the arrow",
        number(SmallLength, 0.1, 4.0, 0.05), Absent, Measurements,
        "From the arrow's centre to the nearest cable, rest or riser that the vanes pass.";
}
