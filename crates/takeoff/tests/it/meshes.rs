//! Meshes in and out, good ones and bad ones.

use quantity::{Area, Length};
use takeoff::drawing::{View, ZoneLook, svg};
use takeoff::mesh::{MOST_TRIANGLES, Mesh, MeshRefusal, MeshUnit, Pick, UpAxis, stl, stl_of};
use takeoff::{Dimension, Form, FormKind, FormRefusal, Scan, take_off};

use super::{form, ordinary};

/// A box of 400 × 500 × 700 mm as OBJ: top and bottom one group, the sides another, in two materials.
const BOX_OBJ: &str = "# a box
o lid
usemtl oak
v 0 0 0
v 400 0 0
v 400 500 0
v 0 500 0
v 0 0 700
v 400 0 700
v 400 500 700
v 0 500 700
f 4 3 2 1
f 5 6 7 8
o carcass
usemtl pine
f 1 2 6 5
f 2 3 7 6
f 3 4 8 7
f 4 1 5 8
";

const BOX_PLY: &str = "ply
format ascii 1.0
element vertex 8
property float x
property float y
property float z
element face 6
property list uchar int vertex_indices
end_header
0 0 0
0.4 0 0
0.4 0.5 0
0 0.5 0
0 0 0.7
0.4 0 0.7
0.4 0.5 0.7
0 0.5 0.7
4 3 2 1 0
4 4 5 6 7
4 0 1 5 4
4 1 2 6 5
4 2 3 7 6
4 3 0 4 7
";

const BOX_M2: f64 = 2.0 * (0.4 * 0.5 + 0.4 * 0.7 + 0.5 * 0.7);

fn read(bytes: &[u8], name: &str, unit: MeshUnit) -> Result<Mesh, MeshRefusal> {
    Mesh::read(bytes, name, unit, UpAxis::Z)
}

fn boxed() -> Mesh {
    read(BOX_OBJ.as_bytes(), "box.obj", MeshUnit::Millimetre).unwrap()
}

fn near(area: Area, m2: f64) -> bool {
    (area.m2() - m2).abs() < 1e-6
}

/// One triangle as a glTF with its buffer in base64, moved and stretched by its node.
fn triangle_gltf(uri: &str, extra: &str) -> String {
    format!(
        r#"{{"asset":{{"version":"2.0"}},"scene":0,"scenes":[{{"nodes":[0]}}],
        "nodes":[{{"mesh":0,"name":"Lid","scale":[2,1,1],"translation":[5,5,5]}}],
        "meshes":[{{"primitives":[{{"attributes":{{"POSITION":0}}}}]}}],
        "accessors":[{{"bufferView":0,"componentType":5126,"count":3,"type":"VEC3","min":[0,0,0],"max":[1,1,0]{extra}}}],
        "bufferViews":[{{"buffer":0,"byteLength":36}}],
        "buffers":[{{"byteLength":36,"uri":"{uri}"}}]}}"#
    )
}

/// (0,0,0) (1,0,0) (0,1,0) in single precision.
const TRIANGLE: &str = "data:application/octet-stream;base64,AAAAAAAAAAAAAAAAAACAPwAAAAAAAAAAAAAAAAAAgD8AAAAA";

#[test]
fn a_box_has_its_area_by_group_and_is_whole() {
    let mesh = boxed();
    assert_eq!(mesh.triangle_count(), 12);
    assert!(near(mesh.area(), BOX_M2));
    assert_eq!(mesh.groups, ["lid oak", "carcass pine"]);
    let by_group = mesh.area_by_group();
    assert!(near(by_group[0], 0.4) && near(by_group[1], 2.0 * 0.28 + 2.0 * 0.35));
    assert!(mesh.health().is_whole());
    assert!(mesh.health().remarks().is_empty());
    let size = mesh.size_m();
    assert!((size[0] - 0.4).abs() < 1e-9 && (size[1] - 0.5).abs() < 1e-9 && (size[2] - 0.7).abs() < 1e-9);
}

