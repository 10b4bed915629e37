use super::*;
use crate::conformity::Verdict;
use proptest::prelude::*;

fn code(text: &str) -> Code {
    text.parse().unwrap()
}

/// Bit layout of SAE J2012 / ISO 15031-6, worked by it.
#[test]
fn text_and_bytes() {
    for (text, bytes) in [
        ("P0700", [0x07, 0x00]),
        ("P0741", [0x07, 0x41]),
        ("P0868", [0x08, 0x68]),
        ("P2703", [0x27, 0x03]),
        ("C0035", [0x40, 0x35]),
        ("B1342", [0x93, 0x42]),
        ("U0100", [0xC1, 0x00]),
        ("U3000", [0xF0, 0x00]),
        ("P0ABC", [0x0A, 0xBC]),
        ("U3FFF", [0xFF, 0xFF]),
    ] {
        assert_eq!(code(text).to_bytes(), bytes, "{text}");
        assert_eq!(Code::from_bytes(bytes).unwrap().to_string(), text);
        assert_eq!(code(&text.to_lowercase()), code(text));
    }
    assert_eq!(Code::from_bytes([0, 0]), Err(CodeError::NoCode));
    assert_eq!(
        Code::from_three_bytes([0x07, 0x41, 0x1C])
            .unwrap()
            .to_string(),
        "P0741-1C"
    );
    assert_eq!(code("P0741-1C").failure_type(), Some(0x1C));
}

/// First digits by SAE J2012 (C, B, U partly from memory).
#[test]
fn structure_of_a_code() {
    use Origin::*;
    for (text, origin, transmission) in [
        ("P0741", Standard, true),
        ("P0950", Standard, true),
        ("P2714", Standard, true),
        ("P0300", Standard, false),
        ("P1740", Maker, false),
        ("P3100", Maker, false),
        ("P3400", Standard, false),
        ("B0001", Standard, false),
        ("B1342", Maker, false),
        ("C2100", Maker, false),
        ("C3000", Reserved, false),
        ("U0100", Standard, false),
        ("U1000", Maker, false),
        ("U3000", Standard, false),
    ] {
        let got = code(text).structure();
        assert_eq!(
            (got.origin, got.transmission),
            (origin, transmission),
            "{text}"
        );
    }
}

#[test]
fn what_is_no_code_is_asked_back() {
    for (text, says) in [
        ("", "No code"),
        ("X1234", "begins with P, C, B or U"),
        ("0741", "begins with P, C, B or U"),
        ("P741", "a letter and four digits"),
        ("P07411", "a letter and four digits"),
        ("P0741-1", "a letter and four digits"),
        ("P4741", "first digit"),
        ("PF741", "first digit"),
        ("PO741", "letter O where a digit belongs. Is it 0?"),
        ("P0I41", "Is it 1?"),
        ("P07G1", "\"G\" is no digit"),
        ("P0000", "there is no code"),
        ("P07é1", "no digit"),
    ] {
        let error = text.parse::<Code>().unwrap_err().to_string();
        assert!(error.contains(says), "{text:?}: {error}");
    }
}

/// As Python's udsoncan 1.26 reads them (`Dtc.Status.from_byte`).
#[test]
fn status_bits() {
    for (byte, bits) in [
        (0x01, &[0][..]),
        (0x08, &[3]),
        (0x09, &[0, 3]),
        (0x2F, &[0, 1, 2, 3, 5]),
        (0xAF, &[0, 1, 2, 3, 5, 7]),
        (0x50, &[4, 6]),
        (0x00, &[]),
    ] {
        let status = Status::from_byte(byte);
        let set: Vec<usize> = (0..8).filter(|n| status.bits()[*n]).collect();
        assert_eq!(set, bits, "{byte:#04x}");
    }
    assert!(Status::from_byte(0x50).words().contains("drive before"));
}

fn finding(
    kind: PartKind,
    role: Option<&str>,
    codes: &[&str],
    verdict: Option<Verdict>,
) -> Finding {
    Finding {
        name: "Y3/6".into(),
        kind,
        role: role.map(str::to_owned),
        codes: codes.iter().map(|c| code(c)).collect(),
        verdict,
    }
}

