//! Answers metrology and stack questions on standard input, one a line, in plain numbers, so that
//! other programs can check them.
//!
//! A question is a word and numbers: `fit_circle 1 7 2 6 5 8 …`. The answer is one JSON array of
//! numbers, `null` for a result that is not to be had, or a JSON string with the reason.
//!
//! | question | numbers | answer |
//! | --- | --- | --- |
//! | `fit_circle`, `kasa`, `taubin` | x y … | x, y, radius |
//! | `zone_circle`, `inscribed`, `circumscribed` | x y … | x, y, radius, zone |
//! | `traverse` | angle radial … | x, y, radial, roundness of the four circles in turn |
//! | `line`, `line_origin` | x y … | intercept, slope, their s.e., residual sd, p of the slope |
//! | `line_orthogonal` | x y … | mean x, mean y, angle, rms distance |
//! | `coverage` | probability dof (0 for infinite) | coverage factor |
//! | `form` | stations, places …, then station direction diameter … | mean, size, taper, crown |
//! | `cylinder` | stations, places …, then station angle radial … | least-squares diameter, its cylindricity, minimum-zone cylindricity, clean-up diameter |
//! | `ovality` | direction diameter … | ovality, direction of the largest, mean |
//! | `drift` | time station direction reading … | slope, its s.e., t, degrees of freedom, p |
//! | `chain` | draws seed threads, then factor centre kind a b c … | mean, sd, 2.5 % and 97.5 % quantiles, shortest 95 %, seconds |
//!
//! Kinds of scatter: 0 normal (sd), 1 rectangular, 2 triangular, 3 U-shaped (half width),
//! 4 truncated normal (sd, low, high), 5 Student (scale, dof), 6 inexact rectangular (half width,
//! inexactness). Unused figures are 0.

use std::io::{BufRead, Write};
use std::num::NonZeroUsize;
use std::time::Instant;

use mechanics::metrology::budget::{Dof, coverage_factor};
use mechanics::metrology::circle::{
    Circle, DialReading, Point, fit_circle, kasa_1976, largest_inscribed_circle,
    minimum_zone_circle, roundness, smallest_circumscribed_circle, taubin_1991,
};
use mechanics::metrology::form::{
    DiameterReading, RadialReading, SurfaceKind, TraversedStations, cylinder_form,
    traversed_cylinder,
};
use mechanics::metrology::line::{LineFit, fit_line, fit_line_orthogonal, fit_line_through_origin};
use mechanics::metrology::suspect::{DriftReading, drift};
use mechanics::stack::{Chain, Simulation, Spread, Term, simulate_chain};

type Answer = Result<Vec<Option<f64>>, String>;

fn main() -> std::io::Result<()> {
    let mut out = std::io::stdout().lock();
    for line in std::io::stdin().lock().lines() {
        let line = line?;
        let mut words = line.split_whitespace();
        let Some(question) = words.next() else { continue };
        let numbers: Result<Vec<f64>, _> = words.map(str::parse).collect();
        let answer = numbers.map_err(|e| e.to_string()).and_then(|n| answer(question, &n));
        match answer {
            Ok(list) => {
                let list: Vec<String> = list
                    .iter()
                    .map(|v| match v {
                        Some(v) if v.is_finite() => format!("{v:e}"),
                        _ => "null".to_string(),
                    })
                    .collect();
                writeln!(out, "[{}]", list.join(", "))?;
            }
            Err(reason) => writeln!(out, "{:?}", reason)?,
        }
        out.flush()?;
    }
    Ok(())
}

