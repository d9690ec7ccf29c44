//! What a reading is expected to be, from what stands in the book: the intervals that misreads are told by.
//!
//! A reading is compared with the middle of the same feature at the other places, in deviations from each place's own
//! target where there is one. How far readings scatter is taken from those that stand, as 1.4826 times the median of their
//! deviations (the normal distribution's ratio of standard deviation to median deviation, 1/Φ⁻¹(3/4)), which a slip among them
//! does not move; never as less than what is usual for finished parts, or for worn parts as they came, and the gauge can tell.

use super::{Book, Slot};
use crate::engine::{FindingFeature, Place, Ring, Setup, SheetKey, SlotFeature, SlotKey, Spot, TargetFeature};
use crate::metrology::{Band, default_reading_u, mean_of, standard_deviation};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

/// What is known beside the readings of this round.
#[derive(Clone, Debug, Default)]
pub struct Background {
    /// Sheets whose round reads parts as they came: worn, and far less alike than finished ones.
    pub as_came: BTreeSet<SheetKey>,
    /// What earlier engines of the family read, of two engines or more.
    pub family: BTreeMap<SlotFeature, FamilyHistory>,
}

/// What earlier engines of a family read of one feature: less the target where there is one. In m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FamilyHistory {
    pub mean: f64,
    /// Standard deviation of single readings over all engines.
    pub spread: f64,
}

impl FamilyHistory {
    /// The history of each feature that two engines or more have read. `read` gives of each reading which engine it is of,
    /// the targets of that job, the slot and the figure in m.
    pub fn by_feature<'a>(
        setup: &Setup,
        read: impl IntoIterator<Item = (i64, &'a Setup, &'a SlotKey, f64)>,
    ) -> BTreeMap<SlotFeature, Self> {
        let mut by_feature: BTreeMap<SlotFeature, (BTreeSet<i64>, Vec<f64>)> = BTreeMap::new();
        for (engine, then, slot, si) in read {
            let whole = SlotKey::new(slot.feature.clone(), slot.place.whole());
            let from = nominal(then, slot);
            // What was told from a target says nothing where none is set, nor the other way round.
            if from.is_some() == nominal(setup, &whole).is_some() {
                let (engines, figures) = by_feature.entry(slot.feature.clone()).or_default();
                engines.insert(engine);
                figures.push(si - from.unwrap_or(0.0));
            }
        }
        let history = |(engines, figures): (BTreeSet<i64>, Vec<f64>)| {
            let (mean, spread) = (mean_of(&figures)?, standard_deviation(&figures)?);
            (engines.len() >= 2).then_some(Self { mean, spread })
        };
        by_feature.into_iter().filter_map(|(feature, read)| Some((feature, history(read)?))).collect()
    }
}

/// What a reading is expected to be, in m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Expectation {
    /// Within which it raises no doubt.
    pub near: (f64, f64),
    /// Outside which it is odd; between the two it is where a slip explains it.
    pub far: (f64, f64),
    pub from: ExpectedFrom,
}

/// What an expectation rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ExpectedFrom {
    Neighbours,
    Family,
    Target,
}

impl fmt::Display for ExpectedFrom {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Neighbours => "its neighbours",
            Self::Family => "earlier engines of the family",
            Self::Target => "the target",
        })
    }
}

impl Expectation {
    /// The middle of what is expected.
    pub fn middle(&self) -> f64 {
        f64::midpoint(self.near.0, self.near.1)
    }
}

/// One thou, in m.
pub(super) const THOU: f64 = 25.4e-6;
/// Nothing on one engine that is one size lies further apart than this: half a thimble turn of 0.025 in.
const SIZE_APART: f64 = 12.5 * THOU;
/// Clearances lie within this factor of each other.
const CLEARANCES_APART: f64 = 3.0;
/// Of a normal spread one in 2,000 lies further out than so many standard deviations: three doubts in a hundred sets of sixty
/// readings, of which the fewest would also look like a slip.
const NEAR: f64 = 3.5;
/// Of any spread with one peak at most one in 81 does: 4/(9k²) by the inequality of Vysochanskij and Petunin (from memory),
/// and of a normal one none.
const FAR: f64 = 6.0;
/// From so many deviations on, their median says how far readings scatter.
const ENOUGH: usize = 4;

/// How far readings of one feature scatter over an engine, and how far sister features lie apart, as standard
/// deviations in m. Common practice, no source.
struct Usual {
    /// Of one feature, over its places.
    scatter: f64,
    /// Between features that read one size: out-of-round, taper, shells thinned towards the parting line.
    sisters: f64,
    /// Of a whole set about its target.
    set_up: f64,
}

