//! What is found, and how each finding is spoken of. Texts are kept: never renamed or reused.

use super::{
    Bearings, Measure, Off, Passing, Place, Plane, PressedIn, Ring, Seating, Side, Spot, Weighed, WorkingUnit,
};
use crate::quantity::HowRead;
use serde::{Deserialize, Serialize};

/// What is found. Each has one home: the sheet that works it out.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FindingFeature {
    BoreSize,
    BoreOutOfRound,
    BoreTaper,
    /// Largest bore size less smallest, over all cylinders.
    BoreSpread,
    SkirtDiameter,
    PistonClearance,
    /// Vertical, or near the parting line.
    MainClearance(Spot),
    /// Vertical clearance by journal diameter.
    MainClearanceRatio,
    MainJournalOutOfRound,
    MainJournalTaper,
    /// Difference between two routes to the same clearance.
    MainRoutes,
    /// Largest vertical clearance less smallest, over all mains.
    MainClearanceSpread,
    /// Vertical clearance at the temperatures of hot oil, worked out.
    MainClearanceHot,
    /// Smallest, at the load and with the oil that are set.
    MainFilm,
    MainFilmPower,
    /// Both halves' excess length round; below zero where they are loose.
    Crush(Bearings),
    /// Of the pair as a ring in its housing.
    CrushInterference(Bearings),
    /// The housing less that which the shells are made for.
    ShellHousing(Bearings),
    /// The seat less the shell.
    Seats(Bearings, Seating),
    /// A main housing off the line through those at the ends.
    MainLine(Off),
    /// Against the main before it.
    MainLineStep(Off),
    /// Over all mains.
    MainLineSpread(Off),
    MainHousingSize,
    MainHousingOutOfRound,
    /// Total indicator reading.
    MainRunout,
    MainJournalSize,
    EndPlay,
    EndPlayChange,
    RodJournalSize,
    RodJournalOutOfRound,
    RodJournalTaper,
    Stroke,
    StrokeSpread,
    ThrowAngle,
    MainFillet,
    RodFillet,
    TurningCrank,
    TurningAdded,
    RodHousingSize,
    RodHousingOutOfRound,
    SmallEndSize,
    /// Below zero where the pin is held by interference.
    PinInRod,
    RodLength,
    RodLengthSpread,
    RodBend,
    RodTwist,
    RodSideClearance,
    /// Vertical, or near the parting line.
    RodClearance(Spot),
    RodClearanceRatio,
    RodRoutes,
    RodClearanceSpread,
    RodClearanceHot,
    RodFilm,
    RodFilmPower,
    /// Below zero where the pin is held by interference.
    PinInPiston,
    CompressionHeight,
    CompressionHeightSpread,
    /// A dish above zero, a dome below.
    PistonVolume,
    RingGap(Ring),
    /// Between a ring and its groove.
    RingSide(Ring),
    RingBack(Ring),
    RingGapOverTaper,
    /// Above zero where the piston stays below the deck.
    DeckClearance,
    PistonRock,
    /// Piston to flat of the head, cold.
    Squish,
    ChamberVolume,
    ClearanceVolume,
    CompressionRatio,
    CompressionSpread,
    EffectiveRatio,
    /// Below zero where there is too little already.
    DeckCut,
    Reciprocating,
    Rotating,
    Bobweight,
    WeightSpread(Weighed),
    PermissibleResidual,
    /// Left after balancing.
    Residual(Plane),
    MeanPistonSpeed,
    RodRatio,
    BoltLoad,
    Wall(Side),
    WallLeast,
    DeckHeight,
    DeckTilt,
    DeckFlatness,
    Clear(Passing),
    FitInterference(PressedIn),
    FitHot(PressedIn),
    FitHolds(PressedIn),
    FitLost(PressedIn),
    FitCloses(PressedIn),
    /// A key this edition does not know, whole.
    Retired(String),
}

