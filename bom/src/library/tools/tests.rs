use crate::library::Library;
use crate::source::Source;

const HEAD: &str = "tool,air,share,least,best,source";

fn with(lists: &[&str]) -> Result<Library, Vec<(usize, usize, String)>> {
    let sources: Vec<Source> = lists
        .iter()
        .map(|text| Source::new("own.csv", *text))
        .collect();
    let library = Library::shipped().unwrap().with_tools(&sources);
    library.map_err(|found| {
        let found = found.into_iter();
        found
            .map(|(at, finding)| {
                let line = sources[at].line(finding.place().start);
                (at, line, finding.message)
            })
            .collect()
    })
}

#[test]
fn the_shipped_tools_are_many_and_plain() {
    let library = Library::shipped().unwrap();
    assert!(library.tools().len() >= 35, "{}", library.tools().len());
    for kind in library.tools() {
        assert_eq!(kind.name, kind.name.to_lowercase());
        assert!(
            !kind.classes.is_empty() && kind.average.is_some(),
            "{kind:?}"
        );
        assert!(kind.share > 0.0, "{kind:?}");
    }
}

#[test]
fn a_tool_goes_by_several_names() {
    let library = Library::shipped().unwrap();
    let called = |name: &str| Some(library.tools()[library.tool_called(name)?].name.as_str());
    assert_eq!(called("Orbital  Sander"), Some("orbital sander"));
    assert_eq!(called("dual action sander"), Some("orbital sander"));
    assert_eq!(called("Blow-gun"), Some("blow gun"));
    assert_eq!(called("tire inflator"), Some("tyre inflator"));
    assert_eq!(called("sand"), None);
}

/// A line of 150 psi or less is usual; only a stubborn bead wants the full 175.
#[test]
fn an_inflator_does_with_less_than_seating_a_bead_takes() {
    let library = Library::shipped().unwrap();
    let best = |name: &str| {
        let kind = &library.tools()[library.tool_called(name).unwrap()];
        kind.best.show(crate::quantity::Units::Feet)
    };
    assert_eq!(best("tyre inflator"), "150 psi");
    assert_eq!(best("bead seater"), "175 psi");
}

#[test]
fn an_own_tool_takes_the_place_of_a_shipped_one() {
    let own = format!("{HEAD}\nOrbital-Sander,6 l/s,40 %,5 bar,6 bar,its plate\n");
    let library = with(&[&own]).unwrap();
    let kind = &library.tools()[library.tool_called("orbital sander").unwrap()];
    assert!((kind.air.litres_per_second() - 6.0).abs() < 1e-12);
    assert_eq!(
        library.tools().len(),
        Library::shipped().unwrap().tools().len()
    );
    // A short name that only the shipped one had is gone with it.
    assert_eq!(library.tool_called("sander"), None);
}

#[test]
fn everything_that_is_wrong_with_a_list_is_said_at_its_line() {
    let wrong = with(&["tool,air,shair,least,best,source\n"]).unwrap_err();
    assert_eq!(
        wrong,
        [
            (
                0,
                1,
                "`shair` is not a column of a list of tools".to_owned()
            ),
            (0, 1, "the column `share` is missing".to_owned()),
        ]
    );
    let wrong = with(&[
        &format!("{HEAD}\nmill,9 cfm,50 %,70 psi,90 psi,plate\n"),
        &format!("{HEAD},class,average\n\nsaw,9,150 %,95 psi,90 psi,plate,hall,\nsaw,9 cfm,0.5,70 psi,90 psi,,,\nmill,9 cfm,0.5,70 psi,90 psi,plate,wood,10 cfm\nmill,9 cfm,0.5,70 psi,90 psi,plate,,\n"),
    ])
    .unwrap_err();
    let line = |line, message: &str| (1, line, message.to_owned());
    assert_eq!(
        wrong,
        [
            line(3, "air: the air flow `9` has no unit"),
            line(3, "share: `150 %` is no share of the time"),
            line(3, "there is no class `hall`"),
            line(3, "the least pressure is above the best"),
            line(4, "`source` is empty"),
            line(5, "the average is above what it takes while it runs"),
            line(6, "`mill` stands in a row above already"),
        ]
    );
    assert!(with(&[""]).is_err());
}
