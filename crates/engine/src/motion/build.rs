//! From the records of the file to a [`MotionModel`], every fault with its place and its mend.

mod fields;
mod records;

use super::model::{Cylinder, Figures, MotionModel};
use crate::description::{CylinderText, Description, MotionText, Sources, Text};
use crate::model::Engine;
use crate::problem::Problem;
use mechanics::motion::{Beats, Contributor, CrankSequence, Leading, Place, crank_lags};
use quantity::{Dimension, Quantity, Taper};
use std::collections::BTreeMap;

/// More than this of one kind is a slip.
const MOST: usize = 1000;

/// Builds the motion of an engine whose features, joints and chains are known.
pub(crate) fn build(
    description: &Description,
    sources: &Sources,
    engine: &Engine,
) -> (MotionModel, Vec<Problem>) {
    let mut b = MotionBuilder { sources, engine, model: MotionModel::default(), found: Vec::new() };
    let head = description.motion.clone().unwrap_or_default();
    b.head(&head);
    for c in description.cylinders.iter().take(MOST) {
        b.cylinder(c);
    }
    b.sequence(&head);
    for a in description.axles.iter().take(MOST) {
        b.axle(a);
    }
    for m in description.turning_masses.iter().take(MOST) {
        b.turning_mass(m);
    }
    for f in description.fatigue.iter().take(MOST) {
        b.fatigue(f);
    }
    for r in description.reaches.iter().take(MOST) {
        b.reach(r);
    }
    for m in description.bumps.iter().take(MOST) {
        b.bump(m);
    }
    for (kind, count) in [
        ("cylinder", description.cylinders.len()),
        ("axle", description.axles.len()),
        ("turning-mass", description.turning_masses.len()),
        ("fatigue", description.fatigue.len()),
        ("reach", description.reaches.len()),
        ("bump", description.bumps.len()),
    ] {
        if count > MOST {
            let what = format!("{count} [[{kind}]] records: those after {MOST} are left out");
            b.fault_file(what, "no engine has so many; look for a file read twice");
        }
    }
    (b.model, b.found)
}

struct MotionBuilder<'a> {
    sources: &'a Sources,
    engine: &'a Engine,
    model: MotionModel,
    found: Vec<Problem>,
}

