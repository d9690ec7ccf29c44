//! A sheet of grey to draw strokes and filled shapes on, and the sheet as a picture file. Lengths are pixels.

use super::scatter::Scatter;
use image::codecs::jpeg::JpegEncoder;
use image::{Rgb, RgbImage};

pub(super) const WIDTH: f32 = 1200.0;
pub(super) const HEIGHT: f32 = 900.0;

/// A grey, or a colour of paint or dye.
pub(super) type Colour = [u8; 3];
pub(super) type Point = (f32, f32);

pub(super) struct Canvas(RgbImage);

impl Canvas {
    /// A grey bench, a little darker towards its corners.
    pub fn new() -> Self {
        let grey = |x: u32, y: u32| {
            let (from_middle_x, from_middle_y) = (x as f32 / WIDTH - 0.5, y as f32 / HEIGHT - 0.5);
            let away = from_middle_x * from_middle_x + from_middle_y * from_middle_y;
            Rgb([level(184.0 - 70.0 * away), level(186.0 - 70.0 * away), level(188.0 - 66.0 * away)])
        };
        Self(RgbImage::from_fn(pixels(WIDTH), pixels(HEIGHT), grey))
    }

    /// Lays colour wherever `depth` is positive: how far inside the shape a point lies. Edges are one pixel soft.
    fn lay(&mut self, (left, top): Point, (right, bottom): Point, colour: Colour, depth: impl Fn(Point) -> f32) {
        let clamped = |from: f32, most: f32| pixels(from.clamp(0.0, most));
        for y in clamped(top - 1.0, HEIGHT)..clamped(bottom + 2.0, HEIGHT) {
            for x in clamped(left - 1.0, WIDTH)..clamped(right + 2.0, WIDTH) {
                let cover = (depth((x as f32 + 0.5, y as f32 + 0.5)) + 0.5).clamp(0.0, 1.0);
                if cover > 0.0 {
                    let Rgb(under) = self.0.get_pixel_mut(x, y);
                    for (below, above) in under.iter_mut().zip(colour) {
                        *below = level(f32::from(*below) * (1.0 - cover) + f32::from(above) * cover);
                    }
                }
            }
        }
    }

    /// A line of a width through points, its ends and corners round.
    pub fn stroke(&mut self, points: &[Point], width: f32, colour: Colour) {
        for ends in points.windows(2) {
            let (a, b) = (ends[0], ends[1]);
            let half = width / 2.0;
            let corner = (a.0.min(b.0) - half, a.1.min(b.1) - half);
            let opposite = (a.0.max(b.0) + half, a.1.max(b.1) + half);
            self.lay(corner, opposite, colour, |p| half - to_segment(p, a, b));
        }
    }

    pub fn disc(&mut self, middle: Point, radius: f32, colour: Colour) {
        let (corner, opposite) = around(middle, radius);
        self.lay(corner, opposite, colour, |p| radius - distance(p, middle));
    }

    pub fn ring(&mut self, middle: Point, radius: f32, width: f32, colour: Colour) {
        let (corner, opposite) = around(middle, radius + width);
        self.lay(corner, opposite, colour, |p| width / 2.0 - (distance(p, middle) - radius).abs());
    }

    /// A rectangle by two corners.
    pub fn plate(&mut self, corner: Point, opposite: Point, colour: Colour) {
        self.lay(corner, opposite, colour, |(x, y)| {
            (x - corner.0).min(opposite.0 - x).min((y - corner.1).min(opposite.1 - y))
        });
    }

    /// A hexagon across flats: the head of a bolt seen from above.
    pub fn bolt_head(&mut self, middle: Point, across: f32, colour: Colour) {
        let (corner, opposite) = around(middle, across);
        self.lay(corner, opposite, colour, |(x, y)| {
            let (dx, dy) = ((x - middle.0).abs(), (y - middle.1).abs());
            across / 2.0 - dy.max(0.866 * dx + 0.5 * dy)
        });
    }

    /// Fine grain all over, as any photograph has.
    pub fn grain(&mut self, scatter: &mut Scatter) {
        for Rgb(pixel) in self.0.pixels_mut() {
            let speck = scatter.slip() * 5.0;
            *pixel = pixel.map(|channel| level(f32::from(channel) + speck));
        }
    }

    /// The picture as a JPEG file.
    pub fn developed(self) -> Vec<u8> {
        let mut bytes = Vec::new();
        // Into memory, which does not refuse; an empty file would be refused as no picture.
        let _ = self.0.write_with_encoder(JpegEncoder::new_with_quality(&mut bytes, 86));
        bytes
    }
}

fn around((x, y): Point, radius: f32) -> (Point, Point) {
    ((x - radius, y - radius), (x + radius, y + radius))
}

fn distance(a: Point, b: Point) -> f32 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

fn to_segment(p: Point, a: Point, b: Point) -> f32 {
    let (along_x, along_y) = (b.0 - a.0, b.1 - a.1);
    let length_squared = along_x * along_x + along_y * along_y;
    let along = ((p.0 - a.0) * along_x + (p.1 - a.1) * along_y) / length_squared.max(f32::MIN_POSITIVE);
    let along = along.clamp(0.0, 1.0);
    distance(p, (a.0 + along * along_x, a.1 + along * along_y))
}

/// A brightness as a channel holds it.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to what a channel holds")]
fn level(brightness: f32) -> u8 {
    brightness.round().clamp(0.0, 255.0) as u8
}

/// A length as a count of pixels.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most the sheet's own size")]
fn pixels(length: f32) -> u32 {
    length.max(0.0) as u32
}
