//! The crank positions worth standing at.
//!
//! Own derivation: the ends of all arcs cut the circle into cells; inside a cell the same ways can
//! be done, so one angle stands for the cell. A cell whose ways are all possible in another cell
//! too is left out (standing there instead loses no way, though the move may be longer). What is
//! left is the middle of each largest cell, and the angle at which the engine stands now.

use crate::scheme::Window;
use std::f64::consts::TAU;

/// Most stations kept; a station is one bit of a mask.
const MOST: usize = 63;

/// Angles worth standing at, radians; the first is where the engine stands.
pub(super) fn stations(windows: &[&Window], stands_rad: f64) -> Vec<f64> {
    let mut distinct: Vec<&Window> = Vec::new();
    for w in windows {
        if !matches!(w, Window::Any) && !distinct.contains(w) {
            distinct.push(w);
        }
    }
    let mut ends_rad: Vec<f64> = distinct
        .iter()
        .flat_map(|w| match w {
            Window::Any => &[],
            Window::Arcs(arcs) => arcs.as_slice(),
        })
        .flat_map(|a| [a.from_rad.rem_euclid(TAU), a.to_rad.rem_euclid(TAU)])
        .collect();
    ends_rad.sort_by(f64::total_cmp);
    ends_rad.dedup();
    // Middles first, widest cell first: of angles that serve alike, the roomiest is kept.
    let mut cells: Vec<(f64, f64)> = (0..ends_rad.len())
        .map(|i| {
            let next_rad = ends_rad.get(i + 1).copied().unwrap_or(ends_rad[0] + TAU);
            let width_rad = next_rad - ends_rad[i];
            (width_rad, (ends_rad[i] + width_rad / 2.0).rem_euclid(TAU))
        })
        .collect();
    cells.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.total_cmp(&b.1)));
    let candidates = cells.iter().map(|c| c.1).chain(ends_rad.iter().copied());
    let serves =
        |angle_rad: f64| -> Vec<bool> { distinct.iter().map(|w| w.holds(angle_rad)).collect() };
    let mut kept: Vec<(f64, Vec<bool>)> = Vec::new();
    for angle_rad in candidates {
        let own = serves(angle_rad);
        let within = |a: &[bool], b: &[bool]| a.iter().zip(b).all(|(x, y)| !x | y);
        if !own.contains(&true) || kept.iter().any(|(_, k)| within(&own, k)) {
            continue;
        }
        kept.retain(|(_, k)| !within(k, &own));
        kept.push((angle_rad, own));
    }
    if kept.len() > MOST {
        kept = cover(kept);
    }
    let mut angles_rad = vec![stands_rad.rem_euclid(TAU)];
    let mut rest: Vec<f64> = kept.iter().map(|k| k.0).collect();
    rest.sort_by(f64::total_cmp);
    // Standing already at a kept angle: it is not listed twice.
    rest.retain(|a| (a - angles_rad[0]).abs() > 1e-6);
    angles_rad.extend(rest);
    angles_rad
}

/// The [`MOST`] stations that serve most ways not served before, greedily.
fn cover(mut from: Vec<(f64, Vec<bool>)>) -> Vec<(f64, Vec<bool>)> {
    let mut served = vec![false; from.first().map_or(0, |f| f.1.len())];
    let mut kept = Vec::new();
    while kept.len() < MOST && !from.is_empty() {
        let gain = |f: &(f64, Vec<bool>)| {
            f.1.iter().zip(&served).filter(|(own, had)| **own && !**had).count()
        };
        let best = (0..from.len()).rev().max_by_key(|i| gain(&from[*i])).unwrap_or(0);
        let taken = from.swap_remove(best);
        served.iter_mut().zip(&taken.1).for_each(|(had, own)| *had |= own);
        kept.push(taken);
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn overlapping_arcs_give_their_overlap() {
        let (a, b) = (Window::about(1.0, 0.5), Window::about(1.6, 0.5));
        let s = stations(&[&a, &b], 4.0);
        assert_eq!(s.len(), 2);
        assert!((s[0] - 4.0).abs() < 1e-12 && (s[1] - 1.3).abs() < 1e-12);
    }

    #[test]
    fn arcs_apart_give_one_each_and_no_arcs_none() {
        let (a, b) = (Window::about(1.0, 0.1), Window::about(3.0, 0.1));
        assert_eq!(stations(&[&a, &b, &Window::Any], 1.0).len(), 2);
        assert_eq!(stations(&[&Window::Any], 0.3), vec![0.3]);
    }
}
