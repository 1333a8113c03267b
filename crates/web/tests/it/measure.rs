use axum::body::Body;
use axum::http::{Request, StatusCode, header};
use colour::photo::Picture;
use store::Store;
use tempfile::TempDir;

use crate::app::{Page, TestApp};

/// A shop in a folder, since photographs are files, with a chest in it.
async fn shop() -> (TestApp, TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let app = TestApp::on(Store::open(folder.path()).unwrap());
    let chest = app.take_in("chest").await;
    (app, folder, chest)
}

fn blank(width: usize, height: usize) -> Vec<u8> {
    Picture::from_rgb(width, height, vec![0xdd; width * height * 3])
        .unwrap()
        .to_png()
        .unwrap()
}

async fn send(app: &TestApp, chest: &str, file: &[u8]) -> Page {
    let mut body = b"--edge\r\nContent-Disposition: form-data; name=\"picture\"; filename=\"a.png\"\r\n\r\n".to_vec();
    body.extend_from_slice(file);
    body.extend_from_slice(b"\r\n--edge--\r\n");
    let request = Request::post(format!("{chest}/measure"))
        .header(header::CONTENT_TYPE, "multipart/form-data; boundary=edge")
        .body(Body::from(body))
        .unwrap();
    app.send(request).await
}

/// Letter paper seen squarely at 30 pixels an inch in the middle of 1200 × 900, and two points 20 inches apart.
const LETTER: &str = "435.0,322.5;765.0,322.5;765.0,577.5;435.0,577.5";
const TWENTY_INCHES: &str = "300.0,450.0;900.0,450.0";
/// The corners of a front of 36 × 24 inches at the same scale.
const FRONT: &str = "60.0,90.0;1140.0,90.0;1140.0,810.0;60.0,810.0";

#[tokio::test]
async fn a_photograph_is_kept_with_its_piece_and_asks_for_the_sheet() {
    let (app, _folder, chest) = shop().await;
    assert!(app.get(&chest).await.says(&format!("href=\"{chest}/measure\"")));
    let sent = send(&app, &chest, &blank(1200, 900)).await;
    assert_eq!(sent.status, StatusCode::SEE_OTHER, "{}", sent.html);
    let page = app.get(&sent.location()).await;
    for words in [
        "What lies on the front?",
        "Letter paper",
        "A4 paper",
        "bank or identity card",
    ] {
        assert!(page.says(words), "{words}");
    }
    assert!(
        app.get(&format!("{chest}/measure"))
            .await
            .says(&format!("href=\"{}\"", sent.location()))
    );
    let view = app.get(&format!("{}/view?near=2&at=10,10", sent.location())).await;
    assert_eq!(
        (view.status, view.headers[header::CONTENT_TYPE].to_str().unwrap()),
        (StatusCode::OK, "image/jpeg")
    );
}

#[tokio::test]
async fn the_pages_own_look_and_script_are_served() {
    let (app, _folder, chest) = shop().await;
    let page = app.get(&format!("{chest}/measure")).await;
    for (name, kind) in [("measure.css", "text/css"), ("measure.js", "text/javascript")] {
        let (before, _) = page.html.split_once(name).unwrap();
        let address = format!("{}{name}", before.rsplit('"').next().unwrap());
        let file = app.get(&address).await;
        assert_eq!(file.status, StatusCode::OK, "{address}");
        assert!(file.headers[header::CONTENT_TYPE].to_str().unwrap().starts_with(kind));
    }
}

#[tokio::test]
async fn what_is_no_photograph_is_refused_beside_the_field_and_not_kept() {
    let (app, _folder, chest) = shop().await;
    let cases = [
        (
            b"%PDF-1.7 not a picture".to_vec(),
            "photographs are read as JPEG, PNG or WebP",
        ),
        (Vec::new(), "choose one first"),
        (blank(1200, 900)[..200].to_vec(), "breaks off"),
        (blank(150, 900), "at least 200 each way"),
    ];
    for (file, words) in cases {
        let page = send(&app, &chest, &file).await;
        assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(
            page.says(words) && page.says("aria-invalid=\"true\""),
            "{words}: {}",
            page.html
        );
    }
    assert!(!app.get(&format!("{chest}/measure")).await.says("kept already"));
}

#[tokio::test]
async fn a_large_photograph_passes_the_limit_of_other_forms_and_one_beyond_40_mb_is_refused_in_words() {
    let (app, _folder, chest) = shop().await;
    let noise: Vec<u8> = (0..900_u32 * 900 * 3)
        .map(|i| u8::try_from(i.wrapping_mul(2_654_435_761) >> 24).unwrap())
        .collect();
    let large = Picture::from_rgb(900, 900, noise).unwrap().to_png().unwrap();
    assert!(large.len() > 300_000, "{}", large.len());
    assert_eq!(send(&app, &chest, &large).await.status, StatusCode::SEE_OTHER);
    let page = send(&app, &chest, &vec![0xff; 42_000_000]).await;
    assert_eq!(page.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.says("larger than 40 MB"), "{}", page.html);
}

