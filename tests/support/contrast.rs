//! How far two colours are apart to the eye: relative luminance and contrast ratio as WCAG 2.2 defines them.

/// Relative luminance of an sRGB colour, 0 to 1.
pub fn luminance(colour: [u8; 3]) -> f64 {
    let [red, green, blue] = colour.map(|value| {
        let value = f64::from(value) / 255.0;
        if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    });
    0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/// The contrast ratio of two luminances, 1 to 21.
pub fn ratio(one: f64, other: f64) -> f64 {
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}
