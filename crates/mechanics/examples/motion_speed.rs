//! Times a revolution with loads for plain numbers read from the input, beside the peer in
//! `checks/bench_motion.py`, which writes the input and compares the answers.
//!
//! ```text
//! cylinder R L INCLINE OFFSET LAG FRONT_M2 BACK_M2 SET_KG ROD_KG CENTRE INERTIA FRICTION
//! front SHARE PRESSURE ...      (diagram of the cylinder above, front end)
//! back SHARE PRESSURE ...       (back end)
//! run SPEED ACCEL STEPS REPEATS
//! ```
//!
//! Answers: `seconds`, the median of one revolution with fresh memory; `repeated`, the same in
//! room kept from the run before; then `moment`, the whole turning moment of
//! every tenth step; then the sums of the other loads, one `cylinder` line each.

use mechanics::loads::*;
use mechanics::motion::*;
use std::error::Error;
use std::hint::black_box;
use std::io::Read;
use std::time::Instant;

struct Case {
    line: CylinderLine,
    load: [f64; 7],
    ends: [Vec<DiagramPoint>; 2],
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut text = String::new();
    std::io::stdin().read_to_string(&mut text)?;
    let mut cases: Vec<Case> = Vec::new();
    let mut run = None;
    for line in text.lines() {
        let (word, rest) = line.split_once(' ').ok_or("a word and numbers are wanted")?;
        let v = rest.split_whitespace().map(str::parse).collect::<Result<Vec<f64>, _>>()?;
        let points =
            || v.chunks_exact(2).map(|p| DiagramPoint { share: p[0], pressure_pa: p[1] }).collect();
        match (word, cases.last_mut()) {
            ("cylinder", _) if v.len() == 12 => cases.push(Case {
                line: CylinderLine {
                    place: Place::Middle,
                    lateral_m: 0.0,
                    crank_throw_m: v[0],
                    rod_centres_m: v[1],
                    incline_rad: v[2],
                    offset_m: v[3],
                    crank_lag_rad: v[4],
                },
                load: [v[5], v[6], v[7], v[8], v[9], v[10], v[11]],
                ends: [Vec::new(), Vec::new()],
            }),
            ("front", Some(case)) => case.ends[0] = points(),
            ("back", Some(case)) => case.ends[1] = points(),
            ("run", _) if v.len() == 4 => run = Some((v[0], v[1], v[2] as usize, v[3] as usize)),
            _ => return Err(format!("not understood: {line}").into()),
        }
    }
    let (speed_rad_s, acceleration_rad_s2, steps, repeats) = run.ok_or("no run line")?;
    let lines: Vec<_> = cases.iter().map(|c| c.line).collect();
    let loads = cases.iter().map(load_of).collect::<Result<Vec<_>, _>>()?;
    let motion = Motion::new(&lines)?;
    let running = Running { acceleration_rad_s2, ..Running::steady(speed_rad_s) };

    let mut seconds: Vec<f64> = Vec::with_capacity(repeats);
    for _ in 0..repeats.max(1) {
        let start = Instant::now();
        black_box(load_revolution(black_box(&motion), &loads, &running, steps)?);
        seconds.push(start.elapsed().as_secs_f64());
    }
    println!("seconds {:e}", median(&mut seconds));
    seconds.clear();
    let mut room = RepeatedLoads::new(steps)?;
    for _ in 0..repeats.max(1) {
        let start = Instant::now();
        black_box(room.run(black_box(&motion), &loads, &running)?);
        seconds.push(start.elapsed().as_secs_f64());
    }
    println!("repeated {:e}", median(&mut seconds));
    let last = room.run(&motion, &loads, &running)?;
    let moments: Vec<String> =
        last.moment_nm.iter().step_by(10).map(|m| format!("{m:e}")).collect();
    println!("moment {}", moments.join(" "));
    for c in &last.cylinders {
        let sums = [
            &c.steam_n,
            &c.slide_bar_n,
            &c.small_end_n,
            &c.small_end_thrust_n,
            &c.pin_along_n,
            &c.pin_across_n,
            &c.moment_nm,
        ]
        .map(|v| format!("{:e}", v.iter().sum::<f64>()));
        println!("cylinder {}", sums.join(" "));
    }
    Ok(())
}

fn median(seconds: &mut [f64]) -> f64 {
    seconds.sort_by(f64::total_cmp);
    seconds[seconds.len() / 2]
}

fn load_of(case: &Case) -> Result<CylinderLoad, LoadError> {
    let [front_m2, back_m2, piston_set_kg, mass_kg, centre, inertia, slide_friction] = case.load;
    Ok(CylinderLoad {
        steam: Steam::Diagrams(Box::new(EndDiagrams {
            front: IndicatorDiagram::from_loop(&case.ends[0], 1.0)?,
            back: IndicatorDiagram::from_loop(&case.ends[1], 1.0)?,
        })),
        areas: PistonAreas { front_m2, back_m2 },
        parts: MovingParts {
            piston_set_kg,
            rod: RodMass {
                mass_kg,
                centre_from_small_end_m: centre,
                inertia: RodInertia::AboutCentre(inertia),
            },
            slide_friction,
            piston_friction_n: 0.0,
            gravity_m_s2: 0.0,
        },
    })
}
