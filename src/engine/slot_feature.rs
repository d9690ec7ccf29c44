//! What is read, and how each reading is spoken of. Texts are kept: never renamed or reused.

use super::{
    Bearings, Corner, Flank, Height, Measure, Off, Passing, Plane, PressedIn, Quarter, Ring, Seating, Shell, Side,
    Spot, Way, Weighed,
};

/// What is read. A `…Stated` feature is a figure, a range or "checked good" given for the place as a whole.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SlotFeature {
    BoreStated,
    Bore(Height, Way),
    SkirtStated,
    /// Piston skirt diameter at its maker's gauge point.
    Skirt,
    MainClearanceStated,
    /// The bore gauge zeroed in the micrometer set to that journal: the reading is the clearance.
    MainClearanceDirect(Spot),
    /// Inside diameter with shells in and the cap pulled down.
    MainShellBore(Spot),
    MainHousing(Spot),
    /// Shell wall at the crown.
    MainShellWall(Shell),
    MainJournal(Plane, Quarter),
    MainPlasticStrip,
    /// By how much a half shell stands above the joint with its other end flush.
    ShellProud(Bearings, Shell),
    /// At the joint on one side, its fastener loose and the other side's pulled down.
    CrushGap(Bearings),
    /// Of a shell, before it is fitted.
    OfShell(Bearings, Seating),
    /// Of the housing that it is to lie in.
    OfSeat(Bearings, Seating),
    /// All leaves on one side of a poured bearing's joint.
    ShimPack(Bearings, Flank),
    /// A main housing off the line through those at the ends.
    MainLine(Off),
    /// Total indicator reading with the crank in its end bearings or on vees.
    MainRunout,
    /// End play with the caps up to this one pulled down.
    EndPlayAtCap,
    /// End play with all caps pulled down.
    EndPlay,
    RodJournal(Plane, Quarter),
    /// Twice the throw, by dial over a full turn.
    Stroke,
    /// Of a throw against where it should stand.
    ThrowAngle,
    MainFillet,
    RodFillet,
    /// Torque to turn the crank alone.
    TurningCrank,
    /// Torque to turn it with this cylinder's piston fitted after the ones before.
    TurningWithPiston,
    /// Big end without shells, cap pulled down.
    RodHousing(Spot),
    SmallEnd,
    /// Centre to centre.
    RodLength,
    RodBend,
    RodTwist,
    /// Of the rods on one pin together.
    RodSideClearance,
    RodClearanceStated,
    RodClearanceDirect(Spot),
    RodShellBore(Spot),
    RodShellWall(Shell),
    RodPlasticStrip,
    Pin,
    PinBore,
    CompressionHeightStated,
    CompressionHeight,
    PistonVolumeStated,
    /// Crown volume: a dish above zero, a dome below.
    PistonVolume,
    RingGap(Ring),
    /// Between a ring and its groove.
    RingSide(Ring),
    /// Behind a ring, its face flush with the land.
    RingBack(Ring),
    DeckStated,
    /// Deck clearance at top dead centre, above zero below the deck.
    Deck(Side),
    ChamberStated,
    Chamber,
    GasketThickness,
    /// By sound, of a cylinder's thinnest place on that side.
    Wall(Side),
    /// Main centre to deck.
    DeckHeight(Corner),
    /// Largest gap under a straight edge.
    DeckFlatness,
    WeightStated(Weighed),
    Weight(Weighed),
    /// Left after balancing, at the front plane or the rear.
    Residual(Plane),
    Clear(Passing),
    /// The bore it is pressed into.
    FitBore(PressedIn),
    /// Its outside, before it is pressed in.
    FitOutside(PressedIn),
    /// A key this edition does not know, whole: kept and shown, never worked with.
    Retired(String),
}

