//! Bearing duty: pressure, rubbing speed, the film at its running temperature, and its oil.

use super::ask::{Ask, because};
use super::loading::{Carries, TurnLoad};
use super::pressure::metal;
use super::shapes::{Design, Line, Of, Section, Standing};
use mechanics::bearing::film::Arc;
use mechanics::bearing::{
    self as mb, Felt, FeltOil, FillingEnd, FilmJudgement, FilmSetting, FilmVerdict, HeatPath,
    JournalBearing, JournalOptions, Keep, LoadCharacter, Oil, OilCooling, OilPoint, OilSheet,
    SteadyDuty, ViscosityLaw, WarmFilm,
};

/// A film at one clearance.
#[derive(Clone, Debug, PartialEq)]
pub struct FilmCase {
    /// Which clearance.
    pub name: String,
    /// Diametral clearance (m).
    pub clearance_m: f64,
    /// Load, held still (N).
    pub load_n: f64,
    /// The film, or why there is none.
    pub film: Result<WarmFilm, String>,
    /// What it means.
    pub judged: Option<FilmJudgement>,
}

/// Everything a film is solved from, but the clearance.
pub(super) struct Setup {
    pub(super) bearing: JournalBearing,
    pub(super) duty: SteadyDuty,
    pub(super) oil: Oil,
    pub(super) heat: HeatPath,
    pub(super) setting: FilmSetting,
}

/// Everything a film wants; names what is missing.
pub(super) fn setup(
    ask: &mut Ask<'_>,
    journal_m: f64,
    turn: Option<&TurnLoad>,
) -> Result<Setup, Option<String>> {
    let axle = turn.is_some_and(|t| t.carries == Carries::Axlebox);
    let load = match turn {
        Some(t) => Some(t.dead_n.filter(|_| axle).unwrap_or(t.greatest_n)),
        None => ask.one("load"),
    };
    let turning = match turn {
        Some(t) => Some(t.wheel_rad_s),
        None => ask.one("turning"),
    };
    let length = ask.one("length");
    let cool = ask.oil_point("oil-cool");
    let warm = ask.oil_point("oil-warm");
    let density = ask.one("oil-density");
    let heat = ask.one("oil-heat");
    let inlet = ask.one("oil-inlet");
    let air = ask.one("air");
    let surface = ask.one("surface-heat");
    let cooling = ask.text("oil-cooling");
    let finish = (ask.one("finish-journal"), ask.one("finish-metal"));
    let character = match turn.and_then(|t| t.swing.as_ref()) {
        Some(s) => Some(s.character),
        None => ask.text("load-character").map(|word| match word {
            "steady" => LoadCharacter::Steady,
            "steady with swing" => LoadCharacter::SteadyWithSwing,
            _ => LoadCharacter::Reversing,
        }),
    };
    let words = (character, ask.text("bearing-metal"));
    let (
        Some(load_n),
        Some(speed_rad_s),
        Some(length_m),
        Some(cool),
        Some(warm),
        Some(density_kg_m3),
        Some(heat_capacity_j_kg_k),
        Some(inlet_k),
        Some(air_k),
        Some(surface_w_k),
        Some(cooling),
        (Some(journal_rq_m), Some(metal_rq_m)),
        (Some(character), Some(metal_word)),
    ) = (
        load, turning, length, cool, warm, density, heat, inlet, air, surface, cooling, finish,
        words,
    )
    else {
        return Err(None);
    };
    let arc = match (ask.maybe("arc"), ask.maybe("load-angle")) {
        (None, _) => {
            ask.note("arc", "a full ring", "the duty gives no arc");
            Arc::FullRing
        }
        (Some(extent_rad), angle) => Arc::Brass {
            extent_rad,
            load_from_start_rad: angle.unwrap_or_else(|| {
                ask.note(
                    "load-angle",
                    format!("{:.0} deg", (0.5 * extent_rad).to_degrees()),
                    "the middle of the brass",
                );
                0.5 * extent_rad
            }),
        },
    };
    let point = |(kinematic_m2_s, temperature_k)| OilPoint { kinematic_m2_s, temperature_k };
    let oil = Oil::new(OilSheet {
        cooler: point(cool),
        warmer: point(warm),
        density_kg_m3,
        heat_capacity_j_kg_k,
        law: ViscosityLaw::Walther,
    })
    .map_err(|e| Some(e.to_string()))?;
    let supply_m3_s = match (felt(ask), felt_oil(ask, &oil, inlet_k), ask.maybe("keep-lift")) {
        (Some(f), Some(o), Some(lift)) => {
            Some(mb::felt_flow(&f, &o, lift).map_err(|e| Some(e.to_string()))?.flow_m3_s)
        }
        _ => None,
    };
    Ok(Setup {
        bearing: JournalBearing {
            journal_diameter_m: journal_m,
            length_m,
            diametral_clearance_m: 0.0,
            tilt_m: 0.0,
            arc,
        },
        duty: SteadyDuty { load_n, speed_rad_s },
        oil,
        heat: HeatPath {
            oil: match cooling {
                "fresh inlet" => OilCooling::FreshInlet,
                "none" => OilCooling::None,
                _ => OilCooling::SideFlowReplaced,
            },
            inlet_k,
            surface_w_k,
            air_k,
        },
        setting: FilmSetting {
            load: character,
            journal_rq_m,
            metal_rq_m,
            metal: metal(metal_word),
            supply_m3_s,
        },
    })
}

