//! The photographs of the demonstration shop, drawn: abstract, and what a machinist would take a picture of.

use super::canvas::{Canvas, Colour, HEIGHT, Point, WIDTH};
use super::scatter::Scatter;

const INK: Colour = [52, 54, 58];
const IRON: Colour = [132, 134, 138];
const MACHINED: Colour = [206, 208, 210];
const DARK: Colour = [78, 80, 84];
const PAINT: Colour = [226, 190, 58];
const DYE: Colour = [58, 92, 168];

/// Characters of a stamping set in straight strokes, on a field 4 wide and 6 high, y downward.
const STAMPS: [(char, &[&[Point]]); 15] = [
    ('0', &[&[(0.0, 0.0), (4.0, 0.0), (4.0, 6.0), (0.0, 6.0), (0.0, 0.0)]]),
    ('1', &[&[(1.0, 1.0), (2.0, 0.0), (2.0, 6.0)]]),
    ('2', &[&[(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0), (0.0, 6.0), (4.0, 6.0)]]),
    ('3', &[&[(0.0, 0.0), (4.0, 0.0), (4.0, 6.0), (0.0, 6.0)], &[(1.0, 3.0), (4.0, 3.0)]]),
    ('4', &[&[(0.0, 0.0), (0.0, 3.0), (4.0, 3.0)], &[(3.0, 1.0), (3.0, 6.0)]]),
    ('5', &[&[(4.0, 0.0), (0.0, 0.0), (0.0, 3.0), (4.0, 3.0), (4.0, 6.0), (0.0, 6.0)]]),
    ('6', &[&[(4.0, 0.0), (0.0, 0.0), (0.0, 6.0), (4.0, 6.0), (4.0, 3.0), (0.0, 3.0)]]),
    ('7', &[&[(0.0, 0.0), (4.0, 0.0), (1.5, 6.0)]]),
    ('8', &[&[(0.0, 0.0), (4.0, 0.0), (4.0, 6.0), (0.0, 6.0), (0.0, 0.0)], &[(0.0, 3.0), (4.0, 3.0)]]),
    ('9', &[&[(0.0, 6.0), (4.0, 6.0), (4.0, 0.0), (0.0, 0.0), (0.0, 3.0), (4.0, 3.0)]]),
    ('T', &[&[(0.0, 0.0), (4.0, 0.0)], &[(2.0, 0.0), (2.0, 6.0)]]),
    ('W', &[&[(0.0, 0.0), (1.0, 6.0), (2.0, 2.0), (3.0, 6.0), (4.0, 0.0)]]),
    ('C', &[&[(4.0, 0.0), (0.0, 0.0), (0.0, 6.0), (4.0, 6.0)]]),
    ('R', &[&[(0.0, 6.0), (0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)], &[(1.5, 3.0), (4.0, 6.0)]]),
    ('-', &[&[(1.0, 3.0), (3.0, 3.0)]]),
];

/// A stamped serial on its machined pad.
pub(super) fn serial(text: &str, scatter: &mut Scatter) -> Vec<u8> {
    let mut canvas = Canvas::new();
    canvas.plate((60.0, 180.0), (WIDTH - 60.0, 720.0), IRON);
    canvas.plate((120.0, 290.0), (WIDTH - 120.0, 610.0), MACHINED);
    milled(&mut canvas, (120.0, 290.0), (WIDTH - 120.0, 610.0));
    let pitch = 880.0 / text.chars().count().max(1) as f32;
    let scale = (pitch / 6.0).min(22.0);
    for (at, character) in text.chars().enumerate() {
        // Stamped by hand: no two stand quite level.
        let (slip_x, slip_y) = (scatter.slip() * 4.0, scatter.slip() * 9.0);
        let corner = (160.0 + pitch * at as f32 + slip_x, 450.0 - 3.0 * scale + slip_y);
        stamped(&mut canvas, character, corner, scale);
    }
    taken(canvas, scatter)
}

/// A main cap from above with its number in punch marks, and a paint stripe over each bolt that has had its last step.
pub(super) fn main_cap(number: u8, striped: [bool; 2], scatter: &mut Scatter) -> Vec<u8> {
    let mut canvas = Canvas::new();
    canvas.plate((0.0, 200.0), (WIDTH, 700.0), DARK);
    canvas.plate((140.0, 250.0), (WIDTH - 140.0, 650.0), IRON);
    canvas.plate((430.0, 230.0), (WIDTH - 430.0, 670.0), MACHINED);
    for (middle, stripe) in [(290.0, 450.0), (WIDTH - 290.0, 450.0)].into_iter().zip(striped) {
        canvas.disc(middle, 104.0, DARK);
        canvas.bolt_head(middle, 150.0, MACHINED);
        canvas.ring(middle, 42.0, 4.0, IRON);
        if stripe {
            canvas.stroke(&[(middle.0, middle.1 - 10.0), (middle.0 + 40.0, middle.1 + 190.0)], 22.0, PAINT);
        }
    }
    for mark in 0..number {
        canvas.disc((540.0 + 40.0 * f32::from(mark), 330.0), 11.0, INK);
    }
    canvas.stroke(&[(560.0, 560.0), (640.0, 560.0), (622.0, 546.0)], 8.0, INK);
    canvas.stroke(&[(640.0, 560.0), (622.0, 574.0)], 8.0, INK);
    taken(canvas, scatter)
}