#[test]
fn ply_and_our_own_stl_give_the_same_box() {
    assert!(near(
        read(BOX_PLY.as_bytes(), "box.ply", MeshUnit::Metre).unwrap().area(),
        BOX_M2
    ));
    let panel = form(FormKind::Panel, 40.0, 0.75, 16.0);
    let mesh = read(&stl(&panel), "panel.stl", MeshUnit::Millimetre).unwrap();
    assert!((mesh.area() / take_off(&panel).area() - 1.0).abs() < 1e-6);
    assert!(mesh.health().is_whole());
}

#[test]
fn every_forms_mesh_has_the_area_of_its_take_off() {
    for form in ordinary() {
        let piece = take_off(&form);
        let mesh = read(&stl(&form), "form.stl", MeshUnit::Millimetre).unwrap();
        let outline: Area = piece.surfaces.iter().map(|s| s.outline).sum();
        assert!((mesh.area() / outline - 1.0).abs() < 1e-3, "{:?}", form.kind());
        assert_eq!(stl_of(&form, "no-such-surface").len(), 84);
    }
}

#[test]
fn a_gltf_node_moves_and_stretches_its_mesh_and_stands_upright() {
    let mesh = read(triangle_gltf(TRIANGLE, "").as_bytes(), "scan.gltf", MeshUnit::Inch).unwrap();
    // glTF is in metres whatever is asked for; a right triangle of 1 × 1 stretched twice in width.
    assert!(near(mesh.area(), 1.0));
    assert_eq!(mesh.groups, ["Lid"]);
    let size = mesh.size_m();
    assert!(
        (size[0] - 2.0).abs() < 1e-9 && size[1].abs() < 1e-9 && (size[2] - 1.0).abs() < 1e-9,
        "{size:?}"
    );
}

#[test]
fn a_part_is_picked_by_group_facing_and_height() {
    let mesh = boxed();
    let area = |pick: Pick| mesh.area_of(&pick).m2();
    let up = Some(([0.0, 0.0, 2.0], 10.0));
    assert!(
        (area(Pick {
            facing: up,
            ..Pick::default()
        }) - 0.2)
            .abs()
            < 1e-9
    );
    let band = Some((Length::from_mm(100.0), Length::from_mm(300.0)));
    assert!(
        (area(Pick {
            height: band,
            ..Pick::default()
        }) - 0.2 * 2.0 * 0.9)
            .abs()
            < 1e-9
    );
    let lid = Pick {
        group: Some(0),
        height: Some((Length::from_mm(1.0), Length::from_mm(900.0))),
        ..Pick::default()
    };
    assert!((area(lid) - 0.2).abs() < 1e-9);
    let nothing = Pick {
        facing: Some(([0.0; 3], 10.0)),
        ..Pick::default()
    };
    assert!(area(nothing).abs() < 1e-12);
    assert!((area(Pick::default()) - BOX_M2).abs() < 1e-9);
}

#[test]
fn a_hole_and_a_wall_inside_are_reported() {
    let open = BOX_OBJ.replace("f 5 6 7 8\n", "");
    let health = read(open.as_bytes(), "open.obj", MeshUnit::Millimetre)
        .unwrap()
        .health();
    assert_eq!(health.holes, 1);
    assert!((health.open_edge.m() - 1.8).abs() < 1e-9);
    assert!(
        health.remarks()[0].contains("1 hole with 1.80 m of open edge"),
        "{:?}",
        health.remarks()
    );
    let walled = format!("{BOX_OBJ}f 1 3 7\n");
    let health = read(walled.as_bytes(), "walled.obj", MeshUnit::Millimetre)
        .unwrap()
        .health();
    assert!(health.shared_edges >= 1 && !health.is_whole());
    let flat = format!("{BOX_OBJ}f 1 1 2\n");
    assert_eq!(
        read(flat.as_bytes(), "flat.obj", MeshUnit::Millimetre)
            .unwrap()
            .health()
            .flat_triangles,
        1
    );
}

