//! The oil film of a bearing by hand, and maps of it over clearances and loads.

use super::print_json;
use crate::args::{Args, FilmArgs, Units};
use crate::failure::put;
use crate::failure::{BEYOND, DONE, Failure};
use crate::folder::write_whole;
use mechanics::bearing::film::Arc;
use mechanics::bearing::{
    BearingError, BearingMetal, FilmJudgement, FilmMap, FilmSetting, FilmVerdict, HeatPath,
    JournalBearing, JournalOptions, LoadCharacter, MapControl, MapEnd, MapInput, Oil, OilCooling,
    OilPoint, OilSheet, RunningFilm, SteadyDuty, ViscosityLaw, WarmFilm, film_for_load, film_map,
    judge_film, warm_film,
};
use quantity::{Dimension, Quantity};
use serde_json::json;
use std::fmt::Write as _;
use std::io::Write as _;
use std::num::NonZeroUsize;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// Clearances and loads of a map.
const SIDE: usize = 40;

/// The oil as said: a sheet of two readings, or one viscosity at every temperature.
enum SaidOil {
    Sheet(Box<Oil>),
    Constant(f64),
}

/// The verb.
pub(super) fn film(args: &Args, said: &FilmArgs) -> Result<u8, Failure> {
    let journal_m = number(&said.diameter, Dimension::Length)?;
    let duty = SteadyDuty {
        load_n: number(&said.load, Dimension::Force)?,
        speed_rad_s: number(&said.speed, Dimension::AngularSpeed)?,
    };
    let arc = match &said.arc {
        None => Arc::FullRing,
        Some(text) => {
            let extent_rad = number(text, Dimension::Angle)?;
            let load_from_start_rad = match &said.load_angle {
                Some(a) => number(a, Dimension::Angle)?,
                None => 0.5 * extent_rad,
            };
            Arc::Brass { extent_rad, load_from_start_rad }
        }
    };
    let bearing = JournalBearing {
        journal_diameter_m: journal_m,
        length_m: number(&said.length, Dimension::Length)?,
        diametral_clearance_m: number(&said.clearance, Dimension::Length)?,
        tilt_m: 0.0,
        arc,
    };
    let mut taken = Vec::new();
    let oil = oil(said, &mut taken)?;
    let options = JournalOptions::default();
    let code = match &oil {
        SaidOil::Constant(pa_s) => {
            if said.map.is_some() {
                return Err(Failure::wrong(
                    "a map wants an oil that thins as it warms",
                    "--oil \"220 mm2/s at 40 degC; 19 mm2/s at 100 degC\"",
                ));
            }
            let film = film_for_load(&bearing, &duty, *pa_s, &options).map_err(wrong)?;
            taken.push("the oil as thick at every temperature: no running temperature".to_owned());
            show(args, &film, None, None, &taken)?;
            DONE
        }
        SaidOil::Sheet(oil) => {
            let heat = heat(said, &mut taken)?;
            if said.map.is_some() {
                return map(args, said, &bearing, &duty, oil, heat);
            }
            let warm = warm_film(&bearing, &duty, oil, &heat, &options).map_err(wrong)?;
            let judged = judged(said, &warm, journal_m, &mut taken)?;
            show(args, &warm.film, Some(&warm), judged.as_ref(), &taken)?;
            match judged.map(|j| j.verdict) {
                Some(FilmVerdict::Boundary) => BEYOND,
                _ => DONE,
            }
        }
    };
    Ok(code)
}

fn number(text: &str, dimension: Dimension) -> Result<f64, Failure> {
    Quantity::parse_as(text.trim(), dimension)
        .map(|q| q.si())
        .map_err(|e| Failure::wrong(format!("{}\n{}", e.reason(), e.caret()), e.hint()))
}

/// A plain figure before one of some units that `quantity` has no kind for.
fn odd(text: &str, units: &[(&str, f64)]) -> Option<f64> {
    units
        .iter()
        .find_map(|(unit, factor)| {
            text.trim().strip_suffix(unit)?.trim().parse::<f64>().ok().map(|v| v * factor)
        })
        .filter(|v| v.is_finite() && *v > 0.0)
}

fn wrong(e: BearingError) -> Failure {
    Failure::wrong(e.to_string(), e.mend().unwrap_or(""))
}

