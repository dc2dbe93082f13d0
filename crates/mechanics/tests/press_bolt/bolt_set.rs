//! Which bolt belongs in which hole.

use mechanics::bolt::{MatchInput, match_bolts};
use mechanics::fits::Band;

/// A set of six, each bolt made to its own hole with 8 µm, sizes some tens of µm apart.
fn set() -> MatchInput {
    let holes: Vec<Vec<f64>> = [(0, 3), (40, 10), (85, 60), (120, 90), (30, 140), (70, 170)]
        .iter()
        .map(|&(a, b)| vec![0.0452 + f64::from(a) * 1e-6, 0.0450 + f64::from(b) * 1e-6])
        .collect();
    let bolts = holes.iter().map(|h| h.iter().map(|d| d + 8e-6).collect()).collect();
    MatchInput {
        bolts_m: bolts,
        holes_m: holes,
        interference: vec![Band { min_m: 2e-6, max_m: 14e-6 }; 2],
        u_m: 1.5e-6,
        tagged: Some((0..6).collect()),
    }
}

#[test]
fn bolts_find_their_own_holes_again() {
    let mut input = set();
    let good = match_bolts(&input).unwrap();
    assert!(good.matches.iter().enumerate().all(|(i, m)| m.hole == Some(i) && m.fits));
    assert!(good.swapped.is_empty() && good.doubtful.is_empty());
    assert!(good.matches.iter().all(|m| m.margin.unwrap() > 10.0));
    // Stamps of 1 and 4 changed over, and of 0, 2 and 5 moved round.
    input.tagged = Some(vec![2, 4, 5, 3, 1, 0]);
    let found = match_bolts(&input).unwrap();
    let mut rings: Vec<Vec<usize>> = found.swapped.clone();
    rings.iter_mut().for_each(|r| r.sort_unstable());
    rings.sort();
    assert_eq!(rings, [vec![0, 2, 5], vec![1, 4]]);
    // Each belongs in the hole that the next of its ring is tagged for.
    let tagged = input.tagged.as_ref().unwrap();
    for ring in &found.swapped {
        for (i, &bolt) in ring.iter().enumerate() {
            let next = ring[(i + 1) % ring.len()];
            assert_eq!(found.matches[bolt].hole, Some(tagged[next]));
        }
    }
}

/// Two holes 1 µm apart, read to 1.5 µm: which bolt is whose cannot be told, and is said so.
#[test]
fn what_the_readings_cannot_tell_is_called_doubtful() {
    let mut input = set();
    input.holes_m[1] = input.holes_m[0].iter().map(|d| d + 1e-6).collect();
    input.bolts_m[1] = input.bolts_m[0].iter().map(|d| d + 1e-6).collect();
    input.tagged = Some(vec![1, 0, 2, 3, 4, 5]);
    let found = match_bolts(&input).unwrap();
    assert!(found.swapped.is_empty());
    assert_eq!(found.doubtful, [0, 1]);
    assert!(found.matches[0].margin.unwrap() < 10.0);
}

#[test]
fn uneven_sets_and_bad_sets() {
    // A hole without its bolt, and a bolt too many.
    let mut input = set();
    input.tagged = None;
    input.bolts_m.remove(2);
    let found = match_bolts(&input).unwrap();
    let holes: Vec<_> = found.matches.iter().map(|m| m.hole.unwrap()).collect();
    assert_eq!(holes, [0, 1, 3, 4, 5]);
    let mut input = set();
    input.tagged = None;
    input.holes_m.remove(0);
    let found = match_bolts(&input).unwrap();
    assert_eq!(found.matches[0].hole, None);
    assert_eq!(found.matches[5].hole, Some(4));
    let one = MatchInput {
        bolts_m: vec![vec![0.045]],
        holes_m: vec![vec![0.045]],
        interference: vec![Band { min_m: -1e-6, max_m: 1e-6 }],
        u_m: 1e-6,
        tagged: None,
    };
    assert_eq!(match_bolts(&one).unwrap().matches[0].margin, None);
    assert!(match_bolts(&MatchInput { u_m: 0.0, ..one.clone() }).is_err());
    assert!(match_bolts(&MatchInput { holes_m: vec![], ..one.clone() }).is_err());
    assert!(match_bolts(&MatchInput { holes_m: vec![vec![0.04, 0.04]], ..one.clone() }).is_err());
    assert!(match_bolts(&MatchInput { tagged: Some(vec![3]), ..one.clone() }).is_err());
    assert!(match_bolts(&MatchInput { bolts_m: vec![vec![0.04]; 65], ..one }).is_err());
}
