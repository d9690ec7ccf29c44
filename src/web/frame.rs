//! What stands around every page: its title, where it is, whose engine, who is at the tablet.

use super::Visit;
pub use crate::drawing::job_mark::mark_of;

/// Bench pages are for wet hands, office pages are denser.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Room {
    Bench,
    Office,
}

impl Room {
    pub const fn class(self) -> &'static str {
        match self {
            Self::Bench => "bench",
            Self::Office => "office",
        }
    }
}

/// A page above this one.
#[derive(Clone, Debug)]
pub struct Crumb {
    pub word: String,
    pub address: String,
}

/// The engine a page is about: it fills the top, so that nobody enters readings on the wrong one.
#[derive(Clone, Debug)]
pub struct JobOnTop {
    pub number: i64,
    /// What it is, in the shop's words.
    pub title: String,
    /// Key of the step that the page belongs to; none: of no single one.
    pub step: Option<String>,
}

impl JobOnTop {
    /// Where a note or photo of this step, or of the job, is kept.
    pub fn beside(&self, page: &str) -> String {
        let step = self.step.as_ref().map_or_else(String::new, |key| format!("?step={key}"));
        format!("/jobs/{}/{page}{step}", self.number)
    }

    /// Which of the twelve colour marks it bears: the twelve newest jobs all differ.
    pub const fn mark(&self) -> i64 {
        mark_of(self.number)
    }
}

/// Every page holds one as `frame` and extends `shared/base.html`.
#[derive(Clone, Debug)]
pub struct Frame {
    pub visit: Visit,
    pub room: Room,
    pub title: String,
    pub trail: Vec<Crumb>,
    pub job: Option<JobOnTop>,
    /// Whether the page shows a form that was refused: its title says so first.
    pub refused: bool,
}

impl Frame {
    pub(super) const fn new(visit: Visit, room: Room, title: String) -> Self {
        Self { visit, room, title, trail: Vec::new(), job: None, refused: false }
    }

    /// Adds a page above this one, outermost first.
    #[must_use]
    pub fn under(mut self, word: impl Into<String>, address: impl Into<String>) -> Self {
        self.trail.push(Crumb { word: word.into(), address: address.into() });
        self
    }

    /// Fills the top with this job.
    #[must_use]
    pub fn on_job(mut self, number: i64, title: impl Into<String>) -> Self {
        self.job = Some(JobOnTop { number, title: title.into(), step: None });
        self
    }

    /// Says which step of the job the page belongs to.
    #[must_use]
    pub fn at_step(mut self, key: &str) -> Self {
        if let Some(job) = &mut self.job {
            job.step = Some(key.to_owned());
        }
        self
    }

    /// Marks the page as one whose form was refused.
    #[must_use]
    pub const fn refused(mut self, refused: bool) -> Self {
        self.refused = refused;
        self
    }
}
