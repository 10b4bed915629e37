//! Values of the workshop: torque, codes, numbers of cars.

use super::*;

pub(super) fn rows(rows: &mut Rows) {
    let one = |unit: Unit| unit.to_base(1.0);
    rows.add(
        "1 lbf·ft in N·m",
        SP811,
        1.355818,
        one(Unit::PoundForceFoot),
        5e-7,
    );
    rows.add(
        "1 lbf·in in N·m",
        SP811,
        0.1129848,
        one(Unit::PoundForceInch),
        5e-8,
    );
    rows.add(
        "1 kgf·m in N·m",
        SP811,
        9.80665,
        one(Unit::KilogramForceMetre),
        1e-12,
    );
    rows.add(
        "195 lbf·in in N·m",
        ("US Army TM 1-1520-238-23, 6.41", By::Printed),
        22.03,
        Unit::PoundForceInch.to_base(195.0),
        5e-3,
    );
    let set = |wanted, lever_mm, adapter_mm, angle_deg| {
        let adapter = AdapterUsed {
            lever_mm,
            adapter_mm,
            angle_deg,
        };
        set_for(adapter, NewtonMetres(wanted)).map_or(f64::NAN, NewtonMetres::get)
    };
    rows.add(
        "80 N·m, 40 + 5 cm",
        CROWFOOT_PAGE,
        71.1,
        set(80.0, 400.0, 50.0, 0.0),
        0.05,
    );
    rows.add(
        "50, 16 + 2",
        CROWFOOT,
        44.4444,
        set(50.0, 160.0, 20.0, 0.0),
        5e-5,
    );
    rows.add(
        "10, 18 + 0.5",
        CROWFOOT,
        9.7297,
        set(10.0, 180.0, 5.0, 0.0),
        5e-5,
    );
    rows.add(
        "10 N·m, 250 + 40 mm at 45°",
        CROWFOOT,
        8.983619,
        set(10.0, 250.0, 40.0, 45.0),
        1e-6,
    );
    rows.add(
        "10 N·m, 250 + 40 mm at 135°",
        CROWFOOT,
        11.275700,
        set(10.0, 250.0, 40.0, 135.0),
        1e-6,
    );
    rows.add(
        "10 N·m, 250 + 40 mm square: no change",
        (
            "T L / (L + E cos θ) with cos 90° = 0 (US Army TM 9-254, fig. 4-6); a rule in use that turns it round is not followed",
            By::SameFormula,
        ),
        10.0,
        set(10.0, 250.0, 40.0, 90.0),
        1e-9,
    );
    let thread = |text: &str| text.parse::<Thread>();
    let area = |text| thread(text).map_or(f64::NAN, Thread::stress_area_mm2);
    rows.add("Stress area M6, mm²", ISO898, 20.1, area("M6"), 0.05);
    rows.add("Stress area M8, mm²", ISO898, 36.6, area("M8"), 0.05);
    rows.add("Stress area M10, mm²", ISO898, 58.0, area("M10"), 0.05);
    let torque = |text, mu| {
        thread(text).map_or(f64::NAN, |t| {
            tightness(t, PropertyClass::C8_8, mu).torque_nm
        })
    };
    rows.add(
        "M8x1 8.8, mu 0.10, N·m",
        VDI,
        22.8,
        torque("M8x1", 0.10),
        0.35,
    );
    rows.add(
        "M8x1 8.8, mu 0.14, N·m",
        VDI,
        29.2,
        torque("M8x1", 0.14),
        0.45,
    );
    rows.add(
        "M10x1.25 8.8, mu 0.12, N·m",
        VDI,
        51.0,
        torque("M10x1.25", 0.12),
        0.75,
    );
    let within = |at: f64, most_nm| {
        let limits = Limits {
            low: Some(9.0),
            high: Some(12.0),
        };
        tool_uncertainty(NewtonMetres(at), TorqueTool::Scale { most_nm })
            .map_or(f64::NAN, |u| probability(at, u.get(), limits))
    };
    rows.add(
        "p of 9.5 N·m, 9 to 12, 6 % tool",
        ISO6789,
        0.935662,
        within(9.5, 10.0),
        1e-6,
    );
    rows.add(
        "p of 9.2 N·m, 9 to 12, 4 % tool",
        ISO6789,
        0.826733,
        within(9.2, 40.0),
        1e-6,
    );
    rows.add(
        "p of 10 N·m, 9 to 12, 4 % tool",
        ISO6789,
        0.999993,
        within(10.0, 50.0),
        1e-6,
    );
    for (n, star) in [
        (4, "1 3 2 4"),
        (8, "1 5 3 7 2 6 4 8"),
        (12, "1 7 4 10 2 8 5 11 3 9 6 12"),
        (16, "1 9 5 13 3 11 7 15 2 10 6 14 4 12 8 16"),
    ] {
        let circle: Vec<[f64; 2]> = (0..n)
            .map(|i| f64::from(i) / f64::from(n) * std::f64::consts::TAU)
            .map(|a| [a.cos(), a.sin()])
            .collect();
        let star: Vec<u32> = star.split(' ').filter_map(|s| s.parse().ok()).collect();
        let ours: Vec<u32> = cross_sequence(&circle).iter().map(|i| i + 1).collect();
        let same = star.iter().zip(&ours).filter(|(a, b)| a == b).count();
        rows.add(
            &format!("Cross sequence of {n} bolts, places alike"),
            STAR,
            f64::from(n),
            same as f64,
            0.0,
        );
    }
    let vcf = |kg_m3, celsius| {
        let density = Density {
            kg_m3,
            half_width_kg_m3: 0.0,
        };
        volume_correction(density, celsius).unwrap_or(f64::NAN)
    };
    rows.add(
        "VCF 840 kg/m³, 80 °C",
        D1250,
        0.950785,
        vcf(840.0, 80.0),
        1e-6,
    );
    rows.add("VCF 850, -10 °C", D1250, 1.018358, vcf(850.0, -10.0), 1e-6);
    rows.add("VCF 860, 60 °C", D1250, 0.966849, vcf(860.0, 60.0), 1e-6);
    rows.add(
        "VCF 850, 80 over 20 °C",
        (
            "API MPMS 11.1-2004, full form; where its factors were read was not kept",
            By::FromMemory,
        ),
        0.951777 / 0.996713,
        vcf(850.0, 80.0) / vcf(850.0, 20.0),
        2e-5,
    );
}
