//! Two engines of which little is known yet: one just through the door, one only spoken of.

use super::diary::{Diary, Done, NotLaidOut, OFFICE, TABLET, refused};
use super::photos;
use super::premises::{JUN, MARTA};
use crate::work::NewJob;

/// An air-cooled flat four: checked in, nothing measured, no limits set.
pub(super) async fn flat_four_arrives(diary: &mut Diary<'_>) -> Done<i64> {
    diary.on(5, (15, 40), MARTA, OFFICE);
    let job = diary
        .opens(&NewJob {
            name: "Nadia Fenn".to_owned(),
            phone: "555-0175".to_owned(),
            title: "Rook flat four, ice saw".to_owned(),
            wants: "Seized last winter, turns again. What is it worth saving?".to_owned(),
            layout: "opposed".to_owned(),
            cylinders: "4".to_owned(),
            mains: "3".to_owned(),
            unit: "millimetre".to_owned(),
            ..NewJob::default()
        })
        .await?;
    diary.on(4, (8, 45), JUN, TABLET);
    diary
        .fills_in(job, |form, _| {
            form.firing_order = "1-3-2-4".into();
            form.block_material = "magnesium".into();
            form.head_material = "cast_aluminium".into();
            form.targets = [("bore@cylinders", "88.000"), ("stroke@engine", "72.50")]
                .map(|(key, typed)| (key.to_owned(), typed.to_owned()))
                .into();
        })
        .await?;
    let pictures = vec![("serial.jpg", photos::serial("R4-0076", &mut diary.scatter))];
    diary.photographs(job, "check-in", pictures, "Case stamp; the pad is corroded").await?;
    diary
        .notes(job, Some("check-in"), "Magnesium case: no caustic tank. Cowling and fan in the crate, starter missing.")
        .await?;
    diary.signs(job, &["check-in"]).await?;
    Ok(job)
}

/// Somebody on the telephone, a moment ago: the same engine as one built here before.
pub(super) async fn rings(diary: &mut Diary<'_>) -> Done<i64> {
    let families = diary.shop.families().await.map_err(refused("families"))?;
    let family = families.into_iter().find(|family| family.name == "Tamblyn 246");
    let family = family.ok_or_else(|| NotLaidOut::Missing { what: "the family Tamblyn 246".to_owned() })?;
    diary.just_now(25, MARTA, OFFICE);
    diary
        .opens(&NewJob {
            name: "Walt Pemberley".to_owned(),
            phone: "555-0109".to_owned(),
            title: "Tamblyn 246 six, panel van".to_owned(),
            wants: "Same as Celeste's, he says. Knocks on the over-run; bringing it in on a trailer next week."
                .to_owned(),
            family: family.id,
            ..NewJob::default()
        })
        .await
}
