//! Pressure, stress, holding, running and sizing.

use mechanics::press::{
    Assembly, Behaviour, FrictionBand, Geometry, HeatLimit, HeatWanted, HoleChoice, Hypothesis,
    Load, Material, PressError, Range, Running, Section, SizingWanted, Slice, TyreRule,
    assembly_heat, joint_state, loosening_speed_rad_s, loosening_temperature_k, running, size_pin,
    smoothing_loss_m, tyre_shrink_allowance_m,
};

const INCH: f64 = 0.0254;
const PSI: f64 = 6894.757293168361;
const MPA: f64 = 1e6;

/// A material given by its elastic constants alone; yield high enough not to matter.
pub(crate) fn elastic(youngs_pa: f64, poisson: f64) -> Material {
    Material { youngs_pa, poisson, expansion_per_k: 11e-6, density_kg_m3: 7850.0, yield_pa: 10e9 }
}

pub(crate) fn section(d: f64, outer: f64, bore: f64, hub: Material, pin: Material) -> Section {
    Section::new(Geometry { joint_m: d, hub_outer_m: outer, pin_bore_m: bore }, hub, pin).unwrap()
}

fn near(got: f64, expected: f64, relative: f64) {
    assert!((got / expected - 1.0).abs() < relative, "got {got}, expected {expected}");
}

/// PF-01: Norton, Machine Design, 4th ed., Example 10-5 (read in a worked file).
fn norton() -> Section {
    let steel = elastic(30e6 * PSI, 0.28);
    let iron = elastic(14e6 * PSI, 0.28);
    section(0.781 * INCH, 3.0 * INCH, 0.0, iron, steel)
}

#[test]
fn pf_01_norton_example_10_5() {
    let p = norton().pressure_pa(0.0015 * INCH).unwrap();
    assert!((p / PSI - 15_265.0).abs() < 1.0, "{}", p / PSI);
}

/// A worked example on a public page (read; figures rounded there): a solid 50 mm shaft in an 80 mm
/// hub of the same steel, 200 GPa, 0.04 mm of interference: 48.75 MPa, 111.3 MPa of hoop; 40 mm long at
/// friction 0.15: 45.95 kN and 1149 N m.
#[test]
fn a_public_worked_example() {
    let steel = elastic(200e9, 0.3);
    let s = section(0.05, 0.08, 0.0, steel, steel);
    let p = s.pressure_pa(40e-6).unwrap();
    near(p, 48.75e6, 1e-4);
    near(s.stress(p).unwrap().hub_bore.hoop_pa, 111.3e6, 5e-4);
    let parts = vec![Slice { length_m: 0.04, section: s, interference_m: 40e-6 }];
    let holds = Assembly::new(parts, Behaviour::Elastic).unwrap().holding(0.15).unwrap();
    near(holds.axial_n, 45_950.0, 1e-4);
    near(holds.torque_nm, 1149.0, 5e-4);
}

/// PF-02 (computed from PF-01): torque 2 pi r^2 L f p.
#[test]
fn pf_02_torque_before_slip() {
    let slice = Slice { length_m: 1.5 * INCH, section: norton(), interference_m: 0.0015 * INCH };
    let joint = Assembly::new(vec![slice], Behaviour::Elastic).unwrap();
    let lbf_in = |f: f64| joint.holding(f).unwrap().torque_nm / (4.4482216152605 * INCH);
    near(lbf_in(0.15), 3291.0, 3e-4);
    near(lbf_in(0.12), 2633.0, 3e-4);
}

/// PF-03: Budynas & Nisbett, tutorial 3-16 to Shigley, 8th ed. (from memory).
#[test]
fn pf_03_shigley_tutorial() {
    let steel = elastic(30e6 * PSI, 0.29);
    let s = section(INCH, 2.0 * INCH, 0.0, steel, steel);
    let p = s.pressure_pa(0.0023 * INCH).unwrap();
    near(p / PSI, 25_875.0, 1e-9);
    let stress = s.stress(p).unwrap();
    near(stress.hub_bore.hoop_pa / PSI, 43_125.0, 1e-9);
    near(stress.pin_outside.hoop_pa / PSI, -25_875.0, 1e-9);
}

