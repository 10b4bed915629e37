//! Answers questions to `swarfbook-measure`, one JSON object a line, so that
//! reference libraries of other languages can be held against it
//! (`tests/outside/measure.py`). An answer that is an error is `{"error": words}`.

use std::io::{self, BufRead, Write};

use serde::{Deserialize, Serialize};
use swarfbook_job::fact::AdapterUsed;
use swarfbook_measure::code::{Code, Status};
use swarfbook_measure::conformity::{Guard, Limits, probability};
use swarfbook_measure::fluid::{Density, volume_correction};
use swarfbook_measure::meter::{Accuracy, Meter};
use swarfbook_measure::resistance::copper;
use swarfbook_measure::resistance::ntc;
use swarfbook_measure::siblings;
use swarfbook_measure::torque::{Thread, set_for};
use swarfbook_measure::unit::{NewtonMetres, Unit};
use swarfbook_measure::vin::{Market, Vin};

#[derive(Deserialize)]
#[serde(tag = "ask", rename_all = "snake_case")]
enum Question {
    Probability {
        value: f64,
        u: f64,
        low: Option<f64>,
        high: Option<f64>,
    },
    GuardBand {
        level: f64,
        u: f64,
    },
    MeterU {
        percent: f64,
        counts: f64,
        digit: f64,
        reading: f64,
    },
    Copper {
        from_c: f64,
        to_c: f64,
    },
    BValue {
        first: (f64, f64),
        second: (f64, f64),
    },
    ModifiedZ {
        values: Vec<f64>,
    },
    ToBase {
        unit: Unit,
        value: f64,
    },
    Adapter {
        wanted_nm: f64,
        adapter: AdapterUsed,
    },
    StressArea {
        thread: String,
    },
    VolumeCorrection {
        kg_m3: f64,
        celsius: f64,
    },
    CheckDigit {
        vin: String,
    },
    ModelYears {
        vin: String,
        latest: u32,
    },
    CodeOf {
        bytes: String,
    },
    BytesOf {
        code: String,
    },
    StatusBits {
        byte: u8,
    },
}

#[derive(Serialize)]
#[serde(rename_all = "snake_case")]
enum Answer {
    Number(f64),
    Numbers(Vec<Option<f64>>),
    Text(String),
    Bits([bool; 8]),
    Error(String),
}

fn number<E: ToString>(result: Result<f64, E>) -> Answer {
    result.map_or_else(|why| Answer::Error(why.to_string()), Answer::Number)
}

fn answer(question: Question) -> Answer {
    match question {
        Question::Probability {
            value,
            u,
            low,
            high,
        } => Answer::Number(probability(value, u, Limits { low, high })),
        Question::GuardBand { level, u } => Answer::Number(Guard { level }.band(u)),
        Question::MeterU {
            percent,
            counts,
            digit,
            reading,
        } => {
            let meter = Meter {
                accuracy: Accuracy { percent, counts },
                resolution: Some(digit),
            };
            Answer::Number(meter.standard_uncertainty(reading, digit))
        }
        Question::Copper { from_c, to_c } => Answer::Number(copper::factor(from_c, to_c)),
        Question::BValue { first, second } => {
            Answer::Number(ntc::b_value(first.1, first.0, second.1, second.0))
        }
        Question::ModifiedZ { values } => {
            let group = siblings::compare(&values, 0.0);
            Answer::Numbers(group.members.iter().map(|m| m.modified_z).collect())
        }
        Question::ToBase { unit, value } => Answer::Number(unit.to_base(value)),
        Question::Adapter { wanted_nm, adapter } => {
            number(set_for(adapter, NewtonMetres(wanted_nm)).map(NewtonMetres::get))
        }
        Question::StressArea { thread } => {
            number(thread.parse::<Thread>().map(Thread::stress_area_mm2))
        }
        Question::VolumeCorrection { kg_m3, celsius } => number(volume_correction(
            Density {
                kg_m3,
                half_width_kg_m3: 0.0,
            },
            celsius,
        )),
        Question::CheckDigit { vin } => match vin.parse::<Vin>() {
            Ok(vin) => Answer::Text(vin.check_digit(Market::Unknown).expected.to_string()),
            Err(why) => Answer::Error(why.to_string()),
        },
        Question::ModelYears { vin, latest } => match vin.parse::<Vin>() {
            Ok(vin) => {
                let years = vin.model_year(Market::Unknown, latest).years;
                Answer::Numbers(years.into_iter().map(|y| Some(f64::from(y))).collect())
            }
            Err(why) => Answer::Error(why.to_string()),
        },
        Question::CodeOf { bytes } => match Code::from_hex(&bytes) {
            Ok(code) => Answer::Text(code.to_string()),
            Err(why) => Answer::Error(why.to_string()),
        },
        Question::BytesOf { code } => match code.parse::<Code>() {
            Ok(code) => {
                let [first, second] = code.to_bytes();
                Answer::Text(format!("{first:02X}{second:02X}"))
            }
            Err(why) => Answer::Error(why.to_string()),
        },
        Question::StatusBits { byte } => Answer::Bits(Status::from_byte(byte).bits()),
    }
}

fn main() -> io::Result<()> {
    let mut out = io::stdout().lock();
    for line in io::stdin().lock().lines() {
        let answer = match serde_json::from_str(&line?) {
            Ok(question) => answer(question),
            Err(why) => Answer::Error(format!("This is no question: {why}")),
        };
        writeln!(out, "{}", serde_json::to_string(&answer)?)?;
    }
    Ok(())
}
