//! An address as a QR code (ISO/IEC 18004), to be read by a phone's or tablet's camera from a screen or from paper.
//!
//! Level M: up to 15 % of what stands in it may be unreadable. Around it the quiet zone of four modules that the standard
//! asks for, drawn as part of the sheet, so that nothing printed beside it can come too close. It must be drawn dark on
//! light: many cameras do not read the opposite, so a dark page gives it a light ground.

use super::{Drawing, Role, Shape, rectangle};
use qrcodegen::{QrCode, QrCodeEcc};

/// Modules of paper on each side.
const QUIET: f64 = 4.0;

/// The code that says `text`, each of its modules `module_mm` wide; `title` says what it is for. To be read from paper
/// 0.33 mm is the least; at 0.6 mm it can still be read from a scan of 150 dots to the inch.
///
/// None where the text is too long for any code: level M holds 2331 bytes, and more than 250 want a finer print than a
/// workshop keeps clean.
#[must_use]
pub fn code(text: &str, title: &str, module_mm: f64) -> Option<Drawing> {
    let code = QrCode::encode_text(text, QrCodeEcc::Medium).ok()?;
    let side_mm = (f64::from(code.size()) + 2.0 * QUIET) * module_mm;
    let mut shapes = vec![Shape::area(rectangle(0.0, 0.0, side_mm, side_mm), Role::Paper)];
    let bar = |x: i32, y: i32, wide: i32, high: i32| {
        let [x, y] = [x, y].map(|modules| (f64::from(modules) + QUIET) * module_mm);
        let [wide, high] = [wide, high].map(|modules| f64::from(modules) * module_mm);
        Shape::area(rectangle(x, y, wide, high), Role::Ink)
    };
    // Bars across and bars down over each other: where two bars of one kind meet, one of the other kind covers the seam.
    for line in 0..code.size() {
        let across = bars(code.size(), |along| code.get_module(along, line));
        shapes.extend(across.into_iter().map(|(from, length)| bar(from, line, length, 1)));
        let down = bars(code.size(), |along| code.get_module(line, along));
        shapes.extend(
            down.into_iter().filter(|(_, length)| *length > 1).map(|(from, length)| bar(line, from, 1, length)),
        );
    }
    Some(Drawing {
        width_mm: side_mm,
        height_mm: side_mm,
        title: title.to_owned(),
        description: format!("A code to be read by a camera. It says: {text}"),
        shapes,
        touches: Vec::new(),
    })
}

/// Where dark modules stand in a row: the first of each bar, and how many.
fn bars(size: i32, is_dark: impl Fn(i32) -> bool) -> Vec<(i32, i32)> {
    let mut bars: Vec<(i32, i32)> = Vec::new();
    for along in (0..size).filter(|along| is_dark(*along)) {
        match bars.last_mut() {
            Some((from, length)) if *from + *length == along => *length += 1,
            _ => bars.push((along, 1)),
        }
    }
    bars
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::soundness::assert_sound;

    /// What a decoder of someone else's reads from the drawing at so many dots to a millimetre. A dot is as dark as what
    /// lies under it, and then lit by `light` of its place in millimetres (0 to 1).
    fn read(drawing: &Drawing, dots_per_mm: f64, light: impl Fn(f64, f64) -> f64) -> Result<String, String> {
        let (dark, side) = painted(drawing, dots_per_mm * 4.0);
        let mut picture = rqrr::PreparedImage::prepare_from_greyscale(side / 4, side / 4, |x, y| {
            let under = (0..16).filter(|part| !dark[(y * 4 + part / 4) * side + x * 4 + part % 4]).count();
            let [x, y] = [x, y].map(|dot| (dot as f64 + 0.5) / dots_per_mm);
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "30 to 225")]
            let shade = ((30.0 + 195.0 * under as f64 / 16.0) * light(x, y)) as u8;
            shade
        });
        let grids = picture.detect_grids();
        let grid = grids.first().ok_or("no code is seen")?;
        grid.decode().map(|(_, text)| text).map_err(|why| why.to_string())
    }

    /// Which dots of the drawing are dark, row by row, and how many stand in a row.
    fn painted(drawing: &Drawing, dots_per_mm: f64) -> (Vec<bool>, usize) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some hundred dots")]
        let dot = |mm: f64| (mm * dots_per_mm).round() as usize;
        let side = dot(drawing.width_mm);
        let mut dark = vec![false; side * side];
        for shape in &drawing.shapes {
            let Shape::Polyline { points, fill: Some(role), .. } = shape else { panic!("only areas: {shape:?}") };
            for y in dot(points[0].y)..dot(points[2].y) {
                dark[y * side + dot(points[0].x)..y * side + dot(points[2].x)].fill(*role == Role::Ink);
            }
        }
        (dark, side)
    }

    const ADDRESSES: [&str; 3] =
        ["http://192.168.178.104:8040/", "http://witnessmark.local:8040/jobs/217/photos", "http://[fd00::12ab]:8040/"];

    #[test]
    fn a_decoder_reads_what_was_said() {
        for address in ADDRESSES {
            let drawing = code(address, "the address", 1.0).expect("a code");
            assert_sound(&drawing);
            assert_eq!(read(&drawing, 4.0, |_, _| 1.0).as_deref(), Ok(address));
        }
    }

    /// Modules of 0.6 mm at 150 dots to the inch, three and a half dots each, the light falling off to a
    /// third across it, and an oily thumb print over some of the data.
    #[test]
    fn it_is_read_from_a_worn_print() {
        let address = ADDRESSES[1];
        let drawing = code(address, "the address", 0.6).expect("a code");
        let light = |x: f64, y: f64| {
            let falls_off = 1.0 - (x + y) / (3.0 * drawing.width_mm);
            let thumb = (x - 11.5).hypot(y - 11.5) < 1.1;
            falls_off * if thumb { 0.2 } else { 1.0 }
        };
        assert_eq!(read(&drawing, 150.0 / 25.4, light).as_deref(), Ok(address));
        let torn = |x: f64, _: f64| if x > drawing.width_mm / 2.0 { 0.2 } else { 1.0 };
        assert!(read(&drawing, 150.0 / 25.4, torn).is_err(), "half of it");
    }

    #[test]
    fn paper_stands_around_it_and_its_corners_are_dark() {
        let drawing = code("http://10.0.0.7:8040/", "the address", 2.0).expect("a code");
        let (dark, side) = painted(&drawing, 0.5);
        let in_code = 4..side - 4;
        for (at, is_dark) in dark.iter().enumerate() {
            let inside = in_code.contains(&(at % side)) && in_code.contains(&(at / side));
            assert!(inside || !is_dark, "{at}");
        }
        assert!([(4, 4), (side - 5, 4), (4, side - 5)].iter().all(|(x, y)| dark[y * side + x]));
    }

    #[test]
    fn what_no_code_holds_is_none() {
        assert!(code(&"x".repeat(2331), "long", 1.0).is_some());
        assert!(code(&"x".repeat(2332), "too long", 1.0).is_none());
    }
}
