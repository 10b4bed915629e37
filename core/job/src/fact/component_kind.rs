//! The kinds of electrical parts: the one table that bench, report and screens read.

use serde::{Deserialize, Serialize};
use swarfbook_words::term;
use ts_rs::TS;

/// What kind of electrical part it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ComponentKind {
    /// On/off shift solenoid.
    OnOffSolenoid,
    /// Linear or pulse-width pressure solenoid.
    LinearSolenoid,
    /// Temperature sensor.
    TemperatureSensor,
    /// Speed sensor with a coil (two wires, makes its own voltage).
    SpeedSensor,
    /// Something else, by its name.
    Other,
    /// Hall or other active sensor: electronics that need a supply.
    HallSensor,
    /// A contact that is open or closed: pressure switch, temperature switch.
    Switch,
    /// Lever position sensor: contacts that go with the lever.
    RangeSensor,
    /// A port at which a gauge shows the oil's pressure.
    PressurePort,
    /// The torque converter, by its stall speed.
    Converter,
}

/// What is read of a part when it is read in ohms.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Inside {
    /// A winding of copper, whose resistance rises as it warms.
    Winding,
    /// A resistance that falls as it warms (NTC).
    Thermistor,
    /// Contacts: an open one is a position, not a fault.
    Contacts,
    /// Electronics that need a supply: ohms say nothing of them.
    Electronics,
    /// Not known.
    Unknown,
    /// Oil at a pressure: nothing electrical.
    Oil,
    /// It turns: nothing electrical.
    Turning,
}

/// The row of one kind of part, in the language that is spoken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, TS)]
pub struct ComponentRow {
    /// As lines and wire name it.
    pub kind: ComponentKind,
    /// What its ohms are of.
    pub inside: Inside,
    /// Its name in a sentence: "speed sensor".
    pub name: &'static str,
    /// The same on a key, so that it can be told from its like.
    pub label: &'static str,
    /// What it does, for who knows nothing of gearboxes; may be empty.
    pub plain: &'static str,
}

impl ComponentKind {
    /// Every kind, in the order in which it is offered.
    pub const ALL: [ComponentKind; 10] = [
        ComponentKind::OnOffSolenoid,
        ComponentKind::LinearSolenoid,
        ComponentKind::TemperatureSensor,
        ComponentKind::SpeedSensor,
        ComponentKind::HallSensor,
        ComponentKind::Switch,
        ComponentKind::RangeSensor,
        ComponentKind::PressurePort,
        ComponentKind::Converter,
        ComponentKind::Other,
    ];

    /// What its ohms are of.
    pub fn inside(self) -> Inside {
        self.row().inside
    }

    /// What the table says of this kind, in the language that is spoken.
    pub fn row(self) -> ComponentRow {
        let row = |inside, name, label, plain| ComponentRow {
            kind: self,
            inside,
            name,
            label,
            plain,
        };
        match self {
            ComponentKind::OnOffSolenoid => row(
                Inside::Winding,
                term!("on-off-solenoid"),
                term!("on-off-solenoid"),
                term!("an-electric-valve-that-opens-the-way-for"),
            ),
            ComponentKind::LinearSolenoid => row(
                Inside::Winding,
                term!("pressure-solenoid"),
                term!("pressure-solenoid"),
                term!("an-electric-valve-that-sets-how-hard-the"),
            ),
            ComponentKind::TemperatureSensor => row(
                Inside::Thermistor,
                term!("temperature-sensor"),
                term!("temperature-sensor"),
                term!("it-tells-the-control-unit-how-warm-the"),
            ),
            ComponentKind::SpeedSensor => row(
                Inside::Winding,
                term!("speed-sensor"),
                term!("speed-sensor-a-coil-two-wires"),
                term!("it-tells-the-control-unit-how-fast-a"),
            ),
            ComponentKind::HallSensor => row(
                Inside::Electronics,
                term!("active-sensor-hall"),
                term!("active-sensor-hall-three-wires"),
                "",
            ),
            ComponentKind::Switch => row(
                Inside::Contacts,
                term!("switch"),
                term!("switch-a-contact"),
                "",
            ),
            ComponentKind::RangeSensor => row(
                Inside::Contacts,
                term!("lever-position-sensor"),
                term!("lever-position-sensor"),
                term!("it-tells-the-control-unit-where-the-lever"),
            ),
            ComponentKind::PressurePort => row(
                Inside::Oil,
                term!("pressure-test-port"),
                term!("pressure-test-port"),
                term!("a-plug-behind-which-a-gauge-shows-how"),
            ),
            ComponentKind::Converter => row(
                Inside::Turning,
                term!("torque-converter"),
                term!("torque-converter-stall-speed"),
                term!("it-takes-the-place-of-a-clutch-between"),
            ),
            ComponentKind::Other => {
                row(Inside::Unknown, term!("part"), term!("something-else"), "")
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fact::ReadingKind;
    use swarfbook_words::{Language, in_language};

    /// A key must tell one kind from every other, in every language.
    #[test]
    fn no_two_kinds_have_the_same_key() {
        for language in Language::ALL {
            in_language(language, || {
                let mut parts: Vec<_> = ComponentKind::ALL.map(|kind| kind.row().label).into();
                let mut readings: Vec<_> = ReadingKind::ALL.map(|kind| kind.row().label).into();
                for labels in [&mut parts, &mut readings] {
                    let all = labels.len();
                    labels.sort_unstable();
                    labels.dedup();
                    assert_eq!(labels.len(), all, "{labels:?}");
                }
            });
        }
    }
}
