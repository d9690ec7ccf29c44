//! Shim packs of poured bearings. Geometry, worked by hand in thou.

use witnessmark::mechanics::shim::{Leaves, Pack, ShimFault, shim_packs};

use crate::assert_close;

const THOU: f64 = 25.4e-6;

fn leaves(thou: f64, count: u8) -> Leaves {
    Leaves { thickness_m: thou * THOU, count }
}

#[track_caller]
fn assert_pack(pack: Option<&Pack>, counts: &[u8], clearance_thou: f64) {
    let pack = pack.expect("a pack");
    assert_eq!(pack.counts, counts);
    assert_close(pack.clearance_m / THOU, clearance_thou, 1e-6);
}

/// 5 thou with ten leaves of 2 thou a side: for 2, one leaf out leaves 3 and two leave 1.
#[test]
fn peeling() {
    let packs = shim_packs(5.0 * THOU, 20.0 * THOU, &[leaves(2.0, 10)], 2.0 * THOU).unwrap();
    assert_pack(packs.above.as_ref(), &[9], 3.0);
    assert_pack(packs.below.as_ref(), &[8], 1.0);
}

/// With thinner leaves besides the target is met, and both sides of it are the same pack, of the fewest leaves.
#[test]
fn met_exactly() {
    let set = [leaves(2.0, 10), leaves(1.0, 4)];
    let packs = shim_packs(5.0 * THOU, 20.0 * THOU, &set, 2.0 * THOU).unwrap();
    assert_pack(packs.below.as_ref(), &[8, 1], 2.0);
    assert_eq!(packs.below, packs.above);
}

/// All leaves in leave 5, and none less than nothing.
#[test]
fn only_one_side_of_the_target() {
    let packs = shim_packs(5.0 * THOU, 4.0 * THOU, &[leaves(2.0, 2)], 8.0 * THOU).unwrap();
    assert_pack(packs.below.as_ref(), &[2], 5.0);
    assert_eq!(packs.above, None);
    let packs = shim_packs(5.0 * THOU, 6.0 * THOU, &[leaves(6.0, 1)], 2.0 * THOU).unwrap();
    assert_eq!(packs.below, None);
    assert_pack(packs.above.as_ref(), &[1], 5.0);
}

#[test]
fn what_cannot_be() {
    let fault = |pack, leaves: &[Leaves], target| shim_packs(5.0 * THOU, pack, leaves, target).unwrap_err();
    assert_eq!(fault(4.0 * THOU, &[leaves(0.0, 2)], THOU), ShimFault::Leaf);
    assert_eq!(fault(4.0 * THOU, &[leaves(4000.0, 2)], THOU), ShimFault::Leaf);
    assert_eq!(fault(-THOU, &[leaves(2.0, 2)], THOU), ShimFault::Pack);
    assert_eq!(fault(4.0 * THOU, &[leaves(2.0, 2)], 0.0), ShimFault::Target);
    assert_eq!(fault(4.0 * THOU, &[leaves(2.0, 255); 3], THOU), ShimFault::TooMany);
}
