//! The tuning log in words. Its readings are common practice, no source.

use super::log::{Compared, Entry, KEPT, Reads, Shooter, Step, Tear, trend};
use clothyard_core::csv::Csv;
use clothyard_core::format::{entered_with_unit, heading, measured, trimmed, upper_first};
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
        let what = if self.kind == Compared::Broadhead { "Broadhead at" } else { "At" };
        format!("{what} {}: {}.", entered_with_unit(Quantity::Distance, self.distance_yd, units), list.join(", "))
    }

    /// The setup as it was, in a few words.
    #[must_use]
    pub fn with_what(&self, units: &Units) -> String {
        let names = ["draw weight", "point", "cut", "spine"];
        let said = |((field, number), name): ((Field, Option<f64>), &str)| {
            Some(format!("{name} {}", entered_with_unit(field.input().quantity()?, number?, units)))
        };
        let list: Vec<_> = KEPT.into_iter().zip(self.as_it_was).zip(names).filter_map(said).collect();
        let with = if list.is_empty() { String::new() } else { format!("With {}.", list.join(", ")) };
        let day = self.day.map(|day| iso_of_day(day) + ".");
        let shots = self.shots.map(|shots| match shots {
            1.0 => "1 shot of each.".to_owned(),
            shots => format!("{} shots of each.", trimmed(shots, 0)),
        });
        [day, shots, Some(with)].into_iter().flatten().filter(|words| !words.is_empty()).collect::<Vec<_>>().join(" ")
    }

    /// What the shots suggest, in a sentence. A bare shaft and a tear that contradict each other are pointed out.
    #[must_use]
    pub fn reading(&self, shooter: Shooter) -> String {
        let mut list: Vec<String> = Vec::new();
        let bare = Reads::of(self, shooter);
        let (shot, others) = self.kind.words();
        let words = |reads: Reads| match reads {
            Reads::Matched => format!("hits with the {others}"),
            reads => reads.words(shooter.release_aid()).to_owned(),
        };
        list.extend(bare.map(|reads| format!("the {shot} {}", words(reads))));
        list.extend(self.up_in.filter(|inches| inches.abs() >= self.together_in()).map(|inches| height(inches > 0.0)));
        list.extend(self.tear.map(|tear| tear.reading(shooter)));
        let tear = self.tear.and_then(|tear| tear.reads(shooter.left_handed));
        if matches!((bare, tear), (Some(Reads::Stiff), Some(Reads::Weak)) | (Some(Reads::Weak), Some(Reads::Stiff))) {
            list.push(shot.to_owned() + " and paper disagree: check for contact and shoot both again");
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
    pub(super) const fn reads(self, left_handed: bool) -> Option<Reads> {
        match (self, left_handed) {
            (Self::TailRight, false) | (Self::TailLeft, true) => Some(Reads::Stiff),
            (Self::TailLeft, false) | (Self::TailRight, true) => Some(Reads::Weak),
            _ => None,
        }
    }

    /// What the tear suggests.
    fn reading(self, shooter: Shooter) -> String {
        let sideways = |reads| match (reads, shooter.release_aid()) {
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

/// What the entries say together, or why they say nothing.
#[must_use]
pub fn trend_sentence(entries: &[Entry], units: &Units) -> String {
    let Some(last) = entries.last().filter(|_| entries.len() > 1) else {
        return "Log two entries that differ in one thing to get a trend.".to_owned();
    };
    let Some(trend) = trend(entries) else {
        return "No trend. Change one thing between entries: draw weight, point, cut or spine.".to_owned();
    };
    let (input, quantity) = (trend.field.input(), trend.field.input().quantity().unwrap_or(Quantity::Ratio));
    let name = input.label.to_ascii_lowercase();
    let others = if last.kind == Compared::BareShaft { "fletched arrows" } else { "field points" };
    let of = format!("{} entries differ only in {name}.", trend.count);
    if input.check(Value::Number(trend.value)).is_err() {
        return format!("{of} Their trend does not reach the {others}.");
    }
    format!(
        "{of} Their trend reaches the {others} at {}. Go there in small steps and shoot each.",
        measured(quantity, trend.value, units)
    )
}

/// Days from 0000-03-01 to 1970-01-01, and in 400, 100 and 4 years of the Gregorian calendar.
const TO_1970: i64 = 719_468;
const ERA: i64 = 146_097;

/// The date of a day counted from 1970-01-01, as in ISO 8601: years begin in March, so that a leap day ends them.
#[must_use]
pub fn iso_of_day(day: f64) -> String {
    let day = day as i64 + TO_1970;
    let (era, of_era) = (day.div_euclid(ERA), day.rem_euclid(ERA));
    let year = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year + year / 4 - year / 100);
    let month = (5 * of_year + 2) / 153;
    let of_month = of_year - (153 * month + 2) / 5 + 1;
    let (month, next) = if month < 10 { (month + 3, 0) } else { (month - 9, 1) };
    format!("{:04}-{month:02}-{of_month:02}", year + era * 400 + next)
}

/// The day of a date as in ISO 8601, counted from 1970-01-01; none for other text.
#[must_use]
pub fn day_of_iso(date: &str) -> Option<f64> {
    let mut parts = date.splitn(3, '-').map(|part| part.parse::<i64>().ok());
    let (year, month, of_month) = (parts.next()??, parts.next()??, parts.next()??);
    let (year, month) = if month > 2 { (year, month - 3) } else { (year - 1, month + 9) };
    let (era, of_era) = (year.div_euclid(400), year.rem_euclid(400));
    let of_year = (153 * month + 2) / 5 + of_month - 1;
    Some((era * ERA + of_era * 365 + of_era / 4 - of_era / 100 + of_year - TO_1970) as f64)
}

/// The log as a file, in the order it was made.
#[must_use]
pub fn to_csv(entries: &[Entry], shooter: Shooter, units: &Units) -> String {
    let mut csv = Csv::default();
    let columns = List::Tuning.spec().columns;
    let numbers = columns.iter().take(3 + KEPT.len());
    numbers.for_each(|column| csv.text(&heading(column.label, column.quantity, units)));
    ["Tear in paper", "Shots", "Date", "Shot", "Reading"].iter().for_each(|heading| csv.text(heading));
    csv.end_row();
    for entry in entries {
        let numbers = [Some(entry.distance_yd), entry.right_in, entry.up_in].into_iter().chain(entry.as_it_was);
        for (number, column) in numbers.zip(columns) {
            csv.number(number.map(|number| units.show(column.quantity, number)), 4);
        }
        csv.text(entry.tear.map_or("", Tear::words));
        csv.number(entry.shots, 0);
        csv.text(&entry.day.map_or_else(String::new, iso_of_day));
        csv.text(entry.kind.words().0);
        csv.text(&upper_first(entry.reading(shooter).trim_start_matches("Reads: ")));
        csv.end_row();
    }
    csv.finish()
}

#[cfg(test)]
mod tests {
    use super::*;
    use clothyard_core::schema::Launch;

    const RIGHT: Shooter = Shooter { left_handed: false, launch: Launch::FingersCenterCut };

    fn entry(right_in: f64, up_in: f64, point: f64) -> Entry {
        let as_it_was = [Some(62.0), Some(point), None, None];
        Entry {
            right_in: Some(right_in),
            up_in: Some(up_in),
            tear: Some(Tear::TailRight),
            as_it_was,
            ..Entry::at(20.0)
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
        let release = weak.reading(Shooter { launch: Launch::ReleaseAid, ..RIGHT });
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
            trend_sentence(&two, &units)
                .contains("point weight. Their trend reaches the fletched arrows at 138\u{a0}gr")
        );
        assert!(trend_sentence(&two[..1], &units).starts_with("Log two entries"));
        assert!(trend_sentence(&[two[0], two[0]], &units).starts_with("No trend"));
        let far = [entry(-6.0, 0.0, 100.0), entry(-5.99, 0.0, 125.0)];
        assert!(trend_sentence(&far, &units).contains("Their trend does not reach the fletched arrows."));
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
    fn days_are_dates_and_back() {
        for (day, date) in
            [(0.0, "1970-01-01"), (11_016.0, "2000-02-29"), (11_017.0, "2000-03-01"), (20_784.0, "2026-11-27")]
        {
            assert_eq!((iso_of_day(day).as_str(), day_of_iso(date)), (date, Some(day)));
        }
        assert_eq!(day_of_iso("today"), None);
    }

    #[test]
    fn a_broadhead_is_compared_with_field_points() {
        let entry = Entry {
            kind: Compared::Broadhead,
            tear: None,
            shots: Some(3.0),
            day: Some(20_784.0),
            ..entry(-6.0, 0.0, 100.0)
        };
        assert_eq!(entry.what(&Units::ARCHERY), "Broadhead at 20\u{a0}yd: 6\u{a0}in left, same height.");
        assert!(entry.reading(RIGHT).starts_with("Reads: the broadhead acts stiff"));
        assert_eq!(
            entry.with_what(&Units::ARCHERY),
            "2026-11-27. 3 shots of each. With draw weight 62\u{a0}lb, point 100\u{a0}gr."
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
