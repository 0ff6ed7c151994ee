//! The compare tray: combinations with a star, side by side, to be saved, exported and sent together.

use super::ID;
use crate::context::Context;
use crate::library;
use crate::records::WhenStored;
use crate::save;
use crate::sharing::{self, CODEC};
use clothyard_core::csv::Csv;
use clothyard_core::schema::shafts::invented_shafts;
use clothyard_core::{Evaluation, Setup, Units};
use clothyard_studies::analysis::kept_table::KeptTable;
use clothyard_studies::sharing::link;
use clothyard_studies::sharing::reading::KeptSetup;
use clothyard_web as dom;
use clothyard_web::widgets::field;
use clothyard_web::widgets::table::{Row, Table};

/// The field with the links.
pub(super) const LINKS: &str = "combine-links";

/// So many can be read side by side.
const MOST: usize = 6;

pub(super) struct Tray {
    /// Each combination as it came, and its name here.
    setups: Vec<(Setup, String)>,
    columns: KeptTable,
    table: Table,
    /// The table as it is shown.
    shown: (Vec<String>, Vec<Vec<String>>),
    pub(super) when_stored: WhenStored,
}

impl Tray {
    pub(super) fn new() -> Self {
        Self {
            setups: Vec::new(),
            columns: KeptTable::default(),
            table: Table::new("combine-tray-table"),
            shown: Default::default(),
            when_stored: WhenStored::default(),
        }
    }

    /// Whether a combination is in it.
    pub(super) fn has(&self, setup: &Setup) -> bool {
        self.setups.iter().any(|(known, _)| known == setup)
    }

    /// Puts a combination in under a name, or takes it out.
    ///
    /// # Errors
    /// That it is full.
    pub(super) fn toggle(&mut self, setup: Setup, name: String) -> Result<(), String> {
        let before = self.setups.len();
        self.setups.retain(|(known, _)| *known != setup);
        if self.setups.len() == before {
            if before >= MOST {
                return Err(format!("At most {MOST} side by side."));
            }
            self.setups.push((setup, name));
        }
        self.update();
        Ok(())
    }

    pub(super) fn clear(&mut self) {
        self.setups.clear();
        self.update();
    }

    fn update(&mut self) {
        let named = self.named();
        let lines: Vec<_> = named.iter().filter_map(link_line).collect();
        self.columns.update(named.into_iter().map(|setup| KeptSetup { id: setup.name.clone(), setup }).collect());
        field::overwrite(LINKS, &lines.join("\n"));
    }

    /// Its setups under their names.
    fn named(&self) -> Vec<Setup> {
        let named = |(setup, name): &(Setup, String)| {
            let mut setup = setup.clone();
            setup.name.clone_from(name);
            setup
        };
        self.setups.iter().map(named).collect()
    }

    pub(super) fn show(&mut self, on_page: &Evaluation, units: &Units) {
        dom::hide("combine-tray", self.setups.is_empty());
        if !self.setups.is_empty() {
            self.shown = self.columns.show(on_page, units);
            self.table.show(&self.shown.0, self.shown.1.iter().cloned().map(Row::of).collect());
        }
    }

    /// Saves all of it by name; what is to be said of that now. The rest comes as a reply.
    pub(super) fn save(&mut self, context: &Context) -> String {
        if let Err(why) = library::add(&self.named(), ID, context) {
            return why;
        }
        self.when_stored.begin();
        self.when_stored.say(format!("Saved {} under \u{201c}Save and share\u{201d}.", self.setups.len()));
        String::new()
    }

    /// Exports the table; what is to be said of that.
    pub(super) fn export(&self) -> String {
        let mut csv = Csv::default();
        for row in core::iter::once(&self.shown.0).chain(&self.shown.1) {
            row.iter().for_each(|cell| csv.text(cell));
            csv.end_row();
        }
        save::csv("combinations-compared.csv", &csv.finish())
    }

    /// Copies the links; what is to be said comes as a reply.
    pub(super) fn copy(context: &Context) {
        sharing::copy(ID, LINKS, context);
    }
}

/// The name of a setup and the link to it; the list of shafts, of which it needs none, is left out.
fn link_line(setup: &Setup) -> Option<String> {
    let mut alone = setup.clone();
    alone.shafts = invented_shafts();
    let link = link::encode(&alone, &CODEC).ok()?;
    Some(format!("{}: {}", setup.name, sharing::address_of(&link.fragment)))
}
