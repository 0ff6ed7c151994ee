//! The order in which an arrow and a bow are tuned, and the first step after a shot. All of it is common practice, no
//! source.

use super::log::{Entry, Reads, Shooter, Step, Tear};
use clothyard_core::Evaluation;
use clothyard_core::format::measured;
use clothyard_core::schema::{BowKind, Launch};
use clothyard_core::units::{Quantity, Units};

/// A step of the guide: what is set, and what to look for.
pub type GuideStep = (&'static str, &'static str);

/// The steps for this bow and release, the first to be done first (common practice, no source).
#[must_use]
pub fn steps(all: &Evaluation) -> Vec<GuideStep> {
    let (launch, compound) = (all.resolved.choice::<Launch>(), all.resolved.choice::<BowKind>() == BowKind::Compound);
    let rest = match launch {
        Launch::ReleaseAid => {
            "From behind: string, arrow and riser center in line. From the side: arrow square to the string."
        }
        Launch::FingersCenterCut => {
            "From behind: point just outside the string line, away from the riser. Arrow square to the string."
        }
        Launch::FingersShelf => "The shelf sets the side. Look at wear on it: an even line shows clean flight.",
    };
    let mut list = vec![
        ("Rest and center shot", rest),
        (
            "Nocking point",
            "Bare shaft low: nocking point too high. Bare shaft high: too low. Correct this before left and right.",
        ),
    ];
    list.extend(match launch {
        Launch::ReleaseAid => Some((
            "Rest timing and contact",
            "Powder the vanes and shoot: no trace on rest, cable or riser. The rest drops clear of the vanes.",
        )),
        Launch::FingersCenterCut => Some((
            "Plunger or button",
            "Start at medium spring tension. It is the fine setting for left and right, after the spine is close.",
        )),
        Launch::FingersShelf => None,
    });
    list.push(if compound {
        (
            "Brace height and cams",
            "Brace height and axle to axle as the maker states. Both cams reach their stops together.",
        )
    } else {
        (
            "Brace height",
            "Within the maker's range, the height with the quietest shot. Then check the nocking point again.",
        )
    });
    list.push((
        "Point, cut, weight",
        "Only now change the arrow: point weight, then cut length, then draw weight. One thing at a time; log each.",
    ));
    list
}

/// What to change first after a shot, and by how much. `step` makes the arrow act weaker, `stiffer` the other way about.
#[must_use]
pub fn first_step(entry: &Entry, shooter: Shooter, [weaker, stiffer]: [&Step; 2], units: &Units) -> String {
    if let Some(high) = entry.height_off() {
        let way = if high { "Raise" } else { "Lower" };
        return format!(
            "First step: {} the nocking point 1/16 in (1.5 mm), then shoot again.",
            way.to_ascii_lowercase()
        );
    }
    let Some(reads) = Reads::of(entry, shooter).or_else(|| entry.tear?.reads(shooter.left_handed)) else {
        return String::new();
    };
    match (reads, shooter.launch) {
        (Reads::Matched, _) => "Nothing to change. Shoot from farther back to see more.".to_owned(),
        (_, Launch::ReleaseAid) if entry.right_in.is_none() => {
            "First step: check rest position and vane contact, then shoot again. Change the arrow last.".to_owned()
        }
        (_, Launch::ReleaseAid) => {
            let right = (reads == Reads::Stiff) != shooter.left_handed;
            let side = if right { "right" } else { "left" };
            format!(
                "First step: move the rest 1/32 in (0.8 mm) to the {side}, then shoot again. Change the arrow last."
            )
        }
        (Reads::Stiff, launch) => arrow_step(weaker, launch, "softer", units),
        (Reads::Weak, launch) => arrow_step(stiffer, launch, "firmer", units),
    }
}

fn arrow_step(step: &Step, launch: Launch, plunger: &str, units: &Units) -> String {
    let mut ways = Vec::new();
    if launch == Launch::FingersCenterCut {
        ways.push(format!("turn the plunger spring half a turn {plunger}"));
    }
    ways.extend(step.point_gr.map(|grains| {
        let way = if grains > 0.0 { "heavier" } else { "lighter" };
        format!("fit a point {} {way}", measured(Quantity::Mass, grains.abs(), units))
    }));
    ways.push(format!(
        "set {} {} draw weight",
        measured(Quantity::DrawWeight, step.pounds.abs(), units),
        if step.pounds > 0.0 { "more" } else { "less" }
    ));
    format!("First step: {}. Then shoot again.", ways.join(", or "))
}

impl Entry {
    /// Whether the shots are off in height, and to the high side: by the impact, else by the tear.
    fn height_off(&self) -> Option<bool> {
        let by_tear = match self.tear {
            // The tail is high where the nocking point is: as a low impact.
            Some(Tear::TailHigh) => Some(false),
            Some(Tear::TailLow) => Some(true),
            _ => None,
        };
        self.up_in.filter(|inches| inches.abs() >= self.together_in()).map(|inches| inches > 0.0).or(by_tear)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::setup::samples;

    const WEAKER: Step = Step { pounds: 2.0, point_gr: Some(13.0), cut_in: None };
    const STIFFER: Step = Step { pounds: -2.0, point_gr: Some(-12.0), cut_in: None };

    fn said(right_in: f64, up_in: f64, launch: Launch, left_handed: bool) -> String {
        let entry = Entry { right_in: Some(right_in), up_in: Some(up_in), ..Entry::at(20.0) };
        first_step(&entry, Shooter { left_handed, launch }, [&WEAKER, &STIFFER], &Units::ARCHERY)
    }

    #[test]
    fn the_first_step_is_the_first_of_the_guide_that_the_shot_asks_for() {
        use Launch::{FingersCenterCut, FingersShelf, ReleaseAid};
        assert!(said(-6.0, -6.0, FingersShelf, false).starts_with("First step: lower the nocking point"));
        assert!(said(-6.0, 0.0, ReleaseAid, false).contains("rest 1/32 in (0.8 mm) to the right"));
        assert!(said(-6.0, 0.0, ReleaseAid, true).contains("to the right"), "toward the fletched for either hand");
        assert!(said(6.0, 0.0, ReleaseAid, true).contains("to the left"));
        let stiff = said(-6.0, 0.0, FingersCenterCut, false);
        assert!(
            stiff.contains("half a turn softer, or fit a point 13\u{a0}gr heavier, or set 2.0\u{a0}lb more"),
            "{stiff}"
        );
        let weak = said(6.0, 0.0, FingersShelf, false);
        assert!(!weak.contains("plunger") && weak.contains("12\u{a0}gr lighter, or set 2.0\u{a0}lb less"), "{weak}");
        assert!(said(1.0, 1.0, ReleaseAid, false).starts_with("Nothing to change"));
    }

    #[test]
    fn the_guide_follows_bow_and_release() {
        let titles = |key: &str| {
            let sample = samples::all().into_iter().find(|sample| sample.key == key).unwrap();
            steps(&Evaluation::of(&sample.setup)).into_iter().map(|step| step.0).collect::<Vec<_>>()
        };
        let compound = titles("threeD");
        assert_eq!((compound[2], compound[3], compound.len()), ("Rest timing and contact", "Brace height and cams", 5));
        for sample in samples::all() {
            let list = titles(sample.key);
            assert_eq!((list[0], list[1]), ("Rest and center shot", "Nocking point"));
            assert_eq!(*list.last().unwrap(), "Point, cut, weight");
        }
    }
}
