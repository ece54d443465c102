//! What to buy, aisle by aisle, with a box for every line.

use super::Report;
use super::pieces::{Section, list, progress, tick};
use crate::output::words;
use maud::{Markup, html};
use pricing::shop::{Fact, ShopLine, ShoppingList};

/// Facts that say neither a price nor who sells.
const OPEN_TO_ALL: [&str; 3] = ["Longest", "Weight", "Tees"];
/// And those that say the reader's own prices.
const WITH_PRICES: [&str; 3] = ["Packs", "Spares", "Ready lengths"];

pub(super) fn section(report: &Report<'_>) -> Option<Section> {
    let (shop, priced) = (report.shop, report.priced);
    let lines = || shop.groups.iter().flat_map(|group| &group.lines);
    let returnable = lines().any(|line| line.spare.returnable);
    let shown = |fact: &&Fact| {
        OPEN_TO_ALL.contains(&fact.label) || priced && WITH_PRICES.contains(&fact.label)
    };
    let facts: Vec<&Fact> = shop.heads_up.iter().filter(shown).collect();
    Some(Section {
        id: "shopping",
        title: "Parts to buy",
        body: html! {
            @if priced { (missing(shop)) }
            (progress("shopping"))
            @for (number, group) in (1..).zip(&shop.groups) {
                h3 { (group.title) }
                ul.ticks {
                    @for (at, line) in (1..).zip(&group.lines) {
                        (item(&format!("buy-{number}-{at}"), line, priced))
                    }
                }
                @if priced {
                    p.sum { (words::group_sum(group)) " " b { (group.subtotal.show()) } }
                }
            }
            @if priced {
                @for (label, sum) in words::shop_sums(shop) { p.sum { (label) " " b { (sum) } } }
                @if !shop.notices.is_empty() { p.hint { "Prices are invented samples, in part or all." } }
            }
            @if returnable { p.hint { "* The spare can go back unused: keep the receipt." } }
            @if !facts.is_empty() {
                h3 { "Before you drive" }
                dl.facts.told {
                    @for fact in facts { div { dt { (fact.label) } dd { (fact.text) } } }
                }
            }
            (list(words::ALSO, &shop.also))
        },
    })
}

/// The loud hole: every part that has no price.
fn missing(shop: &ShoppingList) -> Markup {
    html! {
        @if !shop.missing.is_empty() {
            div.alarm {
                p { strong { (words::OPEN) } }
                ul {
                    @for part in &shop.missing {
                        li { (format!("{} {} {}", part.quantity, part.words, part.key.size)) ": " (part.reason) }
                    }
                }
            }
        }
    }
}

fn item(id: &str, line: &ShopLine, priced: bool) -> Markup {
    let used = words::where_used(line);
    let label = html! {
        b.count { (line.quantity) } " "
        span.what { (words::on_shelf(line)) }
        @if !used.is_empty() { " " span.used { (used) } }
    };
    html! {
        li {
            (tick(id, &label))
            @if priced {
                span.price {
                    @match line.amount {
                        Some(amount) => {
                            span { (words::price(line.unit_price)) " each" } " "
                            b { (amount.show()) }
                        }
                        None => b { (words::price(None)) },
                    }
                }
            }
        }
    }
}
