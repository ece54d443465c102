use super::{Line, Topic, Usual};

pub(super) const TOPIC: Topic = Topic {
    name: "people",
    help: "Hand tools run only in somebody's hand: two people never run five sanders. It keeps the \
           compressor and the pipe from being judged too small.",
    names: None,
    next: |answers, _| {
        answers.people.is_none().then(|| {
            Line::whole(
                "How many people use air at the same time?",
                "2",
                Usual::plain("1"),
            )
        })
    },
    take: |answers, _, line, _| {
        let words = ["one", "two", "three", "four", "five", "six"];
        let spelt = words
            .iter()
            .zip(1_u8..)
            .find(|(word, _)| line.eq_ignore_ascii_case(word));
        let count = spelt.map(|(_, count)| count).or_else(|| line.parse().ok());
        let count = count.filter(|count| *count > 0);
        answers.people = Some(count.ok_or_else(|| {
            format!("`{line}` is no number of people: a whole number from 1 to 255 is wanted.")
        })?);
        Ok(())
    },
};
