//! The closed lists of words an engine file may use.

use mechanics::metrology::form::SurfaceKind;
use quantity::Dimension;

macro_rules! words {
    ($(#[$doc:meta])* $name:ident { $($(#[$word_doc:meta])* $variant:ident = $word:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name {
            $($(#[$word_doc])* $variant,)+
        }

        impl $name {
            /// Every one, in order.
            pub const ALL: &'static [$name] = &[$($name::$variant),+];

            /// The word for it.
            pub fn word(self) -> &'static str {
                match self { $($name::$variant => $word),+ }
            }

            /// From its word.
            ///
            /// # Errors
            /// Lists the words there are.
            pub fn parse(text: &str) -> Result<Self, String> {
                Self::of_word(text)
                    .ok_or_else(|| format!("use one of: {}", [$($word),+].join(", ")))
            }

            /// The one a text is the word for, if it is.
            pub fn of_word(text: &str) -> Option<Self> {
                let text = text.trim();
                Self::ALL.iter().copied().find(|w| w.word().eq_ignore_ascii_case(text))
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.word())
            }
        }
    };
}

words! {
    /// What a feature is.
    FeatureKind {
        /// Outside diameter that turns in a bearing.
        Journal = "journal",
        /// Outside diameter that is fitted, pressed or bolted.
        Pin = "pin",
        /// Outside diameter of a piston or valve head.
        Piston = "piston",
        /// Outside cone, at its gauge plane.
        Cone = "cone",
        /// Distance over two outside faces.
        Thickness = "thickness",
        /// Inside diameter of a bearing.
        Bore = "bore",
        /// Inside diameter of a cylinder.
        Cylinder = "cylinder",
        /// Reamed or drilled hole.
        Hole = "hole",
        /// Inside cone, at its gauge plane.
        Socket = "socket",
        /// Distance between two inside faces.
        Gap = "gap",
        /// Distance between two centres.
        Centres = "centres",
        /// Any other length.
        Length = "length",
        /// How far a thing stands from another.
        Stand = "stand",
    }
}

/// Where the metal is: what machining does to the size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Metal {
    /// Inside the surface: machining makes it smaller.
    Inside,
    /// Outside the surface: machining makes it larger.
    Outside,
    /// Neither.
    Neither,
}

impl FeatureKind {
    /// Where the metal is.
    pub fn metal(self) -> Metal {
        use FeatureKind as K;
        match self {
            K::Journal | K::Pin | K::Piston | K::Cone | K::Thickness => Metal::Inside,
            K::Bore | K::Cylinder | K::Hole | K::Socket | K::Gap => Metal::Outside,
            K::Centres | K::Length | K::Stand => Metal::Neither,
        }
    }

    /// Round surfaces have directions, ovality and lobing.
    pub fn is_round(self) -> bool {
        use FeatureKind as K;
        matches!(
            self,
            K::Journal | K::Pin | K::Piston | K::Cone | K::Bore | K::Cylinder | K::Hole | K::Socket
        )
    }

    pub(crate) fn surface_kind(self) -> SurfaceKind {
        match self.metal() {
            Metal::Outside => SurfaceKind::Bore,
            _ => SurfaceKind::Journal,
        }
    }
}

words! {
    /// How features mate.
    JointKind {
        /// Journal and bearing.
        Running = "running",
        /// Slipper and bars, piston and bore.
        Sliding = "sliding",
        /// Bolt or pin in a reamed hole.
        Fitted = "fitted",
        /// Put together by press.
        Pressed = "pressed",
        /// Put together by heat.
        Shrunk = "shrunk",
        /// Cone in socket, held by cotter or nut.
        Tapered = "tapered",
        /// Brasses and wedge in a slot.
        Wedged = "wedged",
    }
}

impl JointKind {
    /// The measure that the joint lives by.
    pub fn measure(self) -> Measure {
        match self {
            JointKind::Running | JointKind::Sliding => Measure::Clearance,
            JointKind::Fitted | JointKind::Pressed | JointKind::Shrunk => Measure::Interference,
            JointKind::Tapered => Measure::Draw,
            JointKind::Wedged => Measure::TravelLeft,
        }
    }
}

