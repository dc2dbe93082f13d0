//! Bearing duty and the film.

use super::*;

const OIL: &str = "load-character = \"steady\"\noil-cool = \"220 mm2/s at 40 degC\"\noil-warm = \"19 mm2/s at 100 degC\"\noil-density = \"900 kg/m3\"\noil-heat = \"2000 J/kg K\"\noil-inlet = \"35 degC\"\nair = \"15 degC\"\nsurface-heat = \"25 W/K\"\noil-cooling = \"side flow replaced\"\nfinish-journal = \"0.4 um\"\nfinish-metal = \"0.8 um\"\n";

fn running(more: &str) -> String {
    let duty = format!(
        "[[limit]]\non = \"j\"\nof = \"clearance\"\nwhen = \"service\"\nmax = \"0.9 mm\"\nsource = \"engineer\"\n[[duty]]\nof = \"j\"\nload = \"18000 lbf\"\nlength = \"10 in\"\nturning = \"250 rpm\"\nplace = \"driving axle\"\nload-basis = \"dead load\"\nbearing-metal = \"tin white metal\"\n{more}"
    );
    pair("running", ("journal", "8 in"), ("bore", "203.4 mm"), &duty)
}

/// 18 000 lbf on a journal 8 by 10 in: 225 psi (reference collection, computed); rubbing speed by
/// hand: pi d n.
#[test]
fn projected_pressure_and_speed() {
    let d = of(&judged(&running("")), "j", &[]);
    let b = d.detail.bearing.expect("designed");
    let duty = b.duty.expect("a duty");
    assert!(close(duty.pressure_pa, 225.0 * PSI, 1e-5), "{}", duty.pressure_pa / PSI);
    assert!(close(duty.speed_m_s, PI * 8.0 * INCH * 250.0 / 60.0, 1e-5));
    assert!(b.films.is_empty(), "no oil was given");
    assert!(d.absent.iter().any(|a| a.wants.iter().any(|w| w.starts_with("oil-cool"))));
}

/// The film balances: heat made goes off with the oil and to the air, friction is power over load and
/// speed, and the film is thinner than the clearance leaves.
#[test]
fn the_film_balances() {
    let d = of(&judged(&running(OIL)), "j", &[]);
    let b = d.detail.bearing.expect("designed");
    assert_eq!(b.films.len(), 3);
    for case in &b.films {
        let w = case.film.as_ref().expect("a film");
        assert!(close(w.oil_heat_w + w.surface_heat_w, w.film.power_w, 1e-4));
        let speed = PI * 8.0 * INCH * 250.0 / 60.0;
        let power = w.film.friction_coefficient * 18_000.0 * 4.448_221_615_260_5 * speed;
        assert!(close(w.film.power_w, power, 1e-3), "{} {power}", w.film.power_w);
        assert!(w.film.minimum_film_m < 0.5 * case.clearance_m && w.film.minimum_film_m > 0.0);
    }
    // A load that reverses is not answered for by a steady film, whatever its figures.
    let d = of(&judged(&running(OIL)), "j", &[("load-character", "reversing")]);
    let films = d.detail.bearing.expect("designed").films;
    let verdict = films[0].judged.as_ref().expect("judged").verdict.text();
    assert_eq!(verdict, "cannot tell from a steady film");
}

/// Hot clearance by hand: steel 203.2 and iron bore 203.4 mm at 70 and 60 degC.
#[test]
fn hot_clearance_by_hand() {
    let d =
        of(&judged(&running("journal-hot = \"70 degC\"\nbearing-hot = \"60 degC\"\n")), "j", &[]);
    let hot = d.detail.bearing.expect("designed").hot_m.expect("temperatures were given");
    let expected = 203.4e-3 * (1.0 + 10.5e-6 * 40.0) - 203.2e-3 * (1.0 + 11.5e-6 * 50.0);
    assert!((0.5 * (hot.0 + hot.1) - expected).abs() < 0.1e-6, "{hot:?} {expected}");
    assert!(hot.0 < hot.1);
}

// The demo engine