fn answer(question: &str, n: &[f64]) -> Answer {
    let text = |e: &dyn std::fmt::Display| e.to_string();
    let circle = |c: Circle| all(&[c.x_m, c.y_m, c.radius_m]);
    match question {
        "fit_circle" => fit_circle(&points(n)).map_err(|e| text(&e)).and_then(|f| circle(f.circle)),
        "kasa" => kasa_1976(&points(n)).map_err(|e| text(&e)).and_then(circle),
        "taubin" => taubin_1991(&points(n)).map_err(|e| text(&e)).and_then(circle),
        "zone_circle" | "inscribed" => {
            let found = if question == "zone_circle" {
                minimum_zone_circle(&points(n))
            } else {
                largest_inscribed_circle(&points(n))
            };
            let z = found.map_err(|e| text(&e))?;
            all(&[z.circle.x_m, z.circle.y_m, z.circle.radius_m, z.zone_m])
        }
        "circumscribed" => {
            let c = smallest_circumscribed_circle(&points(n)).map_err(|e| text(&e))?;
            all(&[c.x_m, c.y_m, c.radius_m, c.zone_m(&points(n))])
        }
        "traverse" => traverse(n),
        "line" | "line_origin" => {
            let (x, y) = pairs(n);
            let fit =
                if question == "line" { fit_line(&x, &y) } else { fit_line_through_origin(&x, &y) };
            let fit: LineFit = fit.map_err(|e| text(&e))?;
            let mut list =
                all(&[fit.intercept, fit.slope, fit.intercept_se, fit.slope_se, fit.residual_sd])?;
            list.push(fit.slope_p());
            Ok(list)
        }
        "line_orthogonal" => {
            let (x, y) = pairs(n);
            let l = fit_line_orthogonal(&x, &y).map_err(|e| text(&e))?;
            all(&[l.through.0, l.through.1, l.angle_rad, l.rms_distance])
        }
        "coverage" => {
            let [probability, dof] = n else { return Err("needs probability and dof".into()) };
            let dof = if *dof > 0.0 { Dof::Finite(*dof) } else { Dof::Infinite };
            coverage_factor(*probability, dof).map_err(|e| text(&e)).and_then(|k| all(&[k]))
        }
        "form" => form(n),
        "cylinder" => cylinder(n),
        "ovality" => ovality(n),
        "drift" => {
            let readings: Vec<DriftReading> = n
                .chunks_exact(4)
                .map(|c| DriftReading {
                    time_s: c[0],
                    station: c[1] as usize,
                    direction: c[2] as usize,
                    reading_m: c[3],
                })
                .collect();
            let d = drift(&readings).map_err(|e| text(&e))?;
            all(&[d.slope_m_per_s, d.standard_error, d.t, d.degrees_of_freedom as f64, d.p])
        }
        "chain" => chain(n),
        _ => Err(format!("no such question: {question}")),
    }
}

fn all(values: &[f64]) -> Answer {
    Ok(values.iter().copied().map(Some).collect())
}

fn points(n: &[f64]) -> Vec<Point> {
    n.chunks_exact(2).map(|p| Point { x_m: p[0], y_m: p[1] }).collect()
}

fn pairs(n: &[f64]) -> (Vec<f64>, Vec<f64>) {
    n.chunks_exact(2).map(|p| (p[0], p[1])).unzip()
}

fn traverse(n: &[f64]) -> Answer {
    let readings: Vec<DialReading> =
        n.chunks_exact(2).map(|p| DialReading { angle_rad: p[0], radial_m: p[1] }).collect();
    let found = roundness(&readings).map_err(|e| e.to_string())?;
    let circles = [
        found.least_squares,
        found.minimum_zone,
        found.largest_inscribed,
        found.smallest_circumscribed,
    ];
    Ok(circles
        .iter()
        .flat_map(|c| match c {
            Ok(c) => [c.x_m, c.y_m, c.radial_m, c.roundness_m].map(Some),
            Err(_) => [None; 4],
        })
        .collect())
}

/// Count of stations, their places, and the rest in threes.
fn table(n: &[f64]) -> Result<(Vec<f64>, Vec<[f64; 3]>), String> {
    let (count, rest) = n.split_first().ok_or("needs the number of stations")?;
    let (places, cells) =
        rest.split_at_checked(*count as usize).ok_or("fewer places than stations")?;
    Ok((places.to_vec(), cells.chunks_exact(3).map(|c| [c[0], c[1], c[2]]).collect()))
}

