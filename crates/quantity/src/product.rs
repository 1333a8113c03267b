//! The products and quotients that mean something, and no others.

use std::ops::{Div, Mul};

use crate::{AirChanges, Area, Flow, Length, Spread, Volume, WetFilm};

/// Implements `$a * $b = $c` both ways round.
macro_rules! product {
    ($($a:ident * $b:ident = $c:ident, $compute:expr;)+) => { $(
        impl Mul<$b> for $a {
            type Output = $c;
            fn mul(self, other: $b) -> $c {
                ($compute)(self, other)
            }
        }

        impl Mul<$a> for $b {
            type Output = $c;
            fn mul(self, other: $a) -> $c {
                other * self
            }
        }
    )+ };
}

/// Implements `$a / $b = $c`.
macro_rules! quotient {
    ($($a:ident / $b:ident = $c:ident, $compute:expr;)+) => { $(
        impl Div<$b> for $a {
            type Output = $c;
            fn div(self, other: $b) -> $c {
                ($compute)(self, other)
            }
        }
    )+ };
}

impl Mul for Length {
    type Output = Area;
    fn mul(self, other: Self) -> Area {
        Area::from_m2(self.m() * other.m())
    }
}

product! {
    Area * Length = Volume, |area: Area, height: Length| Volume::from_m3(area.m2() * height.m());
    Area * WetFilm = Volume, |area: Area, film: WetFilm| Volume::from_m3(area.m2() * film.m());
    Volume * Spread = Area, |volume: Volume, rate: Spread| Area::from_m2(volume.litres() * rate.m2_per_litre());
    Volume * AirChanges = Flow, |room: Volume, changes: AirChanges| Flow::from_m3_per_h(room.m3() * changes.per_h());
}

quotient! {
    Area / Length = Length, |area: Area, side: Length| Length::from_m(area.m2() / side.m());
    Area / Spread = Volume, |area: Area, rate: Spread| Volume::from_litres(area.m2() / rate.m2_per_litre());
    Area / Volume = Spread, |area: Area, volume: Volume| Spread::from_m2_per_litre(area.m2() / volume.litres());
    Volume / Area = WetFilm, |volume: Volume, area: Area| WetFilm::from_m(volume.m3() / area.m2());
    Flow / Volume = AirChanges, |flow: Flow, room: Volume| AirChanges::from_per_h(flow.m3_per_h() / room.m3());
}
