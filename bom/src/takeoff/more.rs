//! What is ordered beyond the count because nobody has measured it.

use super::Takeoff;
use crate::job::{Guess, Job, State};
use crate::library::Library;
use crate::network::Network;
use crate::quantity::Length;

/// So much more of a length that is paced, and of one that is not measured at all.
/// Common practice, no source.
const PACED: (i64, i64) = (1, 10);
const NOT_MEASURED: (i64, i64) = (1, 5);

impl Takeoff {
    /// Orders more of the pipe of each leg whose length is paced or not measured. Pipe that
    /// stands is not bought, and ready-threaded lengths are counted and not cut.
    pub(crate) fn order_more(&mut self, job: &Job, network: &Network, library: &Library) {
        for length in &job.unmeasured {
            let mut legs = job.legs.iter();
            let Some(leg) = legs.position(|leg| Some(leg.number) == length.leg) else {
                continue;
            };
            let of_leg = network.links().find(|(.., link)| link.leg == Some(leg));
            let Some((id, _, _, link)) = of_leg else {
                continue;
            };
            if network.link_state(id) != State::New {
                continue;
            }
            let system = &library.systems()[link.system].name;
            let (part, of) = match length.how {
                Guess::Paced => PACED,
                Guess::NotMeasured => NOT_MEASURED,
            };
            let line = self
                .pipe
                .iter_mut()
                .find(|line| line.size == link.size && line.key.system == *system);
            if let Some(line) = line.filter(|line| !line.ready) {
                line.more += length.taken.scaled(part, of);
            }
        }
        let ordered = self.pipe.iter().filter(|line| line.more > Length::ZERO);
        let ordered: Vec<String> = ordered
            .map(|line| {
                let more = line.more.show_total(network.units);
                format!("{more} of {} {}", line.words, line.size)
            })
            .collect();
        if !ordered.is_empty() {
            self.assumptions.push(format!(
                "More pipe is ordered than is counted, for what is paced ({} %) or not measured ({} %): {} (common practice, no source). It is spare until the lengths are measured.",
                PACED.0 * 100 / PACED.1,
                NOT_MEASURED.0 * 100 / NOT_MEASURED.1,
                ordered.join(", ")
            ));
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::library::Library;
    use crate::quantity::Length;
    use crate::source::Source;
    use crate::takeoff::Takeoff;

    const GARAGE: &str = include_str!("../../../catalogs-demo/garage.toml");

    fn counted(old: &str, new: &str) -> Takeoff {
        assert!(GARAGE.contains(old));
        let source = Source::new("job", GARAGE.replacen(old, new, 1));
        let (plan, findings) = crate::plan(&source, &Library::shipped().unwrap());
        plan.unwrap_or_else(|| panic!("{findings:?}")).takeoff
    }

    fn more(takeoff: &Takeoff) -> Vec<Length> {
        takeoff.pipe.iter().map(|line| line.more).collect()
    }

    // A tenth of the garage's leg of 21 ft 6 in: 655.32 mm.
    #[test]
    fn what_is_paced_or_not_measured_is_ordered_with_some_more() {
        let measured = counted("east 21-6", "east 21-6");
        assert_eq!(more(&measured), [Length::ZERO]);
        let paced = counted("east 21-6", "east ~21-6");
        assert_eq!(more(&paced), [Length::from_nm(655_320_000)]);
        assert_eq!(paced.pipe[0].pieces.len(), measured.pipe[0].pieces.len());
        let said = |takeoff: &Takeoff| {
            let mut said = takeoff.assumptions.iter();
            said.any(|said| said.starts_with("More pipe is ordered"))
        };
        assert!(said(&paced) && !said(&measured));
        // A height that nobody measured is made up for by the fall of no leg.
        assert_eq!(
            more(&counted("height = \"4-0\"", "height = \"?\"")),
            [Length::ZERO]
        );
    }

    #[test]
    fn what_is_ordered_more_is_told_in_pieces_that_any_stick_holds() {
        let mut line = counted("east 21-6", "east ?").pipe.remove(0);
        let pieces = line.more_pieces();
        assert_eq!(pieces.iter().copied().sum::<Length>(), line.more);
        assert!(pieces.iter().all(|piece| *piece <= Length::from_feet(5)));
        line.more = Length::ZERO;
        assert_eq!(line.more_pieces(), []);
    }
}
