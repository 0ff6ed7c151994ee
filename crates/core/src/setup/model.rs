//! The physical model of resolved inputs: the bow in SI, the arrow as a stack of parts.

mod bow;

use crate::schema::{Field, InsertKind, InsertMaterial, NockKind, OwnPart};
use crate::setup::Resolved;
use clothyard_mechanics::beam::BucklingShape;
use clothyard_mechanics::units::{KILOGRAM_PER_GRAIN, METER_PER_INCH};
use clothyard_mechanics::{
    Arrow, Bow, DrawCurve, MAX_PARTS, Material, Part, SpineRig, critical_acceleration, critical_acceleration_near,
    plug_inner_diameter_m, sleeve_outer_diameter_m, tube_stiffness_nm2,
};

pub use bow::{BowEstimate, target_load, usual_curve};
pub(super) use bow::{hung_kg, stored_energy_j};

/// Why a setup has no physical model.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub enum ModelError {
    /// The brace height leaves no power stroke.
    NoStroke {
        /// True draw in inches.
        true_draw_in: f64,
        /// Brace height in inches.
        brace_in: f64,
    },
    /// The shaft's bore is not smaller than its outer diameter.
    BoreTooWide {
        /// Outer diameter in inches.
        outer_in: f64,
        /// Inner diameter in inches.
        bore_in: f64,
    },
    /// The mechanics refused a value.
    Mechanics(clothyard_mechanics::Error),
}

impl From<clothyard_mechanics::Error> for ModelError {
    fn from(error: clothyard_mechanics::Error) -> Self {
        Self::Mechanics(error)
    }
}

/// What the launch speed is computed from, the most accurate last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpeedFrom {
    /// The usual draw-force curve and losses of this kind of bow.
    BowKind,
    /// The measured draw-force curve, and the usual losses.
    DrawForce,
    /// The rated speed.
    RatedSpeed,
    /// Measured speeds.
    Chronograph,
}

impl SpeedFrom {
    /// Key in a report.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::BowKind => "bowKind",
            Self::DrawForce => "drawForce",
            Self::RatedSpeed => "ratedSpeed",
            Self::Chronograph => "chronograph",
        }
    }
}

/// A part of the arrow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartId {
    /// Nock.
    Nock,
    /// Bushing.
    Bushing,
    /// All vanes together.
    Vanes,
    /// Wrap.
    Wrap,
    /// Glue under the vanes.
    RearGlue,
    /// Bare shaft.
    Shaft,
    /// Insert, half-out or outsert.
    Insert,
    /// Collar.
    Collar,
    /// Front sleeve.
    Sleeve,
    /// Glue at the insert.
    FrontGlue,
    /// Point.
    Point,
    /// A part added by the user, by its index.
    Own(u8),
}

impl PartId {
    /// Key in a report.
    #[must_use]
    pub const fn key(self) -> &'static str {
        match self {
            Self::Nock => "nock",
            Self::Bushing => "bushing",
            Self::Vanes => "vanes",
            Self::Wrap => "wrap",
            Self::RearGlue => "rearGlue",
            Self::Shaft => "shaft",
            Self::Insert => "insert",
            Self::Collar => "collar",
            Self::Sleeve => "sleeve",
            Self::FrontGlue => "frontGlue",
            Self::Point => "point",
            Self::Own(_) => "own",
        }
    }
}

/// Bow and arrow in SI, as the mechanics take them.
#[derive(Clone, Debug)]
pub struct PhysicalModel {
    /// The bow, its virtual mass with what hangs on the string.
    pub bow: Bow,
    /// What the bow delivers, and how surely.
    pub estimate: BowEstimate,
    /// Target column load.
    pub target_load: f64,
    /// Rest ahead of the nock groove at full draw.
    pub rest_m: f64,
    /// Arrow length.
    pub length_m: f64,
    shaft_from_m: f64,
    shaft_mass_kg_per_m: f64,
    shaft_stiffness_nm2: f64,
    names: [PartId; MAX_PARTS],
    parts: [Part; MAX_PARTS],
    count: usize,
}

impl PhysicalModel {
    /// Builds bow and arrow from resolved inputs and the user's own parts.
    ///
    /// # Errors
    /// [`ModelError`] if the inputs contradict each other.
    pub fn new(resolved: &Resolved, own_parts: &[OwnPart]) -> Result<Self, ModelError> {
        Self::on_bow(&BowEstimate::new(resolved)?, resolved, own_parts)
    }

