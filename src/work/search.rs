//! Search over everything that is kept in words: any job by a name, a telephone number, a serial, a part number, a note.

use super::Shop;
use super::doing::Done;
use crate::record::search::{self, Entry, FoundKind, Index, MARKS};
use crate::record::{Connection, builds, engines, families, people, suppliers};
use std::collections::{BTreeMap, BTreeSet};

/// Jobs shown at most, and entries of each.
const JOBS: usize = 20;
const ENTRIES: usize = 4;
/// People, suppliers and families shown at most, of each.
const OTHERS: usize = 10;
/// Words looked for at most, and signs read of what was typed.
const WORDS: usize = 8;
const SIGNS: usize = 200;
/// Numbers run together are looked for from so many signs on; of a longer telephone number its last digits are, as the
/// beginning is dialled in more than one way.
const NUMBER: usize = 3;
const LAST_DIGITS: usize = 7;

/// A stretch of a text, and whether it is what was looked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stretch {
    pub text: String,
    pub hit: bool,
}

/// One thing that was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hit {
    /// "note", "part", "serial".
    pub kind: &'static str,
    pub text: Vec<Stretch>,
}

/// A job in which something was found.
#[derive(Clone, Debug)]
pub struct FoundJob {
    pub job: i64,
    pub title: String,
    pub customer: Option<String>,
    pub engine: String,
    pub closed: bool,
    /// Whether it is the job whose number was typed.
    pub by_number: bool,
    pub hits: Vec<Hit>,
    /// Whether more was found in it than is shown.
    pub more: bool,
}

/// Somebody, or something of no single job, that was found.
#[derive(Clone, Debug)]
pub struct FoundOther {
    pub name: String,
    /// Its page; none for people.
    pub address: Option<String>,
    pub text: Vec<Stretch>,
    /// Of a customer: the newest first.
    pub jobs: Vec<i64>,
}

/// What was found.
#[derive(Clone, Debug, Default)]
pub struct FoundView {
    /// Whether anything was looked for.
    pub asked: bool,
    pub jobs: Vec<FoundJob>,
    /// How many jobs more were found than are shown.
    pub more_jobs: usize,
    pub people: Vec<FoundOther>,
    pub suppliers: Vec<FoundOther>,
    pub families: Vec<FoundOther>,
    /// How many people, suppliers and families more.
    pub more_others: usize,
}

impl FoundView {
    pub fn is_empty(&self) -> bool {
        self.jobs.is_empty() && self.people.is_empty() && self.suppliers.is_empty() && self.families.is_empty()
    }
}

/// One word that is looked for, as the two indexes take it: quoted, so that nothing in it is an operator.
#[derive(Debug, PartialEq, Eq)]
struct Word {
    /// As the beginning of a word.
    begins: String,
    /// Run together, where it is a number.
    number: Option<String>,
}

/// What is looked for.
#[derive(Debug, PartialEq, Eq)]
struct Wanted {
    words: Vec<Word>,
    /// All of it as one number, and a telephone number's last digits.
    whole: Vec<String>,
    /// The job of this number.
    job: Option<i64>,
}

impl Wanted {
    fn of(typed: &str) -> Self {
        let typed: String = typed.chars().take(SIGNS).map(|c| if c.is_control() { ' ' } else { c }).collect();
        let words = typed.split_whitespace().filter(|word| word.contains(char::is_alphanumeric));
        let words: Vec<&str> = words.take(WORDS).collect();
        let number = words.strip_prefix(&["job"]).or(words.strip_prefix(&["Job"])).unwrap_or(&words);
        let job = match number {
            [one] => one.trim_start_matches('#').parse().ok().filter(|job| *job > 0),
            _ => None,
        };
        let mut whole: Vec<String> = run_together(&words.concat()).into_iter().collect();
        let digits = whole.first().filter(|n| n.len() > LAST_DIGITS && n.bytes().all(|b| b.is_ascii_digit()));
        whole.extend(digits.map(|digits| digits[digits.len() - LAST_DIGITS..].to_owned()));
        let begins = |word: &str| format!("\"{}\"*", word.replace('"', "\"\""));
        let words = words.into_iter().map(|word| Word { begins: begins(word), number: run_together(word) }).collect();
        Self { words, whole, job }
    }