#[tokio::test]
async fn three_taps_without_scripts_set_a_point_and_each_is_on_a_larger_view() {
    let (app, _folder, chest) = shop().await;
    let measure = send(&app, &chest, &blank(1200, 900)).await.location();
    // The whole is 344 wide for 1200 pixels; then 200 pixels fill the view, then 40.
    let first = app
        .get(&format!("{measure}?sheet=letter&front=no&tap.x=86&tap.y=86"))
        .await;
    assert_eq!(first.status, StatusCode::SEE_OTHER);
    assert!(
        first.location().contains("at=300.0%2C300.0&near=1"),
        "{}",
        first.location()
    );
    let page = app.get(&first.location()).await;
    assert!(page.says("Tap 2 of 3") && page.says("type=\"image\""));
    let second = app.get(&format!("{}&tap.x=258&tap.y=172", first.location())).await;
    assert!(
        second.location().contains("at=350.0%2C300.0&near=2"),
        "{}",
        second.location()
    );
    let third = app.get(&format!("{}&tap.x=172&tap.y=258", second.location())).await;
    assert!(third.location().ends_with("p=350.0%2C310.0"), "{}", third.location());
    assert!(app.get(&third.location()).await.says("Corner 2 of 4 of the sheet"));
}

#[tokio::test]
async fn by_keys_alone_the_view_is_moved_and_the_middle_taken() {
    let (app, _folder, chest) = shop().await;
    let measure = send(&app, &chest, &blank(1200, 900)).await.location();
    let pressed = app.get(&format!("{measure}?sheet=a4&front=no&tap.x=0&tap.y=0")).await;
    assert!(
        pressed.location().contains("at=600.0%2C450.0&near=1"),
        "{}",
        pressed.location()
    );
    let moved = app.get(&format!("{}&look=left", pressed.location())).await;
    assert!(
        moved.location().contains("at=550.0%2C450.0&near=1"),
        "{}",
        moved.location()
    );
    let nearer = app.get(&format!("{}&here=yes", moved.location())).await;
    let set = app.get(&format!("{}&here=yes", nearer.location())).await;
    assert!(set.location().ends_with("p=550.0%2C450.0"), "{}", set.location());
}

#[tokio::test]
async fn a_length_becomes_the_width_of_the_piece_as_it_was_shown() {
    let (app, _folder, chest) = shop().await;
    let measure = send(&app, &chest, &blank(1200, 900)).await.location();
    let points = format!("{LETTER};{TWENTY_INCHES}");
    let page = app.get(&format!("{measure}?sheet=letter&front=no&p={points}")).await;
    assert!(page.says("20&quot;") || page.says("20\""), "{}", page.html);
    assert!(page.says("give or take") && page.says("Use as width") && page.says("off square"));
    let entries = [
        ("sheet", "letter"),
        ("front", "no"),
        ("p", points.as_str()),
        ("which", "1"),
        ("as", "width"),
    ];
    let used = app.post(&format!("{measure}/use"), &entries).await;
    assert_eq!(used.status, StatusCode::SEE_OTHER, "{}", used.html);
    assert!(app.get(&used.location()).await.says("The width of the chest is now"));
    let edit = app.get(&format!("{chest}/edit")).await;
    assert!(edit.entry("width").unwrap().starts_with("20\" ± "));
    let plan = app.get(&chest).await;
    assert!(
        plan.says("20&quot; ± ") && plan.says(" × 18&quot; × 30&quot;"),
        "{}",
        plan.html
    );
}

#[tokio::test]
async fn the_fronts_own_corners_give_both_its_sides_and_cut_the_error() {
    let (app, _folder, chest) = shop().await;
    let measure = send(&app, &chest, &blank(1200, 900)).await.location();
    let points = format!("{LETTER};{FRONT}");
    let page = app.get(&format!("{measure}?sheet=letter&front=yes&p={points}")).await;
    assert!(page.says("The front, across") && page.says("The front, up and down"));
    let entries = [
        ("sheet", "letter"),
        ("front", "yes"),
        ("p", points.as_str()),
        ("which", "down"),
        ("as", "height"),
    ];
    app.post(&format!("{measure}/use"), &entries).await;
    let height = app.get(&format!("{chest}/edit")).await.entry("height").unwrap();
    assert!(height.starts_with("24") || height.starts_with("23 15/16"), "{height}");
}

#[tokio::test]
async fn a_front_seen_from_the_side_or_the_wrong_sheet_is_refused_in_the_take_offs_words() {
    let (app, _folder, chest) = shop().await;
    let measure = send(&app, &chest, &blank(1200, 900)).await.location();
    let sliver = "560.0,300.0;640.0,240.0;640.0,660.0;560.0,600.0";
    let page = app.get(&format!("{measure}?sheet=letter&front=no&p={sliver}")).await;
    assert!(
        page.says("Cannot be measured:") && page.says("tand more squarely"),
        "{}",
        page.html
    );
    let same = "435.0,322.5;435.0,322.5;765.0,577.5;435.0,577.5";
    assert!(
        app.get(&format!("{measure}?sheet=letter&front=no&p={same}"))
            .await
            .says("Tap each corner once")
    );
    let other = app
        .get(&format!("{measure}?sheet=other&long=20+in&short=about&front=no"))
        .await;
    assert!(other.says("value=\"about\"") && other.says("aria-invalid=\"true\""));
}

