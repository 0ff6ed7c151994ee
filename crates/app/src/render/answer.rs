//! The answer of the first screen: what to order, how it matches, the worst that is to be said of it.

use crate::state::App;
use clothyard_core::drawing::match_bar::Tape;
use clothyard_core::eval::{Headline, Verdict, Warning};
use clothyard_core::parse::cut_at;
use clothyard_core::schema::{Field, Output};
use clothyard_core::{Quantity, format};
use clothyard_web as dom;
use clothyard_web::widgets::drawing::Item;

/// Energies from here on are said in whole numbers.
const WHOLE_ENERGY_FROM: f64 = 10.0;

/// Which of the two numbers without which there is no answer are known.
#[derive(Clone, Copy, PartialEq)]
pub(crate) struct Known {
    pub(crate) weight: bool,
    pub(crate) length: bool,
}

impl Known {
    pub(crate) fn of(app: &App) -> Self {
        let resolved = &app.evaluation.resolved;
        let known = |field: Field| resolved.is_user_given(field) || resolved.is_read(field);
        Self {
            weight: known(Field::PeakDrawWeight) || resolved.is_user_given(Field::MarkedWeight),
            length: known(Field::DrawLength) || resolved.draw_length_estimated(),
        }
    }

    pub(crate) const fn answers(self) -> bool {
        self.weight && self.length
    }
}

/// What to order, in words, and how it does.
struct Order {
    /// What the spine is of: a shaft of the user's own list by its name.
    name: String,
    spine: String,
    cut: String,
    cut_unit: String,
    headline: Headline,
}

impl Order {
    fn of(app: &App) -> Self {
        let all = &app.evaluation;
        let name =
            all.own_list_shaft(&app.setup).map_or_else(|| "Spine".to_owned(), |shaft| shaft.name.clone() + ", spine");
        let length = format::length(all.resolved.number(Field::CutLength), &app.units);
        let (cut, cut_unit) = length.split_once('\u{a0}').unwrap_or_default();
        Self {
            name,
            spine: format::spine_as_sold(&all.resolved),
            cut: cut.to_owned(),
            cut_unit: cut_unit.to_owned(),
            headline: all.headline(&app.units),
        }
    }
}

/// Shows the answer, or what is missing for one.
pub(crate) fn show(app: &mut App) {
    let (known, order) = (Known::of(app), Order::of(app));
    show_state(app, known);
    show_order(app, known, &order);
    show_figures(app, known);
    show_worst(app, known, &order.headline);
    dom::write_id("line", &one_line(app, known, &order));
    if known.answers() {
        let words = in_words(app, &order);
        app.announcer.announce(words);
    }
}

fn show_state(app: &App, known: Known) {
    let (state, prompt) = match (known.weight, known.length) {
        (true, true) if app.evaluation.forbidding().is_some() => ("danger", ""),
        (true, true) => ("answered", ""),
        (true, false) => ("one", "Enter draw length or arm span"),
        (false, true) => ("one", "Enter draw weight"),
        (false, false) => ("empty", "Enter draw weight and draw length"),
    };
    if let Some(answer) = dom::by_id("answer") {
        dom::set(&answer, "data-state", state);
    }
    dom::write_id("prompt-words", prompt);
    for id in ["plate", "glance"] {
        dom::by_id(id).iter().for_each(|element| dom::class(element, "pale", !known.answers()));
    }
    for id in ["copy", "print", "order-csv", "save"] {
        dom::by_id(id).iter().for_each(|button| dom::flag(button, "disabled", !known.answers()));
    }
}

fn show_order(app: &App, known: Known, order: &Order) {
    let Order { name, spine, cut, cut_unit, .. } = order;
    dom::write_id("danger-order", &format!("Spine {spine}, cut {cut} {cut_unit}"));
    dom::write_id("shaft-name", name);
    dom::write_id("spine", if known.answers() { spine } else { "–" });
    dom::write_id("cut-unit", cut_unit);
    if let Some(output) = dom::by_id("cut") {
        write_fraction(&output, if known.answers() { cut } else { "–" });
    }
    let good = app.evaluation.verdict == Some(Verdict::WellMatched);
    if let Some(line) = dom::by_id("verdict") {
        dom::class(&line, "good", good);
        let mark = if good { "✓\u{a0}" } else { "" };
        line.query_selector(".mark").ok().flatten().iter().for_each(|element| dom::write(element, mark));
    }
    let words = format::upper_first(app.evaluation.match_words());
    dom::write_id("match-words", if known.answers() { &words } else { "–" });
    dom::write_id("match-sentence", &app.evaluation.match_sentence(&app.units));
}

