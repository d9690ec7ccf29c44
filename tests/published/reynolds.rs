//! Reynolds' equation for a full journal bearing by finite differences: what the table in `film.rs` is computed with.
//!
//! Steady load, isoviscous oil, aligned, rigid and round; pressure zero at the ends and at the largest film, and nowhere
//! below zero (Reynolds' boundary condition, met by clamping inside the relaxation). θ runs from the largest film; z from
//! mid-length to the end, the other half being its mirror image. With H = 1 + ε·cos θ and P = p·c²/(6·µ·U·r):
//! ∂/∂θ(H³·∂P/∂θ) + (d/l)²·H³·∂²P/∂z² = ∂H/∂θ.

use std::f64::consts::{PI, TAU};

/// Relaxation ends when no pressure moves by more than this part of the highest.
const SETTLED: f64 = 1e-8;
const MOST_SWEEPS: usize = 20_000;

/// What one solution gives, with the letters of Raimondi and Boyd.
pub struct Solution {
    /// Sommerfeld number S = (r/c)²·µN/P.
    pub s: f64,
    pub attitude_deg: f64,
    /// Flow drawn in at the largest film, Q/(r·c·N·l).
    pub flow: f64,
    /// Flow leaving at both ends, Qₛ/(r·c·N·l).
    pub side_flow: f64,
}

/// The film at eccentricity ratio `eps` and length over diameter `l_over_d`, on `around` steps of θ and `along` steps of z.
pub fn solve(eps: f64, l_over_d: f64, around: usize, along: usize) -> Solution {
    let (dt, dz) = (TAU / around as f64, 1.0 / along as f64);
    let h = |steps: f64| 1.0 + eps * (steps * dt).cos();
    let pressure = relax(&Grid { eps, l_over_d, around, along, dt, dz });
    // Trapezoidal over z (the ends are zero), twice for the mirror image.
    let weight = |j: usize| if j == 0 { dz } else { 2.0 * dz };
    let over_z = |i: usize| (0..along).map(|j| weight(j) * pressure[i][j]).sum::<f64>();
    let part = |f: fn(f64) -> f64| (0..around).map(|i| over_z(i) * f(i as f64 * dt) * dt).sum::<f64>();
    let (along_centres, across) = (part(f64::cos), part(f64::sin));
    let slope_at_start: f64 =
        (0..along).map(|j| weight(j) * (4.0 * pressure[1][j] - pressure[2][j]) / (2.0 * dt)).sum();
    let slope_at_end = |i: usize| (4.0 * pressure[i][along - 1] - pressure[i][along - 2]) / (2.0 * dz);
    Solution {
        s: 1.0 / (3.0 * PI * along_centres.hypot(across)),
        attitude_deg: across.atan2(-along_centres).to_degrees(),
        flow: PI * (h(0.0) - 0.5 * h(0.0).powi(3) * slope_at_start),
        side_flow: PI / l_over_d.powi(2) * (0..around).map(|i| h(i as f64).powi(3) * slope_at_end(i) * dt).sum::<f64>(),
    }
}

struct Grid {
    eps: f64,
    l_over_d: f64,
    around: usize,
    along: usize,
    dt: f64,
    dz: f64,
}

/// Successive over-relaxation; `pressure[θ][z]`, with z from mid-length (mirrored) to the end (zero).
fn relax(grid: &Grid) -> Vec<Vec<f64>> {
    let Grid { eps, l_over_d, around, along, dt, dz } = *grid;
    let h3 = |steps: f64| (1.0 + eps * (steps * dt).cos()).powi(3);
    // Per θ: factor of the neighbour before, behind, of those to the sides, and the right-hand side.
    let factors: Vec<[f64; 4]> = (0..around)
        .map(|i| i as f64)
        .map(|i| {
            let (before, behind) = (h3(i - 0.5) / dt.powi(2), h3(i + 0.5) / dt.powi(2));
            [before, behind, h3(i) / (l_over_d * dz).powi(2), -eps * (i * dt).sin()]
        })
        .collect();
    let over = 2.0 / (1.0 + (PI / along as f64 / 2.0).sin().max(PI / around as f64));
    let mut pressure = vec![vec![0.0_f64; along + 1]; around + 1];
    for _ in 0..MOST_SWEEPS {
        let (mut moved, mut highest) = (0.0_f64, 0.0_f64);
        for i in 1..around {
            let [before, behind, side, right] = factors[i];
            let whole = before + behind + 2.0 * side;
            for j in 0..along {
                let inner = if j == 0 { pressure[i][1] } else { pressure[i][j - 1] };
                let sides = side * (inner + pressure[i][j + 1]);
                let wanted = (before * pressure[i - 1][j] + behind * pressure[i + 1][j] + sides - right) / whole;
                let old = pressure[i][j];
                let new = (old + over * (wanted - old)).max(0.0);
                pressure[i][j] = new;
                moved = moved.max((new - old).abs());
                highest = highest.max(new);
            }
        }
        if moved <= SETTLED * highest {
            return pressure;
        }
    }
    panic!("no settled pressure at ε = {eps}, l/d = {l_over_d}");
}