fn form(n: &[f64]) -> Answer {
    let (stations, cells) = table(n)?;
    let readings: Vec<DiameterReading> = cells
        .iter()
        .map(|c| DiameterReading {
            station: c[0] as usize,
            direction_rad: Some(c[1]),
            diameter_m: c[2],
        })
        .collect();
    let form =
        cylinder_form(SurfaceKind::Journal, &stations, &readings).map_err(|e| e.to_string())?;
    Ok(vec![
        Some(form.mean_size.value),
        form.least_squares_size.ok().map(|w| w.value),
        form.taper.ok().map(|w| w.value),
        form.crown.ok().map(|w| w.value),
    ])
}

fn ovality(n: &[f64]) -> Answer {
    let readings: Vec<DiameterReading> = n
        .chunks_exact(2)
        .map(|c| DiameterReading { station: 0, direction_rad: Some(c[0]), diameter_m: c[1] })
        .collect();
    let form = cylinder_form(SurfaceKind::Journal, &[0.0], &readings).map_err(|e| e.to_string())?;
    let harmonic = form.stations[0].harmonic_ovality.as_ref().map_err(|e| e.to_string())?;
    all(&[harmonic.ovality.value, harmonic.largest_at_rad, harmonic.mean.value])
}

fn cylinder(n: &[f64]) -> Answer {
    let (stations, cells) = table(n)?;
    let readings: Vec<RadialReading> = cells
        .iter()
        .map(|c| RadialReading { station: c[0] as usize, angle_rad: c[1], radial_m: c[2] })
        .collect();
    let found = traversed_cylinder(&TraversedStations {
        kind: SurfaceKind::Journal,
        base_radius_m: 0.1,
        stations_m: &stations,
        readings: &readings,
    })
    .map_err(|e| e.to_string())?;
    Ok(vec![
        Some(found.least_squares.diameter_m),
        Some(found.least_squares.cylindricity_m),
        found.minimum_zone.ok().map(|c| c.cylindricity_m),
        found.clean_up.ok().map(|c| c.diameter_m),
    ])
}

fn chain(n: &[f64]) -> Answer {
    let ([draws, seed, threads], rest) =
        n.split_first_chunk::<3>().ok_or("needs draws, seed and threads")?;
    let terms = rest
        .chunks_exact(6)
        .map(|t| {
            let spread = match t[2] as u8 {
                0 => Spread::Normal { sd: t[3] },
                1 => Spread::Rectangular { half_width: t[3] },
                2 => Spread::Triangular { half_width: t[3] },
                3 => Spread::UShaped { half_width: t[3] },
                4 => Spread::TruncatedNormal { sd: t[3], low: t[4], high: t[5] },
                5 => Spread::Student { scale: t[3], degrees_of_freedom: t[4] },
                6 => Spread::InexactRectangular { half_width: t[3], inexact_by: t[4] },
                other => return Err(format!("no scatter of kind {other}")),
            };
            Ok(Term { factor: t[0], centre: t[1], spread, limits: None })
        })
        .collect::<Result<Vec<_>, _>>()?;
    let simulation = Simulation {
        threads: NonZeroUsize::new(*threads as usize).ok_or("needs a thread")?,
        ..Simulation::new(*draws as u64, *seed as u64)
    };
    let chain = Chain { constant: 0.0, terms };
    let start = Instant::now();
    let outcome = simulate_chain(&chain, &simulation).map_err(|e| e.to_string())?;
    let low = outcome.quantile(0.025).map_err(|e| e.to_string())?.value;
    let high = outcome.quantile(0.975).map_err(|e| e.to_string())?.value;
    let seconds = start.elapsed().as_secs_f64();
    let shortest = outcome.shortest_interval(0.95).map_err(|e| e.to_string())?;
    all(&[
        outcome.mean,
        outcome.standard_deviation,
        low,
        high,
        shortest.low,
        shortest.high,
        seconds,
    ])
}