#[rustfmt::skip]
static FEATURES: [(&str, SlotFeature); 133] = {
    use Bearings::{Mains, Rods};
    use Height::{Bottom, Middle, Top};
    use Plane::{Front, Rear};
    use Quarter::{Ninety, Zero};
    use SlotFeature as F;
    use Spot::{Parting, Vertical};
    use Way::{Pin, Thrust};
    [
        ("bore", F::BoreStated),
        ("bore-top-thrust", F::Bore(Top, Thrust)),
        ("bore-top-pin", F::Bore(Top, Pin)),
        ("bore-middle-thrust", F::Bore(Middle, Thrust)),
        ("bore-middle-pin", F::Bore(Middle, Pin)),
        ("bore-bottom-thrust", F::Bore(Bottom, Thrust)),
        ("bore-bottom-pin", F::Bore(Bottom, Pin)),
        ("skirt-stated", F::SkirtStated),
        ("skirt", F::Skirt),
        ("main-clearance", F::MainClearanceStated),
        ("main-clearance-vertical", F::MainClearanceDirect(Vertical)),
        ("main-clearance-parting", F::MainClearanceDirect(Parting)),
        ("main-shell-bore-vertical", F::MainShellBore(Vertical)),
        ("main-shell-bore-parting", F::MainShellBore(Parting)),
        ("main-housing-vertical", F::MainHousing(Vertical)),
        ("main-housing-parting", F::MainHousing(Parting)),
        ("main-shell-wall-upper", F::MainShellWall(Shell::Upper)),
        ("main-shell-wall-lower", F::MainShellWall(Shell::Lower)),
        ("main-journal-front-0", F::MainJournal(Front, Zero)),
        ("main-journal-front-90", F::MainJournal(Front, Ninety)),
        ("main-journal-rear-0", F::MainJournal(Rear, Zero)),
        ("main-journal-rear-90", F::MainJournal(Rear, Ninety)),
        ("main-plastic-strip", F::MainPlasticStrip),
        ("main-shell-proud-upper", F::ShellProud(Mains, Shell::Upper)),
        ("main-shell-proud-lower", F::ShellProud(Mains, Shell::Lower)),
        ("main-crush-gap", F::CrushGap(Mains)),
        ("main-shell-width", F::OfShell(Mains, Seating::Width)),
        ("main-seat-width", F::OfSeat(Mains, Seating::Width)),
        ("main-tang-width", F::OfShell(Mains, Seating::TangWidth)),
        ("main-notch-width", F::OfSeat(Mains, Seating::TangWidth)),
        ("main-tang-from-edge", F::OfShell(Mains, Seating::TangPlace)),
        ("main-notch-from-edge", F::OfSeat(Mains, Seating::TangPlace)),
        ("main-shim-pack-left", F::ShimPack(Mains, Flank::Left)),
        ("main-shim-pack-right", F::ShimPack(Mains, Flank::Right)),
        ("main-line-vertical", F::MainLine(Off::Vertical)),
        ("main-line-sideways", F::MainLine(Off::Sideways)),
        ("main-runout", F::MainRunout),
        ("end-play-at-cap", F::EndPlayAtCap),
        ("end-play", F::EndPlay),
        ("rod-journal-front-0", F::RodJournal(Front, Zero)),
        ("rod-journal-front-90", F::RodJournal(Front, Ninety)),
        ("rod-journal-rear-0", F::RodJournal(Rear, Zero)),
        ("rod-journal-rear-90", F::RodJournal(Rear, Ninety)),
        ("stroke", F::Stroke),
        ("throw-angle", F::ThrowAngle),
        ("main-fillet", F::MainFillet),
        ("rod-fillet", F::RodFillet),
        ("turning-crank", F::TurningCrank),
        ("turning-with-piston", F::TurningWithPiston),
        ("rod-housing-vertical", F::RodHousing(Vertical)),
        ("rod-housing-parting", F::RodHousing(Parting)),
        ("small-end", F::SmallEnd),
        ("rod-length", F::RodLength),
        ("rod-bend", F::RodBend),
        ("rod-twist", F::RodTwist),
        ("rod-side-clearance", F::RodSideClearance),
        ("rod-clearance", F::RodClearanceStated),
        ("rod-clearance-vertical", F::RodClearanceDirect(Vertical)),
        ("rod-clearance-parting", F::RodClearanceDirect(Parting)),
        ("rod-shell-bore-vertical", F::RodShellBore(Vertical)),
        ("rod-shell-bore-parting", F::RodShellBore(Parting)),
        ("rod-shell-wall-upper", F::RodShellWall(Shell::Upper)),
        ("rod-shell-wall-lower", F::RodShellWall(Shell::Lower)),
        ("rod-plastic-strip", F::RodPlasticStrip),
        ("rod-shell-proud-upper", F::ShellProud(Rods, Shell::Upper)),
        ("rod-shell-proud-lower", F::ShellProud(Rods, Shell::Lower)),
        ("rod-crush-gap", F::CrushGap(Rods)),
        ("rod-shell-width", F::OfShell(Rods, Seating::Width)),
        ("rod-seat-width", F::OfSeat(Rods, Seating::Width)),
        ("rod-tang-width", F::OfShell(Rods, Seating::TangWidth)),
        ("rod-notch-width", F::OfSeat(Rods, Seating::TangWidth)),
        ("rod-tang-from-edge", F::OfShell(Rods, Seating::TangPlace)),
        ("rod-notch-from-edge", F::OfSeat(Rods, Seating::TangPlace)),
        ("rod-shim-pack-left", F::ShimPack(Rods, Flank::Left)),
        ("rod-shim-pack-right", F::ShimPack(Rods, Flank::Right)),
        ("pin", F::Pin),
        ("pin-bore", F::PinBore),
        ("compression-height-stated", F::CompressionHeightStated),
        ("compression-height", F::CompressionHeight),
        ("piston-volume-stated", F::PistonVolumeStated),
        ("piston-volume", F::PistonVolume),
        ("ring-gap-top", F::RingGap(Ring::Top)),
        ("ring-gap-second", F::RingGap(Ring::Second)),
        ("ring-gap-rail", F::RingGap(Ring::Rail)),
        ("ring-side-top", F::RingSide(Ring::Top)),
        ("ring-side-second", F::RingSide(Ring::Second)),
        ("ring-side-rail", F::RingSide(Ring::Rail)),
        ("ring-back-top", F::RingBack(Ring::Top)),
        ("ring-back-second", F::RingBack(Ring::Second)),
        ("ring-back-rail", F::RingBack(Ring::Rail)),
        ("deck-clearance", F::DeckStated),
        ("deck-clearance-thrust", F::Deck(Side::Thrust)),
        ("deck-clearance-across", F::Deck(Side::Across)),
        ("deck-clearance-front", F::Deck(Side::Front)),
        ("deck-clearance-rear", F::Deck(Side::Rear)),
        ("chamber-stated", F::ChamberStated),
        ("chamber", F::Chamber),
        ("gasket-thickness", F::GasketThickness),
        ("wall-thrust", F::Wall(Side::Thrust)),
        ("wall-across", F::Wall(Side::Across)),
        ("wall-front", F::Wall(Side::Front)),
        ("wall-rear", F::Wall(Side::Rear)),
        ("deck-height-front-inner", F::DeckHeight(Corner::FrontInner)),
        ("deck-height-front-outer", F::DeckHeight(Corner::FrontOuter)),
        ("deck-height-rear-inner", F::DeckHeight(Corner::RearInner)),
        ("deck-height-rear-outer", F::DeckHeight(Corner::RearOuter)),
        ("deck-flatness", F::DeckFlatness),
        ("weight-piston-stated", F::WeightStated(Weighed::Piston)),
        ("weight-pin-stated", F::WeightStated(Weighed::Pin)),
        ("weight-rings-stated", F::WeightStated(Weighed::Rings)),
        ("weight-locks-stated", F::WeightStated(Weighed::Locks)),
        ("weight-small-end-stated", F::WeightStated(Weighed::SmallEnd)),
        ("weight-big-end-stated", F::WeightStated(Weighed::BigEnd)),
        ("weight-rod-shells-stated", F::WeightStated(Weighed::RodShells)),
        ("weight-piston", F::Weight(Weighed::Piston)),
        ("weight-pin", F::Weight(Weighed::Pin)),
        ("weight-rings", F::Weight(Weighed::Rings)),
        ("weight-locks", F::Weight(Weighed::Locks)),
        ("weight-small-end", F::Weight(Weighed::SmallEnd)),
        ("weight-big-end", F::Weight(Weighed::BigEnd)),
        ("weight-rod-shells", F::Weight(Weighed::RodShells)),
        ("residual-front", F::Residual(Front)),
        ("residual-rear", F::Residual(Rear)),
        ("clear-rod-to-block", F::Clear(Passing::RodToBlock)),
        ("clear-rod-to-cam", F::Clear(Passing::RodToCam)),
        ("clear-counterweight-to-block", F::Clear(Passing::CounterweightToBlock)),
        ("clear-counterweight-to-piston", F::Clear(Passing::CounterweightToPiston)),
        ("clear-to-pan", F::Clear(Passing::ToPan)),
        ("clear-to-tray", F::Clear(Passing::ToTray)),
        ("sleeve-bore", F::FitBore(PressedIn::Sleeve)),
        ("sleeve-outside", F::FitOutside(PressedIn::Sleeve)),
        ("bush-bore", F::FitBore(PressedIn::Bush)),
        ("bush-outside", F::FitOutside(PressedIn::Bush)),
    ]
};

