//! Works out the published examples of the design modules and prints them beside the published
//! values, row by row, as the table of docs/design-checks.md:
//!
//! ```text
//! cargo run -p mechanics --example design_checks
//! ```

use mechanics::bearing::film::{Arc, Film, FilmOptions, FilmProblem, solve_film};
use mechanics::bearing::{
    DutyInput, JournalBearing, JournalOptions, SteadyDuty, SwingStep, bearing_duty,
    dubois_ocvirk_1953, film_for_load, iso_7902_2_load_number, load_swing,
};
use mechanics::bolt::{BoltLoad, LoadMember, load_bolt};
use mechanics::fits::{FitFamily, Grade, ImperialClass, parse_symbol, standard_tolerance_m};
use mechanics::lining::{
    Expansion, HotPair, PourInput, Seating, WhiteMetal, alloy_sheet, hot_clearance_m, pour_sheet,
};
use mechanics::press::{
    Assembly, Behaviour, Geometry, HeatLimit, HeatWanted, Material, Section, Slice, TyreRule,
    assembly_heat, smoothing_loss_m, tyre_shrink_allowance_m,
};
use mechanics::wedge::{
    AllowedStress, BlockMotion, Friction, GuidedBlock, Screw, Taper, Wedge, drive_force_n,
    gib_shear_pa, guided_block_force, least_cotter_sizes, pin_shear_pa, screw_torque,
    start_out_force_n,
};
use std::error::Error;
use std::f64::consts::{PI, TAU};

const INCH: f64 = 25.4e-3;
const PSI: f64 = 6_894.757_293_168;
const LBF: f64 = 4.448_221_615_260_5;
const READ: &str = "read in a public copy";
const MEMORY: &str = "from memory";
const COMPUTED: &str = "computed: a formula, no published number";

struct Rows(Vec<[String; 6]>);

impl Rows {
    fn add(
        &mut self,
        module: &str,
        case: &str,
        published: &str,
        got: String,
        source: &str,
        standing: &str,
    ) {
        self.0.push([module, case, published, &got, source, standing].map(str::to_owned));
    }
}

fn main() -> Result<(), Box<dyn Error>> {
    let mut rows = Rows(Vec::new());
    fits(&mut rows)?;
    press(&mut rows)?;
    bolt(&mut rows)?;
    wedge(&mut rows)?;
    lining(&mut rows)?;
    bearing(&mut rows)?;
    println!("| module | case | published | computed | source | verified? |");
    println!("| --- | --- | --- | --- | --- | --- |");
    for row in rows.0 {
        println!("| {} |", row.join(" | "));
    }
    Ok(())
}

