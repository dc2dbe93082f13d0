//! Drawings of the motion: which pictures a verb writes, and into which file.

use crate::args::{Args, Units};
use crate::failure::Failure;
use crate::failure::put;
use crate::folder::write_whole;
use drawing::motion::{DrawingStyle, DrawnUnits};
use engine::judge::Judgement;
use engine::motion::{Mechanism, Working};
use mechanics::motion::WheelAngle;
use std::fmt::Write as _;
use std::path::Path;

/// Space between two pictures of one file.
const GAP: f64 = 24.0;

/// What is drawn in the usual proportion and not to size.
const USUAL: &str = "rod ends, webs, wheels and crosshead in the usual proportion";

/// Steps drawn, at most: a sheet of more cannot be read.
const MOST_STEPS: usize = 360;

fn style_of(args: &Args) -> DrawingStyle {
    let units = match args.units {
        Units::Metric => DrawnUnits::Metric,
        Units::Imperial => DrawnUnits::Imperial,
    };
    DrawingStyle { units, ..DrawingStyle::default() }
}

/// Side view of every cylinder and the end view, one below the other.
pub(super) fn position(
    args: &Args,
    judgement: &Judgement,
    mechanism: &Mechanism,
    wheel: WheelAngle,
    file: &Path,
) -> Result<(), Failure> {
    let pictures = pictures_at(args, judgement, mechanism, wheel)?;
    write(args, &pictures, file, USUAL)
}

/// A picture a step in a folder, or one sheet of small ones in a file.
pub(super) fn steps(
    args: &Args,
    judgement: &Judgement,
    mechanism: &Mechanism,
    angles: &[WheelAngle],
    to: &Path,
) -> Result<(), Failure> {
    if MOST_STEPS < angles.len() {
        return Err(Failure::wrong(
            format!("{} pictures of one turn", angles.len()),
            format!("draw {MOST_STEPS} at most; --json gives more steps without pictures"),
        ));
    }
    let mut all = Vec::new();
    for wheel in angles {
        all.push(stacked(&pictures_at(args, judgement, mechanism, *wheel)?)?);
    }
    let sheet = to.extension().is_some_and(|e| e.eq_ignore_ascii_case("svg"));
    if sheet {
        write_whole(to, sheet_of(&all)?.as_bytes())?;
    } else {
        std::fs::create_dir_all(to).map_err(|e| {
            let what = format!("{} cannot be made: {e}", to.display());
            Failure::wrong(what, "name a folder that can be written")
        })?;
        let figures = all.len().to_string().len().max(2);
        for (k, picture) in all.iter().enumerate() {
            let name = format!("step-{:0figures$}.svg", k + 1);
            write_whole(&to.join(name), picture.as_bytes())?;
        }
    }
    if !args.json {
        let how = if sheet { "on one sheet" } else { "a file a step" };
        put!("drawn in {} ({} steps, {how}; {USUAL})", to.display(), all.len());
    }
    Ok(())
}

/// Small pictures side by side, in rows.
fn sheet_of(pictures: &[String]) -> Result<String, Failure> {
    // A third of the width a picture is drawn for: its lettering can still be read in print.
    const SHARE: f64 = 0.5;
    let columns = if pictures.len() <= 4 { 2 } else { 4 }.min(pictures.len().max(1));
    let mut inner = String::new();
    let (mut wide, mut high): (f64, f64) = (0.0, 0.0);
    for row in pictures.chunks(columns) {
        let mut tallest: f64 = 0.0;
        for (k, picture) in row.iter().enumerate() {
            let lost = || Failure::Fault("a picture has no size".to_owned());
            let w = attribute(picture, "width").ok_or_else(lost)?;
            let h = attribute(picture, "height").ok_or_else(lost)?;
            let x = k as f64 * (SHARE * w + GAP);
            let body = picture.split_once("viewBox").map(|(_, rest)| rest).ok_or_else(lost)?;
            let _ = write!(
                inner,
                "<svg x=\"{x:.2}\" y=\"{high:.2}\" width=\"{:.2}\" height=\"{:.2}\" viewBox{body}",
                SHARE * w,
                SHARE * h
            );
            wide = wide.max(x + SHARE * w);
            tallest = tallest.max(SHARE * h);
        }
        high += tallest + GAP;
    }
    let high = (high - GAP).max(1.0);
    Ok(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{wide:.2}\" height=\"{high:.2}\" viewBox=\"0 0 {wide:.2} {high:.2}\">\n<rect x=\"0\" y=\"0\" width=\"{wide:.2}\" height=\"{high:.2}\" fill=\"#ffffff\"/>\n{inner}</svg>\n"
    ))
}

/// Side view of every cylinder, then the end view.
fn pictures_at(
    args: &Args,
    judgement: &Judgement,
    mechanism: &Mechanism,
    wheel: WheelAngle,
) -> Result<Vec<String>, Failure> {
    paper::motion_pictures(judgement, mechanism, wheel, &style_of(args))
        .map_err(|e| Failure::wrong(e, ""))
}

/// Clearance round the dead centres of every cylinder.
pub(super) fn clearances(args: &Args, judgement: &Judgement, file: &Path) -> Result<(), Failure> {
    let pictures = paper::clearance_pictures(judgement, &style_of(args));
    let pictures = pictures.into_iter().collect::<Result<Vec<_>, _>>();
    let pictures = pictures.map_err(|e| Failure::wrong(e, ""))?;
    write(args, &pictures, file, "one picture a cylinder, in their order")
}

/// Crank pin loads of every cylinder, turning moment, bearings, coupling rods, boxes, and the pistons
/// through the turn.
pub(super) fn loads(
    args: &Args,
    judgement: &Judgement,
    mechanism: &Mechanism,
    w: &Working,
    file: &Path,
) -> Result<(), Failure> {
    let pictures = paper::load_pictures(judgement, mechanism, w, &style_of(args))
        .map_err(|e| Failure::wrong(e, ""))?;
    write(args, &pictures, file, "rigid parts, steady speed")
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