/// PF-04 and PF-05 (computed by an independent script, reference-values).
#[test]
fn pf_04_and_05_metric_cases() {
    let steel = elastic(210e9, 0.3);
    let s = section(0.100, 0.150, 0.0, steel, steel);
    let p = s.pressure_pa(0.100e-3).unwrap();
    near(p, 58.333 * MPA, 1e-5);
    near(s.stress(p).unwrap().hub_bore.hoop_pa, 151.667 * MPA, 1e-5);
    let slice = Slice { length_m: 0.050, section: s, interference_m: 0.100e-3 };
    let joint = Assembly::new(vec![slice], Behaviour::Elastic).unwrap();
    near(joint.holding(0.15).unwrap().torque_nm, 6871.8, 1e-4);

    let steel = elastic(206e9, 0.3);
    let s = section(0.060, 0.120, 0.020, steel, steel);
    let p = s.pressure_pa(0.053e-3).unwrap();
    near(p, 62.389 * MPA, 1e-5);
    let stress = s.stress(p).unwrap();
    near(stress.hub_bore.hoop_pa, 103.981 * MPA, 1e-5);
    near(stress.pin_outside.hoop_pa, -77.986 * MPA, 1e-5);
}

/// Timoshenko, Strength of Materials, Part II, art. 41: cylinders of radii 4, 6 and 8 in shrunk
/// together, 0.005 in on the radius, E = 30e6 psi: p = 4 050 psi; hoop at the bore of the outer
/// 14 500 psi, at the bore of the inner -14 600 psi (from memory).
#[test]
fn timoshenko_built_up_cylinder() {
    let steel = elastic(30e6 * PSI, 0.3);
    let s = section(12.0 * INCH, 16.0 * INCH, 8.0 * INCH, steel, steel);
    let p = s.pressure_pa(2.0 * 0.005 * INCH).unwrap();
    near(p / PSI, 4050.0, 1e-3);
    let stress = s.stress(p).unwrap();
    near(stress.hub_bore.hoop_pa / PSI, 14_500.0, 5e-3);
    near(stress.pin_inside.hoop_pa / PSI, -14_600.0, 5e-3);
}

/// PF-06 (computed): 100 u6, 0.146 mm and 0.050 mm of gap, 11e-6 per K -> 178.2 K.
#[test]
fn pf_06_heat_to_assemble() {
    let steel = elastic(210e9, 0.3);
    let s = section(0.100, 0.180, 0.0, steel, steel);
    let wanted = HeatWanted {
        interference_m: 0.146e-3,
        gap_m: 0.050e-3,
        shop_celsius: 20.0,
        pin_celsius: 20.0,
        cooling_on_the_way_k: 20.0,
        limit: HeatLimit::CaseHardened,
    };
    let heat = assembly_heat(&s, &wanted).unwrap();
    near(heat.hub_rise_k, 178.2, 1e-3);
    near(heat.heat_to_celsius, 20.0 + 178.2 + 20.0, 1e-3);
    assert!(!heat.within_limit && heat.cautions.iter().any(|c| c.contains("above the limit")));
    // Chilling the pin by 100 K takes 100 K off the hub (equal materials, to first order).
    let chilled = HeatWanted { pin_celsius: -80.0, ..wanted };
    let heat = assembly_heat(&s, &chilled).unwrap();
    near(heat.hub_rise_k, 78.2, 5e-3);
    assert!(heat.within_limit && heat.cautions.iter().any(|c| c.contains("liquid nitrogen")));
    // By chilling alone: 0.196 mm in 100 mm is 178 K below 20 degC.
    near(heat.chill_only_celsius.unwrap(), 20.0 - 178.0, 5e-3);
    let far = HeatWanted { interference_m: 0.4e-3, ..wanted };
    assert_eq!(assembly_heat(&s, &far).unwrap().chill_only_celsius, None);
    assert!(assembly_heat(&s, &HeatWanted { gap_m: f64::NAN, ..wanted }).is_err());
}