/// A number with an eighth: 28 1/4, its fraction small.
fn write_fraction(output: &web_sys::Element, words: &str) {
    if output.text_content().as_deref() == Some(words) {
        return;
    }
    let (whole, fraction) = words.split_once(' ').unwrap_or((words, ""));
    dom::empty(output);
    dom::add(output, "span", "", whole);
    if let (Some((over, under)), Some(small)) = (fraction.split_once('/'), dom::add(output, "span", "frac", "")) {
        for (tag, text) in [("span", " "), ("sup", over), ("span", "/"), ("sub", under)] {
            dom::add(&small, tag, "", text);
        }
    }
}

fn bare(app: &App, output: Output) -> String {
    let number = app.evaluation.outputs.get(output);
    number.map_or_else(|| "–".to_owned(), |number| format::bare(output.quantity(), number, &app.units))
}

/// Speed with its uncertainty.
fn speed(app: &App) -> (String, String) {
    let unit = app.units.of(Quantity::Speed).symbol;
    let spread = app.evaluation.outputs.get(Output::SpeedSpread);
    let spread =
        spread.map_or_else(String::new, |spread| format!("±{} ", format::bare(Quantity::Speed, spread, &app.units)));
    (bare(app, Output::LaunchSpeed), spread + unit)
}

fn energy(app: &App) -> (String, String) {
    let unit = app.units.of(Quantity::Energy).symbol.to_owned();
    let shown = app.evaluation.outputs.get(Output::KineticEnergy).map(|saved| app.units.show(Quantity::Energy, saved));
    let decimals = |number: f64| usize::from(number < WHOLE_ENERGY_FROM);
    (shown.map_or_else(|| "–".to_owned(), |number| format::fixed(number, decimals(number))), unit)
}

fn show_figures(app: &App, known: Known) {
    let mass = app.units.of(Quantity::Mass).symbol.to_owned();
    let figures = [
        ("total-weight", (bare(app, Output::TotalWeight), mass)),
        ("foc", (bare(app, Output::FrontOfCentre) + "%", String::new())),
        ("launch-speed", speed(app)),
        ("kinetic-energy", energy(app)),
    ];
    for (id, (number, unit)) in figures {
        let Some(output) = dom::by_id(id) else { continue };
        let (number, unit) = if known.answers() { (number, unit) } else { ("–".to_owned(), String::new()) };
        let unit = if unit.is_empty() { unit } else { format!(" {unit}") };
        if output.text_content().as_deref() != Some(&(number.clone() + &unit)) {
            output.set_text_content(Some(&number));
            dom::add(&output, "span", "unit", &unit);
        }
    }
}

/// The line for the worst warning or a number that cannot be used, linked to its field.
fn show_worst(app: &App, known: Known, headline: &Headline) {
    dom::write_id("danger-words", if headline.forbids_shooting { &headline.title } else { "" });
    dom::write_id("neighbor", &app.evaluation.beside_sentence(&app.units));
    let (href, words, wrong) = worst(app, headline).filter(|_| known.answers()).unwrap_or_default();
    if let Some(link) = dom::by_id("worst-link") {
        dom::write(&link, &words);
        dom::set(&link, "href", &href);
    }
    dom::by_id("worst").iter().for_each(|line| dom::class(line, "wrong", wrong));
}

