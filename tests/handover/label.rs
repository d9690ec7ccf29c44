//! The label for parts refused: all of it on the paper, nothing over anything else.

use witnessmark::drawing::Shape;
use witnessmark::handover::label::{Label, label_drawing, label_pdf};

#[test]
fn the_longest_words_stay_on_the_label() {
    let long =
        "of the later head, and the thread begins where the shank of the old one ended, so that it bottoms ".repeat(9);
    let label = Label {
        job: 104_233,
        title: long.clone(),
        part: format!("Head bolts {long}"),
        made_as: long.clone(),
        quantity: 20,
        why: long.clone(),
        day: "23 November 2027".into(),
        who: long,
        ..Label::default()
    };
    let drawing = label_drawing(&label);
    let lines: Vec<(f64, f64)> = drawing
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Text(text) => Some((text.at.y, text.size_mm)),
            _ => None,
        })
        .collect();
    assert!(lines.len() > 10, "{lines:?}");
    for pair in lines.windows(2) {
        assert!(pair[1].0 - pair[0].0 > 0.7 * pair[1].1, "one line below the other: {lines:?}");
    }
    assert!(lines.iter().all(|(y, _)| *y < drawing.height_mm - 3.0), "{lines:?}");
    let pdf = label_pdf(&label, &drawing).expect("a PDF");
    assert_eq!(pdf, label_pdf(&label, &drawing).expect("a PDF"), "the same each time");
    assert!(drawing.description.contains("Do not fit: 20 Head bolts"));
}
