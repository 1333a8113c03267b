//! The area of a part of a mesh: a group, what faces one way, what lies between two heights.

use quantity::{Area, Length};

use super::{Mesh, area_m2, clip, divide};

/// Which part of a mesh; what is not given does not narrow it.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Pick {
    /// A group's place in [`Mesh::groups`].
    pub group: Option<usize>,
    /// A direction (x right, y back, z up; any length) and the most degrees that a triangle may turn away from it.
    pub facing: Option<([f64; 3], f64)>,
    /// From this height to that one above the lowest point; triangles are cut at both.
    pub height: Option<(Length, Length)>,
}

impl Mesh {
    /// The area of a part of the mesh. A direction of no length picks nothing.
    #[must_use]
    pub fn area_of(&self, pick: &Pick) -> Area {
        let total = (0..self.triangles.len())
            .filter(|&i| pick.group.is_none_or(|group| usize::from(self.group_of[i]) == group))
            .filter(|&i| pick.facing.is_none_or(|facing| divide::faces(self.corners(i), facing)))
            .map(|i| match pick.height {
                None => area_m2(self.corners(i)),
                Some((low, high)) => {
                    let cut = clip::by_height(&self.corners(i), low.m(), true);
                    let cut = clip::by_height(&cut, high.m(), false);
                    cut.windows(2).skip(1).map(|w| area_m2([cut[0], w[0], w[1]])).sum()
                }
            })
            .sum();
        Area::from_m2(total)
    }
}
