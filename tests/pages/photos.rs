//! `/jobs/{n}/photos` and `/files/…`: files kept as they came, pictures shown, and nothing else ever.

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
async fn what_is_no_picture_is_kept_as_it_came_and_never_shown() {
    let house = House::with_a_job().await;
    let cut = &picture()[..200];
    let sent: [(&str, &[u8], &str, &str); 8] = [
        ("notes.txt", b"not a picture", "application/octet-stream", "No preview of this kind of file"),
        ("page.jpg", b"<html><script>alert(1)</script>", "application/octet-stream", "No preview"),
        ("drawing.svg", b"<svg xmlns=\"http://www.w3.org/2000/svg\"/>", "application/octet-stream", "No preview"),
        ("page.html", b"\x89PNG\r\n\x1a\n<script>alert(1)</script>", "image/png", "cannot be read: damaged"),
        ("cut.jpg", cut, "image/jpeg", "cannot be read: damaged"),
        ("sheet.pdf", b"%PDF-1.7 and so on", "application/pdf", "No preview"),
        ("IMG_1.HEIC", b"\0\0\0\x18ftypheic and so on", "image/heic", "No preview"),
        ("../../../etc/clip.mp4", b"\0\0\0\x18ftypmp42 and so on", "video/mp4", "No preview"),
    ];
    for (name, bytes, media_type, said) in sent {
        let kept = house.send_photos("/jobs/1/photos", &[], &[(name, bytes)]).await;
        assert_eq!(kept.status, 303, "{name}: {}", kept.text);
        let photo = house.shop.job(1, noon()).await.unwrap().photos[0].clone();
        assert_eq!(photo.name, name.rsplit('/').next().unwrap());
        let page = house.see("/jobs/1/photos").await.text;
        let row = page.split("<li>").find(|row| row.contains(&photo.file)).expect("a row");
        assert!(row.contains(said) && row.contains(&format!("download=\"{}\"", photo.name)), "{row}");
        assert!(!row.contains("<img"), "{row}");
        for size in ["as-received", "preview", "thumb"] {
            let file = house.see(&format!("/files/{}/{size}", photo.file)).await;
            assert_eq!((file.status.as_u16(), file.header("content-type")), (200, media_type), "{name}");
            assert_eq!(file.header("content-disposition"), "attachment", "{name}");
            assert_eq!(file.header("x-content-type-options"), "nosniff", "{name}");
            assert_eq!(file.text, String::from_utf8_lossy(bytes), "{name}");
        }
    }
    assert_eq!(files_kept(&house), sent.len());
    assert!(!house.folder.path().join("../etc").exists());
}

/// A PNG of this size in its header, whole but for the picture. The header's check is left as it was, or made right.
fn claims(width: u32, height: u32) -> Vec<u8> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    image::RgbImage::new(1, 1).write_to(&mut bytes, image::ImageFormat::Png).expect("a picture");
    let mut bytes = bytes.into_inner();
    bytes[16..20].copy_from_slice(&width.to_be_bytes());
    bytes[20..24].copy_from_slice(&height.to_be_bytes());
    let sum = bytes[12..29].iter().fold(u32::MAX, |sum, byte| {
        (0..8).fold(sum ^ u32::from(*byte), |sum, _| (sum >> 1) ^ if sum & 1 == 1 { 0xedb8_8320 } else { 0 })
    });
    bytes[29..33].copy_from_slice(&(!sum).to_be_bytes());
    bytes
}

#[tokio::test]
async fn what_is_too_large_or_empty_is_refused_by_name_and_nothing_of_the_post_is_kept() {
    let house = House::with_a_job().await;
    let mut long = picture();
    long.resize(40_000_001, 0);
    let refused: [(&str, &[u8], &str); 3] = [
        ("empty.jpg", b"", "“empty.jpg”: this file is empty"),
        ("long.jpg", &long, "“long.jpg”: a picture of 40.0 MB, where at most 40 MB are taken"),
        ("bomb.png", &claims(20_000, 10_001), "“bomb.png”: a picture of 20000 × 10001 px"),
    ];
    for (name, bytes, said) in refused {
        let good = picture();
        let page =
            house.send_photos("/jobs/1/photos", &[("caption", "both")], &[("good.jpg", &good), (name, bytes)]).await;
        assert_eq!(page.status, 422, "{name}");
        assert!(page.text.contains(said) && page.text.contains("href=\"#field-photos\""), "{}", page.text);
        assert!(page.text.contains("id=\"field-photos\"") && page.text.contains("value=\"both\""));
        assert!(house.shop.job(1, noon()).await.unwrap().photos.is_empty(), "{name}");
        assert_eq!(files_kept(&house), 0, "{name}");
    }
    let none = house.send_photos("/jobs/1/photos", &[], &[]).await;
    assert_eq!(none.status, 422);
    assert!(none.text.contains("Choose a photo, or take one"), "{}", none.text);
}