/// PF-07: American Railway Master Mechanics' table as reprinted in early Machinery's Handbook
/// (from memory), within 0.001 in; the rule of 1/80 in per foot beside it.
#[test]
fn pf_07_tyre_shrinkage() {
    let table = [(38.0, 0.040), (44.0, 0.047), (50.0, 0.053), (56.0, 0.060), (62.0, 0.066)];
    for (size_in, allowance_in) in table.into_iter().chain([(66.0, 0.070)]) {
        let got = tyre_shrink_allowance_m(size_in * INCH, TyreRule::MasterMechanics).unwrap();
        assert!((got / INCH - allowance_in).abs() < 1e-9, "{size_in}: {}", got / INCH);
        // 0.00106 of the diameter gives the table to 0.001 in.
        assert!((0.00106 * size_in - allowance_in).abs() < 1e-3);
        let rule = tyre_shrink_allowance_m(size_in * INCH, TyreRule::EightiethInchPerFoot).unwrap();
        near(rule / INCH, size_in / 12.0 / 80.0, 1e-12);
        assert!((rule / INCH - allowance_in).abs() < 1.8e-3);
    }
    // Dooley, Applied Science for Metal-Workers (read): 68 in -> 68/1000 in.
    let rule = tyre_shrink_allowance_m(68.0 * INCH, TyreRule::ThousandthPerInch).unwrap();
    near(rule / INCH, 0.068, 1e-12);
    let between = tyre_shrink_allowance_m(41.0 * INCH, TyreRule::MasterMechanics).unwrap();
    near(between / INCH, 0.0435, 1e-9);
    for size in [37.9 * INCH, 66.2 * INCH, f64::NAN, -1.0] {
        let refused = tyre_shrink_allowance_m(size, TyreRule::MasterMechanics);
        assert!(matches!(refused, Err(PressError::TyreOutsideRule { .. })));
    }
}

/// A tyre warmed by its brake blocks: a shrinkage of 1 in 1000 on a cold centre is gone at
/// 0.001/11.5e-6 = 87 K (closed form), the centre's stiffness not mattering.
#[test]
fn a_tyre_loosens_when_it_alone_gets_hot() {
    let (tyre, centre) = (Material::steel(500e6), Material::steel(250e6));
    let s = section(1.5, 1.65, 1.3, tyre, centre);
    let shrinkage = tyre_shrink_allowance_m(1.5, TyreRule::ThousandthPerInch).unwrap();
    let rise = loosening_temperature_k(&s, shrinkage, 0.0).unwrap();
    near(rise, 86.96, 1e-3);
    let hot = |hub_rise_k, pin_rise_k| {
        running(&s, shrinkage, Running { hub_rise_k, pin_rise_k, speed_rad_s: 0.0 }).unwrap()
    };
    assert!(hot(rise, 0.0).interference_m.abs() < 1e-12);
    assert_eq!(hot(rise + 1.0, 0.0).pressure_pa, 0.0);
    // The whole wheel warm: nothing is lost.
    assert!(hot(100.0, 100.0).lost_to_heat_m.abs() < 1e-12);
    near(hot(0.5 * rise, 0.0).pressure_pa, 0.5 * s.pressure_pa(shrinkage).unwrap(), 1e-9);
}

/// Kollmann and DIN 7190 (from memory): solid pin of the hub's material,
/// n_g = 2/(pi D) sqrt(2 p/((3+nu)(1-Q^2) rho)), and p falls with the square of the speed.
#[test]
fn speed_loosens_as_din_7190_has_it() {
    let steel = Material::steel(500e6);
    let s = section(0.2, 0.5, 0.0, steel, steel);
    let interference = 0.15e-3;
    let p0 = s.pressure_pa(interference).unwrap();
    let q2 = (0.2f64 / 0.5).powi(2);
    let n_g = 2.0 / (std::f64::consts::PI * 0.5)
        * (2.0 * p0 / ((3.0 + 0.3) * (1.0 - q2) * 7850.0)).sqrt();
    let w_g = loosening_speed_rad_s(&s, interference).unwrap().unwrap();
    near(w_g, 2.0 * std::f64::consts::PI * n_g, 1e-12);
    let half = Running { hub_rise_k: 0.0, pin_rise_k: 0.0, speed_rad_s: 0.5 * w_g };
    near(running(&s, interference, half).unwrap().pressure_pa, 0.75 * p0, 1e-12);
}