fn oil(said: &FilmArgs, taken: &mut Vec<String>) -> Result<SaidOil, Failure> {
    let dynamic = [("mPa s", 1e-3), ("Pa s", 1.0), ("cP", 1e-3)];
    if let Some(pa_s) = odd(&said.oil, &dynamic) {
        return Ok(SaidOil::Constant(pa_s));
    }
    let form = || {
        Failure::wrong(
            format!("\"{}\" is not an oil", said.oil),
            "two readings of its sheet: \"220 mm2/s at 40 degC; 19 mm2/s at 100 degC\"; or one viscosity: \"27 mPa s\"",
        )
    };
    let point = |text: &str| -> Result<OilPoint, Failure> {
        let (nu, at) = text.split_once(" at ").ok_or_else(form)?;
        let kinematic_m2_s =
            odd(nu, &[("mm2/s", 1e-6), ("mm²/s", 1e-6), ("cSt", 1e-6)]).ok_or_else(form)?;
        Ok(OilPoint { kinematic_m2_s, temperature_k: number(at, Dimension::Temperature)? })
    };
    let (cool, warm) = said.oil.split_once(';').ok_or_else(form)?;
    let density_kg_m3 = match &said.density {
        Some(text) => number(text, Dimension::Density)?,
        None => {
            taken.push("density 900 kg/m3 at 15 degC (handbook; --density)".to_owned());
            900.0
        }
    };
    taken.push("specific heat 2000 J/kg K (handbook for mineral oil)".to_owned());
    let sheet = OilSheet {
        cooler: point(cool)?,
        warmer: point(warm)?,
        density_kg_m3,
        heat_capacity_j_kg_k: 2000.0,
        law: ViscosityLaw::Walther,
    };
    Oil::new(sheet).map(|oil| SaidOil::Sheet(Box::new(oil))).map_err(wrong)
}

fn heat(said: &FilmArgs, taken: &mut Vec<String>) -> Result<HeatPath, Failure> {
    let inlet_k = match &said.inlet {
        Some(text) => number(text, Dimension::Temperature)?,
        None => {
            return Err(Failure::wrong(
                "how warm the oil enters is not said",
                "--inlet \"30 degC\"; or --oil \"27 mPa s\" for one viscosity and no heat",
            ));
        }
    };
    let surface_w_k = match &said.surface_heat {
        Some(text) => odd(text, &[("W/K", 1.0)]).ok_or_else(|| {
            Failure::wrong(format!("\"{text}\" is not a figure in W/K"), "--surface-heat \"8 W/K\"")
        })?,
        None => {
            taken.push("no heat shed to the air (--surface-heat)".to_owned());
            0.0
        }
    };
    let air_k = match &said.air {
        Some(text) => number(text, Dimension::Temperature)?,
        None => inlet_k,
    };
    let oil = if said.flooded { OilCooling::FreshInlet } else { OilCooling::SideFlowReplaced };
    taken.push(if said.flooded {
        "all oil at the inlet fresh: flooded from a pump or full feed".to_owned()
    } else {
        "only what leaks at the ends is replaced: a pad or trimming (--flooded for a full feed)"
            .to_owned()
    });
    Ok(HeatPath { oil, inlet_k, surface_w_k, air_k })
}

fn judged(
    said: &FilmArgs,
    warm: &WarmFilm,
    journal_m: f64,
    taken: &mut Vec<String>,
) -> Result<Option<FilmJudgement>, Failure> {
    let Some(text) = &said.finish else {
        taken.push(
            "no verdict on touching: --finish \"0.4 um; 0.8 um\" names the roughness Rq of journal and metal"
                .to_owned(),
        );
        return Ok(None);
    };
    let (journal, metal) = text.split_once(';').ok_or_else(|| {
        Failure::wrong(format!("\"{text}\" is not two roughnesses"), "--finish \"0.4 um; 0.8 um\"")
    })?;
    let setting = FilmSetting {
        load: if said.reversing {
            LoadCharacter::Reversing
        } else if said.swinging {
            LoadCharacter::SteadyWithSwing
        } else {
            LoadCharacter::Steady
        },
        journal_rq_m: number(journal, Dimension::Length)?,
        metal_rq_m: number(metal, Dimension::Length)?,
        metal: BearingMetal::TinWhiteMetal,
        supply_m3_s: None,
    };
    judge_film(warm, journal_m, &setting).map(Some).map_err(wrong)
}

