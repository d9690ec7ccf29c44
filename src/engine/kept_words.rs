//! Closed sets of words as kept in a column: each variant with its key and how it is spoken of.

/// Declares an enum whose variants have a key in the record and a word for the page.
macro_rules! kept_words {
    ($(#[$about:meta])* pub enum $name:ident { $($(#[$of:meta])* $variant:ident = $key:literal, $word:literal;)+ }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$of])* $variant,)+ }

        impl $name {
            pub const ALL: &[Self] = &[$(Self::$variant,)+];

            /// The key kept in the record.
            pub fn key(self) -> &'static str {
                match self { $(Self::$variant => $key,)+ }
            }

            /// As it is spoken of.
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word,)+ }
            }

            pub fn from_key(key: &str) -> Option<Self> {
                match key { $($key => Some(Self::$variant),)+ _ => None }
            }
        }
    };
}
pub(crate) use kept_words;