impl SlotFeature {
    /// Every feature this edition knows, with its text.
    pub fn all() -> impl Iterator<Item = (&'static str, Self)> {
        FEATURES.iter().cloned()
    }

    /// Whether it is a figure, a range or "checked good" for a place as a whole.
    pub fn is_stated(&self) -> bool {
        matches!(
            self,
            Self::BoreStated
                | Self::SkirtStated
                | Self::MainClearanceStated
                | Self::RodClearanceStated
                | Self::CompressionHeightStated
                | Self::PistonVolumeStated
                | Self::DeckStated
                | Self::ChamberStated
                | Self::WeightStated(_)
        )
    }

    /// How a reading of it is spoken of.
    pub fn measure(&self) -> Measure {
        use SlotFeature as F;
        match self {
            F::BoreStated
            | F::Bore(..)
            | F::SkirtStated
            | F::Skirt
            | F::MainShellBore(_)
            | F::MainHousing(_)
            | F::MainShellWall(_)
            | F::OfShell(..)
            | F::OfSeat(..)
            | F::ShimPack(..)
            | F::MainJournal(..)
            | F::RodJournal(..)
            | F::Stroke
            | F::MainFillet
            | F::RodFillet
            | F::RodHousing(_)
            | F::SmallEnd
            | F::RodLength
            | F::RodShellBore(_)
            | F::RodShellWall(_)
            | F::Pin
            | F::PinBore
            | F::CompressionHeightStated
            | F::CompressionHeight
            | F::Wall(_)
            | F::DeckHeight(_)
            | F::Clear(_)
            | F::FitBore(_)
            | F::FitOutside(_)
            | F::Retired(_) => Measure::SIZE,
            F::MainClearanceStated
            | F::MainClearanceDirect(_)
            | F::MainPlasticStrip
            | F::ShellProud(..)
            | F::CrushGap(_)
            | F::MainLine(_)
            | F::MainRunout
            | F::EndPlayAtCap
            | F::EndPlay
            | F::RodBend
            | F::RodTwist
            | F::RodSideClearance
            | F::RodClearanceStated
            | F::RodClearanceDirect(_)
            | F::RodPlasticStrip
            | F::RingGap(_)
            | F::RingSide(_)
            | F::RingBack(_)
            | F::DeckStated
            | F::Deck(_)
            | F::GasketThickness
            | F::DeckFlatness => Measure::SMALL,
            F::PistonVolumeStated | F::PistonVolume | F::ChamberStated | F::Chamber => Measure::VOLUME,
            F::WeightStated(_) | F::Weight(_) => Measure::MASS,
            F::TurningCrank | F::TurningWithPiston => Measure::TURNING,
            F::ThrowAngle => Measure::ANGLE,
            F::Residual(_) => Measure::UNBALANCE,
        }
    }