impl MotionBuilder<'_> {
    fn head(&mut self, m: &MotionText) {
        self.model.sizes = self.sizes(
            "[motion]",
            &[
                ("tyre", &m.tyre),
                ("box-centres", &m.box_centres),
                ("left-box-fore", &m.left_box_fore),
                ("right-box-fore", &m.right_box_fore),
                ("left-box-rise", &m.left_box_rise),
                ("right-box-rise", &m.right_box_rise),
                ("coupling-throw", &m.coupling_throw),
            ],
        );
        let mut figures = Figures::new();
        self.numbers(
            &mut figures,
            &[
                ("pressure", &m.pressure),
                ("back-pressure", &m.back_pressure),
                ("atmosphere", &m.atmosphere),
                ("rod-elastic", &m.rod_elastic),
                ("rod-yield", &m.rod_yield),
            ],
            Dimension::Pressure,
        );
        self.numbers(
            &mut figures,
            &[("rod-ends-sideways", &m.rod_ends_sideways)],
            Dimension::Number,
        );
        self.numbers(
            &mut figures,
            &[
                ("left-coupling-lag", &m.left_coupling_lag),
                ("right-coupling-lag", &m.right_coupling_lag),
            ],
            Dimension::Angle,
        );
        self.shares(
            &mut figures,
            &[
                ("mean-share", &m.mean_share),
                ("clearance-volume", &m.clearance_volume),
                ("release", &m.release),
                ("compression", &m.compression),
                ("balanced", &m.balanced),
            ],
        );
        self.model.figures = figures;
        if let Some(text) = &m.rod_material {
            match self.engine.index.materials.get(text.get_ref().trim()) {
                Some(ix) => self.model.rod_material = Some(*ix),
                None => {
                    let what = format!("there is no material \"{}\"", text.get_ref());
                    self.fault(text, what, "describe it in a [[material]] with its density");
                }
            }
        }
        self.model.rod_source =
            m.rod_source.as_ref().map(|t| t.get_ref().clone()).unwrap_or_default();
    }

    fn cylinder(&mut self, c: &CylinderText) {
        use Contributor as C;
        let clash = c.id.as_ref().is_some_and(|t| {
            let id = t.get_ref().trim();
            self.model.cylinder_by_id(id).is_some()
                || self.engine.feature_by_id(id).is_some()
                || self.engine.joint_by_id(id).is_some()
                || self.engine.chain_by_id(id).is_some()
        });
        let Some(id) = self.id(&c.id, "cylinder", clash) else { return };
        let Some(id_text) = &c.id else { return };
        if id.split(' ').any(|w| w.starts_with(|c: char| c.is_ascii_digit())) {
            let what = format!("the id \"{id}\" of this cylinder begins a word with a figure");
            self.fault(id_text, what, "positions are said as \"left 40 past front\": use words");
            return;
        }
        let places = [
            ("left outside", Place::OutsideLeft),
            ("left inside", Place::InsideLeft),
            ("middle", Place::Middle),
            ("right inside", Place::InsideRight),
            ("right outside", Place::OutsideRight),
        ];
        let Some(place) = self.word(&c.place, &places) else {
            if c.place.is_none() {
                let words: Vec<&str> = places.iter().map(|(w, _)| *w).collect();
                let mend = format!("write place = one of: {}", words.join(", "));
                self.fault(id_text, format!("cylinder \"{id}\" has no place"), mend);
            }
            return;
        };
        let of = format!("cylinder {id}");
        let mut chain = BTreeMap::new();
        for (contributor, name, text) in [
            (C::CylinderLength, "cylinder-length", &c.cylinder_length),
            (C::FrontCoverSpigot, "front-spigot", &c.front_spigot),
            (C::BackCoverSpigot, "back-spigot", &c.back_spigot),
            (C::FrontJoint, "front-joint", &c.front_joint),
            (C::BackJoint, "back-joint", &c.back_joint),
            (C::PistonThickness, "piston-thickness", &c.piston_thickness),
            (C::ConeToPiston, "cone-to-piston", &c.cone_to_piston),
            (C::PinToCone, "pin-to-cone", &c.pin_to_cone),
            (C::RodCentres, "rod-centres", &c.rod_centres),
            (C::BigEndTakeUp, "big-end-take-up", &c.big_end_take_up),
            (C::SmallEndTakeUp, "small-end-take-up", &c.small_end_take_up),
            (C::CrankThrow, "throw", &c.throw),
            (C::LineOffset, "offset", &c.offset),
            (C::AxleToCylinder, "axle-to-cylinder", &c.axle_to_cylinder),
            (C::BigEndSlack, "big-end-slack", &c.big_end_slack),
            (C::SmallEndSlack, "small-end-slack", &c.small_end_slack),
            (C::JournalSlack, "journal-slack", &c.journal_slack),
            (C::HornSlack, "horn-slack", &c.horn_slack),
        ] {
            let Some(text) = text else { continue };
            if let Some(size) = self.size(&format!("{name} of {of}"), text) {
                chain.insert(contributor, size);
            }
        }
        let sizes = self.sizes(
            &of,
            &[
                ("from-middle", &c.from_middle),
                ("bore", &c.bore),
                ("piston-rod", &c.piston_rod),
                ("tail-rod", &c.tail_rod),
                ("rod-balance-point", &c.rod_balance_point),
                ("crank-pin", &c.crank_pin),
                ("big-end-length", &c.big_end_length),
                ("crosshead-pin", &c.crosshead_pin),
                ("small-end-length", &c.small_end_length),
                ("slipper-length", &c.slipper_length),
                ("slipper-width", &c.slipper_width),
                ("rod-depth", &c.rod_depth),
                ("rod-width", &c.rod_width),
                ("rod-flange", &c.rod_flange),
                ("rod-web", &c.rod_web),
            ],
        );
        let masses = self.masses(
            &of,
            &[
                ("piston-mass", &c.piston_mass),
                ("rod-mass", &c.rod_mass),
                ("crank-mass", &c.crank_mass),
            ],
        );
        let told_chains = [&c.front_chain, &c.back_chain].map(|text| {
            let text = text.as_ref()?;
            let found = self.engine.chain_by_id(text.get_ref().trim());
            if found.is_none() {
                let what = format!("there is no chain \"{}\"", text.get_ref());
                self.fault(text, what, "name the [[chain]] that says the same, or take it out");
            }
            found
        });
        let joints = self.joints(&[("slide-bars", &c.slide_bars)]);
        let mut figures = Figures::new();
        self.numbers(&mut figures, &[("slide-friction", &c.slide_friction)], Dimension::Number);
        self.numbers(&mut figures, &[("piston-friction", &c.piston_friction)], Dimension::Force);
        let lag_rad = self.number(&c.lag, Dimension::Angle);
        let incline_rad = c.incline.as_ref().and_then(|t| self.incline(t));
        self.model.cylinders.push(Cylinder {
            name: c.name.as_ref().map_or_else(|| id.clone(), |t| t.get_ref().clone()),
            id,
            place,
            lag_rad,
            incline_rad,
            chain,
            sizes,
            figures,
            masses,
            joints,
            told_chains,
            front_limits: Vec::new(),
            back_limits: Vec::new(),
        });
    }

    /// `1 in 12`, `-1 in 12`, `4 deg`.
    fn incline(&mut self, text: &Text) -> Option<f64> {
        let said = text.get_ref().trim();
        let (sign, rest) = match said.strip_prefix(['-', '\u{2212}']) {
            Some(rest) => (-1.0, rest.trim()),
            None => (1.0, said),
        };
        if let Ok(slope) = Taper::parse(rest) {
            return Some(sign * slope.ratio().atan());
        }
        match Quantity::parse_as(rest, Dimension::Angle) {
            Ok(q) => Some(sign * q.si()),
            Err(e) => {
                let what = format!("\"{said}\" is not an incline: {}", e.reason());
                self.fault(
                    text,
                    what,
                    "write 1 in 12 (12 along the level), or 4 deg 45 min of arc",
                );
                None
            }
        }
    }

    /// Lags of the usual sequences for cylinders that do not say their own.
    fn sequence(&mut self, m: &MotionText) {
        let kinds = [("two inside", 2), ("two outside", 0), ("three", 3), ("four", 4)];
        let Some(kind) = self.word(&m.sequence, &kinds) else { return };
        let sides = [("left", Leading::Left), ("right", Leading::Right)];
        // Left out, the cranks have no angles, and whatever wants them says so.
        let Some(leading) = self.word(&m.leading, &sides) else { return };
        let sequence = match kind {
            2 => CrankSequence::TwoInside { leading },
            0 => CrankSequence::TwoOutside { leading },
            4 => CrankSequence::FourPaired { leading },
            _ => {
                let Some(even) =
                    self.word(&m.beats, &[("even cranks", false), ("even beats", true)])
                else {
                    if let (None, Some(at)) = (&m.beats, &m.sequence) {
                        let what = "three cylinders: the sequence does not say what is even";
                        self.fault(at, what, "write beats = \"even cranks\" or \"even beats\"");
                    }
                    return;
                };
                let incline = |inside: bool| {
                    self.model
                        .cylinders
                        .iter()
                        .find(|c| c.place.is_inside() == inside)
                        .and_then(|c| c.incline_rad)
                        .unwrap_or(0.0)
                };
                let beats = if even {
                    Beats::EvenBeats {
                        middle_incline_rad: incline(true),
                        outside_incline_rad: incline(false),
                    }
                } else {
                    Beats::EvenCranks
                };
                CrankSequence::Three { leading, beats }
            }
        };
        let lags = match crank_lags(sequence) {
            Ok(lags) => lags,
            Err(e) => {
                if let Some(at) = &m.sequence {
                    self.fault(at, e.to_string(), "correct the incline");
                }
                return;
            }
        };
        let mut unplaced = Vec::new();
        for c in self.model.cylinders.iter_mut().filter(|c| c.lag_rad.is_none()) {
            match lags.iter().find(|(place, _)| *place == c.place) {
                Some((_, lag)) => c.lag_rad = Some(*lag),
                None => unplaced.push(c.id.clone()),
            }
        }
        if let (false, Some(at)) = (unplaced.is_empty(), &m.sequence) {
            let what = format!("this sequence has no crank for cylinder {}", unplaced.join(", "));
            self.fault(at, what, "give that cylinder its own lag, or correct its place");
        }
    }
}