    /// The same on a bow that was estimated before, of inputs that differ in nothing but the arrow.
    ///
    /// # Errors
    /// [`ModelError`] where the fields contradict each other.
    pub fn on_bow(&estimate: &BowEstimate, resolved: &Resolved, own_parts: &[OwnPart]) -> Result<Self, ModelError> {
        let (outer_in, bore_in) = (resolved.number(Field::OuterDiameter), resolved.number(Field::Bore));
        if bore_in >= outer_in {
            return Err(ModelError::BoreTooWide { outer_in, bore_in });
        }
        let spine_m = resolved.si(Field::StaticSpine);
        let length_m = resolved.si(Field::CutLength) + resolved.si(Field::ThroatToShaft);
        let mut model = Self {
            bow: estimate.bow,
            estimate,
            target_load: target_load(resolved),
            rest_m: resolved.rest_in() * METER_PER_INCH,
            length_m,
            shaft_from_m: resolved.si(Field::ThroatToShaft),
            shaft_mass_kg_per_m: resolved.si(Field::ShaftLinearMass),
            shaft_stiffness_nm2: SpineRig::ASTM_F2031.bending_stiffness_nm2(spine_m)?,
            names: [PartId::Shaft; MAX_PARTS],
            parts: [Part::point_mass(0.0, 0.0); MAX_PARTS],
            count: 0,
        };
        model.add_rear(resolved);
        model.add_front(resolved)?;
        for (place, own) in (0u8..).zip(own_parts) {
            let part = uniform_part(
                own.mass_gr * KILOGRAM_PER_GRAIN,
                own.center_in * METER_PER_INCH,
                own.length_in * METER_PER_INCH,
            );
            model.add(PartId::Own(place), part);
        }
        Ok(model)
    }

    fn add(&mut self, name: PartId, part: Part) {
        if let (Some(slot), Some(label)) = (self.parts.get_mut(self.count), self.names.get_mut(self.count)) {
            (*slot, *label) = (part, name);
            self.count += 1;
        }
    }

    /// Nock, bushing, wrap, vanes and their glue.
    fn add_rear(&mut self, resolved: &Resolved) {
        let rear = self.shaft_from_m;
        // A plain nock's mass is centered behind the shaft; a lighted nock's battery is in the shaft, so its mass is
        // taken at the shaft's end.
        let nock_at = if resolved.choice::<NockKind>() == NockKind::Lighted { rear } else { rear / 2.0 };
        self.add(PartId::Nock, uniform_part(resolved.si(Field::NockMass), nock_at, rear));
        let bushing = resolved.si(Field::BushingLength);
        self.add(PartId::Bushing, uniform_part(resolved.si(Field::BushingMass), rear + bushing / 2.0, bushing));
        let wrap = resolved.si(Field::WrapLength);
        self.add(PartId::Wrap, uniform_part(resolved.si(Field::WrapMass), rear + wrap / 2.0, wrap));
        let vane = resolved.si(Field::VaneLength);
        let vanes_at = resolved.si(Field::VaneSetBack) + vane / 2.0;
        self.add(
            PartId::Vanes,
            uniform_part(resolved.si(Field::VaneMass) * resolved.number(Field::VaneCount), vanes_at, vane),
        );
        self.add(PartId::RearGlue, uniform_part(resolved.si(Field::RearGlue), vanes_at, vane));
    }

    /// Insert, half-out or outsert, glue, front sleeve, collar and point.
    fn add_front(&mut self, resolved: &Resolved) -> Result<(), ModelError> {
        let end = self.length_m;
        let (inside, ahead) = (resolved.si(Field::InsertInside), resolved.si(Field::InsertAhead));
        let mut insert = uniform_part(resolved.si(Field::InsertMass), end + (ahead - inside) / 2.0, inside + ahead);
        insert.added_stiffness_nm2 = insert_stiffness(resolved, insert.mass_kg, inside + ahead)?;
        self.add(PartId::Insert, insert);
        self.add(PartId::FrontGlue, uniform_part(resolved.si(Field::FrontGlue), end - inside / 2.0, inside));
        let sleeve_length = resolved.si(Field::SleeveLength);
        let mut sleeve = uniform_part(resolved.si(Field::SleeveMass), end - sleeve_length / 2.0, sleeve_length);
        sleeve.added_stiffness_nm2 = outer_stiffness(resolved, Material::Aluminum, sleeve.mass_kg, sleeve_length)?;
        self.add(PartId::Sleeve, sleeve);
        let collar = resolved.si(Field::CollarLength);
        self.add(PartId::Collar, uniform_part(resolved.si(Field::CollarMass), end + ahead + collar / 2.0, collar));
        let point = resolved.si(Field::PointLength);
        self.add(PartId::Point, uniform_part(resolved.si(Field::PointMass), end + ahead + collar + point / 2.0, point));
        Ok(())
    }

