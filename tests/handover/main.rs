//! The spec card as a reader of PDFs sees it: sound, complete, legible to programs, and the same every time.

mod invoice;
mod label;
mod samples;
mod tag;

use std::path::PathBuf;
use std::process::Command;

use witnessmark::handover::card;
use witnessmark::handover::contents::{Card, Cell, Line, MadeAt, OwnerNote, Paper};

/// Writes the card down and returns where.
fn written(name: &str, contents: &Card) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("card-{name}.pdf"));
    std::fs::write(&path, card(contents).unwrap()).unwrap();
    path
}

/// What a program says about the file; it must be content with it.
fn said(program: &str, arguments: &[&str], path: &PathBuf) -> String {
    let mut command = Command::new(program);
    // pdftotext takes the name of its output last.
    command.args(arguments).arg(path);
    if program == "pdftotext" {
        command.arg("-");
    }
    let output = command.output().unwrap_or_else(|error| panic!("{program} is needed for this test: {error}"));
    assert!(output.status.success(), "{program}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

fn pages(path: &PathBuf) -> usize {
    let info = said("pdfinfo", &[], path);
    let line = info.lines().find(|line| line.starts_with("Pages:")).unwrap();
    line.split_whitespace().nth(1).unwrap().parse().unwrap()
}

/// The text without its spaces and line breaks, which depend on where lines broke.
fn squeezed(text: &str) -> String {
    text.split_whitespace().collect()
}

/// Every word and figure of the card.
fn texts(card: &Card) -> Vec<String> {
    let of_line = |line: &Line| [Some(line.label.clone()), Some(line.value.clone()), line.beneath.clone()];
    let of_cell = |cell: &Cell| [Some(cell.text.clone()), cell.beneath.clone()];
    let mut all: Vec<Option<String>> = vec![
        Some(card.kind_title.clone()),
        Some(card.shop.name.clone()),
        Some(card.shop.phone.clone()),
        Some(format!("number {} · {}", card.number, card.date)),
        card.replaces.map(|number| format!("takes the place of number {number}")),
        Some(format!("job {}", card.job)),
        Some(card.heading.clone()),
        card.warranty.clone(),
        card.head_hash.clone(),
    ];
    all.extend(card.shop.address_lines.iter().chain(&card.run_in).chain(&card.cautions).cloned().map(Some));
    all.extend(card.set_to.iter().flat_map(of_line));
    all.extend(card.notes.iter().flat_map(|note| [Some(note.title.clone()), Some(note.text.clone())]));
    for section in &card.sections {
        all.push(Some(section.title.clone()));
        all.extend(section.lines.iter().flat_map(of_line));
        all.extend(section.table.iter().flat_map(|table| table.rows.iter().flatten()).flat_map(of_cell));
    }
    for deviation in &card.deviations {
        let parts = [&deviation.what, &deviation.found, &deviation.reason, &deviation.by, &deviation.on];
        all.extend(parts.map(|part| Some(part.clone())));
    }
    for sign_off in &card.sign_offs {
        all.extend([
            Some(sign_off.step.clone()),
            Some(sign_off.by.clone()),
            Some(sign_off.on.clone()),
            sign_off.remark.clone(),
        ]);
    }
    all.into_iter().flatten().filter(|text| !text.is_empty()).collect()
}

/// Each word of each text must be found; whole texts may be broken over lines of neighbouring columns.
fn assert_all_there(card: &Card, path: &PathBuf) {
    let in_order = squeezed(&said("pdftotext", &["-raw"], path));
    for text in texts(card) {
        if in_order.contains(&squeezed(&text)) {
            continue;
        }
        for word in text.split_whitespace() {
            assert!(in_order.contains(word), "{word:?} of {text:?} is not in {}", path.display());
        }
    }
}

#[test]
fn the_same_contents_give_the_same_bytes() {
    for contents in [samples::single(), samples::twelve()] {
        assert!(card(&contents).unwrap() == card(&contents).unwrap());
    }
    let mut later = samples::single();
    later.made_at.second += 1;
    assert!(card(&later).unwrap() != card(&samples::single()).unwrap(), "the time is part of the document");
}

#[test]
fn readers_find_nothing_wrong_with_it() {
    for (name, contents) in
        [("single", samples::single()), ("twelve", samples::twelve()), ("twelve-owner", samples::twelve_for_owner())]
    {
        let path = written(name, &contents);
        let verdict = said("qpdf", &["--check"], &path);
        assert!(verdict.contains("No syntax or stream encoding errors found"), "{verdict}");
        assert!(verdict.contains("PDF Version: 1.7"), "{verdict}");
        assert_all_there(&contents, &path);
    }
}

#[test]
fn an_ordinary_card_takes_one_page_and_the_fullest_owners_card_two() {
    for paper in [Paper::Letter, Paper::A4] {
        assert_eq!(pages(&written("single-pages", &Card { paper, ..samples::single() })), 1);
        assert_eq!(pages(&written("eight-pages", &Card { paper, ..samples::eight() })), 1);
        let contents = Card { paper, ..samples::twelve_for_owner() };
        assert!(pages(&written("twelve-owner-pages", &contents)) <= 2);
    }
}

#[test]
fn the_faces_are_embedded_as_subsets_with_a_map_back_to_text() {
    let fonts = said("pdffonts", &[], &written("fonts", &samples::twelve()));
    let rows: Vec<&str> = fonts.lines().skip(2).collect();
    assert_eq!(rows.len(), 2, "{fonts}");
    for row in rows {
        // name, type …, then emb sub uni object generation
        let columns: Vec<&str> = row.split_whitespace().collect();
        assert_eq!(columns[columns.len() - 5..columns.len() - 2], ["yes", "yes", "yes"], "{fonts}");
        assert_eq!(columns[0].find('+'), Some(6), "{fonts}");
    }
}

#[test]
fn signs_of_the_trade_come_out_as_they_went_in() {
    let signs = "64 µm Ø 4.377 ± 0.0001 20 °C café −½ 511 in³ 12 N·m 2¼ ¾ cm² 3×4 0.001″ 30′";
    let mut contents = samples::single();
    contents.notes.push(OwnerNote { title: "Signs".to_owned(), text: signs.to_owned() });
    contents.set_to[0].value = "µ Ø ± ° é − ½ ³ ·".to_owned();
    let text = squeezed(&said("pdftotext", &[], &written("signs", &contents)));
    assert!(text.contains(&squeezed(signs)), "{text}");
    assert!(text.contains(&squeezed(&contents.set_to[0].value)), "{text}");
}

#[test]
fn it_says_what_it_is() {
    let path = written("about", &samples::single());
    let info = said("pdfinfo", &["-isodates"], &path);
    for expected in [
        "Title:           Spec card 1, job 18",
        "Subject:         Wendle 350 single, 1934",
        "Author:          Brenholt Engines",
        "CreationDate:    2026-03-12T16:05:09Z",
        "Page size:       595.276 x 841.89 pts (A4)",
        "PDF version:     1.7",
    ] {
        assert!(info.contains(expected), "{expected} is not in:\n{info}");
    }
    let bytes = std::fs::read(&path).unwrap();
    assert!(!bytes.windows(8).any(|window| window == b"GTS_PDFX"), "it claims to follow a standard that it does not");
    assert!(said("pdfinfo", &[], &written("letter", &samples::twelve())).contains("612 x 792 pts (letter)"));
}

#[test]
fn every_page_says_which_it_is() {
    let path = written("numbers", &samples::twelve());
    let count = pages(&path);
    assert!(count >= 2);
    for page in 1..=count {
        let nth = page.to_string();
        let text = said("pdftotext", &["-f", &nth, "-l", &nth], &path);
        assert!(text.contains(&format!("Page {page} of {count}")), "{text}");
        assert!(text.contains(&samples::twelve().job), "{text}");
    }
}

#[test]
fn what_is_too_much_for_two_pages_goes_on_and_nothing_is_lost() {
    let mut contents = samples::twelve();
    let sentence = |index: usize| format!("step{index:05} of the history of this engine in the builder's own words.");
    contents.notes[0].text = (0..2500).map(sentence).collect::<Vec<_>>().join(" ");
    let rows = contents.sections[3].table.as_mut().unwrap();
    rows.rows = (0..300).map(|index| vec![Cell::of(format!("row{index:04}")), Cell::of("3.9375")]).collect();
    let path = written("overflow", &contents);
    assert!(pages(&path) > 10);
    let text = said("pdftotext", &["-raw"], &path);
    for index in 0..2500 {
        assert!(text.contains(&format!("step{index:05}")), "step {index} is lost");
    }
    for index in 0..300 {
        assert!(text.contains(&format!("row{index:04}")), "row {index} is lost");
    }
    said("qpdf", &["--check"], &path);
}

#[test]
fn hostile_contents_make_a_sound_paper() {
    let mut contents = samples::twelve();
    contents.heading = "(\\) endobj <</JS (x)>> \u{202e}drawkcab \u{0} \u{7} 発動機 🏁".repeat(8);
    contents.job = "x".repeat(400);
    contents.shop.name = "W".repeat(7000);
    contents.shop.address_lines = vec![String::new(), "\n\n\t".to_owned()];
    contents.date = "no date ".repeat(40);
    contents.set_to.push(Line { label: "y".repeat(500), value: "z".repeat(900), beneath: None });
    contents.sections[2].table.as_mut().unwrap().rows[0][0].text = "q".repeat(6000);
    let path = written("hostile", &contents);
    said("qpdf", &["--check"], &path);
    let text = squeezed(&said("pdftotext", &["-raw"], &path));
    assert!(text.contains("endobj<</JS(x)>>"), "text stays text");
    assert!(text.matches('q').count() >= 6000 && text.matches('W').count() >= 7000 && text.matches('z').count() >= 900);
}

#[test]
fn an_empty_card_is_still_a_page() {
    let contents = Card { made_at: MadeAt { year: 2026, month: 1, day: 1, ..MadeAt::default() }, ..Card::default() };
    let path = written("empty", &contents);
    said("qpdf", &["--check"], &path);
    assert_eq!(pages(&path), 1);
}
