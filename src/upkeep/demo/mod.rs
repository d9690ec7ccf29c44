//! The demonstration shop: invented, laid out on an empty record through the shop's own actions, as it would have come
//! about in the weeks before.
//!
//! Shop, people, makers and engines are invented. Their figures hold together as real engines' do, and are no advice.

mod canvas;
mod diary;
mod folder;
mod gauge_study;
mod inline_six;
mod metal;
mod money;
mod own_work;
mod phoned_in;
mod photos;
mod premises;
mod scatter;
mod supply;
mod vee_eight;
mod vintage;

pub use diary::NotLaidOut;
pub use folder::open;

use crate::work::{Audience, Shop};
use diary::{Diary, refused};
use jiff::Timestamp;
use jiff::tz::TimeZone;

/// A card that was issued to an owner, as it was issued.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnersCard {
    pub job: i64,
    /// The number of the issue.
    pub number: i64,
    /// The PDF.
    pub bytes: Vec<u8>,
}

/// The demonstration shop as it stands in the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DemoShop {
    /// How many jobs are in the record.
    pub jobs: usize,
    /// The newest owner's card of the newest job that has one.
    pub card: Option<OwnersCard>,
}

/// The shop as it stands once it was laid out.
async fn as_it_stands(shop: &Shop, now: Timestamp) -> Result<DemoShop, NotLaidOut> {
    let jobs = jobs(shop, now).await?;
    Ok(DemoShop { jobs, card: owners_card(shop, jobs, now).await? })
}

/// Everything that happened, in the order it happened.
async fn write_diary(shop: &Shop, now: Timestamp) -> Result<(), NotLaidOut> {
    let zone = TimeZone::get(premises::ZONE).unwrap_or(TimeZone::UTC);
    let diary = &mut Diary::new(shop, zone, now);
    premises::move_in(diary).await?;
    gauge_study::is_made(diary).await?;
    let built = vintage::is_built(diary).await?;
    let six = inline_six::arrives(diary).await?;
    money::six_is_quoted(diary, six).await?;
    let eight = vee_eight::arrives(diary).await?;
    inline_six::is_machined(diary, six).await?;
    money::six_is_changed(diary, six).await?;
    vee_eight::is_agreed(diary, eight).await?;
    money::eight_is_quoted(diary, eight).await?;
    inline_six::gets_its_bearings(diary, six).await?;
    let refresh = vintage::comes_back(diary, built).await?;
    inline_six::is_put_together(diary, six).await?;
    vee_eight::tries_its_mains(diary, eight).await?;
    let flat_four = phoned_in::flat_four_arrives(diary).await?;
    inline_six::runs(diary, six).await?;
    vintage::goes_together(diary, refresh).await?;
    vee_eight::is_left_half_done(diary, eight).await?;
    money::eight_waits(diary, eight).await?;
    let engines = supply::Engines { six, eight, refresh, flat_four };
    supply::is_written_up(diary, &engines).await?;
    own_work::is_written_up(diary, &engines).await?;
    inline_six::gets_its_card(diary, six).await?;
    money::six_is_invoiced(diary, six).await?;
    phoned_in::rings(diary).await?;
    Ok(())
}

/// Jobs on the floor and jobs that have left it.
async fn jobs(shop: &Shop, now: Timestamp) -> Result<usize, NotLaidOut> {
    let floor = shop.floor(diary::OFFICE, now).await.map_err(refused("shop floor"))?;
    Ok(floor.rows.len() + floor.left)
}

async fn owners_card(shop: &Shop, jobs: usize, now: Timestamp) -> Result<Option<OwnersCard>, NotLaidOut> {
    // Jobs are numbered from 1 without a gap.
    for job in (1..=i64::try_from(jobs).unwrap_or(0)).rev() {
        let issues = shop.card(job, now).await.map_err(refused("card"))?.issues;
        if let Some(issue) = issues.iter().rev().find(|issue| issue.audience == Audience::Owner) {
            let issued = shop.issued_card(job, issue.number).await.map_err(refused("issued card"))?;
            return Ok(Some(OwnersCard { job, number: issue.number, bytes: issued.bytes }));
        }
    }
    Ok(None)
}
