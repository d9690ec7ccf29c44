//! What to look at when a part came in, by what kind of part its own words say it is.
//!
//! The lists are our own, of what the trade says goes wrong; a shop adds to them in its own words.

/// A kind of part: its key, how it is called, the words that name it, and what is looked at on it besides what is looked
/// at on every part.
#[derive(Clone, Copy, Debug)]
pub(super) struct KindOfPart {
    pub key: &'static str,
    pub word: &'static str,
    named: &'static [&'static str],
    points: &'static [&'static str],
}

/// On every part.
const ALWAYS: [&str; 3] = ["Count", "Part number", "Undamaged in transit"];

/// The key of what is looked at on every part.
pub(super) const ANY: &str = "any";

/// What comes first goes before what follows: rod bolts are fasteners, rod shells are shells, piston rings are rings.
const KINDS: [KindOfPart; 9] = [
    KindOfPart {
        key: "fasteners",
        word: "fasteners",
        named: &["bolt", "bolts", "stud", "studs", "nut", "nuts", "fastener", "fasteners", "screw", "screws"],
        points: &["Length and thread", "Matching set", "Certificate"],
    },
    KindOfPart {
        key: "gaskets",
        word: "gaskets",
        named: &["gasket", "gaskets", "seal", "seals"],
        points: &["Thickness and bore stamped"],
    },
    KindOfPart {
        key: "shells",
        word: "shells",
        named: &["shell", "shells", "bearing", "bearings"],
        points: &["Size stamped", "Matching set"],
    },
    KindOfPart {
        key: "rings",
        word: "rings",
        named: &["ring", "rings"],
        points: &["Size stamped", "A set for every cylinder", "Nothing broken or bent"],
    },
    KindOfPart {
        key: "pistons",
        word: "pistons",
        named: &["piston", "pistons"],
        points: &["Size stamped", "Matching set", "Weights marked"],
    },
    KindOfPart {
        key: "valves",
        word: "valve gear",
        named: &[
            "valve",
            "valves",
            "spring",
            "springs",
            "lifter",
            "lifters",
            "follower",
            "followers",
            "rocker",
            "rockers",
        ],
        points: &["Size stamped", "Matching set"],
    },
    KindOfPart {
        key: "rods",
        word: "rods",
        named: &["rod", "rods", "conrod", "conrods"],
        points: &["Matching set", "Caps numbered to their rods", "Certificate"],
    },
    KindOfPart {
        key: "crank",
        word: "crank or cam",
        named: &["crank", "crankshaft", "cam", "camshaft"],
        points: &["Size stamped", "Journals unmarked", "Certificate"],
    },
    KindOfPart { key: "other", word: "other parts", named: &[], points: &[] },
];

impl KindOfPart {
    /// By a part's own words; the last where none of them names a kind.
    pub fn of(description: &str) -> Self {
        let description = description.to_lowercase();
        let words: Vec<&str> = description.split(|letter: char| !letter.is_alphabetic()).collect();
        let named = |kind: &&Self| kind.named.iter().any(|name| words.contains(name));
        *KINDS.iter().find(named).unwrap_or(&KINDS[KINDS.len() - 1])
    }

    /// What is looked at on it in any shop.
    pub fn points(&self) -> impl Iterator<Item = &'static str> + use<> {
        ALWAYS.into_iter().chain(self.points.iter().copied())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_is_what_its_own_words_say() {
        for (description, kind) in [
            ("Connecting rod bolts", "fasteners"),
            ("Rod shells, 10 under, set", "shells"),
            ("Piston rings", "rings"),
            ("Pistons with pins, 30 over", "pistons"),
            ("Forged rods", "rods"),
            ("Head gasket", "gaskets"),
            ("Exhaust valves", "valves"),
            ("Crankshaft", "crank"),
            ("Oil pump", "other"),
            ("", "other"),
        ] {
            assert_eq!(KindOfPart::of(description).key, kind, "{description}");
        }
        assert!(KindOfPart::of("rod bolts").points().eq([
            "Count",
            "Part number",
            "Undamaged in transit",
            "Length and thread",
            "Matching set",
            "Certificate"
        ]));
    }
}
