//! What stands below a drawing that is a file of its own.

use crate::output::DrawingHead;
use bom::drawing::{Anchor, At, Layer, Mark, Shape, Sheet, Stroke, Text, TextSize, shorten, width};

/// What a caption takes across at least.
pub(super) const LEAST: f64 = 90.0;
/// From the drawing to the rule, and from there to each of the two lines of type.
const GAP: f64 = 5.0;
const LINES: [f64; 2] = [5.0, 10.0];

/// The caption of a sheet, which is one of so many, and how far down it reaches below.
pub(super) fn caption(sheet: &Sheet, head: &DrawingHead<'_>, of: (usize, usize)) -> (Mark, f64) {
    let right = sheet.width.max(LEAST);
    let rule = sheet.height + GAP;
    let (number, count) = of;
    let revision = match head.revision.trim() {
        "" => String::new(),
        revision => format!("revision {revision}    "),
    };
    let lines = [
        (&*sheet.title, true, format!("sheet {number} of {count}")),
        (
            head.job,
            false,
            format!("{revision}{}    {}", head.fingerprint, head.date),
        ),
    ];
    let mut shapes = vec![Shape::line(
        Stroke::NARROW,
        vec![At::new(0.0, rule), At::new(right, rule)],
    )];
    for ((words, bold, marks), down) in lines.into_iter().zip(LINES) {
        let (size, small) = (TextSize::Plain, TextSize::Small);
        // The marks are whole; the title takes what they leave.
        let marks = shorten(&marks, small, false, right * 0.7);
        let room = right - width(&marks, small, false) - 4.0;
        let mut title = Text::new(
            At::new(0.0, rule + down),
            size,
            shorten(words.trim(), size, bold, room),
        );
        title.bold = bold;
        let marks = Text::new(At::new(right, rule + down), small, marks);
        shapes.push(Shape::Text(title));
        shapes.push(Shape::Text(marks.anchored(Anchor::End)));
    }
    (Mark::new(Layer::Note, shapes), GAP + LINES[1] + 1.0)
}

#[cfg(test)]
mod tests {
    use super::{LEAST, caption};
    use crate::output::DrawingHead;
    use bom::drawing::{Sheet, collisions};
    use jiff::civil::date;

    #[test]
    fn a_caption_has_room_for_everything() {
        let long = "and so on along the wall ".repeat(9);
        for (job, revision, width) in [("Millrace Joinery", "B", 172.0), (&*long, &*long, 20.0)] {
            let mut sheet = Sheet {
                id: "plan".to_owned(),
                title: job.to_owned(),
                about: String::new(),
                width,
                height: 40.0,
                marks: Vec::new(),
            };
            let head = DrawingHead {
                job,
                revision,
                fingerprint: "4F2A-91C0",
                date: date(2026, 11, 2),
            };
            let (strip, down) = caption(&sheet, &head, (2, 7));
            let words: Vec<&str> = strip.read().iter().map(|text| &*text.words).collect();
            assert_eq!((words.len(), words[1]), (4, "sheet 2 of 7"));
            sheet.marks.push(strip);
            sheet.width = width.max(LEAST);
            sheet.height += down;
            assert_eq!(collisions(&sheet), []);
        }
    }
}