#[test]
fn a_scan_is_a_form_whose_areas_follow_its_taped_height() {
    let mut scan = Scan::of(&boxed());
    let before = take_off(&Form::Mesh(scan.clone()));
    assert!(near(before.area(), BOX_M2));
    assert!(before.find("carcass pine").is_ok());
    // 1.5 % on the height makes 3 % on the area, and the scan's own 3 %.
    assert!(
        (before.area_se().m2() / BOX_M2 - 0.03 * 2.0_f64.sqrt()).abs() < 1e-3,
        "{}",
        before.area_se().m2()
    );
    assert_eq!(before.next_measurement().unwrap().dimension, "height");
    scan.height = Dimension::taped(Length::from_mm(770.0));
    let after = take_off(&Form::Mesh(scan.clone()));
    assert!(near(after.area(), BOX_M2 * 1.21));
    assert!(after.area_se() < before.area_se() * 1.21);
    let sheet = svg(&Form::Mesh(scan), &ZoneLook::paper(), View::default());
    assert!(sheet.matches("<path").count() >= 3 && sheet.len() < 30_000);
}

#[test]
fn a_fine_scan_is_drawn_small_and_keeps_its_area() {
    let chair = form(FormKind::Chair, 20.0, 20.0, 38.0);
    let mut table = form(FormKind::Table, 40.0, 40.0, 30.0);
    if let Form::Table(table) = &mut table {
        table.outline = takeoff::Outline::Oval;
        table.legs = takeoff::LegStyle::Turned;
    }
    for piece in [chair, table] {
        let mesh = read(&stl(&piece), "scan.stl", MeshUnit::Millimetre).unwrap();
        let scan = Form::Mesh(Scan::of(&mesh));
        assert!((take_off(&scan).area() / mesh.area() - 1.0).abs() < 1e-9);
        for turn in 0..View::TURNS {
            let sheet = svg(
                &scan,
                &ZoneLook::paper(),
                View {
                    turn,
                    ..View::default()
                },
            );
            assert!(sheet.len() < 30_000, "{} B", sheet.len());
            assert!(sheet.matches("<path").count() > 20);
        }
    }
}

#[test]
fn a_mesh_does_not_come_from_three_numbers() {
    let side = Length::from_mm(500.0);
    let refusal = Form::from_outline(FormKind::Mesh, side, side, side).unwrap_err();
    assert_eq!(refusal, FormRefusal::NeedsFile);
    assert_eq!(FormKind::parse("scan").unwrap(), FormKind::Mesh);
}

#[test]
fn what_is_no_mesh_is_named() {
    let says = |bytes: &[u8], name: &str| read(bytes, name, MeshUnit::Millimetre).unwrap_err().to_string();
    assert!(says(b"", "scan.obj").contains("no triangles"));
    assert!(says(b"PK\x03\x04rest of it", "scan.obj").contains("ZIP archive"));
    assert!(says(b"\x1f\x8b\x08\x00rest of it", "scan.stl").contains("gzip archive"));
    assert!(says(b"\x89PNG\r\n\x1a\n", "scan.ply").contains("picture"));
    assert!(says(b"any old words", "scan.obj").contains("take OBJ, STL, PLY or glTF"));
    assert!(says(BOX_PLY.as_bytes(), "scan.stl").contains("inside it is PLY; give it the ending .ply"));
    assert!(says(BOX_OBJ.as_bytes(), "scan.glb").contains("inside it is OBJ"));
    assert!(says(b"# only a remark\n", "scan.obj").contains("no triangles"));
}

#[test]
fn what_is_damaged_says_where() {
    let says = |bytes: &[u8], name: &str| read(bytes, name, MeshUnit::Millimetre).unwrap_err().to_string();
    let cut = &stl(&form(FormKind::Panel, 40.0, 0.75, 16.0))[..300];
    let text = says(cut, "cut.stl");
    assert!(text.contains("announces 12 triangles and ends after 4"), "{text}");
    let text = says(BOX_OBJ.replace("f 5 6 7 8", "f 5 6 7 99").as_bytes(), "bad.obj");
    assert!(
        text.contains("OBJ file is damaged") && text.contains("out of bounds"),
        "{text}"
    );
    let text = says(BOX_OBJ.replace("v 0 0 0\n", "v 0 nan 0\n").as_bytes(), "nan.obj");
    assert!(text.contains("no number") || text.contains("position"), "{text}");
    let text = says(BOX_PLY.replacen("0.4 0 0\n", "nan 0 0\n", 1).as_bytes(), "nan.ply");
    assert!(
        text.contains("damaged in line 11: the numbers there are not those that its head announces"),
        "{text}"
    );
    let mut stl = stl(&form(FormKind::Panel, 40.0, 0.75, 16.0));
    stl[96..100].copy_from_slice(&f32::NAN.to_le_bytes());
    let text = says(&stl, "nan.stl");
    assert!(text.contains("point 1 has a coordinate that is no number"), "{text}");
    let text = says(BOX_PLY.replace("4 3 2 1 0", "4 3 2 1 88").as_bytes(), "far.ply");
    assert!(text.contains("goes to point 88, but the file has only 8"), "{text}");
    let text = says(BOX_PLY.replace("4 3 0 4 7\n", "").as_bytes(), "short.ply");
    assert!(text.contains("PLY file is damaged"), "{text}");
}

