//! The four colour questions: coats to hide, a match from the shelf, the photograph, colours that go together.

use std::sync::Arc;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{Request, StatusCode, header};
use colour::Srgb;
use colour::photo::Picture;
use jiff::Timestamp;
use shop::model::Shop;
use shop::plan::Effort;
use store::Store;
use tower::ServiceExt;
use web::App;

use crate::app::{MONDAY, TestApp};

const PAINTS: [(&str, &str); 4] = [
    ("white paint", "#f4f3ee"),
    ("blue paint", "#35506b"),
    ("ochre paint", "#c79a3a"),
    ("oxide paint", "#8a3b2c"),
];

async fn with_paints() -> TestApp {
    let app = TestApp::new();
    for (name, colour) in PAINTS {
        let entries = [
            ("name", name),
            ("class", "waterborne-acrylic-enamel"),
            ("size", "1 qt"),
            ("left", "50 %"),
            ("price", "27"),
            ("colour-has", "yes"),
            ("colour", colour),
        ];
        let page = app.post("/shelf", &entries).await;
        assert_eq!(page.status, StatusCode::SEE_OTHER, "{}", page.html);
    }
    app
}

#[tokio::test]
async fn white_over_mahogany_takes_more_coats_than_over_white() {
    let app = TestApp::new();
    let coats = async |old: &str| {
        let page = app
            .get(&format!(
                "/colour?old={old}&old-pick=%23000000&new=%23f4f3ee&new-pick=%23f4f3ee"
            ))
            .await;
        assert_eq!(page.status, StatusCode::OK);
        let (_, after) = page.html.split_once("class=\"answer\">").unwrap();
        after.chars().find_map(|c| c.to_digit(10)).unwrap()
    };
    assert!(coats("%23452a1e").await > coats("%23f0efe9").await);
}

#[tokio::test]
async fn a_bleeding_ground_is_warned_of_and_a_primer_is_named() {
    let app = TestApp::new();
    let asked = "/colour?old-pick=%236b4a32&new-pick=%23f4f3ee";
    let page = app.get(asked).await;
    assert!(page.says("Which primer saves coats") && page.says("after coat 1") && !page.says("made to block stains"));
    assert!(
        app.get(&format!("{asked}&bleeds=yes"))
            .await
            .says("made to block stains")
    );
}

#[tokio::test]
async fn a_better_contrast_ratio_needs_no_more_coats_and_a_wrong_one_is_refused_beside_its_field() {
    let app = TestApp::new();
    let asked = |ratio: &str| format!("/colour?old-pick=%23452a1e&new-pick=%23f4f3ee&ratio={ratio}&ratio-at=8%20m2/l");
    let first = |html: &str| {
        html.split_once("class=\"answer\">")
            .map(|(_, after)| after[..1].to_owned())
    };
    let (poor, good) = (app.get(&asked("80%20%25")).await, app.get(&asked("99.5%20%25")).await);
    assert!(
        first(&poor.html) > first(&good.html),
        "{:?} {:?}",
        first(&poor.html),
        first(&good.html)
    );
    let wrong = app
        .get("/colour?old=%23zz1122&old-pick=%23452a1e&new-pick=%23f4f3ee")
        .await;
    assert!(wrong.says("hide-old-refusal") && wrong.says("value=\"#zz1122\"") && wrong.says("aria-invalid=\"true\""));
    assert!(first(&wrong.html).is_none());
}

#[tokio::test]
async fn the_answer_becomes_a_parts_wish() {
    let app = TestApp::new();
    let piece = app.take_in("hall chest").await;
    let page = app.get("/colour?old-pick=%23452a1e&new-pick=%2335506b").await;
    let (_, options) = page.html.split_once("id=\"wish-zone\"").unwrap();
    let (_, zone) = options.split_once("option value=\"").unwrap();
    let zone = zone.split_once('"').unwrap().0.to_owned();
    let entries = [
        ("zone", zone.as_str()),
        ("colour", "#35506b"),
        ("class", "waterborne-acrylic-enamel"),
        ("coats", "2"),
    ];
    let put = app.post("/colour/wish", &entries).await;
    assert_eq!(put.status, StatusCode::SEE_OTHER, "{}", put.html);
    assert!(
        put.location()
            .starts_with(&piece.split_once('#').map_or(piece.clone(), |(path, _)| path.to_owned()))
    );
    let name = zone.split_once('/').unwrap().1;
    let form = app
        .get(&format!(
            "/pieces/{}/zones/{}",
            zone.split_once('/').unwrap().0,
            name.replace(' ', "%20")
        ))
        .await;
    assert!(form.says("value=\"#35506b\"") && form.says("value=\"waterborne-acrylic-enamel\" selected"));
    let nowhere = app
        .post(
            "/colour/wish",
            &[
                ("zone", "nobody/top"),
                ("colour", "#35506b"),
                ("class", "waterborne-acrylic-enamel"),
            ],
        )
        .await;
    assert_eq!(nowhere.status, StatusCode::NOT_FOUND);
}

