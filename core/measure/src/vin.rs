//! The vehicle identification number: 17 characters (ISO 3779), check digit and
//! model year by 49 CFR 565.
//!
//! The check digit is mandatory only for vehicles sold in the United States and
//! Canada (from memory); elsewhere a wrong one is no more than a hint to look
//! at the number again.

use std::fmt;
use std::str::FromStr;
use swarfbook_words::say;

use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Characters in a VIN.
pub const LENGTH: usize = 17;
/// Weights of the positions, 49 CFR 565.15(c) table IV.
const WEIGHTS: [u32; LENGTH] = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];
/// Where the check digit stands (9th), counted from 0.
const CHECK_AT: usize = 8;
/// Where the model year stands (10th), counted from 0.
const YEAR_AT: usize = 9;
/// Model year codes from 1980 on, a cycle of 30 years.
const YEARS: &str = "ABCDEFGHJKLMNPRSTVWXY123456789";
const YEARS_FROM: u32 = 1980;

/// A VIN whose form is right; capitals.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(try_from = "String", into = "String")]
#[ts(type = "string")]
pub struct Vin([char; LENGTH]);

/// Where the vehicle was sold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Market {
    /// United States or Canada: the check digit is mandatory.
    NorthAmerica,
    /// Anywhere else: makers may put a filler there.
    Elsewhere,
    /// Not known.
    Unknown,
}

/// What the check digit says.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct CheckDigit {
    /// What 49 CFR 565.15(c) gives.
    pub expected: char,
    /// What stands in the 9th place.
    pub found: char,
    /// Whether they agree.
    pub agrees: bool,
    /// A wrong digit means a wrong number in this market, not only perhaps.
    pub mandatory: bool,
    /// What to do, when it does not agree.
    pub ask: Option<String>,
}

/// Model years the 10th character can mean.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct ModelYear {
    /// Earliest first; more than one: it is ambiguous. Empty: it tells none.
    pub years: Vec<u32>,
    /// Why these.
    pub words: String,
}

/// Why a text is no VIN.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[allow(missing_docs)] // the messages say what each is
pub enum VinError {
    #[error("{}", say!("a-vin-has-17-characters-this-has-found", found = found, value = match found {
        18 => say!("a-bar-code-can-put-a-letter-before"),
        _ => say!("read-it-again-from-the-plate"),
    }))]
    Length { found: u32 },
    #[error("{}", say!("letter-in-place-place-a-vin-never-has", letter = letter, place = place, instead = instead))]
    LookAlike {
        letter: char,
        place: u32,
        instead: char,
    },
    #[error("{}", say!("found-in-place-place-cant-be-in-a", found = found, place = place))]
    Character { found: char, place: u32 },
}

impl FromStr for Vin {
    type Err = VinError;

    /// Capitals and small letters are the same; blanks and dashes between groups are dropped.
    fn from_str(typed: &str) -> Result<Self, VinError> {
        let chars: Vec<char> = typed
            .chars()
            .filter(|c| !c.is_whitespace() && *c != '-')
            .map(|c| c.to_ascii_uppercase())
            .collect();
        let array: [char; LENGTH] = chars.as_slice().try_into().map_err(|_| VinError::Length {
            found: chars.len() as u32,
        })?;
        for (at, c) in array.iter().enumerate() {
            let place = at as u32 + 1;
            match c {
                'I' | 'O' | 'Q' => {
                    return Err(VinError::LookAlike {
                        letter: *c,
                        place,
                        instead: if *c == 'I' { '1' } else { '0' },
                    });
                }
                _ if value(*c).is_none() => {
                    return Err(VinError::Character { found: *c, place });
                }
                _ => {}
            }
        }
        Ok(Vin(array))
    }
}

/// Transliteration, 49 CFR 565.15(c) table III.
fn value(c: char) -> Option<u32> {
    const LETTERS: &str = "ABCDEFGHJKLMNPRSTUVWXYZ";
    const VALUES: &str = "12345678123457923456789";
    c.to_digit(10).or_else(|| {
        let at = LETTERS.find(c)?;
        VALUES.chars().nth(at)?.to_digit(10)
    })
}

impl Vin {
    /// The VIN in the text of a bar code. Codes put other things before and
    /// after it (an I before an import's, a label's other fields): a part of 17
    /// that can be a VIN is taken when it stands alone or there is only one.
    pub fn in_bar_code(text: &str) -> Option<Self> {
        let parts = text
            .split(|c: char| !c.is_ascii_alphanumeric())
            .filter(|part| !part.is_empty());
        let mut vins = parts.filter_map(|part| {
            let bare = part.strip_prefix(['I', 'i']).filter(|b| b.len() == LENGTH);
            bare.unwrap_or(part).parse::<Vin>().ok()
        });
        let first = vins.next()?;
        vins.all(|other| other == first).then_some(first)
    }

