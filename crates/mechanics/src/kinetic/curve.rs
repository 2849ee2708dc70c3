//! A loading law made ready for reckoning: force, slope and energy by stretch in metres, piece by piece.

use super::law::{Law, MOST_POINTS};

/// One straight piece of a measured law.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Piece {
    /// Stretch at its start, m.
    e: f64,
    /// Force at its start, N.
    f: f64,
    /// Slope, N/m.
    k: f64,
    /// Energy up to its start, J.
    w: f64,
}

// Its straight pieces lie in it and not behind a pointer: nothing is allocated in a pull.
#[allow(clippy::large_enum_variant)]
/// A law in metres and newtons. A `piece` is the number of the straight piece of a measured law; others have one, number zero.
#[derive(Clone, Copy, Debug)]
pub(super) enum Curve {
    /// `T = a e + b e² + c e³`.
    Cubic { a: f64, b: f64, c: f64, ends: f64 },
    /// `T = f (e / at)^p`.
    Power { f: f64, at: f64, p: f64 },
    /// Straight pieces.
    Pieces { piece: [Piece; MOST_POINTS], len: usize, ends: f64 },
}

/// x^p for x ≥ 0; a product where p is two.
pub(super) fn power(x: f64, p: f64) -> f64 {
    if p == 2.0 {
        x * x
    } else if p == 1.0 {
        x
    } else {
        libm::pow(x, p)
    }
}

/// The sum of three coefficients.
pub(super) fn sum_of(c: &[f64; 3]) -> f64 {
    c.iter().sum()
}

impl Curve {
    /// From a law that was checked.
    pub(super) fn new(length: f64, law: &Law) -> Self {
        match law {
            Law::Linear { ea } => Self::Cubic { a: ea.as_n() / length, b: 0.0, c: 0.0, ends: f64::INFINITY },
            Law::Power { strength, strain, exponent } => {
                Self::Power { f: strength.as_n(), at: length * strain, p: *exponent }
            }
            Law::Polynomial { strength, strain, c: [c1, c2, c3] } => {
                let (s, a) = (strength.as_n(), length * strain);
                Self::Cubic { a: s * c1 / a, b: s * c2 / (a * a), c: s * c3 / (a * a * a), ends: a }
            }
            Law::Measured(points) => {
                let mut piece = [Piece::default(); MOST_POINTS];
                let (mut start, mut len, mut ends) = (Piece::default(), 0, 0.0);
                for (slot, (strain, f)) in piece.iter_mut().zip(points.iter()) {
                    let e = strain * length;
                    start.k = (f - start.f) / (e - start.e);
                    *slot = start;
                    let w = start.w + 0.5 * (start.f + f) * (e - start.e);
                    start = Piece { e, f, k: 0.0, w };
                    len += 1;
                    ends = e;
                }
                Self::Pieces { piece, len, ends }
            }
        }
    }
    /// Stretch up to which the law is meant to hold.
    pub(super) fn ends(&self) -> f64 {
        match self {
            Self::Cubic { ends, .. } | Self::Pieces { ends, .. } => *ends,
            Self::Power { at, .. } => *at,
        }
    }
    fn piece(&self, i: usize) -> Piece {
        match self {
            Self::Pieces { piece, .. } => piece.get(i).copied().unwrap_or_default(),
            Self::Cubic { .. } | Self::Power { .. } => Piece::default(),
        }
    }
    /// The piece that holds a stretch.
    pub(super) fn piece_at(&self, e: f64) -> usize {
        match self {
            Self::Pieces { piece, len, .. } => piece.iter().take(*len).skip(1).filter(|p| p.e <= e).count(),
            Self::Cubic { .. } | Self::Power { .. } => 0,
        }
    }
    /// Where a piece starts and ends; open at both ends of the law.
    pub(super) fn span(&self, i: usize) -> (f64, f64) {
        match self {
            Self::Pieces { piece, len, .. } => {
                let low = if i == 0 { f64::NEG_INFINITY } else { piece.get(i).map_or(f64::NEG_INFINITY, |p| p.e) };
                let high = if i + 1 < *len { piece.get(i + 1).map_or(f64::INFINITY, |p| p.e) } else { f64::INFINITY };
                (low, high)
            }
            Self::Cubic { .. } | Self::Power { .. } => (f64::NEG_INFINITY, f64::INFINITY),
        }
    }
    /// Force, N, on a piece; its line is drawn on beyond it.
    #[inline]
    pub(super) fn force(&self, piece: usize, e: f64) -> f64 {
        if e <= 0.0 {
            return 0.0;
        }
        match self {
            Self::Cubic { a, b, c, .. } => e * (a + e * (b + e * c)),
            Self::Power { f, at, p } => f * power(e / at, *p),
            Self::Pieces { .. } => {
                let p = self.piece(piece);
                p.f + p.k * (e - p.e)
            }
        }
    }
    /// Slope, N/m.
    #[inline]
    pub(super) fn slope(&self, piece: usize, e: f64) -> f64 {
        if e < 0.0 {
            return 0.0;
        }
        match self {
            Self::Cubic { a, b, c, .. } => a + e * (2.0 * b + 3.0 * c * e),
            Self::Power { f, at, p } => f * p / at * power(e / at, p - 1.0),
            Self::Pieces { .. } => self.piece(piece).k,
        }
    }
    /// Work to there, J.
    pub(super) fn energy(&self, piece: usize, e: f64) -> f64 {
        if e <= 0.0 {
            return 0.0;
        }
        match self {
            Self::Cubic { a, b, c, .. } => e * e * (a / 2.0 + e * (b / 3.0 + e * c / 4.0)),
            Self::Power { f, at, p } => f * at * power(e / at, p + 1.0) / (p + 1.0),
            Self::Pieces { .. } => {
                let p = self.piece(piece);
                let d = e - p.e;
                p.w + d * (p.f + 0.5 * p.k * d)
            }
        }
    }
}
