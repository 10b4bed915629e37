//! Diagnostic trouble codes: what a code is made of (SAE J2012 / ISO 15031-6),
//! its status byte (ISO 14229-1), and whether a finding explains it.
//!
//! No list of code texts is kept here: such lists are the standards' and the
//! makers' own. What a code points at comes from [`Table`], in our words.

mod change;
mod explain;
mod status;
mod table;

pub use change::{Became, Change, Held, changes};
pub use explain::{Answer, Explanation, Finding, explain, explain_all};
pub use status::Status;
pub use table::{Nature, PartKind, Row, Table, TableError};

use std::fmt;
use std::str::FromStr;
use swarfbook_words::say;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A trouble code; as text `P0741`, or `P0741-1C` with its failure type byte.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, TS)]
#[serde(try_from = "String", into = "String")]
#[ts(type = "string")]
pub struct Code {
    bits: u16,
    failure_type: Option<u8>,
}

/// Which part of the vehicle the first letter names.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum System {
    /// Engine and gearbox: P.
    Powertrain,
    /// Brakes, steering, suspension: C.
    Chassis,
    /// Inside of the car: B.
    Body,
    /// Between control units: U.
    Network,
}

impl System {
    const fn from_bits(bits: u16) -> Self {
        match bits >> 14 {
            0 => System::Powertrain,
            1 => System::Chassis,
            2 => System::Body,
            _ => System::Network,
        }
    }

    /// P, C, B or U.
    pub const fn letter(self) -> char {
        match self {
            System::Powertrain => 'P',
            System::Chassis => 'C',
            System::Body => 'B',
            System::Network => 'U',
        }
    }
}

/// Who says what the code means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Origin {
    /// The standard: the same on every car.
    Standard,
    /// The maker: look in the maker's data.
    Maker,
    /// Reserved by the standard.
    Reserved,
}

/// A code taken apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Structure {
    /// By the letter.
    pub system: System,
    /// By the first digit (and, for P3, the second).
    pub origin: Origin,
    /// Powertrain codes that speak of the transmission (P07 to P09, P27).
    pub transmission: bool,
    /// Third byte of a three-byte code.
    pub failure_type: Option<u8>,
}

/// Why a text is no code.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum CodeError {
    #[error("{}", say!("no-code-was-entered-enter-one-such-as"))]
    Empty,
    #[error("{}", say!("text-a-code-begins-with-p-c-b", text = text))]
    Letter { text: String },
    #[error("{}", say!("text-a-code-is-a-letter-and-four", text = text))]
    Length { text: String },
    #[error("{}", say!("text-the-first-digit-is-0-1-2", text = text))]
    FirstDigit { text: String },
    #[error("{}", say!("text-has-the-letter-letter-where-a-digit", text = text, letter = letter, digit = digit))]
    LookAlike {
        text: String,
        letter: char,
        digit: char,
    },
    #[error("{}", say!("text-found-is-no-digit-of-a-code", text = text, found = found))]
    Digit { text: String, found: char },
    #[error("{}", say!("p0000-means-that-there-is-no-code"))]
    NoCode,
    #[error("{}", say!("text-a-control-unit-sends-a-code-as", text = text))]
    Bytes { text: String },
}

impl Code {
    /// From the two bytes a control unit sends.
    ///
    /// # Errors
    /// [`CodeError::NoCode`] for two zero bytes.
    pub fn from_bytes(bytes: [u8; 2]) -> Result<Self, CodeError> {
        Self::from_bits(u16::from_be_bytes(bytes), None)
    }

    /// From three bytes: the last is the failure type byte.
    ///
    /// # Errors
    /// [`CodeError::NoCode`] when the first two are zero.
    pub fn from_three_bytes([a, b, failure]: [u8; 3]) -> Result<Self, CodeError> {
        Self::from_bits(u16::from_be_bytes([a, b]), Some(failure))
    }