    /// Entries with all of the words, or any of them.
    fn words(&self, between: &str) -> String {
        self.words.iter().map(|word| word.begins.as_str()).collect::<Vec<_>>().join(between)
    }

    /// Entries with all that was typed as one number.
    fn whole_number(&self) -> Option<String> {
        any_of(self.whole.iter())
    }

    /// Every number to mark: the longest first.
    fn numbers(&self) -> impl Iterator<Item = &String> {
        self.whole.iter().chain(self.words.iter().filter_map(|word| word.number.as_ref()))
    }
}

fn any_of<'a>(numbers: impl Iterator<Item = &'a String>) -> Option<String> {
    let quoted: Vec<String> = numbers.map(|number| format!("\"{number}\"")).collect();
    (!quoted.is_empty()).then(|| quoted.join(" OR "))
}

/// The letters and digits of a word with a digit in it.
fn run_together(word: &str) -> Option<String> {
    let run: String = word.chars().filter(|c| c.is_alphanumeric()).collect();
    (run.chars().count() >= NUMBER && run.contains(|c: char| c.is_ascii_digit())).then_some(run)
}

/// What a text of the index is made of: the marks around what was found are taken away.
fn stretches(text: &str) -> Vec<Stretch> {
    let stretch = |text: &str, hit| Stretch { text: text.to_owned(), hit };
    let mut found = Vec::new();
    for part in text.split(MARKS.0) {
        match part.split_once(MARKS.1) {
            Some((hit, rest)) => found.extend([stretch(hit, true), stretch(rest, false)]),
            None => found.push(stretch(part, false)),
        }
    }
    found.retain(|stretch| !stretch.text.is_empty());
    found
}

/// A text in which one of the numbers stands, spaced or dashed in whatever way; the first such is marked.
fn number_marked<'a>(text: &str, mut numbers: impl Iterator<Item = &'a String>) -> Vec<Stretch> {
    let signs: Vec<(usize, char)> = text.char_indices().filter(|(_, c)| c.is_alphanumeric()).collect();
    let run: Vec<char> = signs.iter().flat_map(|(_, c)| c.to_lowercase().next()).collect();
    let found = numbers.find_map(|number| {
        let number: Vec<char> = number.chars().flat_map(|c| c.to_lowercase().next()).collect();
        let at = run.windows(number.len()).position(|window| window == number)?;
        let last = signs[at + number.len() - 1];
        Some((signs[at].0, last.0 + last.1.len_utf8()))
    });
    match found {
        Some((from, to)) => {
            let (open, close) = MARKS;
            stretches(&format!("{}{open}{}{close}{}", &text[..from], &text[from..to], &text[to..]))
        }
        None => stretches(text),
    }
}

/// The jobs found, each with how near it lies: the job of the number typed, then those found by whose or which engine it is.
struct Jobs {
    near: BTreeMap<i64, u8>,
    /// Entries of people and things, each with a job it leads to.
    by_others: BTreeSet<(Entry, i64)>,
}

/// The jobs in which every word stands somewhere, or all of it as one number.
async fn jobs(db: &mut Connection, wanted: &Wanted) -> Done<Jobs> {
    let mut by_others = BTreeSet::new();
    let mut in_all: Option<BTreeMap<i64, u8>> = None;
    for word in &wanted.words {
        let mut near = with(db, Index::Words, &word.begins, &mut by_others).await?;
        if let Some(number) = any_of(word.number.iter()) {
            nearer(&mut near, with(db, Index::RunTogether, &number, &mut by_others).await?);
        }
        in_all = Some(match in_all {
            None => near,
            Some(before) => {
                let both = |(job, was): (i64, u8)| Some((job, was.min(*near.get(&job)?)));
                before.into_iter().filter_map(both).collect()
            }
        });
    }
    let mut near = in_all.unwrap_or_default();
    if let Some(number) = wanted.whole_number() {
        nearer(&mut near, with(db, Index::RunTogether, &number, &mut by_others).await?);
    }
    if let Some(job) = wanted.job
        && builds::by_id(db, job).await?.is_some()
    {
        near.insert(job, 0);
    }
    Ok(Jobs { near, by_others })
}