fn all_paints() -> String {
    PAINTS
        .iter()
        .map(|(name, _)| format!("&use:{}=yes", name.replace(' ', "%20")))
        .collect()
}

#[tokio::test]
async fn a_target_is_mixed_from_the_shelf_for_the_job() {
    let app = with_paints().await;
    let page = app
        .get(&format!(
            "/colour/match?target=%238b93a0&target-pick=%23000000&job=200%20ml&most=3{}",
            all_paints()
        ))
        .await;
    assert!(
        page.says("parts white paint") || page.says("part white paint"),
        "{}",
        page.html
    );
    assert!(page.says("blue paint</th>") && page.says("Dry swatch first"));
    let volumes: f64 = page
        .html
        .split("<tbody>")
        .nth(1)
        .unwrap()
        .split("</tbody>")
        .next()
        .unwrap()
        .split(" ml<")
        .filter_map(|before| before.rsplit('>').next()?.trim().parse::<f64>().ok())
        .sum();
    assert!((volumes - 200.0).abs() < 2.0, "{volumes}");
}

#[tokio::test]
async fn one_paint_is_no_shelf_and_that_is_said() {
    let app = with_paints().await;
    let page = app
        .get("/colour/match?target-pick=%238b93a0&job=200%20ml&use:white%20paint=yes")
        .await;
    assert!(page.says("to mix takes at least 2"), "{}", page.html);
    assert!(!page.says("class=\"answer\""));
}

#[tokio::test]
async fn a_pasted_spectrum_is_the_target_and_a_torn_one_is_refused() {
    let app = with_paints().await;
    let flat: String = (0..31).map(|_| "0.30%20").collect();
    let asked = |spectrum: &str| {
        format!(
            "/colour/match?target-pick=%23ff0000&job=1%20pt&spectrum={spectrum}{}",
            all_paints()
        )
    };
    let page = app.get(&asked(&flat)).await;
    let grey = Srgb::nearest(colour::Spectrum::flat(0.3).lab(colour::Light::Day)).to_string();
    assert!(page.says(&grey), "{}", page.html);
    assert!(
        app.get(&asked("0.3%200.4%200.5"))
            .await
            .says("the pasted text has 3 numbers")
    );
}

#[tokio::test]
async fn a_batch_in_the_pot_is_mended_by_additions_only() {
    let app = with_paints().await;
    let asked = format!(
        "/colour/match?target=%238b93a0&target-pick=%23000000&job=200%20ml{}&pot:white%20paint=100%20ml&pot:blue%20paint=10%20ml&pot-reads=%23c4c8cc&pot-most=300%20ml",
        all_paints()
    );
    let page = app.get(&asked).await;
    let (_, after) = page.html.split_once("The batch in the pot").unwrap();
    assert!(
        after.contains("Add ") && after.contains(" of blue paint"),
        "{}",
        page.html
    );
    let empty = app
        .get(&format!(
            "/colour/match?target-pick=%238b93a0&job=200%20ml{}&pot-reads=%23c4c8cc",
            all_paints()
        ))
        .await;
    assert!(empty.says("the batch holds nothing"));
}

