//! From what was said of a form to the take-off's own: the one place where the two meet.
//!
//! Three numbers make a form with everything else as such a piece usually has it; whatever else was said is laid over it.

use quantity::Length;
use takeoff::{
    Base, Bed, BedEnd, Bench, Case, Chair, ChairBack, Dimension, Door, Form, Frame, Grid, LegStyle, Outline, Panel,
    Pull, Table, Turned,
};

use crate::model::{Details, FormKind, FormSaid, LegShape, Legs, TopShape};

/// Why a form cannot be measured, in words for the user.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{limit}; {right}")]
pub struct FormRefused {
    /// What stands there.
    pub found: String,
    /// The limit that it breaks.
    pub limit: String,
    /// What would be right.
    pub right: String,
}

/// The take-off's form of what was said.
///
/// # Errors
/// A size that no furniture has, or a mesh whose file was not named.
pub fn form_of(said: &FormSaid) -> Result<Form, FormRefused> {
    let mut form = bare_form(said)?;
    if matches!(form, Form::Mesh(_)) {
        return Ok(form);
    }
    outline_as_measured(&mut form, said);
    let details = &said.details;
    match &mut form {
        Form::Case(case) => refine_case(case, details),
        Form::Table(table) => refine_table(table, details),
        Form::Chair(chair) => refine_chair(chair, details),
        Form::Bench(bench) => refine_bench(bench, details),
        Form::Bed(bed) => refine_bed(bed, details),
        Form::Frame(frame) => refine_frame(frame, details),
        Form::Door(door) => refine_door(door, details),
        Form::Panel(panel) => refine_panel(panel, details),
        Form::Turned(turned) => refine_turned(turned, details),
        _ => {}
    }
    for (name, further) in &said.dimensions {
        if !form.set_dimension(name, further.measured.dimension(further.length)) {
            return Err(FormRefused {
                found: name.clone(),
                limit: format!("a {} has no dimension of this name", said.kind.word()),
                right: format!("one of {}", further_dimensions(said.kind).join(", ")),
            });
        }
    }
    Ok(form)
}

/// The form of the three numbers alone.
fn bare_form(said: &FormSaid) -> Result<Form, FormRefused> {
    let kind = match said.kind {
        FormKind::Case => takeoff::FormKind::Case,
        FormKind::Table => takeoff::FormKind::Table,
        FormKind::Chair => takeoff::FormKind::Chair,
        FormKind::Bench => takeoff::FormKind::Bench,
        FormKind::Bed => takeoff::FormKind::Bed,
        FormKind::Frame => takeoff::FormKind::Frame,
        FormKind::Door => takeoff::FormKind::Door,
        FormKind::Panel => takeoff::FormKind::Panel,
        FormKind::Turned => takeoff::FormKind::Turned,
        FormKind::Moulding => takeoff::FormKind::Moulding,
        FormKind::Mesh => return scanned(said),
    };
    Form::from_outline(kind, said.width, said.depth, said.height).map_err(|refused| FormRefused {
        found: format!(
            "{:.0} × {:.0} × {:.0} mm",
            said.width.mm(),
            said.depth.mm(),
            said.height.mm()
        ),
        limit: refused.to_string(),
        right: "the outside measures of the piece".to_owned(),
    })
}

/// The take-off's own names for width, depth and height of a form.
fn outline_names(kind: FormKind) -> [&'static str; 3] {
    match kind {
        FormKind::Case | FormKind::Table | FormKind::Chair | FormKind::Bench => ["width", "depth", "height"],
        FormKind::Bed => ["width", "length", "height"],
        FormKind::Frame | FormKind::Door | FormKind::Panel => ["width", "thickness", "height"],
        FormKind::Turned => ["diameter", "diameter", "height"],
        FormKind::Moulding => ["length", "projection", "face height"],
        FormKind::Mesh => ["", "", "height"],
    }
}