fn felt(ask: &mut Ask<'_>) -> Option<Felt> {
    Some(Felt {
        area_m2: ask.maybe("felt-area")?,
        path_m: ask.maybe("felt-path")?,
        permeability_m2: ask.maybe("felt-permeability")? * 1e-12,
        pore_radius_m: ask.maybe("felt-pore")?,
        flow_share_left: ask.maybe("felt-left")?,
    })
}

fn felt_oil(ask: &mut Ask<'_>, oil: &Oil, at_k: f64) -> Option<FeltOil> {
    Some(FeltOil {
        viscosity_pa_s: oil.viscosity_pa_s(at_k).ok()?,
        density_kg_m3: oil.density_kg_m3(at_k).ok()?,
        surface_tension_n_m: ask.maybe("oil-tension")?,
        contact_angle_rad: 0.0,
    })
}

/// Films at some clearances, and the oil they want.
pub(super) fn films(
    ask: &mut Ask<'_>,
    journal_m: f64,
    clearances: &[(String, f64)],
    turn: Option<&TurnLoad>,
    out: &mut Design,
) -> Vec<FilmCase> {
    let what = "the oil film and running temperature";
    if turn.is_some_and(|t| t.swing.is_none()) {
        out.absent.push(because(
            what,
            "the pin swings to and fro and stands still twice a turn: a steady film does not answer for it",
        ));
        return Vec::new();
    }
    let setup = match setup(ask, journal_m, turn) {
        Ok(s) => s,
        Err(Some(why)) => {
            out.absent.push(because(what, why));
            return Vec::new();
        }
        Err(None) => {
            out.absent.push(ask.absent(what));
            return Vec::new();
        }
    };
    let mut cases = Vec::new();
    let mut lines = Vec::new();
    let mut worst_flow = 0.0f64;
    for (name, clearance_m, duty, arc) in cases_of(&setup, clearances, turn) {
        let (name, clearance_m) = (&name, &clearance_m);
        let bearing = JournalBearing { diametral_clearance_m: *clearance_m, arc, ..setup.bearing };
        let film =
            mb::warm_film(&bearing, &duty, &setup.oil, &setup.heat, &JournalOptions::default())
                .map_err(|e| match e.mend() {
                    Some(mend) => format!("{e} ({mend})"),
                    None => e.to_string(),
                });
        let judged =
            film.as_ref().ok().and_then(|w| mb::judge_film(w, journal_m, &setup.setting).ok());
        match (&film, &judged) {
            (Ok(w), Some(j)) => {
                worst_flow = worst_flow.max(w.film.side_flow_m3_s);
                let standing = match j.verdict {
                    FilmVerdict::FullFilm => Standing::Good,
                    FilmVerdict::Mixed | FilmVerdict::CannotTell => Standing::Look,
                    FilmVerdict::Boundary => Standing::Bad,
                };
                lines.push(
                    Line::words(
                        format!("with {name} ({:.3} mm)", 1e3 * clearance_m),
                        j.verdict.text(),
                    )
                    .stands(standing),
                );
                lines.push(Line::one("  thinnest film", w.film.minimum_film_m, Of::Film).note(
                    format!(
                        "eccentricity {:.2}, attitude {:.0} deg, peak {:.1} MPa",
                        w.film.numbers.eccentricity_ratio,
                        w.film.attitude_rad.to_degrees(),
                        1e-6 * w.film.peak_pressure_pa
                    ),
                ));
                lines.push(
                    Line::band("  film, oil as it leaves", w.film_k, w.outlet_k, Of::Temperature)
                        .note(format!(
                            "{:.0} W made; {:.0} W with the oil, {:.0} W to the air",
                            w.film.power_w, w.oil_heat_w, w.surface_heat_w
                        )),
                );
                lines.push(Line::one("  oil leaving at the ends", w.film.side_flow_m3_s, Of::Flow));
            }
            (Err(why), _) => lines.push(
                Line::words(
                    format!("with {name} ({:.3} mm)", 1e3 * clearance_m),
                    format!("no film found: {why}"),
                )
                .stands(Standing::Bad),
            ),
            (Ok(_), None) => lines.push(
                Line::words(format!("with {name}"), "not judged: roughness out of range")
                    .stands(Standing::Look),
            ),
        }
        cases.push(FilmCase {
            name: name.clone(),
            clearance_m: *clearance_m,
            load_n: duty.load_n,
            film,
            judged,
        });
    }
    // One reason of a kind is enough: the figures stand with each clearance.
    let kind = |r: &str| r.split(' ').take(3).collect::<Vec<_>>().join(" ");
    let mut told: Vec<&str> = Vec::new();
    for j in cases.iter().filter_map(|c| c.judged.as_ref()) {
        for r in &j.reasons {
            if !told.iter().any(|t| kind(t) == kind(r)) && !r.starts_with("the thinnest film") {
                told.push(r);
            }
        }
    }
    lines.extend(told.iter().map(|r| Line::words("because", *r)));
    let title = match turn {
        Some(t) if t.carries != Carries::Axlebox => {
            "the film at its running temperature, the turn's greatest load held still"
        }
        _ => "the film at its running temperature, steady load",
    };
    out.sections.push(Section::new(title, lines));
    keep(ask, &setup, worst_flow, out);
    out.not_considered.push("the film: journal and brass round and parallel, one temperature, Reynolds' condition where it ruptures");
    cases
}

