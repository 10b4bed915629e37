//! Parsers that look at bytes and nothing else.

use std::str::FromStr;

use swarfbook_app::command::Command;
use swarfbook_hub::serve::Form;
use swarfbook_job::entry::Sealed;
use swarfbook_job::id::Sha256Hex;
use swarfbook_job::procedure;
use swarfbook_job::unit::Quantity;
use swarfbook_measure::code::{Code, Table};
use swarfbook_measure::input::{parse, parse_bare};
use swarfbook_measure::vin::Vin;
use swarfbook_sync::auth::Signed;
use swarfbook_sync::{Fingerprint, PairLink, hub_address};

use crate::hammer;

fn text(bytes: &[u8]) -> std::borrow::Cow<'_, str> {
    String::from_utf8_lossy(bytes)
}

#[test]
fn a_procedure() {
    hammer("procedure", |bytes| {
        let _ = procedure::load(&text(bytes));
    });
}

#[test]
fn a_table_of_codes() {
    hammer("codes", |bytes| {
        let _ = Table::read(&text(bytes));
    });
}

#[test]
fn a_line_of_the_log() {
    hammer("line", |bytes| {
        let text = text(bytes);
        let Ok(line) = Sealed::read(&text) else {
            return;
        };
        assert_eq!(line.bytes, text);
        assert_eq!(line.hash, Sha256Hex::of(text.as_bytes()));
        let again = Sealed::read(&line.bytes).expect("it is one");
        assert_eq!(again, line);
    });
}

#[test]
fn a_pairing_link_or_an_address_or_a_fingerprint() {
    hammer("link", |bytes| {
        let text = text(bytes);
        if let Some(link) = PairLink::read(&text) {
            assert_eq!(PairLink::read(&link.write()).as_ref(), Some(&link));
        }
        if let Ok(address) = hub_address(&text) {
            assert_eq!(hub_address(&address).as_ref(), Ok(&address));
        }
        if let Some(print) = Fingerprint::read(&text) {
            assert_eq!(Fingerprint::read(&print.as_in_browsers()), Some(print));
        }
        let _ = Signed::read(&text);
    });
}

#[test]
fn a_customers_form() {
    hammer("form", |bytes| {
        let _ = Form::read(bytes);
    });
}

#[test]
fn a_typed_number_a_code_or_a_vin() {
    hammer("typed", |bytes| {
        let text = text(bytes);
        for quantity in Quantity::ALL {
            let Ok(read) = parse(&text, quantity) else {
                continue;
            };
            let numbers = [read.number(), read.resolution(), read.top()];
            let finite = numbers.into_iter().flatten().all(f64::is_finite);
            assert!(finite, "{text:?}: {read:?}");
        }
        if let Ok(number) = parse_bare(&text) {
            assert!(number.is_finite(), "{text:?}");
        }
        if let Ok(code) = Code::from_str(&text) {
            assert_eq!(Code::from_str(&code.to_string()), Ok(code));
        }
        let _ = Code::from_hex(&text);
        let _ = Vin::from_str(&text);
        let _ = Vin::in_bar_code(&text);
    });
}

#[test]
fn a_command() {
    hammer("command", |bytes| {
        let _ = serde_json::from_slice::<Command>(bytes);
    });
}