/// The names of the dimensions that a form has beside its three numbers.
pub fn further_dimensions(kind: FormKind) -> Vec<&'static str> {
    let metre = Length::from_m(1.0);
    let Ok(form) = bare_form(&FormSaid::of(kind, [metre; 3])) else {
        return Vec::new();
    };
    let outline = outline_names(kind);
    let names = form.dimensions().into_iter().map(|(name, _)| name);
    names.filter(|name| !outline.contains(name)).collect()
}

/// The word of the model for a dimension of the take-off: its own name, or one of the three numbers.
pub(super) fn said_name(said: &FormSaid, name: &'static str) -> &'static str {
    let words = ["width", "depth", "height"];
    let outline = outline_names(said.kind);
    if said.kind == FormKind::Turned && name == "diameter" && said.depth > said.width {
        return "depth";
    }
    outline
        .iter()
        .zip(words)
        .find(|(own, _)| **own == name)
        .map_or(name, |(_, word)| word)
}

/// Gives the three numbers the errors with which they were measured.
fn outline_as_measured(form: &mut Form, said: &FormSaid) {
    for (name, (word, length, how)) in outline_names(said.kind).into_iter().zip(said.outline()) {
        // A turning's diameter is the larger of its two girths.
        let is_beaten = said.kind == FormKind::Turned
            && match word {
                "width" => said.depth > said.width,
                "depth" => said.width >= said.depth,
                _ => false,
            };
        if !is_beaten && !how.is_plain() {
            form.set_dimension(name, how.dimension(length));
        }
    }
}

/// A scanned piece; a height that was said stretches the scan.
fn scanned(said: &FormSaid) -> Result<Form, FormRefused> {
    let Some(scan) = said.details.mesh.as_ref().and_then(|mesh| mesh.scan.as_deref()) else {
        return Err(FormRefused {
            found: "a mesh without its file".to_owned(),
            limit: "the areas of a mesh come from its file".to_owned(),
            right: "mesh = { file = \"chair.stl\", unit = \"mm\" }, or an area for each zone".to_owned(),
        });
    };
    let mut scan = scan.clone();
    if said.height.m() > 0.0 {
        scan.height = said.measured.height.dimension(said.height);
    }
    Ok(Form::Mesh(scan))
}

fn taped(slot: &mut Dimension, said: Option<Length>) {
    if let Some(length) = said {
        *slot = Dimension::taped(length);
    }
}

fn few(count: u32) -> u8 {
    u8::try_from(count).unwrap_or(u8::MAX)
}

fn style(shape: LegShape) -> LegStyle {
    match shape {
        LegShape::Square => LegStyle::Square,
        LegShape::Tapered => LegStyle::Tapered,
        LegShape::Turned => LegStyle::Turned,
        LegShape::Rod => LegStyle::Rod,
    }
}

fn outline(shape: TopShape) -> Outline {
    match shape {
        TopShape::Rectangle => Outline::Rectangle,
        // A circle is an oval as deep as it is wide.
        TopShape::Round | TopShape::Oval => Outline::Oval,
    }
}

fn refine_case(case: &mut Case, details: &Details) {
    // Whoever names one kind of front names the whole front.
    if details.drawers.is_some() || details.doors.is_some() || details.shelves.is_some() || details.lid == Some(true) {
        let (rows, columns) = details.drawers.unwrap_or((0, 0));
        case.drawers = Grid {
            rows: few(rows),
            columns: few(columns),
        };
        case.doors = few(details.doors.unwrap_or(0));
        case.open_bays = few(details
            .shelves
            .map_or(0, |shelves| if shelves == 0 { 0 } else { shelves + 1 }));
    }
    if details.pulls == Some(0) || details.lid == Some(true) && details.pulls.is_none() {
        case.pull = Pull::None;
    }
    taped(&mut case.top_overhang, details.overhang);
    taped(&mut case.moulding, details.moulding);
    taped(&mut case.board, details.thickness);
    if let Some(plinth) = details.plinth {
        case.base = if plinth.m() > 0.0 { Base::Plinth } else { Base::Floor };
        case.base_height = Dimension::taped(plinth);
    }
    if let Some(legs) = details.legs {
        case.base = Base::Legs(legs.shape.map_or(LegStyle::default(), style));
        taped(&mut case.base_height, legs.length);
        taped(&mut case.base_section, legs.thickness);
    }
    case.back = details.back.unwrap_or(case.back);
    case.inside = details.inside.unwrap_or(case.inside);
}

fn refine_table(table: &mut Table, details: &Details) {
    table.outline = details.shape.map_or(table.outline, outline);
    taped(&mut table.top_thickness, details.thickness);
    taped(&mut table.top_overhang, details.overhang);
    taped(&mut table.apron_height, details.apron);
    table.leaves = details.leaves.map_or(table.leaves, few);
    table.drawers = details
        .drawers
        .map_or(table.drawers, |(rows, columns)| few(rows.saturating_mul(columns)));
    refine_legs(&mut table.legs, &mut table.leg_section, details.legs);
}

fn refine_legs(legs: &mut LegStyle, section: &mut Dimension, said: Option<Legs>) {
    if let Some(said) = said {
        *legs = said.shape.map_or(*legs, style);
        taped(section, said.thickness);
    }
}

fn refine_chair(chair: &mut Chair, details: &Details) {
    taped(&mut chair.seat_height, details.seat);
    taped(&mut chair.seat_thickness, details.thickness);
    refine_legs(&mut chair.legs, &mut chair.leg_section, details.legs);
    if let Some(spindles) = details.spindles {
        chair.back = ChairBack::Spindles(few(spindles));
    } else if let Some(slats) = details.slats {
        chair.back = ChairBack::Slats(few(slats));
    }
    chair.stretchers = details.stretchers.map_or(chair.stretchers, |stretchers| stretchers > 0);
    chair.arms = details.arms.unwrap_or(chair.arms);
}

fn refine_bench(bench: &mut Bench, details: &Details) {
    bench.outline = details.shape.map_or(bench.outline, outline);
    taped(&mut bench.seat_thickness, details.thickness);
    taped(&mut bench.apron_height, details.apron);
    refine_legs(&mut bench.legs, &mut bench.leg_section, details.legs);
    bench.stretchers = details.stretchers.map_or(bench.stretchers, |stretchers| stretchers > 0);
    bench.seat_slats = details.slats.map_or(bench.seat_slats, few);
}

fn refine_bed(bed: &mut Bed, details: &Details) {
    if let Some(slats) = details.slats {
        bed.ends = BedEnd::Slats(few(slats));
    }
    taped(&mut bed.post, details.legs.and_then(|legs| legs.thickness));
}

fn refine_frame(frame: &mut Frame, details: &Details) {
    taped(&mut frame.member, details.member);
    frame.moulded = details.moulding.map_or(frame.moulded, |moulding| moulding.m() > 0.0);
}

fn refine_door(door: &mut Door, details: &Details) {
    taped(&mut door.thickness, details.thickness);
    taped(&mut door.stile, details.member);
    door.knob = details.pulls.map_or(door.knob, |pulls| pulls > 0);
}

fn refine_panel(panel: &mut Panel, details: &Details) {
    taped(&mut panel.thickness, details.thickness);
    if let Some(back) = details.back {
        panel.faces = if back {
            takeoff::Faces::Both
        } else {
            takeoff::Faces::One
        };
    }
}

fn refine_turned(turned: &mut Turned, details: &Details) {
    let height = details.profile.iter().map(|(height, _)| height.m()).fold(0.0, f64::max);
    let radius = details.profile.iter().map(|(_, radius)| radius.m()).fold(0.0, f64::max);
    if height > 0.0 && radius > 0.0 {
        turned.profile = details
            .profile
            .iter()
            .map(|(at, wide)| (at.m() / height, wide.m() / radius))
            .collect();
        turned.height = Dimension::taped(Length::from_m(height));
        turned.diameter = Dimension::taped(Length::from_m(2.0 * radius));
    }
}