#[tokio::test]
async fn measured_swatches_are_kept_and_narrow_the_range() {
    let app = with_paints().await;
    let width = async || {
        let page = app
            .get(&format!(
                "/colour/match?target=%238b93a0&target-pick=%23000000&job=200%20ml&most=2{}",
                all_paints()
            ))
            .await;
        let (_, after) = page.html.split_once(" likely; ").unwrap();
        let range = after.split_once(" in nine").unwrap().0.to_owned();
        let (low, high) = range.split_once(" to ").unwrap();
        high.parse::<f64>().unwrap() - low.parse::<f64>().unwrap()
    };
    let before = width().await;
    for (product, own, tint, white) in [
        ("white paint", "95.6 -0.5 2.5", "", "yes"),
        ("blue paint", "33.3 -2.3 -18.5", "62 -5 -17", ""),
        ("oxide paint", "35 33 25", "62 25 14", ""),
        ("ochre paint", "67 9 54", "82 2 37", ""),
    ] {
        let mut entries = vec![("product", product), ("own", own), ("tint", tint)];
        if !white.is_empty() {
            entries.push(("white", white));
        }
        let kept = app.post("/colour/match/reading", &entries).await;
        assert_eq!(kept.status, StatusCode::SEE_OTHER, "{}", kept.html);
    }
    assert!(width().await < before);
    let wrong = app
        .post("/colour/match/reading", &[("product", "blue paint"), ("own", "33 -2")])
        .await;
    assert_eq!(wrong.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(wrong.says("reading-own-refusal") && wrong.says("value=\"33 -2\""));
}

#[tokio::test]
async fn a_handle_is_found_by_its_light_not_by_its_hue() {
    let app = TestApp::new();
    let ask = async |part: &str| {
        app.get(&format!(
            "/colour/together?colour=%2324344d&colour-pick=%23000000&part={part}&part-pick=%23000000"
        ))
        .await
    };
    assert!(ask("%23e8d9a0").await.says("Easily found"));
    let lost = ask("%23303c2c").await;
    assert!(lost.says("Hard to find") && lost.says("Other colours to talk over"));
}

/// A shop in a folder of its own, with one piece.
struct InFolder {
    router: Router,
    _folder: tempfile::TempDir,
}

impl InFolder {
    async fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::open(folder.path()).unwrap();
        store.save(&Shop::default()).unwrap();
        let now: Timestamp = MONDAY.parse().unwrap();
        let router = web::router(App::new(store, Arc::new(move || now), Effort::least()).unwrap());
        let shop = InFolder {
            router,
            _folder: folder,
        };
        let entries = "name=hall+chest&form=case&width=36+in&depth=18+in&height=30+in";
        assert_eq!(shop.post("/pieces", entries).await.0, StatusCode::SEE_OTHER);
        shop
    }

    async fn send(&self, request: Request<Body>) -> (StatusCode, String, Vec<u8>) {
        let response = self.router.clone().oneshot(request).await.unwrap();
        let location = response
            .headers()
            .get(header::LOCATION)
            .map(|to| to.to_str().unwrap().to_owned());
        let status = response.status();
        let bytes = to_bytes(response.into_body(), 20_000_000).await.unwrap();
        (status, location.unwrap_or_default(), bytes.to_vec())
    }

    async fn get(&self, path: &str) -> (StatusCode, String, Vec<u8>) {
        self.send(Request::get(path).body(Body::empty()).unwrap()).await
    }

    async fn post(&self, path: &str, entries: &str) -> (StatusCode, String, Vec<u8>) {
        let request = Request::post(path).header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
        self.send(request.body(Body::from(entries.to_owned())).unwrap()).await
    }

    async fn upload(&self, file: &[u8]) -> (StatusCode, String, Vec<u8>) {
        let mut body = b"--edge\r\nContent-Disposition: form-data; name=\"piece\"\r\n\r\nhall-chest\r\n--edge\r\nContent-Disposition: form-data; name=\"file\"; filename=\"a.png\"\r\nContent-Type: image/png\r\n\r\n".to_vec();
        body.extend_from_slice(file);
        body.extend_from_slice(b"\r\n--edge--\r\n");
        let request =
            Request::post("/colour/photograph/add").header(header::CONTENT_TYPE, "multipart/form-data; boundary=edge");
        self.send(request.body(Body::from(body)).unwrap()).await
    }
}

/// A brown front on a light wall, 200 × 100.
fn photograph() -> Vec<u8> {
    let mut rgb = Vec::new();
    for y in 0..100 {
        for x in 0..200 {
            let is_front = (50..150).contains(&x) && (20..80).contains(&y);
            rgb.extend(if is_front { [122, 82, 52] } else { [210, 208, 202] });
        }
    }
    Picture::from_rgb(200, 100, rgb).unwrap().to_png().unwrap()
}

