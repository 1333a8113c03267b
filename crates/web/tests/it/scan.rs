use axum::body::Body;
use axum::http::{Request, StatusCode, header};

use crate::app::{Page, TestApp};

/// A box of 400 × 500 × 700 mm: top and bottom in oak, three sides in pine; the back was not seen.
const BOX: &str = "o lid\nv 0 0 0\nv 400 0 0\nv 400 500 0\nv 0 500 0\nv 0 0 700\nv 400 0 700\nv 400 500 700\nv 0 500 700\n\
                   f 4 3 2 1\nf 5 6 7 8\no carcass\nf 1 2 6 5\nf 2 3 7 6\nf 4 1 5 8\n";

async fn send_as(app: &TestApp, chest: &str, file: &[u8], name: &str, unit: &str, up: &str) -> Page {
    let mut body = Vec::new();
    for (field, word) in [("unit", unit), ("up", up)] {
        body.extend_from_slice(
            format!("--edge\r\nContent-Disposition: form-data; name=\"{field}\"\r\n\r\n{word}\r\n").as_bytes(),
        );
    }
    let head = format!("--edge\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\n\r\n");
    body.extend_from_slice(head.as_bytes());
    body.extend_from_slice(file);
    body.extend_from_slice(b"\r\n--edge--\r\n");
    let request = Request::post(format!("{chest}/scan"))
        .header(header::CONTENT_TYPE, "multipart/form-data; boundary=edge")
        .body(Body::from(body))
        .unwrap();
    app.send(request).await
}

async fn send(app: &TestApp, chest: &str, file: &[u8], name: &str) -> Page {
    send_as(app, chest, file, name, "mm", "z").await
}

#[tokio::test]
async fn a_scan_is_read_and_its_hole_told_in_words_of_the_bench() {
    let app = TestApp::new();
    let chest = app.take_in("chest").await;
    assert!(app.get(&chest).await.says(&format!("href=\"{chest}/scan\"")));
    let sent = send(&app, &chest, BOX.as_bytes(), "box.obj").await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.html);
    let page = app.get(&sent.location()).await;
    for words in [
        "1 hole: ",
        "did not see",
        "Lid",
        "Carcass",
        "<svg",
        "box.obj",
        "Divide it otherwise",
    ] {
        assert!(page.says(words), "{words}: {}", page.html);
    }
    // 0.4 m² of lid in square feet.
    assert!(page.says("4.3 ft²"), "{}", page.html);
}

#[tokio::test]
async fn a_band_by_direction_and_height_is_cut_out_of_the_parts_and_nothing_counts_twice() {
    let app = TestApp::new();
    let chest = app.take_in("chest").await;
    let parts = send(&app, &chest, BOX.as_bytes(), "box.obj").await.location();
    let page = app
        .get(&format!(
            "{parts}?name-1=top&facing-1=up&name-2=plinth&from-2=&to-2=4+in"
        ))
        .await;
    // The top is 0.2 m², the plinth the lowest 4 inches of three sides with the underside.
    assert!(page.says("Top</label>") && page.says("Plinth</label>"), "{}", page.html);
    assert!(page.says("2.2 ft²"), "{}", page.html);
    assert!(!page.says("Lid</label>"), "nothing is left of the lid");
    let wrong = app
        .get(&format!(
            "{parts}?name-1=band&from-1=20+in&to-1=4+in&facing-1=inwards&group-1=9"
        ))
        .await;
    for id in ["parts-to-1-refusal", "parts-facing-1-refusal", "parts-group-1-refusal"] {
        assert!(wrong.says(id), "{id}: {}", wrong.html);
    }
}

#[tokio::test]
async fn the_scan_becomes_the_form_and_plan_drawing_and_areas_follow_it() {
    let app = TestApp::new();
    let chest = app.take_in("chest").await;
    let parts = send(&app, &chest, BOX.as_bytes(), "box.obj").await.location();
    // The chest's own zones would be left without a surface.
    let own = [("zone-of-lid", "new"), ("zone-of-carcass", "new")];
    let refused = app.post(&parts, &own).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(
        refused.says("without a surface") && refused.says("name=\"let-go\""),
        "{}",
        refused.html
    );
    let kept = app
        .post(&parts, &[own[0], own[1], ("let-go", "yes"), ("height", "77 cm")])
        .await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.html);
    let page = app.get(&kept.location()).await;
    for words in ["zone-lid", "zone-carcass", "30 5/16&quot;", "<svg xmlns"] {
        assert!(page.says(words), "{words}: {}", page.html);
    }
    // 0.4 m² stretched by 1.1 each way.
    assert!(page.says("5.2 ft²"), "{}", page.html);
    assert!(!page.says("form.stl"), "a scan has its own file");
    assert_eq!(
        app.get(&format!("{chest}/form.stl")).await.status,
        StatusCode::NOT_FOUND
    );
    // It stays a scan when something else of it is changed, and the mesh is no longer held.
    let edit = app.get(&format!("{chest}/edit")).await;
    assert!(edit.says("value=\"mesh\" selected"), "{}", edit.html);
    assert_eq!(app.get(&parts).await.location(), format!("{chest}/scan"));
}

