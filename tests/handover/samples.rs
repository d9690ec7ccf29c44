//! Invented cards: the smallest that is worth giving and the fullest a shop could want.

use witnessmark::drawing::bore_shape::{BoreShape, bore_shape};
use witnessmark::drawing::engine_plan::{EnginePlan, PlanLayout, PlanPlace, What, small_plan};
use witnessmark::drawing::limit_strip::{LimitStrip, StripRow, compact, strips_in_column};
use witnessmark::drawing::mark::Mark;
use witnessmark::handover::contents::{
    Align, Audience, Card, Cell, Column, Deviation, Line, MadeAt, OwnerNote, Paper, Section, ShopHead, SignOff, Table,
};

fn line(label: &str, value: &str, beneath: Option<&str>) -> Line {
    Line { label: label.to_owned(), value: value.to_owned(), beneath: beneath.map(str::to_owned) }
}

fn strings(texts: &[&str]) -> Vec<String> {
    texts.iter().map(|text| (*text).to_owned()).collect()
}

fn plan(layout: PlanLayout, banks: usize, cylinders: usize, mains: usize, order: Option<&str>) -> EnginePlan {
    let place = |number: usize| PlanPlace { label: number.to_string(), mark: None, key: None };
    let bank = |bank: usize| (1..=cylinders).skip(bank).step_by(banks).map(place).collect();
    EnginePlan {
        layout,
        banks: (0..banks).map(bank).collect(),
        mains: (1..=mains).map(place).collect(),
        show: What::Cylinders,
        stagger: if banks > 1 { 0.2 } else { 0.0 },
        firing_order: order.map(str::to_owned),
    }
}

/// A single, for its owner: everything short.
pub fn single() -> Card {
    Card {
        paper: Paper::A4,
        kind_title: "Spec card".to_owned(),
        shop: ShopHead {
            name: "Brenholt Engines".to_owned(),
            address_lines: strings(&["4 Old Foundry Lane", "Nether Wexcombe"]),
            phone: "555 0142".to_owned(),
        },
        audience: Audience::Owner,
        number: 1,
        replaces: None,
        job: "18".to_owned(),
        date: "12 March 2026".to_owned(),
        made_at: MadeAt { year: 2026, month: 3, day: 12, hour: 16, minute: 5, second: 9 },
        heading: "Wendle 350 single, 1934".to_owned(),
        sections: vec![Section {
            title: "Engine".to_owned(),
            lines: vec![
                line("owner", "A. Marrable", None),
                line("engine no.", "W 2217", None),
                line("bore × stroke", "71.0 × 88.0 mm", None),
                line("displacement", "348 cm³", Some("21.3 in³")),
                line("compression", "6.2 : 1", None),
            ],
            ..Section::default()
        }],
        set_to: vec![
            line("oil", "SAE 40, 1.7 L", None),
            line("tappets, cold", "0.05 / 0.10 mm", Some("in / ex, 0.002 / 0.004 in")),
            line("timing", "36° before top", None),
            line("plug gap", "0.5 mm", Some("0.020 in")),
            line("fuel", "95 octane", None),
            line("rev limit", "5200 rpm", None),
        ],
        plan: Some(small_plan(&plan(PlanLayout::Inline, 1, 1, 2, None))),
        run_in: strings(&[
            "Warm it through before any load.",
            "First 200 km: half throttle, no long pulls.",
            "Change the oil at 200 km.",
            "Head studs: re-torque once, cold.",
            "Bring it back at 800 km.",
        ]),
        notes: Vec::new(),
        cautions: strings(&["The makers' instructions and local codes come before this card."]),
        warranty: Some(
            "One year on our work and the parts we supplied. Ring before you take anything apart.".to_owned(),
        ),
        ..Card::default()
    }
}

/// A column of a table.
fn column(title: &str, align: Align) -> Column {
    Column { title: title.to_owned(), align }
}

/// Inches as the gauge gave them.
fn show(inches: f64) -> String {
    format!("{inches:.4}")
}