/// Thin rotating ring: hoop stress rho v^2 (closed form), within the ring's thickness.
#[test]
fn a_thin_rotating_ring_has_rho_v_squared() {
    let steel = Material::steel(500e6);
    let s = section(1.0, 1.002, 0.5, steel, steel);
    let how = Running { hub_rise_k: 0.0, pin_rise_k: 0.0, speed_rad_s: 100.0 };
    // No interference at all: the ring runs free.
    let free = running(&s, 0.0, how).unwrap();
    near(free.hub_bore_hoop_pa, 7850.0 * (100.0f64 * 0.5005).powi(2), 3e-3);
}

/// DIN 7190-1 (from memory): loss 0.8 (Rz_a + Rz_i); Rz 10 and 6.3 µm -> 13.04 µm.
#[test]
fn smoothing_of_turned_surfaces() {
    near(smoothing_loss_m(10e-6, 6.3e-6).unwrap(), 13.04e-6, 1e-12);
    assert!(smoothing_loss_m(10.0, 6.3).is_err(), "micrometres given for metres");
}

/// DIN 7190-1 elastic limits (from memory): hub R (1-Q^2)/sqrt 3, solid pin 2 R/sqrt 3, hollow
/// R (1-q^2)/sqrt 3; and each hypothesis reaches yield at its own limit pressure.
#[test]
fn yield_limits_are_where_the_equivalent_stress_is_yield() {
    let (hub, pin) = (Material::steel(300e6), Material::steel(400e6));
    let s = section(0.1, 0.2, 0.04, hub, pin);
    near(s.hub_yield_pressure_pa(Hypothesis::ModifiedTresca), 300e6 * 0.75 / 3f64.sqrt(), 1e-12);
    let solid = section(0.1, 0.2, 0.0, hub, pin);
    near(solid.pin_yield_pressure_pa(Hypothesis::ModifiedTresca), 2.0 * 400e6 / 3f64.sqrt(), 1e-12);
    for by in [Hypothesis::Tresca, Hypothesis::ModifiedTresca, Hypothesis::VonMises] {
        let p = s.hub_yield_pressure_pa(by);
        near(s.stress(p).unwrap().hub_bore.equivalent_pa(by), 300e6, 1e-12);
        let p = s.pin_yield_pressure_pa(by);
        near(s.stress(p).unwrap().pin_inside.equivalent_pa(by), 400e6, 1e-12);
        let p = solid.pin_yield_pressure_pa(by);
        near(solid.stress(p).unwrap().pin_inside.equivalent_pa(by), 400e6, 1e-12);
    }
}

