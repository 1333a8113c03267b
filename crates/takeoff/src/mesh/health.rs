//! Whether a mesh is whole: its holes, and edges where it is no surface.

use quantity::{Area, Length};
use serde::Serialize;

use super::{Mesh, area_m2};

/// What is wrong with a mesh, and what that means for its area.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Health {
    /// Triangles of no area.
    pub flat_triangles: usize,
    /// Holes: closed rings of edges with a triangle on one side only.
    pub holes: usize,
    /// All their edges together.
    pub open_edge: Length,
    /// What the holes would add if each were a flat disc of its own edge: an upper bound for flat ones.
    pub missing: Area,
    /// Edges that more than two triangles share.
    pub shared_edges: usize,
}

impl Health {
    /// Whether the mesh closes and no edge is shared by more than two triangles.
    #[must_use]
    pub const fn is_whole(&self) -> bool {
        self.holes == 0 && self.shared_edges == 0
    }

    /// What to tell the user; nothing for a whole mesh.
    #[must_use]
    pub fn remarks(&self) -> Vec<String> {
        let mut remarks = Vec::new();
        if self.holes > 0 {
            remarks.push(format!(
                "the mesh has {} {} with {:.2} m of open edge; up to {:.2} m² may be missing",
                self.holes,
                if self.holes == 1 { "hole" } else { "holes" },
                self.open_edge.m(),
                self.missing.m2()
            ));
        }
        if self.shared_edges > 0 {
            remarks.push(format!(
                "{} edges belong to more than two triangles; surfaces inside the piece may be counted",
                self.shared_edges
            ));
        }
        if self.flat_triangles > 0 {
            remarks.push(format!(
                "{} triangles have no area and count nothing",
                self.flat_triangles
            ));
        }
        remarks
    }
}

impl Mesh {
    /// Looks a mesh over. Points at the same place are one, whatever their number.
    #[must_use]
    pub fn health(&self) -> Health {
        let places = self.places();
        let mut edges = Vec::with_capacity(3 * self.triangles.len());
        let mut flat_triangles = 0;
        for (i, triangle) in self.triangles.iter().enumerate() {
            let [a, b, c] = triangle.map(|corner| places[corner as usize]);
            if a == b || b == c || c == a || area_m2(self.corners(i)) <= 1e-14 {
                flat_triangles += 1;
                if a == b || b == c || c == a {
                    continue;
                }
            }
            for (p, q) in [(a, b), (b, c), (c, a)] {
                edges.push((p.min(q), p.max(q)));
            }
        }
        edges.sort_unstable();
        let mut open = Vec::new();
        let mut shared_edges = 0;
        for same in edges.chunk_by(|a, b| a == b) {
            match same.len() {
                1 => open.push(same[0]),
                2 => {}
                _ => shared_edges += 1,
            }
        }
        let rings = self.rings(&open);
        Health {
            flat_triangles,
            holes: rings.len(),
            open_edge: Length::from_m(rings.iter().sum()),
            missing: Area::from_m2(
                rings
                    .iter()
                    .map(|edge| edge * edge / (4.0 * std::f64::consts::PI))
                    .sum(),
            ),
            shared_edges,
        }
    }

    /// For each point the first one at the same place.
    pub(super) fn places(&self) -> Vec<u32> {
        // Zero has two signs and one place.
        let key = |i: u32| self.points[i as usize].map(|v| (v + 0.0).to_bits());
        let count = u32::try_from(self.points.len()).unwrap_or(u32::MAX);
        let mut order: Vec<u32> = (0..count).collect();
        order.sort_unstable_by_key(|&i| (key(i), i));
        let mut places = vec![0; self.points.len()];
        for same in order.chunk_by(|&a, &b| key(a) == key(b)) {
            for &i in same {
                places[i as usize] = same[0];
            }
        }
        places
    }

    /// The lengths of connected rings of open edges.
    fn rings(&self, open: &[(u32, u32)]) -> Vec<f64> {
        let mut ends: Vec<u32> = open.iter().flat_map(|&(a, b)| [a, b]).collect();
        ends.sort_unstable();
        ends.dedup();
        let place = |point: u32| ends.binary_search(&point).unwrap_or(0);
        let mut parent: Vec<usize> = (0..ends.len()).collect();
        fn root(parent: &mut [usize], mut i: usize) -> usize {
            while parent[i] != i {
                parent[i] = parent[parent[i]];
                i = parent[i];
            }
            i
        }
        for &(a, b) in open {
            let (a, b) = (root(&mut parent, place(a)), root(&mut parent, place(b)));
            parent[a.max(b)] = a.min(b);
        }
        let mut lengths = vec![0.0; ends.len()];
        for &(a, b) in open {
            let (p, q) = (self.points[a as usize], self.points[b as usize]);
            let long = ((p[0] - q[0]).powi(2) + (p[1] - q[1]).powi(2) + (p[2] - q[2]).powi(2)).sqrt();
            lengths[root(&mut parent, place(a))] += long;
        }
        lengths.into_iter().filter(|&length| length > 0.0).collect()
    }
}