#[test]
fn a_wrong_unit_is_told_with_one_that_fits() {
    let refusal = read(BOX_OBJ.as_bytes(), "box.obj", MeshUnit::Metre)
        .unwrap_err()
        .to_string();
    assert!(
        refusal.contains("700 m long") && refusal.contains("rather millimetres"),
        "{refusal}"
    );
    let refusal = read(BOX_PLY.as_bytes(), "box.ply", MeshUnit::Millimetre)
        .unwrap_err()
        .to_string();
    assert!(
        refusal.contains("0.70 mm long") && refusal.contains("rather metres"),
        "{refusal}"
    );
}

#[test]
fn ten_million_triangles_are_refused_before_they_are_unpacked() {
    let ten_million = |refusal: MeshRefusal| match refusal {
        MeshRefusal::TooManyTriangles { count, most } => count > MOST_TRIANGLES && most == MOST_TRIANGLES,
        _ => false,
    };
    let mut binary = vec![0_u8; 84];
    binary[80..84].copy_from_slice(&10_000_000_u32.to_le_bytes());
    assert!(ten_million(read(&binary, "large.stl", MeshUnit::Metre).unwrap_err()));
    let ply = BOX_PLY.replace("element face 6", "element face 10000000");
    assert!(ten_million(
        read(ply.as_bytes(), "large.ply", MeshUnit::Metre).unwrap_err()
    ));
    let obj = format!("{BOX_OBJ}{}", "f 1 2 3\n".repeat(MOST_TRIANGLES + 1));
    assert!(ten_million(
        read(obj.as_bytes(), "large.obj", MeshUnit::Millimetre).unwrap_err()
    ));
    let gltf = triangle_gltf(TRIANGLE, "").replace("\"count\":3", "\"count\":30000000");
    assert!(ten_million(
        read(gltf.as_bytes(), "large.gltf", MeshUnit::Metre).unwrap_err()
    ));
    let ply = BOX_PLY.replace("element vertex 8", "element vertex 4000000000000");
    assert!(ten_million(
        read(ply.as_bytes(), "large.ply", MeshUnit::Metre).unwrap_err()
    ));
}

#[test]
fn gltf_of_a_kind_that_is_not_read_says_so() {
    let says = |text: String| {
        read(text.as_bytes(), "scan.gltf", MeshUnit::Metre)
            .unwrap_err()
            .to_string()
    };
    let text = says(triangle_gltf("scan.bin", ""));
    assert!(
        text.contains("keeps its data in another file; export it as one uncompressed .glb"),
        "{text}"
    );
    let text = says(triangle_gltf(TRIANGLE, "").replace("\"count\":3", "\"count\":9"));
    assert!(text.contains("ends before its points do"), "{text}");
    let ring = triangle_gltf(TRIANGLE, "").replace("\"name\":\"Lid\"", "\"name\":\"Lid\",\"children\":[0]");
    assert!(says(ring).contains("round in a ring"));
    assert!(says("{\"asset\":".to_owned()).contains("glTF file is damaged"));
}

