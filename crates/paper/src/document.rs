//! Printable documents as HTML: a job card, a quote and a care card for each piece, the day sheets, the shopping list.
//!
//! Each is one file that needs nothing beside it and fetches nothing. They print on Letter and A4, black on white, with a
//! box to tick where hands do something. Nothing is worked out here.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use quantity::{Area, Volume};
use shop::plan::{Level, Plan, PlannedPiece, PlannedStep, bought_for_words};

/// How every document looks: a serif for names, one plain face for the rest, rules in place of boxes.
///
/// A row is never cut by the end of a page, a heading never stands alone at its foot, and the names of columns are repeated on the next.
const STYLE: &str = "body{font:11pt/1.45 system-ui,sans-serif;color:#1d1c1a;max-width:190mm;margin:0 auto;padding:8mm}\
h1,h2{font-family:Georgia,serif;font-weight:normal;line-height:1.15;break-after:avoid}h1{font-size:22pt;margin:0 0 2mm}h2{font-size:14pt;margin:8mm 0 2mm;border-bottom:.3mm solid}\
table{border-collapse:collapse;width:100%}thead{display:table-header-group}td,th{text-align:left;vertical-align:top;padding:1.2mm 3mm 1.2mm 0;border-bottom:.1mm solid #b8b2a4}\
th{font-weight:normal;font-style:italic}td.n,th.n{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}tr,li,.stop{break-inside:avoid}p{orphans:2;widows:2}\
.why{color:#4c483f;font-size:9.5pt}td.tick{width:5mm}td.tick::before{content:'';display:inline-block;width:3.4mm;height:3.4mm;border:.3mm solid}\
.stop{border:.5mm solid;padding:2mm 3mm}.price{font:22pt/1.2 Georgia,serif}@media print{body{padding:0;max-width:none}}";

/// Every document of a plan with its file name; names are made of ids and differ.
pub fn documents(plan: &Plan) -> Vec<(String, String)> {
    let mut documents = vec![
        ("day-sheets.html".to_owned(), day_sheets(plan)),
        ("shopping.html".to_owned(), shopping(plan)),
    ];
    for piece in &plan.pieces {
        documents.push((format!("job-card-{}.html", piece.id), job_card(plan, piece)));
        documents.push((format!("quote-{}.html", piece.id), quote(plan, piece)));
        documents.push((format!("care-card-{}.html", piece.id), care_card(plan, piece)));
    }
    documents
}

fn page(title: &str, body: &str) -> String {
    format!(
        "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>{}</title><style>{}{STYLE}</style></head><body>\n{body}</body></html>\n",
        escaped(title),
        sheet(title)
    )
}

/// The sheet: its title above every page but the first, which begins with it, and the page's number below.
fn sheet(title: &str) -> String {
    let title: String = title
        .chars()
        .map(|c| match c {
            // What could end the text or the style is written by its number.
            '"' | '\\' | '<' | '>' | '&' => format!("\\{:06x}", u32::from(c)),
            c if c.is_control() => " ".to_owned(),
            c => c.to_string(),
        })
        .collect();
    format!(
        "@page{{margin:18mm 16mm;@top-left{{content:\"{title}\";font:italic 9pt Georgia,serif}}@bottom-right{{content:counter(page) \" of \" counter(pages);font:9pt system-ui,sans-serif}}}}@page:first{{@top-left{{content:none}}}}"
    )
}

/// Text made safe to stand between tags and in quoted attributes.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
}

fn day_sheets(plan: &Plan) -> String {
    let mut body = format!("<h1>Day sheets</h1><p>{}</p>\n", escaped(&plan.schedule.words));
    for day in &plan.days {
        let _ = writeln!(
            body,
            "<h2>{}</h2><table><thead><tr><th></th><th class=\"n\">when</th><th>where</th><th>what</th><th>who</th></tr></thead>",
            day.date.strftime("%A %-d %B %Y")
        );
        for block in &day.blocks {
            let hand = plan.shop.hands.get(block.hand).map_or("", String::as_str);
            let place = if block.zone.is_empty() {
                block.piece.clone()
            } else {
                format!("{}, {}", block.piece, block.zone)
            };
            let _ = writeln!(
                body,
                "<tr><td class=\"tick\"></td><td class=\"n\">{}–{}</td><td>{}</td><td>{}</td><td>{}</td></tr>",
                block.from.strftime("%-H:%M"),
                block.to.strftime("%-H:%M"),
                escaped(&place),
                escaped(&block.words),
                escaped(hand)
            );
        }
        body.push_str("</table>\n");
    }
    page("Day sheets", &body)
}