/// Cases argued from procedure step 19: common practice, no published source.
#[test]
fn explains_or_not() {
    use Answer::*;
    use PartKind::*;
    use Verdict::*;
    let table = Table::shipped().unwrap();
    let check = |text: &str, f: Finding, answer: Answer, says: &str| {
        let got = explain(&table, code(text), &f);
        let reason = got.reasons.join(" ");
        assert_eq!(got.answer, answer, "{text} {f:?}: {reason}");
        assert!(reason.contains(says), "{text}: {reason}");
    };
    let out = Some(OutOfSpec);
    let ok = Some(InSpec);
    check(
        "P0741",
        finding(OnOffSolenoid, None, &["P0741"], out),
        Explains,
        "maker's data tie",
    );
    check(
        "P0743",
        finding(LinearSolenoid, Some("lock-up"), &[], out),
        Explains,
        "lock-up clutch",
    );
    check(
        "P0741",
        finding(LinearSolenoid, Some("lock-up"), &[], out),
        Explains,
        "road test",
    );
    check(
        "P0743",
        finding(LinearSolenoid, None, &[], out),
        CantTell,
        "maker's diagram",
    );
    check(
        "P0753",
        finding(OnOffSolenoid, Some("A"), &[], out),
        Explains,
        "shift solenoid A",
    );
    check(
        "P0753",
        finding(OnOffSolenoid, Some("b"), &[], out),
        DoesNotExplain,
        "not what the code points at",
    );
    check(
        "P0753",
        finding(OnOffSolenoid, Some("a"), &[], ok),
        DoesNotExplain,
        "before the part is bought",
    );
    check(
        "P0741",
        finding(OnOffSolenoid, None, &["P0741"], ok),
        DoesNotExplain,
        "wiring, connector",
    );
    check(
        "P0710",
        finding(TemperatureSensor, None, &[], out),
        Explains,
        "temperature sensor",
    );
    check(
        "P0710",
        finding(OnOffSolenoid, None, &[], out),
        DoesNotExplain,
        "not what the code",
    );
    check(
        "P0710",
        finding(TemperatureSensor, None, &[], Some(TooCloseToCall)),
        CantTell,
        "too close",
    );
    check(
        "P0710",
        finding(TemperatureSensor, None, &[], None),
        CantTell,
        "Take its reading",
    );
    check(
        "P0731",
        finding(OnOffSolenoid, None, &[], out),
        CantTell,
        "maker's diagram",
    );
    check(
        "P0731",
        finding(OnOffSolenoid, None, &[], ok),
        DoesNotExplain,
        "pressure, wear and fluid",
    );
    check(
        "P0700",
        finding(OnOffSolenoid, None, &[], out),
        CantTell,
        "points at no part",
    );
    check(
        "P1745",
        finding(OnOffSolenoid, None, &[], out),
        CantTell,
        "maker's own code",
    );
    check(
        "P0300",
        finding(OnOffSolenoid, None, &[], out),
        CantTell,
        "not in the table",
    );
    check(
        "P0741-1C",
        finding(OnOffSolenoid, None, &["P0741"], out),
        Explains,
        "maker's data",
    );
}

#[test]
fn the_strongest_answer_counts() {
    let table = Table::shipped().unwrap();
    let findings = [
        finding(
            PartKind::OnOffSolenoid,
            Some("A"),
            &[],
            Some(Verdict::InSpec),
        ),
        finding(
            PartKind::LinearSolenoid,
            None,
            &["P0741"],
            Some(Verdict::OutOfSpec),
        ),
    ];
    let got = explain_all(
        &table,
        &[code("P0741"), code("P0753"), code("P0720")],
        &findings,
    );
    let answers: Vec<Answer> = got.iter().map(|e| e.answer).collect();
    assert_eq!(
        answers,
        [Answer::Explains, Answer::CantTell, Answer::DoesNotExplain]
    );
    let none = explain_all(&table, &[code("P0741")], &[]);
    assert_eq!(none[0].answer, Answer::CantTell);
}

