//! Values of electrical parts.

use super::*;

pub(super) fn rows(rows: &mut Rows) {
    let both = |low, high| Limits { low, high };
    rows.add(
        "Zener diode, y -5.47 V, u 0.05, at most -5.40",
        JCGM,
        0.92,
        probability(-5.47, 0.05, both(None, Some(-5.40))),
        0.005,
    );
    rows.add(
        "Burst pressure, y 509.7 kPa, u 8.6, at least 490",
        JCGM,
        0.99,
        probability(509.7, 8.6, both(Some(490.0), None)),
        0.005,
    );
    rows.add(
        "SAE 40 oil, y 13.6, u 1.8, 12.5 to 16.3",
        JCGM,
        0.66,
        probability(13.6, 1.8, both(Some(12.5), Some(16.3))),
        0.005,
    );
    // The lowest reading that the code under test calls out of limits at 99.9 %.
    let guard = Guard { level: 0.999 };
    let fined = |kmh: f64| {
        let p = probability(kmh, 0.02 * kmh, both(None, Some(100.0)));
        verdict(p, guard) == Verdict::OutOfSpec
    };
    let (mut free, mut fine) = (100.0, 200.0);
    for _ in 0..60 {
        let middle = 0.5 * (free + fine);
        if fined(middle) {
            fine = middle;
        } else {
            free = middle;
        }
    }
    rows.add(
        "Speed limit 100 km/h, 2 %, 99.9 %: from where it is out of limits",
        JCGM,
        107.0,
        fine,
        0.5,
    );
    rows.add(
        "p, y 5.1, u 0.1, 5 to 6",
        SCIPY,
        0.841345,
        probability(5.1, 0.1, both(Some(5.0), Some(6.0))),
        1e-6,
    );
    rows.add(
        "p, y 5.5, u 0.4, 5 to 6",
        SCIPY,
        0.788700,
        probability(5.5, 0.4, both(Some(5.0), Some(6.0))),
        1e-6,
    );
    rows.add(
        "p, y 6.2, u 0.1, 5 to 6",
        SCIPY,
        0.022750,
        probability(6.2, 0.1, both(Some(5.0), Some(6.0))),
        1e-6,
    );
    rows.add(
        "Guard band, u 0.1, 95 %",
        SCIPY,
        0.16449,
        Guard { level: 0.95 }.band(0.1),
        5e-6,
    );
    rows.add(
        "5 ohm at 20 °C, at 80 °C",
        IEC,
        6.178782,
        5.0 * copper::factor(20.0, 80.0),
        1e-6,
    );
    rows.add(
        "6.2 ohm at 65 °C, at 20 °C",
        IEC,
        5.268447,
        6.2 * copper::factor(65.0, 20.0),
        1e-6,
    );
    rows.add(
        "5.3 ohm at 70 °C, at 20 °C",
        IEC,
        4.42972,
        5.3 * copper::factor(70.0, 20.0),
        5e-6,
    );
    rows.add(
        "Factor 25 to 100 °C",
        (
            "a table of factors, 25 to 200 °C, whose place was not kept",
            By::FromMemory,
        ),
        1.289,
        copper::factor(25.0, 100.0),
        5e-4,
    );
    let meter = |percent, counts, digit, reading| {
        let meter = Meter {
            accuracy: Accuracy { percent, counts },
            resolution: Some(digit),
        };
        meter.standard_uncertainty(reading, digit)
    };
    rows.add(
        "u of 5.6 ohm, 0.9 % + 2 x 0.1",
        GUM,
        0.144569,
        meter(0.9, 2.0, 0.1, 5.6),
        1e-6,
    );
    rows.add(
        "u of 22.4 ohm, 0.8 % + 5 x 0.1",
        GUM,
        0.392136,
        meter(0.8, 5.0, 0.1, 22.4),
        1e-6,
    );
    rows.add(
        "u of 0.250 ohm, 1 % + 2 x 0.001",
        GUM,
        0.002598,
        meter(1.0, 2.0, 0.001, 0.250),
        1e-6,
    );
    // 5.6 ohm with leads of 0.3 on one range: gain 0.9 % of 5.3 / √3, twice 0.1 / √12.
    let look = Sample::Value {
        value: 5.6,
        resolution: 0.1,
    };
    let leads_off = read_without_limits(&Reading {
        quantity: Quantity::Resistance,
        samples: vec![look; 3],
        leads: Leads::Read {
            ohms: 0.3,
            resolution: None,
        },
        part_temp: None,
        conductor: Conductor::Other,
        meter: Meter {
            accuracy: Accuracy {
                percent: 0.9,
                counts: 2.0,
            },
            resolution: None,
        },
        contact_shown: None,
    });
    rows.add(
        "u of 5.6 - 0.3 ohm on one range, 0.9 % + 2 x 0.1",
        LEADS,
        0.049245,
        leads_off.ok().and_then(|j| j.u).unwrap_or(f64::NAN),
        1e-6,
    );
    rows.add(
        "B, 20 to 100 °C",
        NTC,
        3431.97,
        ntc::b_value(2667.5, 20.0, 216.8, 100.0),
        0.01,
    );
    rows.add(
        "B, 40 to 80 °C",
        NTC,
        3441.87,
        ntc::b_value(1283.5, 40.0, 369.6, 80.0),
        0.01,
    );
    rows.add(
        "B, -20 to 130 °C",
        NTC,
        3379.39,
        ntc::b_value(15320.0, -20.0, 106.7, 130.0),
        0.01,
    );
    // Between two rows of the table the law is the B of both; a curve of three
    // constants through -20, 60 and 130 °C is the other way to say the same.
    let between = |celsius: f64, a: (f64, f64), b: (f64, f64)| {
        let row = |(celsius, ohms): (f64, f64)| SensorRow {
            celsius,
            low_ohms: ohms,
            high_ohms: ohms,
        };
        let data = SensorData::Table {
            rows: vec![row(a), row(b)],
        };
        Ntc::new(data)
            .and_then(|ntc| ntc.limits_at(celsius))
            .ok()
            .and_then(|limits| limits.low)
            .unwrap_or(f64::NAN)
    };
    let (cold, mild, warm) = ((20.0, 2667.5), (40.0, 1283.5), (60.0, 666.6));
    rows.add(
        "Sensor at 30 °C from rows at 20 and 40, ohm",
        STEINHART,
        1832.218,
        between(30.0, cold, mild),
        0.003 * 1832.218,
    );
    rows.add(
        "Sensor at 50 °C from rows at 40 and 60, ohm",
        STEINHART,
        917.002,
        between(50.0, mild, warm),
        0.003 * 917.002,
    );
    let cold_ohms = 20.0 * copper::factor(20.0, -20.0);
    rows.add(
        "20 ohm at 20 °C, at -20 °C",
        IEC,
        16.856582,
        cold_ohms,
        1e-6,
    );
    let limit = 15.0 * copper::factor(20.0, 80.0);
    rows.add("15 ohm limit at 20 °C, at 80 °C", IEC, 18.5363, limit, 5e-5);
    let z = |values: &[f64], at: usize| {
        let group = siblings::compare(values, 0.0);
        group
            .members
            .get(at)
            .and_then(|m| m.modified_z)
            .unwrap_or(f64::NAN)
    };
    let book = [2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3];
    rows.add(
        "Modified z of 8.2 in their ten",
        HOAGLIN,
        25.8558,
        z(&book, 8),
        1e-3,
    );
    rows.add(
        "Modified z of 8.3 in their ten",
        HOAGLIN,
        26.3055,
        z(&book, 9),
        1e-3,
    );
    rows.add(
        "Modified z of 2.1 in their ten",
        HOAGLIN,
        -1.5738,
        z(&book, 0),
        1e-3,
    );
    rows.add(
        "Modified z of 7.9 in five",
        HOAGLIN,
        18.2115,
        z(&[5.1, 5.2, 5.2, 5.3, 7.9], 4),
        1e-3,
    );
}
