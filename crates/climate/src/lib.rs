//! What the air of the workshop does to wood and to a wet coat.
//!
//! - [`air`]: moist air: dew point, wet bulb, vapour-pressure deficit.
//! - [`wood`]: the moisture that wood settles at in an air, and how much it moves on the way.
//! - [`drying`]: how much slower or faster than its label a coat dries in an air.
//! - [`window`]: whether a coat may be put on in an air at all, and why not.
//! - [`room`]: the air of a room over time, and a drying clock that runs on it.
//!
//! It knows nothing of steps or pieces, and reads no clock: times are minutes from an origin that the caller chose.
//!
//! # Example
//!
//! A recoat wait of two hours, stated for 25 °C and 50 %, in a garage at 15 °C and 65 %:
//!
//! ```
//! use climate::{Air, DryModel, Room};
//!
//! let garage = Room::steady(Air::from_c(15.0, 0.65)?);
//! let wait_min = garage.wait_min(DryModel::Waterborne, 0, 120.0).expect("it does dry");
//! // The deficit of the vapour pressure is 597 Pa against 1585 Pa at the reference: 2.65 times as long.
//! assert!((wait_min - 318.0).abs() < 2.0);
//! # Ok::<(), climate::AirError>(())
//! ```

pub mod air;
pub mod drying;
pub mod room;
pub mod window;
pub mod wood;

pub use air::{Air, AirError};
pub use drying::{Airflow, DryModel};
pub use room::{Rate, Reading, Room, RoomError};
pub use window::{Unfit, Window};