words! {
    /// What a limit is a limit of.
    Measure {
        /// Mean size at 20 degC.
        Size = "size",
        /// Largest less smallest diameter at one station.
        Ovality = "ovality",
        /// Change of mean diameter over the gauged length.
        Taper = "taper",
        /// Middle against ends: barrel of a journal, bell-mouth of a hole.
        Barrel = "barrel",
        /// Roundness from a dial traverse, on radius.
        Roundness = "roundness",
        /// Lost since made.
        Wear = "wear",
        /// Outer less inner.
        Clearance = "clearance",
        /// Largest place in the outer less smallest in the inner.
        GreatestClearance = "greatest clearance",
        /// Inner less outer.
        Interference = "interference",
        /// How far a cone still is from home.
        Draw = "draw",
        /// What a wedge can still take up, as thickness.
        TravelLeft = "travel left",
        /// Space in a wedged slot that no part accounts for.
        Unaccounted = "unaccounted",
        /// Length of a chain.
        Length = "length",
    }
}

impl Measure {
    /// All are lengths.
    pub fn dimension(self) -> Dimension {
        Dimension::Length
    }

    /// Measures of a single feature.
    pub fn of_feature(self) -> bool {
        matches!(
            self,
            Measure::Size
                | Measure::Ovality
                | Measure::Taper
                | Measure::Barrel
                | Measure::Roundness
                | Measure::Wear
        )
    }

    /// Measures of a joint.
    pub fn of_joint(self) -> bool {
        !self.of_feature() && self != Measure::Length
    }
}

words! {
    /// When a limit holds.
    When {
        /// As the drawing made it.
        Made = "made",
        /// When put back after repair.
        Refit = "refit",
        /// In service, before it must come apart.
        Service = "service",
    }
}

words! {
    /// Who says so.
    LimitSource {
        /// A drawing.
        Drawing = "drawing",
        /// A published standard.
        Standard = "standard",
        /// Common practice, to be confirmed by the responsible engineer.
        CommonPractice = "common practice",
        /// The responsible engineer's own decision.
        Engineer = "engineer",
    }
}

words! {
    /// Whether use takes metal off.
    Surface {
        /// It does.
        Wears = "wears",
        /// It does not.
        Still = "still",
    }
}

words! {
    /// Ways of working a surface.
    Way {
        /// Turning.
        Turning = "turning",
        /// Grinding.
        Grinding = "grinding",
        /// Boring bronze, iron or steel.
        Boring = "boring",
        /// Boring white metal, after re-metalling.
        MetalBoring = "metal boring",
        /// Reaming.
        Reaming = "reaming",
        /// Planing or milling.
        Planing = "planing",
        /// Filing and scraping.
        Filing = "filing",
        /// Made new.
        New = "new",
        /// Lined: bush, liner, slip.
        Lining = "lining",
    }
}

impl Way {
    /// How many ways there are.
    pub const COUNT: usize = 9;
}

words! {
    /// What is done to a joint.
    RepairKind {
        /// Leave it.
        Leave = "leave",
        /// Take out what does not belong there.
        TakeOut = "take out",
        /// Close a split bearing by filing its joint faces.
        Close = "close",
        /// Clean up one surface and refit the other to it.
        CleanUp = "clean up",
        /// Re-metal.
        ReMetal = "re-metal",
        /// Line: bush, liner, slip.
        Line = "line",
        /// Renew.
        Renew = "renew",
    }
}

words! {
    /// Conditions found by eye, ear or dye.
    Condition {
        /// Nothing wrong.
        Sound = "sound",
        /// White metal not stuck.
        Loose = "loose",
        /// A crack.
        Cracked = "cracked",
        /// Scored.
        Scored = "scored",
        /// Pitted or rusted.
        Pitted = "pitted",
        /// Bent.
        Bent = "bent",
        /// A thing that is on no drawing.
        Packing = "packing",
        /// Missing.
        Missing = "missing",
    }
}

impl Condition {
    /// A condition that no gauge reading can outweigh.
    pub fn condemns(self) -> bool {
        matches!(self, Condition::Loose | Condition::Cracked | Condition::Bent | Condition::Missing)
    }
}