/// Seven mains with a strip each, one out and one on the line, and all of them on one scale.
fn main_bearings() -> Section {
    let strip = |value: f64, mark: Mark| LimitStrip {
        min: Some(0.0025),
        max: Some(0.0031),
        value: Some(value),
        expanded: 0.0001,
        target: Some(0.0028),
        spread: None,
        mark,
    };
    let mains: Vec<(f64, Mark)> = [0.0027, 0.0028, 0.0026, 0.0033, 0.00305, 0.0027, 0.0029]
        .into_iter()
        .zip([Mark::Good, Mark::Good, Mark::Good, Mark::Out, Mark::OnTheLine, Mark::Good, Mark::Good])
        .collect();
    let main_row = |(index, (value, mark)): (usize, &(f64, Mark))| {
        vec![
            Cell::of(format!("main {}", index + 1)),
            Cell { beneath: Some(format!("{:.1} µm", value * 25400.0)), ..Cell::of(show(*value)) },
            Cell::of("0.0025–0.0031"),
            Cell { strip: Some(compact(&strip(*value, *mark), "clearance", &show)), ..Cell::default() },
            Cell { mark: Some(*mark), ..Cell::of(mark.word()) },
        ]
    };
    Section {
        title: "Main bearing clearance, vertical".to_owned(),
        lines: vec![
            line("measured at", "68 °F, studs at 110 lbf·ft, oiled", None),
            line("gauge", "bore gauge 2, U = 0.0001 in", None),
        ],
        table: Some(Table {
            columns: vec![
                column("place", Align::Left),
                column("clearance, in", Align::Decimal),
                column("limits, in", Align::Left),
                column("", Align::Left),
                column("verdict", Align::Left),
            ],
            rows: mains.iter().enumerate().map(main_row).collect(),
        }),
        drawings: vec![strips_in_column(
            &mains
                .iter()
                .enumerate()
                .map(|(index, (value, mark))| StripRow {
                    label: format!("main {}", index + 1),
                    strip: strip(*value, *mark),
                    key: None,
                })
                .collect::<Vec<_>>(),
            "main clearances",
            &show,
        )],
    }
}

/// Twelve bores, a row each, and the shape of two of them.
fn bores() -> Section {
    let bore_row = |cylinder: usize| {
        let size = 3.9375 + f64::from(u8::try_from(cylinder % 4).unwrap()) * 0.0001;
        let mut row = vec![Cell::of(format!("{cylinder}"))];
        row.extend([0.0002, 0.0001, 0.0, 0.0001, 0.0, -0.0001].map(|more| Cell::of(show(size + more))));
        row.extend([Cell::of("0.0001"), Cell::of("0.0002"), Cell { mark: Some(Mark::Good), ..Cell::of("good") }]);
        row
    };
    let inch = 0.0254;
    let shape = |cylinder: usize| {
        let bore = BoreShape {
            label: format!("cylinder {cylinder}"),
            thrust: [3.9377, 3.9376, 3.9375].map(|d| Some(d * inch)),
            pin: [3.9375, 3.9375, 3.9374].map(|d| Some(d * inch)),
        };
        bore_shape(&bore, &|metres| format!("{:.4}", metres / inch))
    };
    Section {
        title: "Cylinder bores, in".to_owned(),
        lines: Vec::new(),
        table: Some(Table {
            columns: [
                ("cyl.", Align::Left),
                ("top thrust", Align::Decimal),
                ("top pin", Align::Decimal),
                ("middle thrust", Align::Decimal),
                ("middle pin", Align::Decimal),
                ("bottom thrust", Align::Decimal),
                ("bottom pin", Align::Decimal),
                ("out of round", Align::Decimal),
                ("taper", Align::Decimal),
                ("verdict", Align::Left),
            ]
            .map(|(title, align)| column(title, align))
            .to_vec(),
            rows: (1..=12).map(bore_row).collect(),
        }),
        drawings: vec![shape(1), shape(2)],
    }
}

/// Who signed which step; one was done elsewhere.
fn sign_offs() -> Vec<SignOff> {
    let steps = [
        "Check-in",
        "Tear-down",
        "Cleaning and crack test",
        "Block machining",
        "Crank",
        "Short block",
        "Heads",
        "Final assembly",
        "Test run",
        "Hand-over",
    ];
    let signed = |(index, step): (usize, &&str)| SignOff {
        step: (*step).to_owned(),
        by: if index % 2 == 0 { "Philippa Quillhaven" } else { "Obadiah Threlkeld" }.to_owned(),
        on: format!("{} February 2026", index + 11),
        remark: (index == 3).then(|| "done elsewhere: Tarn Valley Grinding".to_owned()),
    };
    steps.iter().enumerate().map(signed).collect()
}

