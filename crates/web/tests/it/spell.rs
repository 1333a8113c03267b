//! A cold snap on the week's page: planned with, told, taken back, and refused beside its field.

use axum::http::StatusCode;
use store::Store;

use crate::app::TestApp;

const COLD: [(&str, &str); 6] = [
    ("air-from", "2027-03-08"),
    ("air-begins", "10:00"),
    ("air-to", "2027-03-12"),
    ("air-ends", "17:00"),
    ("air-temperature", "34 °F"),
    ("air-humidity", ""),
];

#[tokio::test]
async fn a_cold_snap_moves_the_coats_is_told_and_is_taken_back() {
    let app = TestApp::new();
    app.take_in("chest").await;
    app.get("/week").await;
    let said = app.post("/week/air", &COLD).await;
    assert_eq!(said.status, StatusCode::SEE_OTHER, "{}", said.html);
    let week = app.get("/week").await;
    assert!(
        week.says("shop at 34 °F, Mon 8 Mar 10:00 to Fri 12 Mar 17:00"),
        "{}",
        week.html
    );
    assert!(
        week.says("steps moved") && week.says("chest is now ready"),
        "{}",
        week.html
    );
    assert!(week.says("Undo: shop at 34 °F"), "{}", week.html);
    app.post("/week/air/back", &[("room", "0"), ("place", "0")]).await;
    assert!(!app.get("/week").await.says("Take it back"));
}

#[tokio::test]
async fn a_cold_snap_outlives_a_restart() {
    let folder = tempfile::tempdir().unwrap();
    let app = TestApp::on(Store::open(folder.path()).unwrap());
    app.take_in("chest").await;
    app.post("/week/air", &COLD).await;
    drop(app);
    let again = TestApp::on(Store::open(folder.path()).unwrap());
    assert!(again.get("/week").await.says("shop at 34 °F"));
}

#[tokio::test]
async fn without_clock_times_whole_days_are_meant() {
    let app = TestApp::new();
    let entries = [
        ("air-from", "2027-03-09"),
        ("air-to", "2027-03-10"),
        ("air-humidity", "92 %"),
    ];
    assert_eq!(app.post("/week/air", &entries).await.status, StatusCode::SEE_OTHER);
    assert!(
        app.get("/week")
            .await
            .says("shop at 92 %, Tue 9 Mar 0:00 to Thu 11 Mar 0:00")
    );
}

#[tokio::test]
async fn what_is_wrong_is_said_beside_its_field_and_nothing_changes() {
    let app = TestApp::new();
    for (field, wrong, words) in [
        ("air-from", "soon", "a day such as"),
        ("air-begins", "dawn", "not a clock time"),
        ("air-to", "2027-03-01", "it ends after it begins"),
        ("air-temperature", "chilly", "chilly"),
        ("air-temperature", "", "a temperature, a humidity, or both"),
        ("air-temperature", "200 °F", "-40 °C and 60 °C"),
        ("air-humidity", "140 %", "140 %"),
    ] {
        let entries = COLD.map(|(name, said)| (name, if name == field { wrong } else { said }));
        let refused = app.post("/week/air", &entries).await;
        assert_eq!(refused.status, StatusCode::UNPROCESSABLE_ENTITY, "{field}: {wrong}");
        assert!(refused.says(words), "{field}: {}", refused.html);
        assert!(!refused.says("Take it back"), "{field}: it was kept");
    }
}
