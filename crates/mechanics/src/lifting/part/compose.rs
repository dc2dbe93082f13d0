//! A part composed from simple solids.

use super::super::error::{LiftingError, Range, check_count};
use super::{Body, Density, DensityNo, Placement, Solid};
use nalgebra::{Matrix4, Vector4};

const U_PLACE: Range = Range::new("standard uncertainty of a place", "m", 0.0, 10.0);

/// Whether a piece is metal or a hole in metal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PieceKind {
    /// Metal.
    Metal,
    /// A hole: what its solid would weigh is taken away.
    Hole,
}

/// One solid of a part.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Its shape and sizes.
    pub solid: Solid,
    /// What it is made of (a hole: what it is cut from).
    pub density: DensityNo,
    /// Metal or hole.
    pub kind: PieceKind,
    /// Where it sits in the part.
    pub placement: Placement,
    /// Standard uncertainty of where it sits, on each axis, m.
    pub u_place_m: f64,
}

/// Where an uncertainty comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Source {
    /// A density, in every piece made of it at once.
    Density(DensityNo),
    /// A size of a piece.
    Size {
        /// The piece, from 0.
        piece: usize,
        /// Which of [`Solid::sizes`], from 0.
        size: usize,
    },
    /// Where a piece sits.
    Place {
        /// The piece, from 0.
        piece: usize,
    },
}

/// What one source does to the answer.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contribution {
    /// The source.
    pub source: Source,
    /// Its part of the standard uncertainty of the mass, kg.
    pub u_mass_kg: f64,
    /// Its part of the standard uncertainty of the balance point, m on each axis.
    pub u_centre_m: [f64; 3],
}

/// A part composed from solids.
#[derive(Debug, Clone, PartialEq)]
pub struct Composition {
    /// Mass and balance point with their uncertainty.
    pub body: Body,
    /// What contributes, largest share of the mass's uncertainty first.
    pub contributions: Vec<Contribution>,
}

/// Mass and balance point of a part from its pieces.
///
/// Equation: `m = Σ ± ρ V`, `m c = Σ ± ρ V (R c_i + o)`; first-order propagation of density,
/// sizes and places (JCGM 100:2008, 5.1.2), a density shared by all pieces made of it. Derivatives
/// by size are central differences: volume and first moment are polynomials of low degree in every
/// size, so that they are good to eight digits. What overlaps is counted twice: let pieces touch,
/// not run into each other.
///
/// # Errors
/// No piece, more than 10 000; a density that is not given; sizes or places out of range; holes
/// that take away more than there is.
///
/// Worked value: T section with a flange of 100 x 20 mm on a web 20 x 80 mm, centroid 67.78 mm above
/// the foot (computed).
pub fn compose(pieces: &[Piece], densities: &[Density]) -> Result<Composition, LiftingError> {
    check_count("pieces", pieces.len(), (1, 10_000))?;
    for density in densities {
        density.check()?;
    }
    let mut q = Vector4::zeros();
    let mut by_density = vec![Vector4::zeros(); densities.len()];
    let mut effects: Vec<(Source, Vector4<f64>)> = Vec::new();
    let mut by_place: Vec<(usize, f64)> = Vec::new();
    for (number, piece) in pieces.iter().enumerate() {
        piece.solid.check()?;
        U_PLACE.check(piece.u_place_m)?;
        let (turn, origin) = piece.placement.check()?;
        let density = densities.get(piece.density.0).ok_or(LiftingError::NoSuchDensity {
            number: piece.density.0,
            given: densities.len(),
        })?;
        let sign = match piece.kind {
            PieceKind::Metal => 1.0,
            PieceKind::Hole => -1.0,
        };
        let volume_moments = |(volume, c): (f64, [f64; 3])| {
            let c = turn * nalgebra::Vector3::from(c) + origin;
            Vector4::new(volume, volume * c.x, volume * c.y, volume * c.z) * sign
        };
        let own = volume_moments(piece.solid.measure(None));
        q += own * density.kg_m3;
        by_density[piece.density.0] += own;
        for (i, size) in piece.solid.sizes().iter().enumerate() {
            if size.u_m > 0.0 {
                // A size of zero (the point of a cone) still has a derivative.
                let step = 1e-4 * size.value_m.max(1e-3);
                let up = volume_moments(piece.solid.measure(Some((i, step))));
                let down = volume_moments(piece.solid.measure(Some((i, -step))));
                let slope = (up - down) * (density.kg_m3 / (2.0 * step));
                effects.push((Source::Size { piece: number, size: i }, slope * size.u_m));
            }
        }
        if piece.u_place_m > 0.0 {
            by_place.push((number, own[0] * density.kg_m3 * piece.u_place_m));
        }
    }
    for (i, (density, volume)) in densities.iter().zip(&by_density).enumerate() {
        if density.u_kg_m3 > 0.0 && *volume != Vector4::zeros() {
            effects.push((Source::Density(DensityNo(i)), volume * density.u_kg_m3));
        }
    }
    let mut covariance = Matrix4::zeros();
    for (_, effect) in &effects {
        covariance += effect * effect.transpose();
    }
    for (_, moment) in &by_place {
        for axis in 1..4 {
            covariance[(axis, axis)] += moment * moment;
        }
    }
    let body = Body::from_moments(q, covariance)?;
    let (m, c) = (body.mass_kg(), body.centre_m());
    let mut contributions: Vec<Contribution> = effects
        .iter()
        .map(|(source, e)| Contribution {
            source: *source,
            u_mass_kg: e[0].abs(),
            u_centre_m: [0, 1, 2].map(|i| ((e[i + 1] - c[i] * e[0]) / m).abs()),
        })
        .chain(by_place.iter().map(|(piece, moment)| Contribution {
            source: Source::Place { piece: *piece },
            u_mass_kg: 0.0,
            u_centre_m: [(moment / m).abs(); 3],
        }))
        .collect();
    contributions.sort_by(|a, b| b.u_mass_kg.total_cmp(&a.u_mass_kg));
    Ok(Composition { body, contributions })
}
