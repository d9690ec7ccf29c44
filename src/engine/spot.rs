//! Where on a part something is read, or of which part: heights, ways, planes, bearings, rings, sides.

/// How far down a cylinder bore.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Height {
    Top,
    Middle,
    Bottom,
}

/// Which way across a cylinder: across the crank (thrust way) or along it (pin way).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Way {
    Thrust,
    Pin,
}

/// Where round a main bearing: square to the parting line, or near it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spot {
    Vertical,
    Parting,
}

/// Which line of bearings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Bearings {
    Mains,
    Rods,
}

/// Which half of a pair of shells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shell {
    Upper,
    Lower,
}

/// What is pressed into another part, and held there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PressedIn {
    /// Into the block, for a cylinder.
    Sleeve,
    /// Into a rod's small end.
    Bush,
    /// Into a rod's small end, without a bush.
    Pin,
}

/// What of a shell is held against its seat before it is fitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Seating {
    /// Along the crank.
    Width,
    /// Of the tang, or of the notch it lies in.
    TangWidth,
    /// From the edge of the shell, or of its seat.
    TangPlace,
}

impl Seating {
    pub const ALL: [Self; 3] = [Self::Width, Self::TangWidth, Self::TangPlace];
}

/// Which way something lies off a line along the engine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Off {
    /// Above zero towards the deck.
    Vertical,
    /// Above zero to the left, seen from the front.
    Sideways,
}

/// Which side of a bearing's joint, seen from the front.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Flank {
    Left,
    Right,
}

/// Where along a journal.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Plane {
    Front,
    Rear,
}

/// Which of two diameters square to each other; zero is vertical with throw 1 up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Quarter {
    Zero,
    Ninety,
}

/// Which ring of a piston.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ring {
    Top,
    Second,
    /// A rail of the oil ring.
    Rail,
}

/// Which side of a cylinder or piston, seen from the front: the thrust side, the side across from it, towards the front of the
/// engine or its rear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Side {
    Thrust,
    Across,
    Front,
    Rear,
}

/// Which corner of a deck: at its front or rear end, towards the middle of the engine or away from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Corner {
    FrontInner,
    FrontOuter,
    RearInner,
    RearOuter,
}

/// What is weighed for balance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weighed {
    Piston,
    Pin,
    /// All rings of one piston.
    Rings,
    /// Both locks of one pin.
    Locks,
    SmallEnd,
    BigEnd,
    /// Both shells of one rod.
    RodShells,
}

impl Weighed {
    pub const ALL: [Self; 7] =
        [Self::Piston, Self::Pin, Self::Rings, Self::Locks, Self::SmallEnd, Self::BigEnd, Self::RodShells];
}

/// Between what turns and what stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Passing {
    RodToBlock,
    RodToCam,
    CounterweightToBlock,
    CounterweightToPiston,
    ToPan,
    ToTray,
}

impl Passing {
    pub const ALL: [Self; 6] = [
        Self::RodToBlock,
        Self::RodToCam,
        Self::CounterweightToBlock,
        Self::CounterweightToPiston,
        Self::ToPan,
        Self::ToTray,
    ];
}
