//! The operators that are linear, so that they need no choice of derivative.

use std::ops::{Add, Div, Mul, Neg, Sub};

use super::Uncertain;

macro_rules! both {
    ($trait:ident $method:ident |$a:ident, $b:ident| $body:expr) => {
        impl $trait<&Uncertain> for &Uncertain {
            type Output = Uncertain;
            fn $method(self, other: &Uncertain) -> Uncertain {
                let ($a, $b) = (self, other);
                $body
            }
        }
        impl $trait<Uncertain> for &Uncertain {
            type Output = Uncertain;
            fn $method(self, other: Uncertain) -> Uncertain {
                self.$method(&other)
            }
        }
        impl $trait<&Uncertain> for Uncertain {
            type Output = Uncertain;
            fn $method(self, other: &Uncertain) -> Uncertain {
                (&self).$method(other)
            }
        }
        impl $trait<Uncertain> for Uncertain {
            type Output = Uncertain;
            fn $method(self, other: Uncertain) -> Uncertain {
                (&self).$method(&other)
            }
        }
    };
}

both!(Add add |a, b| Uncertain::combine(a.value + b.value, &[(1.0, a), (1.0, b)]));
both!(Sub sub |a, b| Uncertain::combine(a.value - b.value, &[(1.0, a), (-1.0, b)]));

macro_rules! with_number {
    ($trait:ident $method:ident |$a:ident, $k:ident| $body:expr) => {
        impl $trait<f64> for &Uncertain {
            type Output = Uncertain;
            fn $method(self, $k: f64) -> Uncertain {
                let $a = self;
                $body
            }
        }
        impl $trait<f64> for Uncertain {
            type Output = Uncertain;
            fn $method(self, number: f64) -> Uncertain {
                (&self).$method(number)
            }
        }
    };
}

with_number!(Mul mul |a, k| a.scale(k));
// dividing by 3 is not multiplying by a rounded third
with_number!(Div div |a, k| {
    let parts = a.parts.iter().map(|(s, c)| (*s, c / k)).filter(|(_, c)| *c != 0.0).collect();
    Uncertain { value: a.value / k, parts }
});

impl Neg for &Uncertain {
    type Output = Uncertain;
    fn neg(self) -> Uncertain {
        self.scale(-1.0)
    }
}

impl Neg for Uncertain {
    type Output = Uncertain;
    fn neg(self) -> Uncertain {
        self.scale(-1.0)
    }
}