/// Twelve cylinders, for the shop: every part of a card, long names, a table row and a strip for each place.
pub fn twelve() -> Card {
    Card {
        paper: Paper::Letter,
        audience: Audience::Shop,
        number: 3,
        replaces: Some(2),
        job: "2026-0107 marine".to_owned(),
        shop: ShopHead {
            name: "Quillhaven & Daughters Precision Engine Reconditioning".to_owned(),
            address_lines: strings(&["Unit 7, The Old Ropeworks, Lower Tidewater Road", "Port Emmerlin, North Shore 40771"]),
            phone: "+1 555 0199 ext. 27".to_owned(),
        },
        heading: "Harrowgate Meridian V-12 marine, 7.2 L, twin-turbocharged, port engine of the pair".to_owned(),
        sections: vec![
            Section {
                title: "Owner".to_owned(),
                lines: vec![
                    line("name", "Constantijn van Oosterhout-Featherstonehaugh", None),
                    line("vessel", "motor yacht \"Réveil de l'Étoile\"", None),
                ],
                ..Section::default()
            },
            Section {
                title: "Engine".to_owned(),
                lines: vec![
                    line("block", "HM12-004417-B", Some("std bore + 0.030 in")),
                    line("crank", "HM12-C-20931, mains 10 under", None),
                    line("heads", "HM12-H-1187 left, HM12-H-1188 right", None),
                    line("bore × stroke", "3.9375 × 3.0000 in", Some("100.01 × 76.20 mm")),
                    line("displacement", "438 in³", Some("7.18 L")),
                    line("compression", "8.9 : 1 ± 0.1", None),
                    line("rotation", "counter-clockwise seen from the flywheel", None),
                ],
                ..Section::default()
            },
            main_bearings(),
            bores(),
        ],
        set_to: vec![
            line("oil, with filters", "SAE 15W-40, 18.5 qt", Some("17.5 L")),
            line("valve lash, hot", "0.012 in / 0.020 in", Some("inlet / exhaust, 0.30 / 0.51 mm")),
            line("ignition timing", "10° at idle, 32° all in at 3000 rpm", None),
            line("plugs", "14 mm, ¾ in reach, gap 0.028 in", None),
            line("fuel", "93 octane (R+M)/2 or better, no ethanol", None),
            line("rev limit", "5600 rpm, governed", None),
            line("oil pressure, hot", "15 psi idle, 55 psi at 3000 rpm", Some("1.0 / 3.8 bar")),
            line("re-torque", "heads cold after 5 h: 95 lbf·ft", None),
        ],
        plan: Some(small_plan(&plan(PlanLayout::Vee, 2, 12, 7, Some("1-12-5-8-3-10-6-7-2-11-4-9")))),
        run_in: strings(&[
            "Prime the oil until the gauge shows pressure; then start, and hold 1800 rpm for 20 minutes.",
            "First 10 hours: never over 3500 rpm, never at steady speed for more than 10 minutes.",
            "Change oil and both filters at 10 hours; cut the filters open and keep the media for us.",
            "Re-torque the heads cold, in the sequence stamped on the rocker covers.",
            "Full load after 25 hours, and then only with the oil over 140 °F.",
        ]),
        notes: vec![OwnerNote {
            title: "About main 4".to_owned(),
            text: "Main 4 has a little more clearance than we like. We chose it over grinding a hardened crank again; it runs \
                   with the oil named above, and we look at it at the first service."
                .to_owned(),
        }],
        cautions: strings(&[
            "The makers' instructions, local codes and licensed practice come before this card.",
            "Fuel, gas and flue connections are work for those licensed to do it.",
        ]),
        warranty: Some(
            "Two seasons or 400 hours, whichever is first, on workmanship and on parts we supplied; not on overheating, \
             over-revving or fuel other than named here."
                .to_owned(),
        ),
        deviations: vec![Deviation {
            what: "main 4 clearance".to_owned(),
            found: "0.0033 in; limits 0.0025 to 0.0031 in".to_owned(),
            reason: "crank is nitrided; one size under would go through the case. Agreed with the owner by phone.".to_owned(),
            by: "Philippa Quillhaven".to_owned(),
            on: "4 March 2026".to_owned(),
        }],
        sign_offs: sign_offs(),
        head_hash: Some("9f2c77d1e04b5a6688301c5f7be2d90a4471c8e35d6f02b9a7c1e4d8f3506b2e".to_owned()),
        ..single()
    }
}

/// The same twelve as its owner gets it: no limits, clearances or verdicts.
pub fn twelve_for_owner() -> Card {
    let full = twelve();
    Card {
        audience: Audience::Owner,
        sections: full.sections.iter().filter(|section| section.table.is_none()).cloned().collect(),
        deviations: Vec::new(),
        sign_offs: Vec::new(),
        head_hash: None,
        ..full
    }
}

/// An ordinary vee eight for its owner, with all an owner's card usually holds.
pub fn eight() -> Card {
    let full = twelve();
    Card {
        audience: Audience::Owner,
        number: 1,
        replaces: None,
        job: "1042".to_owned(),
        shop: ShopHead { name: "Quillhaven & Daughters".to_owned(), ..full.shop.clone() },
        heading: "Merrow 511 marine V-8".to_owned(),
        sections: vec![Section {
            title: "Engine".to_owned(),
            lines: vec![
                line("owner", "C. van Oosterhout", None),
                line("block", "MW8-004417", None),
                line("crank", "MW8-C-931, mains 10 under", None),
                line("heads", "1187 left, 1188 right", None),
                line("bore × stroke", "4.375 × 4.250 in", Some("111.1 × 108.0 mm")),
                line("displacement", "511 in³", Some("8.37 L")),
                line("compression", "9.6 : 1", None),
            ],
            ..Section::default()
        }],
        plan: Some(small_plan(&plan(PlanLayout::Vee, 2, 8, 5, Some("1-8-4-3-6-5-7-2")))),
        deviations: Vec::new(),
        sign_offs: Vec::new(),
        head_hash: None,
        ..full
    }
}
