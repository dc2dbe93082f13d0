//! What the shapes that leave the program look like, said by the shapes themselves, so that whoever
//! describes them to another program cannot say otherwise.

/// The shape of a value as it is serialized.
#[derive(Clone, Debug)]
pub enum Shape {
    /// Words.
    Text,
    /// A number.
    Number,
    /// A whole number, not negative.
    Whole,
    /// True or false.
    YesNo,
    /// It or nothing.
    Maybe(Box<Shape>),
    /// Any number of them.
    List(Box<Shape>),
    /// One of each, in this order.
    Row(Vec<Shape>),
    /// Fields with names.
    Record(Record),
}

/// Fields with names.
#[derive(Clone, Copy, Debug)]
pub struct Record {
    /// Its own name.
    pub name: &'static str,
    /// What it is.
    pub what: &'static str,
    /// Its fields, in their order.
    pub fields: fn() -> Vec<Field>,
}

/// A field.
#[derive(Clone, Debug)]
pub struct Field {
    /// Its name.
    pub name: &'static str,
    /// What it is; may be empty.
    pub what: &'static str,
    /// It is left out where there is nothing to say.
    pub may_lack: bool,
    /// Its shape.
    pub shape: Shape,
}

/// Whatever can say its shape.
pub trait Shaped {
    /// The shape.
    fn shape() -> Shape;
}

macro_rules! plain {
    ($($kind:ty: $shape:ident),+) => {
        $(impl Shaped for $kind { fn shape() -> Shape { Shape::$shape } })+
    };
}

plain!(String: Text, &'static str: Text, f64: Number, i64: Number, bool: YesNo);
plain!(u32: Whole, u64: Whole, usize: Whole);

impl<T: Shaped> Shaped for Option<T> {
    fn shape() -> Shape {
        Shape::Maybe(Box::new(T::shape()))
    }
}

impl<T: Shaped> Shaped for Vec<T> {
    fn shape() -> Shape {
        Shape::List(Box::new(T::shape()))
    }
}

impl<T: Shaped, const N: usize> Shaped for [T; N] {
    fn shape() -> Shape {
        Shape::Row((0..N).map(|_| T::shape()).collect())
    }
}

impl<A: Shaped, B: Shaped> Shaped for (A, B) {
    fn shape() -> Shape {
        Shape::Row(vec![A::shape(), B::shape()])
    }
}

impl<A: Shaped, B: Shaped, C: Shaped> Shaped for (A, B, C) {
    fn shape() -> Shape {
        Shape::Row(vec![A::shape(), B::shape(), C::shape()])
    }
}

/// Structs whose fields are all serialized, with their shape.
macro_rules! shapes {
    ($($(#[doc = $doc:literal])* $name:ident { $($(#[doc = $field_doc:literal])* $field:ident : $kind:ty),+ $(,)? })+) => {
        $(
            $(#[doc = $doc])*
            #[derive(Clone, Debug, ::serde::Serialize)]
            pub struct $name { $($(#[doc = $field_doc])* pub $field: $kind,)+ }

            impl $crate::view::Shaped for $name {
                fn shape() -> $crate::view::Shape {
                    $crate::view::Shape::Record($crate::view::Record {
                        name: stringify!($name),
                        what: concat!($($doc),*),
                        fields: || vec![$($crate::view::Field {
                            name: stringify!($field),
                            what: concat!($($field_doc),*),
                            may_lack: false,
                            shape: <$kind as $crate::view::Shaped>::shape(),
                        }),+],
                    })
                }
            }
        )+
    };
}

/// The shape of a struct that is written elsewhere; fields that may lack stand behind the bar.
macro_rules! shape_of {
    ($name:ident, $what:literal, { $($field:ident : $kind:ty),* $(,)? } | { $($lacks:ident : $lacked:ty),* $(,)? }) => {
        impl $crate::view::Shaped for $name {
            fn shape() -> $crate::view::Shape {
                $crate::view::Shape::Record($crate::view::Record {
                    name: stringify!($name),
                    what: $what,
                    fields: || vec![
                        $($crate::view::Field {
                            name: stringify!($field), what: "", may_lack: false,
                            shape: <$kind as $crate::view::Shaped>::shape(),
                        },)*
                        $($crate::view::Field {
                            name: stringify!($lacks), what: "", may_lack: true,
                            shape: <$lacked as $crate::view::Shaped>::shape(),
                        },)*
                    ],
                })
            }
        }
    };
}

pub(crate) use {shape_of, shapes};