/// Its kept text, the feature, the name by which the shop knows it, how it is spoken of, the place that speaks for all of its
/// places.
type Row = (&'static str, FindingFeature, &'static str, Measure, Place);
#[rustfmt::skip]
static FEATURES: [Row; 133] = {
    use Bearings::{Mains, Rods};
    use FindingFeature as F;
    use PressedIn::{Bush, Pin, Sleeve};
    use Place::{AllBanks, AllCylinders, AllMains, AllThrows, Engine};
    [
        ("bore-size", F::BoreSize, "bore size", Measure::SIZE, AllCylinders),
        ("bore-out-of-round", F::BoreOutOfRound, "bore out-of-round", Measure::SMALL, AllCylinders),
        ("bore-taper", F::BoreTaper, "bore taper", Measure::SMALL, AllCylinders),
        ("bore-spread", F::BoreSpread, "bore sizes, largest less smallest", Measure::SMALL, AllCylinders),
        ("skirt-diameter", F::SkirtDiameter, "piston skirt diameter", Measure::SIZE, AllCylinders),
        ("piston-clearance", F::PistonClearance, "piston clearance, thrust way", Measure::SMALL, AllCylinders),
        ("main-clearance-vertical", F::MainClearance(Spot::Vertical), "main clearance, vertical", Measure::SMALL, AllMains),
        ("main-clearance-parting", F::MainClearance(Spot::Parting), "main clearance, near the parting line", Measure::SMALL, AllMains),
        ("main-clearance-per-diameter", F::MainClearanceRatio, "main clearance per inch of journal", Measure::PER_DIAMETER, AllMains),
        ("main-journal-out-of-round", F::MainJournalOutOfRound, "main journal out-of-round", Measure::SMALL, AllMains),
        ("main-journal-taper", F::MainJournalTaper, "main journal taper", Measure::SMALL, AllMains),
        ("main-routes", F::MainRoutes, "main clearance, two routes compared", Measure::SMALL, AllMains),
        ("main-clearance-spread", F::MainClearanceSpread, "main clearances, largest less smallest", Measure::SMALL, AllMains),
        ("main-clearance-hot", F::MainClearanceHot, "main clearance, hot", Measure::SMALL, AllMains),
        ("main-runout", F::MainRunout, "main journal runout", Measure::SMALL, AllMains),
        ("main-journal-size", F::MainJournalSize, "main journal size", Measure::SIZE, AllMains),
        ("main-film", F::MainFilm, "main bearing, smallest oil film", Measure::SMALL, AllMains),
        ("main-film-power", F::MainFilmPower, "main bearing, power lost in the film", Measure::POWER, AllMains),
        ("main-crush", F::Crush(Mains), "main shells’ crush, both halves", Measure::SMALL, AllMains),
        ("main-crush-interference", F::CrushInterference(Mains), "main shells’ interference in the housing", Measure::SMALL, AllMains),
        ("main-shell-housing", F::ShellHousing(Mains), "main housing less what its shells are made for", Measure::SMALL, AllMains),
        ("main-shell-width", F::Seats(Mains, Seating::Width), "main bearing’s seat less its shell, width", Measure::SMALL, AllMains),
        ("main-tang-width", F::Seats(Mains, Seating::TangWidth), "main bearing’s notch less its shell’s tang, width", Measure::SMALL, AllMains),
        ("main-tang-place", F::Seats(Mains, Seating::TangPlace), "main bearing’s notch less its shell’s tang, from the edge", Measure::SMALL, AllMains),
        ("main-line-vertical", F::MainLine(Off::Vertical), "main housing off the line, vertical", Measure::SMALL, AllMains),
        ("main-line-sideways", F::MainLine(Off::Sideways), "main housing off the line, sideways", Measure::SMALL, AllMains),
        ("main-line-step-vertical", F::MainLineStep(Off::Vertical), "main line, step from the main before, vertical", Measure::SMALL, AllMains),
        ("main-line-step-sideways", F::MainLineStep(Off::Sideways), "main line, step from the main before, sideways", Measure::SMALL, AllMains),
        ("main-line-spread-vertical", F::MainLineSpread(Off::Vertical), "main line, largest less smallest, vertical", Measure::SMALL, AllMains),
        ("main-line-spread-sideways", F::MainLineSpread(Off::Sideways), "main line, largest less smallest, sideways", Measure::SMALL, AllMains),
        ("end-play", F::EndPlay, "crank end play", Measure::SMALL, Engine),
        ("end-play-change", F::EndPlayChange, "end play, changed by this cap", Measure::SMALL, AllMains),
        ("rod-journal-size", F::RodJournalSize, "rod journal size", Measure::SIZE, AllThrows),
        ("rod-journal-out-of-round", F::RodJournalOutOfRound, "rod journal out-of-round", Measure::SMALL, AllThrows),
        ("rod-journal-taper", F::RodJournalTaper, "rod journal taper", Measure::SMALL, AllThrows),
        ("stroke", F::Stroke, "stroke", Measure::SIZE, AllThrows),
        ("stroke-spread", F::StrokeSpread, "strokes, largest less smallest", Measure::SMALL, AllThrows),
        ("throw-angle", F::ThrowAngle, "throw out of its angle", Measure::ANGLE, AllThrows),
        ("main-fillet", F::MainFillet, "main journal fillet radius", Measure::SIZE, AllMains),
        ("rod-fillet", F::RodFillet, "rod journal fillet radius", Measure::SIZE, AllThrows),
        ("turning-crank", F::TurningCrank, "torque to turn the crank alone", Measure::TURNING, Engine),
        ("turning-added", F::TurningAdded, "torque this piston adds", Measure::TURNING, AllCylinders),
        ("rod-housing-size", F::RodHousingSize, "rod big end size", Measure::SIZE, AllCylinders),
        ("rod-housing-out-of-round", F::RodHousingOutOfRound, "rod big end out-of-round", Measure::SMALL, AllCylinders),
        ("small-end-size", F::SmallEndSize, "rod small end size", Measure::SIZE, AllCylinders),
        ("pin-in-rod", F::PinInRod, "pin clearance in the rod", Measure::SMALL, AllCylinders),
        ("rod-length", F::RodLength, "rod length, centre to centre", Measure::SIZE, AllCylinders),
        ("rod-length-spread", F::RodLengthSpread, "rod lengths, longest less shortest", Measure::SMALL, AllCylinders),
        ("rod-bend", F::RodBend, "rod bend", Measure::SMALL, AllCylinders),
        ("rod-twist", F::RodTwist, "rod twist", Measure::SMALL, AllCylinders),
        ("rod-side-clearance", F::RodSideClearance, "rod side clearance", Measure::SMALL, AllThrows),
        ("rod-clearance-vertical", F::RodClearance(Spot::Vertical), "rod clearance, vertical", Measure::SMALL, AllCylinders),
        ("rod-clearance-parting", F::RodClearance(Spot::Parting), "rod clearance, near the parting line", Measure::SMALL, AllCylinders),
        ("rod-clearance-per-diameter", F::RodClearanceRatio, "rod clearance per inch of journal", Measure::PER_DIAMETER, AllCylinders),
        ("rod-routes", F::RodRoutes, "rod clearance, two routes compared", Measure::SMALL, AllCylinders),
        ("rod-clearance-spread", F::RodClearanceSpread, "rod clearances, largest less smallest", Measure::SMALL, AllCylinders),
        ("rod-clearance-hot", F::RodClearanceHot, "rod clearance, hot", Measure::SMALL, AllCylinders),
        ("main-housing-size", F::MainHousingSize, "main housing size", Measure::SIZE, AllMains),
        ("main-housing-out-of-round", F::MainHousingOutOfRound, "main housing out-of-round", Measure::SMALL, AllMains),
        ("rod-film", F::RodFilm, "rod bearing, smallest oil film", Measure::SMALL, AllCylinders),
        ("rod-film-power", F::RodFilmPower, "rod bearing, power lost in the film", Measure::POWER, AllCylinders),
        ("rod-crush", F::Crush(Rods), "rod shells’ crush, both halves", Measure::SMALL, AllCylinders),
        ("rod-crush-interference", F::CrushInterference(Rods), "rod shells’ interference in the housing", Measure::SMALL, AllCylinders),
        ("rod-shell-housing", F::ShellHousing(Rods), "rod housing less what its shells are made for", Measure::SMALL, AllCylinders),
        ("rod-shell-width", F::Seats(Rods, Seating::Width), "rod bearing’s seat less its shell, width", Measure::SMALL, AllCylinders),
        ("rod-tang-width", F::Seats(Rods, Seating::TangWidth), "rod bearing’s notch less its shell’s tang, width", Measure::SMALL, AllCylinders),
        ("rod-tang-place", F::Seats(Rods, Seating::TangPlace), "rod bearing’s notch less its shell’s tang, from the edge", Measure::SMALL, AllCylinders),
        ("pin-in-piston", F::PinInPiston, "pin clearance in the piston", Measure::SMALL, AllCylinders),
        ("compression-height", F::CompressionHeight, "piston compression height", Measure::SIZE, AllCylinders),
        ("compression-height-spread", F::CompressionHeightSpread, "compression heights, largest less smallest", Measure::SMALL, AllCylinders),
        ("piston-volume", F::PistonVolume, "piston crown volume", Measure::VOLUME, AllCylinders),
        ("ring-gap-top", F::RingGap(Ring::Top), "top ring end gap", Measure::SMALL, AllCylinders),
        ("ring-gap-second", F::RingGap(Ring::Second), "second ring end gap", Measure::SMALL, AllCylinders),
        ("ring-gap-rail", F::RingGap(Ring::Rail), "oil rail end gap", Measure::SMALL, AllCylinders),
        ("ring-side-top", F::RingSide(Ring::Top), "top ring side clearance", Measure::SMALL, AllCylinders),
        ("ring-side-second", F::RingSide(Ring::Second), "second ring side clearance", Measure::SMALL, AllCylinders),
        ("ring-side-rail", F::RingSide(Ring::Rail), "oil ring side clearance", Measure::SMALL, AllCylinders),
        ("ring-back-top", F::RingBack(Ring::Top), "top ring back clearance", Measure::SMALL, AllCylinders),
        ("ring-back-second", F::RingBack(Ring::Second), "second ring back clearance", Measure::SMALL, AllCylinders),
        ("ring-back-rail", F::RingBack(Ring::Rail), "oil ring back clearance", Measure::SMALL, AllCylinders),
        ("ring-gap-over-taper", F::RingGapOverTaper, "ring gap, change over the bore’s taper", Measure::SMALL, AllCylinders),
        ("deck-clearance", F::DeckClearance, "deck clearance", Measure::SMALL, AllCylinders),
        ("piston-rock", F::PistonRock, "piston rock at top dead centre", Measure::SMALL, AllCylinders),
        ("squish", F::Squish, "squish", Measure::SMALL, AllCylinders),
        ("chamber-volume", F::ChamberVolume, "combustion chamber volume", Measure::VOLUME, AllCylinders),
        ("clearance-volume", F::ClearanceVolume, "volume above the piston at top dead centre", Measure::VOLUME, AllCylinders),
        ("compression-ratio", F::CompressionRatio, "compression ratio", Measure::NUMBER, AllCylinders),
        ("compression-spread", F::CompressionSpread, "compression ratios, highest less lowest", Measure::NUMBER, AllCylinders),
        ("effective-ratio", F::EffectiveRatio, "compression ratio from inlet closing", Measure::NUMBER, AllCylinders),
        ("deck-cut", F::DeckCut, "off the deck for the ratio aimed at", Measure::SMALL, AllCylinders),
        ("reciprocating", F::Reciprocating, "reciprocating mass", Measure::MASS, AllCylinders),
        ("rotating", F::Rotating, "rotating mass of a rod", Measure::MASS, AllCylinders),
        ("bobweight", F::Bobweight, "bobweight", Measure::MASS, AllThrows),
        ("weight-spread-piston", F::WeightSpread(Weighed::Piston), "piston masses, heaviest less lightest", Measure::MASS, AllCylinders),
        ("weight-spread-pin", F::WeightSpread(Weighed::Pin), "pin masses, heaviest less lightest", Measure::MASS, AllCylinders),
        ("weight-spread-rings", F::WeightSpread(Weighed::Rings), "ring set masses, heaviest less lightest", Measure::MASS, AllCylinders),
        ("weight-spread-locks", F::WeightSpread(Weighed::Locks), "pin lock masses, heaviest less lightest", Measure::MASS, AllCylinders),
        ("weight-spread-small-end", F::WeightSpread(Weighed::SmallEnd), "rod small end masses, heaviest less lightest", Measure::MASS, AllCylinders),
        ("weight-spread-big-end", F::WeightSpread(Weighed::BigEnd), "rod big end masses, heaviest less lightest", Measure::MASS, AllCylinders),
        ("weight-spread-rod-shells", F::WeightSpread(Weighed::RodShells), "rod shell masses, heaviest less lightest", Measure::MASS, AllCylinders),
        ("permissible-residual", F::PermissibleResidual, "residual unbalance permissible, each plane", Measure::UNBALANCE, Engine),
        ("residual-front", F::Residual(Plane::Front), "residual unbalance, front plane", Measure::UNBALANCE, Engine),
        ("residual-rear", F::Residual(Plane::Rear), "residual unbalance, rear plane", Measure::UNBALANCE, Engine),
        ("mean-piston-speed", F::MeanPistonSpeed, "mean piston speed", Measure::SPEED, Engine),
        ("rod-ratio", F::RodRatio, "rod length by stroke", Measure::NUMBER, Engine),
        ("bolt-load", F::BoltLoad, "load on a pair of rod bolts at the highest speed", Measure::FORCE, AllCylinders),
        ("wall-thrust", F::Wall(Side::Thrust), "cylinder wall, thrust side", Measure::SIZE, AllCylinders),
        ("wall-across", F::Wall(Side::Across), "cylinder wall, side across from thrust", Measure::SIZE, AllCylinders),
        ("wall-front", F::Wall(Side::Front), "cylinder wall, front", Measure::SIZE, AllCylinders),
        ("wall-rear", F::Wall(Side::Rear), "cylinder wall, rear", Measure::SIZE, AllCylinders),
        ("wall-least", F::WallLeast, "cylinder wall, least", Measure::SIZE, AllCylinders),
        ("deck-height", F::DeckHeight, "block deck height", Measure::SIZE, AllBanks),
        ("deck-tilt", F::DeckTilt, "deck heights at the corners, largest less smallest", Measure::SMALL, AllBanks),
        ("deck-flatness", F::DeckFlatness, "deck flatness", Measure::SMALL, AllBanks),
        ("clear-rod-to-block", F::Clear(Passing::RodToBlock), "rod or bolt to block", Measure::SIZE, AllCylinders),
        ("clear-rod-to-cam", F::Clear(Passing::RodToCam), "rod or bolt to cam", Measure::SIZE, AllCylinders),
        ("clear-counterweight-to-block", F::Clear(Passing::CounterweightToBlock), "counterweight to block", Measure::SIZE, AllThrows),
        ("clear-counterweight-to-piston", F::Clear(Passing::CounterweightToPiston), "counterweight to piston", Measure::SIZE, AllThrows),
        ("clear-to-pan", F::Clear(Passing::ToPan), "crank and rods to pan", Measure::SIZE, Engine),
        ("clear-to-tray", F::Clear(Passing::ToTray), "crank and rods to windage tray", Measure::SIZE, Engine),
        ("sleeve-interference", F::FitInterference(Sleeve), "sleeve, interference in the block", Measure::SMALL, AllCylinders),
        ("sleeve-interference-hot", F::FitHot(Sleeve), "sleeve, interference hot", Measure::SMALL, AllCylinders),
        ("sleeve-holds", F::FitHolds(Sleeve), "sleeve, force that moves it", Measure::FORCE, AllCylinders),
        ("sleeve-lost", F::FitLost(Sleeve), "sleeve, loose when warmer by", Measure::WARMER, AllCylinders),
        ("sleeve-closes", F::FitCloses(Sleeve), "sleeve, its bore closes by", Measure::SMALL, AllCylinders),
        ("bush-interference", F::FitInterference(Bush), "small end’s bush, interference", Measure::SMALL, AllCylinders),
        ("bush-interference-hot", F::FitHot(Bush), "small end’s bush, interference hot", Measure::SMALL, AllCylinders),
        ("bush-holds", F::FitHolds(Bush), "small end’s bush, force that moves it", Measure::FORCE, AllCylinders),
        ("bush-lost", F::FitLost(Bush), "small end’s bush, loose when warmer by", Measure::WARMER, AllCylinders),
        ("bush-closes", F::FitCloses(Bush), "small end’s bush, its bore closes by", Measure::SMALL, AllCylinders),
        ("pin-interference-hot", F::FitHot(Pin), "pin held by the rod, interference hot", Measure::SMALL, AllCylinders),
        ("pin-holds", F::FitHolds(Pin), "pin held by the rod, force that moves it", Measure::FORCE, AllCylinders),
        ("pin-lost", F::FitLost(Pin), "pin held by the rod, loose when warmer by", Measure::WARMER, AllCylinders),
    ]
};

