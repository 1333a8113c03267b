//! The drawing: what can be seen is there, what is behind is not, and it stays small.

use super::{form, ordinary};
use quantity::UnitSystem;
use takeoff::drawing::{Look, Rgb, View, ZoneLook, svg};
use takeoff::{Base, BedEnd, ChairBack, DefaultZone, Form, FormKind, Grid, LegStyle, Pull, take_off};

const RED: Look = Look {
    colour: Rgb(200, 30, 30),
    gloss: 0.0,
};

/// Whether anything on the sheet is of a reddish fill.
fn shows_red(sheet: &str) -> bool {
    sheet.match_indices("fill=\"#").any(|(at, _)| {
        let hex = &sheet[at + 7..at + 13.min(sheet.len() - at)];
        Rgb::parse(hex).is_some_and(|Rgb(r, g, b)| r > 100 && g < 60 && b < 60)
    })
}

#[test]
fn every_form_from_every_side_stays_below_thirty_kilobytes() {
    for form in ordinary() {
        for turn in 0..View::TURNS {
            let view = View {
                turn,
                ..View::default()
            }
            .with_dimensions(UnitSystem::Metric);
            let sheet = svg(&form, &ZoneLook::paper(), view);
            assert!(sheet.len() < 30_000, "{:?} turn {turn}: {} B", form.kind(), sheet.len());
            assert!(sheet.len() > 600, "{:?} turn {turn} is empty", form.kind());
        }
    }
}

#[test]
fn even_a_case_of_many_drawers_on_turned_legs_stays_below_thirty_kilobytes() {
    let mut case = form(FormKind::Case, 64.0, 18.0, 50.0);
    if let Form::Case(case) = &mut case {
        case.drawers = Grid { rows: 10, columns: 6 };
        case.base = Base::Legs(LegStyle::Turned);
        case.pull = Pull::Knob;
    }
    for turn in 0..View::TURNS {
        let sheet = svg(
            &case,
            &ZoneLook::paper(),
            View {
                turn,
                ..View::default()
            },
        );
        assert!(sheet.len() < 30_000, "turn {turn}: {} B", sheet.len());
    }
}

#[test]
fn the_drawing_is_the_same_each_time_and_well_formed() {
    for form in ordinary() {
        let sheet = svg(&form, &ZoneLook::paper(), View::default());
        assert_eq!(sheet, svg(&form, &ZoneLook::paper(), View::default()));
        assert!(sheet.starts_with("<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\""));
        assert_eq!(sheet.matches("<g").count(), sheet.matches("</g>").count());
        assert!(sheet.ends_with("</svg>"));
        assert!(!sheet.contains("NaN") && !sheet.contains("inf") && !sheet.contains(" id="));
        assert!(sheet.contains("currentColor"));
    }
}

#[test]
fn the_title_names_the_drawing_and_cannot_break_it() {
    let chair = form(FormKind::Chair, 17.0, 19.0, 35.0);
    let sheet = svg(&chair, &ZoneLook::paper(), View::default());
    assert!(sheet.contains("<title>Drawing of the chair</title>"));
    let sheet = svg(&chair, &ZoneLook::paper().titled("<b> & \"chair\""), View::default());
    assert!(sheet.contains("<title>&lt;b&gt; &amp; &quot;chair&quot;</title>"));
}

#[test]
fn drawers_are_seen_from_the_front_and_the_back_from_behind() {
    let dresser = form(FormKind::Case, 48.0, 18.0, 32.0);
    let seen = |zone: DefaultZone, turn: i32| {
        let view = View {
            turn,
            ..View::default()
        };
        shows_red(&svg(&dresser, &ZoneLook::paper().zone(zone, RED), view))
    };
    for zone in [DefaultZone::DrawerFronts, DefaultZone::Hardware, DefaultZone::Mouldings] {
        assert!(seen(zone, 0), "{zone} from the front");
    }
    assert!(!seen(DefaultZone::Back, 0));
    assert!(!seen(DefaultZone::Inside, 0));
    assert!(!seen(DefaultZone::Underside, 0));
    assert!(seen(DefaultZone::Back, 4));
    assert!(!seen(DefaultZone::DrawerFronts, 4));
    assert!(seen(DefaultZone::Top, 0) && seen(DefaultZone::Top, 4));
}

