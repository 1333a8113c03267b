//! Readings made for print: the same colour under D50, the light of the printing trade.
//!
//! Many hand-held meters are set to it when they come out of the box, and the numbers look alike. Taken for daylight readings
//! they make every paint a little bluer than it is.

use crate::lab::{Lab, Xyz};
use crate::linear::solve;

/// Sharpened responses of the eye (Bradford), rows of the matrix.
const BRADFORD: [[f64; 3]; 3] = [
    [0.8951, 0.2664, -0.1614],
    [-0.7502, 1.7135, 0.0367],
    [0.0389, -0.0685, 1.0296],
];

/// White of chromaticity 0.3457, 0.3585.
const D50: Xyz = Xyz {
    x: 0.3457 / 0.3585,
    y: 1.0,
    z: (1.0 - 0.3457 - 0.3585) / 0.3585,
};
/// White of chromaticity 0.3127, 0.3290.
const D65: Xyz = Xyz {
    x: 0.3127 / 0.3290,
    y: 1.0,
    z: (1.0 - 0.3127 - 0.3290) / 0.3290,
};

impl Lab {
    /// The daylight colour of a reading that was made under D50.
    ///
    /// # Source
    /// `bradford-adaptation`.
    #[must_use]
    pub fn from_print_reading(d50: Self) -> Self {
        adapted(d50.to_xyz(D50), D50, D65).to_lab(D65)
    }

    /// What a meter set to D50 reads of this colour.
    #[must_use]
    pub fn to_print_reading(self) -> Self {
        adapted(self.to_xyz(D65), D65, D50).to_lab(D50)
    }
}

/// Carries a colour from one white to another, each response of the eye in proportion.
fn adapted(colour: Xyz, from: Xyz, to: Xyz) -> Xyz {
    let response = |c: Xyz| BRADFORD.map(|row| row[0] * c.x + row[1] * c.y + row[2] * c.z);
    let (seen, from, to) = (response(colour), response(from), response(to));
    let mut right: [f64; 3] = std::array::from_fn(|i| seen[i] * to[i] / from[i]);
    let mut matrix: Vec<f64> = BRADFORD.concat();
    solve(&mut matrix, &mut right).expect("the matrix is not singular: its determinant is 0.99");
    Xyz {
        x: right[0],
        y: right[1],
        z: right[2],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back_is_the_same_colour() {
        for lab in [
            Lab::new(61.0, -16.3, 31.2),
            Lab::new(95.0, 0.0, 0.0),
            Lab::new(20.0, 40.0, -50.0),
        ] {
            let back = Lab::from_print_reading(lab.to_print_reading());
            assert!(crate::difference(lab, back) < 1e-9, "{back:?}");
        }
    }

    #[test]
    fn greys_stay_grey_and_blues_move() {
        assert!(Lab::new(60.0, 0.0, 0.0).to_print_reading().chroma() < 1e-9);
        let blue = Lab::new(30.0, 10.0, -45.0);
        assert!(crate::difference(blue, blue.to_print_reading()) > 2.0);
    }
}