fn shopping(plan: &Plan) -> String {
    let units = plan.shop.unit_system;
    let mut body = "<h1>To buy and to have</h1><table><thead><tr><th></th><th>what</th><th class=\"n\">needed</th><th class=\"n\">on the shelf</th><th>buy</th><th class=\"n\">price</th></tr></thead>\n".to_owned();
    for item in &plan.shopping {
        let cans: Vec<String> = item
            .buy
            .iter()
            .map(|can| {
                let at = can
                    .seller
                    .as_ref()
                    .map(|seller| format!(" ({seller})"))
                    .unwrap_or_default();
                format!("{} × {}{at}", can.count, Volume::from_ml(can.size_ml).show(units))
            })
            .collect();
        let prices: Vec<String> = item.buy.iter().map(|can| can.price.show()).collect();
        let colour = item
            .colour
            .as_ref()
            .map(|colour| format!(", {colour}"))
            .unwrap_or_default();
        let _ = writeln!(
            body,
            "<tr><td class=\"tick\"></td><td>{}{}</td><td class=\"n\">{}</td><td class=\"n\">{}</td><td>{}</td><td class=\"n\">{}</td></tr>",
            escaped(&item.words),
            escaped(&colour),
            format_args!(
                "{}<br><span class=\"why\">{}</span>",
                escaped(&Volume::from_ml(item.need_ml).show(units)),
                escaped(&item.range_words(units))
            ),
            escaped(&Volume::from_ml(item.on_shelf_ml).show(units)),
            escaped(&cans.join(", ")),
            escaped(&prices.join(", "))
        );
    }
    body.push_str("</table>\n");
    for trip in &plan.trips {
        let _ = writeln!(
            body,
            "<p>At {}: cans {}, the way there {}, together {}.</p>",
            escaped(&trip.seller),
            escaped(&trip.cans.show()),
            escaped(&trip.way.show()),
            escaped(&trip.together.show())
        );
    }
    if let Some(first) = plan.shopping.first() {
        let _ = writeln!(body, "<p class=\"why\">{}</p>", bought_for_words(first.bought_for));
    }
    supplies(&mut body, plan);
    page("To buy and to have", &body)
}

/// Discs, tape, rags and the like.
fn supplies(body: &mut String, plan: &Plan) {
    let units = plan.shop.unit_system;
    if plan.supplies.is_empty() {
        return;
    }
    body.push_str("<h2>Supplies</h2><table><thead><tr><th></th><th>to have</th><th>on the shelf</th><th>buy</th><th class=\"n\">price</th></tr></thead>\n");
    for item in &plan.supplies {
        let packs: Vec<String> = item
            .buy
            .iter()
            .map(|pack| format!("{} × {}", pack.count, pack.name))
            .collect();
        let prices: Vec<String> = item.buy.iter().map(|pack| pack.price.show()).collect();
        let price = if item.is_priced {
            prices.join(", ")
        } else {
            "no price known".to_owned()
        };
        let _ = writeln!(
            body,
            "<tr><td class=\"tick\"></td><td>{}<br><span class=\"why\">{}</span></td><td>{}</td><td>{}</td><td class=\"n\">{}</td></tr>",
            escaped(&item.amount_words(item.need, units)),
            escaped(&item.range_words(units)),
            escaped(&item.amount_words(item.on_shelf, units)),
            escaped(&packs.join(", ")),
            escaped(&price)
        );
    }
    body.push_str("</table>\n");
}

fn job_card(plan: &Plan, piece: &PlannedPiece) -> String {
    let units = plan.shop.unit_system;
    let mut body = format!("<h1>{}</h1>", escaped(&piece.name));
    let _ = writeln!(
        body,
        "<p>{} to finish. Ready {}; fully cured {}.</p>",
        escaped(&Area::from_m2(piece.area_m2).show(units)),
        piece.ready.strftime("%A %-d %B at %-H:%M"),
        piece.cured.strftime("%A %-d %B")
    );
    for caution in plan
        .cautions
        .iter()
        .filter(|caution| caution.pieces.contains(&piece.name) && caution.level == Level::Stop)
    {
        let _ = writeln!(body, "<p class=\"stop\">{}</p>", escaped(&caution.text));
    }
    let mut told = BTreeSet::new();
    for zone in &piece.zones {
        let _ = writeln!(body, "<h2>{}, {}</h2>", escaped(&zone.name), escaped(&zone.substrate));
        if zone.own {
            body.push_str("<p>The steps are your own: they were written by hand, and checked.</p>");
        }
        steps(&mut body, plan, &zone.steps, &mut told);
    }
    if !piece.closing.is_empty() {
        body.push_str("<h2>Putting together</h2>");
        steps(&mut body, plan, &piece.closing, &mut told);
    }
    // What was told in full at its step is not told again in a footer.
    let warnings: Vec<_> = plan
        .cautions
        .iter()
        .filter(|caution| caution.pieces.contains(&piece.name) && caution.level != Level::Stop)
        .filter(|caution| !told.contains(caution.id.as_str()))
        .collect();
    if !warnings.is_empty() {
        body.push_str("<h2>Cautions</h2><ul>");
        for caution in warnings {
            let _ = writeln!(
                body,
                "<li>{} <span class=\"why\">[{}]</span></li>",
                escaped(&caution.text),
                escaped(&caution.source)
            );
        }
        body.push_str("</ul><p class=\"why\">Labels, safety data sheets and local rules come first.</p>");
    }
    page(&format!("Job card: {}", piece.name), &body)
}

