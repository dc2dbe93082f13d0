//! Stresses under the load given.

use crate::design::ask::{Ask, because};
use crate::design::shapes::{Design, Line, Of, Section, Standing};
use mechanics::bolt::{self as mb, BoltDesign, BoltLoad, BoltStress, LandRole, LoadMember};

pub(super) fn stress(
    ask: &mut Ask<'_>,
    bolt: &BoltDesign,
    members: &[f64],
    names: &[String],
    out: &mut Design,
) -> Option<BoltStress> {
    let what = "bearing and shear stress";
    let load = ask.one("load");
    let bolts = ask.one("bolts");
    let worst = ask.one("worst-factor");
    let shares = ask.many("member-share");
    let edges = ask.many("member-edge");
    let shear = ask.one("shear-allowed");
    let bearing = ask.one("bearing-allowed");
    let ratio = ask.one("edge-ratio");
    let (
        Some(total_n),
        Some(bolts),
        Some(worst_factor),
        Some(shares),
        Some(edges),
        Some(shear_allowed_pa),
        Some(bearing_allowed_pa),
        Some(edge_ratio_least),
    ) = (load, bolts, worst, shares, edges, shear, bearing, ratio)
    else {
        out.absent.push(ask.absent(what));
        return None;
    };
    if shares.len() != members.len() || edges.len() != members.len() {
        out.absent.push(because(
            what,
            format!(
                "{} shares and {} edges for {} members",
                shares.len(),
                edges.len(),
                members.len()
            ),
        ));
        return None;
    }
    if bolts.fract() != 0.0 || bolts > 1000.0 {
        out.absent.push(because(what, format!("{bolts} bolts is not a count of bolts")));
        return None;
    }
    // The smallest finished land carries the most.
    let land = |i: usize| {
        bolt.lands
            .iter()
            .filter(|l| l.member == i && l.role == LandRole::Fitted)
            .map(|l| l.diameter_min_m)
            .fold(f64::INFINITY, f64::min)
    };
    let input = BoltLoad {
        total_n,
        bolts: bolts as u32,
        worst_factor,
        members: (0..members.len())
            .map(|i| LoadMember {
                share: shares[i],
                land_m: land(i),
                length_m: members[i],
                edge_m: edges[i],
            })
            .collect(),
        shear_allowed_pa,
        bearing_allowed_pa,
        edge_ratio_least,
    };
    match mb::load_bolt(&input) {
        Ok(s) => {
            let mut lines = vec![Line::one("load of the worst bolt", s.bolt_n, Of::Force)];
            for p in &s.planes {
                lines.push(
                    Line::one(
                        format!("shear behind {}", names[p.after_member]),
                        p.shear_pa,
                        Of::Stress,
                    )
                    .good_if(p.shear_pa <= shear_allowed_pa)
                    .note(format!("{:.0} MPa is allowed", 1e-6 * shear_allowed_pa)),
                );
            }
            for (m, name) in s.members.iter().zip(names) {
                lines.push(
                    Line::one(format!("bearing in {name}"), m.bearing_pa, Of::Stress)
                        .good_if(m.bearing_pa <= bearing_allowed_pa)
                        .note(format!(
                            "{:.0} MPa is allowed; edge {:.2} diameters, tear-out {:.1} MPa",
                            1e-6 * bearing_allowed_pa,
                            m.edge_ratio,
                            1e-6 * m.tear_out_pa
                        )),
                );
            }
            if !s.edges_kept {
                lines.push(
                    Line::one(
                        "least edge distance wanted, in diameters",
                        edge_ratio_least,
                        Of::Ratio,
                    )
                    .stands(Standing::Bad),
                );
            }
            out.sections.push(Section::new("stresses under the load given", lines));
            Some(s)
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}