fn fits(rows: &mut Rows) -> Result<(), Box<dyn Error>> {
    let iso = "ISO 286-1:2010 tables, ISO 286-2";
    for (text, published) in [
        ("25 H7/p6", "interference 1 to 35 um"),
        ("60 H7/s6", "interference 23 to 72 um"),
        ("100 H7/u6", "interference 89 to 146 um"),
    ] {
        let symbol = parse_symbol(text)?;
        let fit = symbol.fit().ok_or("a fit")?;
        let i = fit.at(symbol.size_m.ok_or("a size")?)?.interference();
        rows.add(
            "fits",
            text,
            published,
            format!("{:.0} to {:.0} um", i.min_m * 1e6, i.max_m * 1e6),
            iso,
            READ,
        );
    }
    let r6 = parse_symbol("200 r6")?.shaft.ok_or("a shaft")?.limits(0.2)?;
    rows.add(
        "fits",
        "200 r6",
        "+106 / +77 um",
        format!("{:+.0} / {:+.0} um", r6.upper_m * 1e6, r6.lower_m * 1e6),
        iso,
        READ,
    );
    let it9 = standard_tolerance_m(0.2, Grade::it(9).ok_or("IT9")?)?;
    rows.add(
        "fits",
        "IT9 over 180 to 250 mm (the formula rounds to 116)",
        "115 um",
        format!("{:.0} um", it9 * 1e6),
        iso,
        READ,
    );
    let c11 = parse_symbol("34 c11")?.shaft.ok_or("a shaft")?.limits(0.034)?;
    rows.add(
        "fits",
        "34 c11 (Shigley, example 7-7)",
        "-120 / -280 um",
        format!("{:+.0} / {:+.0} um", c11.upper_m * 1e6, c11.lower_m * 1e6),
        "Shigley's Mechanical Engineering Design, 9th ed.",
        READ,
    );
    let it9 = standard_tolerance_m(0.5, Grade::it(9).ok_or("IT9")?)?;
    rows.add(
        "fits",
        "h9 at 500 mm (with IT1 to IT9 of 13 steps, 3 to 500 mm, in the tests)",
        "-155 um",
        format!("{:.0} um", -it9 * 1e6),
        "a tool maker's catalogue of ISO shaft tolerances",
        READ,
    );
    let a12 = parse_symbol("400 a12")?.shaft.ok_or("a shaft")?.limits(0.4)?;
    rows.add(
        "fits",
        "400 a12 (with its 20 steps, 6 to 400 mm, in the tests)",
        "-1350 / -1920 um",
        format!("{:+.0} / {:+.0} um", a12.upper_m * 1e6, a12.lower_m * 1e6),
        "a public chart of ISO 286-2",
        READ,
    );
    let fn2 = ImperialClass::new(FitFamily::Force, 2)?.at(1.5 * INCH)?;
    let i = fn2.limits.interference();
    rows.add(
        "fits",
        "FN 2 at 1.5 in",
        "interference 0.8 to 2.4 thou",
        format!("{:.1} to {:.1} thou", i.min_m / INCH * 1e3, i.max_m / INCH * 1e3),
        "ANSI B4.1-1967, Table 5",
        READ,
    );
    Ok(())
}

fn steel(youngs_pa: f64, poisson: f64) -> Material {
    Material { youngs_pa, poisson, ..Material::steel(1e9) }
}