#[test]
fn every_drawer_and_leg_can_be_told_by_its_own_colour() {
    let dresser = form(FormKind::Case, 48.0, 18.0, 32.0);
    let piece = take_off(&dresser);
    for drawer in piece.find("drawers").unwrap() {
        let look = ZoneLook::paper().surface(&drawer.id, RED);
        assert!(shows_red(&svg(&dresser, &look, View::default())), "{}", drawer.id);
    }
    let look = ZoneLook::paper().named(&piece, ["feet"], RED).unwrap();
    assert!(shows_red(&svg(&dresser, &look, View::default())));
    assert!(ZoneLook::paper().named(&piece, ["wings"], RED).is_err());
}

#[test]
fn the_open_bays_of_a_bookcase_show_their_inside() {
    let mut bookcase = form(FormKind::Case, 36.0, 12.0, 72.0);
    if let Form::Case(case) = &mut bookcase {
        case.doors = 0;
        case.open_bays = 5;
    }
    let look = ZoneLook::paper().zone(DefaultZone::Shelves, RED);
    assert!(shows_red(&svg(&bookcase, &look, View::default())));
    let mut closed = form(FormKind::Case, 36.0, 12.0, 72.0);
    if let Form::Case(case) = &mut closed {
        case.doors = 2;
    }
    assert!(!shows_red(&svg(&closed, &look, View::default())));
}

#[test]
fn dimension_lines_say_the_size_in_the_units_asked_for() {
    let bench = form(FormKind::Case, 42.0, 16.5, 19.0);
    let sheet = svg(
        &bench,
        &ZoneLook::paper(),
        View::default().with_dimensions(UnitSystem::Imperial),
    );
    for label in ["42 in", "16½ in", "19 in"] {
        assert!(sheet.contains(&format!(">{label}</text>")), "{label}");
    }
    let sheet = svg(
        &bench,
        &ZoneLook::paper(),
        View::default().with_dimensions(UnitSystem::Metric),
    );
    for label in ["106.5 cm", "42 cm", "48.5 cm"] {
        assert!(sheet.contains(&format!(">{label}</text>")), "{label}");
    }
    assert!(!svg(&bench, &ZoneLook::paper(), View::default()).contains("<text"));
}

#[test]
fn eight_turns_come_back_to_the_first_view() {
    let mut view = View::default();
    for _ in 0..View::TURNS {
        view = view.turned();
    }
    assert_eq!(view, View::default());
    let chair = form(FormKind::Chair, 17.0, 19.0, 35.0);
    assert_ne!(
        svg(&chair, &ZoneLook::paper(), View::default()),
        svg(&chair, &ZoneLook::paper(), View::default().turned())
    );
}

#[test]
fn a_glossy_top_carries_a_reflection_that_a_flat_one_lacks() {
    let table = form(FormKind::Table, 60.0, 36.0, 30.0);
    let with = |gloss: f64| {
        let look = Look {
            colour: Rgb(120, 80, 40),
            gloss,
        };
        svg(&table, &ZoneLook::paper().zone(DefaultZone::Top, look), View::default())
    };
    assert!(with(0.9).contains("fill=\"#fff\""));
    assert!(!with(0.1).contains("fill=\"#fff\""));
}

#[test]
fn forms_with_absurd_counts_are_measured_and_drawn_within_bounds() {
    for mut form in ordinary() {
        match &mut form {
            Form::Case(case) => {
                case.drawers = Grid {
                    rows: 255,
                    columns: 255,
                };
                (case.doors, case.open_bays) = (255, 255);
                case.base = Base::Legs(LegStyle::Turned);
            }
            Form::Table(table) => (table.leaves, table.drawers) = (255, 255),
            Form::Chair(chair) => chair.back = ChairBack::Spindles(255),
            Form::Bench(bench) => bench.seat_slats = 255,
            Form::Bed(bed) => (bed.slats, bed.ends) = (255, BedEnd::Slats(255)),
            Form::Door(door) => (door.panel_rows, door.panel_columns) = (255, 255),
            _ => {}
        }
        for turn in 0..View::TURNS {
            let sheet = svg(
                &form,
                &ZoneLook::paper(),
                View {
                    turn,
                    ..View::default()
                },
            );
            assert!(sheet.len() < 45_000, "{:?} turn {turn}: {} B", form.kind(), sheet.len());
        }
        assert!(take_off(&form).area().m2().is_finite());
    }
}