    /// Whether the draw-force curve was measured.
    #[must_use]
    pub fn curve_is_measured(&self) -> bool {
        matches!(self.bow.curve, DrawCurve::Measured(_))
    }

    /// The parts other than the shaft.
    pub fn parts(&self) -> impl Iterator<Item = (PartId, &Part)> {
        self.names.iter().copied().zip(&self.parts).take(self.count)
    }

    /// The bare shaft.
    #[must_use]
    pub fn shaft(&self) -> Part {
        let cut = self.length_m - self.shaft_from_m;
        uniform_part(self.shaft_mass_kg_per_m * cut, self.shaft_from_m + cut / 2.0, cut)
    }

    /// Every part with mass, the shaft included, from the rear.
    #[must_use]
    pub fn from_the_rear(&self) -> Vec<(PartId, Part)> {
        let mut list = vec![(PartId::Shaft, self.shaft())];
        for (name, &part) in self.parts().filter(|(_, part)| part.mass_kg > 0.0) {
            let at = list.partition_point(|(_, other)| other.center_m <= part.center_m);
            list.insert(at, (name, part));
        }
        list
    }

    /// The arrow, as the mechanics take it.
    ///
    /// # Errors
    /// [`ModelError::Mechanics`] if a part is out of range.
    pub fn arrow(&self) -> Result<Arrow<'_>, ModelError> {
        let parts = self.parts.get(..self.count).unwrap_or_default();
        Ok(Arrow::new(self.length_m, self.shaft_from_m, self.shaft_mass_kg_per_m, self.shaft_stiffness_nm2, parts)?)
    }

    /// Acceleration at which an arrow of this model would buckle between string and rest, in m/s².
    ///
    /// # Errors
    /// [`ModelError::Mechanics`], among them a shaft that ends at or behind the rest.
    pub fn critical_acceleration(&self, arrow: &Arrow) -> Result<f64, ModelError> {
        Ok(critical_acceleration(arrow, self.rest_m)?)
    }

    /// Column load as a share of its target: 1 is an ideal match, more is weak. For one of many similar arrows: `near` is
    /// the buckling shape of the last one, and becomes that of this one.
    ///
    /// # Errors
    /// As [`PhysicalModel::critical_acceleration`].
    pub fn match_share(&self, near: &mut BucklingShape) -> Result<f64, ModelError> {
        let arrow = self.arrow()?;
        let push = self.estimate.peak_push(arrow.mass_kg())?;
        let critical = critical_acceleration_near(&arrow, self.rest_m, near)?;
        Ok(push / critical * self.estimate.curve_factor() / self.target_load)
    }
}

/// A uniform part about its center that adds no stiffness.
fn uniform_part(mass_kg: f64, center_m: f64, length_m: f64) -> Part {
    Part { from_m: center_m - length_m / 2.0, to_m: center_m + length_m / 2.0, ..Part::point_mass(mass_kg, center_m) }
}

/// A part shorter than this stiffens nothing, m.
const SHORTEST_STIFFENER_M: f64 = 1e-4;

/// Bending stiffness that an insert in the shaft or an outsert over it adds, N m²; its wall follows from mass and
/// length.
fn insert_stiffness(resolved: &Resolved, mass_kg: f64, length_m: f64) -> Result<f64, ModelError> {
    let material: InsertMaterial = resolved.choice();
    if resolved.choice::<InsertKind>() == InsertKind::Outsert {
        return outer_stiffness(resolved, material, mass_kg, length_m);
    }
    if mass_kg <= 0.0 || length_m < SHORTEST_STIFFENER_M {
        return Ok(0.0);
    }
    let outer = resolved.si(Field::Bore);
    let inner = plug_inner_diameter_m(material, mass_kg, length_m, outer)?;
    Ok(tube_stiffness_nm2(material.young_modulus_pa(), outer, inner)?)
}

/// Bending stiffness that a tube over the shaft adds, N m².
fn outer_stiffness(resolved: &Resolved, material: Material, mass_kg: f64, length_m: f64) -> Result<f64, ModelError> {
    if mass_kg <= 0.0 || length_m < SHORTEST_STIFFENER_M {
        return Ok(0.0);
    }
    let inner = resolved.si(Field::OuterDiameter);
    let outer = sleeve_outer_diameter_m(material, mass_kg, length_m, inner)?;
    Ok(tube_stiffness_nm2(material.young_modulus_pa(), outer, inner)?)
}