fn worst(app: &App, headline: &Headline) -> Option<(String, String, bool)> {
    if let Some((field, message)) = app.bad_entry() {
        return Some((format!("#{}", field.input().key), message, true));
    }
    let warnings = &app.evaluation.warnings;
    let first = warnings.first()?;
    let more = match warnings.len() {
        1 => String::new(),
        count => format!(" And {} more.", count - 1),
    };
    let words = match brief(first) {
        // Why, and what to do; the rest is with the cautions.
        _ if headline.forbids_shooting => {
            let first = cut_at(&headline.reason, ". ").map_or(&*headline.reason, |(first, _)| first);
            first.trim_end_matches('.').to_owned() + "."
        }
        Some(words) => words.to_owned(),
        None => format::upper_first(&first.sentence(&app.units)),
    };
    Some((place(first), words + &more, headline.forbids_shooting))
}

/// A shorter sentence for the two warnings that a newcomer always has.
fn brief(warning: &Warning) -> Option<&'static str> {
    match warning {
        Warning::LabelOnly => Some("Label weight only. Check it on a bow scale."),
        Warning::DrawLengthEstimated { .. } => Some("Draw length is an estimate. Measure before you cut."),
        _ => None,
    }
}

/// Where what a warning is about can be changed.
fn place(warning: &Warning) -> String {
    let field = match warning {
        Warning::LighterThanAllowed { .. } | Warning::FocOutside { .. } => Field::PointMass,
        Warning::ShaftBehindRest { .. } | Warning::ShaftShort { .. } | Warning::BladesNearRest { .. } => {
            Field::CutLength
        }
        Warning::BadlyWeak { .. } => Field::StaticSpine,
        Warning::WoodOnCompound => Field::ShaftMaterial,
        Warning::NoStroke { .. } => Field::BraceHeight,
        Warning::BoreTooWide { .. } => Field::Bore,
        Warning::WeighedAgainstLinear { .. } => Field::BareShaft,
        Warning::ArmSpanAgainstDraw { .. } | Warning::DrawLengthEstimated { .. } => Field::ArmSpan,
        Warning::VanesOffTheShaft { .. } => Field::VaneSetBack,
        Warning::InsertLongerThanShaft { .. } => Field::InsertInside,
        Warning::ChronographWithoutArrow => Field::ChronographArrow,
        Warning::LabelOnly => Field::DrawWeightFrom,
        Warning::Broadhead => Field::PointKind,
        Warning::OffsetOutside { .. } => Field::VaneOffset,
        _ => return "#cautions".to_owned(),
    };
    format!("#{}", field.input().key)
}

/// The answer in one sentence, as it is announced.
fn in_words(app: &App, order: &Order) -> String {
    let Order { spine, cut, cut_unit, headline, .. } = order;
    let (weight, mass) = (bare(app, Output::TotalWeight), app.units.of(Quantity::Mass).symbol);
    format!("{}. Spine {spine}, cut {cut} {cut_unit}, {weight} {mass}.", headline.title)
}

/// The answer in one line, for when it has left the window.
fn one_line(app: &App, known: Known, order: &Order) -> String {
    if !known.answers() {
        return String::new();
    }
    let Order { spine, cut, cut_unit, headline, .. } = order;
    if headline.forbids_shooting {
        return headline.title.clone();
    }
    let (speed, _) = speed(app);
    let (mass, fps) = (app.units.of(Quantity::Mass).symbol, app.units.of(Quantity::Speed).symbol);
    let (weight, foc) = (bare(app, Output::TotalWeight), bare(app, Output::FrontOfCentre));
    let more = match app.evaluation.warnings.len() {
        0 => String::new(),
        1 => " · 1 warning".to_owned(),
        count => format!(" · {count} warnings"),
    };
    format!("{spine} · {cut} {cut_unit} · {weight} {mass} · {foc}% · {speed} {fps}{more}")
}

/// Draws the match in the room there is.
pub(crate) fn show_band(app: &mut App) {
    let (width, text) = (app.rooms.band.max(80.0), app.rooms.text);
    // The range that is said, with the estimate's own error in it.
    let range = |tape: Tape| app.evaluation.match_range_lb().map_or(tape, |(from, to)| Tape { from, to, ..tape });
    let tape = Tape::of(&app.evaluation.outputs, &app.evaluation.resolved).map(range);
    let shapes = tape.map(|tape| tape.band(width, text, &app.units)).unwrap_or_default();
    let items = shapes.into_iter().map(|(style, shape)| Item::new(style, shape));
    app.drawings.band.show(items, (width, 3.0 * text));
}
