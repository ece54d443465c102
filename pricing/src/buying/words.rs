//! A purchase in sentences, for the buyer's own papers.

use super::{Alone, Buying, Order};

/// Suppliers of which it is said what they alone would cost.
const ALONE: usize = 3;

impl Buying {
    /// Who gets what, and what one supplier alone would cost. A customer's paper
    /// has none of it.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        let code = self.total.currency();
        let mut said = Vec::new();
        if self.orders.len() > 1 || !self.charges.amount().is_zero() {
            said.extend(self.orders.iter().map(order));
        }
        said.extend(self.against_one());
        if let Some((name, more)) = &self.preferred {
            said.push(format!(
                "{name} is preferred, at {} more than the cheapest purchase.",
                more.show()
            ));
        }
        if !self.proven {
            let bound = self.bound.show();
            said.push(format!(
                "Not proven the cheapest; none costs less than {code} {bound}."
            ));
        }
        said
    }

    /// Beside one supplier for everything.
    fn against_one(&self) -> Option<String> {
        let split = self.orders.len() > 1;
        let here = |one: &Alone| {
            self.orders
                .iter()
                .any(|order| order.supplier == one.supplier)
        };
        let others = self.alone.iter().filter(|one| match one.total {
            Some(_) => split || !here(one),
            None => split,
        });
        let others: Vec<String> = others.take(ALONE).map(alone).collect();
        if others.is_empty() {
            return None;
        }
        let saved = self.saved.filter(|saved| saved.minor() > 0);
        let saved = saved.map_or_else(String::new, |saved| {
            format!("; as listed it is {} less", saved.show())
        });
        let others = others.join(", ");
        Some(match self.orders.first() {
            // Those who sell it all are not among the others.
            Some(order) if !split => format!("All from {}; at others: {others}.", named(order)),
            _ => format!("All at one: {others}{saved}."),
        })
    }
}

fn named(order: &Order) -> &str {
    match order.supplier.as_str() {
        "" => "Supplier not named",
        name => name,
    }
}

fn order(order: &Order) -> String {
    let name = named(order);
    let lines = match order.lines {
        1 => "1 line".to_owned(),
        lines => format!("{lines} lines"),
    };
    let mut said = format!("{name}: {lines} for {}", order.goods.show());
    if !order.delivery.amount().is_zero() {
        said += &format!(", delivery {}", order.delivery.show());
    }
    if !order.made_up.amount().is_zero() {
        said += &format!(", made up to its least order by {}", order.made_up.show());
    }
    said + "."
}

fn alone(alone: &Alone) -> String {
    match (alone.total, alone.lacks) {
        (Some(total), _) => format!("{} {}", alone.supplier, total.show()),
        (None, 1) => format!("{} lacks 1 line", alone.supplier),
        (None, lacks) => format!("{} lacks {lacks} lines", alone.supplier),
    }
}
