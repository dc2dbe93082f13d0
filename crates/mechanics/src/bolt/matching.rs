//! Which bolt belongs in which hole.

use super::BoltError;
use super::error::need;
use crate::fits::Band;

/// Measured bolts and holes of a set.
#[derive(Debug, Clone, PartialEq)]
pub struct MatchInput {
    /// Per bolt, the diameter of its land in each member (m), head side first.
    pub bolts_m: Vec<Vec<f64>>,
    /// Per hole, its size in each member (m), head side first.
    pub holes_m: Vec<Vec<f64>>,
    /// Interference wanted in each member (m).
    pub interference: Vec<Band>,
    /// Standard uncertainty of one interference (m).
    pub u_m: f64,
    /// Where the tags or stamps say each bolt belongs: an index into the holes; `None` when the
    /// bolts carry no marks.
    pub tagged: Option<Vec<usize>>,
}

/// One bolt in its best hole.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltMatch {
    /// The bolt.
    pub bolt: usize,
    /// The hole it fits best in the set; `None` when there are more bolts than holes.
    pub hole: Option<usize>,
    /// Interference in each member there (m).
    pub interference_m: Vec<f64>,
    /// Whether all members lie within the wanted band by 1.645 standard uncertainties.
    pub fits: bool,
    /// How much worse the set would be if this bolt had to go elsewhere, in squares of standard
    /// uncertainties: under about 10 the readings do not tell. `None` with nowhere else to go.
    pub margin: Option<f64>,
}

/// The matching of a set.
#[derive(Debug, Clone, PartialEq)]
pub struct Matching {
    /// Every bolt with its hole.
    pub matches: Vec<BoltMatch>,
    /// Cost of the whole set (squares of standard uncertainties).
    pub cost: f64,
    /// Groups of bolts that have likely changed places against their tags: each belongs in the
    /// hole that the next is tagged for, and so on round. Only groups whose change the readings
    /// can tell.
    pub swapped: Vec<Vec<usize>>,
    /// Bolts whose tag differs from the best place, where the readings cannot tell.
    pub doubtful: Vec<usize>,
}

/// A gain below this many squares of standard uncertainty is not told from chance: it is a
/// likelihood ratio of e^5, about 150 to 1.
const TELLING: f64 = 10.0;

/// The best assignment of bolts to holes, and those likely swapped.
///
/// A bolt was made to its hole, so its interference in each member should lie at the middle of
/// the wanted band; what is left scatters by the making tolerance (a quarter of the band's width
/// as a standard deviation) and the reading. Cost of a pair: `sum of (i - middle)^2/s^2`,
/// `s^2 = u^2 + (width/4)^2`, twice the negative log-likelihood of a normal error. The sum over
/// the set is made least by the Hungarian method (Kuhn 1955, Munkres 1957; shortest augmenting
/// paths with potentials), exact, `n^3`. Each bolt's margin is the rise of the least sum when its
/// pair is forbidden. Against the tags, the permutation is taken apart into rings; a ring that
/// gains more than 10 is reported as swapped.
///
/// Valid range: 1 to 64 bolts and holes; numbers may differ. Worked value: costs
/// `[[4,1,3],[2,0,5],[3,2,2]]` -> 5 (SciPy's example of `linear_sum_assignment`).
///
/// # Errors
/// [`BoltError::TooFew`], [`BoltError::TooMany`], [`BoltError::Unequal`],
/// [`BoltError::BadNumber`].
pub fn match_bolts(input: &MatchInput) -> Result<Matching, BoltError> {
    check(input)?;
    let (bolts, holes) = (input.bolts_m.len(), input.holes_m.len());
    let size = bolts.max(holes);
    // A square table: places beyond the real ones cost nothing, so they take what is left over.
    let mut table = vec![vec![0.0; size]; size];
    for (i, row) in table.iter_mut().enumerate().take(bolts) {
        for (j, cell) in row.iter_mut().enumerate().take(holes) {
            *cell = pair_cost(input, i, j);
        }
    }
    let best = assign(&table);
    let cost = total(&table, &best);
    let mut matches = Vec::with_capacity(bolts);
    for (bolt, &place) in best.iter().enumerate().take(bolts) {
        let hole = (place < holes).then_some(place);
        let interference_m: Vec<f64> = hole.map_or(Vec::new(), |h| {
            input.bolts_m[bolt].iter().zip(&input.holes_m[h]).map(|(b, h)| b - h).collect()
        });
        let guard = 1.645 * input.u_m;
        let fits = hole.is_some()
            && interference_m.iter().zip(&input.interference).all(|(i, band)| {
                *i >= band.min_m + guard - 1e-12 && *i <= band.max_m - guard + 1e-12
            });
        let margin = (size > 1).then(|| {
            let kept = table[bolt][place];
            table[bolt][place] = FORBIDDEN;
            let without = total(&table, &assign(&table));
            table[bolt][place] = kept;
            without - cost
        });
        // A margin as large as the forbidding itself means there is nowhere else.
        let margin = margin.filter(|m| *m < 0.5 * FORBIDDEN);
        matches.push(BoltMatch { bolt, hole, interference_m, fits, margin });
    }
    let (swapped, doubtful) = match &input.tagged {
        Some(tagged) => against_tags(&table, &best, tagged),
        None => (Vec::new(), Vec::new()),
    };
    Ok(Matching { matches, cost, swapped, doubtful })
}