/// Finished to one size within half a thou either way, taken as three standard deviations.
const FINISHED_SIZE: Usual = Usual { scatter: 0.5 / 3.0 * THOU, sisters: 0.25 * THOU, set_up: 0.5 * THOU };
/// A clearance is between two such surfaces: √2 of one.
const FINISHED_CLEARANCE: Usual = Usual { scatter: 0.236 * THOU, sisters: 0.5 * THOU, set_up: 0.5 * THOU };
/// Pins and bosses are ground and honed to a tenth or two, taken as two standard deviations.
const FITTED_PIN: Usual = Usual { scatter: 0.1 * THOU, sisters: 0.1 * THOU, set_up: 0.25 * THOU };
/// Block, crank, rod and piston add up in a deck clearance to a thou or two from cylinder to cylinder, a piston rocks by as much,
/// and all may wait for the deck to be cut.
const DECKED: Usual = Usual { scatter: 1.0 * THOU, sisters: 2.0 * THOU, set_up: 3.0 * THOU };
/// Rings are filed to within a thou, taken as two standard deviations; all of them above the maker's least by what the use asks.
const FILED_GAP: Usual = Usual { scatter: 0.5 * THOU, sisters: 0.5 * THOU, set_up: 3.0 * THOU };
/// Bores wear by up to 10 thou before they are bored out, most at the top.
const WORN_BORE: Usual = Usual { scatter: 2.5 * THOU, sisters: 2.5 * THOU, set_up: 2.5 * THOU };
/// Journals, skirts, shells and clearances wear by two thou at most, taken as four standard deviations.
const WORN: Usual = Usual { scatter: 0.5 * THOU, sisters: 0.75 * THOU, set_up: 2.5 * THOU };

/// The size that a feature reads. Features that read one size lead one to expect each other.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Reads {
    Bore,
    Skirt,
    MainClearance,
    MainShellBore,
    MainHousing,
    MainShellWall,
    MainJournal,
    RodJournal,
    RodHousing,
    SmallEnd,
    Pin,
    PinBore,
    Deck,
    TopGap,
    SecondGap,
}

impl Reads {
    pub fn of(feature: &SlotFeature) -> Option<Self> {
        Some(match feature {
            SlotFeature::BoreStated | SlotFeature::Bore(..) => Self::Bore,
            SlotFeature::SkirtStated | SlotFeature::Skirt => Self::Skirt,
            SlotFeature::MainClearanceStated | SlotFeature::MainClearanceDirect(_) | SlotFeature::MainPlasticStrip => {
                Self::MainClearance
            }
            SlotFeature::MainShellBore(_) => Self::MainShellBore,
            SlotFeature::MainHousing(_) => Self::MainHousing,
            SlotFeature::MainShellWall(_) => Self::MainShellWall,
            SlotFeature::MainJournal(..) => Self::MainJournal,
            SlotFeature::RodJournal(..) => Self::RodJournal,
            SlotFeature::RodHousing(_) => Self::RodHousing,
            SlotFeature::SmallEnd => Self::SmallEnd,
            SlotFeature::Pin => Self::Pin,
            SlotFeature::PinBore => Self::PinBore,
            SlotFeature::DeckStated | SlotFeature::Deck(_) => Self::Deck,
            SlotFeature::RingGap(Ring::Top) => Self::TopGap,
            SlotFeature::RingGap(Ring::Second) => Self::SecondGap,
            // Of others too little is known of how they scatter.
            _ => return None,
        })
    }

    fn sheet(self) -> SheetKey {
        match self {
            Self::Bore => SheetKey::CylinderBores,
            Self::Skirt | Self::Pin | Self::PinBore => SheetKey::Pistons,
            Self::MainJournal | Self::RodJournal => SheetKey::Crankshaft,
            Self::RodHousing | Self::SmallEnd => SheetKey::Rods,
            Self::Deck => SheetKey::Compression,
            Self::TopGap | Self::SecondGap => SheetKey::Rings,
            _ => SheetKey::MainBearings,
        }
    }

    /// Whether the round reads parts as they came.
    pub fn as_they_came(self, book: &Book) -> bool {
        book.background.as_came.contains(&self.sheet())
    }

    /// Whether its target is the size it is made to, rather than the least it may be or what it is still to come to.
    pub fn is_made_to_target(self) -> bool {
        !matches!(self, Self::Deck | Self::TopGap | Self::SecondGap)
    }

    fn usual(self, book: &Book) -> &'static Usual {
        match (self.as_they_came(book), self) {
            // Gaps open with the bore they wear in.
            (true, Self::Bore | Self::TopGap | Self::SecondGap) => &WORN_BORE,
            (_, Self::Deck) => &DECKED,
            (true, _) => &WORN,
            (false, Self::MainClearance) => &FINISHED_CLEARANCE,
            (false, Self::SmallEnd | Self::Pin | Self::PinBore) => &FITTED_PIN,
            (false, Self::TopGap | Self::SecondGap) => &FILED_GAP,
            (false, _) => &FINISHED_SIZE,
        }
    }
}