    /// Sum of the products, 49 CFR 565.15(c).
    fn sum(&self) -> u32 {
        self.0
            .iter()
            .zip(WEIGHTS)
            .map(|(c, weight)| value(*c).unwrap_or(0) * weight)
            .sum()
    }

    /// The check digit, and what it is worth in a market.
    pub fn check_digit(&self, market: Market) -> CheckDigit {
        let expected = match self.sum() % 11 {
            10 => 'X',
            digit => char::from_digit(digit, 10).unwrap_or('0'),
        };
        let found = self.0[CHECK_AT];
        let agrees = expected == found;
        let mandatory = market == Market::NorthAmerica;
        let ask = (!agrees).then(|| match market {
            Market::NorthAmerica => say!(
                "the-check-digit-9th-place-is-found-but",
                found = found,
                expected = expected
            ),
            Market::Elsewhere => say!(
                "the-9th-place-is-found-as-a-check",
                found = found,
                expected = expected
            ),
            Market::Unknown => say!(
                "the-9th-place-is-found-as-a-check-digit",
                found = found,
                expected = expected
            ),
        });
        CheckDigit {
            expected,
            found,
            agrees,
            mandatory,
            ask,
        }
    }

    /// The model years the 10th character can mean, none later than
    /// `latest_year` (the present year and one; the clock is the caller's).
    ///
    /// The code repeats every 30 years. For light vehicles sold in North
    /// America the 7th place tells the cycle: a digit before 2010, a letter from
    /// then on (49 CFR 565.15(b)). Elsewhere both stay open, and the maker need
    /// not put a year there at all.
    pub fn model_year(&self, market: Market, latest_year: u32) -> ModelYear {
        let code = self.0[YEAR_AT];
        let Some(at) = YEARS.find(code) else {
            return ModelYear {
                years: Vec::new(),
                words: say!("the-10th-place-is-code-which-stands-for", code = code),
            };
        };
        let first = YEARS_FROM + at as u32;
        let seventh = self.0[6];
        let both = [first, first + 30]
            .into_iter()
            .filter(|y| *y <= latest_year);
        let (years, words): (Vec<u32>, String) = match market {
            Market::NorthAmerica => {
                let later = seventh.is_ascii_alphabetic();
                (
                    both.filter(|y| (*y >= 2010) == later).collect(),
                    say!(
                        "n-10th-place-code-the-7th-place-seventh-is",
                        code = code,
                        seventh = seventh,
                        value = if later {
                            say!("letter-2010-or-later")
                        } else {
                            say!("digit-before-2010")
                        }
                    ),
                )
            }
            Market::Elsewhere | Market::Unknown => (
                both.collect(),
                say!(
                    "n-10th-place-code-repeated-every-30-years-outside",
                    code = code
                ),
            ),
        };
        ModelYear { years, words }
    }
}

impl fmt::Display for Vin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|c| write!(f, "{c}"))
    }
}

impl TryFrom<String> for Vin {
    type Error = VinError;

    fn try_from(text: String) -> Result<Self, VinError> {
        text.parse()
    }
}

