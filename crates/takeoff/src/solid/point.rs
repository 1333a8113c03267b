//! Points in metres, and the little vector arithmetic that planes and polygons need.

use std::ops::{Add, Mul, Sub};

/// A point or a step between two, in metres.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Point {
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) z: f64,
}

/// The point at these coordinates.
pub(crate) const fn at(x: f64, y: f64, z: f64) -> Point {
    Point { x, y, z }
}

impl Point {
    pub(crate) const fn dot(self, other: Self) -> f64 {
        self.x * other.x + self.y * other.y + self.z * other.z
    }

    pub(crate) const fn cross(self, other: Self) -> Self {
        at(
            self.y * other.z - self.z * other.y,
            self.z * other.x - self.x * other.z,
            self.x * other.y - self.y * other.x,
        )
    }

    pub(crate) fn size(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// Along axis 0, 1 or 2.
    pub(crate) const fn along(self, axis: usize) -> f64 {
        match axis {
            0 => self.x,
            1 => self.y,
            _ => self.z,
        }
    }
}

impl Add for Point {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        at(self.x + other.x, self.y + other.y, self.z + other.z)
    }
}

impl Sub for Point {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        at(self.x - other.x, self.y - other.y, self.z - other.z)
    }
}

impl Mul<f64> for Point {
    type Output = Self;
    fn mul(self, times: f64) -> Self {
        at(self.x * times, self.y * times, self.z * times)
    }
}

/// The area vector of a polygon (Newell): its direction is the outward normal, its size the area.
pub(crate) fn area_vector(corners: &[Point]) -> Point {
    let Some(&first) = corners.first() else {
        return Point::default();
    };
    corners.windows(2).skip(1).fold(Point::default(), |sum, pair| {
        sum + (pair[0] - first).cross(pair[1] - first)
    }) * 0.5
}