/// Where the limits of the finding put this reading; none where no limit is set or the reading alone does not decide.
pub fn acceptance(book: &Book, slot: &Slot) -> Option<Band> {
    let place = slot.key.place;
    let feature = decided_by(&slot.key.feature)?;
    book.limit(&feature, place)?.band(journal_target(&book.setup, &feature, place))
}

/// The journal that a limit per diameter on a finding is told by.
pub(super) fn journal_target(setup: &Setup, feature: &FindingFeature, place: Place) -> Option<f64> {
    match feature {
        FindingFeature::RodClearance(_) => setup.target(TargetFeature::RodJournal, setup.architecture.throw_of(place)),
        _ => setup.target(TargetFeature::MainJournal, place),
    }
}

/// The finding that one reading alone decides.
fn decided_by(slot: &SlotFeature) -> Option<FindingFeature> {
    use FindingFeature as F;
    Some(match *slot {
        SlotFeature::BoreStated | SlotFeature::Bore(..) => F::BoreSize,
        SlotFeature::Skirt | SlotFeature::SkirtStated => F::SkirtDiameter,
        SlotFeature::MainClearanceStated | SlotFeature::MainPlasticStrip => F::MainClearance(Spot::Vertical),
        SlotFeature::MainClearanceDirect(spot) => F::MainClearance(spot),
        SlotFeature::RodClearanceStated | SlotFeature::RodPlasticStrip => F::RodClearance(Spot::Vertical),
        SlotFeature::RodClearanceDirect(spot) => F::RodClearance(spot),
        SlotFeature::MainRunout => F::MainRunout,
        SlotFeature::EndPlay => F::EndPlay,
        SlotFeature::Stroke => F::Stroke,
        SlotFeature::SmallEnd => F::SmallEndSize,
        SlotFeature::RodLength => F::RodLength,
        SlotFeature::RodBend => F::RodBend,
        SlotFeature::RodTwist => F::RodTwist,
        SlotFeature::RodSideClearance => F::RodSideClearance,
        SlotFeature::CompressionHeight => F::CompressionHeight,
        SlotFeature::RingGap(ring) => F::RingGap(ring),
        SlotFeature::RingSide(ring) => F::RingSide(ring),
        SlotFeature::RingBack(ring) => F::RingBack(ring),
        SlotFeature::Chamber => F::ChamberVolume,
        SlotFeature::Wall(side) => F::Wall(side),
        SlotFeature::DeckFlatness => F::DeckFlatness,
        SlotFeature::Residual(plane) => F::Residual(plane),
        SlotFeature::Clear(passing) => F::Clear(passing),
        _ => return None,
    })
}

/// What the other places of the same feature, its sisters, the family or the target lead one to expect of a slot; what the
/// limits allow from below and from above is always expected.
pub fn expectation(book: &Book, slot: &Slot) -> Option<Expectation> {
    let reads = Reads::of(&slot.key.feature)?;
    let usual = reads.usual(book);
    let own = nominal(&book.setup, &slot.key);
    let neighbours = Neighbours::of(book, slot, reads);
    let scatter = neighbours.scatter().map_or(usual.scatter, |scatter| scatter.max(usual.scatter));
    let scatter = scatter.hypot(default_reading_u(slot.gauge));
    let ((lower, upper), spread, from) = if let Some((middles, count)) = neighbours.same() {
        (middles, scatter * (1.0 + 1.0 / count as f64).sqrt(), ExpectedFrom::Neighbours)
    } else if let Some(family) = book.background.family.get(&slot.key.feature) {
        ((family.mean, family.mean), family.spread.hypot(usual.set_up), ExpectedFrom::Family)
    } else if let Some(middles) = neighbours.sisters() {
        (middles, scatter.hypot(usual.sisters), ExpectedFrom::Neighbours)
    } else {
        let target = slot.target? - own.unwrap_or(0.0);
        ((target, target), scatter.hypot(usual.set_up), ExpectedFrom::Target)
    };
    let (lower, upper) = (lower + own.unwrap_or(0.0), upper + own.unwrap_or(0.0));
    // What may lie on either side of nothing has no factor to be told by.
    let (least, greatest) = if slot.measure().small && reads != Reads::Deck {
        (lower / CLEARANCES_APART, upper * CLEARANCES_APART)
    } else {
        (lower - SIZE_APART, upper + SIZE_APART)
    };
    // A target may be of another day: only what nothing explains away is odd against it alone.
    let far = if from == ExpectedFrom::Target { f64::INFINITY } else { FAR * spread };
    let within = |half: f64| ((lower - half).max(least), (upper + half).min(greatest));
    let allowed = acceptance(book, slot).and_then(|band| Some((band.min()?, band.max()?)));
    let allowed = allowed.filter(|(low, high)| high - low < greatest - least);
    let with = |(low, high): (f64, f64)| allowed.map_or((low, high), |(min, max)| (low.min(min), high.max(max)));
    Some(Expectation { near: with(within(NEAR * spread)), far: with(within(far)), from })
}

