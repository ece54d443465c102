//! `[[tightness]]`: a shut-in part that was watched.

use super::{Reader, Value};
use crate::finding::Finding;
use crate::handover::record::ALL;
use crate::handover::record::moment::Moment;
use crate::handover::record::table::Table;
use crate::handover::record::{Shown, Tightness};
use crate::job::one_of;
use crate::quantity::{Pressure, QuantityError, Temperature, Time};
use crate::source::Spanned;

/// As cold and as hot as a pipe is while somebody reads it, C.
const PIPES: (i32, i32) = (-60, 150);
/// No gauge has coarser marks.
const COARSEST: f64 = 50.0;
/// Two noted times may differ by so much, s.
const NOTED: f64 = 60.0;

impl Reader<'_> {
    pub(super) fn tightness(&mut self, value: Value<'_>) -> Option<Tightness> {
        const KEYS: [&str; 10] = [
            "part",
            "begin_time",
            "begin_gauge",
            "begin_pipe",
            "end_time",
            "end_gauge",
            "end_pipe",
            "held",
            "mark",
            "remarks",
        ];
        let name = "[[tightness]]".to_owned();
        let table = Table::of(name, value, &KEYS, &mut self.findings)?;
        if !table.is_any_filled(&KEYS[1..]) {
            self.part(&table);
            return None;
        }
        table.needs(
            &[
                ("part", "\"all\""),
                ("begin_gauge", "\"175 psi\""),
                ("end_gauge", "\"174 psi\""),
            ],
            &mut self.findings,
        );
        for (one, other) in [("begin_pipe", "end_pipe"), ("end_pipe", "begin_pipe")] {
            if table.is_filled(one) {
                table.needs(&[(other, "\"68 F\"")], &mut self.findings);
            }
        }
        let part = self.part(&table);
        let findings = &mut self.findings;
        let mut shown = |gauge, pipe| {
            let gauge = table.quantity(gauge, Pressure::parse_reading, findings);
            let pipe = table.quantity(pipe, pipes, findings);
            Some(Shown {
                gauge: gauge?.value,
                pipe: pipe.map(|pipe| pipe.value),
            })
        };
        let (first, last) = (
            shown("begin_gauge", "begin_pipe"),
            shown("end_gauge", "end_pipe"),
        );
        let mark = table.quantity("mark", marks, findings);
        let times = (
            table.words("begin_time", findings),
            table.words("end_time", findings),
        );
        let remarks = table.words("remarks", findings);
        let seconds = watched(&table, findings);
        Some(Tightness {
            part: part?,
            times,
            first: first?,
            last: last?,
            seconds: seconds?,
            mark: mark.map(|mark| mark.value),
            remarks,
        })
    }

    /// The part that a reading is of; none in it is all of them.
    fn part(&mut self, table: &Table<'_>) -> Option<Option<usize>> {
        let written = table.given("part", &mut self.findings)?;
        let letters = self.sections.iter().enumerate();
        let letters = letters.map(|(at, part)| (part.letter.as_str(), Some(at)));
        let known: Vec<(&str, Option<usize>)> = letters.chain([(ALL, None)]).collect();
        let part = one_of("part", written, &known, &mut self.findings);
        part.map(|part| part.value)
    }
}

/// The time between two readings, by the clock or as it was noted.
fn watched(table: &Table<'_>, findings: &mut Vec<Finding>) -> Option<f64> {
    let [begin, end] = ["begin_time", "end_time"];
    if !table.is_filled("held") && !table.is_any_filled(&[begin, end]) {
        table.needs(&[("held", "\"4 h\"")], findings);
        return None;
    }
    let held = table.quantity("held", Time::parse, findings);
    if !table.is_filled("held") {
        let example = "\"2026-11-02 17:05\"";
        table.needs(&[(begin, example), (end, example)], findings);
    }
    let begun = table.quantity(begin, Moment::parse, findings);
    let ended = table.quantity(end, Moment::parse, findings);
    let (Some(begun), Some(ended)) = (begun, ended) else {
        return held.map(|held| held.value.seconds());
    };
    let Some(seconds) = i32::try_from(begun.value.until(ended.value))
        .ok()
        .filter(|seconds| *seconds > 0)
        .map(f64::from)
    else {
        let finding = Finding::unreadable(
            "impossible-reading",
            ended.span,
            "the reading ends before it begins, or takes years",
            "over midnight write both with their days, like \"2026-11-02 17:05\"; else the two are swapped",
        );
        findings.push(finding.related(begun.span, "begins here"));
        return None;
    };
    let differs = |held: &Spanned<Time>| (held.value.seconds() - seconds).abs() > NOTED;
    if let Some(held) = held.filter(differs) {
        findings.push(Finding::unreadable(
            "impossible-reading",
            held.span,
            format!(
                "between the two times lie {}, not {}",
                Time::from_seconds(seconds).show(),
                held.value.show()
            ),
            "keep the times or `held`, whichever was noted",
        ));
    }
    Some(seconds)
}

pub(super) fn marks(text: &str) -> Result<Pressure, QuantityError> {
    let mark = Pressure::parse_reading(text)?;
    if mark.kpa() > 0.0 && mark.psi() <= COARSEST {
        return Ok(mark);
    }
    Err(QuantityError::new(
        format!("no gauge has a mark every `{}`", text.trim()),
        "give what lies between two of its marks, like \"1 psi\" or \"0.1 bar\"",
    ))
}

fn pipes(text: &str) -> Result<Temperature, QuantityError> {
    let pipe = Temperature::parse(text)?;
    let (coldest, hottest) = PIPES;
    if (Temperature::from_celsius(coldest)..=Temperature::from_celsius(hottest)).contains(&pipe) {
        return Ok(pipe);
    }
    Err(QuantityError::new(
        format!("no pipe is read at `{}`", text.trim()),
        "check the figure and its unit: from -60 C to 150 C, or -76 F to 302 F",
    ))
}