const FORBIDDEN: f64 = 1e18;

fn pair_cost(input: &MatchInput, bolt: usize, hole: usize) -> f64 {
    let lands = input.bolts_m[bolt].iter().zip(&input.holes_m[hole]);
    let cost: f64 = lands
        .zip(&input.interference)
        .map(|((land, hole), band)| {
            let middle = 0.5 * (band.min_m + band.max_m);
            let spread = (0.25 * (band.max_m - band.min_m)).hypot(input.u_m);
            ((land - hole - middle) / spread).powi(2)
        })
        .sum();
    // Bolts of quite another size must not swamp the forbidding.
    cost.min(1e12)
}

fn total(table: &[Vec<f64>], places: &[usize]) -> f64 {
    places.iter().enumerate().map(|(i, &j)| table[i][j]).sum()
}

/// Rings of the permutation from tagged to best place.
fn against_tags(
    table: &[Vec<f64>],
    best: &[usize],
    tagged: &[usize],
) -> (Vec<Vec<usize>>, Vec<usize>) {
    let (mut swapped, mut doubtful) = (Vec::new(), Vec::new());
    let mut seen = vec![false; tagged.len()];
    for start in 0..tagged.len() {
        if seen[start] || best[start] == tagged[start] {
            continue;
        }
        // Follow: the bolt tagged for the place that this bolt really belongs in.
        let mut ring = vec![start];
        seen[start] = true;
        let mut at = start;
        while let Some(next) = tagged.iter().position(|&t| t == best[at]).filter(|&n| !seen[n]) {
            seen[next] = true;
            ring.push(next);
            at = next;
        }
        let gain: f64 = ring.iter().map(|&b| table[b][tagged[b]] - table[b][best[b]]).sum();
        if gain > TELLING {
            swapped.push(ring);
        } else {
            doubtful.extend(ring);
        }
    }
    doubtful.sort_unstable();
    (swapped, doubtful)
}

/// Least-cost assignment of a square table: row to column. Shortest augmenting paths with row
/// and column potentials, one row at a time.
pub(super) fn assign(table: &[Vec<f64>]) -> Vec<usize> {
    let n = table.len();
    // Index 0 is a stand-in column; rows and columns count from 1.
    let mut row_potential = vec![0.0; n + 1];
    let mut column_potential = vec![0.0; n + 1];
    let mut row_of = vec![0usize; n + 1];
    for row in 1..=n {
        row_of[0] = row;
        let mut column = 0;
        let mut least = vec![f64::INFINITY; n + 1];
        let mut from = vec![0usize; n + 1];
        let mut done = vec![false; n + 1];
        while row_of[column] != 0 {
            done[column] = true;
            let at = row_of[column];
            let (mut step, mut next) = (f64::INFINITY, 0);
            for c in 1..=n {
                if done[c] {
                    continue;
                }
                let reduced = table[at - 1][c - 1] - row_potential[at] - column_potential[c];
                if reduced < least[c] {
                    least[c] = reduced;
                    from[c] = column;
                }
                if least[c] < step {
                    step = least[c];
                    next = c;
                }
            }
            for c in 0..=n {
                if done[c] {
                    row_potential[row_of[c]] += step;
                    column_potential[c] -= step;
                } else {
                    least[c] -= step;
                }
            }
            column = next;
        }
        while column != 0 {
            let before = from[column];
            row_of[column] = row_of[before];
            column = before;
        }
    }
    let mut places = vec![0; n];
    for (column, &row) in row_of.iter().enumerate().skip(1) {
        places[row - 1] = column - 1;
    }
    places
}

