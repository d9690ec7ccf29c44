//! Main bearings by hand: four routes to the clearance, whether they agree, the journal's shape.

use witnessmark::engine::TargetFeature;
use witnessmark::metrology::Verdict;
use witnessmark::quantity::Unit;
use witnessmark::sheets::{Basis, Standing};

use crate::bench::{Bench, MICROMETRE, TENTH, THOU, close, is_missing, value, verdict};

const CLEARANCE: &str = "main-clearance-vertical@main.0";
/// A bore gauge or micrometer reading told to a tenth, without its setting: √(1.3² + 2.54²/12) µm.
const OWN: f64 = 1.492_526e-6;
const BORE_GAUGE: f64 = 1.5e-6;
const MICROMETER: f64 = 1.3e-6;

/// Housing 64.85, walls 2.368, journal 60.07 mm: C = 44 µm, 0.732 478 77 µm/mm. Worked independently; not published.
#[test]
fn by_housing_and_shells_in_millimetres() {
    let bench = Bench::millimetre().reads(&[
        ("main-housing-vertical@main.0", "64.850"),
        ("main-shell-wall-upper@main.0", "2.368"),
        ("main-shell-wall-lower@main.0", "2.368"),
        ("main-journal-front-0@main.0", "60.070"),
    ]);
    close(bench.value(CLEARANCE), 44.0 * MICROMETRE, 1e-12);
    close(bench.value("main-clearance-per-diameter@main.0"), 0.000_732_478_77, 1e-11);
    let finding = bench.finding(CLEARANCE);
    assert_eq!(finding.working, ["housing 64.850 − shells 2.368 − 2.368 − journal 60.070 = 44\u{a0}µm"]);
    assert_eq!(finding.readings.len(), 4);
}

/// Housing 2.941, wall 0.0953, journal 2.748 in: C = 0.0024 in. Worked independently; not published.
#[test]
fn by_housing_and_shells_in_inches() {
    let bench = Bench::inch().reads(&[
        ("main-housing-vertical@main.0", "2.9410"),
        ("main-shell-wall-upper@main.0", "0.0953"),
        ("main-shell-wall-lower@main.0", "0.0953"),
        ("main-journal-front-0@main.0", "2.7480"),
    ]);
    close(bench.value(CLEARANCE), 2.4 * THOU, 1e-12);
}

/// Two shells of one ball micrometer: 2² of its setting, each wall's own once; one shell for both: 2² of that too.
#[test]
fn one_shell_speaks_for_both_and_is_less_sure() {
    let one = Bench::inch().reads(&[
        ("main-housing-vertical@main.0", "2.9410"),
        ("main-shell-wall-lower@main.0", "0.0953"),
        ("main-journal-front-0@main.0", "2.7480"),
    ]);
    let two = one.clone().read("main-shell-wall-upper@main.0", "0.0953");
    close(one.value(CLEARANCE), two.value(CLEARANCE), 1e-15);
    let rest = OWN * OWN + BORE_GAUGE * BORE_GAUGE + OWN * OWN + MICROMETER * MICROMETER;
    let setting = 4.0 * MICROMETER * MICROMETER;
    close(two.u(CLEARANCE), (rest + setting + 2.0 * OWN * OWN).sqrt(), 1e-11);
    close(one.u(CLEARANCE), (rest + setting + 4.0 * OWN * OWN).sqrt(), 1e-11);
}

/// The gauge zeroed on the journal: the reading is the clearance, and nothing else is asked for.
#[test]
fn direct() {
    let bench = Bench::inch().read("main-clearance-vertical@main.0", "2.5");
    let finding = bench.finding(CLEARANCE);
    close(value(&finding), 2.5 * THOU, 1e-15);
    close(bench.u(CLEARANCE), OWN.hypot(BORE_GAUGE), 1e-11);
    assert_eq!((finding.basis.clone(), finding.standing()), (Basis::Readings, Standing::Figure));
    assert_eq!(finding.working, ["read 2.5\u{a0}thou with the gauge zeroed on the journal"]);
    assert!(bench.find("main-clearance-per-diameter@main.0").is_none(), "no diameter is known");
    let with_nominal = bench.target(TargetFeature::MainJournal, "mains", Unit::Inch, 2.5);
    let ratio = with_nominal.finding("main-clearance-per-diameter@main.0");
    close(value(&ratio), 0.001, 1e-12);
    assert_eq!(ratio.remarks, ["on the journal's target size"]);
}

