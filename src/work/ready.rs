//! What can go ahead now, over every engine in the shop; why all else waits; what of it can be done in part.

use super::Shop;
use super::doing::Done;
use super::floor::StepLink;
use super::in_shop::JobInShop;
use super::needs::{Needed, Source};
use crate::engine::{ItemKind, SheetKey};
use crate::plan::{self, Ahead, Reason, Stand};
use crate::sheets::{sheet, things_read};
use jiff::Timestamp;
use jiff::civil::Date;
use std::collections::BTreeSet;

/// A step that can go ahead.
#[derive(Clone, Debug)]
pub struct ReadyRow {
    pub job: i64,
    pub title: String,
    pub step: StepLink,
    pub begun: bool,
    /// "4 days to spare", "2 days late"; none where no day was promised.
    pub spare: Option<String>,
    pub late: bool,
}

/// A sheet of a waiting step that can be taken up meanwhile.
#[derive(Clone, Debug)]
pub struct PartlyRow {
    pub job: i64,
    pub title: String,
    pub step: StepLink,
    pub sheet: SheetKey,
    pub sheet_title: &'static str,
    /// Of what it can be read: "block, crank".
    pub of: String,
    /// "crank: six weeks".
    pub lacks: String,
}

/// A step that waits, and for what.
#[derive(Clone, Debug)]
pub struct WaitingRow {
    pub step: StepLink,
    /// "crank: six weeks, nothing else"; "main shells, to order; the deposit: tomorrow".
    pub why: String,
}

/// What waits on one engine.
#[derive(Clone, Debug)]
pub struct WaitingJob {
    pub job: i64,
    pub title: String,
    /// Steps that wait for nothing but what is not here.
    pub needs: Vec<WaitingRow>,
    /// Steps that wait for others, whatever else they lack.
    pub behind: Vec<WaitingRow>,
}

/// The page of what can go ahead now.
#[derive(Clone, Debug)]
pub struct ReadyView {
    /// The most urgent first.
    pub ready: Vec<ReadyRow>,
    pub partly: Vec<PartlyRow>,
    pub waiting: Vec<WaitingJob>,
    /// Some hours are our guess: steps whose own nobody said, or the shop's.
    pub guessed: bool,
    /// Steps of these jobs wait for each other in a circle: nothing of them can be said.
    pub circles: Vec<i64>,
}

impl JobInShop {
    fn link(&self, place: usize) -> StepLink {
        StepLink::to(&self.steps[place])
    }

    fn said(&self, reason: &Reason<'_>, today: Date) -> String {
        match reason {
            Reason::Step(place) => self.steps[*place].title.clone(),
            Reason::Need(need) => need.said(today),
        }
    }

    fn ready_row(&self, stand: &Stand<'_>) -> ReadyRow {
        ReadyRow {
            job: self.build.id,
            title: self.build.title.clone(),
            step: self.link(stand.step),
            begun: stand.begun,
            spare: stand.spare_days.map(spare_words),
            late: stand.spare_days.is_some_and(|days| days < 0),
        }
    }

    fn waiting_row(&self, stand: &Stand<'_>, today: Date) -> WaitingRow {
        let said = stand.reasons.iter().map(|reason| self.said(reason, today)).collect::<Vec<_>>().join("; ");
        let only = matches!(stand.only_reason(), Some(Reason::Need(_)));
        WaitingRow { step: self.link(stand.step), why: if only { format!("{said}, nothing else") } else { said } }
    }

    /// The kinds of things of the engine that are not here, whichever step needs them.
    fn away(&self) -> BTreeSet<ItemKind> {
        self.steps.iter().flat_map(|step| self.needs.of(step)).flat_map(kinds_of).collect()
    }

