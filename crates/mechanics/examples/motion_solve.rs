//! Motion, forces, clearance and balance for plain numbers read line by line: what the
//! independent check in `checks/check_motion.py` asks.
//!
//! Every line is a word and numbers, every answer a line of numbers (or `error` and words):
//!
//! ```text
//! line R L INCLINE OFFSET FORE RISE ANGLE SPEED ACCEL
//!     -> crosshead, velocity, acceleration, rod angle, its speed and acceleration,
//!        front and back dead centre angle, their positions
//! force (as line) STEAM SET_KG ROD_KG CENTRE INERTIA FRICTION GRAVITY
//!     -> slide bar, pin along, pin across, moment, small end, thrust at small and big end
//! chain INCLINE and the 20 sizes in the order of the contributors
//!     -> front, back, then 20 derivatives of front, 20 of back
//! draw SEED ENGINES (as chain) and 20 normal spreads
//!     -> mean and standard deviation of front, of back
//! planes LEFT RIGHT and four numbers (mass, radius, lag, lateral) a mass
//!     -> left product and lag, right product and lag
//! diagram SHARE PRESSURE ...      -> mean effective pressure
//! secant LENGTH AREA GYRATION YIELD ELASTIC ECCENTRICITY FIBRE -> load
//! ```

use mechanics::balance::{Planes, RotatingMass, two_plane_balance};
use mechanics::loads::*;
use mechanics::motion::*;
use std::error::Error;
use std::io::{BufRead, Write};

fn main() -> Result<(), Box<dyn Error>> {
    let mut out = std::io::BufWriter::new(std::io::stdout().lock());
    for line in std::io::stdin().lock().lines() {
        let line = line?;
        match answer(&line) {
            Ok(numbers) => {
                let words: Vec<String> = numbers.iter().map(|n| format!("{n:e}")).collect();
                writeln!(out, "{}", words.join(" "))?;
            }
            Err(error) => writeln!(out, "error {error}")?,
        }
    }
    Ok(())
}

fn answer(line: &str) -> Result<Vec<f64>, Box<dyn Error>> {
    let (word, rest) = line.split_once(' ').ok_or("a word and numbers are wanted")?;
    let v = rest.split_whitespace().map(str::parse).collect::<Result<Vec<f64>, _>>()?;
    let want = |n: usize| {
        if v.len() == n {
            Ok(())
        } else {
            Err(format!("{word} wants {n} numbers, not {}", v.len()))
        }
    };
    match word {
        "line" => {
            want(9)?;
            kinematics(&v)
        }
        "force" => {
            want(16)?;
            forces(&v)
        }
        "chain" => {
            want(1 + Contributor::COUNT)?;
            clearance(&v)
        }
        "draw" => {
            want(3 + 2 * Contributor::COUNT)?;
            draw(&v)
        }
        "planes" => {
            let masses: Vec<_> = v[2..]
                .chunks_exact(4)
                .map(|m| RotatingMass {
                    mass_kg: m[0],
                    radius_m: m[1],
                    lag_rad: m[2],
                    lateral_m: m[3],
                })
                .collect();
            let w = two_plane_balance(&masses, Planes { left_m: v[0], right_m: v[1] })?;
            Ok(vec![
                w.left.mass_radius_kg_m,
                w.left.lag_rad,
                w.right.mass_radius_kg_m,
                w.right.lag_rad,
            ])
        }
        "diagram" => {
            let points: Vec<_> = v
                .chunks_exact(2)
                .map(|p| DiagramPoint { share: p[0], pressure_pa: p[1] })
                .collect();
            Ok(vec![IndicatorDiagram::from_loop(&points, 1.0)?.mean_effective_pa()])
        }
        "secant" => {
            want(7)?;
            let strut =
                Strut { length_m: v[0], area_m2: v[1], gyration_m: v[2], end_condition: 1.0 };
            let material = StrutMaterial { yield_pa: v[3], elastic_pa: v[4] };
            Ok(vec![secant_load_n(&strut, &material, v[5], v[6])?])
        }
        other => Err(format!("no such word: {other}").into()),
    }
}

fn motion_of(v: &[f64]) -> Result<(Motion, WheelAngle, Running), MotionError> {
    let motion = Motion::new(&[CylinderLine {
        place: Place::Middle,
        lateral_m: 0.0,
        crank_throw_m: v[0],
        rod_centres_m: v[1],
        incline_rad: v[2],
        offset_m: v[3],
        crank_lag_rad: 0.0,
    }])?;
    let running = Running {
        axle: AxleBoxes::alike(AxlePosition { fore_m: v[4], rise_m: v[5] }),
        speed_rad_s: v[7],
        acceleration_rad_s2: v[8],
    };
    Ok((motion, WheelAngle::from_rad(v[6])?, running))
}