/// The jobs that a query finds, and how near each lies; the people and things that led to some are added to `by_others`.
async fn with(
    db: &mut Connection,
    index: Index,
    query: &str,
    by_others: &mut BTreeSet<(Entry, i64)>,
) -> Done<BTreeMap<i64, u8>> {
    let mut near = BTreeMap::new();
    for (job, kind) in search::in_jobs(db, index, query).await? {
        let is = if kind <= FoundKind::Facts { 1 } else { 2 };
        nearer(&mut near, BTreeMap::from([(job, is)]));
    }
    let others = search::led_to(db, index, query).await?;
    near.extend(others.iter().map(|(_, job)| (*job, 1)));
    by_others.extend(others);
    Ok(near)
}

/// Adds jobs, each as near as it lies either way.
fn nearer(near: &mut BTreeMap<i64, u8>, more: BTreeMap<i64, u8>) {
    for (job, is) in more {
        near.entry(job).and_modify(|was| *was = is.min(*was)).or_insert(is);
    }
}

/// The entries to show of each of these jobs: those that led to it, then its own; one more than is shown.
async fn entries_of(
    db: &mut Connection,
    shown: &[i64],
    wanted: &Wanted,
    found: &Jobs,
) -> Done<BTreeMap<i64, BTreeSet<Entry>>> {
    let mut entries: BTreeMap<i64, BTreeSet<Entry>> = shown.iter().map(|job| (*job, BTreeSet::new())).collect();
    for (entry, job) in &found.by_others {
        if let Some(of_job) = entries.get_mut(job) {
            of_job.insert(*entry);
        }
    }
    let most = i64::try_from(ENTRIES + 1).unwrap_or(i64::MAX);
    let mut own = search::first_in_jobs(db, Index::Words, &wanted.words(" OR "), shown, most).await?;
    if let Some(number) = any_of(wanted.numbers()) {
        own.extend(search::first_in_jobs(db, Index::RunTogether, &number, shown, most).await?);
    }
    for entry in own {
        if let Some(of_job) = entry.build.and_then(|job| entries.get_mut(&job)) {
            of_job.insert(entry);
        }
    }
    Ok(entries)
}

/// The people, suppliers and families in whose entry all of it stands.
async fn others_with(db: &mut Connection, wanted: &Wanted) -> Done<Vec<Entry>> {
    let mut others: BTreeSet<Entry> =
        search::of_no_job(db, Index::Words, &wanted.words(" AND ")).await?.into_iter().collect();
    if let Some(number) = wanted.whole_number() {
        others.extend(search::of_no_job(db, Index::RunTogether, &number).await?);
    }
    Ok(others.into_iter().filter(|entry| entry.kind != FoundKind::Item).collect())
}

/// What was found, as it is shown.
struct Texts<'a> {
    wanted: &'a Wanted,
    texts: BTreeMap<Entry, String>,
}

impl Texts<'_> {
    /// With what was looked for marked: by the index where words stand in it, or else by the number.
    fn of(&self, entry: &Entry) -> Vec<Stretch> {
        let text = self.texts.get(entry).map_or("", String::as_str);
        if text.contains(MARKS.0) { stretches(text) } else { number_marked(text, self.wanted.numbers()) }
    }

    async fn job(&self, db: &mut Connection, job: i64, entries: &BTreeSet<Entry>) -> Done<Option<FoundJob>> {
        let Some(build) = builds::by_id(db, job).await? else { return Ok(None) };
        let customer = match build.customer {
            Some(id) => people::by_id(db, id).await?.map(|person| person.name),
            None => None,
        };
        let engine = engines::by_id(db, build.engine).await?;
        let hit = |entry: &Entry| Hit { kind: entry.kind.word(), text: self.of(entry) };
        Ok(Some(FoundJob {
            job,
            title: build.title,
            customer,
            engine: engine.map_or_else(String::new, |engine| engine.architecture.summary()),
            closed: build.closed,
            by_number: self.wanted.job == Some(job),
            hits: entries.iter().take(ENTRIES).map(hit).collect(),
            more: entries.len() > ENTRIES,
        }))
    }

    async fn other(&self, db: &mut Connection, entry: &Entry) -> Done<Option<FoundOther>> {
        let (row, text, mut jobs) = (entry.row, self.of(entry), Vec::new());
        let named = match entry.kind {
            FoundKind::Person => {
                jobs = search::jobs_of_customer(db, row).await?;
                people::by_id(db, row).await?.map(|person| (person.name, None))
            }
            FoundKind::Supplier => {
                let known = suppliers::all(db).await?.into_iter().find(|supplier| supplier.id == row);
                known.map(|known| (known.said.name, Some(format!("/suppliers/{}", known.public_id))))
            }
            _ => {
                let known = families::by_id(db, row).await?;
                known.map(|known| (known.name, Some(format!("/families/{}", known.public_id))))
            }
        };
        Ok(named.map(|(name, address)| FoundOther { name, address, text, jobs }))
    }
}

