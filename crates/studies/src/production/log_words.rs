//! The tuning log in words. Its readings are common practice, no source.

use super::log::{Entry, KEPT, Reads, Shooter, Step, Tear, from_the_last_two};
use clothyard_core::csv::Csv;
use clothyard_core::format::{entered_with_unit, heading, measured, upper_first};
use clothyard_core::schema::List;
use clothyard_core::schema::{Field, Value};
use clothyard_core::units::{Quantity, Units};

impl Entry {
    /// What was shot, in a sentence.
    #[must_use]
    pub fn what(&self, units: &Units) -> String {
        let mut list = Vec::new();
        let sides = [(self.right_in, "right", "left", "no left or right"), (self.up_in, "high", "low", "same height")];
        for (inches, more, less, none) in sides {
            list.extend(inches.map(|inches| match entered_with_unit(Quantity::Length, inches.abs(), units) {
                _ if inches == 0.0 => none.to_owned(),
                size => format!("{size} {}", if inches > 0.0 { more } else { less }),
            }));
        }
        list.extend(self.tear.map(|tear| format!("paper: {}", tear.words())));
        format!("At {}: {}.", entered_with_unit(Quantity::Distance, self.distance_yd, units), list.join(", "))
    }

    /// The setup as it was, in a few words.
    #[must_use]
    pub fn with_what(&self, units: &Units) -> String {
        let names = ["draw weight", "point", "cut", "spine"];
        let said = |((field, number), name): ((Field, Option<f64>), &str)| {
            Some(format!("{name} {}", entered_with_unit(field.input().quantity()?, number?, units)))
        };
        let list: Vec<_> = KEPT.into_iter().zip(self.as_it_was).zip(names).filter_map(said).collect();
        if list.is_empty() { String::new() } else { format!("With {}.", list.join(", ")) }
    }

    /// What the shots suggest, in a sentence. A bare shaft and a tear that contradict each other are pointed out.
    #[must_use]
    pub fn reading(&self, shooter: Shooter) -> String {
        let mut list: Vec<String> = Vec::new();
        let bare = Reads::of(self, shooter);
        list.extend(bare.map(|reads| format!("the bare shaft {}", reads.words(shooter.release_aid))));
        list.extend(self.up_in.filter(|inches| inches.abs() >= self.together_in()).map(|inches| height(inches > 0.0)));
        list.extend(self.tear.map(|tear| tear.reading(shooter)));
        let tear = self.tear.and_then(|tear| tear.reads(shooter.left_handed));
        if matches!((bare, tear), (Some(Reads::Stiff), Some(Reads::Weak)) | (Some(Reads::Weak), Some(Reads::Stiff))) {
            list.push("bare shaft and paper disagree: check for contact and shoot both again".to_owned());
        }
        let words = if list.is_empty() { "nothing yet".to_owned() } else { list.join("; ") };
        format!("Reads: {words}.")
    }
}

fn height(high: bool) -> String {
    let (way, place) = if high { ("high", "low") } else { ("low", "high") };
    format!("it hits {way}: the nocking point may be too {place}")
}

impl Tear {
    /// The side of a tear: a stiff shaft leaves with its tail to the right of a right-handed archer. None for the others.
    const fn reads(self, left_handed: bool) -> Option<Reads> {
        match (self, left_handed) {
            (Self::TailRight, false) | (Self::TailLeft, true) => Some(Reads::Stiff),
            (Self::TailLeft, false) | (Self::TailRight, true) => Some(Reads::Weak),
            _ => None,
        }
    }

    /// What the tear suggests.
    fn reading(self, shooter: Shooter) -> String {
        let sideways = |reads| match (reads, shooter.release_aid) {
            (Reads::Stiff, true) => "paper tear: rest position, cam lean, grip or contact, then stiff",
            (_, true) => "paper tear: rest position, cam lean, grip or contact, then weak",
            (Reads::Stiff, false) => "paper tear: stiff, or contact with the rest",
            (_, false) => "paper tear: weak, or contact with the rest",
        };
        let other = match self {
            Self::TailHigh => "paper tear: nocking point high, or vane contact",
            Self::TailLow => "paper tear: nocking point low",
            Self::BulletHole | Self::TailLeft | Self::TailRight => "bullet hole in paper",
        };
        self.reads(shooter.left_handed).map_or(other, sideways).to_owned()
    }
}

impl Step {
    /// What to change, in a sentence.
    #[must_use]
    pub fn sentence(&self, units: &Units) -> String {
        let weaker = self.pounds > 0.0;
        let (point, cut, draw) = if weaker { ("heavier", "longer", "more") } else { ("lighter", "shorter", "less") };
        let said = |quantity: Quantity, by: f64| measured(quantity, by.abs(), units);
        let mut ways = vec![format!("{} {draw} draw weight", said(Quantity::DrawWeight, self.pounds))];
        ways.extend(self.point_gr.map(|grains| format!("a point {} {point}", said(Quantity::Mass, grains))));
        ways.extend(self.cut_in.map(|inches| format!("a shaft {} {cut}", said(Quantity::Length, inches))));
        let none = match (self.point_gr, self.cut_in) {
            (Some(_), Some(_)) => "",
            (None, Some(_)) => " No safe point weight does it alone.",
            (Some(_), None) => " No safe cut does it alone.",
            (None, None) => " No safe point or cut does it alone.",
        };
        format!("One step {}: {}.{none}", if weaker { "weaker" } else { "stiffer" }, ways.join(", or "))
    }
}