/// 2.7505 − 2.7480 = 2.5 thou, both diameters with their own setting.
#[test]
fn shells_in_cap_down() {
    let bench = Bench::inch()
        .reads(&[("main-shell-bore-vertical@main.0", "2.7505"), ("main-journal-front-0@main.0", "2.7480")]);
    close(bench.value(CLEARANCE), 2.5 * THOU, 1e-12);
    let (bore, journal) = (OWN.hypot(BORE_GAUGE), OWN.hypot(MICROMETER));
    close(bench.u(CLEARANCE), bore.hypot(journal), 1e-11);
    close(bench.value("main-clearance-per-diameter@main.0"), 0.0025 / 2.748, 1e-11);
}

/// The largest journal reading leaves the least room.
#[test]
fn the_largest_journal_reading_counts() {
    let bench = Bench::inch().reads(&[
        ("main-shell-bore-vertical@main.0", "2.7505"),
        ("main-journal-front-0@main.0", "2.7478"),
        ("main-journal-front-90@main.0", "2.7480"),
        ("main-journal-rear-0@main.0", "2.7477"),
        ("main-journal-rear-90@main.0", "2.7479"),
    ]);
    close(bench.value(CLEARANCE), 2.5 * THOU, 1e-12);
    close(bench.value("main-journal-out-of-round@main.0"), 2.0 * TENTH, 1e-12);
    let taper = bench.finding("main-journal-taper@main.0");
    close(value(&taper), TENTH, 1e-12);
    assert!(taper.within_noise, "a tenth of means of two");
}

#[test]
fn a_journals_taper_compares_the_same_diameters() {
    let bench =
        Bench::inch().reads(&[("main-journal-front-0@main.0", "2.7480"), ("main-journal-rear-90@main.0", "2.7474")]);
    assert!(bench.find("main-journal-taper@main.0").is_none());
    let taper = bench.read("main-journal-rear-0@main.0", "2.7477").finding("main-journal-taper@main.0");
    close(value(&taper), 3.0 * TENTH, 1e-12);
    assert_eq!(taper.remarks, ["0° only", "larger at the front"]);
}

#[test]
fn a_journal_not_measured_is_not_missing() {
    let bench = Bench::inch().read("main-clearance-vertical@main.0", "2.5");
    for finding in bench.book().findings(witnessmark::engine::SheetKey::MainBearings) {
        let shape = finding.key.to_string().starts_with("main-journal");
        assert!(!shape, "{}", finding.key);
    }
}

#[test]
fn plastic_strip() {
    let bench = Bench::inch().read("main-plastic-strip@main.0", "2.5");
    close(bench.value(CLEARANCE), 2.5 * THOU, 1e-15);
    // A quarter thou by eye, and no setting to share.
    close(bench.u(CLEARANCE), (6.4e-6_f64.powi(2) + 2.54e-6_f64.powi(2) / 12.0).sqrt(), 1e-12);
}

fn all_four(strip: &str, shell_bore: &str) -> Bench {
    Bench::inch().reads(&[
        ("main-clearance-vertical@main.0", "2.4"),
        ("main-shell-bore-vertical@main.0", shell_bore),
        ("main-housing-vertical@main.0", "2.9410"),
        ("main-shell-wall-upper@main.0", "0.0953"),
        ("main-shell-wall-lower@main.0", "0.0953"),
        ("main-journal-front-0@main.0", "2.7480"),
        ("main-plastic-strip@main.0", strip),
    ])
}

/// The surest route gives the clearance; the others stand beside it, and agree.
#[test]
fn four_routes_at_once() {
    let bench = all_four("2.5", "2.7505");
    let clearance = bench.finding(CLEARANCE);
    close(value(&clearance), 2.4 * THOU, 1e-15);
    assert_eq!(
        clearance.remarks,
        [
            "by shells in, cap down: 2.5\u{a0}thou",
            "by housing and shells: 2.4\u{a0}thou",
            "by plastic strip: 2.5\u{a0}thou"
        ]
    );
    let routes = bench.finding("main-routes@main.0");
    assert_eq!(verdict(&routes), Verdict::Good);
    assert_eq!(routes.remarks, ["the routes agree within what they can tell"]);
    // The farthest in its own terms is the shell bore: 0.1 thou of ± 2·√(direct² + bore² + journal²).
    let (direct, bore, journal) = (OWN.hypot(BORE_GAUGE), OWN.hypot(BORE_GAUGE), OWN.hypot(MICROMETER));
    close(value(&routes), -0.1 * THOU, 1e-12);
    close(bench.u("main-routes@main.0"), (direct * direct + bore * bore + journal * journal).sqrt(), 1e-11);
}