/// What a slot's figure is told from: its target, of a bore with shells in the journal's.
pub(super) fn nominal(setup: &Setup, key: &SlotKey) -> Option<f64> {
    match key.feature {
        SlotFeature::MainShellBore(_) => setup.target(TargetFeature::MainJournal, key.place),
        _ => setup.target_of(key),
    }
}

/// Figures of one size that stand elsewhere, by feature, less what each is told from.
struct Neighbours<'a> {
    feature: &'a SlotFeature,
    by_feature: BTreeMap<SlotFeature, Vec<f64>>,
}

impl<'a> Neighbours<'a> {
    fn of(book: &Book, slot: &'a Slot, reads: Reads) -> Self {
        let whole = slot.key.place.whole();
        let places = book.setup.architecture.places_of(whole);
        let told = nominal(&book.setup, &slot.key).is_some();
        let mut by_feature: BTreeMap<SlotFeature, Vec<f64>> = BTreeMap::new();
        for (_, feature) in SlotFeature::all().filter(|(_, feature)| Reads::of(feature) == Some(reads)) {
            for place in places.iter().copied().chain([whole]) {
                let key = SlotKey::new(feature.clone(), place);
                let Some((figure, _)) = book.figure(feature.clone(), place).filter(|_| key != slot.key) else {
                    continue;
                };
                let from = nominal(&book.setup, &key);
                if from.is_some() == told {
                    by_feature.entry(feature.clone()).or_default().push(figure.value() - from.unwrap_or(0.0));
                }
            }
        }
        Self { feature: &slot.key.feature, by_feature }
    }

    /// The two middle ones of the same feature, as either may be the one that is off, and how many there are.
    fn same(&self) -> Option<((f64, f64), usize)> {
        let same = self.by_feature.get(self.feature)?;
        Some((middles(same)?, same.len()))
    }

    fn sisters(&self) -> Option<(f64, f64)> {
        middles(&self.by_feature.values().flatten().copied().collect::<Vec<_>>())
    }

    /// How far readings of one feature scatter, as a standard deviation; none before enough stand.
    fn scatter(&self) -> Option<f64> {
        let of_feature = |figures: &Vec<f64>| -> Vec<f64> {
            let n = figures.len() as f64;
            let Some((lower, upper)) = middles(figures).filter(|_| n > 1.0) else { return Vec::new() };
            // A middle that is taken from few follows them: of n readings deviations from it are √(n / (n − 1)) too small.
            figures.iter().map(|x| (x - f64::midpoint(lower, upper)).abs() * (n / (n - 1.0)).sqrt()).collect()
        };
        let deviations: Vec<f64> = self.by_feature.values().flat_map(of_feature).collect();
        let (lower, upper) = middles(&deviations).filter(|_| deviations.len() >= ENOUGH)?;
        Some(DEVIATION_OF_MEDIAN * f64::midpoint(lower, upper))
    }
}

/// Standard deviation by median deviation, 1/Φ⁻¹(3/4), of a normal distribution.
const DEVIATION_OF_MEDIAN: f64 = 1.4826;

/// Whether all lie on one side of nothing, and what they have in common (`by`) is more than three times what they scatter.
pub(super) fn alike(differences: &[f64], by: f64) -> bool {
    let Some((lower, upper)) = middles(differences) else { return false };
    let apart: Vec<f64> = differences.iter().map(|x| (x - f64::midpoint(lower, upper)).abs()).collect();
    let scatter = middles(&apart).map_or(0.0, |(lower, upper)| DEVIATION_OF_MEDIAN * f64::midpoint(lower, upper));
    differences.iter().all(|x| x * by > 0.0) && by.abs() > 3.0 * scatter
}

/// The middle one, twice; of an even number the two in the middle.
fn middles(figures: &[f64]) -> Option<(f64, f64)> {
    let mut sorted = figures.to_vec();
    sorted.sort_by(f64::total_cmp);
    Some((*sorted.get(sorted.len().checked_sub(1)? / 2)?, *sorted.get(sorted.len() / 2)?))
}