#[tokio::test]
async fn the_photograph_of_another_piece_is_not_measured() {
    let (app, _folder, chest) = shop().await;
    let other = app.take_in("other chest").await;
    let measure = send(&app, &chest, &blank(400, 300)).await.location();
    let number = measure.rsplit('/').next().unwrap();
    assert_eq!(
        app.get(&format!("{other}/measure/{number}")).await.status,
        StatusCode::NOT_FOUND
    );
    assert_eq!(
        app.get(&format!("{other}/measure/{number}/view")).await.status,
        StatusCode::NOT_FOUND
    );
}

#[tokio::test]
async fn a_photographs_error_is_kept_with_the_width_and_shown_with_it() {
    let (app, _folder, chest) = shop().await;
    let measure = send(&app, &chest, &blank(1200, 900)).await.location();
    let points = format!("{LETTER};{TWENTY_INCHES}");
    let entries = [
        ("sheet", "letter"),
        ("front", "no"),
        ("p", points.as_str()),
        ("which", "1"),
        ("as", "width"),
    ];
    let used = app.post(&format!("{measure}/use"), &entries).await;
    assert!(app.get(&used.location()).await.says("20&quot; ± "));
    assert!(app.get(&chest).await.says("20&quot; ± "));
    // Saving the form untouched keeps the photograph's error; a new number is the tape's.
    let edit = app.get(&format!("{chest}/edit")).await;
    assert!(edit.says("from a photograph"), "{}", edit.html);
    let width = edit.entry("width").unwrap();
    assert!(width.starts_with("20\" ± "), "{width}");
    let kept = app.post(&format!("{chest}/edit"), &edited(&width)).await;
    assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.html);
    assert!(app.get(&format!("{chest}/edit")).await.says("from a photograph"));
    app.post(&format!("{chest}/edit"), &edited("20 1/4")).await;
    let edit = app.get(&format!("{chest}/edit")).await;
    assert!(!edit.says("from a photograph"));
    assert_eq!(edit.entry("width").unwrap(), "20 1/4\"");
}

/// The edit form of the chest with this width.
fn edited(width: &str) -> Vec<(&str, &str)> {
    vec![
        ("name", "chest"),
        ("form", "case"),
        ("width", width),
        ("depth", "about 18"),
        ("height", "30 ± 1/8"),
        ("drawer-rows", "0"),
        ("drawer-columns", "0"),
        ("doors", "0"),
        ("count", "1"),
        ("made", "unknown"),
        ("for", "client"),
        ("use", "bedroom"),
    ]
}

#[tokio::test]
async fn the_piece_says_what_to_measure_next_and_by_how_much_it_helps() {
    let (app, _folder, chest) = shop().await;
    let edit = format!("{chest}/edit");
    let saved = app.post(&edit, &edited("36")).await;
    assert_eq!(saved.status, StatusCode::SEE_OTHER, "{}", saved.html);
    let page = app.get(&chest).await;
    assert!(
        page.says("about 18&quot;") && page.says("30&quot; ± 1/8&quot;"),
        "{}",
        page.html
    );
    assert!(
        page.says(&format!("href=\"{edit}#edit-depth\"")) && page.says("Measure the depth") && page.says("instead of"),
        "{}",
        page.html
    );
    // With the depth from the tape another dimension is next, and its field is there to go to.
    let mut taped = edited("36");
    taped.retain(|(name, _)| *name != "depth");
    taped.push(("depth", "18"));
    app.post(&edit, &taped).await;
    let page = app.get(&chest).await;
    assert!(!page.says("Measure the depth"));
    if let Some((_, after)) = page.html.split_once("/edit#") {
        let field = after.split_once('"').unwrap().0;
        assert!(app.get(&edit).await.says(&format!("id=\"{field}\"")), "{field}");
    }
    taped.push(("dimension-base-height", "5 ± 6"));
    let refused = app.post(&edit, &taped).await;
    assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(refused.says("edit-dimension-base-height-refusal") && refused.says("at most half"));
}

#[tokio::test]
async fn the_piece_shows_its_photographs_small_with_what_can_be_done_on_each() {
    let (app, _folder, chest) = shop().await;
    assert!(app.get(&chest).await.says("None yet."));
    let measure = send(&app, &chest, &blank(1200, 900)).await.location();
    let number = measure.rsplit('/').next().unwrap().to_owned();
    let page = app.get(&chest).await;
    for address in [
        format!("{measure}/view?size=small"),
        measure.clone(),
        format!("/colour/photograph/{number}"),
    ] {
        assert!(page.says(&format!("\"{address}\"")), "{address}");
    }
    let small = app.get(&format!("{measure}/view?size=small")).await;
    let whole = app.get(&format!("{measure}/view")).await;
    assert_eq!(small.headers[header::CONTENT_TYPE], "image/jpeg");
    assert!(small.html.len() < whole.html.len());
}
