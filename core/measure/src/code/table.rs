//! The table that ties codes to kinds of parts: data, ours, extendable.

use serde::{Deserialize, Serialize};
use swarfbook_words::{say, term};
use ts_rs::TS;

use super::Code;

/// Kinds of parts a code can point at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum PartKind {
    /// On/off shift solenoid.
    OnOffSolenoid,
    /// Linear or pulse-width pressure solenoid.
    LinearSolenoid,
    /// Temperature sensor.
    TemperatureSensor,
    /// Speed sensor.
    SpeedSensor,
    /// Pressure sensor or switch.
    PressureSensor,
    /// Lever position sensor.
    RangeSensor,
    /// Something else.
    Other,
}

impl PartKind {
    /// The words for it, for a sentence.
    pub fn words(self) -> &'static str {
        match self {
            PartKind::OnOffSolenoid => term!("on-off-solenoid"),
            PartKind::LinearSolenoid => term!("pressure-solenoid"),
            PartKind::TemperatureSensor => term!("temperature-sensor"),
            PartKind::SpeedSensor => term!("speed-sensor"),
            PartKind::PressureSensor => term!("pressure-sensor"),
            PartKind::RangeSensor => term!("lever-position-sensor"),
            PartKind::Other => term!("part"),
        }
    }
}

/// What a row's codes speak of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Nature {
    /// The part's own electrics and its wiring.
    Circuit,
    /// What the part should bring about.
    Function,
    /// No part.
    General,
}

/// One row.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(deny_unknown_fields)]
pub struct Row {
    /// First code.
    pub from: Code,
    /// Last code.
    pub to: Code,
    /// What it speaks of, in words that follow "It speaks of".
    pub says: String,
    /// Circuit, function or general.
    pub nature: Nature,
    /// Codes within a circuit row that speak of function.
    #[serde(default)]
    pub behaviour: Vec<Code>,
    /// Kinds of parts that belong to it.
    pub parts: Vec<PartKind>,
    /// Which of several like parts.
    #[serde(default)]
    pub role: Option<String>,
    /// A gearbox has one of this kind as a rule.
    #[serde(default)]
    pub only_one: bool,
    /// Where the row comes from.
    pub source: String,
}

impl Row {
    fn holds(&self, code: Code) -> bool {
        let code = code.base();
        self.from.base() <= code && code <= self.to.base()
    }

    /// What this code of the row speaks of.
    pub fn nature_of(&self, code: Code) -> Nature {
        if self.behaviour.contains(&code.base()) {
            Nature::Function
        } else {
            self.nature
        }
    }
}

/// Rows, those that win first.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Table {
    /// Version of the data.
    pub version: String,
    /// The first that fits a code wins.
    #[serde(rename = "row")]
    pub rows: Vec<Row>,
}

/// Why a table was not taken.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum TableError {
    #[error("{}", say!("the-table-of-codes-cant-be-read-why", why = why))]
    Form { why: String },
    #[error("{}", say!("in-the-table-of-codes-the-row-from", from = from, to = to))]
    Range { from: Code, to: Code },
    #[error("{}", say!("in-the-table-of-codes-code-stands-in", code = code, from = from, to = to))]
    Stray { code: Code, from: Code, to: Code },
}

const SHIPPED: &str = include_str!("codes.toml");

impl Table {
    /// The table that ships.
    ///
    /// # Errors
    /// Only if the shipped file were broken, which a test rules out.
    pub fn shipped() -> Result<Self, TableError> {
        Self::read(SHIPPED)
    }

    /// Reads a table from TOML, in the form of the shipped one.
    ///
    /// # Errors
    /// [`TableError`], naming the row.
    pub fn read(text: &str) -> Result<Self, TableError> {
        let table: Table =
            toml::from_str(text).map_err(|e| TableError::Form { why: e.to_string() })?;
        for row in &table.rows {
            let (from, to) = (row.from, row.to);
            if from > to || from.structure().system != to.structure().system {
                return Err(TableError::Range { from, to });
            }
            if let Some(code) = row.behaviour.iter().find(|c| !row.holds(**c)) {
                return Err(TableError::Stray {
                    code: *code,
                    from,
                    to,
                });
            }
        }
        Ok(table)
    }

    /// This table with a shop's own rows before it.
    pub fn extended_by(mut self, shop: Table) -> Self {
        self.version = format!("{} + shop {}", self.version, shop.version);
        self.rows.splice(0..0, shop.rows);
        self
    }

    /// The first row that holds a code.
    pub fn find(&self, code: Code) -> Option<&Row> {
        self.rows.iter().find(|r| r.holds(code))
    }
}