fn show(
    args: &Args,
    film: &RunningFilm,
    warm: Option<&WarmFilm>,
    judged: Option<&FilmJudgement>,
    taken: &[String],
) -> Result<(), Failure> {
    let n = &film.numbers;
    if args.json {
        return print_json(&json!({
            "eccentricity": n.eccentricity_ratio,
            "attitude_rad": film.attitude_rad,
            "sommerfeld": n.sommerfeld,
            "minimum_film_m": film.minimum_film_m,
            "peak_pressure_pa": film.peak_pressure_pa,
            "side_flow_m3_s": film.side_flow_m3_s,
            "power_w": film.power_w,
            "film_k": warm.map(|w| w.film_k),
            "outlet_k": warm.map(|w| w.outlet_k),
            "oil_heat_w": warm.map(|w| w.oil_heat_w),
            "surface_heat_w": warm.map(|w| w.surface_heat_w),
            "verdict": judged.map(|j| j.verdict.text()),
            "reasons": judged.map(|j| j.reasons.clone()),
            "taken": taken,
        }));
    }
    let both = |metric: String, imperial: String| match args.units {
        Units::Metric => format!("{metric} ({imperial})"),
        Units::Imperial => format!("{imperial} ({metric})"),
    };
    let degrees =
        |k: f64| both(format!("{:.0} degC", k - 273.15), format!("{:.0} degF", 1.8 * k - 459.67));
    if let Some(j) = judged {
        put!("{}", j.verdict.text());
    }
    put!(
        "  eccentricity    {:.3}, attitude {:.0} deg, Sommerfeld number {:.4}",
        n.eccentricity_ratio,
        film.attitude_rad.to_degrees(),
        n.sommerfeld
    );
    put!(
        "  thinnest film   {}",
        both(
            format!("{:.1} um", 1e6 * film.minimum_film_m),
            format!("{:.2} thou", film.minimum_film_m / 25.4e-6)
        )
    );
    put!(
        "  peak pressure   {}",
        both(
            format!("{:.2} MPa", 1e-6 * film.peak_pressure_pa),
            format!("{:.0} psi", film.peak_pressure_pa / 6_894.757_293_168)
        )
    );
    put!("  friction        {:.0} W turned into heat", film.power_w);
    put!(
        "  oil leaving     {} at the ends",
        both(
            format!("{:.1} ml/min", 6e7 * film.side_flow_m3_s),
            format!("{:.2} in3/min", film.side_flow_m3_s * 60.0 / 16.387_064e-6)
        )
    );
    if let Some(w) = warm {
        put!("  film            {}; oil leaves at {}", degrees(w.film_k), degrees(w.outlet_k));
        put!(
            "  heat            {:.0} W with the oil, {:.0} W to the air",
            w.oil_heat_w,
            w.surface_heat_w
        );
    }
    for r in judged.iter().flat_map(|j| &j.reasons) {
        put!("  because: {r}");
    }
    for t in taken {
        put!("  taken: {t}");
    }
    put!(
        "  A steady load, journal and brass round and parallel. Where the load reverses every turn a steady film does not answer."
    );
    Ok(())
}

fn map(
    args: &Args,
    said: &FilmArgs,
    bearing: &JournalBearing,
    duty: &SteadyDuty,
    oil: &Oil,
    heat: HeatPath,
) -> Result<u8, Failure> {
    let Some(file) = &said.map else { return Ok(DONE) };
    let (clearances, loads) = spans(bearing.journal_diameter_m, duty.load_n);
    let input = MapInput {
        bearing: *bearing,
        speed_rad_s: duty.speed_rad_s,
        oil: *oil,
        heat,
        diametral_clearances_m: &clearances,
        loads_n: &loads,
    };
    let map =
        run_map(|control| film_map(&input, control, &JournalOptions::default()).map_err(wrong))?;
    write_whole(file, csv_of(&map, &clearances, &loads).as_bytes())?;
    let whole = map.end == MapEnd::Complete;
    if args.json {
        print_json(&json!({
            "file": file.display().to_string(), "points": map.tried(), "complete": whole,
        }))?;
    } else {
        let end = if whole { "" } else { " (stopped before its end)" };
        put!("map: {}, {} points{end}", file.display(), map.tried());
    }
    Ok(DONE)
}

