//! Every page of every job of the demonstration shop can be shown.

use crate::laid_out::{every_job, now, shop};
use witnessmark::work::{Audience, PhotoSize, SheetKey};

#[tokio::test]
async fn every_page_of_every_job_can_be_shown() {
    let shop = shop().await;
    for job in every_job() {
        let view = shop.job(job, now()).await.unwrap();
        assert_eq!(view.steps.len(), 18);
        for step in &view.steps {
            assert_eq!(shop.step(job, &step.key, now()).await.unwrap().row.title, step.title);
        }
        for photo in &view.photos {
            let thumb = shop.file(&photo.file, PhotoSize::Thumb).await.unwrap();
            assert!(thumb.media_type == "image/jpeg" && thumb.bytes < 60_000);
        }
        for key in SheetKey::ALL {
            let sheet = shop.sheet(job, key, None, now()).await.unwrap();
            for round in &sheet.rounds {
                let of_round = shop.sheet(job, key, Some(round.number), now()).await.unwrap();
                assert_eq!(of_round.shown.unwrap().number, round.number);
            }
        }
        shop.limits(job, now()).await.unwrap();
        assert_eq!(shop.job_form(job, now()).await.unwrap().form.title, view.head.title);
        for audience in Audience::ALL {
            assert!(shop.preview_card(job, audience, now()).await.unwrap().starts_with(b"%PDF-"));
        }
    }
}