    /// From the bytes as a reader shows them: `07 41`, `0741`, `0x07411C`.
    ///
    /// # Errors
    /// [`CodeError::Bytes`] unless they are two or three bytes in hexadecimal.
    pub fn from_hex(typed: &str) -> Result<Self, CodeError> {
        let text = typed.trim().to_uppercase();
        let wrong = || CodeError::Bytes { text: text.clone() };
        let digits: String = text
            .strip_prefix("0X")
            .unwrap_or(&text)
            .chars()
            .filter(|c| !c.is_whitespace())
            .collect();
        let value = u32::from_str_radix(&digits, 16).map_err(|_| wrong())?;
        let [_, a, b, c] = value.to_be_bytes();
        match digits.len() {
            4 => Self::from_bytes([b, c]),
            6 => Self::from_three_bytes([a, b, c]),
            _ => Err(wrong()),
        }
    }

    fn from_bits(bits: u16, failure_type: Option<u8>) -> Result<Self, CodeError> {
        if bits == 0 {
            return Err(CodeError::NoCode);
        }
        Ok(Code { bits, failure_type })
    }

    /// The two bytes.
    pub const fn to_bytes(self) -> [u8; 2] {
        self.bits.to_be_bytes()
    }

    /// The failure type byte, if the code has one.
    pub const fn failure_type(self) -> Option<u8> {
        self.failure_type
    }

    /// The same code without its failure type byte.
    pub const fn base(self) -> Self {
        Code {
            bits: self.bits,
            failure_type: None,
        }
    }

    /// What the code is made of.
    pub const fn structure(self) -> Structure {
        let system = System::from_bits(self.bits);
        let first = (self.bits >> 12) & 3;
        let second = (self.bits >> 8) & 0xF;
        let origin = match (system, first) {
            (_, 0) | (System::Powertrain, 2) => Origin::Standard,
            (System::Powertrain, 3) if second >= 4 => Origin::Standard,
            (System::Network, 3) => Origin::Standard,
            (System::Chassis | System::Body, 3) => Origin::Reserved,
            _ => Origin::Maker,
        };
        let area = self.bits >> 8;
        Structure {
            system,
            origin,
            transmission: matches!(area, 0x07..=0x09 | 0x27),
            failure_type: self.failure_type,
        }
    }
}

impl FromStr for Code {
    type Err = CodeError;

    fn from_str(typed: &str) -> Result<Self, CodeError> {
        let text = typed.trim().to_uppercase();
        if text.is_empty() {
            return Err(CodeError::Empty);
        }
        let (main, failure) = match text.split_once('-') {
            Some((main, failure)) => (main, Some(failure)),
            None => (text.as_str(), None),
        };
        let mut chars = main.chars();
        let system: u16 = match chars.next() {
            Some('P') => 0,
            Some('C') => 1,
            Some('B') => 2,
            Some('U') => 3,
            _ => return Err(CodeError::Letter { text }),
        };
        let digits = chars.as_str();
        if digits.chars().count() != 4 || failure.is_some_and(|f| f.chars().count() != 2) {
            return Err(CodeError::Length { text });
        }
        let number = hex(digits, &text)?;
        if number > 0x3FFF {
            return Err(CodeError::FirstDigit { text });
        }
        let failure_type = failure.map(|f| hex(f, &text)).transpose()?;
        Self::from_bits(system << 14 | number, failure_type.map(|f| f as u8))
    }
}

fn hex(digits: &str, text: &str) -> Result<u16, CodeError> {
    let mut number: u16 = 0;
    for c in digits.chars() {
        let Some(digit) = c.to_digit(16) else {
            let look_alike = match c {
                'O' | 'Q' => Some('0'),
                'I' | 'L' => Some('1'),
                'S' => Some('5'),
                'Z' => Some('2'),
                _ => None,
            };
            return Err(match look_alike {
                Some(digit) => CodeError::LookAlike {
                    text: text.to_owned(),
                    letter: c,
                    digit,
                },
                None => CodeError::Digit {
                    text: text.to_owned(),
                    found: c,
                },
            });
        };
        number = number << 4 | digit as u16;
    }
    Ok(number)
}

impl fmt::Display for Code {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let letter = System::from_bits(self.bits).letter();
        write!(f, "{letter}{:04X}", self.bits & 0x3FFF)?;
        match self.failure_type {
            Some(byte) => write!(f, "-{byte:02X}"),
            None => Ok(()),
        }
    }
}

impl TryFrom<String> for Code {
    type Error = CodeError;

    fn try_from(text: String) -> Result<Self, CodeError> {
        text.parse()
    }
}

impl From<Code> for String {
    fn from(code: Code) -> String {
        code.to_string()
    }
}

#[cfg(test)]
mod tests;