/// A deck face from above: bores, bolt holes, water passages; honed bores carry their cross-hatch.
pub(super) fn deck(bores: u8, honed: bool, scatter: &mut Scatter) -> Vec<u8> {
    let mut canvas = Canvas::new();
    let (top, bottom) = (250.0, 650.0);
    canvas.plate((30.0, top), (WIDTH - 30.0, bottom), MACHINED);
    milled(&mut canvas, (30.0, top), (WIDTH - 30.0, bottom));
    let pitch = (WIDTH - 100.0) / f32::from(bores);
    let radius = (pitch * 0.41).min(150.0);
    for bore in 0..bores {
        let middle = (50.0 + pitch * (f32::from(bore) + 0.5), HEIGHT / 2.0);
        canvas.disc(middle, radius, DARK);
        if honed {
            cross_hatch(&mut canvas, middle, radius);
        }
        canvas.ring(middle, radius, 5.0, INK);
        for y in [top + 36.0, bottom - 36.0] {
            canvas.disc((middle.0 - pitch / 2.0 + 8.0, y), 15.0, INK);
            canvas.disc((middle.0, y), 9.0, DARK);
        }
    }
    taken(canvas, scatter)
}

/// A crankshaft from the side, lying in its vees: mains in bright metal, throws above and below.
pub(super) fn crank(throws: &[i8], scatter: &mut Scatter) -> Vec<u8> {
    let mut canvas = Canvas::new();
    let pitch = (WIDTH - 200.0) / throws.len().max(1) as f32;
    canvas.plate((40.0, 425.0), (WIDTH - 40.0, 475.0), MACHINED);
    for (at, &throw) in throws.iter().enumerate() {
        let left = 120.0 + pitch * at as f32;
        let lift = f32::from(throw) * 95.0;
        canvas.plate((left, 300.0 + lift.min(0.0)), (left + pitch * 0.16, 600.0 + lift.max(0.0)), IRON);
        canvas.plate((left + pitch * 0.52, 300.0 + lift.min(0.0)), (left + pitch * 0.68, 600.0 + lift.max(0.0)), IRON);
        canvas.plate((left + pitch * 0.16, 415.0 - lift), (left + pitch * 0.52, 485.0 - lift), MACHINED);
        canvas.disc((left + pitch * 0.84, 450.0), 7.0, INK);
    }
    for x in [90.0, WIDTH - 90.0] {
        canvas.stroke(&[(x - 70.0, 700.0), (x, 490.0), (x + 70.0, 700.0)], 14.0, DARK);
    }
    taken(canvas, scatter)
}

/// A piston from the side with the height of its gauge point marked in dye.
pub(super) fn piston(scatter: &mut Scatter) -> Vec<u8> {
    let mut canvas = Canvas::new();
    canvas.plate((380.0, 180.0), (820.0, 700.0), MACHINED);
    for groove in [230.0, 275.0, 325.0] {
        canvas.plate((376.0, groove), (824.0, groove + 16.0), DARK);
    }
    canvas.disc((600.0, 450.0), 62.0, DARK);
    canvas.ring((600.0, 450.0), 62.0, 8.0, IRON);
    canvas.stroke(&[(380.0, 590.0), (820.0, 590.0)], 4.0, DYE);
    for (tip, side) in [(380.0, -1.0), (820.0, 1.0)] {
        canvas.stroke(&[(tip + side * 90.0, 590.0), (tip + side * 10.0, 590.0)], 26.0, IRON);
        canvas.disc((tip + side * 6.0, 590.0), 13.0, MACHINED);
    }
    taken(canvas, scatter)
}

fn stamped(canvas: &mut Canvas, character: char, corner: Point, scale: f32) {
    let Some((_, strokes)) = STAMPS.iter().find(|(stamp, _)| *stamp == character) else { return };
    for stroke in *strokes {
        let placed = |shift: f32| -> Vec<Point> {
            stroke.iter().map(|(x, y)| (corner.0 + x * scale + shift, corner.1 + y * scale + shift)).collect()
        };
        canvas.stroke(&placed(2.5), 10.0, [244, 244, 244]);
        canvas.stroke(&placed(0.0), 9.0, INK);
    }
}

/// The faint lines a cutter leaves.
fn milled(canvas: &mut Canvas, corner: Point, opposite: Point) {
    let mut x = corner.0 + 14.0;
    while x < opposite.0 {
        canvas.stroke(&[(x, corner.1), (x, opposite.1)], 1.0, [196, 198, 200]);
        x += 14.0;
    }
}

/// Two sets of parallel lines across a bore, about 45° apart.
fn cross_hatch(canvas: &mut Canvas, (x, y): Point, radius: f32) {
    let mut offset = -radius + 8.0;
    while offset < radius {
        let half = (radius * radius - offset * offset).sqrt() - 4.0;
        for slope in [-0.4, 0.4] {
            canvas.stroke(
                &[(x - half, y + (offset - slope * half) * 0.7), (x + half, y + (offset + slope * half) * 0.7)],
                1.5,
                IRON,
            );
        }
        offset += 16.0;
    }
}

fn taken(mut canvas: Canvas, scatter: &mut Scatter) -> Vec<u8> {
    canvas.grain(scatter);
    canvas.developed()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_picture_is_one_and_shows_something() {
        let scatter = &mut Scatter::new(1);
        let all = [
            serial("T246-60417", scatter),
            main_cap(3, [true, false], scatter),
            deck(6, true, scatter),
            crank(&[1, -1, 1], scatter),
            piston(scatter),
        ];
        for bytes in all {
            let picture = image::load_from_memory(&bytes).unwrap().to_luma8();
            assert_eq!(
                (f64::from(picture.width()), f64::from(picture.height())),
                (f64::from(WIDTH), f64::from(HEIGHT))
            );
            let dark = picture.pixels().filter(|pixel| pixel.0[0] < 110).count();
            let bright = picture.pixels().filter(|pixel| pixel.0[0] > 195).count();
            assert!(dark > 2_000 && bright > 2_000, "{dark} dark and {bright} bright points");
        }
    }
}