impl From<Vin> for String {
    fn from(vin: Vin) -> String {
        vin.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn vin(text: &str) -> Vin {
        text.parse().unwrap()
    }

    /// 49 CFR 565.15(c): its own worked example first; the others are numbers
    /// published as test values, also decoded by Python's vininfo 1.11.
    #[test]
    fn check_digits() {
        for (text, sum, expected, agrees) in [
            ("1G4AH59H45G118341", 411, '4', true), // the regulation's example
            ("1M8GDM9AXKP042788", 351, 'X', true),
            ("11111111111111111", 89, '1', true),
            ("5GZCZ43D13S812715", 408, '1', true),
            ("1HGCM82633A004352", 311, '3', true),
            ("JHMCM56557C404453", 368, '5', true),
            ("SGZCZ43D13S812715", 384, 'X', false),
            ("1FTFW1ET5DFC10312", 295, '9', false),
        ] {
            let vin = vin(text);
            assert_eq!(vin.sum(), sum, "{text}");
            let got = vin.check_digit(Market::NorthAmerica);
            assert_eq!((got.expected, got.agrees), (expected, agrees), "{text}");
            assert_eq!(got.ask.is_some(), !agrees);
        }
    }

    /// A European number with the filler Z in the 9th place.
    #[test]
    fn elsewhere_a_wrong_check_digit_is_only_advice() {
        let vin = vin("WP0ZZZ99ZTS392124");
        let there = vin.check_digit(Market::Elsewhere);
        assert!(!there.agrees && !there.mandatory);
        assert!(there.ask.unwrap().contains("filler"));
        assert!(vin.check_digit(Market::NorthAmerica).mandatory);
        assert!(
            vin.check_digit(Market::Unknown)
                .ask
                .unwrap()
                .contains("If the car was sold")
        );
    }

    /// 49 CFR 565.15(d) table VII (from memory; vininfo agrees where tried).
    #[test]
    fn model_years() {
        use Market::*;
        let check = |text: &str, market, years: &[u32]| {
            assert_eq!(vin(text).model_year(market, 2027).years, years, "{text}");
        };
        check("1M8GDM9AXKP042788", NorthAmerica, &[1989]); // 7th is 9
        check("1HGCM82633A004352", NorthAmerica, &[2003]);
        check("5GZCZ43D13S812715", NorthAmerica, &[2003]);
        check("1FTFW1ET5DFC10312", NorthAmerica, &[2013]); // 7th is E
        check("WP0ZZZ99ZTS392124", Elsewhere, &[1996, 2026]);
        check("1M8GDM9AXKP042788", Unknown, &[1989, 2019]);
        // Y: 2030 is not yet.
        check("1M8GDM9AXYP042788", Unknown, &[2000]);
        // Never a model year: U, Z, 0.
        for never in [
            "1M8GDM9AXUP042788",
            "1M8GDM9AXZP042788",
            "1M8GDM9AX0P042788",
        ] {
            check(never, Unknown, &[]);
        }
        assert_eq!(YEARS.len(), 30);
    }

    #[test]
    fn what_is_no_vin_is_asked_back() {
        for (text, says) in [
            ("", "this has 0"),
            ("1M8GDM9AXKP04278", "this has 16"),
            ("I1M8GDM9AXKP042788", "leave that out"),
            ("1M8GDM9AXKP0427O8", "Is it 0?"),
            ("1M8GDM9AIKP042788", "Is it 1?"),
            ("QM8GDM9AXKP042788", "place 1"),
            ("1M8GDM9AXKP0427*8", "\"*\" in place 16"),
            ("1M8GDM9AXKP0427é8", "can't be in a VIN"),
        ] {
            let error = text.parse::<Vin>().unwrap_err().to_string();
            assert!(error.contains(says), "{text:?}: {error}");
        }
        assert_eq!(vin(" 1m8gdm9a-xkp042788 ").to_string(), "1M8GDM9AXKP042788");
    }

    /// What bar codes of cars hold, common practice; the VIN is the regulation's own.
    #[test]
    fn a_vin_in_the_text_of_a_bar_code() {
        let is = |text: &str| Vin::in_bar_code(text).map(|vin| vin.to_string());
        let vin = Some("1G4AH59H45G118341".to_owned());
        for text in [
            "1G4AH59H45G118341",
            "I1G4AH59H45G118341",
            "1g4ah59h45g118341",
            " 1G4AH59H45G118341 ",
            "PART 0815;1G4AH59H45G118341;2026",
            "1G4AH59H45G118341,1G4AH59H45G118341",
        ] {
            assert_eq!(is(text), vin, "{text}");
        }
        for text in [
            "",
            "1G4AH59H45G11834",
            "1G4AH59H45G1183411",
            "1G4AH59H45G118341 1M8GDM9AXKP042788",
            "IG4AH59H45G118341",
        ] {
            assert_eq!(is(text), None, "{text}");
        }
    }

    proptest! {
        /// 565's purpose: a single wrong digit is found (the weights are prime
        /// to 11, the digits less than 11 apart).
        #[test]
        fn one_wrong_digit_is_found(serial in 0u32..1_000_000, at in 11usize..17, by in 1u32..10) {
            let text = format!("1M8GDM9A0KP{serial:06}");
            let right = vin(&text);
            let mut other = right.0;
            let digit = (other[at].to_digit(10).unwrap() + by) % 10;
            other[at] = char::from_digit(digit, 10).unwrap();
            let (a, b) = (right.check_digit(Market::NorthAmerica), Vin(other).check_digit(Market::NorthAmerica));
            prop_assert_ne!(a.expected, b.expected);
        }

        #[test]
        fn any_text_is_answered(text in ".{0,20}") {
            if let Ok(vin) = text.parse::<Vin>() {
                prop_assert_eq!(vin.to_string().len(), LENGTH);
            }
        }
    }
}
