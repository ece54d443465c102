use super::Inputs;
use super::list::Fact;
use crate::money::MoneyError;
use crate::{matching, stand_ins};
use bom::job::Threading;
use bom::takeoff::{Takeoff, takeoff};

impl Inputs<'_> {
    /// What ready-threaded lengths cost beside pipe cut and threaded to
    /// measure; none where pipe is cut, or a price is missing. This is the
    /// owner's own list: a customer's quote never says it.
    pub(super) fn against_threading(&self) -> Result<Option<Fact>, MoneyError> {
        if self.network.threading == Threading::Cut {
            return Ok(None);
        }
        let mut network = self.network.clone();
        network.threading = Threading::Cut;
        let Some(cut) = takeoff(&network, self.library).0 else {
            return Ok(None);
        };
        let (catalog, currency) = (self.catalog, self.currency);
        let cut = stand_ins::settle(&cut, &network, self.library, catalog, currency)?;
        let cost = |takeoff: &Takeoff| matching::whole(takeoff, network.units, catalog, currency);
        Ok(cost(self.takeoff)?.zip(cost(&cut)?).map(|(bought, cut)| Fact {
            label: "Ready lengths",
            text: format!(
                "without spares {code} {} as listed; {code} {} with pipe that is cut and threaded to measure.",
                bought.show(),
                cut.show(),
                code = currency.code()
            ),
        }))
    }
}
