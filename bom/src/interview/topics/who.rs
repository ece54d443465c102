use super::{Line, Topic, Usual};
use crate::interview::answers::Who;

pub(super) const TOPIC: Topic = Topic {
    name: "who",
    help: "A contractor cuts and threads pipe to measure and quotes. An owner buys ready-threaded \
           lengths at the store: the count then says how every straight is made of them. At home \
           or in a business says which papers are told of first.",
    names: None,
    next: |answers, _| {
        answers.who.is_none().then(|| {
            Line::whole(
                "Who puts it up: you at home, you in your business, or a contractor?",
                "home, business or contractor",
                Usual::plain("contractor"),
            )
        })
    },
    take: |answers, _, line, _| {
        answers.who = Some(match line.to_lowercase().as_str() {
            "home" | "house" | "at home" | "me at home" | "me" | "self" => Who::Home,
            "business" | "shop" | "my business" => Who::Business,
            "contractor" | "contractors" | "pro" => Who::Contractor,
            _ => return Err(format!("`{line}`: say home, business or contractor.")),
        });
        Ok(())
    },
};