/// Clearances from half a thousandth to six thousandths of the journal (common practice runs 1 to
/// 4.5), loads from a fifth to twice the one given, both in equal ratios.
pub(super) fn spans(journal_m: f64, load_n: f64) -> (Vec<f64>, Vec<f64>) {
    let span = |from: f64, to: f64| -> Vec<f64> {
        (0..SIDE).map(|i| from * (to / from).powf(i as f64 / (SIDE - 1) as f64)).collect()
    };
    (span(0.0005 * journal_m, 0.006 * journal_m), span(0.2 * load_n, 2.0 * load_n))
}

/// Runs a map on every core, with progress on standard error. When nobody reads that any more the
/// map stops after the points in hand; an interrupt ends the program with nothing half written,
/// since the file appears whole or not at all.
pub(super) fn run_map(
    work: impl FnOnce(&MapControl<'_>) -> Result<FilmMap, Failure>,
) -> Result<FilmMap, Failure> {
    let threads = std::thread::available_parallelism().unwrap_or(NonZeroUsize::MIN);
    let stop = AtomicBool::new(false);
    let told = AtomicUsize::new(0);
    let progress = |done: usize, all: usize| {
        let percent = 100 * done / all.max(1);
        // Each whole percent once, whichever thread comes to it first.
        if told.fetch_max(percent, Ordering::Relaxed) < percent {
            let mut out = std::io::stderr().lock();
            if write!(out, "\rfilm {done} of {all}").and_then(|()| out.flush()).is_err() {
                stop.store(true, Ordering::Relaxed);
            }
        }
    };
    let map = work(&MapControl { threads, progress: &progress, stop: &stop })?;
    // A closed pipe has been noticed above.
    let _ = writeln!(std::io::stderr());
    Ok(map)
}

/// A map as a table.
pub(super) fn csv_of(map: &FilmMap, clearances_m: &[f64], loads_n: &[f64]) -> String {
    let mut csv = String::from(
        "clearance mm,load kN,least film um,film degC,eccentricity,power W,side flow ml/min,why not\n",
    );
    for (i, c) in clearances_m.iter().enumerate() {
        for (j, w) in loads_n.iter().enumerate() {
            let _ = write!(csv, "{:.4},{:.2},", 1e3 * c, 1e-3 * w);
            let _ = match map.point(i, j) {
                Some(Ok(f)) => writeln!(
                    csv,
                    "{:.2},{:.1},{:.4},{:.1},{:.2},",
                    1e6 * f.film.minimum_film_m,
                    f.film_k - 273.15,
                    f.film.numbers.eccentricity_ratio,
                    f.film.power_w,
                    6e7 * f.film.side_flow_m3_s
                ),
                Some(Err(e)) => writeln!(csv, ",,,,,\"{e}\""),
                None => writeln!(csv, ",,,,,not tried"),
            };
        }
    }
    csv
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn viscosities_are_read_with_their_unit_or_not_at_all() {
        let units = [("mPa s", 1e-3), ("Pa s", 1.0)];
        assert_eq!(odd("27 mPa s", &units), Some(0.027));
        assert_eq!(odd("0.027 Pa s", &units), Some(0.027));
        for text in ["27", "NaN mPa s", "-1 Pa s", "inf Pa s", "Pa s", ""] {
            assert_eq!(odd(text, &units), None, "{text}");
        }
    }

    #[test]
    fn a_map_spans_what_it_says() {
        let (clearances, loads) = spans(0.2, 100e3);
        assert_eq!((clearances.len(), loads.len()), (SIDE, SIDE));
        let ends = |v: &[f64]| (v[0], v[v.len() - 1]);
        let close = |a: f64, b: f64| (a / b - 1.0).abs() < 1e-12;
        let (a, b) = ends(&clearances);
        assert!(close(a, 0.1e-3) && close(b, 1.2e-3));
        let (a, b) = ends(&loads);
        assert!(close(a, 20e3) && close(b, 200e3));
    }
}
