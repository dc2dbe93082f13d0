//! Indices that cannot be confused with one another.

macro_rules! index {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => {
        $(
            $(#[$doc])*
            #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
            pub struct $name(u32);

            impl $name {
                /// From a position in the engine's list. Lists are capped well below `u32::MAX`
                /// when an engine is built, so nothing is lost.
                pub(crate) fn new(position: usize) -> Self {
                    $name(position as u32)
                }

                /// Position in the engine's list.
                pub fn index(self) -> usize {
                    self.0 as usize
                }
            }
        )+
    };
}

index! {
    /// A part.
    PartIx,
    /// A feature.
    FeatureIx,
    /// A joint.
    JointIx,
    /// A chain.
    ChainIx,
    /// A gauge.
    GaugeIx,
    /// A material.
    MaterialIx,
    /// A person.
    PersonIx,
}
