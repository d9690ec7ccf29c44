//! The six is put together, runs, and gets its card.

use super::super::diary::{Diary, Done, OFFICE, TABLET, refused};
use super::super::photos;
use super::super::premises::{JUN, MARTA};
use super::short_block;
use crate::work::{Audience, FamilyForm};
use std::collections::BTreeMap;

/// Balance, short block, heads, first start.
pub(in super::super) async fn is_put_together(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.on(10, (16, 45), MARTA, OFFICE);
    diary.done_elsewhere(job, "balance", "Penhallow Balancing, report 5521").await?;
    short_block::measures(diary, job).await?;
    diary.on(8, (8, 0), JUN, TABLET);
    let pictures = vec![("main-3.jpg", photos::main_cap(3, [true, true], &mut diary.scatter))];
    diary.photographs(job, "short-block", pictures, "Paint over both bolts after the last step, all seven").await?;
    short_block::closes(diary, job).await?;
    diary
        .notes(job, Some("short-block"), "Turns at 22 lbf·in with all six in, no piston adds more than the next.")
        .await?;
    diary.signs(job, &["short-block"]).await?;
    diary.on(7, (13, 0), MARTA, TABLET);
    diary
        .notes(
            job,
            Some("top-end"),
            "Head bolts 75 lbf·ft. Cam in at 108°, one degree ahead of its card. Lash set cold, to be set again hot.",
        )
        .await?;
    diary.signs(job, &["top-end"]).await
}

pub(in super::super) async fn runs(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.on(4, (15, 20), JUN, TABLET);
    diary.notes(job, Some("prime"), "Oil at all twelve rockers after forty seconds on the drill, 55 psi.").await?;
    diary.signs(job, &["prime"]).await?;
    diary.on(3, (10, 0), MARTA, TABLET);
    let note = "Twenty-five minutes at 1,800 to 2,400. Hot: 24 psi at idle, 52 at 2,500. Filter cut: lint, nothing that shines. Lash set hot.";
    diary.notes(job, Some("run-in"), note).await?;
    diary.signs(job, &["run-in"]).await
}

/// What the card says of it in words.
const FACTS: [(&str, &str); 20] = [
    ("compression", "8.9 : 1, measured"),
    ("heads", "own casting, 64 cm³, hardened exhaust seats"),
    ("camshaft", "mild grind, 0.412 in lift, in at 108°"),
    ("head-gasket", "composition, 0.039 in crushed"),
    ("oil", "10W-30 with zinc; no thinner"),
    ("oil-quantity", "5 US quarts with filter"),
    ("lash-inlet", "0.012 in hot"),
    ("lash-exhaust", "0.016 in hot"),
    ("timing", "8° at idle, 32° by 2,800 rpm"),
    ("plugs", "0.035 in, one step cold"),
    ("fuel", "87 octane or better"),
    ("rev-limit", "4,800 rpm"),
    ("oil-pressure-idle", "20 psi or more"),
    ("oil-pressure-hot", "50 psi at 2,500 rpm"),
    ("re-torque", "head, cold, at 500 miles"),
    ("run-in-1", "After weeks of standing, plugs out: crank until the gauge moves."),
    ("run-in-2", "First 50 miles: vary the speed, 2,800 rpm at most."),
    ("run-in-3", "Oil and filter at 100 miles."),
    ("run-in-4", "Until 500 miles no trailer, 3,500 rpm at most."),
    ("run-in-5", "Back here at 500 miles: head, lash, timing."),
];

/// What the owner can do without on the page in the glovebox.
const FOR_THE_TUNER: [&str; 8] = [
    "block-material",
    "head-material",
    "rod-length",
    "firing-order",
    "heads",
    "camshaft",
    "head-gasket",
    "measured-pistons",
];

/// The card, in the owner's edition and the shop's own; and the family kept for the next one.
pub(in super::super) async fn gets_its_card(diary: &mut Diary<'_>, job: i64) -> Done<()> {
    diary.on(1, (14, 30), MARTA, OFFICE);
    diary
        .fills_in(job, |form, _| {
            form.facts = FACTS.iter().map(|&(key, text)| (key.to_owned(), text.to_owned())).collect();
        })
        .await?;
    let family = FamilyForm {
        name: "Tamblyn 246".to_owned(),
        note:
            "Main 6 comes off the grinder small: measure it first. The oil feed to the rockers is a drilled head bolt, \
               second from the rear: never swap it. Sizes kept here are 30 over and 10 under."
                .to_owned(),
        ..FamilyForm::default()
    };
    let doing = diary.next();
    diary.shop.keep_as_family(&doing, job, &family).await.map_err(refused("family"))?;
    let doing = diary.next();
    let chosen: BTreeMap<String, Audience> =
        FOR_THE_TUNER.iter().map(|&line| (line.to_owned(), Audience::Tuner)).collect();
    diary.shop.choose_card_lines(&doing, job, &chosen).await.map_err(refused("card lines"))?;
    diary
        .notes(job, Some("hand-over"), "Drained, bunged and on its pallet. She fetches it on Saturday morning.")
        .await?;
    diary.issues(job, Audience::Owner).await?;
    diary.issues(job, Audience::Shop).await.map(|_| ())
}