/// DIN 7190-1 elastic-plastic (from memory): with a solid pin of the hub's constants
/// xi = 2 zeta^2 R/(sqrt 3 E) and 2 ln zeta - (Q zeta)^2 + 1 = sqrt 3 p/R.
#[test]
fn din_7190_plastic_zone() {
    let (hub, pin) = (Material::steel(250e6), Material::steel(600e6));
    let s = section(0.1, 0.2, 0.0, hub, pin);
    for zeta in [1.05f64, 1.2, 1.5, 1.9] {
        let xi = 2.0 * zeta * zeta * 250e6 / (3f64.sqrt() * 206e9);
        let state = joint_state(&s, xi * 0.1).unwrap();
        assert_eq!(state.range, Range::HubPartlyPlastic);
        assert!(state.within_din_scope);
        near(state.plastic_diameter_m, zeta * 0.1, 1e-9);
        let left = 2.0 * zeta.ln() - (0.5 * zeta).powi(2) + 1.0;
        near(3f64.sqrt() * state.pressure_pa / 250e6, left, 1e-9);
        near(state.plastic_share, (zeta * zeta - 1.0) * 0.25 / 0.75, 1e-9);
    }
    // Wholly plastic, D/d = 2: p = (2/sqrt 3) R ln 2 (Hill 1950, ch. V; from memory) and no
    // further.
    let last = 2.0 * 4.0 * 250e6 / (3f64.sqrt() * 206e9) * 0.1;
    near(
        joint_state(&s, last * (1.0 - 1e-9)).unwrap().pressure_pa,
        2.0 / 3f64.sqrt() * 250e6 * 2f64.ln(),
        1e-6,
    );
    let beyond = joint_state(&s, last * 1.001);
    assert!(matches!(beyond, Err(PressError::HubFullyPlastic { .. })), "{beyond:?}");
    // A thick hub stops at p = 2 R/sqrt 3 (DIN 7190-1, D/d above e).
    let thick = section(0.1, 0.5, 0.0, hub, pin);
    let k = 2.0 * 250e6 / 3f64.sqrt();
    let mut greatest: f64 = 0.0;
    for i in 1..400 {
        if let Ok(state) = joint_state(&thick, f64::from(i) * 5e-6) {
            greatest = greatest.max(state.pressure_pa);
        }
    }
    assert!(greatest <= k * (1.0 + 1e-9) && greatest > 0.98 * k, "{greatest} {k}");
    // A weak pin gives before the hub.
    let weak = section(0.1, 0.2, 0.06, hub, Material::steel(100e6));
    assert!(matches!(joint_state(&weak, 0.2e-3), Err(PressError::PinYields { .. })));
}

/// The extension to hollow pins and other materials, against a numerical integration of
/// equilibrium and of the area strain through the plastic zone (fourth-order Runge-Kutta).
#[test]
fn plastic_zone_by_numerical_integration() {
    let hub = Material { youngs_pa: 110e9, poisson: 0.27, ..Material::steel(180e6) };
    let pin = Material::steel(700e6);
    let s = section(0.1, 0.22, 0.03, hub, pin);
    for interference in [0.22e-3, 0.3e-3, 0.4e-3] {
        let state = joint_state(&s, interference).unwrap();
        assert_eq!(state.range, Range::HubPartlyPlastic);
        assert!(!state.within_din_scope);
        let k = 2.0 * 180e6 / 3f64.sqrt();
        let (a, b, c) = (0.05, 0.11, 0.5 * state.plastic_diameter_m);
        // From the front inwards: y = (radial stress, displacement).
        let q2 = (c / b) * (c / b);
        let pc = 0.5 * k * (1.0 - q2);
        let mut sr = -pc;
        let mut u = c * pc / 110e9 * ((1.0 + q2) / (1.0 - q2) + 0.27);
        let slope =
            |r: f64, sr: f64, u: f64| (k / r, (1.0 - 0.27) / 110e9 * (2.0 * sr + k) - u / r);
        let steps = 2000;
        let h = (a - c) / f64::from(steps);
        for i in 0..steps {
            let r = c + h * f64::from(i);
            let (s1, u1) = slope(r, sr, u);
            let (s2, u2) = slope(r + 0.5 * h, sr + 0.5 * h * s1, u + 0.5 * h * u1);
            let (s3, u3) = slope(r + 0.5 * h, sr + 0.5 * h * s2, u + 0.5 * h * u2);
            let (s4, u4) = slope(r + h, sr + h * s3, u + h * u3);
            sr += h / 6.0 * (s1 + 2.0 * s2 + 2.0 * s3 + s4);
            u += h / 6.0 * (u1 + 2.0 * u2 + 2.0 * u3 + u4);
        }
        near(-sr, state.pressure_pa, 1e-9);
        let i2 = 0.3f64 * 0.3;
        let pin_closes = a * state.pressure_pa / 206e9 * ((1.0 + i2) / (1.0 - i2) - 0.3);
        near(2.0 * (u + pin_closes), interference, 1e-9);
    }
}