fn press(rows: &mut Rows) -> Result<(), Box<dyn Error>> {
    let ring = |joint: f64, outer: f64, bore: f64, hub, pin| {
        Section::new(Geometry { joint_m: joint, hub_outer_m: outer, pin_bore_m: bore }, hub, pin)
    };
    let norton =
        ring(0.781 * INCH, 3.0 * INCH, 0.0, steel(14e6 * PSI, 0.28), steel(30e6 * PSI, 0.28))?;
    let p = norton.pressure_pa(0.0015 * INCH)?;
    rows.add(
        "press",
        "0.781 in steel pin in iron 3 in, 1.5 thou",
        "15 265 psi",
        format!("{:.0} psi", p / PSI),
        "Norton, Machine Design, 4th ed., example 10-5",
        READ,
    );
    let slice = Slice { length_m: 1.5 * INCH, section: norton, interference_m: 0.0015 * INCH };
    let torque = Assembly::new(vec![slice], Behaviour::Elastic)?.holding(0.15)?.torque_nm;
    rows.add(
        "press",
        "the same, 1.5 in long, friction 0.15: torque",
        "3291 lbf in",
        format!("{:.0} lbf in", torque / (LBF * INCH)),
        "reference script",
        COMPUTED,
    );
    let s = ring(0.05, 0.08, 0.0, steel(200e9, 0.3), steel(200e9, 0.3))?;
    let p = s.pressure_pa(40e-6)?;
    rows.add(
        "press",
        "50 mm shaft in an 80 mm hub, 0.04 mm, 200 GPa: pressure, hoop",
        "48.75 and 111.3 MPa",
        format!("{:.2} and {:.1} MPa", p * 1e-6, s.stress(p)?.hub_bore.hoop_pa * 1e-6),
        "a worked example on a public page",
        READ,
    );
    let s = ring(INCH, 2.0 * INCH, 0.0, steel(30e6 * PSI, 0.29), steel(30e6 * PSI, 0.29))?;
    let p = s.pressure_pa(0.0023 * INCH)?;
    rows.add(
        "press",
        "1 in pin in 2 in collar, 2.3 thou: pressure, hoop",
        "25 875 and 43 125 psi",
        format!("{:.0} and {:.0} psi", p / PSI, s.stress(p)?.hub_bore.hoop_pa / PSI),
        "Shigley, 8th ed., tutorial 3-16",
        MEMORY,
    );
    let s =
        ring(12.0 * INCH, 16.0 * INCH, 8.0 * INCH, steel(30e6 * PSI, 0.3), steel(30e6 * PSI, 0.3))?;
    let p = s.pressure_pa(0.010 * INCH)?;
    rows.add(
        "press",
        "built-up cylinder 8, 12, 16 in, 5 thou on the radius",
        "4050 psi",
        format!("{:.0} psi", p / PSI),
        "Timoshenko, Strength of Materials II, art. 41",
        MEMORY,
    );
    let warm = Material { expansion_per_k: 11e-6, ..steel(210e9, 0.3) };
    let heat = assembly_heat(
        &ring(0.1, 0.18, 0.0, warm, warm)?,
        &HeatWanted {
            interference_m: 0.146e-3,
            gap_m: 0.05e-3,
            shop_celsius: 20.0,
            pin_celsius: 20.0,
            cooling_on_the_way_k: 0.0,
            limit: HeatLimit::PlainSteel,
        },
    )?;
    rows.add(
        "press",
        "100 u6, 0.146 mm and 0.05 mm of gap, 11e-6 per K",
        "178.2 K",
        format!("{:.1} K", heat.hub_rise_k),
        "reference script",
        COMPUTED,
    );
    rows.add(
        "press",
        "smoothing, Rz 10 and 6.3 um",
        "13.04 um",
        format!("{:.2} um", smoothing_loss_m(10e-6, 6.3e-6)? * 1e6),
        "DIN 7190-1: 0.8 (Rz + Rz)",
        MEMORY,
    );
    let tyre = tyre_shrink_allowance_m(56.0 * INCH, TyreRule::MasterMechanics)?;
    rows.add(
        "press",
        "tyre on a 56 in centre",
        "0.060 in",
        format!("{:.3} in", tyre / INCH),
        "American Railway Master Mechanics, in Machinery's Handbook",
        MEMORY,
    );
    Ok(())
}

fn bolt(rows: &mut Rows) -> Result<(), Box<dyn Error>> {
    let member = |share, length_m| LoadMember { share, land_m: 0.052, length_m, edge_m: 0.052 };
    let s = load_bolt(&BoltLoad {
        total_n: 150e3,
        bolts: 1,
        worst_factor: 1.0,
        members: vec![member(-0.5, 0.039), member(1.0, 0.065), member(-0.5, 0.039)],
        shear_allowed_pa: 60e6,
        bearing_allowed_pa: 60e6,
        edge_ratio_least: 1.0,
    })?;
    let book = "Khurmi & Gupta, A Textbook of Machine Design, knuckle joint";
    let mpa = |pa: f64| format!("{:.1} MPa", pa * 1e-6);
    rows.add(
        "bolt",
        "150 kN on a 52 mm pin, double shear",
        "35.3 MPa",
        mpa(s.planes[0].shear_pa),
        book,
        MEMORY,
    );
    rows.add(
        "bolt",
        "the same, eye 65 mm: bearing",
        "44.4 MPa",
        mpa(s.members[1].bearing_pa),
        book,
        MEMORY,
    );
    rows.add(
        "bolt",
        "the same, eye 104 mm outside: tear-out",
        "44.4 MPa",
        mpa(s.members[1].tear_out_pa),
        book,
        MEMORY,
    );
    rows.add(
        "bolt",
        "the same, forks 39 mm: bearing",
        "37 MPa",
        mpa(s.members[0].bearing_pa),
        book,
        MEMORY,
    );
    Ok(())
}

