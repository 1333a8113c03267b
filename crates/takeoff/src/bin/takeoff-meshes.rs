//! For the reference checks: writes every form as STL, surface by surface, or reads a mesh and says what it measures.
//!
//! `takeoff-meshes forms FOLDER` prints a line for each surface: form, surface, file, outline area in m², `flat` or
//! `round`. `takeoff-meshes read FILE UNIT UP` prints the area in m², holes, shared edges and triangles, or the refusal.
//! `takeoff-meshes turned` prints a turning's area in m², then height and radius of each point of its profile in m.
//! `takeoff-meshes solids` prints, for each form of flat parts only, its name and the area of all its surfaces, then a line
//! of 24 numbers for each solid: eight corners in m.
//! `takeoff-meshes draw` prints how long each drawing takes on average, and its length.

use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;
use std::time::Instant;

use quantity::{Length, UnitSystem};
use takeoff::drawing::{View, ZoneLook, svg};
use takeoff::mesh::{Mesh, MeshUnit, UpAxis, solids, stl_of};
use takeoff::{
    Base, BedEnd, ChairBack, DefaultZone, Detail, DoorStyle, Form, FormKind, Grid, LegStyle, Outline, Pull, take_off,
};

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let done = match words.as_slice() {
        ["forms", folder] => write_forms(Path::new(folder)),
        ["read", file, unit, up] => read(file, unit, up),
        ["turned"] => turned(),
        ["solids"] => solids_out(),
        ["draw"] => draw(),
        _ => Err("say: forms FOLDER, read FILE UNIT UP, turned, solids, or draw".into()),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            // Nothing more can be said when even this cannot be written.
            let _ = writeln!(std::io::stderr(), "{why}");
            ExitCode::FAILURE
        }
    }
}

type Done = Result<(), Box<dyn std::error::Error>>;

fn write_forms(folder: &Path) -> Done {
    let mut out = std::io::stdout().lock();
    for (name, form) in forms()? {
        for surface in take_off(&form).surfaces {
            let file = folder.join(format!("{name}.{}.stl", surface.id));
            std::fs::write(&file, stl_of(&form, &surface.id))?;
            let may_be = matches!(
                surface.zone,
                DefaultZone::Legs | DefaultZone::Top | DefaultZone::Seat | DefaultZone::Underside
            );
            let round = surface.detail == Detail::Turned || (may_be && is_round(&form));
            let shape = if round { "round" } else { "flat" };
            writeln!(
                out,
                "{name}\t{}\t{}\t{:.12}\t{shape}",
                surface.id,
                file.display(),
                surface.outline.m2()
            )?;
        }
    }
    Ok(())
}

/// Whether a form has round parts besides its knobs.
fn is_round(form: &Form) -> bool {
    match form {
        Form::Table(t) => t.outline == Outline::Oval || matches!(t.legs, LegStyle::Turned | LegStyle::Rod),
        Form::Bench(b) => b.outline == Outline::Oval || matches!(b.legs, LegStyle::Turned | LegStyle::Rod),
        Form::Chair(c) => c.legs == LegStyle::Turned || matches!(c.back, ChairBack::Spindles(_)),
        Form::Case(_) | Form::Bed(_) => true,
        _ => false,
    }
}

fn read(file: &str, unit: &str, up: &str) -> Done {
    let unit = MeshUnit::ALL
        .into_iter()
        .find(|known| known.name() == unit)
        .ok_or("the unit is metres, centimetres, millimetres, inches or feet")?;
    let up = if up == "y" { UpAxis::Y } else { UpAxis::Z };
    let bytes = std::fs::read(file)?;
    let mesh = Mesh::read(&bytes, file, unit, up)?;
    let health = mesh.health();
    writeln!(
        std::io::stdout(),
        "{:.12}\t{}\t{}\t{}",
        mesh.area().m2(),
        health.holes,
        health.shared_edges,
        mesh.triangle_count()
    )?;
    Ok(())
}

fn turned() -> Done {
    let mut out = std::io::stdout().lock();
    for (_, form) in forms()? {
        let Form::Turned(turned) = &form else { continue };
        writeln!(out, "{:.12}", take_off(&form).area().m2())?;
        let (height, radius) = (turned.height.length.m(), turned.diameter.length.m() / 2.0);
        for (up, out_to) in &turned.profile {
            writeln!(out, "{} {}", up * height, out_to * radius)?;
        }
    }
    Ok(())
}

fn solids_out() -> Done {
    let mut out = std::io::stdout().lock();
    for (name, mut form) in forms()? {
        match &mut form {
            Form::Table(table) if table.outline == Outline::Rectangle => table.drawers = 0,
            Form::Chair(chair) if !is_round(&Form::Chair(chair.clone())) => {}
            Form::Bench(bench) if !is_round(&Form::Bench(bench.clone())) => {}
            Form::Bed(bed) => bed.finials = false,
            Form::Door(door) => (door.knob, door.style) = (false, DoorStyle::Framed),
            Form::Panel(_) => {}
            _ => continue,
        }
        let area: f64 = take_off(&form).surfaces.iter().map(|s| s.outline.m2()).sum();
        writeln!(out, "{name} {area:.12}")?;
        for corners in solids(&form) {
            let numbers: Vec<String> = corners.as_flattened().iter().map(f64::to_string).collect();
            writeln!(out, "{}", numbers.join(" "))?;
        }
    }
    Ok(())
}