#[tokio::test]
async fn a_part_is_marked_by_taps_and_shown_in_its_new_colour() {
    let shop = InFolder::new().await;
    let (status, page, _) = shop.upload(&photograph()).await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    let mark = format!("{page}/mark");
    // Taps as an image input of 330 by 165 sends them.
    for (x, y) in [(83, 33), (247, 33), (247, 132), (83, 132)] {
        shop.post(&mark, &format!("next=corner&width=330&height=165&tap.x={x}&tap.y={y}"))
            .await;
    }
    shop.post(&mark, "next=old&width=330&height=165&tap.x=165&tap.y=82")
        .await;
    let (status, _, _) = shop
        .post(
            &format!("{page}/choice"),
            "name=harbour&new=%2335506b&new-pick=%23000000&sheen=100&grain=0&note=2+parts+white",
        )
        .await;
    assert_eq!(status, StatusCode::SEE_OTHER);
    let (_, _, html) = shop.get(&page).await;
    let html = String::from_utf8(html).unwrap();
    assert!(
        html.contains("harbour") && html.contains("2 parts white") && html.contains("The part takes 30 %"),
        "{html}"
    );
    let (status, _, file) = shop.get(&format!("{page}/view.jpg?choice=0")).await;
    assert_eq!(status, StatusCode::OK);
    let seen = Picture::decode(&file).unwrap();
    let apart =
        |x, y, hex: &str| colour::difference(seen.pixel(x, y).unwrap().to_lab(), Srgb::parse(hex).unwrap().to_lab());
    assert!(apart(100, 50, "#35506b") < 4.0, "{:?}", seen.pixel(100, 50));
    assert!(apart(10, 10, "#d2d0ca") < 2.0, "{:?}", seen.pixel(10, 10));
    let (status, _, sheet) = shop.get(&format!("{page}/choices.png")).await;
    assert_eq!(status, StatusCode::OK);
    assert!(Picture::decode(&sheet).unwrap().height() > 100);
}

#[tokio::test]
async fn corners_can_be_typed_and_a_key_on_the_picture_marks_nothing() {
    let shop = InFolder::new().await;
    let (_, page, _) = shop.upload(&photograph()).await;
    shop.post(
        &format!("{page}/mark"),
        "next=corner&width=330&height=165&tap.x=0&tap.y=0",
    )
    .await;
    let html = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    assert!(html(shop.get(&page).await.2).contains("Marked so far: 0 corners."));
    shop.post(
        &format!("{page}/mark"),
        "do=corners&corners=25+20%2C+75+20%2C+75+80%2C+25+80",
    )
    .await;
    assert!(html(shop.get(&page).await.2).contains("Marked so far: 4 corners."));
    let (status, _, body) = shop
        .post(&format!("{page}/mark"), "do=corners&corners=25+20%2C+75+120%2C+75+80")
        .await;
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    let body = html(body);
    assert!(
        body.contains("mark-corners-refusal") && body.contains("120 lies outside"),
        "{body}"
    );
}

#[tokio::test]
async fn a_file_that_is_no_photograph_is_refused_in_words_and_not_kept() {
    let shop = InFolder::new().await;
    let whole = photograph();
    for (file, words) in [
        (b"just text".to_vec(), "JPEG, PNG or WebP"),
        (whole[..whole.len() / 2].to_vec(), "the file"),
        (Vec::new(), "no photograph was chosen"),
    ] {
        let (status, _, body) = shop.upload(&file).await;
        let body = String::from_utf8(body).unwrap();
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{words}");
        assert!(
            body.contains("photograph-file-refusal") && body.contains(words),
            "{body}"
        );
    }
    assert_eq!(shop.get("/colour/photograph/1").await.0, StatusCode::NOT_FOUND);
}

#[tokio::test]
async fn the_seventh_colour_is_refused_and_one_can_be_taken_away() {
    let shop = InFolder::new().await;
    let (_, page, _) = shop.upload(&photograph()).await;
    let add = async |n: u8| {
        let entries = format!("name=colour+{n}&new=%2335506b&new-pick=%23000000&sheen=50&grain=20");
        shop.post(&format!("{page}/choice"), &entries).await.0
    };
    for n in 1..=6 {
        assert_eq!(add(n).await, StatusCode::SEE_OTHER);
    }
    assert_eq!(add(7).await, StatusCode::UNPROCESSABLE_ENTITY);
    shop.post(&format!("{page}/drop"), "name=colour+3").await;
    assert_eq!(add(7).await, StatusCode::SEE_OTHER);
}

#[tokio::test]
async fn no_colour_page_has_inline_style() {
    let app = with_paints().await;
    for path in [
        "/colour?old-pick=%23452a1e&new-pick=%23f4f3ee",
        "/colour/match",
        "/colour/photograph",
        "/colour/together?colour-pick=%23452a1e&part-pick=%23f4f3ee",
    ] {
        let page = app.get(path).await;
        assert_eq!(page.status, StatusCode::OK, "{path}");
        assert!(!page.says("style="), "{path}");
    }
}
