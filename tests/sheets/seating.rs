//! Shells of another family held against their seats by hand, and coated shells in the route by housing and shells.

use witnessmark::engine::TargetFeature as T;
use witnessmark::quantity::Unit;
use witnessmark::sheets::Standing;

use crate::bench::{Bench, MICROMETRE, THOU, close, is_missing};

/// A housing of 2.6895 in where the shells are made for 2.6885: 1.0 thou, and π times that of crush is gone.
#[test]
fn the_housing_is_held_against_what_the_shells_are_made_for() {
    let bench = Bench::inch().target(T::MainShellHousing, "mains", Unit::Inch, 2.6885);
    is_missing(&bench.finding("main-shell-housing@main.0"), "housing of main 1");
    let aimed = bench.clone().target(T::MainHousing, "mains", Unit::Inch, 2.6895);
    close(aimed.value("main-shell-housing@main.0"), 1.0 * THOU, 1e-12);
    is_missing(&aimed.finding("main-shell-housing@main.0"), "Target");
    let read = bench.read("main-housing-vertical@main.0", "2.6895").finding("main-shell-housing@main.0");
    assert_eq!(read.standing(), Standing::Figure);
    assert!(
        read.remarks.contains(&"the pair has 3.1\u{a0}thou less crush here than in what it is made for".to_owned())
    );
    assert!(Bench::inch().read("main-housing-vertical@main.0", "2.6895").find("main-shell-housing@main.0").is_none());
    // A rod's big end is read with the rods.
    let rod = Bench::millimetre()
        .target(T::RodShellHousing, "cylinders", Unit::Millimetre, 56.010)
        .read("rod-housing-vertical@cylinder.0.1", "56.000");
    close(rod.value("rod-shell-housing@cylinder.0.1"), -10.0 * MICROMETRE, 1e-12);
    let said = &rod.finding("rod-shell-housing@cylinder.0.1").remarks[0];
    assert!(said.contains("31\u{a0}µm more crush"), "{said}");
}

/// 24.0 − 24.4 mm: it stands out. 4.0 − 4.6: it lies on its tang. 6.0 − 5.0: not opposite. A tenth of play is none of these.
#[test]
fn width_and_tang_are_held_against_seat_and_notch() {
    let pairs = |seat: [&str; 3], shell: [&str; 3]| {
        ["width", "tang-width", "tang-from-edge"]
            .into_iter()
            .zip(["seat-width", "notch-width", "notch-from-edge"])
            .zip(seat.into_iter().zip(shell))
            .fold(Bench::millimetre(), |bench, ((of_shell, of_seat), (seat, shell))| {
                let of_shell = if of_shell == "width" { "shell-width" } else { of_shell };
                bench
                    .read(&format!("rod-{of_seat}@cylinder.0.0"), seat)
                    .read(&format!("rod-{of_shell}@cylinder.0.0"), shell)
            })
    };
    let other = pairs(["24.0", "4.0", "6.0"], ["24.4", "4.6", "5.0"]);
    close(other.value("rod-shell-width@cylinder.0.0"), -400.0 * MICROMETRE, 1e-12);
    close(other.value("rod-tang-place@cylinder.0.0"), 1000.0 * MICROMETRE, 1e-12);
    for (key, said) in [
        ("rod-shell-width", "stands out of its seat"),
        ("rod-tang-width", "does not enter"),
        ("rod-tang-place", "not opposite"),
    ] {
        let finding = other.finding(&format!("{key}@cylinder.0.0"));
        assert!(finding.remarks.iter().any(|remark| remark.contains(said)), "{finding:?}");
    }
    let own = pairs(["24.500", "4.600", "5.000"], ["24.400", "4.500", "5.000"]);
    for key in ["rod-shell-width", "rod-tang-width", "rod-tang-place"] {
        assert!(own.finding(&format!("{key}@cylinder.0.0")).remarks.is_empty());
    }
    let alone = Bench::millimetre().read("main-notch-width@main.2", "4.6");
    is_missing(&alone.finding("main-tang-width@main.2"), "width of the tang of main 3");
    assert!(alone.find("main-shell-width@main.2").is_none());
}

/// 2.941 − 2 × 0.0953 − 2.748 = 2.4 thou bare (C05-2); 0.3 thou on each half leaves 1.8.
#[test]
fn a_coating_is_taken_twice() {
    let bare = Bench::inch().reads(&[
        ("main-housing-vertical@main.0", "2.9410"),
        ("main-shell-wall-upper@main.0", "0.0953"),
        ("main-journal-front-0@main.0", "2.7480"),
    ]);
    close(bare.value("main-clearance-vertical@main.0"), 2.4 * THOU, 1e-12);
    let coated = bare.clone().target(T::MainShellCoating, "mains", Unit::Thou, 0.3);
    close(coated.value("main-clearance-vertical@main.0"), 1.8 * THOU, 1e-12);
    let working = &coated.finding("main-clearance-vertical@main.0").working[0];
    assert!(working.contains("− coating 2 × 0.3\u{a0}thou − journal 2.7480 = 1.8\u{a0}thou"), "{working}");
    close(coated.u("main-clearance-vertical@main.0"), bare.u("main-clearance-vertical@main.0"), 1e-12);
}
