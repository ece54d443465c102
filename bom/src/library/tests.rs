//! The shipped data is sound.

use super::Library;
use crate::quantity::{AirFlow, Length, PartSize, Size};
use crate::takeoff::{Group, PartKey};

#[test]
fn the_shipped_data_is_sound() {
    let library = Library::shipped().unwrap();
    assert_eq!(library.systems().len(), 10);
    for device in library.devices() {
        assert!(
            library.parts().iter().any(|part| part.name == device.part),
            "{} asks for an unknown part",
            device.name
        );
    }
}

// US Army TM 55-1930-209-14P-7, Table 1: 40 cfm over 100 ft is 1 in.
#[test]
fn the_chart_reads_the_next_row_and_column() {
    let library = Library::shipped().unwrap();
    let size = |flow: &str, feet| {
        library
            .chart_size(AirFlow::parse(flow).unwrap(), Length::from_feet(feet))
            .map(|size: Size| size.to_string())
    };
    assert_eq!(size("40 cfm", 100).as_deref(), Some("1in"));
    assert_eq!(size("36 cfm", 80).as_deref(), Some("1in"));
    assert_eq!(size("24 cfm", 81).as_deref(), Some("3/4in"));
    assert_eq!(size("100 cfm", 300).as_deref(), Some("1-1/2in"));
    assert_eq!(size("101 cfm", 25), None);
    assert_eq!(size("10 cfm", 301), None);
}

#[test]
fn parts_have_the_words_of_their_label() {
    let library = Library::shipped().unwrap();
    for (part, size, words) in [
        (
            "elbow-90",
            "3/4in",
            "3/4 in black 90 elbow, female both ends",
        ),
        (
            "elbow-90",
            "1in x 3/4in",
            "1 x 3/4 in black reducing 90 elbow, female both ends",
        ),
        (
            "tee",
            "1in x 1in x 3/4in",
            "1 x 1 x 3/4 in black reducing tee, female all ends",
        ),
        (
            "bushing",
            "1/2in x 1/4in",
            "1/2 x 1/4 in black hex bushing, male x female",
        ),
        (
            "connector-hose",
            "1in x 24in",
            "1 in x 24 in flexible hose, male both ends",
        ),
        ("hanger", "25mm", "25 mm pipe hanger"),
        ("thread-tape", "", "thread seal tape"),
    ] {
        let known = library.parts().iter().find(|known| known.name == part);
        let known = known.unwrap();
        let key = PartKey {
            part: part.to_owned(),
            system: if known.of_system { "black-iron" } else { "" }.to_owned(),
            size: PartSize::parse(size, known.has_length).unwrap(),
        };
        assert_eq!(library.shelf_words(&key), words);
    }
    for part in library.parts() {
        assert!(!part.shelf.threaded.is_empty(), "{}", part.name);
        assert_eq!(
            part.of_system && part.group != Group::Supports,
            part.shelf.threaded.contains("{material}"),
            "{}",
            part.name
        );
    }
}

#[test]
fn every_reminder_has_its_part() {
    let library = Library::shipped().unwrap();
    for row in library.reminders() {
        let mut parts = library.parts().iter();
        assert!(
            parts.any(|part| part.name == row.trigger),
            "{}",
            row.trigger
        );
    }
}
