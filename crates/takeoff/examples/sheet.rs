//! Writes a contact sheet of every form as one HTML page to the path given.
#![expect(clippy::print_stderr, reason = "a tool for the one who draws")]
use quantity::Length;
use takeoff::drawing::{self, Look, Rgb, View, ZoneLook};
use takeoff::*;

fn form(kind: FormKind, w: f64, d: f64, h: f64) -> Form {
    Form::from_outline(
        kind,
        Length::from_inches(w),
        Length::from_inches(d),
        Length::from_inches(h),
    )
    .expect("a size")
}

fn main() {
    let path = std::env::args().nth(1).unwrap_or_default();
    let turn: i32 = std::env::args().nth(2).and_then(|t| t.parse().ok()).unwrap_or(0);
    let with_case = |w, d, h, change: &dyn Fn(&mut Case)| {
        let mut f = form(FormKind::Case, w, d, h);
        if let Form::Case(c) = &mut f {
            change(c)
        }
        f
    };
    let mut armchair = form(FormKind::Chair, 20.0, 20.0, 38.0);
    if let Form::Chair(c) = &mut armchair {
        c.arms = true;
        c.legs = LegStyle::Turned;
        c.back = ChairBack::Spindles(7);
    }
    let mut ladder = form(FormKind::Chair, 18.0, 18.0, 36.0);
    if let Form::Chair(c) = &mut ladder {
        c.back = ChairBack::Ladder(4);
    }
    let mut round = form(FormKind::Table, 42.0, 42.0, 30.0);
    if let Form::Table(t) = &mut round {
        t.outline = Outline::Oval;
        t.legs = LegStyle::Turned;
    }
    let mut desk = form(FormKind::Table, 48.0, 24.0, 30.0);
    if let Form::Table(t) = &mut desk {
        t.drawers = 2;
    }
    let mut leaves = form(FormKind::Table, 66.0, 36.0, 30.0);
    if let Form::Table(t) = &mut leaves {
        t.leaves = 1;
        t.legs = LegStyle::Turned;
    }
    let mut slatted = form(FormKind::Bench, 48.0, 15.0, 18.0);
    if let Form::Bench(b) = &mut slatted {
        b.seat_slats = 4;
    }
    let mut steel = form(FormKind::Bench, 14.0, 14.0, 18.0);
    if let Form::Bench(b) = &mut steel {
        b.legs = LegStyle::Rod;
        b.outline = Outline::Rectangle;
    }
    let mut bedp = form(FormKind::Bed, 60.0, 80.0, 42.0);
    if let Form::Bed(b) = &mut bedp {
        b.ends = BedEnd::Panels(3);
        b.finials = false;
    }
    let pieces: Vec<(&str, Form)> = vec![
        ("dresser", form(FormKind::Case, 48.0, 18.0, 32.0)),
        (
            "chest",
            with_case(36.0, 18.0, 48.0, &|c| {
                c.base = Base::Brackets;
            }),
        ),
        ("bedside", form(FormKind::Case, 16.0, 13.0, 22.0)),
        (
            "hall bench",
            with_case(42.0, 16.5, 19.0, &|c| {
                c.drawers = Grid { rows: 1, columns: 2 };
            }),
        ),
        (
            "sideboard",
            with_case(64.0, 18.0, 34.0, &|c| {
                c.drawers = Grid { rows: 1, columns: 3 };
                c.doors = 4;
                c.base = Base::Legs(LegStyle::Turned);
                c.pull = Pull::Bar;
            }),
        ),
        (
            "bookcase",
            with_case(36.0, 12.0, 72.0, &|c| {
                c.doors = 2;
                c.door_style = DoorStyle::Raised;
                c.open_bays = 4;
            }),
        ),
        ("wardrobe", form(FormKind::Case, 44.0, 22.0, 74.0)),
        ("blanket box", form(FormKind::Case, 40.0, 18.0, 19.0)),
        ("table", form(FormKind::Table, 60.0, 36.0, 30.0)),
        ("round table", round),
        ("desk", desk),
        ("leaves", leaves),
        ("chair", form(FormKind::Chair, 17.0, 19.0, 35.0)),
        ("armchair", armchair),
        ("ladder", ladder),
        ("bench", form(FormKind::Bench, 48.0, 14.0, 18.0)),
        ("slatted bench", slatted),
        ("stool", form(FormKind::Bench, 14.0, 14.0, 24.0)),
        ("steel stool", steel),
        ("bed", form(FormKind::Bed, 60.0, 80.0, 44.0)),
        ("panel bed", bedp),
        ("mirror", form(FormKind::Frame, 24.0, 1.5, 34.0)),
        ("door", form(FormKind::Door, 30.0, 1.4, 80.0)),
        ("cabinet door", form(FormKind::Door, 16.0, 0.75, 26.0)),
        ("panel", form(FormKind::Panel, 40.0, 0.75, 16.0)),
        ("turned", form(FormKind::Turned, 5.0, 5.0, 28.0)),
        ("moulding", form(FormKind::Moulding, 36.0, 2.5, 3.5)),
    ];
    let mut html = String::from(
        "<meta charset=utf-8><style>body{background:#fffdf7;color:#35332f;font:13px serif;display:grid;grid-template-columns:repeat(6,1fr);gap:14px}svg{width:100%;height:230px}div{text-align:center}</style>",
    );
    let paint = |r, g, b, gloss| Look {
        colour: Rgb(r, g, b),
        gloss,
    };
    for (i, (name, form)) in pieces.iter().enumerate() {
        let piece = take_off(form);
        let look = if i % 2 == 0 {
            ZoneLook::paper()
        } else {
            ZoneLook::paper()
                .zone(DefaultZone::Top, paint(166, 116, 68, 0.5))
                .zone(DefaultZone::Seat, paint(166, 116, 68, 0.5))
                .zone(DefaultZone::Body, paint(64, 92, 98, 0.3))
                .zone(DefaultZone::DrawerFronts, paint(64, 92, 98, 0.3))
                .zone(DefaultZone::Doors, paint(64, 92, 98, 0.3))
                .zone(DefaultZone::Mouldings, paint(64, 92, 98, 0.3))
                .zone(DefaultZone::Legs, paint(64, 92, 98, 0.3))
                .zone(DefaultZone::Hardware, paint(190, 155, 80, 0.8))
                .zone(DefaultZone::Slats, paint(64, 92, 98, 0.3))
                .zone(DefaultZone::Rails, paint(64, 92, 98, 0.3))
                .zone(DefaultZone::Backrest, paint(64, 92, 98, 0.3))
                .zone(DefaultZone::Panel, paint(220, 214, 200, 0.3))
        };
        let view = View {
            turn,
            dimensions: i % 3 == 0,
            width_px: 260,
            ..View::default()
        };
        let svg = drawing::svg(form, &look, view);
        html.push_str(&format!(
            "<div>{svg}<br>{name} {:.2}±{:.2} m² {} B</div>",
            piece.area().m2(),
            piece.area_se().m2(),
            svg.len()
        ));
        if let Some(next) = piece.next_measurement() {
            html.push_str(&format!("<!-- {} -->", next.dimension));
        }
        eprintln!(
            "{name}: {:.3} ± {:.3} m2, {} B, next {:?}",
            piece.area().m2(),
            piece.area_se().m2(),
            svg.len(),
            piece.next_measurement().map(|n| n.dimension)
        );
        for z in piece.zones() {
            eprintln!(
                "   {} {:.3} ± {:.3} edge {:.1}",
                z.zone,
                z.area.m2(),
                z.area_se.m2(),
                z.edge.m()
            );
        }
    }
    std::fs::write(path, html).expect("a path to write");
}
