//! The tools at the bench that decide what of a product is lost and how long an abrasive lasts.
//!
//! Which machines there are at all is said by [`Tools`](super::Tools); here stands what they are like.

use quantity::{Length, Volume};
use serde::{Deserialize, Serialize};
use trade::methods::Method;

/// The disc that an abrasive's life is reckoned for, where nothing else is said (common practice).
const USUAL_DISC: Length = Length::from_mm(125.0);

/// What the shop puts coats on with, and sands with.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Equipment {
    /// With what a coat is put on by hand: brush, pad or roller.
    pub by_hand: Method,
    /// What the spray gun is, if there is one.
    pub sprayer: Method,
    /// What stays in the gun, its cup and its hose each time it is filled; `None` for what such a gun usually keeps.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cup_loss: Option<Volume>,
    /// The diameter of the sanding machine's disc; `None` for the usual 125 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub disc: Option<Length>,
}

impl Default for Equipment {
    /// A brush, and a low-pressure gun where there is a gun.
    fn default() -> Self {
        Equipment {
            by_hand: Method::Brush,
            sprayer: Method::Hvlp,
            cup_loss: None,
            disc: None,
        }
    }
}

impl Equipment {
    /// What a coat can be put on with by hand.
    pub const BY_HAND: [Method; 3] = [Method::Brush, Method::Pad, Method::Roller];
    /// What a spray gun can be.
    pub const SPRAYERS: [Method; 5] = [
        Method::Hvlp,
        Method::ConventionalAir,
        Method::AirAssistedAirless,
        Method::Airless,
        Method::Electrostatic,
    ];

    /// What stays in the tool at each set-up: the shop's own figure for its gun, the table's for everything else.
    pub fn set_up_loss(self, method: Method) -> Volume {
        match self.cup_loss {
            Some(loss) if method == self.sprayer => loss,
            _ => Volume::from_litres(method.row().set_up_loss_l),
        }
    }

    /// How much longer a disc of this machine lasts than the usual one: by its area.
    pub fn disc_share(self) -> f64 {
        self.disc.map_or(1.0, |disc| (disc.m() / USUAL_DISC.m()).powi(2))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_guns_own_loss_is_not_the_brushes() {
        let equipment = Equipment {
            cup_loss: Some(Volume::from_ml(40.0)),
            ..Equipment::default()
        };
        assert!((equipment.set_up_loss(Method::Hvlp).ml() - 40.0).abs() < 1e-9);
        let brush = Method::Brush.row().set_up_loss_l;
        assert!((equipment.set_up_loss(Method::Brush).litres() - brush).abs() < 1e-12);
    }

    #[test]
    fn a_six_inch_disc_lasts_by_its_area() {
        let equipment = Equipment {
            disc: Some(Length::from_mm(150.0)),
            ..Equipment::default()
        };
        assert!((equipment.disc_share() - 1.44).abs() < 1e-9);
    }
}