fn wedge(rows: &mut Rows) -> Result<(), Box<dyn Error>> {
    let mu = Friction::exactly(0.35)?;
    let block = GuidedBlock {
        load_n: 400.0,
        taper: Taper::from_angle_rad(8f64.to_radians())?,
        on_wedge: mu,
        on_guide: mu,
        on_base: mu,
    };
    let raise = guided_block_force(&block, BlockMotion::Raise)?.force_n.at_likely;
    let lower = guided_block_force(&block, BlockMotion::Lower)?.force_n.at_likely;
    rows.add(
        "wedge",
        "400 lb on an 8 degree wedge, friction 0.35: raise, lower",
        "423 and 206 lb",
        format!("{raise:.1} and {lower:.1} lb"),
        "Beer & Johnston, Statics, sample problem 8.4",
        MEMORY,
    );
    let screw = |mean_diameter_m,
                 lead_m,
                 flank_deg: f64,
                 f,
                 collar_diameter_m|
     -> Result<Screw, mechanics::wedge::WedgeError> {
        let thread = Friction::exactly(f)?;
        Ok(Screw {
            mean_diameter_m,
            lead_m,
            flank_rad: flank_deg.to_radians(),
            thread,
            collar_diameter_m,
            collar: thread,
        })
    };
    let acme = screw_torque(&screw(1.3429 * INCH, 0.25 * INCH, 14.5, 0.15, 0.0)?, 12_500.0 * LBF)?;
    rows.add(
        "wedge",
        "Acme screw 1.5 in, 4 threads an inch, 12 500 lbf",
        "1809 lbf in (0.3 % of rounding in the book)",
        format!("{:.1} lbf in", acme.raise_n_m.at_likely / (LBF * INCH)),
        "Mott, Machine Elements, 4th ed., example 17-1",
        READ,
    );
    let square = screw_torque(&screw(0.030, 0.008, 0.0, 0.08, 0.040)?, 6400.0)?;
    rows.add(
        "wedge",
        "square thread 32 mm, double, 6.4 kN: raise, lower",
        "26.18 and 9.77 N m",
        format!("{:.2} and {:.2} N m", square.raise_n_m.at_likely, square.lower_n_m.at_likely),
        "Shigley, 9th ed., example 8-1",
        MEMORY,
    );
    let clamp = screw_torque(&screw(0.010, 0.004, 0.0, 0.30, 0.0)?, 1.0)?;
    rows.add(
        "wedge",
        "clamp screw, 40 N m",
        "17.97 kN (book rounds; 18.006 recomputed)",
        format!("{:.3} kN", 0.040 / clamp.raise_n_m.at_likely),
        "Beer & Johnston, Statics, sample problem 8.5",
        MEMORY,
    );
    let cotter = Wedge::one_sided(Taper::one_in(24.0)?, Friction::exactly(0.1)?);
    let (drive, out) = (drive_force_n(&cotter, 100e3)?, start_out_force_n(&cotter, 100e3)?);
    rows.add(
        "wedge",
        "1 in 24, friction 0.1, 100 kN: drive, out",
        "24.23 and 15.81 kN",
        format!("{:.2} and {:.2} kN", drive.at_likely * 1e-3, out.at_likely * 1e-3),
        "textbook relation",
        COMPUTED,
    );
    let allowed = AllowedStress { tension_pa: 50e6, shear_pa: 35e6, crushing_pa: 90e6 };
    let sizes = least_cotter_sizes(30e3, &allowed)?;
    rows.add(
        "wedge",
        "cotter joint for 30 kN: rod; rod end by tension",
        "27.6 and 33.4 mm",
        format!("{:.2} and {:.2} mm", sizes.rod_m * 1e3, sizes.rod_end_by_tension_m * 1e3),
        "Khurmi & Gupta (2005), example 12.1",
        READ,
    );
    rows.add(
        "wedge",
        "taper pin, 100 N m on a 40 mm shaft, 10 mm mean: shear",
        "31.83 MPa by hand",
        format!("{:.2} MPa", pin_shear_pa(100.0, 0.04, 0.01)? * 1e-6),
        "4 T / (pi d2 D): Shigley, pins in shear",
        COMPUTED,
    );
    rows.add(
        "wedge",
        "gib and cotter, 90 kN over 75 by 15 mm: shear",
        "40 MPa by hand",
        format!("{:.2} MPa", gib_shear_pa(90e3, 0.075, 0.015)? * 1e-6),
        "P / (2 B t): Khurmi & Gupta, ch. 12",
        COMPUTED,
    );
    Ok(())
}