/// Two routes over the same journal reading: the journal cancels in their difference.
#[test]
fn what_two_routes_share_cancels_between_them() {
    let bench = Bench::inch().reads(&[
        ("main-shell-bore-vertical@main.0", "2.7505"),
        ("main-housing-vertical@main.0", "2.9410"),
        ("main-shell-wall-upper@main.0", "0.0953"),
        ("main-shell-wall-lower@main.0", "0.0953"),
        ("main-journal-front-0@main.0", "2.7480"),
    ]);
    let bores = 2.0 * (OWN * OWN + BORE_GAUGE * BORE_GAUGE);
    let shells = 2.0 * OWN * OWN + 4.0 * MICROMETER * MICROMETER;
    close(bench.u("main-routes@main.0"), (bores + shells).sqrt(), 1e-11);
}

/// Shells of another family lie in the bore, 0.4 thou thinner each: the bore reads 0.8 thou larger than housing less twice
/// the wall on the bench says. The geometry is 2 × the difference of wall.
#[test]
fn a_shell_of_the_wrong_family_is_found_out() {
    let routes = Bench::inch()
        .reads(&[
            ("main-shell-bore-vertical@main.0", "2.7512"),
            ("main-housing-vertical@main.0", "2.9410"),
            ("main-shell-wall-upper@main.0", "0.0953"),
            ("main-shell-wall-lower@main.0", "0.0953"),
            ("main-journal-front-0@main.0", "2.7480"),
        ])
        .finding("main-routes@main.0");
    close(value(&routes), 2.0 * 0.4 * THOU, 1e-12);
    assert_eq!((verdict(&routes), routes.standing()), (Verdict::Out, Standing::Out));
    assert!(routes.remarks[0].contains("shells, cap, torque, dirt"), "{:?}", routes.remarks);
}

/// A strip is coarse: half a thou off it still agrees, and a thou and a half does not.
#[test]
fn a_strip_agrees_within_what_a_strip_can_tell() {
    let against = |strip| {
        Bench::inch()
            .reads(&[("main-clearance-vertical@main.0", "2.5"), ("main-plastic-strip@main.0", strip)])
            .finding("main-routes@main.0")
    };
    assert_eq!(verdict(&against("3.0")), Verdict::Good);
    assert_eq!(verdict(&against("4.0")), Verdict::Out);
}

#[test]
fn one_route_has_nothing_to_agree_with() {
    assert!(Bench::inch().read("main-clearance-vertical@main.0", "2.5").find("main-routes@main.0").is_none());
}

/// Shells thin towards the parting line, so that housing and crown walls do not give the clearance there.
#[test]
fn near_the_parting_line() {
    let bench = Bench::inch().reads(&[
        ("main-clearance-vertical@main.0", "2.5"),
        ("main-clearance-parting@main.0", "3.2"),
        ("main-shell-bore-parting@main.1", "2.7513"),
        ("main-journal-front-0@main.1", "2.7480"),
        ("main-housing-parting@main.2", "2.9410"),
        ("main-shell-wall-upper@main.2", "0.0953"),
        ("main-journal-front-0@main.2", "2.7480"),
    ]);
    close(bench.value("main-clearance-parting@main.0"), 3.2 * THOU, 1e-12);
    close(bench.value("main-clearance-parting@main.1"), 3.3 * THOU, 1e-12);
    assert!(bench.find("main-clearance-parting@main.2").is_none());
    is_missing(&bench.finding("main-clearance-vertical@main.1"), "clearance of main 2");
}

/// Zeroed anew at each main, each clearance has its own setting; by shell bore and journal the two settings are shared.
#[test]
fn spread_by_route() {
    let direct =
        Bench::inch().reads(&[("main-clearance-vertical@main.0", "2.5"), ("main-clearance-vertical@main.3", "2.8")]);
    let spread = direct.finding("main-clearance-spread@mains");
    close(value(&spread), 0.3 * THOU, 1e-12);
    close(direct.u("main-clearance-spread@mains"), 2.0_f64.sqrt() * OWN.hypot(BORE_GAUGE), 1e-11);
    assert_eq!(spread.working, ["main 4 2.8\u{a0}thou − main 1 2.5\u{a0}thou = 0.3\u{a0}thou"]);
    assert!(!spread.within_noise);
    let by_bore = Bench::inch().reads(&[
        ("main-shell-bore-vertical@main.0", "2.7505"),
        ("main-journal-front-0@main.0", "2.7480"),
        ("main-shell-bore-vertical@main.1", "2.7506"),
        ("main-journal-front-0@main.1", "2.7480"),
    ]);
    close(by_bore.u("main-clearance-spread@mains"), 2.0 * OWN, 1e-11);
    assert!(by_bore.finding("main-clearance-spread@mains").within_noise);
    assert!(Bench::inch().read(CLEARANCE, "2.5").find("main-clearance-spread@mains").is_none());
}
