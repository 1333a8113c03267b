//! Why a mesh file is not taken.

/// Why a mesh file is not taken, and what would help.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum MeshRefusal {
    /// The file is too large to open.
    #[error(
        "the file has {megabytes} MB; at most {most} MB are opened. Reduce the scan where you made it, and export it again"
    )]
    TooLarge {
        /// Its size.
        megabytes: usize,
        /// The limit.
        most: usize,
    },
    /// More triangles than are taken.
    #[error(
        "the mesh has {count} triangles; at most {most} are taken. Reduce it where you made it (a tenth is plenty for an area), and export it again"
    )]
    TooManyTriangles {
        /// As the file says, or as far as it was read.
        count: usize,
        /// The limit.
        most: usize,
    },
    /// Nothing in it.
    #[error("the file holds no triangles; export the scan as a surface, not as points or a picture")]
    Empty,
    /// An archive or picture that is called a mesh.
    #[error("this is {what}, not a mesh; take OBJ, STL, PLY or glTF{hint}")]
    NotAMesh {
        /// What it looks like.
        what: &'static str,
        /// What to do about it.
        hint: &'static str,
    },
    /// A mesh of another kind than its name says.
    #[error("the name ends in .{extension}, but inside it is {found}; give it the ending .{right} and add it again")]
    WrongExtension {
        /// The ending of the name.
        extension: String,
        /// What the file is.
        found: &'static str,
        /// The ending it should have.
        right: &'static str,
    },
    /// The file cannot be read to its end.
    #[error("the {format} file is damaged{}: {what}. Export it again, or copy it again if it came over a cable", at_line(*.line))]
    Damaged {
        /// STL, OBJ, PLY or glTF.
        format: &'static str,
        /// The line, in a text file.
        line: Option<usize>,
        /// What is wrong.
        what: String,
    },
    /// A triangle names a point which the file does not have.
    #[error("triangle {triangle} goes to point {point}, but the file has only {points} points; export it again")]
    NoSuchPoint {
        /// Which triangle, from 1.
        triangle: usize,
        /// The point it names, from 0.
        point: usize,
        /// How many there are.
        points: usize,
    },
    /// A coordinate is no number.
    #[error("point {point} has a coordinate that is no number; repair the mesh where you made it, and export it again")]
    NotANumber {
        /// Which point, from 1.
        point: usize,
    },
    /// As large as no furniture.
    #[error("in {unit} this mesh would be {} long; furniture measures between 1 cm and 20 m{}", shown(*.metres), instead(*.rather))]
    Size {
        /// Its longest side.
        metres: f64,
        /// The unit that was assumed.
        unit: &'static str,
        /// A unit that would fit.
        rather: Option<&'static str>,
    },
    /// A way of storing glTF that is not read.
    #[error("this glTF file {what}; export it as one uncompressed .glb file")]
    GltfKind {
        /// What it does.
        what: String,
    },
}

fn at_line(line: Option<usize>) -> String {
    line.map_or_else(String::new, |line| format!(" in line {line}"))
}

fn shown(metres: f64) -> String {
    if metres < 0.01 {
        format!("{:.2} mm", metres * 1000.0)
    } else {
        format!("{metres:.0} m")
    }
}

fn instead(unit: Option<&str>) -> String {
    unit.map_or_else(String::new, |unit| format!(". Its numbers are rather {unit}"))
}