/// Sets steps, each with its grave cautions: in full where they are met first, by their first sentence after that.
fn steps<'p>(body: &mut String, plan: &'p Plan, steps: &[PlannedStep], told: &mut BTreeSet<&'p str>) {
    let units = plan.shop.unit_system;
    body.push_str("<table><thead><tr><th></th><th class=\"n\">when</th><th>what, and why</th><th class=\"n\">hands</th><th class=\"n\">takes</th></tr></thead>\n");
    for step in steps {
        let amounts = [step.takes(units), step.mixing(units), step.uses_up(units)];
        let quantity: Vec<String> = amounts.iter().flatten().map(|told| escaped(told)).collect();
        let why: Vec<String> = step.because.iter().map(|because| escaped(&because.text)).collect();
        let until = step
            .wait_ends
            .as_ref()
            .map(|until| format!("<br>then wait until {}", until.strftime("%a %-d %b %-H:%M")))
            .unwrap_or_default();
        let cautions: String = plan
            .cautions
            .iter()
            .filter(|caution| step.cautions.contains(&caution.id) && caution.level != Level::Note)
            .map(|caution| {
                let text = if told.insert(&caution.id) {
                    format!("{} [{}]", caution.text, caution.source)
                } else {
                    format!("as above: {}", first_sentence(&caution.text))
                };
                format!("<br><strong>! {}</strong>", escaped(&text))
            })
            .collect();
        let _ = writeln!(
            body,
            "<tr><td class=\"tick\"></td><td class=\"n\">{}</td><td>{}{until}{cautions}<br><span class=\"why\">{}</span></td><td class=\"n\">{} min</td><td>{}</td></tr>",
            step.starts.strftime("%a %-d %b %-H:%M"),
            escaped(&step.words),
            why.join(" "),
            step.hands_on_min,
            quantity.join("<br>")
        );
    }
    body.push_str("</table>\n");
}

fn first_sentence(text: &str) -> &str {
    text.find(". ").map_or(text, |end| &text[..=end])
}

/// What a client is told: what is done to each part, when it is ready, and the price. What it costs the shop is not in it.
fn quote(plan: &Plan, piece: &PlannedPiece) -> String {
    let mut body = format!(
        "<h1>Quote: {}</h1><p>From {}.</p><p class=\"price\">{}</p>",
        escaped(&piece.name),
        escaped(&plan.shop.name),
        escaped(&piece.money.price.show())
    );
    let _ = writeln!(
        body,
        "<p>Ready {} as things stand; its finish is fully hard from {} on.</p>",
        piece.ready.strftime("%A %-d %B %Y"),
        piece.cured.strftime("%A %-d %B %Y")
    );
    body.push_str("<h2>What is done</h2><table><thead><tr><th>part</th><th>steps, in order</th></tr></thead>\n");
    for zone in &piece.zones {
        let steps: Vec<String> = zone.steps.iter().map(|step| escaped(&step.words)).collect();
        let _ = writeln!(
            body,
            "<tr><td>{}, {}</td><td>{}</td></tr>",
            escaped(&zone.name),
            escaped(&zone.substrate),
            steps.join("; ")
        );
    }
    body.push_str("</table>\n<p class=\"why\">For the piece as it was seen. What comes to light under the old finish may change the work and the price; you are asked before it does.</p>\n");
    page(&format!("Quote: {}", piece.name), &body)
}

fn care_card(plan: &Plan, piece: &PlannedPiece) -> String {
    let mut body = format!(
        "<h1>{}</h1><p>From {}.</p>",
        escaped(&piece.name),
        escaped(&plan.shop.name)
    );
    let _ = writeln!(
        body,
        "<p>Handle it gently until <strong>{}</strong>: until then its finish is dry and not yet hard. Nothing hot, wet or heavy on it before that day, and no cover over it.</p>",
        piece.cured.strftime("%A %-d %B %Y")
    );
    body.push_str("<h2>What is on it</h2><table>");
    for zone in &piece.zones {
        let kept = zone.build_up.found.iter().take(zone.build_up.kept);
        let layers: Vec<String> = kept
            .chain(&zone.build_up.planned)
            .map(|layer| escaped(&layer.words))
            .collect();
        let _ = writeln!(
            body,
            "<tr><td>{}</td><td>{} on {}</td></tr>",
            escaped(&zone.name),
            layers.join(", "),
            escaped(&zone.substrate)
        );
    }
    body.push_str("</table>\n<h2>Looking after it</h2><p>Dust with a soft dry cloth. Wipe spills at once. Clean with a damp cloth and dry after it; no abrasive and no silicone polish, which spoils the next finish.</p>\n");
    page(&format!("Care card: {}", piece.name), &body)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_cannot_become_markup() {
        assert_eq!(escaped("<b> & \"x\""), "&lt;b&gt; &amp; &quot;x&quot;");
    }
}