/// Whatever the code and the part, nothing is promised.
#[test]
fn it_never_says_fixed() {
    let table = Table::shipped().unwrap();
    let verdicts = [
        None,
        Some(Verdict::InSpec),
        Some(Verdict::OutOfSpec),
        Some(Verdict::TooCloseToCall),
    ];
    let mut said = 0;
    for bits in (0x0700..=0x09FF).chain(0x2700..=0x27FF) {
        let code = Code::from_bytes(u16::to_be_bytes(bits)).unwrap();
        for verdict in verdicts {
            for role in [None, Some("A")] {
                let f = finding(PartKind::LinearSolenoid, role, &[], verdict);
                for reason in explain(&table, code, &f).reasons {
                    said += 1;
                    let lower = reason.to_lowercase();
                    for word in ["fixed", "repaired", "cured", "solved", "resolved"] {
                        assert!(!lower.contains(word), "{reason}");
                    }
                }
            }
        }
    }
    assert!(said > 8000);
}

#[test]
fn a_shop_writes_its_own_rows() {
    let shop = Table::read(
        r#"
        version = "7"
        [[row]]
        from = "P1745"
        to = "P1745"
        says = "the lock-up solenoid's current"
        nature = "circuit"
        parts = ["linear_solenoid"]
        role = "lock-up"
        source = "maker's manual, page 12"
        "#,
    )
    .unwrap();
    let table = Table::shipped().unwrap().extended_by(shop);
    let f = finding(
        PartKind::LinearSolenoid,
        Some("lock-up"),
        &[],
        Some(Verdict::OutOfSpec),
    );
    assert_eq!(explain(&table, code("P1745"), &f).answer, Answer::Explains);
    let row = |from: &str, to: &str, behaviour: &str| {
        Table::read(&format!(
            "version = \"1\"\n[[row]]\nfrom = \"{from}\"\nto = \"{to}\"\nsays = \"x\"\nnature = \"circuit\"\nbehaviour = [{behaviour}]\nparts = []\nsource = \"x\"\n"
        ))
    };
    assert!(matches!(
        row("P0750", "P0740", ""),
        Err(TableError::Range { .. })
    ));
    assert!(matches!(
        row("P0750", "U0100", ""),
        Err(TableError::Range { .. })
    ));
    assert!(matches!(
        row("P0750", "P0754", "\"P0760\""),
        Err(TableError::Stray { .. })
    ));
    assert!(matches!(
        row("X0750", "P0754", ""),
        Err(TableError::Form { .. })
    ));
}

#[test]
fn shipped_rows_do_not_overlap_and_name_their_source() {
    let table = Table::shipped().unwrap();
    for (at, row) in table.rows.iter().enumerate() {
        assert!(!row.source.is_empty() && !row.says.is_empty());
        assert!(
            table
                .rows
                .iter()
                .skip(at + 1)
                .all(|o| o.from > row.to || o.to < row.from),
            "{} overlaps another row",
            row.from
        );
    }
}

proptest! {
    #[test]
    fn bytes_there_and_back(bits in 1u16.., failure in proptest::option::of(any::<u8>())) {
        let [a, b] = bits.to_be_bytes();
        let code = match failure {
            None => Code::from_bytes([a, b]).unwrap(),
            Some(f) => Code::from_three_bytes([a, b, f]).unwrap(),
        };
        prop_assert_eq!(code.to_string().parse::<Code>().unwrap(), code);
        let json = serde_json::to_string(&code).unwrap();
        prop_assert_eq!(serde_json::from_str::<Code>(&json).unwrap(), code);
    }

    #[test]
    fn status_there_and_back(byte: u8) {
        let bits = Status::from_byte(byte).bits().into_iter().enumerate();
        let back = bits.fold(0, |byte, (n, set)| byte | u8::from(set) << n);
        prop_assert_eq!(back, byte);
    }

    #[test]
    fn any_text_is_answered(text in ".{0,12}") {
        let _ = text.parse::<Code>();
    }
}
