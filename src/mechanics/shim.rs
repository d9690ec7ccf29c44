//! Shim packs of a poured bearing with its cap: which leaves to leave in for a wanted clearance.
//!
//! Both sides get the same pack, or the cap stands askew and binds.

use thiserror::Error;

/// Leaves of one thickness that one side may have: those in its pack and those to be had besides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaves {
    pub thickness_m: f64,
    pub count: u8,
}

/// A pack for each side.
#[derive(Clone, Debug, PartialEq)]
pub struct Pack {
    /// How many leaves of each thickness, in the order they were given.
    pub counts: Vec<u8>,
    pub thickness_m: f64,
    /// Diametral clearance across the joint.
    pub clearance_m: f64,
}

/// The packs next to a target. Both are the same where one meets it.
#[derive(Clone, Debug, PartialEq)]
pub struct Packs {
    /// The largest clearance not above the target.
    pub below: Option<Pack>,
    /// The smallest clearance not below the target.
    pub above: Option<Pack>,
}

/// Why no pack can be named.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum ShimFault {
    #[error("a leaf is thicker than nothing and thinner than 100 mm")]
    Leaf,
    #[error("a pack cannot be thinner than nothing")]
    Pack,
    #[error("a clearance to aim at is above zero")]
    Target,
    #[error("so many leaves make too many packs to look at: give fewer, or only those that come into question")]
    TooMany,
}

const THICKEST_LEAF_M: f64 = 0.1;
const MOST_PACKS: usize = 100_000;
/// Clearances nearer than this are the same.
const SAME_M: f64 = 1e-9;

/// The packs nearest to a target clearance from below and from above; of packs as thick, that with the fewest leaves.
///
/// Geometry: as much as the packs grow on both sides, the cap comes away and the bore grows across the joint:
/// `C = C_now + pack − pack_now`, thicknesses of one side. Along the joint nothing changes, so after more than a few
/// hundredths of a millimetre the bore is scraped or bored round again. Packs that leave no clearance are not named.
pub fn shim_packs(clearance_m: f64, pack_m: f64, leaves: &[Leaves], target_m: f64) -> Result<Packs, ShimFault> {
    if leaves.iter().any(|leaf| leaf.thickness_m <= 0.0 || leaf.thickness_m >= THICKEST_LEAF_M) {
        return Err(ShimFault::Leaf);
    }
    if pack_m < 0.0 {
        return Err(ShimFault::Pack);
    }
    if target_m <= 0.0 {
        return Err(ShimFault::Target);
    }
    let packs = leaves.iter().try_fold(1_usize, |packs, leaf| packs.checked_mul(usize::from(leaf.count) + 1));
    if packs.is_none_or(|packs| packs > MOST_PACKS) {
        return Err(ShimFault::TooMany);
    }
    let mut nearest = Packs { below: None, above: None };
    let mut counts = Some(vec![0; leaves.len()]);
    while let Some(now) = counts {
        let thickness_m: f64 = now.iter().zip(leaves).map(|(count, leaf)| f64::from(*count) * leaf.thickness_m).sum();
        let pack = Pack { counts: now.clone(), thickness_m, clearance_m: clearance_m + thickness_m - pack_m };
        if pack.clearance_m > SAME_M {
            let off = pack.clearance_m - target_m;
            if off <= SAME_M {
                keep_nearer(&mut nearest.below, &pack, target_m);
            }
            if off >= -SAME_M {
                keep_nearer(&mut nearest.above, &pack, target_m);
            }
        }
        counts = next(now, leaves);
    }
    Ok(nearest)
}

fn keep_nearer(kept: &mut Option<Pack>, pack: &Pack, target_m: f64) {
    let off = |pack: &Pack| (pack.clearance_m - target_m).abs();
    let number = |pack: &Pack| pack.counts.iter().map(|count| u32::from(*count)).sum::<u32>();
    let nearer = kept.as_ref().is_none_or(|kept| {
        let gain = off(kept) - off(pack);
        gain > SAME_M || gain >= -SAME_M && number(pack) < number(kept)
    });
    if nearer {
        *kept = Some(pack.clone());
    }
}

/// The next of all packs there are, counting up the first leaf first.
fn next(mut counts: Vec<u8>, leaves: &[Leaves]) -> Option<Vec<u8>> {
    for (count, leaf) in counts.iter_mut().zip(leaves) {
        if *count < leaf.count {
            *count += 1;
            return Some(counts);
        }
        *count = 0;
    }
    None
}
