//! Lifts and simple solids.

use super::super::model::{Draw, JackAt, Jacks, Lift, PartSolid, Slide, Sling};
use super::{MOST, Reader};
use crate::description::{Description, DrawText, LiftText, SlideText, Text};
use mechanics::lifting::{FourLegRule, Size, Solid};
use quantity::{Dimension, Quantity, Taper};

impl Reader<'_> {
    pub(super) fn solids(&mut self, d: &Description) {
        for s in d.solids.iter().take(MOST) {
            let Some(id) = s.id.as_ref() else {
                self.fault_file("a [[solid]] has no id", "give every [[solid]] an id = \"...\"");
                continue;
            };
            let Some(of_text) = &s.of else {
                self.fault(id, "this solid belongs to no part", "write of = \"PART\"");
                continue;
            };
            let Some(of) = self.part(of_text) else { continue };
            let material = match &s.material {
                Some(t) => self.engine.materials.iter().position(|m| m.id == t.get_ref().trim()),
                None => self.engine.part(of).material.map(|m| m.index()),
            };
            let material = material
                .filter(|m| self.engine.materials[*m].density_kg_m3.is_some())
                .map(crate::model::MaterialIx::new);
            let Some(material) = material else {
                self.fault(
                    s.material.as_ref().unwrap_or(id),
                    "this solid is of no material whose density is known",
                    "name a [[material]] with a density",
                );
                continue;
            };
            let doubt = self.optional(&s.doubt, Dimension::Length, (0.0, 1.0)).unwrap_or(0.0);
            let size = |r: &mut Self, t: &Option<Text>| {
                r.optional(t, Dimension::Length, (1e-4, 50.0)).map(|m| Size::new(m, doubt))
            };
            let length = size(self, &s.length);
            let (width, height) = (size(self, &s.width), size(self, &s.height));
            let (outer, inner) = (size(self, &s.outer), size(self, &s.inner));
            let arc = self.optional(&s.arc, Dimension::Angle, (0.01, std::f64::consts::TAU));
            let solid = match (Self::say(&s.shape).as_str(), length) {
                ("bar", Some(length)) => {
                    width.zip(height).map(|(width, height)| Solid::Bar { length, width, height })
                }
                ("cylinder", Some(length)) => {
                    outer.map(|diameter| Solid::Cylinder { diameter, length })
                }
                ("tube", Some(length)) => {
                    outer.zip(inner).map(|(outer, inner)| Solid::Tube { outer, inner, length })
                }
                ("cone", Some(length)) => {
                    outer.zip(inner).map(|(first, last)| Solid::Cone { first, last, length })
                }
                ("ring", Some(length)) => {
                    outer.zip(inner).zip(arc).map(|((outer, inner), arc_rad)| Solid::RingSector {
                        outer,
                        inner,
                        length,
                        arc_rad,
                    })
                }
                _ => None,
            };
            let Some(solid) = solid else {
                self.fault(
                    s.shape.as_ref().unwrap_or(id),
                    "this solid has no shape known here, or lacks a size of it",
                    "bar: length, width, height; cylinder: length, outer; tube, cone: length, outer, inner; ring: length, outer, inner, arc",
                );
                continue;
            };
            let at_m = self.place_m(&s.at, "at").unwrap_or_default();
            let mut turned_rad = [0.0; 3];
            if let Some(list) = &s.turned {
                if list.len() != 3 {
                    self.fault(id, "turned has not three angles", "write about x, y and z");
                }
                for (slot, t) in turned_rad.iter_mut().zip(list) {
                    *slot = self.number(t, Dimension::Angle, (-6.3, 6.3)).unwrap_or(0.0);
                }
            }
            let (hole, doubt_m) = (Self::yes(&s.hole), doubt);
            self.model.solids.push(PartSolid {
                of,
                solid,
                at_m,
                turned_rad,
                hole,
                material,
                doubt_m,
            });
        }
    }

    pub(super) fn lifts(&mut self, d: &Description) {
        for l in d.lifts.iter().take(MOST) {
            let taken: Vec<String> = self.model.lifts.iter().map(|l| l.id.clone()).collect();
            let Some(id) = self.id(&l.id, "lift", &taken) else { continue };
            if let Some(lift) = self.lift(l, id) {
                self.model.lifts.push(lift);
            }
        }
    }

    fn lift(&mut self, l: &LiftText, id: String) -> Option<Lift> {
        let at = l.id.as_ref()?;
        let parts = self.part_list(&l.parts);
        if parts.is_empty() {
            self.fault(at, format!("lift \"{id}\" has no parts"), "write parts = [\"...\"]");
            return None;
        }
        let and_kg = self.optional(&l.and, Dimension::Mass, (0.0, 1e6)).unwrap_or(0.0);
        let box_m = match (&l.box_from, &l.box_to) {
            (Some(_), Some(_)) => {
                let from = self.place_m(&l.box_from, "box-from")?;
                Some([from, self.place_m(&l.box_to, "box-to")?])
            }
            _ => None,
        };
        let sling = match &l.eyes {
            Some(eyes) => Some(self.sling(l, eyes)?),
            None => None,
        };
        let slide = match &l.slide {
            Some(s) => Some(self.slide(at, s)?),
            None => None,
        };
        let draw = match &l.draw {
            Some(d) => Some(self.draw(at, d)?),
            None => None,
        };
        let jacks = match &l.jack {
            Some(_) => Some(self.jacks(l)?),
            None => None,
        };
        if sling.is_none() && slide.is_none() && draw.is_none() && jacks.is_none() {
            self.fault(
                at,
                format!("lift \"{id}\" says not how"),
                "write eyes and legs, a slide, a draw or jacks; see docs/works.md",
            );
            return None;
        }
        Some(Lift {
            name: l.name.as_ref().map_or_else(|| id.clone(), |t| t.get_ref().trim().to_owned()),
            id,
            parts,
            and_kg,
            balance_m: self.place_m(&l.balance, "balance"),
            balance_doubt_m: self
                .place_m(&l.balance_doubt, "balance-doubt")
                .unwrap_or_default()
                .map(f64::abs),
            mass_doubt_kg: self.optional(&l.mass_doubt, Dimension::Mass, (0.0, 1e6)),
            datum: Self::say(&l.datum),
            box_m,
            sling,
            slide,
            draw,
            jacks,
            note: Self::say(&l.note),
        })
    }

    fn sling(&mut self, l: &LiftText, eyes: &[Vec<Text>]) -> Option<Sling> {
        let at = l.id.as_ref()?;
        let mut eyes_m = Vec::new();
        for eye in eyes {
            eyes_m.push(self.place_m(&Some(eye.clone()), "an eye")?);
        }
        let mut legs_m = Vec::new();
        for t in l.legs.iter().flatten() {
            legs_m.push(self.number(t, Dimension::Length, (0.01, 100.0))?);
        }
        if legs_m.len() == 1 {
            legs_m = vec![legs_m[0]; eyes_m.len()];
        }
        if eyes_m.is_empty() || eyes_m.len() > 4 || legs_m.len() != eyes_m.len() {
            let what = format!("{} eyes and {} legs", eyes_m.len(), legs_m.len());
            self.fault(at, what, "one to four eyes, and a leg for each or one length for all");
            return None;
        }
        let Some(rated) = &l.rated else {
            self.fault(
                at,
                "the gear has no rating",
                "write rated = \"1 t\", the working load limit of one straight leg from its tag",
            );
            return None;
        };
        let rated_kg = self.number(rated, Dimension::Mass, (0.1, 1e6))?;
        let choked = match Self::say(&l.hitch).as_str() {
            "" | "straight" => false,
            "choked" => true,
            other => {
                let what = format!("\"{other}\" is no hitch");
                self.fault(l.hitch.as_ref().unwrap_or(at), what, "use one of: straight, choked");
                return None;
            }
        };
        Some(Sling {
            eyes_m,
            legs_m,
            gear: Self::say(&l.gear),
            rated_kg,
            choked,
            edge: self.optional(&l.edge, Dimension::Number, (0.1, 1.0)).unwrap_or(1.0),
            // Five degrees: common practice for a part that must stay about level.
            most_tilt_rad: self
                .optional(&l.most_tilt, Dimension::Angle, (0.0, 3.15))
                .unwrap_or_else(|| 5.0_f64.to_radians()),
            four: FourLegRule::OnTwo,
        })
    }

    fn slide(&mut self, at: &Text, s: &SlideText) -> Option<Slide> {
        let (Some(seat_m), Some(fit_m)) =
            (self.pair_m(&s.seat, "seat"), self.pair_m(&s.fit, "fit"))
        else {
            self.fault(
                at,
                "a slide needs seat and fit",
                "write seat = [\"0 in\", \"4 in\"] and fit likewise",
            );
            return None;
        };
        let Some(friction) = self.three(&s.friction, Dimension::Number, (0.0, 2.0)) else {
            self.fault(at, "a slide needs its friction", "write friction = \"0.08; 0.12; 0.2\"");
            return None;
        };
        let length =
            |r: &mut Self, t: &Option<Text>| r.optional(t, Dimension::Length, (-50.0, 50.0));
        let hands = match length(self, &s.hands) {
            Some(at) => {
                // A person's push over a shift, common practice.
                let most = self.optional(&s.hands_most, Dimension::Force, (0.0, 2000.0));
                Some((at, most.unwrap_or(200.0)))
            }
            None => None,
        };
        let incline_rad = match &s.incline {
            Some(t) => self.slope(t)?,
            None => 0.0,
        };
        Some(Slide {
            seat_m,
            fit_m,
            ends_m: self.pair_m(&s.ends, "ends").unwrap_or(fit_m),
            grips: Self::say(&s.hold) != "bears",
            hook_m: length(self, &s.hook),
            pull_n: self.optional(&s.pull, Dimension::Force, (0.0, 1e7)),
            height: Self::say(&s.keep) == "height",
            hands,
            incline_rad,
            friction,
            balance_m: length(self, &s.balance),
        })
    }

    /// `1 in 12` or an angle.
    fn slope(&mut self, text: &Text) -> Option<f64> {
        if let Ok(taper) = Taper::parse(text.get_ref()) {
            return Some(taper.ratio().atan());
        }
        match Quantity::parse_as(text.get_ref(), Dimension::Angle) {
            Ok(q) if q.si().abs() <= 0.5 => Some(q.si()),
            _ => {
                self.fault(
                    text,
                    format!("\"{}\" is no slope", text.get_ref()),
                    "write 1 in 12 or 3 deg, up to 28 deg",
                );
                None
            }
        }
    }

    fn draw(&mut self, at: &Text, d: &DrawText) -> Option<Draw> {
        let force_n = self.three(&d.force, Dimension::Force, (0.0, 1e8));
        let area_m2 = self.optional(&d.area, Dimension::Area, (1e-6, 4.0));
        let rated_n = self.optional(&d.rated, Dimension::Force, (1.0, 1e8));
        let valve_pa = self.optional(&d.valve, Dimension::Pressure, (0.0, 5e8));
        let stroke_m = self.optional(&d.stroke, Dimension::Length, (1e-4, 10.0));
        let (Some(force_n), Some(area_m2), Some(rated_n), Some(valve_pa), Some(stroke_m)) =
            (force_n, area_m2, rated_n, valve_pa, stroke_m)
        else {
            self.fault(at, "its draw lacks a figure", "write force, area, rated, valve and stroke");
            return None;
        };
        let jacks = self.count(&d.jacks, "jacks").unwrap_or(1);
        Some(Draw {
            force_n,
            source: Self::say(&d.source),
            jacks,
            area_m2,
            rated_n,
            valve_pa,
            stroke_m,
        })
    }

    fn jacks(&mut self, l: &LiftText) -> Option<Jacks> {
        let mut supports = Vec::new();
        for j in l.jack.iter().flatten() {
            let at_m = self.pair_m(&j.at, "at")?;
            let rated_kg = self.optional(&j.rated, Dimension::Mass, (0.1, 1e7));
            let height = self.optional(&j.packing, Dimension::Length, (1e-3, 5.0));
            let width = self.optional(&j.packing_width, Dimension::Length, (1e-3, 5.0));
            let foot = self.optional(&j.foot, Dimension::Area, (1e-6, 4.0));
            let packing = height.zip(width).zip(foot).map(|((h, w), f)| (h, w, f));
            supports.push(JackAt { at_m, rated_kg, packing });
        }
        if supports.len() < 3 {
            let at = l.id.as_ref()?;
            self.fault(
                at,
                "a load stands on three supports or more",
                "write a [[lift.jack]] for each",
            );
            return None;
        }
        Some(Jacks {
            supports,
            heads_m: self.optional(&l.heads, Dimension::Length, (-10.0, 10.0)).unwrap_or(0.0),
            side_n: self.optional(&l.side, Dimension::Force, (0.0, 1e7)).unwrap_or(0.0),
            grade_rad: match &l.grade {
                Some(t) => self.slope(t)?,
                None => 0.0,
            },
        })
    }
}