fn kinematics(v: &[f64]) -> Result<Vec<f64>, Box<dyn Error>> {
    let (motion, wheel, running) = motion_of(v)?;
    let s = motion.cylinder_at(CylinderNo(0), wheel, &running)?;
    let ends = motion.dead_centres(CylinderNo(0), &running.axle)?;
    Ok(vec![
        s.crosshead_m,
        s.velocity_m_s,
        s.acceleration_m_s2,
        s.rod_angle_rad,
        s.rod_speed_rad_s,
        s.rod_acceleration_rad_s2,
        ends.front_crank_rad,
        ends.back_crank_rad,
        ends.front_m,
        ends.back_m,
    ])
}

fn forces(v: &[f64]) -> Result<Vec<f64>, Box<dyn Error>> {
    let (motion, wheel, running) = motion_of(v)?;
    let load = CylinderLoad {
        // One square metre on each face: the pressure is the force.
        steam: Steam::Constant { front_pa: (-v[9]).max(0.0), back_pa: v[9].max(0.0) },
        areas: PistonAreas { front_m2: 1.0, back_m2: 1.0 },
        parts: MovingParts {
            piston_set_kg: v[10],
            rod: RodMass {
                mass_kg: v[11],
                centre_from_small_end_m: v[12],
                inertia: RodInertia::AboutCentre(v[13]),
            },
            slide_friction: v[14],
            piston_friction_n: 0.0,
            gravity_m_s2: v[15],
        },
    };
    let f = forces_at(&motion, CylinderNo(0), &load, wheel, &running)?;
    Ok(vec![
        f.slide_bar_n,
        f.pin_along_n,
        f.pin_across_n,
        f.moment_nm,
        f.small_end_n,
        f.small_end_thrust_n,
        f.big_end_thrust_n,
    ])
}

fn chain_of(v: &[f64]) -> Result<ClearanceChain, MotionError> {
    let mut sizes = ChainSizes {
        incline_rad: v[0],
        cylinder_length_m: 0.0,
        front_cover_spigot_m: 0.0,
        back_cover_spigot_m: 0.0,
        front_joint_m: 0.0,
        back_joint_m: 0.0,
        piston_thickness_m: 0.0,
        cone_to_piston_m: 0.0,
        pin_to_cone_m: 0.0,
        rod_centres_m: 0.0,
        big_end_take_up_m: 0.0,
        small_end_take_up_m: 0.0,
        crank_throw_m: 0.0,
        line_offset_m: 0.0,
        axle_to_cylinder_m: 0.0,
        axle_fore_m: 0.0,
        axle_rise_m: 0.0,
        big_end_slack_m: 0.0,
        small_end_slack_m: 0.0,
        journal_slack_m: 0.0,
        horn_slack_m: 0.0,
    };
    for (c, size_m) in Contributor::ALL.into_iter().zip(&v[1..]) {
        sizes = sizes.with(c, *size_m);
    }
    ClearanceChain::new(sizes)
}

fn clearance(v: &[f64]) -> Result<Vec<f64>, Box<dyn Error>> {
    let chain = chain_of(v)?;
    let [front, back] = chain.at_dead_centres(Float::Forward)?;
    let partials = chain.partials_at_dead_centres(Float::Forward)?;
    let mut out = vec![front.front_m, back.back_m];
    for side in partials {
        out.extend(side.iter().map(|(_, d)| d));
    }
    Ok(out)
}

fn draw(v: &[f64]) -> Result<Vec<f64>, Box<dyn Error>> {
    let chain = chain_of(&v[2..3 + Contributor::COUNT])?;
    let mut spreads = Spreads::exact();
    for (c, standard_m) in Contributor::ALL.into_iter().zip(&v[3 + Contributor::COUNT..]) {
        let limit_m = 3.0 * standard_m;
        spreads.set(c, Spread::Normal { standard_m: *standard_m, limit_m });
    }
    let options = MonteCarloOptions {
        engines: v[1] as usize,
        seed: v[0] as u64,
        threads: 2,
        float: Float::Forward,
        least_front_m: 0.0,
        least_back_m: 0.0,
    };
    let mc = chain.monte_carlo(&spreads, &options)?;
    Ok(vec![mc.front.mean_m, mc.front.standard_m, mc.back.mean_m, mc.back.standard_m])
}
