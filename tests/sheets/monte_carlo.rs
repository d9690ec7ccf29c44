//! Propagated uncertainty of a whole sheet against Monte Carlo (as JCGM 101:2008 does it): every reading and every setting
//! drawn, the sheet worked out anew each time.

use std::collections::BTreeMap;

use witnessmark::engine::{FindingKey, SheetKey, WorkingUnit};
use witnessmark::metrology::standard_deviation;
use witnessmark::sheets::{Finding, TakeValue};

use crate::bench::{Bench, value};
use crate::deviates::Deviates;

/// The standard deviation of so many draws is good to 1/√(2·DRAWS), 0.6 %.
const DRAWS: usize = 15_000;
const AGREES: f64 = 0.02;

/// Two mains by three routes with journals of clear shape, so that no |x|, no largest and no farthest
/// route is undecided.
fn engine() -> Bench {
    let main = |bench: Bench, n: u8, lines: [(&str, &str); 9]| {
        lines.iter().fold(bench, |bench, (slot, typed)| bench.read(&format!("{slot}@main.{n}"), typed))
    };
    let slots = [
        "main-clearance-vertical",
        "main-journal-front-0",
        "main-journal-front-90",
        "main-journal-rear-0",
        "main-journal-rear-90",
        "main-shell-bore-vertical",
        "main-housing-vertical",
        "main-shell-wall-upper",
        "main-shell-wall-lower",
    ];
    let with = |typed: [&'static str; 9]| std::array::from_fn(|i| (slots[i], typed[i]));
    let one = with(["2.5", "2.7490", "2.7470", "2.7480", "2.7470", "2.7516", "2.9446", "0.0953", "0.0952"]);
    let two = with(["3.5", "2.7492", "2.7471", "2.7480", "2.7470", "2.7527", "2.9461", "0.0953", "0.0953"]);
    main(main(Bench::inline(2, 2, WorkingUnit::Inch), 0, one), 1, two)
}

/// What each reading can be off by alone, and with which others: from the gauges' stated figures, not from the sheet.
fn off_by(bench: &Bench) -> Vec<(f64, String, f64)> {
    let of = |(key, take): &(witnessmark::engine::SlotKey, witnessmark::sheets::Take)| {
        let name = key.to_string();
        let own = (1.3e-6_f64.powi(2) + take.resolution.powi(2) / 12.0).sqrt();
        let (setting, u) = match name.split('@').next().expect("a feature") {
            "main-clearance-vertical" => (format!("zeroed at {}", key.place), 1.5e-6),
            "main-shell-bore-vertical" => ("bore gauge, shells in".to_owned(), 1.5e-6),
            "main-housing-vertical" => ("bore gauge, housing".to_owned(), 1.5e-6),
            wall if wall.starts_with("main-shell-wall") => ("ball micrometer".to_owned(), 1.3e-6),
            _ => ("micrometer".to_owned(), 1.3e-6),
        };
        (own, setting, u)
    };
    bench.takes.iter().map(of).collect()
}

fn worked(bench: &Bench) -> Vec<Finding> {
    let book = bench.book();
    let found = [SheetKey::MainBearings, SheetKey::Crankshaft].into_iter().flat_map(|key| book.findings(key));
    found.filter(|finding| finding.value.is_some()).cloned().collect()
}

#[test]
fn the_main_bearings_against_monte_carlo() {
    let bench = engine();
    let off_by = off_by(&bench);
    let propagated: BTreeMap<FindingKey, f64> =
        worked(&bench).iter().map(|f| (f.key.clone(), f.value.as_ref().expect("a value").u())).collect();
    assert_eq!(propagated.len(), 15, "seven of each main and the spread: {:?}", propagated.keys());
    let mut drawn: BTreeMap<FindingKey, Vec<f64>> = BTreeMap::new();
    let mut deviates = Deviates(7);
    for _ in 0..DRAWS {
        let mut settings: BTreeMap<&str, f64> = BTreeMap::new();
        let mut shaken = bench.clone();
        for ((_, take), (own, setting, u)) in shaken.takes.iter_mut().zip(&off_by) {
            let shared = *settings.entry(setting.as_str()).or_insert_with(|| deviates.normal()) * u;
            let TakeValue::Figure(read) = take.value else { panic!("a figure") };
            take.value = TakeValue::Figure(read + own * deviates.normal() + shared);
        }
        for finding in worked(&shaken) {
            drawn.entry(finding.key.clone()).or_default().push(value(&finding));
        }
    }
    for (key, u) in propagated {
        let by_monte_carlo = standard_deviation(&drawn[&key]).expect("many draws");
        assert!((u / by_monte_carlo - 1.0).abs() < AGREES, "{key}: propagated {u}, drawn {by_monte_carlo}");
    }
}