fn lining(rows: &mut Rows) -> Result<(), Box<dyn Error>> {
    let celsius =
        |k: Option<f64>| k.map_or("not known".to_owned(), |k| format!("{:.0}", k - 273.15));
    for (alloy, published, standing) in [
        (
            WhiteMetal::AstmB23Alloy1,
            "223 / 371 / 441 degC",
            "solidus and pouring read, liquidus from memory",
        ),
        (
            WhiteMetal::AstmB23Alloy2,
            "241 / 354 / 424 degC",
            "solidus and pouring read, liquidus from memory",
        ),
        (WhiteMetal::AstmB23Alloy7, "240 / 268 / 338 degC", READ),
    ] {
        let a = alloy_sheet(alloy);
        let got = format!(
            "{} / {} / {} degC",
            celsius(a.solidus_k),
            celsius(a.liquidus_k),
            celsius(a.pouring_k.map(|p| p.0))
        );
        rows.add(
            "lining",
            &format!("{}: solidus, liquidus, pouring", a.name),
            published,
            got,
            "ASTM B23, Table X1",
            standing,
        );
    }
    let a = alloy_sheet(WhiteMetal::Iso4381SnSb12Cu6Pb);
    rows.add(
        "lining",
        "SnSb12Cu6Pb: melts; cast",
        "183 to 400; 480 to 520 degC",
        format!(
            "{} to {}; {} to {} degC",
            celsius(a.solidus_k),
            celsius(a.liquidus_k),
            celsius(a.pouring_k.map(|p| p.0)),
            celsius(a.pouring_k.map(|p| p.1))
        ),
        "ISO 4381 (DIN ISO 4381 record)",
        READ,
    );
    let pair = HotPair {
        journal_m: 0.2,
        journal: Expansion::STEEL,
        journal_hot_k: 278.15,
        bearing: Expansion::TIN_BRONZE,
        bearing_hot_k: 278.15,
        cold_k: 293.15,
        seating: Seating::Free,
    };
    rows.add(
        "lining",
        "200 mm bronze on steel at 5 degC against 20",
        "0.0195 mm",
        format!("{:.4} mm", -hot_clearance_m(&pair, 0.2)? * 1e3),
        "handbook expansions 11.5e-6 and 18e-6 per K",
        COMPUTED,
    );
    let sheet = pour_sheet(&PourInput {
        alloy: WhiteMetal::AstmB23Alloy2,
        bore_m: 0.2,
        thickness_m: 0.006,
        length_m: 0.22,
        arc_rad: PI,
        machining_m: 0.003,
        shrinkage: 0.006,
        head_m: 0.02,
        extra_m3: 0.0,
        waste: 0.0,
    })?;
    let hand = 7390.0 * PI / 8.0 * (0.212f64.powi(2) - 0.193_928f64.powi(2)) * 0.24;
    rows.add(
        "lining",
        "half shell 200 mm, 6 mm thick, 240 mm with its head: mass cast",
        &format!("{hand:.3} kg by hand"),
        format!("{:.3} kg", sheet.cast_kg.unwrap_or(f64::NAN)),
        "volume times density",
        COMPUTED,
    );
    Ok(())
}