#[test]
fn twelve_thousand_mutilated_files_are_read_or_refused_and_never_more() {
    // A small deterministic generator; the files differ in each round.
    let mut state = 0x2545_f491_4f6c_dd1d_u64;
    let mut next = move |below: usize| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        usize::try_from(state >> 33).unwrap() % below
    };
    let panel = stl(&form(FormKind::Panel, 40.0, 0.75, 16.0));
    let gltf = triangle_gltf(TRIANGLE, "");
    let files: [(&str, &[u8]); 4] = [
        ("a.obj", BOX_OBJ.as_bytes()),
        ("a.ply", BOX_PLY.as_bytes()),
        ("a.stl", &panel),
        ("a.gltf", gltf.as_bytes()),
    ];
    let (mut taken, mut refused) = (0, 0);
    for round in 0..12_000 {
        let (name, whole) = files[round % files.len()];
        let mut bytes = whole.to_vec();
        for _ in 0..=next(4) {
            let at = next(bytes.len());
            match next(4) {
                0 => bytes[at] = u8::try_from(next(256)).unwrap(),
                1 => bytes.truncate(at.max(1)),
                2 => {
                    let digit = b'0' + u8::try_from(next(10)).unwrap();
                    bytes.insert(at, digit);
                }
                _ => {
                    let until = (at + next(20)).min(bytes.len());
                    let piece = bytes[at..until].to_vec();
                    let to = next(bytes.len());
                    bytes.splice(to..to, piece);
                }
            }
        }
        match read(&bytes, name, MeshUnit::Millimetre) {
            Ok(mesh) => {
                taken += 1;
                assert!(mesh.area().m2().is_finite());
                assert!(mesh.health().open_edge.m() >= 0.0);
            }
            Err(refusal) => {
                refused += 1;
                assert!(refusal.to_string().len() > 20);
            }
        }
    }
    assert!(taken > 500 && refused > 500, "{taken} {refused}");
}

#[test]
fn a_mesh_is_divided_so_that_every_bit_of_it_counts_once() {
    let mesh = boxed();
    let band = |low: f64, high: f64| Some((Length::from_mm(low), Length::from_mm(high)));
    let up = Some(([0.0, 0.0, 2.0], 45.0));
    let picks = [
        Pick {
            facing: up,
            ..Pick::default()
        },
        Pick {
            height: band(600.0, 1000.0),
            ..Pick::default()
        },
        Pick {
            group: Some(1),
            height: band(0.0, 650.0),
            ..Pick::default()
        },
    ];
    let areas = mesh.divided(&picks);
    // The top; the upper 100 mm of the sides; of the sides what is left below 650 mm; the underside stays with the lid.
    let round = 2.0 * (0.4 + 0.5);
    for (area, m2) in areas.iter().zip([0.2, 0.1 * round, 0.6 * round, 0.2, 0.0]) {
        assert!(near(*area, m2), "{areas:?}");
    }
    assert!(near(areas.iter().copied().sum(), BOX_M2));
    assert_eq!(mesh.divided(&[]), mesh.area_by_group());
    // A level face in the band's own edge is in it once.
    let low = Pick {
        height: band(0.0, 100.0),
        ..Pick::default()
    };
    let areas = mesh.divided(&[low]);
    assert!(
        near(areas[0], 0.2 + 0.1 * round) && near(areas.iter().copied().sum(), BOX_M2),
        "{areas:?}"
    );
}

#[test]
fn a_divided_scan_is_written_down_and_read_again() {
    let picks = [(
        "Top side".to_owned(),
        Pick {
            facing: Some(([0.0, 0.0, 1.0], 45.0)),
            ..Pick::default()
        },
    )];
    let scan = Scan::divided(&boxed(), &picks);
    let ids: Vec<&str> = scan.parts.iter().map(|part| part.id.as_str()).collect();
    assert_eq!(ids, ["top-side", "lid-oak", "carcass-pine"]);
    assert!(near(scan.parts[0].area, 0.2) && near(scan.parts[1].area, 0.2));
    let parts: Vec<(String, Area)> = scan.parts.iter().map(|part| (part.id.clone(), part.area)).collect();
    let again = Scan::written(&parts, scan.scanned, scan.missing, &scan.likeness()).unwrap();
    assert_eq!(again.parts, scan.parts);
    assert_eq!(again.likeness(), scan.likeness());
    let drawn = |scan: Scan| svg(&Form::Mesh(scan), &ZoneLook::paper(), View::default());
    assert_eq!(drawn(again), drawn(scan));
    for wrong in [
        "9 1 2 3 4 5 6 7 8 9",
        "0 1 2 3",
        "0 1 2 3 4 5 6 7 8 nine",
        "0 1 2 3 4 5 6 7 8 9999999",
    ] {
        assert!(
            Scan::written(&parts, [Length::from_m(1.0); 3], Area::ZERO, wrong).is_err(),
            "{wrong}"
        );
    }
}
