//! What a part can be: whose, from where, in which state it came, as choices of its form.

use crate::work::{AsItCame, Origin, Whose};

type Choice = (&'static str, &'static str);

pub(super) fn whose() -> Vec<Choice> {
    Whose::ALL.iter().map(|one| (one.key(), one.word())).collect()
}

pub(super) fn origins() -> Vec<Choice> {
    Origin::ALL.iter().map(|one| (one.key(), one.word())).collect()
}

pub(super) fn as_it_came() -> Vec<Choice> {
    AsItCame::ALL.iter().map(|one| (one.key(), one.word())).collect()
}