    /// Its text; none for a retired one.
    fn known_text(&self) -> Option<&'static str> {
        FEATURES.iter().find(|(_, feature)| feature == self).map(|(text, _)| *text)
    }

    /// Its text, as it is kept.
    pub fn text(&self) -> String {
        match self {
            Self::Retired(whole) => whole.clone(),
            known => known.known_text().unwrap_or_else(|| unlisted(known)).to_owned(),
        }
    }

    /// Reads a feature; what this edition does not know is kept whole as [`SlotFeature::Retired`].
    pub fn parse(text: &str) -> Self {
        let known = FEATURES.iter().find(|(name, _)| *name == text);
        known.map_or_else(|| Self::Retired(text.to_owned()), |(_, feature)| feature.clone())
    }
}

fn unlisted(feature: &SlotFeature) -> ! {
    unreachable!("{feature:?} stands in FEATURES, as a test checks")
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whatever is listed has its text; the compiler sees to it that [`SlotFeature::measure`] knows every feature.
    #[test]
    fn every_feature_is_listed() {
        for (text, feature) in SlotFeature::all() {
            assert_eq!(feature.known_text(), Some(text));
        }
        let rings = [Ring::Top, Ring::Second, Ring::Rail];
        let sides = [Side::Thrust, Side::Across, Side::Front, Side::Rear];
        let mut all: Vec<SlotFeature> = Vec::new();
        for height in [Height::Top, Height::Middle, Height::Bottom] {
            all.extend([Way::Thrust, Way::Pin].map(|way| SlotFeature::Bore(height, way)));
        }
        for spot in [Spot::Vertical, Spot::Parting] {
            all.extend([SlotFeature::MainClearanceDirect(spot), SlotFeature::MainShellBore(spot)]);
            all.extend([SlotFeature::MainHousing(spot), SlotFeature::RodHousing(spot)]);
            all.extend([SlotFeature::RodClearanceDirect(spot), SlotFeature::RodShellBore(spot)]);
        }
        for shell in [Shell::Upper, Shell::Lower] {
            all.extend([SlotFeature::MainShellWall(shell), SlotFeature::RodShellWall(shell)]);
            all.extend([Bearings::Mains, Bearings::Rods].map(|line| SlotFeature::ShellProud(line, shell)));
        }
        for plane in [Plane::Front, Plane::Rear] {
            for quarter in [Quarter::Zero, Quarter::Ninety] {
                all.extend([SlotFeature::MainJournal(plane, quarter), SlotFeature::RodJournal(plane, quarter)]);
            }
            all.push(SlotFeature::Residual(plane));
        }
        all.extend([Off::Vertical, Off::Sideways].map(SlotFeature::MainLine));
        for ring in rings {
            all.extend([SlotFeature::RingGap(ring), SlotFeature::RingSide(ring), SlotFeature::RingBack(ring)]);
        }
        for side in sides {
            all.extend([SlotFeature::Deck(side), SlotFeature::Wall(side)]);
        }
        for flank in [Flank::Left, Flank::Right] {
            all.extend([Bearings::Mains, Bearings::Rods].map(|line| SlotFeature::ShimPack(line, flank)));
        }
        for seating in Seating::ALL {
            for line in [Bearings::Mains, Bearings::Rods] {
                all.extend([SlotFeature::OfShell(line, seating), SlotFeature::OfSeat(line, seating)]);
            }
        }
        for weighed in Weighed::ALL {
            all.extend([SlotFeature::WeightStated(weighed), SlotFeature::Weight(weighed)]);
        }
        all.extend(Passing::ALL.map(SlotFeature::Clear));
        for pressed in [PressedIn::Sleeve, PressedIn::Bush] {
            all.extend([SlotFeature::FitBore(pressed), SlotFeature::FitOutside(pressed)]);
        }
        for feature in all {
            assert!(feature.known_text().is_some(), "{feature:?}");
        }
    }
}
