//! The printed face: Noto Sans, regular and bold, and how wide its words run.
//!
//! Its figures are all of one width, so columns of them line up by themselves. Its licence (OFL) permits embedding.

use std::sync::OnceLock;

use printpdf::ParsedFont;

/// Printer's point, mm.
pub const POINT: f64 = 25.4 / 72.0;

/// The regular or the bold face.
///
/// # Panics
/// Never in a program that was built: the faces are part of it, and a test reads both.
pub fn face(bold: bool) -> &'static ParsedFont {
    static REGULAR: OnceLock<ParsedFont> = OnceLock::new();
    static BOLD: OnceLock<ParsedFont> = OnceLock::new();
    let (slot, bytes) = if bold { (&BOLD, notosans::BOLD_TTF) } else { (&REGULAR, notosans::REGULAR_TTF) };
    slot.get_or_init(|| ParsedFont::from_bytes(bytes, 0, &mut Vec::new()).expect("the built-in face can be read"))
}

/// The text as it can be printed: one line, every character in the face. Spaces and hyphens of other kinds become the plain
/// ones, so that they can be found again in the document; signs that only steer the direction of writing are left out; a character the face does not have becomes U+FFFD, never nothing.
pub fn printable(text: &str) -> String {
    let mut line = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '\u{AD}' | '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}' | '\u{FEFF}' => {}
            '\u{2010}' | '\u{2011}' => line.push('-'),
            '\u{3BC}' => line.push('µ'),
            space if space.is_whitespace() => line.push(' '),
            control if control.is_control() => {}
            known if face(false).lookup_glyph_index(known.into()).is_some() => line.push(known),
            _ => line.push('\u{FFFD}'),
        }
    }
    line
}

/// How wide a line runs, mm.
pub fn width_mm(text: &str, size_mm: f64, bold: bool) -> f64 {
    let face = face(bold);
    let units: f64 = text.chars().map(|character| advance(face, character)).sum();
    units * size_mm / f64::from(face.pdf_font_metrics.units_per_em)
}

fn advance(face: &ParsedFont, character: char) -> f64 {
    f64::from(face.get_horizontal_advance(face.lookup_glyph_index(character.into()).unwrap_or(0)))
}

/// The text broken into lines no wider than `width`: at its own line breaks, then between words, and within a word only
/// where that alone is wider. Every character but the spaces at a break is kept. Never empty.
pub fn wrap(text: &str, width: f64, size_mm: f64, bold: bool) -> Vec<String> {
    // Sums of widths differ in the last digits with how they were added up.
    let width = width + 1e-6;
    let mut lines = Vec::new();
    for paragraph in text.lines() {
        let paragraph = printable(paragraph);
        let mut line = String::new();
        let mut used = 0.0;
        let space = width_mm(" ", size_mm, bold);
        for word in paragraph.split(' ').filter(|word| !word.is_empty()) {
            let word_width = width_mm(word, size_mm, bold);
            if !line.is_empty() && used + space + word_width > width {
                lines.push(std::mem::take(&mut line));
                used = 0.0;
            }
            if !line.is_empty() {
                line.push(' ');
                used += space;
            }
            if word_width <= width {
                line.push_str(word);
                used += word_width;
                continue;
            }
            for character in word.chars() {
                let next = width_mm(character.encode_utf8(&mut [0; 4]), size_mm, bold);
                if !line.is_empty() && used + next > width {
                    lines.push(std::mem::take(&mut line));
                    used = 0.0;
                }
                line.push(character);
                used += next;
            }
        }
        lines.push(line);
    }
    if lines.is_empty() {
        lines.push(String::new());
    }
    lines
}

/// The text cut so that it fits one line, with a sign that it goes on. Only for repeats of what stands in full elsewhere.
pub fn shortened(text: &str, width: f64, size_mm: f64, bold: bool) -> String {
    let mut line = printable(text);
    if width_mm(&line, size_mm, bold) <= width {
        return line;
    }
    let room = width - width_mm("…", size_mm, bold);
    let mut used = 0.0;
    let kept = line
        .char_indices()
        .find(|(_, character)| {
            used += width_mm(character.encode_utf8(&mut [0; 4]), size_mm, bold);
            used > room
        })
        .map_or(line.len(), |(index, _)| index);
    line.truncate(kept);
    line.push('…');
    line
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_faces_have_what_a_workshop_writes() {
        for bold in [false, true] {
            for character in "0123456789.,+-±°µØé−½¼¾³²·×–—…″′\u{FFFD}".chars() {
                assert!(face(bold).lookup_glyph_index(character.into()).is_some(), "{character} bold {bold}");
            }
        }
    }

    #[test]
    fn figures_are_of_one_width() {
        for bold in [false, true] {
            for figure in "0123456789".chars() {
                let apart = width_mm(&figure.to_string(), 10.0, bold) - width_mm("0", 10.0, bold);
                assert!(apart.abs() < 1e-9, "{figure} bold {bold}");
            }
        }
    }

    #[test]
    fn no_line_is_too_wide_and_no_character_is_lost() {
        let text = "main caps studs 100 lbf·ft in three steps, re-torque once after the first heat cycle \
                    andawordthatistoolongforanycolumnofanycardthatwaseverprinted end\n\nsecond paragraph";
        for width in [8.0, 30.0, 60.0, 500.0] {
            let lines = wrap(text, width, 4.0, false);
            assert!(lines.iter().all(|line| width_mm(line, 4.0, false) <= width + 1e-5), "{width}: {lines:?}");
            let squeezed = |text: &str| text.split_whitespace().collect::<String>();
            assert_eq!(squeezed(&lines.concat()), squeezed(text));
        }
        assert_eq!(wrap("", 10.0, 4.0, false), [""]);
    }

    #[test]
    fn what_the_face_lacks_is_not_silently_dropped() {
        assert_eq!(printable("a\u{a0}b\u{2011}c \u{3bc}m 車\t\u{7}!"), "a b-c µm \u{FFFD} !");
    }

    #[test]
    fn a_shortened_line_fits_and_says_so() {
        let line = shortened("a very long name of an engine builder's shop", 30.0, 4.0, true);
        assert!(line.ends_with('…') && width_mm(&line, 4.0, true) <= 30.0, "{line}");
        assert_eq!(shortened("short", 30.0, 4.0, true), "short");
    }
}