fn sizing() -> SizingWanted {
    SizingWanted {
        joint_m: 0.060,
        slices: vec![(0.030, 0.100, 0.0), (0.050, 0.140, 0.0)],
        hub: Material::steel(280e6),
        pin: Material::steel(450e6),
        load: Load { axial_n: 20e3, torque_nm: 800.0 },
        slip_safety: 1.5,
        yield_safety: 1.2,
        hypothesis: Hypothesis::ModifiedTresca,
        plastic_share: 0.0,
        friction: FrictionBand::OILED_STEEL,
        hub_rz_m: 6.3e-6,
        pin_rz_m: 4e-6,
        running: Running { hub_rise_k: 10.0, pin_rise_k: 0.0, speed_rad_s: 50.0 },
        hole: HoleChoice::AsMeasured { min_m: 0.060005, max_m: 0.060013 },
        guard_m: 1e-6,
    }
}

/// The ends of the band, put back through the forward functions: at the least interference the
/// joint holds with exactly the factor asked, at the greatest it reaches yield over the factor.
#[test]
fn sizing_ends_are_where_the_forward_sums_say() {
    let wanted = sizing();
    let sized = size_pin(&wanted).unwrap();
    assert!(sized.pin_m.0 < sized.pin_m.1, "{sized:?}");
    near(sized.slip_safety.unwrap(), 1.5, 1e-9);
    // Forward, at the smallest pin in the largest hole, guard taken back off.
    let least = sized.pin_m.0 - 1e-6 - 0.060013;
    near(least, sized.interference_min_m, 1e-9);
    let slices = wanted.slices.iter().map(|&(length_m, outer, bore)| {
        let section = section(0.060, outer, bore, wanted.hub, wanted.pin);
        let at_rest = least - 0.8 * 10.3e-6;
        let interference_m = running(&section, at_rest, wanted.running).unwrap().interference_m;
        Slice { length_m, section, interference_m }
    });
    let joint = Assembly::new(slices.collect(), Behaviour::Elastic).unwrap();
    near(joint.slip_safety(wanted.load, 0.05).unwrap().unwrap(), 1.5, 1e-6);
    // At the greatest: the stiffest slice is at yield over 1.2.
    near(sized.hub_equivalent_pa, 280e6 / 1.2, 1e-3);
    near(sized.pin_m.1 + 1e-6 - 0.060005, sized.interference_max_m, 1e-9);
    // More duty, more interference; none at all, none.
    let mut heavy = wanted.clone();
    heavy.load.torque_nm = 1000.0;
    assert!(size_pin(&heavy).unwrap().interference_min_m > sized.interference_min_m);
    // An allowed plastic share widens the band upwards.
    let mut plastic = wanted.clone();
    plastic.plastic_share = 0.2;
    plastic.running.speed_rad_s = 0.0;
    let wide = size_pin(&plastic).unwrap();
    assert!(wide.interference_max_m > sized.interference_max_m);
}

#[test]
fn sizing_refuses_what_cannot_be() {
    let wanted = sizing();
    let mut heavy = wanted.clone();
    heavy.load.torque_nm = 50e3;
    match size_pin(&heavy) {
        Err(PressError::NoBand { needed_m, allowed_m }) => assert!(needed_m > allowed_m),
        other => panic!("{other:?}"),
    }
    let mut spread = wanted.clone();
    spread.hole = HoleChoice::AsMeasured { min_m: 0.060000, max_m: 0.060150 };
    assert!(matches!(size_pin(&spread), Err(PressError::HoleTooSpread { .. })));
    let mut far = wanted.clone();
    far.hole = HoleChoice::AsMeasured { min_m: 0.0602, max_m: 0.0702 };
    assert!(size_pin(&far).is_err());
    for bad in [f64::NAN, 0.5, -1.0] {
        assert!(size_pin(&SizingWanted { slip_safety: bad, ..wanted.clone() }).is_err());
        assert!(size_pin(&SizingWanted { plastic_share: bad, ..wanted.clone() }).is_err());
    }
    let none = size_pin(&SizingWanted { slices: vec![], ..wanted.clone() });
    assert!(matches!(none, Err(PressError::TooFew { .. })));
    // A speed with a yielding hub is refused rather than guessed.
    assert!(size_pin(&SizingWanted { plastic_share: 0.1, ..wanted }).is_err());
}
