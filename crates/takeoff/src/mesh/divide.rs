//! A mesh divided into parts, each triangle counted once: the first pick that takes it has it, and what no pick takes stays
//! with its group.

use quantity::Area;

use super::{Corners, Mesh, Pick, area_m2, area_vector, clip};

/// Whether a triangle faces a way within so many degrees; none faces a direction of no length.
pub(super) fn faces(corners: Corners, facing: ([f64; 3], f64)) -> bool {
    let (direction, degrees) = facing;
    let length = |v: [f64; 3]| v.iter().map(|v| v * v).sum::<f64>().sqrt();
    let vector = area_vector(corners);
    let size = length(vector) * length(direction);
    let along: f64 = vector.iter().zip(direction).map(|(a, b)| a * b).sum();
    size > 0.0 && along >= (degrees.to_radians().cos() - 1e-12) * size
}

fn polygon_m2(polygon: &[[f64; 3]]) -> f64 {
    polygon
        .windows(2)
        .skip(1)
        .map(|w| area_m2([polygon[0], w[0], w[1]]))
        .sum()
}

/// Which pick takes a triangle as a whole, by its middle; `None` where it stays with its group.
pub(crate) fn owner(corners: Corners, group: usize, picks: &[Pick]) -> Option<usize> {
    let middle = corners.iter().map(|p| p[2]).sum::<f64>() / 3.0;
    picks.iter().position(|pick| {
        pick.takes(corners, group)
            && pick
                .height
                .is_none_or(|(low, high)| (low.m()..=high.m()).contains(&middle))
    })
}

impl Pick {
    /// Whether a triangle's group and direction are those of the pick.
    fn takes(&self, corners: Corners, group: usize) -> bool {
        self.group.is_none_or(|wanted| wanted == group) && self.facing.is_none_or(|facing| faces(corners, facing))
    }
}

impl Mesh {
    /// The area of each pick without what an earlier one took, and after them the rest of each group, in the order of
    /// [`Mesh::groups`]. All of them together are [`Mesh::area`].
    #[must_use]
    pub fn divided(&self, picks: &[Pick]) -> Vec<Area> {
        let mut areas = vec![0.0; picks.len() + self.groups.len()];
        for (i, &group) in self.group_of.iter().enumerate() {
            let corners = self.corners(i);
            let group = usize::from(group);
            let mut rest = vec![corners.to_vec()];
            for (place, pick) in picks.iter().enumerate() {
                if rest.is_empty() {
                    break;
                }
                if !pick.takes(corners, group) {
                    continue;
                }
                let Some((low, high)) = pick.height else {
                    areas[place] += rest.drain(..).map(|piece| polygon_m2(&piece)).sum::<f64>();
                    continue;
                };
                let mut outside = Vec::new();
                for piece in rest {
                    let upper = clip::by_height(&piece, low.m(), true);
                    areas[place] += polygon_m2(&clip::by_height(&upper, high.m(), false));
                    // What lies level in the band's own edge is in it, and not outside as well.
                    if piece.iter().any(|p| p[2] < low.m()) {
                        outside.push(clip::by_height(&piece, low.m(), false));
                    }
                    if upper.iter().any(|p| p[2] > high.m()) {
                        outside.push(clip::by_height(&upper, high.m(), true));
                    }
                }
                outside.retain(|piece| piece.len() >= 3);
                rest = outside;
            }
            areas[picks.len() + group] += rest.iter().map(|piece| polygon_m2(piece)).sum::<f64>();
        }
        areas.into_iter().map(Area::from_m2).collect()
    }
}
