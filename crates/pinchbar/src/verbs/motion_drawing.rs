//! Drawings of the motion: which pictures a verb writes, and into which file.

use super::motion::wrong;
use crate::args::Args;
use crate::failure::Failure;
use crate::failure::put;
use crate::folder::write_whole;
use drawing::motion::{DrawingError, DrawingStyle, clearance_plot, piston_plot, polar_plot};
use engine::judge::Judgement;
use engine::model::When;
use engine::motion::{Mechanism, Working, chain_of};
use mechanics::motion::WheelAngle;
use std::fmt::Write as _;
use std::path::Path;

/// Space between two pictures of one file.
const GAP: f64 = 24.0;

/// Side view of every cylinder and the end view, one below the other.
pub(super) fn position(
    args: &Args,
    judgement: &Judgement,
    mechanism: &Mechanism,
    wheel: WheelAngle,
    file: &Path,
) -> Result<(), Failure> {
    let pictures =
        paper::motion_pictures(judgement, mechanism, wheel).map_err(|e| Failure::wrong(e, ""))?;
    write(args, &pictures, file, "rod ends, webs, wheels and crosshead in the usual proportion")
}

/// Clearance round the dead centres of every cylinder.
pub(super) fn clearances(args: &Args, judgement: &Judgement, file: &Path) -> Result<(), Failure> {
    let mut pictures = Vec::new();
    for (at, c) in judgement.engine().motion.cylinders.iter().enumerate() {
        let chain = chain_of(judgement, at).map_err(wrong)?.chain;
        let least = c
            .front_limits
            .iter()
            .chain(&c.back_limits)
            .filter(|l| l.when == When::Service)
            .filter_map(engine::model::Limit::min_si)
            .reduce(f64::max);
        pictures.push(clearance_plot(&chain, least, &DrawingStyle::default()).map_err(undrawn)?);
    }
    write(args, &pictures, file, "one picture a cylinder, in their order")
}

/// Crank pin loads of every cylinder, and the pistons through the turn.
pub(super) fn loads(
    args: &Args,
    judgement: &Judgement,
    mechanism: &Mechanism,
    w: &Working,
    file: &Path,
) -> Result<(), Failure> {
    let style = DrawingStyle::default();
    let mut pictures = Vec::new();
    for c in &w.cylinders {
        let name = &judgement.engine().motion.cylinders[c.cylinder].id;
        pictures.push(polar_plot(&c.polar, name, &style).map_err(undrawn)?);
    }
    let running = mechanism.running(w.wheel_rad_s);
    pictures.push(piston_plot(&mechanism.motion, &running, None, &style).map_err(undrawn)?);
    write(args, &pictures, file, "rigid parts, steady speed")
}

fn undrawn(e: DrawingError) -> Failure {
    Failure::wrong(format!("it cannot be drawn: {e}"), "check the sizes of the cylinder")
}

fn write(args: &Args, pictures: &[String], file: &Path, note: &str) -> Result<(), Failure> {
    write_whole(file, stacked(pictures)?.as_bytes())?;
    if !args.json {
        put!("drawn in {} ({note})", file.display());
    }
    Ok(())
}

/// Pictures one below the other in one.
fn stacked(pictures: &[String]) -> Result<String, Failure> {
    let mut inner = String::new();
    let (mut wide, mut high): (f64, f64) = (0.0, 0.0);
    for picture in pictures {
        let lost = || Failure::Fault("a picture has no size".to_owned());
        let w = attribute(picture, "width").ok_or_else(lost)?;
        let h = attribute(picture, "height").ok_or_else(lost)?;
        if high > 0.0 {
            high += GAP;
        }
        let placed = picture.replacen("<svg ", &format!("<svg x=\"0\" y=\"{high}\" "), 1);
        inner.push_str(&placed);
        wide = wide.max(w);
        high += h;
    }
    let mut out = String::new();
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{wide}\" height=\"{high}\" viewBox=\"0 0 {wide} {high}\">\n{inner}</svg>\n"
    );
    Ok(out)
}

fn attribute(picture: &str, name: &str) -> Option<f64> {
    let at = picture.find(&format!(" {name}=\""))? + name.len() + 3;
    picture[at..].split('"').next()?.parse().ok()
}
