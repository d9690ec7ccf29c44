//! The tag for an engine's stand: read back from paper by a decoder of someone else's.

use std::fs;
use std::process::Command;

use witnessmark::handover::tag::{Tag, tag_drawing, tag_pdf};

/// The grey picture that a printer of so many dots to the inch would make of the page: width and dots.
fn printed(pdf: &[u8], dots: u32) -> (usize, Vec<u8>) {
    let folder = tempfile::tempdir().expect("a folder");
    let (paper, picture) = (folder.path().join("tag.pdf"), folder.path().join("tag"));
    fs::write(&paper, pdf).expect("a PDF");
    let made = Command::new("pdftoppm")
        .args(["-r", &dots.to_string(), "-gray", "-singlefile"])
        .args([&paper, &picture])
        .status()
        .expect("pdftoppm");
    assert!(made.success());
    let bytes = fs::read(picture.with_extension("pgm")).expect("a picture");
    let mut words = bytes.splitn(4, u8::is_ascii_whitespace);
    let mut number = || String::from_utf8_lossy(words.next().unwrap_or_default()).parse::<usize>();
    assert!(number().is_err(), "P5");
    let (width, height) = (number().expect("a width"), number().expect("a height"));
    (width, bytes[bytes.len() - width * height..].to_vec())
}

#[test]
fn a_phone_reads_the_tag_and_the_job_stands_on_it() {
    for (job, title, address) in [
        (7, "Inline six, 4.0", "http://192.168.1.20:8040/jobs/7/phone"),
        (
            104_233,
            "Vee twelve, 6.6 litres, aluminium, out of a lake racer laid up since the war, with all that belongs to it",
            "http://a-name-as-long-as-they-come-in-a-shop.local:18040/jobs/104233/phone",
        ),
    ] {
        let tag = Tag { job, title: title.into(), address: address.into(), ..Tag::default() };
        let drawing = tag_drawing(&tag).expect("a tag");
        let pdf = tag_pdf(&tag, &drawing).expect("a PDF");
        assert_eq!(pdf, tag_pdf(&tag, &drawing).expect("a PDF"), "the same each time");
        let (width, dots) = printed(&pdf, 150);
        let mut picture =
            rqrr::PreparedImage::prepare_from_greyscale(width, dots.len() / width, |x, y| dots[y * width + x]);
        let read: Vec<String> =
            picture.detect_grids().iter().filter_map(|grid| grid.decode().ok()).map(|(_, text)| text).collect();
        assert_eq!(read, [address]);
        let said = format!("{:?}", drawing.shapes);
        assert!(said.contains(&format!("text: \"{job}\"")), "the job's number is not broken: {said}");
    }
}
