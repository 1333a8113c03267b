//! A coarse likeness of a mesh, small enough to draw: points within one cell of a grid become one.

use std::collections::BTreeMap;

use super::{Corners, Mesh};

/// At most this many triangles are drawn.
const MOST: usize = 320;

/// The mesh with so few triangles that it can be drawn, each with its group. The finest grid that is coarse enough is
/// taken.
pub(crate) fn sketch(mesh: &Mesh) -> Vec<(Corners, u16)> {
    if mesh.triangles.len() <= MOST {
        return (0..mesh.triangles.len())
            .map(|i| (mesh.corners(i), mesh.group_of[i]))
            .collect();
    }
    (2..=20_u8)
        .rev()
        .map(|cells| clustered(mesh, cells))
        .find(|coarse| coarse.len() <= MOST)
        .unwrap_or_default()
}

/// The mesh on a grid with this many cells along its longest side.
fn clustered(mesh: &Mesh, cells: u8) -> Vec<(Corners, u16)> {
    let longest = mesh.size_m().into_iter().fold(1e-9, f64::max);
    let cell = longest / f64::from(cells);
    let cell_of = |p: [f64; 3]| -> [u8; 3] {
        // The smallest whole number of cells that reaches the point.
        p.map(|v| (0..=cells).find(|&n| f64::from(n + 1) * cell > v).unwrap_or(cells))
    };
    let mut sums: BTreeMap<[u8; 3], ([f64; 3], f64)> = BTreeMap::new();
    let keys: Vec<[u8; 3]> = mesh.points.iter().map(|&p| cell_of(p)).collect();
    for (key, point) in keys.iter().zip(&mesh.points) {
        let entry = sums.entry(*key).or_insert(([0.0; 3], 0.0));
        for (sum, value) in entry.0.iter_mut().zip(point) {
            *sum += value;
        }
        entry.1 += 1.0;
    }
    let middle = |key: &[u8; 3]| sums.get(key).map_or([0.0; 3], |(sum, count)| sum.map(|v| v / count));
    let mut kept: BTreeMap<[[u8; 3]; 3], u16> = BTreeMap::new();
    for (triangle, group) in mesh.triangles.iter().zip(&mesh.group_of) {
        let [a, b, c] = triangle.map(|corner| keys[corner as usize]);
        if a == b || b == c || c == a {
            continue;
        }
        // Turned so that the least comes first; the direction round stays.
        let turned = if a <= b && a <= c {
            [a, b, c]
        } else if b <= c && b <= a {
            [b, c, a]
        } else {
            [c, a, b]
        };
        kept.entry(turned).or_insert(*group);
    }
    kept.into_iter()
        .map(|(keys, group)| (keys.map(|key| middle(&key)), group))
        .collect()
}
