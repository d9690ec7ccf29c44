//! The invoice as a reader of PDFs sees it: sound, complete, the same every time, however long.

use crate::{pages, said, squeezed};
use std::path::PathBuf;
use witnessmark::handover::contents::{Align, Cell, Column, MadeAt, Paper, ShopHead, Table};
use witnessmark::handover::invoice::{Bill, invoice};

fn bill(rows: usize, paper: Paper) -> Bill {
    let column = |title: &str, align| Column { title: title.to_owned(), align };
    let row = |nth: usize| {
        let beneath = (nth % 7 == 3).then(|| "under warranty, not charged".to_owned());
        let text = Cell { beneath, ..Cell::of(format!("Line {nth}: rod bolts of a long name, in sets of {nth}")) };
        vec![text, Cell::of("8\u{a0}pc"), Cell::of("12.50"), Cell::of("19\u{a0}%"), Cell::of(format!("{nth}00.25"))]
    };
    Bill {
        paper,
        kind_title: "Credit".to_owned(),
        number: "2027-0042".to_owned(),
        date: "3 March 2027".to_owned(),
        undoes: Some("undoes invoice 2027-0041".to_owned()),
        shop: ShopHead {
            name: "Thimble & Ring".to_owned(),
            address_lines: vec!["14 Millrace Yard".to_owned(), "Nether Wend".to_owned()],
            phone: "555 0142".to_owned(),
        },
        to: vec!["Ines Quill".to_owned(), "7 Harrow Lane".to_owned()],
        job: "1042".to_owned(),
        heading: "Wherry light four".to_owned(),
        made_at: MadeAt { year: 2027, month: 3, day: 3, ..MadeAt::default() },
        rows: Table {
            columns: vec![
                column("what", Align::Left),
                column("how many", Align::Right),
                column("each", Align::Right),
                column("tax", Align::Right),
                column("amount, EUR", Align::Right),
            ],
            rows: (1..=rows).map(row).collect(),
        },
        sums: vec![
            ("Before tax".to_owned(), "−1\u{a0}250.00".to_owned()),
            ("Sales tax 19\u{a0}% on −1\u{a0}250.00".to_owned(), "−237.50".to_owned()),
            ("Credited in all".to_owned(), "−1\u{a0}487.50\u{a0}EUR".to_owned()),
        ],
        notes: vec!["Prices are before tax.".to_owned(), "Undoes invoice 2027-0041 in full: wrong part.".to_owned()],
    }
}

fn written(name: &str, bill: &Bill) -> PathBuf {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("invoice-{name}.pdf"));
    std::fs::write(&path, invoice(bill).unwrap()).unwrap();
    path
}

#[test]
fn every_word_and_figure_is_in_it() {
    for (name, rows, paper) in [("short", 3, Paper::Letter), ("long", 90, Paper::A4)] {
        let bill = bill(rows, paper);
        let path = written(name, &bill);
        said("qpdf", &["--check"], &path);
        let text = squeezed(&said("pdftotext", &[], &path));
        let mut all =
            vec![bill.kind_title, bill.number, bill.date, bill.job, bill.heading, bill.shop.name, bill.shop.phone];
        all.extend(bill.undoes.into_iter().chain(bill.shop.address_lines).chain(bill.to).chain(bill.notes));
        all.extend(bill.sums.into_iter().flat_map(|(words, amount)| [words, amount]));
        all.extend(
            bill.rows.rows.into_iter().flatten().flat_map(|cell| std::iter::once(cell.text).chain(cell.beneath)),
        );
        for words in all {
            assert!(text.contains(&squeezed(&words)), "{name}: {words}: {text}");
        }
        assert_eq!(pages(&path) > 1, rows > 40, "{name}");
    }
}

#[test]
fn the_same_invoice_gives_the_same_bytes() {
    assert_eq!(invoice(&bill(12, Paper::A4)).unwrap(), invoice(&bill(12, Paper::A4)).unwrap());
}
