//! A drawing as SVG for a page: roles become classes, touch areas become links.
//!
//! Nothing is styled here, so that a strict content security policy holds and both themes can colour it. The stylesheet
//! gives each role its colour by these classes:
//!
//! - `drawing`: the whole picture; it scales to its box, `width: 100%` fills a column
//! - `ink faint dye band out unsure paper`: the stroke of a line
//! - `fill-ink fill-faint …`: the fill of an area
//! - `word-ink word-faint …`: the fill of a word; `bold` beside it
//! - `touch`: the transparent rectangle of a link
//! - `mark`: a verdict's mark beside its word

use std::fmt::Write;

use crate::drawing::{Anchor, Drawing, Mark, Point, Role, Shape, Text, Touch, mark, qr};

/// The drawing as an `<svg>` element. `id` must be unique on its page and fit for an attribute; `link` turns the key of
/// a touch area into an address, or none if it leads nowhere on this page.
#[must_use]
pub fn to_svg(drawing: &Drawing, id: &str, link: &dyn Fn(&str) -> Option<String>) -> String {
    map(drawing, id, link, None)
}

/// The same, with the touch area of one key marked as where one is (`aria-current`).
#[must_use]
pub fn map(drawing: &Drawing, id: &str, link: &dyn Fn(&str) -> Option<String>, here: Option<&str>) -> String {
    let links: Vec<(&Touch, String)> =
        drawing.touches.iter().filter_map(|touch| Some((touch, link(&touch.key)?))).collect();
    // Links inside an image are out of reach for those who do not see it.
    let role = if links.is_empty() { "img" } else { "group" };
    let id = escaped(id);
    let (width, height) = (number(drawing.width_mm), number(drawing.height_mm));
    let mut svg = format!(
        "<svg class=\"drawing\" viewBox=\"0 0 {width} {height}\" width=\"{width}mm\" height=\"{height}mm\" role=\"{role}\" \
         aria-labelledby=\"{id}-title {id}-desc\"><title id=\"{id}-title\">{}</title><desc id=\"{id}-desc\">{}</desc>",
        escaped(&drawing.title),
        escaped(&drawing.description),
    );
    for shape in &drawing.shapes {
        svg.push_str(&element(shape));
    }
    for (touch, address) in links {
        // Writing to a String cannot fail.
        let _ = write!(
            svg,
            "<a href=\"{}\" aria-label=\"{}\"{}><rect class=\"touch\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"none\" \
             pointer-events=\"all\"/></a>",
            escaped(&address),
            escaped(&touch.label),
            if here == Some(touch.key.as_str()) { " aria-current=\"true\"" } else { "" },
            number(touch.x),
            number(touch.y),
            number(touch.w),
            number(touch.h),
        );
    }
    svg.push_str("</svg>");
    svg
}

/// A code that a camera reads as this address. It is to stand on light ground in either theme: class `scan` around it.
#[must_use]
pub fn code(address: &str, id: &str) -> Option<String> {
    let drawing = qr::code(address, &format!("The address {address} as a code"), 1.0)?;
    Some(to_svg(&drawing, id, &|_| None))
}

/// A verdict as every page says it: its mark, its word, and only then a colour.
#[must_use]
pub fn verdict(kind: Mark) -> String {
    worded(kind, kind.word())
}

/// The mark beside words of a page's own: "3 out".
#[must_use]
pub fn worded(kind: Mark, words: &str) -> String {
    let class = kind.word().replace(' ', "-");
    format!("<span class=\"verdict {class}\">{}{}</span>", mark_svg(kind), escaped(words))
}

fn mark_svg(kind: Mark) -> String {
    let shapes: String = mark::mark(kind, MARK_MM / 2.0, MARK_MM / 2.0, MARK_MM).iter().map(element).collect();
    format!("<svg class=\"mark\" viewBox=\"0 0 {MARK_MM} {MARK_MM}\" aria-hidden=\"true\">{shapes}</svg>")
}

/// A figure with its mark behind it; the mark's word is left to those who do not see it.
#[must_use]
pub fn behind(figure: &str, kind: Mark) -> String {
    let class = kind.word().replace(' ', "-");
    format!(
        "{} <span class=\"verdict {class}\">{}<span class=\"unseen\">{}</span></span>",
        escaped(figure),
        mark_svg(kind),
        kind.word()
    )
}

/// Side of the box a mark beside a word is drawn in, mm.
const MARK_MM: f64 = 6.0;

fn element(shape: &Shape) -> String {
    match shape {
        Shape::Polyline { points, closed, stroke, fill, width_mm } => {
            let name = if *closed { "polygon" } else { "polyline" };
            let places: Vec<String> =
                points.iter().map(|Point { x, y }| format!("{},{}", number(*x), number(*y))).collect();
            format!("<{name} points=\"{}\"{}/>", places.join(" "), looks(*stroke, *fill, *width_mm))
        }
        Shape::Circle { centre, radius, stroke, fill, width_mm } => format!(
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>",
            number(centre.x),
            number(centre.y),
            number(*radius),
            looks(*stroke, *fill, *width_mm)
        ),
        Shape::Text(text) => word(text),
    }
}

