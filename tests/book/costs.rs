//! The page of the costs, and what the demo book spent, added up by hand.

use crate::pages::demo;
use crate::support::{Book, entry, job};
use scraper::{Html, Selector};

fn select(text: &str) -> Selector {
    Selector::parse(text).expect("a selector")
}

/// The texts of the cells of a row.
fn cells(row: scraper::ElementRef<'_>) -> Vec<String> {
    row.select(&select("th, td")).map(|cell| cell.text().collect::<String>().trim().to_owned()).collect()
}

/// Every row of every table in a line, its cells set apart by ` | `.
fn rows(html: &str) -> Vec<String> {
    Html::parse_document(html).select(&select("table.costs tr")).map(|row| cells(row).join(" | ")).collect()
}

#[test]
fn the_page_shows_years_across_and_systems_down() {
    let book = Book::new()
        .file("boat.yaml", "name: Test boat\nsystems: [{id: engine, title: Engine}, {id: hull, title: Hull}]\n")
        .file("guides/engine/oil.md", job("Oil", ""))
        .file("guides/hull/paint.md", job("Paint", ""))
        .file("log/2025/2025-04-01-paint.md", entry("jobs: [paint]\ndate: 2025-04-01\ncosts: [{what: paint, cost: 276 EUR}]\n"))
        .file("log/2026/2026-03-14-oil.md", entry("jobs: [oil]\ndate: 2026-03-14\nparts: [{item: filter, cost: 18.50 EUR}]\n"))
        .file("log/2026/2026-04-01-both.md", entry("jobs: [oil, paint]\ndate: 2026-04-01\ncosts: [{what: yard, cost: 100 EUR}]\n"))
        .file("log/2026/2026-05-01-pin.md", entry("work: [A pin]\ndate: 2026-05-01\ncosts: [{what: pin, cost: 120 NOK}]\n"))
        .published();
    let page = book.text("site/costs.html");
    // 276 + 18.50 + 100 = 394.50; crowns stand apart.
    let expected = [
        "System | 2026 | 2025 | All years",
        "Engine | 18.50 |  | 18.50",
        "Hull |  | 276.00 | 276.00",
        "several systems | 100.00 |  | 100.00",
        "Together | 118.50 | 276.00 | 394.50",
        "System | 2026",
        "no system | 120",
        "Together | 120",
    ];
    assert_eq!(rows(&page), expected);
    assert!(page.contains("href=\"log/2026.html\"") && page.contains("href=\"systems/engine.html\""));
}

#[test]
fn many_years_stand_in_several_tables() {
    let mut book = Book::new()
        .file("boat.yaml", "name: Test boat\nsystems: [{id: engine, title: Engine}, {id: hull, title: Hull}]\n")
        .file("guides/engine/oil.md", job("Oil", ""))
        .file("guides/hull/paint.md", job("Paint", ""));
    for year in 2019..=2025 {
        let job = if year == 2019 { "paint" } else { "oil" };
        let text = entry(&format!("jobs: [{job}]\ndate: {year}-05-01\ncosts: [{{what: stuff, cost: {} EUR}}]\n", year - 2000));
        book = book.file(&format!("log/{year}/{year}-05-01-work.md"), text);
    }
    // 20 + 21 + 22 + 23 + 24 + 25 = 135, and 19 on the hull: 154.
    let expected = [
        "System | 2025 | 2024 | 2023 | 2022 | 2021 | 2019–2025",
        "Engine | 25 | 24 | 23 | 22 | 21 | 135",
        "Hull |  |  |  |  |  | 19",
        "Together | 25 | 24 | 23 | 22 | 21 | 154",
        "System | 2020 | 2019",
        "Engine | 20 | ",
        "Hull |  | 19",
        "Together | 20 | 19",
    ];
    assert_eq!(rows(&book.published().text("site/costs.html")), expected);
}

#[test]
fn a_book_that_spent_nothing_says_so() {
    let page = Book::new().file("boat.yaml", "name: Test boat\n").published().text("site/costs.html");
    assert!(rows(&page).is_empty());
    assert!(page.contains("Nothing was spent, according to the log."), "{page}");
}

/// The sum of a system in a year, as the demo book's page shows it in a currency's tables.
fn demo_sum(currency: &str, system: &str, year: &str) -> String {
    let page = demo().pages().find(|(path, _)| *path == "costs.html").map(|(_, html)| html).expect("the page");
    let html = Html::parse_document(page);
    for table in html.select(&select("table.costs")) {
        let caption: String = table.select(&select("caption")).flat_map(|caption| caption.text()).collect();
        let rows: Vec<Vec<String>> = table.select(&select("tr")).map(cells).collect();
        let column = rows.first().and_then(|head| head.iter().position(|cell| cell == year));
        let row = rows.iter().find(|row| row.first().is_some_and(|name| name == system));
        if let (true, Some(column), Some(row)) = (caption.starts_with(currency), column, row) {
            return row[column].clone();
        }
    }
    panic!("no {system} of {year} in {currency}");
}

#[test]
fn the_demo_book_of_2026_added_up_by_hand() {
    for (system, sum) in [
        // 9.80 + (36 + 2.40) + (18.50 + 46.80 + 0.60) + (9.80 + 14.90) + (18.50 + 43.20); the biocide of 10 October is fuel.
        ("Engine", "200.50"),
        // 7.60 + 7.60
        ("Fuel", "15.20"),
        ("Gearbox and shaft", ""),
        // (68 + 22) + 311 + (255 + 1545) + 330
        ("Hull and seacocks", "2531.00"),
        // 3.50 + 11
        ("Mast and rigging", "14.50"),
        // (3.60 + 14.50) + (19 + 3.60) + (8 + 18)
        ("Deck gear", "66.70"),
        // (0.70 + 12.50) + (32.45 + 14.10 + 2.10 + 6.90), the second of a job that is still open
        ("Steering", "68.75"),
        ("Electrics", "84.00"),
        // 44 of an entry with jobs in three systems, of which one lists the part; 12 + 26
        ("Plumbing and bilge", "82.00"),
        // 168 + 27
        ("Gas", "195.00"),
        // (1690 + 98) + 6
        ("Safety", "1794.00"),
        // 200.50 + 15.20 + 2531 + 14.50 + 66.70 + 68.75 + 84 + 82 + 195 + 1794
        ("Together", "5051.65"),
    ] {
        assert_eq!(demo_sum("EUR", system, "2026"), sum, "{system}");
    }
}

#[test]
fn what_the_demo_book_spent_abroad_stands_apart() {
    // 950 + 4890 + 2850 in 2025, 120 in 2023.
    assert_eq!(demo_sum("NOK", "Mast and rigging", "2025"), "8690");
    assert_eq!(demo_sum("NOK", "Mast and rigging", "All years"), "8810");
    // A flare pack on a day with jobs in three systems, none of which lists it.
    assert_eq!(demo_sum("EUR", "several systems", "2023"), "214.00");
    // 4180 + 1260 for the rigging, 3950 for the charging set.
    assert_eq!(demo_sum("EUR", "Together", "2019"), "9390.00");
}
