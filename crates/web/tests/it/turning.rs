use axum::http::{StatusCode, header};

use crate::app::TestApp;

/// The drawing of a piece's page, from `<svg` to its end.
fn drawing(html: &str) -> &str {
    let from = html.find("<svg xmlns").unwrap();
    let to = html[from..].find("</svg>").unwrap();
    &html[from..from + to]
}

#[tokio::test]
async fn the_drawing_turns_by_links_eight_times_round_and_back() {
    let app = TestApp::new();
    let chest = app.take_in("chest").await;
    let mut address = chest.clone();
    let mut seen = Vec::new();
    for _ in 0..8 {
        let page = app.get(&address).await;
        assert_eq!(page.status, StatusCode::OK);
        seen.push(drawing(&page.html).to_owned());
        let (_, after) = page.html.split_once("id=\"turn-left\" href=\"").unwrap();
        address = after.split_once('"').unwrap().0.replace("&amp;", "&");
    }
    let first = app.get(&address).await;
    assert_eq!(drawing(&first.html), seen[0], "eight eighths are once round");
    seen.sort();
    seen.dedup();
    assert_eq!(seen.len(), 8, "each side is another drawing");
    let back = app.get(&format!("{chest}?turn=3")).await;
    assert!(back.says("Seen from the back."));
    let odd = app.get(&format!("{chest}?turn=far&eye=3&measures=")).await;
    assert_eq!(drawing(&odd.html), drawing(&first.html));
}

#[tokio::test]
async fn measures_are_written_on_when_they_are_asked_for() {
    let app = TestApp::new();
    let chest = app.take_in("chest").await;
    assert!(!drawing(&app.get(&chest).await.html).contains("36 in"));
    let page = app.get(&format!("{chest}?turn=1&eye=high&measures=on")).await;
    let drawn = drawing(&page.html);
    assert!(drawn.contains("36 in") && drawn.contains("18 in") && drawn.contains("30 in"));
    assert!(page.says("from high up") && page.says("Without measures"));
}

#[tokio::test]
async fn the_drawing_and_the_form_go_out_as_files_with_their_unit_said() {
    let app = TestApp::new();
    let chest = app.take_in("chest of drawers").await;
    let svg = app
        .get(&format!("{chest}/drawing.svg?turn=2&eye=low&measures=on"))
        .await;
    assert_eq!(svg.headers[header::CONTENT_TYPE], "image/svg+xml");
    assert!(svg.html.starts_with("<svg") && svg.html.contains("36 in") && svg.html.len() < 30_000);
    let stl = app.get(&format!("{chest}/form.stl")).await;
    assert_eq!(stl.headers[header::CONTENT_TYPE], "model/stl");
    let name = stl.headers[header::CONTENT_DISPOSITION].to_str().unwrap();
    assert!(name.contains("chest-of-drawers-millimetres.stl"), "{name}");
    assert!(app.get(&chest).await.says("Form as STL, in millimetres"));
    assert_eq!(app.get("/pieces/nothing/form.stl").await.status, StatusCode::NOT_FOUND);
}
