//! Force to drive the bolt home and to draw it.

use crate::design::ask::{Ask, because};
use crate::design::shapes::{Design, Line, Of, Section};
use mechanics::bolt::{
    self as mb, BoltDesign, DriveInput, DriveMember, DriveResult, HoleForm, Jack,
};
use mechanics::press::{Behaviour, FrictionBand, smoothing_loss_m};

pub(super) fn drive(
    ask: &mut Ask<'_>,
    bolt: &BoltDesign,
    holes: &[HoleForm],
    u_m: f64,
    out: &mut Design,
) -> Option<DriveResult> {
    let what = "force to drive and to draw the bolt";
    let joint = ask.judgement.engine().joint(ask.joint);
    let outer = ask.many("member-outer");
    let rough = (ask.one("roughness-outer"), ask.one("roughness-inner"));
    let breakaway = ask.one("breakaway");
    let bolt_material = ask.strength_of(joint.inner);
    let named = ask.maybe_texts("member-materials");
    let materials: Vec<_> = (0..holes.len())
        .map(|i| match named.and_then(|n| n.get(i)) {
            Some(name) => ask.strength_named(name),
            None => ask.strength_of(joint.outer),
        })
        .collect();
    let friction = ask.friction_band(FrictionBand::OILED_STEEL, "steel driven in oil or tallow");
    let jack = match (ask.maybe("jack-area"), ask.maybe("jack-rating")) {
        (Some(area_m2), Some(rated_pa)) => Some(Jack { area_m2, rated_pa }),
        _ => None,
    };
    let (Some(outer), (Some(outer_rz), Some(inner_rz)), Some(breakaway), Some(bolt_material)) =
        (outer, rough, breakaway, bolt_material)
    else {
        out.absent.push(ask.absent(what));
        return None;
    };
    let Some(materials) = materials.into_iter().collect::<Option<Vec<_>>>() else {
        out.absent.push(ask.absent(what));
        return None;
    };
    if outer.len() != holes.len() {
        out.absent.push(because(
            what,
            format!("member-outer lists {} rings for {} members", outer.len(), holes.len()),
        ));
        return None;
    }
    let loss = match smoothing_loss_m(outer_rz, inner_rz) {
        Ok(loss) => loss,
        Err(e) => {
            out.absent.push(because(what, e));
            return None;
        }
    };
    let input = DriveInput {
        members: holes
            .iter()
            .zip(outer)
            .zip(materials)
            .map(|((hole, outer_m), material)| DriveMember {
                hole: hole.clone(),
                outer_m: *outer_m,
                material,
                gap_after_m: 0.0,
            })
            .collect(),
        bolt_material,
        friction,
        smoothing_loss_m: loss,
        interference_u_m: u_m,
        behaviour: Behaviour::Elastic,
        breakaway,
        jack,
    };
    match mb::drive_bolt(bolt, &input) {
        Ok(drive) => {
            let home = drive.curve.home;
            let mut lines = vec![Line::spread(
                "force to drive it home",
                (home.low_n, home.likely_n, home.high_n),
                Of::Force,
            )];
            if let Some(grips) = drive.grips_before_home_m {
                lines.push(Line::one("may grip before home by", grips, Of::Length));
            }
            lines.push(Line::spread("force to start it out", drive.draw_n, Of::Force));
            if let Some(p) = drive.jack_pa {
                let covers = drive.jack_covers == Some(true);
                lines.push(Line::spread("jack for that", p, Of::Jack).good_if(covers).note(
                    if covers { "within the jack's rating" } else { "above the jack's rating" },
                ));
            }
            lines.push(Line::one("interference lost to smoothing", loss, Of::Film));
            out.sections.push(Section::new("driving and drawing", lines));
            for text in &drive.cautions {
                out.caution(*text);
            }
            Some(drive)
        }
        Err(e) => {
            out.absent.push(because(what, e));
            None
        }
    }
}