/// Clearances at the load, and for an axlebox the worst of the turn too: its load leans from the
/// crown, which leaves the film less of an arc to build up in.
fn cases_of(
    setup: &Setup,
    clearances: &[(String, f64)],
    turn: Option<&TurnLoad>,
) -> Vec<(String, f64, SteadyDuty, Arc)> {
    let mut out: Vec<(String, f64, SteadyDuty, Arc)> = clearances
        .iter()
        .map(|(name, c)| (name.clone(), *c, setup.duty, setup.bearing.arc))
        .collect();
    let Some(t) = turn.filter(|t| t.carries == Carries::Axlebox) else { return out };
    for (words, sign) in [("forward", 1.0), ("backward", -1.0)] {
        let worst = t
            .steps
            .iter()
            .filter(|s| sign * s.across_n > 0.0)
            .reduce(|a, b| if sign * a.across_n < sign * b.across_n { b } else { a });
        let (Some(s), Some((_, clearance_m))) = (worst, clearances.last()) else { continue };
        let lean_rad = s.across_n.atan2(s.along_n);
        let arc = match setup.bearing.arc {
            Arc::Brass { extent_rad, load_from_start_rad } => {
                Arc::Brass { extent_rad, load_from_start_rad: load_from_start_rad + lean_rad }
            }
            full => full,
        };
        out.push((
            format!(
                "{:.0} kN {:.0} deg {words}",
                1e-3 * s.along_n.hypot(s.across_n),
                lean_rad.to_degrees().abs()
            ),
            *clearance_m,
            SteadyDuty { load_n: s.along_n.hypot(s.across_n), ..setup.duty },
            arc,
        ));
    }
    out
}

