//! `/jobs/{n}/photos` and `/files/…`: pictures kept as they came, and what is no picture refused.

use crate::asked::{ask, get, noon};
use crate::shop::{House, picture};

/// Files on disk under the shop's folder.
fn files_kept(house: &House) -> usize {
    fn count(folder: &std::path::Path) -> usize {
        let entries = std::fs::read_dir(folder).expect("a folder").filter_map(Result::ok);
        entries.map(|entry| if entry.path().is_dir() { count(&entry.path()) } else { 1 }).sum()
    }
    count(&house.folder.path().join("files"))
}

#[tokio::test]
async fn photos_are_kept_and_served() {
    let house = House::with_a_job().await;
    let page = house.see("/jobs/1/photos?step=bearings").await.text;
    assert!(page.contains("capture=\"environment\"") && page.contains(" multiple"), "{page}");
    let bytes = picture();
    // The camera's field was left empty: a browser sends it without a name.
    let fields = [("step", "bearings"), ("caption", "Cap 3 & the <feeler>")];
    let kept =
        house.send_photos("/jobs/1/photos", &fields, &[("", b""), ("cap3.jpg", &bytes), ("..\\b.png", &bytes)]).await;
    assert_eq!((kept.status.as_u16(), kept.header("location")), (303, "/jobs/1/photos?step=bearings"));
    let view = house.shop.step(1, "bearings", noon()).await.unwrap();
    assert_eq!(view.photos.iter().map(|photo| &*photo.name).collect::<Vec<_>>(), ["b.png", "cap3.jpg"]);
    let page = house.see("/jobs/1/steps/bearings").await.text;
    assert!(page.contains("alt=\"Cap 3 &#38; the &#60;feeler&#62;\""), "{page}");

    let id = &view.photos[0].file;
    let as_received = ask(&house.router, get(&format!("/files/{id}/as-received")), "").await;
    assert_eq!(as_received.status, 200);
    for (name, value) in [
        ("content-type", "image/jpeg"),
        ("content-disposition", "inline"),
        ("x-content-type-options", "nosniff"),
        ("cache-control", "private, max-age=31536000, immutable"),
        ("content-length", &bytes.len().to_string()),
    ] {
        assert_eq!(as_received.header(name), value, "{name}");
    }
    for size in ["preview", "thumb"] {
        let smaller = ask(&house.router, get(&format!("/files/{id}/{size}")), "").await;
        assert_eq!((smaller.status.as_u16(), smaller.header("content-type")), (200, "image/jpeg"));
    }
    for unknown in [
        &format!("/files/{id}/huge"),
        "/files/ffffffffffffffffffffffffffffffff/thumb",
        "/files/..%2f..%2frecord.db/as-received",
    ] {
        assert_eq!(house.see(unknown).await.status, 404, "{unknown}");
    }
}

#[tokio::test]
async fn what_is_no_picture_is_refused_with_the_reason_and_nothing_is_kept() {
    let house = House::with_a_job().await;
    let cut = &picture()[..200];
    let bombs: [(&str, &[u8]); 5] = [
        ("notes.txt", b"not a picture"),
        ("page.jpg", b"<html><script>alert(1)</script>"),
        ("cut.jpg", cut),
        ("drawing.svg", b"<svg xmlns=\"http://www.w3.org/2000/svg\"/>"),
        ("empty.jpg", b""),
    ];
    for (name, bytes) in bombs {
        let good = picture();
        let refused =
            house.send_photos("/jobs/1/photos", &[("caption", "both")], &[("good.jpg", &good), (name, bytes)]).await;
        assert_eq!(refused.status, 422, "{name}");
        assert!(refused.text.contains(name) && refused.text.contains("href=\"#field-photos\""), "{}", refused.text);
        assert!(refused.text.contains("id=\"field-photos\"") && refused.text.contains("value=\"both\""));
        assert!(house.shop.job(1, noon()).await.unwrap().photos.is_empty(), "{name}");
        assert_eq!(files_kept(&house), 0, "{name}");
    }
    let none = house.send_photos("/jobs/1/photos", &[], &[]).await;
    assert_eq!(none.status, 422);
    assert!(none.text.contains("Choose a photo, or take one"), "{}", none.text);
}

#[tokio::test]
async fn too_much_at_once_and_unreadable_forms_are_pages_too() {
    let house = House::with_a_job().await;
    let huge = vec![0_u8; 41_000_000];
    let refused = house.send_photos("/jobs/1/photos", &[], &[("huge.jpg", &huge)]).await;
    assert_eq!(refused.status, 413);
    assert!(refused.text.contains("That is too large"), "{}", refused.text);
    assert_eq!(house.send("/jobs/1/photos", &[("caption", "x")]).await.status, 400);
    let unknown = house.send_photos("/jobs/7/photos", &[], &[("good.jpg", &picture())]).await;
    assert_eq!(unknown.status, 404);
    assert_eq!(files_kept(&house), 0);
}

#[tokio::test]
async fn a_photo_is_withdrawn_and_stays_in_the_record() {
    let house = House::with_a_job().await;
    house.send_photos("/jobs/1/photos", &[], &[("good.jpg", &picture())]).await;
    let photo = house.shop.job(1, noon()).await.unwrap().photos[0].clone();
    let withdrawn = house.send(&format!("/jobs/1/photos/{}/withdraw", photo.id), &[]).await;
    assert_eq!((withdrawn.status.as_u16(), withdrawn.header("location")), (303, "/jobs/1/photos"));
    assert!(house.shop.job(1, noon()).await.unwrap().photos.is_empty());
    assert_eq!(house.see(&format!("/files/{}/as-received", photo.file)).await.status, 200);
    assert_eq!(house.send(&format!("/jobs/1/photos/{}/withdraw", photo.id), &[]).await.status, 404);
}