#[tokio::test]
async fn a_picture_that_takes_too_much_memory_is_kept_and_not_decoded() {
    let house = House::with_a_job().await;
    let kept = house.send_photos("/jobs/1/photos", &[], &[("wide.png", &claims(10_000, 20_000))]).await;
    assert_eq!(kept.status, 303, "{}", kept.text);
    assert!(house.see("/jobs/1/photos").await.text.contains("A picture too large to be shown here"));
    assert_eq!(files_kept(&house), 1);
}

#[tokio::test]
async fn the_same_photo_sent_again_with_its_key_is_one() {
    let house = House::with_a_job().await;
    let key = [("key", "0123456789abcdef0123456789abcdef"), ("on", "phone")];
    for _ in 0..2 {
        let kept = house.send_photos("/jobs/1/photos", &key, &[("a.jpg", &picture())]).await;
        assert_eq!((kept.status.as_u16(), kept.header("location")), (303, "/jobs/1/phone"));
    }
    assert_eq!(house.shop.job(1, noon()).await.unwrap().photos.len(), 1);
}

#[tokio::test]
async fn a_phone_takes_photos_and_a_note_of_a_step() {
    let house = House::with_a_job().await;
    let page = house.see("/jobs/1/phone?step=bearings").await;
    assert_eq!(page.status, 200);
    for part in [
        "mark-1",
        "capture=\"environment\"",
        " multiple",
        "Save the note",
        "Of this step: Fit main bearings",
        "/jobs/1/phone?step=check-in\"",
        "Open the step",
        "value=\"phone\"",
    ] {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
    let note = [("text", "Dowel <loose>"), ("step", "bearings"), ("on", "phone")];
    let kept = house.send("/jobs/1/notes", &note).await;
    assert_eq!((kept.status.as_u16(), kept.header("location")), (303, "/jobs/1/phone?step=bearings"));
    assert!(house.see("/jobs/1/phone?step=bearings").await.text.contains("Dowel &#60;loose&#62;"));
    assert!(!house.see("/jobs/1/phone?step=check-in").await.text.contains("Dowel"));
    for nowhere in ["/jobs/7/phone", "/jobs/1/phone?step=nowhere", "/jobs/1/phone?sheet=mains", "/jobs/x/phone"] {
        assert_eq!(house.see(nowhere).await.status, 404, "{nowhere}");
    }
}

#[tokio::test]
async fn a_photo_of_the_suppliers_sheet_is_the_record_of_a_round() {
    let house = House::with_a_job().await;
    house.take(1, "main-clearance-vertical@main.1", "2.3").await;
    let sheet = house.see("/jobs/1/sheets/main-bearings").await.text;
    let link = "/jobs/1/photos?sheet=main-bearings&#38;round=1";
    assert!(sheet.contains(link), "{sheet}");
    let page = house.see(&link.replace("&#38;", "&")).await.text;
    assert!(page.contains("Kept as the record of <strong>Main bearings, round 1"), "{page}");
    let fields = [("sheet", "main-bearings"), ("round", "1"), ("caption", "Line boring, <Fjell>")];
    let kept = house.send_photos("/jobs/1/photos", &fields, &[("sheet.jpg", &picture())]).await;
    assert_eq!(kept.header("location"), link.replace("&#38;", "&"));
    let sheet = house.see("/jobs/1/sheets/main-bearings").await.text;
    assert!(sheet.contains("Its record:") && sheet.contains("Line boring, &#60;Fjell&#62;"), "{sheet}");
    let unknown = [("sheet", "main-bearings"), ("round", "2")];
    assert_eq!(house.send_photos("/jobs/1/photos", &unknown, &[("x.jpg", &picture())]).await.status, 404);
    assert_eq!(house.see("/jobs/1/photos?sheet=main-bearings&round=2").await.status, 404);
}

#[tokio::test]
async fn unreadable_forms_are_pages_too() {
    let house = House::with_a_job().await;
    assert_eq!(house.send("/jobs/1/photos", &[("caption", "x")]).await.status, 400);
    let long = [("caption", &*"x".repeat(2_000_001))];
    assert_eq!(house.send_photos("/jobs/1/photos", &long, &[("good.jpg", &picture())]).await.status, 413);
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

#[tokio::test]
async fn a_stand_tag_names_the_job_and_not_the_customer() {
    let house = House::with_a_job().await;
    let page = house.see("/jobs/1/tag").await;
    assert_eq!(page.status, 200);
    for part in ["Stand tag of job 1", "http://127.0.0.1:8040/jobs/1/phone", "a phone does not get here by it"] {
        assert!(page.text.contains(part), "{part}: {}", page.text);
    }
    assert!(!page.text.contains("Quill"), "the customer");
    let pdf = house.see("/jobs/1/tag.pdf").await;
    assert_eq!((pdf.status.as_u16(), pdf.header("content-type")), (200, "application/pdf"));
    assert!(pdf.text.starts_with("%PDF-"));
    assert_eq!(house.see("/jobs/7/tag").await.status, 404);
    assert_eq!(house.see("/jobs/7/tag.pdf").await.status, 404);
}