fn bearing(rows: &mut Rows) -> Result<(), Box<dyn Error>> {
    let solve = |length_over_diameter, eccentricity_ratio| -> Result<Film, Box<dyn Error>> {
        let problem = FilmProblem {
            length_over_diameter,
            eccentricity_ratio,
            tilt_ratio: 0.0,
            arc: Arc::FullRing,
            thinnest_from_start_rad: 0.0,
        };
        Ok(solve_film(
            &problem,
            &FilmOptions { around: 200, across: 60, ..FilmOptions::default() },
        )?)
    };
    for (l_d, e, s, attitude, friction) in [
        (1.0, 0.2, 0.631, 74.0, 12.8),
        (1.0, 0.6, 0.121, 50.6, 3.22),
        (1.0, 0.8, 0.0446, 36.2, 1.70),
        (0.5, 0.2, 2.03, 74.9, 40.9),
        (0.5, 0.6, 0.319, 48.1, 8.10),
        (0.25, 0.4, 2.83, 60.9, 61.1),
        (0.25, 0.8, 0.261, 31.0, 8.80),
    ] {
        let n = solve(l_d, e)?.numbers;
        rows.add(
            "bearing",
            &format!("L/D {l_d}, e {e}: S, attitude, friction"),
            &format!("{s}, {attitude} deg, {friction}"),
            format!(
                "{:.4}, {:.1} deg, {:.2}",
                n.sommerfeld,
                n.attitude_rad.to_degrees(),
                n.friction_ring
            ),
            "Raimondi & Boyd, Trans. ASLE 1 (1958), part III",
            MEMORY,
        );
    }
    let bearing = JournalBearing {
        journal_diameter_m: 1.5 * INCH,
        length_m: 1.5 * INCH,
        diametral_clearance_m: 0.003 * INCH,
        tilt_m: 0.0,
        arc: Arc::FullRing,
    };
    let duty = SteadyDuty { load_n: 500.0 * LBF, speed_rad_s: 30.0 * TAU };
    let f = film_for_load(&bearing, &duty, 4e-6 * PSI, &JournalOptions::default())?;
    rows.add(
        "bearing",
        "500 lbf, 1.5 by 1.5 in, 1800 rpm, 4 microreyn: film, torque, side flow",
        "0.00063 in, 2.6 lbf in, 0.142 in3/s",
        format!(
            "{:.5} in, {:.2} lbf in, {:.3} in3/s",
            f.minimum_film_m / INCH,
            f.torque_n_m / (LBF * INCH),
            f.side_flow_m3_s / INCH.powi(3)
        ),
        "Shigley, 9th ed., examples 12-1 to 12-4",
        MEMORY,
    );
    rows.add(
        "bearing",
        "short bearing, L/D 1/4, e 0.2: S",
        "7.38",
        format!("{:.2}", dubois_ocvirk_1953(0.2, 0.25)?.sommerfeld),
        "Dubois & Ocvirk, NACA TR 1157 (1953)",
        MEMORY,
    );
    rows.add(
        "bearing",
        "fitted load number, B/D 1, e 0.6",
        "1.297",
        format!("{:.3}", iso_7902_2_load_number(0.6, 1.0)?),
        "ISO 7902-2 / DIN 31652-2",
        MEMORY,
    );
    let d = bearing_duty(&DutyInput {
        load_n: 18_000.0 * LBF,
        diameter_m: 8.0 * INCH,
        length_m: 10.0 * INCH,
        speed_rad_s: 1.0,
    })?;
    rows.add(
        "bearing",
        "18 000 lbf on 8 by 10 in",
        "225 psi",
        format!("{:.1} psi", d.pressure_pa / PSI),
        "W / (d L)",
        COMPUTED,
    );
    // A load of constant amount whose direction turns with the journal, or half as fast.
    for (by, turns, published) in [(1.0, 1.0, "100 %"), (0.5, 2.0, "0 %")] {
        let n = 720u32;
        let step_s = turns * TAU / 20.0 / f64::from(n);
        let steps: Vec<SwingStep> = (0..n)
            .map(|i| {
                let a = by * 20.0 * step_s * f64::from(i);
                SwingStep { along_n: 1e4 * a.cos(), across_n: 1e4 * a.sin(), journal_rad_s: 20.0 }
            })
            .collect();
        let swing = load_swing(&steps, step_s)?;
        rows.add(
            "bearing",
            &format!("load turning at {by} of the journal's speed: wedge left"),
            published,
            format!("{:.0} %", 100.0 * swing.wedge[0]),
            "half-speed whirl: Cameron, Principles of Lubrication; Pinkus & Sternlicht",
            MEMORY,
        );
    }
    Ok(())
}