fn draw() -> Done {
    const TIMES: u32 = 200;
    let mut out = std::io::stdout().lock();
    for (name, form) in forms()? {
        let view = View::default().with_dimensions(UnitSystem::Imperial);
        let mut length = 0;
        let start = Instant::now();
        for turn in 0..TIMES {
            let view = View {
                turn: i32::try_from(turn)?,
                ..view
            };
            length = length.max(svg(&form, &ZoneLook::paper(), view).len());
        }
        let each = start.elapsed() / TIMES;
        writeln!(out, "{name}\t{:.3} ms\t{length} B at most", each.as_secs_f64() * 1e3)?;
    }
    Ok(())
}

/// Every form in ordinary sizes and several makings.
fn forms() -> Result<Vec<(&'static str, Form)>, takeoff::FormRefusal> {
    let of = |kind, w, d, h| {
        let inches = Length::from_inches;
        Form::from_outline(kind, inches(w), inches(d), inches(h))
    };
    let mut forms = vec![
        ("dresser", of(FormKind::Case, 56.0, 19.0, 34.0)?),
        ("bedside", of(FormKind::Case, 16.0, 13.0, 22.0)?),
        ("wardrobe", of(FormKind::Case, 44.0, 22.0, 74.0)?),
        ("blanket-box", of(FormKind::Case, 40.0, 18.0, 19.0)?),
        ("sideboard", of(FormKind::Case, 64.0, 18.0, 34.0)?),
        ("bookcase", of(FormKind::Case, 36.0, 12.0, 72.0)?),
        ("table", of(FormKind::Table, 60.0, 36.0, 30.0)?),
        ("round-table", of(FormKind::Table, 42.0, 42.0, 30.0)?),
        ("oval-table", of(FormKind::Table, 66.0, 40.0, 30.0)?),
        ("desk", of(FormKind::Table, 48.0, 24.0, 30.0)?),
        ("chair", of(FormKind::Chair, 17.0, 19.0, 35.0)?),
        ("armchair", of(FormKind::Chair, 20.0, 20.0, 38.0)?),
        ("bench", of(FormKind::Bench, 48.0, 14.0, 18.0)?),
        ("slatted-bench", of(FormKind::Bench, 48.0, 15.0, 18.0)?),
        ("stool", of(FormKind::Bench, 14.0, 14.0, 24.0)?),
        ("steel-stool", of(FormKind::Bench, 14.0, 14.0, 24.0)?),
        ("bed", of(FormKind::Bed, 60.0, 80.0, 44.0)?),
        ("panelled-bed", of(FormKind::Bed, 60.0, 80.0, 44.0)?),
        ("mirror", of(FormKind::Frame, 24.0, 1.5, 34.0)?),
        ("door", of(FormKind::Door, 30.0, 1.375, 80.0)?),
        ("panel", of(FormKind::Panel, 40.0, 0.75, 16.0)?),
        ("turned", of(FormKind::Turned, 5.0, 5.0, 28.0)?),
        ("moulding", of(FormKind::Moulding, 96.0, 2.5, 3.5)?),
    ];
    for (name, form) in &mut forms {
        vary(name, form);
    }
    Ok(forms)
}

/// The makings that three numbers do not give.
fn vary(name: &str, form: &mut Form) {
    match (name, form) {
        ("dresser", Form::Case(case)) => case.base = Base::Brackets,
        ("sideboard", Form::Case(case)) => {
            case.drawers = Grid { rows: 1, columns: 3 };
            case.doors = 4;
            case.base = Base::Legs(LegStyle::Turned);
            case.pull = Pull::Bar;
        }
        ("bookcase", Form::Case(case)) => {
            case.doors = 2;
            case.door_style = DoorStyle::Raised;
            case.open_bays = 4;
            case.back = true;
        }
        ("round-table" | "oval-table", Form::Table(table)) => {
            table.outline = Outline::Oval;
            table.legs = LegStyle::Turned;
        }
        ("desk", Form::Table(table)) => {
            table.drawers = 2;
            table.leaves = 1;
        }
        ("armchair", Form::Chair(chair)) => {
            chair.arms = true;
            chair.legs = LegStyle::Turned;
            chair.back = ChairBack::Spindles(7);
        }
        ("slatted-bench", Form::Bench(bench)) => bench.seat_slats = 4,
        ("steel-stool", Form::Bench(bench)) => {
            bench.legs = LegStyle::Rod;
            bench.outline = Outline::Rectangle;
        }
        ("panelled-bed", Form::Bed(bed)) => bed.ends = BedEnd::Panels(3),
        _ => {}
    }
}
