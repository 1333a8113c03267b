//! The table of steps and the printable documents.

use crate::planned::plan_of_a_difficult_name;

#[test]
fn the_table_has_a_row_a_step_and_reads_back() {
    let plan = plan_of_a_difficult_name();
    let text = paper::table::csv(&plan).unwrap();
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    assert_eq!(
        reader.headers().unwrap().iter().collect::<Vec<_>>(),
        paper::table::COLUMNS
    );
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), plan.steps().count());
    assert!(rows.iter().all(|row| row[0] == plan.pieces[0].name));
    let starts: Vec<jiff::Timestamp> = rows.iter().map(|row| row[11].parse().unwrap()).collect();
    assert!(starts.is_sorted(), "rows stand in the order of work");
    let minutes: u32 = rows.iter().map(|row| row[8].parse::<u32>().unwrap()).sum();
    assert_eq!(minutes, plan.schedule.bench_min);
}

#[test]
fn each_piece_has_a_job_card_and_a_care_card_in_which_its_name_is_only_text() {
    let plan = plan_of_a_difficult_name();
    let documents = paper::document::documents(&plan);
    let names: Vec<&str> = documents.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names.len(), 5);
    for (name, html) in &documents {
        assert!(
            name.chars().all(|c| c.is_alphanumeric() || c == '-' || c == '.'),
            "{name} is a safe file name"
        );
        assert!(!html.contains("<chest>"), "{name} lets a name become markup");
        assert!(html.starts_with("<!doctype html>") && html.contains("lang=\"en\""));
        assert!(
            !html.contains("http://") && !html.contains("https://") && !html.contains("<script"),
            "{name} fetches nothing"
        );
        for tag in [
            "html", "body", "table", "tr", "td", "h1", "h2", "p", "ul", "li", "thead", "th",
        ] {
            let opened = html.matches(&format!("<{tag}>")).count() + html.matches(&format!("<{tag} ")).count();
            assert_eq!(opened, html.matches(&format!("</{tag}>")).count(), "{tag} in {name}");
        }
    }
    let job = &documents
        .iter()
        .find(|(name, _)| name.starts_with("job-card"))
        .unwrap()
        .1;
    for (_, _, step) in plan.steps() {
        assert!(
            job.contains(step.words.split(',').next().unwrap()),
            "{} is missing on the job card",
            step.words
        );
    }
    let care = &documents
        .iter()
        .find(|(name, _)| name.starts_with("care-card"))
        .unwrap()
        .1;
    assert!(
        care.contains(&plan.pieces[0].cured.strftime("%A %-d %B %Y").to_string()),
        "the care card says when it is hard"
    );
}

#[test]
fn the_quote_tells_the_price_and_no_cost() {
    let plan = plan_of_a_difficult_name();
    let documents = paper::document::documents(&plan);
    let quote = &documents.iter().find(|(name, _)| name.starts_with("quote")).unwrap().1;
    let money = &plan.pieces[0].money;
    assert!(quote.contains(&money.price.show()));
    for cost in [&money.materials, &money.labour, &money.total] {
        assert!(!quote.contains(&cost.show()), "the client is not told {}", cost.show());
    }
}

#[test]
fn every_page_carries_its_title_and_number_and_cuts_no_row() {
    let plan = plan_of_a_difficult_name();
    for (name, html) in paper::document::documents(&plan) {
        let (_, style) = html.split_once("<style>").unwrap();
        let (style, _) = style.split_once("</style>").unwrap();
        for rule in [
            "@top-left{content:",
            "counter(page)",
            "tr,li,.stop{break-inside:avoid}",
            "thead{display:table-header-group}",
        ] {
            assert!(style.contains(rule), "{rule} is missing in {name}");
        }
        assert!(!style.contains('<'), "the title in {name} could end the style");
        let rows = html.matches("<table").count();
        let heads = html.matches("<thead>").count();
        assert!(
            heads == rows || name.starts_with("care-card"),
            "{name}: {heads} heads for {rows} tables"
        );
    }
}
