//! Dimensions from a photograph of a front with a sheet of known size on it.
//!
//! The sheet's four corners tell how the camera looked at the front (a [`Plane`]); any two points of the same plane then
//! have a distance, with its uncertainty. If the front itself is a rectangle, tapping its four corners too says much more
//! about the view than a small sheet can, and gives its width and height at once.
//!
//! The one idea: taps are observations with an error, a camera is something about which one knows a little beforehand, and
//! the view is the best compromise of both, with its covariance. A length's error follows from these to the first order.
//!
//! # Valid range
//! The whole picture, not cropped, from the main camera of a phone or the like: 17 to 60 mm as on 35 mm film, lines
//! displaced by up to 1 % or so at a corner, seen up to 50° off square. The sheet lies flat on the plane that is
//! measured, within 1.5 mm or so; what stands out from it or lies behind it is measured wrongly, by its distance over
//! the camera's. Lengths whose standard error would exceed 4 % (and 2 mm) are refused.
//!
//! On rendered views within this range (seen up to 43° off square, distortion on half of them, taps under the magnifier)
//! the error of a front's width and height was:
//!
//! | sheet | fronts | median | 95 % within | intervals that held |
//! | --- | --- | --- | --- | --- |
//! | Letter or A4 | 0.4 to 1.2 m wide | 0.5 % | 2.4 % | 91 % |
//! | card | 0.10 to 0.20 m wide | 0.8 % | 2.6 % | 90 % |
//! | Letter, and the front as a rectangle | 0.4 to 1.2 m wide | 0.3 % | 0.9 % | 91 % |
//! | the same, enlarged without magnifier | 0.4 to 1.2 m wide | 0.6 % | 1.8 % | 91 % |
//! | card, and the front as a rectangle | 0.15 to 0.4 m wide | 0.6 % | 1.9 % | 90 % |
//!
//! # Known limits
//! * A lens that displaces the corners by 3 % still gives a median below 1 %, but only seven intervals in ten hold.
//! * Naming the wrong paper, A4 for Letter, is noticed in half of all views only: a tilt can look like the other shape. With
//!   a rectangle it is noticed in nine of ten.
//! * Enlarged taps on a sheet alone miss the aim of 3 %; tap the rectangle too, or use the magnifier.
//!
//! It decodes no picture and finds no corner by itself.
//!
//! # Source
//! `hartley-zisserman` for the map of a plane and the camera; `fitzgibbon-division` for the lens. The expectations of
//! a phone's camera and of a thumb are `common-practice`.
//!
//! ```
//! use takeoff::photograph::{Aim, Picture, Plane, Sheet, Tap};
//! let picture = Picture { width_px: 4000.0, height_px: 3000.0 };
//! let tap = |x_px, y_px| Tap { x_px, y_px };
//! // Letter paper seen squarely at 100 pixels an inch.
//! let corners = [tap(1450.0, 1075.0), tap(2550.0, 1075.0), tap(2550.0, 1925.0), tap(1450.0, 1925.0)];
//! let plane = Plane::from_sheet(picture, Sheet::Letter, corners, Aim::Loupe)?;
//! let width = plane.distance(tap(1000.0, 1200.0), tap(3000.0, 1200.0))?;
//! assert!((width.length.inches() - 20.0).abs() < 0.01);
//! assert!(width.standard_error.inches() < 0.4);
//! # Ok::<(), takeoff::photograph::PhotographRefusal>(())
//! ```

mod fit;
mod homography;
mod linear;
mod measured;
mod plane;
mod refusal;
mod sheet;
mod solve;
mod tap;
mod view;

pub use measured::Measured;
pub use plane::{Obliqueness, Plane};
pub use refusal::PhotographRefusal;
pub use sheet::Sheet;
pub use tap::{Aim, Picture, Tap};
