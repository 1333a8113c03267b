//! Why a photograph cannot be measured, and what would make it possible.

use quantity::Length;

/// Why nothing can be measured here. Worded for the person with the phone and ready to show.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PhotographRefusal {
    /// The picture has no usable size.
    #[error(
        "the picture is given as {} by {} pixels; it must be between 200 and 100 000 each way",
        whole(*width_px), whole(*height_px)
    )]
    PictureSize {
        /// Its width as given.
        width_px: f64,
        /// Its height as given.
        height_px: f64,
    },
    /// A stated sheet has no usable size.
    #[error(
        "a sheet of {} by {} mm cannot serve: its sides must lie between 20 mm and 2.5 m, the longer at most \
         6 times the shorter. Measure it again, or use Letter or A4 paper", whole(long.mm()), whole(short.mm())
    )]
    SheetSize {
        /// The longer side as stated.
        long: Length,
        /// The shorter side.
        short: Length,
    },
    /// A tap is not in the picture.
    #[error(
        "the tap at {x_px:.0}, {y_px:.0} is outside the picture of {width_px:.0} by {height_px:.0} pixels; tap inside it"
    )]
    OutsidePicture {
        /// Where it is, from the left.
        x_px: f64,
        /// Where it is, from the top.
        y_px: f64,
        /// The picture's width.
        width_px: f64,
        /// The picture's height.
        height_px: f64,
    },
    /// Three of four corners are nearly in a line, or one lies between the others.
    #[error(
        "the four corners of {what} do not make a four-sided shape: two are in the same place, three are in a line, or one \
         lies between the others. Tap each corner once"
    )]
    NoFourCorners {
        /// What was tapped: the sheet or the rectangle.
        what: &'static str,
    },
    /// The sheet fills too little of the picture for the taps' accuracy.
    #[error(
        "the sheet is too small in the picture: its shortest side is {side_px:.0} pixels and {limit_px:.0} are needed at this \
         accuracy of tapping. Step closer, use a larger sheet, or tap under the magnifier"
    )]
    SheetTooSmall {
        /// Its shortest side.
        side_px: f64,
        /// The least that would do.
        limit_px: f64,
    },
    /// The plane is seen too much from the side.
    #[error(
        "the front is seen from too far to the side: {angle_degrees:.0}° off square, and {limit_degrees:.0}° is the limit. \
         Stand more squarely in front: the sheet's opposite edges should look nearly alike"
    )]
    TooOblique {
        /// Angle between the line of sight and the front's normal.
        angle_degrees: f64,
        /// The most that is taken.
        limit_degrees: f64,
    },
    /// The corners determine the view too badly.
    #[error(
        "the corners hold too little: an error of tapping would grow {condition:.0} times and {limit:.0} is the limit. Stand \
         more squarely in front and step closer, so that the sheet looks like a rectangle and not a sliver"
    )]
    BadlyConditioned {
        /// Condition number of the equations for the view.
        condition: f64,
        /// The most that is taken.
        limit: f64,
    },
    /// No ordinary camera sees such a sheet like this.
    #[error(
        "these corners cannot be those of {sheet} in an uncropped picture: taps and lens would have to be {times:.1} times as \
         far off as the most that is taken. Check which sheet it is, that it lies flat, and tap its corners again"
    )]
    NotThatSheet {
        /// The sheet in words.
        sheet: String,
        /// By how much taps and camera would have to differ from what is expected, in multiples of the most that is taken.
        times: f64,
    },
    /// The sheet could lie upright or on its side.
    #[error(
        "it cannot be told from these corners whether the sheet lies upright or on its side. Stand more squarely in front and \
         step closer, so that its long edges look longer"
    )]
    EitherWayUp,
    /// A point to measure is where the plane is not seen.
    #[error(
        "the point at {x_px:.0}, {y_px:.0} is beyond where the sheet's plane can be seen. Tap points of the front on which \
         the sheet lies"
    )]
    BeyondHorizon {
        /// Where it is, from the left.
        x_px: f64,
        /// Where it is, from the top.
        y_px: f64,
    },
    /// The length would be too uncertain to be of use.
    #[error(
        "that length would be too uncertain: about {:.0} mm give or take {:.0} %, and {:.0} % is the limit. The points are too \
         far from the sheet for its size: lay the sheet nearer to them, use a larger one, or stand more squarely in front",
        length.mm(), share * 100.0, limit * 100.0
    )]
    TooUncertain {
        /// The length as far as it is known.
        length: Length,
        /// Its standard error as a share of it.
        share: f64,
        /// The most that is taken.
        limit: f64,
    },
    /// What was said to be a rectangle cannot be one.
    #[error(
        "the four points tapped as a rectangle are none on the plane of the sheet: taps and lens would have to be {times:.1} \
         times as far off as the most that is taken. Tap its corners again, or measure its sides one by one"
    )]
    NoRectangle {
        /// By how much taps and camera would have to differ from what is expected, in multiples of the most that is taken.
        times: f64,
    },
}

/// A number without its fraction, or in words that it is none.
fn whole(number: f64) -> String {
    if number.is_finite() {
        format!("{number:.0}")
    } else {
        "no number".to_owned()
    }
}