/// What the last two entries say together, or why they say nothing.
#[must_use]
pub fn last_two_sentence(entries: &[Entry], units: &Units) -> String {
    if entries.len() < 2 {
        return "Log two entries that differ in one thing to get a trend.".to_owned();
    }
    let Some((field, value)) = from_the_last_two(entries) else {
        return "No trend. Change one thing between entries: draw weight, point, cut or spine.".to_owned();
    };
    let (input, quantity) = (field.input(), field.input().quantity().unwrap_or(Quantity::Ratio));
    let name = input.label.to_ascii_lowercase();
    if input.check(Value::Number(value)).is_err() {
        return format!("The last two entries differ only in {name}. Their trend does not reach the fletched arrows.");
    }
    format!(
        "The last two entries differ only in {name}. Their trend reaches the fletched arrows at {}. Go there in small steps and shoot each.",
        measured(quantity, value, units)
    )
}

/// The log as a file, in the order it was made.
#[must_use]
pub fn to_csv(entries: &[Entry], shooter: Shooter, units: &Units) -> String {
    let mut csv = Csv::default();
    let columns = List::Tuning.spec().columns;
    columns.iter().for_each(|column| csv.text(&heading(column.label, column.quantity, units)));
    csv.text("Reading");
    csv.end_row();
    for entry in entries {
        let numbers = [Some(entry.distance_yd), entry.right_in, entry.up_in].into_iter().chain(entry.as_it_was);
        for (number, column) in numbers.zip(columns) {
            csv.number(number.map(|number| units.show(column.quantity, number)), 4);
        }
        csv.text(entry.tear.map_or("", Tear::words));
        csv.text(&upper_first(entry.reading(shooter).trim_start_matches("Reads: ")));
        csv.end_row();
    }
    csv.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    const RIGHT: Shooter = Shooter { left_handed: false, release_aid: false };

    fn entry(right_in: f64, up_in: f64, point: f64) -> Entry {
        let as_it_was = [Some(62.0), Some(point), None, None];
        Entry {
            distance_yd: 20.0,
            right_in: Some(right_in),
            up_in: Some(up_in),
            tear: Some(Tear::TailRight),
            as_it_was,
        }
    }

    #[test]
    fn an_entry_is_said_and_read() {
        let entry = entry(-6.0, -4.0, 100.0);
        let units = Units::ARCHERY;
        assert_eq!(entry.what(&units), "At 20\u{a0}yd: 6\u{a0}in left, 4\u{a0}in low, paper: tail right.");
        assert_eq!(entry.with_what(&units), "With draw weight 62\u{a0}lb, point 100\u{a0}gr.");
        let read = entry.reading(RIGHT);
        assert!(
            read.contains(
                "acts stiff, or check rest position and grip; it hits low: the nocking point may be too high; paper tear: stiff, or contact with the rest"
            ),
            "{read}"
        );
        assert!(
            entry
                .reading(Shooter { left_handed: true, ..RIGHT })
                .contains("acts weak, or check rest position and grip; it hits low"),
            "a left hand turns sides about, not heights"
        );
        assert!(!read.contains("disagree"), "{read}");
        let weak = Entry { right_in: Some(6.0), ..entry };
        assert!(
            weak.reading(RIGHT).ends_with("; bare shaft and paper disagree: check for contact and shoot both again.")
        );
        let release = weak.reading(Shooter { release_aid: true, ..RIGHT });
        let first = "Reads: the bare shaft is off to the weak side: check rest position, cam lean and grip, then spine";
        assert!(release.starts_with(first) && release.contains("paper tear: rest position"), "{release}");
        let none = Entry { right_in: None, up_in: None, tear: None, ..entry };
        assert_eq!(none.reading(RIGHT), "Reads: nothing yet.");
        assert!(Entry { right_in: Some(0.0), ..none }.what(&units).contains("no left or right"));
    }

    #[test]
    fn the_last_two_meet_at_zero_or_say_why_not() {
        let units = Units::ARCHERY;
        let two = [entry(-6.0, 0.0, 100.0), entry(-2.0, 0.0, 125.0)];
        assert!(
            last_two_sentence(&two, &units)
                .contains("point weight. Their trend reaches the fletched arrows at 138\u{a0}gr")
        );
        assert!(last_two_sentence(&two[..1], &units).starts_with("Log two entries"));
        assert!(last_two_sentence(&[two[0], two[0]], &units).starts_with("No trend"));
        let far = [entry(-6.0, 0.0, 100.0), entry(-5.99, 0.0, 125.0)];
        assert!(last_two_sentence(&far, &units).contains("Their trend does not reach the fletched arrows."));
    }

    #[test]
    fn a_step_says_what_no_part_can_do() {
        let step = Step { pounds: -2.0, point_gr: Some(-18.2), cut_in: None };
        let said = step.sentence(&Units::ARCHERY);
        assert_eq!(
            said,
            "One step stiffer: 2.0\u{a0}lb less draw weight, or a point 18\u{a0}gr lighter. No safe cut does it alone."
        );
        let said = Step { pounds: 2.0, point_gr: Some(20.0), cut_in: Some(0.5) }.sentence(&Units::metric());
        assert_eq!(
            said,
            "One step weaker: 0.9\u{a0}kg more draw weight, or a point 1.30\u{a0}g heavier, or a shaft 1.3\u{a0}cm longer."
        );
    }

    #[test]
    fn the_file_holds_every_entry() {
        let text = to_csv(&[entry(-6.0, 1.0, 100.0)], RIGHT, &Units::ARCHERY);
        let lines: Vec<_> = text.lines().collect();
        assert!(lines[0].starts_with("\"Distance, yd\",\"Right of the fletched, in\""), "{text}");
        assert!(lines[1].starts_with("20,-6,1,62,100,,,tail right,"), "{text}");
    }
}
