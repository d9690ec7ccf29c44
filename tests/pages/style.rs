//! The stylesheet keeps its word: 7:1 for every word, 10:1 for what is read, in both themes.

use std::collections::BTreeMap;

use crate::contrast::{luminance, ratio};

use witnessmark::drawing::job_mark::OUTLINES;

const STYLE: &str = include_str!("../../static/witness.css");

type Colours = BTreeMap<String, String>;

/// The custom properties that are colours, of the first rule after `selector`.
fn colours(selector: &str) -> Colours {
    let at = STYLE.find(selector).unwrap_or_else(|| panic!("no rule {selector}"));
    let body = STYLE[at..].split_once('{').and_then(|(_, rest)| rest.split_once('}')).expect("a rule").0;
    let pairs = body.split(';').filter_map(|line| line.trim().strip_prefix("--")?.split_once(": #"));
    pairs.map(|(name, colour)| (name.to_owned(), colour.to_owned())).collect()
}

/// The contrast ratio of two colours of six hexadecimal digits.
fn contrast(one: &str, other: &str) -> f64 {
    let channel =
        |colour: &str, at: usize| u8::from_str_radix(&colour[at..at + 2], 16).expect("two hexadecimal digits");
    let luminance = |colour: &str| luminance([0, 2, 4].map(|at| channel(colour, at)));
    ratio(luminance(one), luminance(other))
}

#[test]
fn contrast_of_known_pairs() {
    // From the definition: black on white is 21:1; #767676 on white is known as the lightest grey at 4.5:1.
    assert!((contrast("000000", "ffffff") - 21.0).abs() < 1e-9);
    assert!((contrast("767676", "ffffff") - 4.54).abs() < 0.005);
}

#[test]
fn words_are_7_to_1_and_readings_10_to_1() {
    for selector in ["\n:root {\n  color-scheme: light", ":root[data-theme=\"dark\"]", ":root[data-theme=\"device\"]"] {
        let colours = colours(selector);
        let of = |one: &str, other: &str| contrast(&colours[one], &colours[other]);
        for reading in ["ink", "dye", "out", "unsure"] {
            assert!(of(reading, "paper") >= 10.0, "{selector}: {reading} {:.2}", of(reading, "paper"));
        }
        for word in ["ink", "soft", "dye", "out", "unsure"] {
            assert!(of(word, "paper") >= 7.0 && of(word, "band") >= 7.0, "{selector}: {word}");
        }
        assert!(of("on-dye", "dye") >= 7.0, "{selector}: on-dye");
        assert!(of("line", "paper") >= 3.0, "{selector}: line");
    }
}

#[test]
fn dark_is_the_same_by_choice_and_by_the_device() {
    assert_eq!(colours(":root[data-theme=\"dark\"]"), colours(":root[data-theme=\"device\"]"));
}

#[test]
fn the_twelve_job_marks_differ_and_can_be_read() {
    let ink = &colours(":root { --on-job")["on-job"];
    let mut marks = Vec::new();
    for (mark, outline) in OUTLINES.iter().enumerate() {
        let rule =
            STYLE.split(&format!(".mark-{mark} {{")).nth(1).and_then(|rest| rest.split('}').next()).expect("a mark");
        let (colour, shape) = rule.split_once("--shape:").expect("a colour and a shape");
        let colour = colour.split('#').nth(1).map(|colour| colour[..6].to_owned()).expect("a colour");
        assert!(contrast(&colour, ink) >= 7.0, "mark {mark}");
        assert!(marks.iter().all(|(other, form)| *other != colour && *form != shape), "mark {mark}");
        marks.push((colour, shape));
        let corners = shape.split_once("polygon(").map_or("", |(_, rest)| rest.split(')').next().unwrap_or(rest));
        let corner = |pair: &str| {
            let (x, y) = pair.trim().split_once(' ').expect("two");
            [x, y].map(|part| part.trim_end_matches('%').parse::<f64>().expect("per cent")).into()
        };
        let corners: Vec<(f64, f64)> = corners.split(',').filter(|pair| !pair.is_empty()).map(corner).collect();
        // The disc and the square are said in words of their own.
        assert!(mark < 2 || corners == *outline, "mark {mark} on paper: {corners:?}");
    }
}