fn check(input: &MatchInput) -> Result<(), BoltError> {
    for (what, given) in [("bolts", input.bolts_m.len()), ("holes", input.holes_m.len())] {
        if given == 0 {
            return Err(BoltError::TooFew { what, given, least: 1 });
        }
        if given > 64 {
            return Err(BoltError::TooMany { what, given, most: 64 });
        }
    }
    let expected = input.interference.len();
    if expected == 0 {
        return Err(BoltError::TooFew { what: "members", given: 0, least: 1 });
    }
    for sizes in input.bolts_m.iter().chain(&input.holes_m) {
        let given = sizes.len();
        if given != expected {
            return Err(BoltError::Unequal { what: "sizes of a bolt or hole", given, expected });
        }
        for &size in sizes {
            need("size", size, "m", size > 0.0, "above 0")?;
        }
    }
    need("uncertainty", input.u_m, "m", input.u_m > 0.0, "above 0")?;
    for band in &input.interference {
        need("least interference", band.min_m, "m", true, "a number")?;
        need(
            "most interference",
            band.max_m,
            "m",
            band.max_m >= band.min_m,
            "not below the least",
        )?;
    }
    if let Some(tagged) = &input.tagged {
        let (given, expected) = (tagged.len(), input.bolts_m.len());
        if given != expected {
            return Err(BoltError::Unequal { what: "tags", given, expected });
        }
        let mut seen = vec![false; input.holes_m.len()];
        for &hole in tagged {
            let free = seen.get(hole).is_some_and(|taken| !taken);
            need(
                "tag",
                hole as f64,
                "-",
                free,
                "a hole of the set that no other bolt is tagged for",
            )?;
            seen[hole] = true;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::assign;

    fn least_by_trying_all(table: &[Vec<f64>]) -> f64 {
        fn go(table: &[Vec<f64>], row: usize, taken: &mut Vec<bool>) -> f64 {
            if row == table.len() {
                return 0.0;
            }
            let mut best = f64::INFINITY;
            for column in 0..table.len() {
                if !taken[column] {
                    taken[column] = true;
                    best = best.min(table[row][column] + go(table, row + 1, taken));
                    taken[column] = false;
                }
            }
            best
        }
        go(table, 0, &mut vec![false; table.len()])
    }

    fn cost(table: &[Vec<f64>]) -> f64 {
        let places = assign(table);
        let mut seen = places.clone();
        seen.sort_unstable();
        assert_eq!(seen, (0..table.len()).collect::<Vec<_>>(), "not a permutation");
        places.iter().enumerate().map(|(i, &j)| table[i][j]).sum()
    }

    /// The example of SciPy's linear_sum_assignment (from memory): 5, columns 1, 0, 2.
    #[test]
    fn scipy_example() {
        let table = vec![vec![4.0, 1.0, 3.0], vec![2.0, 0.0, 5.0], vec![3.0, 2.0, 2.0]];
        assert_eq!(assign(&table), [1, 0, 2]);
        assert_eq!(cost(&table), 5.0);
    }

    #[test]
    fn least_of_all_permutations() {
        // A small congruential sequence stands in for chance.
        let mut state = 12345u64;
        let mut next = || {
            state = state.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
            (state >> 40) as f64 / f64::from(1 << 24)
        };
        for n in 1..=7 {
            for _ in 0..20 {
                let table: Vec<Vec<f64>> =
                    (0..n).map(|_| (0..n).map(|_| (next() * 10.0).floor()).collect()).collect();
                assert_eq!(cost(&table), least_by_trying_all(&table), "{table:?}");
            }
        }
    }
}