    /// The sheets of a waiting step that can be taken up: where it waits for nothing but parts and work that is away, each
    /// that reads some kind of thing which is here.
    fn partly(&self, stand: &Stand<'_>, away: &BTreeSet<ItemKind>, today: Date) -> Vec<PartlyRow> {
        let step = &self.steps[stand.step];
        let needed: Vec<&Needed> = self.needs.of(step).collect();
        let thing = |needed: &&Needed| matches!(needed.source, Source::Part { .. } | Source::Sent { .. });
        if stand.reasons.iter().any(|reason| matches!(reason, Reason::Step(_))) || !needed.iter().all(thing) {
            return Vec::new();
        }
        let lacks = needed.iter().map(|needed| needed.said(today)).collect::<Vec<_>>().join("; ");
        let one = |&key: &SheetKey| {
            let here: Vec<&str> = things_read(key).difference(away).map(|kind| kind.word()).collect();
            (!here.is_empty()).then(|| PartlyRow {
                job: self.build.id,
                title: self.build.title.clone(),
                step: StepLink::to(step),
                sheet: key,
                sheet_title: sheet(key).title,
                of: here.join(", "),
                lacks: lacks.clone(),
            })
        };
        step.sheets.iter().filter_map(one).collect()
    }
}

/// The kinds of things that something awaited is: work that is away is what its sheet reads; else what it is named after,
/// and "rod bolts" are a rod that is not here. What is named after none keeps no reading from being taken.
fn kinds_of(needed: &Needed) -> BTreeSet<ItemKind> {
    match needed.source {
        Source::Sent { sheet: Some(key), .. } => things_read(key).clone(),
        Source::Wait { .. } => BTreeSet::new(),
        Source::Part { .. } | Source::Sent { .. } => {
            let words = needed.what.to_lowercase();
            words.split(|letter: char| !letter.is_alphabetic()).filter_map(kind_named).collect()
        }
    }
}

fn kind_named(word: &str) -> Option<ItemKind> {
    Some(match word {
        "block" | "blocks" => ItemKind::Block,
        "crank" | "crankshaft" => ItemKind::Crank,
        "head" | "heads" => ItemKind::Head,
        "rod" | "rods" | "conrod" | "conrods" => ItemKind::Rod,
        "piston" | "pistons" | "pin" | "pins" | "ring" | "rings" => ItemKind::Piston,
        "shell" | "shells" | "bearing" | "bearings" => ItemKind::MainShells,
        _ => return None,
    })
}

/// "4 days to spare", "1 day late".
fn spare_words(days: i64) -> String {
    let unit = if days.abs() == 1 { "day" } else { "days" };
    let what = if days < 0 { "late" } else { "to spare" };
    format!("{} {unit} {what}", days.abs())
}

impl Shop {
    /// What can go ahead now; engines that are parked are left out.
    ///
    /// # Errors
    /// Where the record cannot be read.
    pub async fn ready(&self, now: Timestamp) -> Done<ReadyView> {
        let shop = self.in_shop(&mut *self.record.look().await?, now).await?;
        let ahead = Ahead::new(&shop.time.calendar, shop.today);
        let mut view = ReadyView {
            ready: Vec::new(),
            partly: Vec::new(),
            waiting: Vec::new(),
            guessed: shop.time.guessed,
            circles: Vec::new(),
        };
        let mut ready: Vec<(Stand<'_>, ReadyRow)> = Vec::new();
        for job in shop.newest_first() {
            let planned = job.needs.plan_steps(&job.steps, |step| shop.hours_left(job, step));
            let Ok(stands) = plan::stand(&planned, job.promised, &ahead) else {
                view.circles.push(job.build.id);
                continue;
            };
            view.guessed |= stands.iter().any(|stand| shop.expected(job, &job.steps[stand.step]).guessed());
            let away = job.away();
            let (number, title) = (job.build.id, job.build.title.clone());
            let mut waiting = WaitingJob { job: number, title, needs: Vec::new(), behind: Vec::new() };
            for stand in stands {
                if stand.is_ready() {
                    let row = job.ready_row(&stand);
                    ready.push((stand, row));
                    continue;
                }
                view.partly.extend(job.partly(&stand, &away, shop.today));
                let behind = stand.reasons.iter().any(|reason| matches!(reason, Reason::Step(_)));
                let list = if behind { &mut waiting.behind } else { &mut waiting.needs };
                list.push(job.waiting_row(&stand, shop.today));
            }
            if !waiting.needs.is_empty() || !waiting.behind.is_empty() {
                view.waiting.push(waiting);
            }
        }
        ready.sort_by(|(a, _), (b, _)| plan::most_urgent_first(a, b));
        view.ready = ready.into_iter().map(|(_, row)| row).collect();
        Ok(view)
    }
}