fn word(text: &Text) -> String {
    let anchor = match text.anchor {
        Anchor::Start => "",
        Anchor::Middle => " text-anchor=\"middle\"",
        Anchor::End => " text-anchor=\"end\"",
    };
    let bold = if text.bold { " bold" } else { "" };
    format!(
        "<text class=\"word-{}{bold}\" x=\"{}\" y=\"{}\" font-size=\"{}\"{anchor}>{}</text>",
        name(text.role),
        number(text.at.x),
        number(text.at.y),
        number(text.size_mm),
        escaped(&text.text)
    )
}

fn looks(stroke: Option<Role>, fill: Option<Role>, width_mm: f64) -> String {
    let stroke_class = stroke.map(|role| name(role).to_owned());
    let fill_class = fill.map(|role| format!("fill-{}", name(role)));
    let classes: Vec<String> = stroke_class.into_iter().chain(fill_class).collect();
    let unfilled = if fill.is_none() { " fill=\"none\"" } else { "" };
    let width = if stroke.is_some() { format!(" stroke-width=\"{}\"", number(width_mm)) } else { String::new() };
    format!(" class=\"{}\"{unfilled}{width}", classes.join(" "))
}

const fn name(role: Role) -> &'static str {
    match role {
        Role::Ink => "ink",
        Role::Faint => "faint",
        Role::Dye => "dye",
        Role::Band => "band",
        Role::Out => "out",
        Role::Unsure => "unsure",
        Role::Paper => "paper",
    }
}

/// A length with at most two decimals: a hundredth of a millimetre is finer than any screen.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Text fit for an element or a quoted attribute; characters that XML does not allow are left out.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            '\u{FFFE}' | '\u{FFFF}' => {}
            control if control.is_control() && !matches!(control, '\t' | '\n' | '\r') => {}
            other => safe.push(other),
        }
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::at;

    fn drawing(touches: Vec<Touch>) -> Drawing {
        Drawing {
            width_mm: 20.0,
            height_mm: 10.5,
            title: "<script>alert(1)</script>".to_owned(),
            description: "a \"quoted\" & odd\u{0}one".to_owned(),
            shapes: vec![
                Shape::line(at(0.0, -0.001), at(1.23456, 2.0), Role::Ink, 0.18),
                Shape::word(at(1.0, 1.0), "Ø < 3 & µ", 3.0, Anchor::End, Role::Dye),
            ],
            touches,
        }
    }

    fn touch(key: &str) -> Touch {
        Touch { key: key.to_owned(), label: "main 3".to_owned(), x: 0.0, y: 0.0, w: 12.0, h: 12.0 }
    }

    #[test]
    fn hostile_text_stays_text() {
        let svg = to_svg(&drawing(vec![touch("\"><script>")]), "plan", &|key| Some(format!("/x?{key}")));
        assert!(!svg.contains("<script"), "{svg}");
        assert!(!svg.contains('\0'));
        assert!(svg.contains("Ø &lt; 3 &amp; µ"));
        assert!(svg.contains("a &quot;quoted&quot; &amp; oddone"));
    }

    #[test]
    fn numbers_are_short() {
        let svg = to_svg(&drawing(Vec::new()), "plan", &|_| None);
        assert!(svg.contains("points=\"0,0 1.23,2\""), "{svg}");
        assert!(svg.contains("viewBox=\"0 0 20 10.5\""), "{svg}");
    }

    #[test]
    fn where_one_is_is_marked_once() {
        let svg = map(
            &drawing(vec![touch("main.3"), touch("main.4")]),
            "plan",
            &|key| Some(format!("#{key}")),
            Some("main.4"),
        );
        assert_eq!(svg.matches("aria-current").count(), 1);
        assert!(svg.contains("href=\"#main.4\" aria-label=\"main 3\" aria-current=\"true\""), "{svg}");
    }

    #[test]
    fn a_picture_with_links_is_a_group_and_without_an_image() {
        let picture = drawing(vec![touch("main.3"), touch("main.4")]);
        let with = to_svg(&picture, "plan", &|key| (key == "main.3").then(|| "#main.3".to_owned()));
        assert!(with.contains("role=\"group\"") && with.contains("href=\"#main.3\"") && !with.contains("main.4"));
        assert!(with.contains("aria-label=\"main 3\"") && with.contains("aria-labelledby=\"plan-title plan-desc\""));
        assert!(to_svg(&picture, "plan", &|_| None).contains("role=\"img\""));
    }
}