impl FindingFeature {
    /// Every feature this edition knows, with its text.
    pub fn all() -> impl Iterator<Item = (&'static str, Self)> {
        FEATURES.iter().map(|(text, feature, ..)| (*text, feature.clone()))
    }

    fn row(&self) -> Option<&'static Row> {
        FEATURES.iter().find(|(_, feature, ..)| feature == self)
    }

    /// Its kept text; a retired one's is the whole key as it was.
    pub fn text(&self) -> &str {
        match (self, self.row()) {
            (_, Some((text, ..))) => text,
            (Self::Retired(whole), None) => whole,
            (feature, None) => unreachable!("{feature:?} stands in FEATURES, as a test checks"),
        }
    }

    /// Reads a feature's text; what is unknown is kept as retired.
    pub fn parse(text: &str) -> Self {
        Self::all()
            .find(|(name, _)| *name == text)
            .map_or_else(|| Self::Retired(text.to_owned()), |(_, feature)| feature)
    }

    /// The name by which the shop knows it.
    pub fn title(&self) -> &str {
        self.row().map_or(self.text(), |(_, _, title, ..)| title)
    }

    /// How it is spoken of.
    pub fn measure(&self) -> Measure {
        self.row().map_or(Measure::SMALL, |(.., measure, _)| *measure)
    }

    /// How a bare figure of its limits is understood.
    pub fn how_read(&self, unit: WorkingUnit) -> HowRead {
        if self.may_be_below_zero() { unit.how_read_signed(self.measure()) } else { unit.how_read(self.measure()) }
    }

    /// The place that speaks for all places of this feature.
    pub fn whole(&self) -> Place {
        self.row().map_or(Place::Engine, |(.., whole)| *whole)
    }
}

impl Serialize for FindingFeature {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.text())
    }
}

impl<'de> Deserialize<'de> for FindingFeature {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Ok(Self::parse(&String::deserialize(deserializer)?))
    }
}
