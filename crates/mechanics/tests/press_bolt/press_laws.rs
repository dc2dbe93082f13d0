//! Laws that hold for any pressed joint: balance, limits, joins, sums, symmetry.

use mechanics::press::{
    Assembly, Behaviour, Geometry, Hypothesis, Load, Material, Range, Running, Section, Slice,
    TyreRule, joint_state, loosening_speed_rad_s, running, tyre_shrink_allowance_m,
};
use proptest::prelude::*;

use super::press::{elastic, section};

fn any_section() -> impl Strategy<Value = Section> {
    (0.02f64..0.4, 1.02f64..4.0, 0.0f64..0.95, 60e9f64..220e9, 60e9f64..220e9, 0.2f64..0.4)
        .prop_map(|(d, ratio, bore, e_hub, e_pin, nu)| {
            let bore = if bore < 0.2 { 0.0 } else { bore * d };
            section(d, ratio * d, bore, elastic(e_hub, nu), elastic(e_pin, 0.6 - nu))
        })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    /// Pressure rises with interference, and the inverse gives it back.
    #[test]
    fn pressure_is_monotone_and_invertible(s in any_section(), i in 1e-6f64..1e-3) {
        let p = s.pressure_pa(i).unwrap();
        prop_assert!(s.pressure_pa(1.01 * i).unwrap() > p);
        prop_assert!((s.interference_m(p).unwrap() / i - 1.0).abs() < 1e-12);
        prop_assert_eq!(s.pressure_pa(-i).unwrap(), 0.0);
    }

    /// Force balance: half the ring is held by the hoop stress over both cut walls, so the
    /// integral of the hoop stress through the wall is p d/2, in the hub and in the pin.
    #[test]
    fn hoop_stress_balances_the_pressure(s in any_section(), p in 1e6f64..1e9) {
        let g = s.geometry();
        let stress = s.stress(p).unwrap();
        // Lamé: hoop = A + B/r^2 through its two surface values.
        let wall = |r1: f64, r2: f64, s1: f64, s2: f64| {
            let b = (s1 - s2) / (1.0 / (r1 * r1) - 1.0 / (r2 * r2));
            let a = s1 - b / (r1 * r1);
            a * (r2 - r1) + b * (1.0 / r1 - 1.0 / r2)
        };
        let (a, b) = (0.5 * g.joint_m, 0.5 * g.hub_outer_m);
        let hub = wall(a, b, stress.hub_bore.hoop_pa, stress.hub_outside.hoop_pa);
        prop_assert!((hub / (p * a) - 1.0).abs() < 1e-9);
        if g.pin_bore_m > 0.0 {
            let i = 0.5 * g.pin_bore_m;
            let pin = wall(i, a, stress.pin_inside.hoop_pa, stress.pin_outside.hoop_pa);
            prop_assert!((pin / (-p * a) - 1.0).abs() < 1e-9);
        }
    }

    /// A thin ring on a far stiffer pin: p = E (delta/d) 2 t/d, the boiler formula.
    #[test]
    fn lame_reduces_to_the_thin_ring(d in 0.1f64..2.0, i in 1e-5f64..1e-3) {
        let t = 0.0005 * d;
        let s = section(d, d + 2.0 * t, 0.0, elastic(200e9, 0.3), elastic(1e18, 0.3));
        let thin = 200e9 * i / d * 2.0 * t / d;
        prop_assert!((s.pressure_pa(i).unwrap() / thin - 1.0).abs() < 2e-3);
    }

    /// A bore going to nothing: the pin's outside becomes that of a solid pin; and a boundless
    /// solid hub of the same material has p = E delta/(2 d).
    #[test]
    fn lame_reduces_to_solid(d in 0.02f64..0.4, i in 1e-6f64..1e-3) {
        let m = elastic(206e9, 0.3);
        let solid = section(d, 2.0 * d, 0.0, m, m).pressure_pa(i).unwrap();
        let pierced = section(d, 2.0 * d, 1e-6 * d, m, m).pressure_pa(i).unwrap();
        prop_assert!((pierced / solid - 1.0).abs() < 1e-9);
        let boundless = section(d, 1e6 * d, 0.0, m, m).pressure_pa(i).unwrap();
        prop_assert!((boundless / (206e9 * i / (2.0 * d)) - 1.0).abs() < 1e-9);
    }

    /// The elastic-plastic range joins the elastic at first yield, in value and without a fall.
    #[test]
    fn ranges_join_at_first_yield(
        ratio in 1.05f64..4.0, bore in 0.0f64..0.6, e_pin in 100e9f64..210e9,
    ) {
        let hub = Material::steel(250e6);
        let pin = Material { youngs_pa: e_pin, ..Material::steel(5e9) };
        let s = section(0.1, 0.1 * ratio, if bore < 0.1 { 0.0 } else { 0.1 * bore }, hub, pin);
        let limit = s.hub_yield_pressure_pa(Hypothesis::ModifiedTresca);
        let at = s.interference_m(limit).unwrap();
        let below = joint_state(&s, at * (1.0 - 1e-7)).unwrap();
        let above = joint_state(&s, at * (1.0 + 1e-7)).unwrap();
        prop_assert_eq!(below.range, Range::Elastic);
        prop_assert_eq!(above.range, Range::HubPartlyPlastic);
        prop_assert!((above.pressure_pa / below.pressure_pa - 1.0).abs() < 1e-6);
        prop_assert!((above.plastic_diameter_m / 0.1 - 1.0).abs() < 1e-5);
        // Beyond it the pressure is below what elasticity would give, and still rises.
        let further = joint_state(&s, at * 1.01);
        if let Ok(further) = further {
            prop_assert!(further.pressure_pa <= s.pressure_pa(at * 1.01).unwrap());
            prop_assert!(further.pressure_pa >= above.pressure_pa);
        }
    }

    /// Cutting a joint into slices changes nothing; the sum of the parts is the whole.
    #[test]
    fn slices_sum(s in any_section(), i in 1e-6f64..1e-3, cut in 0.05f64..0.95, f in 0.02f64..0.3) {
        let slice = |length_m| Slice { length_m, section: s, interference_m: i };
        let whole = Assembly::new(vec![slice(0.1)], Behaviour::Elastic).unwrap();
        let parts =
            Assembly::new(vec![slice(0.1 * cut), slice(0.1 * (1.0 - cut))], Behaviour::Elastic)
                .unwrap();
        let (a, b) = (whole.holding(f).unwrap(), parts.holding(f).unwrap());
        prop_assert!((a.axial_n / b.axial_n - 1.0).abs() < 1e-12);
        prop_assert!((a.torque_nm / b.torque_nm - 1.0).abs() < 1e-12);
        // Torque is the axial force at the radius; a load at its own slip has factor 1.
        prop_assert!((a.torque_nm / (a.axial_n * 0.5 * s.geometry().joint_m) - 1.0).abs() < 1e-12);
        let load = Load { axial_n: 0.6 * a.axial_n, torque_nm: 0.8 * a.torque_nm };
        let safety = whole.slip_safety(load, f).unwrap().unwrap();
        prop_assert!((safety - 1.0).abs() < 1e-12);
    }

    /// Roles reversed: it does not matter which member carries the interference, nor that both
    /// are scaled together (pressure depends on ratios alone).
    #[test]
    fn only_ratios_matter(s in any_section(), i in 1e-6f64..1e-3, scale in 0.1f64..10.0) {
        let g = s.geometry();
        let scaled = section(
            g.joint_m * scale, g.hub_outer_m * scale, g.pin_bore_m * scale, s.hub(), s.pin(),
        );
        let (a, b) = (s.pressure_pa(i).unwrap(), scaled.pressure_pa(i * scale).unwrap());
        prop_assert!((a / b - 1.0).abs() < 1e-9);
    }

    /// No figure makes it panic.
    #[test]
    fn odd_figures_are_refused(
        d in proptest::num::f64::ANY, o in proptest::num::f64::ANY, i in proptest::num::f64::ANY,
    ) {
        let geometry = Geometry { joint_m: d, hub_outer_m: o, pin_bore_m: 0.0 };
        let m = Material::steel(300e6);
        if let Ok(s) = Section::new(geometry, m, m) {
            let _ = s.pressure_pa(i);
            let _ = joint_state(&s, i);
            let _ = running(&s, i, Running { hub_rise_k: d, pin_rise_k: o, speed_rad_s: i });
            let _ = loosening_speed_rad_s(&s, i);
        }
        let _ = tyre_shrink_allowance_m(d, TyreRule::MasterMechanics);
    }
}
