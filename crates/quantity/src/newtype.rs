//! The one macro behind the newtypes, so that they all have the same readers, order and arithmetic.
//!
//! `scalar!` makes the type with its units; `additive!` adds the arithmetic of amounts that can be summed. A temperature
//! or a relative humidity is a scalar and not additive: two of them have no sum.

/// Makes a newtype over one SI `f64`. Each unit line is `constructor, reader = size of that unit in the stored one`.
macro_rules! scalar {
    ($(#[$doc:meta])* $name:ident { $($(#[$unit_doc:meta])* $from:ident, $get:ident = $size:expr;)+ }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, serde::Serialize, serde::Deserialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            $(
                $(#[$unit_doc])*
                #[must_use]
                pub const fn $from(value: f64) -> Self {
                    Self(value * $size)
                }

                $(#[$unit_doc])*
                #[must_use]
                pub const fn $get(self) -> f64 {
                    self.0 / $size
                }
            )+

            /// A total order (IEEE 754), for sorting; a NaN sorts last.
            #[must_use]
            pub fn total_cmp(&self, other: &Self) -> std::cmp::Ordering {
                self.0.total_cmp(&other.0)
            }

            /// The larger of the two.
            #[must_use]
            pub const fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            /// The smaller of the two.
            #[must_use]
            pub const fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }

            /// Whether it is a number at all: neither NaN nor endless.
            #[must_use]
            pub const fn is_finite(self) -> bool {
                self.0.is_finite()
            }
        }
    };
}

/// Gives a scalar the arithmetic of an amount: sums, differences, multiples, and the ratio of two as a bare number.
macro_rules! additive {
    ($($name:ident),+) => { $(
        impl std::ops::Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl std::ops::AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }

        impl std::ops::Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl std::ops::SubAssign for $name {
            fn sub_assign(&mut self, other: Self) {
                self.0 -= other.0;
            }
        }

        impl std::ops::Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl std::ops::Mul<f64> for $name {
            type Output = Self;
            fn mul(self, times: f64) -> Self {
                Self(self.0 * times)
            }
        }

        impl std::ops::Mul<$name> for f64 {
            type Output = $name;
            fn mul(self, amount: $name) -> $name {
                amount * self
            }
        }

        impl std::ops::Div<f64> for $name {
            type Output = Self;
            fn div(self, parts: f64) -> Self {
                Self(self.0 / parts)
            }
        }

        impl std::ops::Div for $name {
            type Output = f64;
            fn div(self, other: Self) -> f64 {
                self.0 / other.0
            }
        }

        impl std::iter::Sum for $name {
            fn sum<I: Iterator<Item = Self>>(amounts: I) -> Self {
                amounts.fold(Self::ZERO, |sum, amount| sum + amount)
            }
        }

        impl<'a> std::iter::Sum<&'a $name> for $name {
            fn sum<I: Iterator<Item = &'a Self>>(amounts: I) -> Self {
                amounts.copied().sum()
            }
        }
    )+ };
}

pub(crate) use {additive, scalar};
