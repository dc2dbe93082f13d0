//! The largest true journal, or smallest true bore, that two-point readings leave room for.

use super::readings::{Grouped, SurfaceKind};
use super::station::StationForm;
use crate::metrology::Weighted;

/// The clean-up size as far as two-point diameters can say it.
///
/// A true cylinder that lies wholly inside a journal is no wider in any direction than the
/// journal is there, wherever its axis lies. So the smallest diameter read at any station and
/// direction is an upper bound on the clean-up size, whatever the shape (for a bore: the largest
/// is a lower bound). Whether the bound can be reached depends on what diameters do not show:
/// centres of the stations on one straight line, no odd lobes, no smaller diameter between the
/// directions read. Own derivation; the width argument is that of bodies of constant width. It
/// takes a journal's reading as its width between flat parallel anvils: pointed anvils set off
/// centre read short, which leaves the bound on the careful side.
#[derive(Debug, Clone, PartialEq)]
pub struct CleanUp {
    /// The bound proved by the readings, m: a journal cleans up at this or smaller, a bore at
    /// this or larger.
    pub bound: Weighted,
    /// Index of the reading that sets the bound.
    pub set_by: usize,
    /// The bound with the fitted second harmonic of each station looked at between the
    /// directions read, m; never on the kinder side of [`bound`](Self::bound). `None` if no
    /// station has three directions.
    pub between_directions: Option<Weighted>,
}

pub(super) fn clean_up(
    kind: SurfaceKind,
    grouped: &Grouped,
    stations: &[StationForm],
    picked: (usize, usize),
) -> CleanUp {
    let (largest, smallest) = picked;
    let set_by = match kind {
        SurfaceKind::Journal => smallest,
        SurfaceKind::Bore => largest,
    };
    let mut weights = vec![0.0; grouped.sizes.len()];
    weights[set_by] = 1.0;
    let bound = Weighted { value: grouped.sizes[set_by], weights };
    let worst = stations
        .iter()
        .filter_map(|s| s.harmonic_ovality.as_ref().ok())
        .map(|h| match kind {
            SurfaceKind::Journal => &h.smallest,
            SurfaceKind::Bore => &h.largest,
        })
        .min_by(|a, b| match kind {
            SurfaceKind::Journal => a.value.total_cmp(&b.value),
            SurfaceKind::Bore => b.value.total_cmp(&a.value),
        });
    let between_directions = worst.map(|harmonic| {
        let tighter = match kind {
            SurfaceKind::Journal => harmonic.value < bound.value,
            SurfaceKind::Bore => harmonic.value > bound.value,
        };
        if tighter { harmonic.clone() } else { bound.clone() }
    });
    CleanUp { bound, set_by, between_directions }
}
