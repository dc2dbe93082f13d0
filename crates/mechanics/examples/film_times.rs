//! Solves one film cold and prints how long it took, for `checks/bench_film.py`.
//!
//! `film_times LENGTH_OVER_DIAMETER ECCENTRICITY TILT AROUND ACROSS REPEATS [FIELD_FILE]`
//!
//! Every repeat starts from nothing (new solver, new memory). With a file name the pressures
//! are written there, one line a node around, places across parted by blanks.

use std::fmt::Write as _;
use std::time::Instant;

use mechanics::bearing::film::{Arc, FilmOptions, FilmProblem, FilmSolver};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [length_over_diameter, eccentricity, tilt, around, across, repeats, file @ ..] =
        words.as_slice()
    else {
        return Err("six words are wanted, see the head of this example".into());
    };
    let problem = FilmProblem {
        length_over_diameter: length_over_diameter.parse()?,
        eccentricity_ratio: eccentricity.parse()?,
        tilt_ratio: tilt.parse()?,
        arc: Arc::FullRing,
        thinnest_from_start_rad: 0.0,
    };
    let options =
        FilmOptions { around: around.parse()?, across: across.parse()?, ..FilmOptions::default() };
    let mut best_s = f64::INFINITY;
    let mut last = None;
    for _ in 0..repeats.parse::<usize>()?.max(1) {
        let start = Instant::now();
        let mut solver = FilmSolver::new(options)?;
        let numbers = solver.numbers(&problem)?;
        best_s = best_s.min(start.elapsed().as_secs_f64());
        last = Some((numbers, solver));
    }
    let Some((numbers, solver)) = last else { return Err("nothing was solved".into()) };
    println!(
        "seconds {best_s:.6e} residual {:.3e} passes {} film_nodes {} sommerfeld {:.10e} \
         attitude_deg {:.8}",
        numbers.convergence.residual,
        numbers.convergence.passes,
        numbers.convergence.unknowns,
        numbers.sommerfeld,
        numbers.attitude_rad.to_degrees()
    );
    if let [path, ..] = file {
        let field = solver.field();
        let mut text = String::new();
        for line in field.pressure.chunks(field.across.len()) {
            for value in line {
                write!(text, "{value:.17e} ")?;
            }
            text.push('\n');
        }
        std::fs::write(path, text)?;
    }
    Ok(())
}