impl Shop {
    /// Looks for what was typed, everywhere.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn search(&self, typed: &str) -> Done<FoundView> {
        let wanted = Wanted::of(typed);
        if wanted.words.is_empty() {
            return Ok(FoundView::default());
        }
        let mut look = self.record.look().await?;
        let found = jobs(&mut look, &wanted).await?;
        let mut order: Vec<i64> = found.near.keys().copied().collect();
        order.sort_by_key(|job| (found.near[job], std::cmp::Reverse(*job)));
        let more_jobs = order.len().saturating_sub(JOBS);
        order.truncate(JOBS);
        let of_jobs = entries_of(&mut look, &order, &wanted, &found).await?;
        let others = others_with(&mut look, &wanted).await?;
        let of_kind = |kind| others.iter().filter(move |entry| entry.kind == kind);
        let kinds = [FoundKind::Person, FoundKind::Supplier, FoundKind::Family];
        let shown: Vec<Entry> = kinds.into_iter().flat_map(|kind| of_kind(kind).take(OTHERS)).copied().collect();
        let all: Vec<Entry> = of_jobs.values().flatten().chain(&shown).copied().collect();
        let texts = search::texts(&mut look, &wanted.words(" OR "), &all).await?;
        let texts = Texts { wanted: &wanted, texts };

        let more_others = others.len() - shown.len();
        let mut view = FoundView { asked: true, more_jobs, more_others, ..FoundView::default() };
        for job in order {
            view.jobs.extend(texts.job(&mut look, job, &of_jobs[&job]).await?);
        }
        for entry in &shown {
            let other = texts.other(&mut look, entry).await?;
            match entry.kind {
                FoundKind::Person => view.people.extend(other),
                FoundKind::Supplier => view.suppliers.extend(other),
                _ => view.families.extend(other),
            }
        }
        Ok(view)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_word_is_quoted_and_a_number_is_run_together() {
        let wanted = Wanted::of(" bolt  \"AND\" (EK-204) * ");
        let begins: Vec<&str> = wanted.words.iter().map(|word| word.begins.as_str()).collect();
        assert_eq!(begins, ["\"bolt\"*", "\"\"\"AND\"\"\"*", "\"(EK-204)\"*"]);
        assert_eq!(wanted.numbers().collect::<Vec<_>>(), ["boltANDEK204", "EK204"]);
        assert_eq!(Wanted::of("555 0142").whole, ["5550142"]);
        assert_eq!(Wanted::of("+1 (555) 555-0142").whole, ["15555550142", "5550142"]);
        assert_eq!(Wanted::of("a\0b\nc").words(" AND "), "\"a\"* AND \"b\"* AND \"c\"*");
        for nothing in ["", "  ", "\"", "* - ( )", "\0"] {
            assert!(Wanted::of(nothing).words.is_empty(), "{nothing:?}");
        }
    }

    #[test]
    fn a_bare_number_is_a_job() {
        for (typed, job) in [("12", Some(12)), ("#12", Some(12)), ("job 12", Some(12)), ("0", None), ("12 bolts", None)]
        {
            assert_eq!(Wanted::of(typed).job, job, "{typed}");
        }
    }

    #[test]
    fn what_was_looked_for_is_marked() {
        let of = |text: &str, hit| Stretch { text: text.into(), hit };
        assert_eq!(stretches("the \u{2}bolts\u{3} of"), [of("the ", false), of("bolts", true), of(" of", false)]);
        let numbers = ["5550142".to_owned()];
        assert_eq!(
            number_marked("Quill, 01-555 01 42, é", numbers.iter()),
            [of("Quill, 01-", false), of("555 01 42", true), of(", é", false)]
        );
        assert_eq!(number_marked("Quill", numbers.iter()), [of("Quill", false)]);
    }
}