#[tokio::test]
async fn a_scan_without_a_tape_is_as_sure_as_scans_are_and_asks_for_the_height() {
    let app = TestApp::new();
    let chest = app.take_in("chest").await;
    let parts = send(&app, &chest, BOX.as_bytes(), "box.obj").await.location();
    let entries = [
        ("zone-of-lid", "there body"),
        ("zone-of-carcass", "there body"),
        ("let-go", "yes"),
    ];
    let kept = app.post(&parts, &entries).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.html);
    let page = app.get(&chest).await;
    assert!(
        page.says("Measure the height") && page.says(&format!("{chest}/edit#edit-height")),
        "{}",
        page.html
    );
}

#[tokio::test]
async fn bad_files_are_refused_in_words_beside_the_field_and_nothing_is_held() {
    let app = TestApp::new();
    let chest = app.take_in("chest").await;
    let nan = BOX.replacen("v 400 0 0", "v NaN 0 0", 1);
    let mut ten_million = vec![0_u8; 84];
    ten_million[80..84].copy_from_slice(&10_000_000_u32.to_le_bytes());
    ten_million.resize(84 + 5_000, 0);
    let cases: [(&[u8], &str, &str); 8] = [
        (b"", "box.obj", "no triangles"),
        (b"o empty\nv 0 0 0\n", "box.obj", "no triangles"),
        (nan.as_bytes(), "box.obj", "no number"),
        (&ten_million, "big.stl", "10000000 triangles"),
        (b"PK\x03\x04 forty-two zeros", "chair.stl", "a ZIP archive"),
        (b"\x1f\x8b\x08 zeros", "chair.obj", "a gzip archive"),
        (BOX.as_bytes(), "box.stl", "the name ends in .stl"),
        (b"\x89PNG\r\n\x1a\n", "box.ply", "a picture"),
    ];
    for (file, name, words) in cases {
        let page = send(&app, &chest, file, name).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY, "{words}");
        assert!(
            page.says(words) && page.says("aria-invalid=\"true\""),
            "{words}: {}",
            page.html
        );
    }
    let metres = send_as(&app, &chest, BOX.as_bytes(), "box.obj", "m", "z").await;
    assert!(metres.says("rather millimetres"), "{}", metres.html);
    let unsaid = send_as(&app, &chest, BOX.as_bytes(), "box.obj", "furlong", "sideways").await;
    assert!(unsaid.says("scan-unit-refusal") && unsaid.says("scan-up-refusal"));
    assert!(send(&app, &chest, b"", "").await.says("no scan was chosen"));
    assert_eq!(
        app.get(&format!("{chest}/scan/parts")).await.location(),
        format!("{chest}/scan")
    );
}

#[tokio::test]
async fn a_scan_beyond_the_limit_is_refused_while_it_comes_in_and_other_forms_keep_theirs() {
    let app = TestApp::new();
    let chest = app.take_in("chest").await;
    let page = send(&app, &chest, &vec![b' '; 80_000_001], "box.obj").await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.says("larger than 80 MB"), "{}", page.html);
    let page = send(&app, &chest, &vec![b' '; 81_000_000], "box.obj").await;
    assert!(page.says("larger than 80 MB"), "{}", page.html);
    // A remark of a few hundred kilobytes passes where other forms stop.
    let long = format!("{}{BOX}", "# a remark\n".repeat(60_000));
    assert_eq!(
        send(&app, &chest, long.as_bytes(), "box.obj").await.status,
        StatusCode::SEE_OTHER
    );
    let parts = [("height", "x".repeat(300_000))];
    let parts: Vec<(&str, &str)> = parts.iter().map(|(name, text)| (*name, text.as_str())).collect();
    assert_eq!(
        app.post(&format!("{chest}/scan/parts"), &parts).await.status,
        StatusCode::PAYLOAD_TOO_LARGE
    );
}

#[tokio::test]
async fn the_scan_of_one_piece_is_not_made_the_form_of_another() {
    let app = TestApp::new();
    let (chest, other) = (app.take_in("chest").await, app.take_in("other").await);
    send(&app, &chest, BOX.as_bytes(), "box.obj").await;
    assert_eq!(
        app.get(&format!("{other}/scan/parts")).await.status,
        StatusCode::SEE_OTHER
    );
    let refused = app.post(&format!("{other}/scan/parts"), &[]).await;
    assert!(refused.says("no longer held"), "{}", refused.html);
    assert_eq!(
        send(&app, "/pieces/nothing", BOX.as_bytes(), "box.obj").await.status,
        StatusCode::NOT_FOUND
    );
}