fn keep(ask: &mut Ask<'_>, setup: &Setup, wanted_m3_s: f64, out: &mut Design) {
    let what = "felt supply and hours between fillings";
    let inlet_k = setup.heat.inlet_k;
    let asked = [
        "felt-area",
        "felt-path",
        "felt-permeability",
        "felt-pore",
        "felt-left",
        "oil-tension",
        "keep-surface",
        "keep-lift",
        "keep-depth",
        "keep-return",
    ];
    if !asked.iter().any(|n| ask.has(n)) {
        return;
    }
    for name in asked {
        ask.one(name);
    }
    let (
        Some(felt),
        Some(oil),
        Some(surface_m2),
        Some(lift_full_m),
        Some(usable_depth_m),
        Some(return_share),
    ) = (
        felt(ask),
        felt_oil(ask, &setup.oil, inlet_k),
        ask.maybe("keep-surface"),
        ask.maybe("keep-lift"),
        ask.maybe("keep-depth"),
        ask.maybe("keep-return"),
    )
    else {
        out.absent.push(ask.absent(what));
        return;
    };
    let keep = Keep {
        surface_m2,
        lift_full_m,
        usable_depth_m,
        return_share,
        wanted_m3_s,
        halving_s: ask.maybe("felt-halving"),
        horizon_s: 1000.0 * 3600.0,
    };
    match mb::filling_lasts(&felt, &oil, &keep) {
        Ok(f) => {
            let (words, standing) = match f.end {
                FillingEnd::NeverEnough => (
                    "the felt brings less than the bearing wants, even when the keep is full",
                    Standing::Bad,
                ),
                FillingEnd::FlowTooSmall => ("then the felt brings too little", Standing::Good),
                FillingEnd::LevelTooLow => {
                    ("then the oil is down to the felt's foot", Standing::Good)
                }
                FillingEnd::OutlastsHorizon => ("longer than 1000 hours", Standing::Good),
            };
            let mut lines = vec![
                Line::one("the bearing wants, its inlet flooded, at most", wanted_m3_s, Of::Flow),
                Line::one("the felt brings when full", f.flow_at_start_m3_s, Of::Flow),
            ];
            if f.end == FillingEnd::NeverEnough {
                lines.push(Line::words("supply", words).stands(standing));
                // What it does bring still runs out some day.
                if let Ok(dry) = mb::filling_lasts(&felt, &oil, &Keep { wanted_m3_s: 0.0, ..keep })
                {
                    lines.push(
                        Line::one("at that rate a filling lasts", dry.lasts_s, Of::Time).note(
                            if dry.end == FillingEnd::LevelTooLow {
                                "then the oil is down to the felt's foot"
                            } else {
                                "or longer: no further was looked"
                            },
                        ),
                    );
                }
            } else {
                lines.push(
                    Line::one("a filling lasts", f.lasts_s, Of::Time).note(words).stands(standing),
                );
            }
            out.sections.push(Section::new("felt and keep", lines));
        }
        Err(e) => out.absent.push(because(what, e)),
    }
}
