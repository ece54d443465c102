//! What hangs where, and at which pressure.

use super::Context;
use crate::job::{DeviceUse, DropKind, Outlet, Quality, Supply, Tool};
use crate::library::{Library, ToolKind};
use crate::quantity::Pressure;
use crate::source::{Span, Spanned};

/// A tool with the side that it hangs on.
#[derive(Clone, Copy)]
pub(super) struct Hung<'a> {
    pub(super) outlet: &'a Outlet,
    pub(super) tool: &'a Tool,
    pub(super) side: &'a [Spanned<DeviceUse>],
    regulated: bool,
}

impl<'a> Context<'a> {
    pub(super) fn name_of(self, used: &Spanned<DeviceUse>) -> &'a str {
        &self.library.devices()[used.value.device].name
    }

    /// Whether a device of this name is among these.
    pub(super) fn has(self, side: &[Spanned<DeviceUse>], name: &str) -> bool {
        side.iter().any(|used| self.name_of(used) == name)
    }

    /// Every outlet with its kind of drop.
    pub(super) fn outlets(self) -> impl Iterator<Item = (&'a Outlet, &'a DropKind)> {
        let outlets = self.job.outlets.iter();
        outlets.filter_map(move |outlet| Some((outlet, &self.job.drops[outlet.drop?])))
    }

    /// The tools of an outlet, each on its side.
    fn hung_on(self, outlet: &'a Outlet, kind: &'a DropKind) -> impl Iterator<Item = Hung<'a>> {
        outlet.tools.iter().filter_map(move |tool| {
            let side = kind.sides.get(kind.side_of(tool, self.library)?)?;
            Some(Hung {
                outlet,
                tool,
                side,
                regulated: self.has(side, "regulator"),
            })
        })
    }

    /// Every tool of the job.
    pub(super) fn tools(self) -> impl Iterator<Item = Hung<'a>> {
        self.outlets()
            .flat_map(move |(outlet, kind)| self.hung_on(outlet, kind))
    }

    /// The outlets for paint, each with the sides that paint is sprayed from:
    /// those of its tools, or all of them.
    pub(super) fn paint(self) -> impl Iterator<Item = (&'a Outlet, Vec<&'a [Spanned<DeviceUse>]>)> {
        self.outlets().filter_map(move |(outlet, kind)| {
            outlet
                .quality
                .filter(|quality| quality.value == Quality::Paint)?;
            let mut sides: Vec<_> = self.hung_on(outlet, kind).map(|hung| hung.side).collect();
            if sides.is_empty() {
                sides.extend(kind.sides.iter().map(Vec::as_slice));
            }
            Some((outlet, sides))
        })
    }

    /// The most that the main can carry: what a regulator at its head is set
    /// to, else the pressure at which the compressor stops; of several supplies the
    /// highest.
    fn line(self) -> Option<Pressure> {
        let of_supply = |supply: &Supply| {
            let mut connect = supply.connect.iter();
            let head = connect.find(|used| self.name_of(used) == "regulator");
            head.map_or(supply.cut_out, |head| head.value.set)
        };
        let highest = self.job.supplies.iter().filter_map(of_supply);
        highest.max_by(|a, b| a.kpa().total_cmp(&b.kpa()))
    }

    /// The most that a tool gets. A regulator that nobody says the setting of
    /// is set to what its tool works best at.
    pub(super) fn at_tool(self, hung: Hung<'_>) -> Option<Pressure> {
        if !hung.regulated {
            return self.line();
        }
        self.set_for(hung)
            .or(hung.tool.pressure.map(|pressure| pressure.value))
    }

    /// What the regulator of a tool's side is said to be set to.
    pub(super) fn set_for(self, hung: Hung<'_>) -> Option<Pressure> {
        let set = || hung.outlet.set_for(hung.side);
        hung.regulated.then(set).flatten()
    }
}

impl Hung<'_> {
    /// The pressure at which the tool works best.
    pub(super) fn best(&self, library: &Library) -> Option<Wanted> {
        self.wanted(library, |kind| kind.best)
    }

    /// The least pressure at which it works: what the job states is taken as
    /// that too.
    pub(super) fn least(&self, library: &Library) -> Option<Wanted> {
        self.wanted(library, |kind| kind.least)
    }

    /// What the job states, else what the list of tools has.
    fn wanted(&self, library: &Library, of: impl Fn(&ToolKind) -> Pressure) -> Option<Wanted> {
        match (self.tool.pressure, self.tool.listed(library)) {
            (Some(stated), _) => Some(Wanted {
                pressure: stated.value,
                span: stated.span,
                typical: "",
            }),
            (None, Some(kind)) => Some(Wanted {
                pressure: of(kind),
                span: self
                    .tool
                    .name
                    .as_ref()
                    .map_or(self.tool.span, |name| name.span),
                typical: " (a typical figure)",
            }),
            (None, None) => None,
        }
    }
}

/// A pressure that a tool wants.
pub(super) struct Wanted {
    pub(super) pressure: Pressure,
    /// Where the job says so, or names the tool.
    pub(super) span: Span,
    /// Words for what is out of the list of tools.
    pub(super) typical: &'static str,
}

/// Whether one pressure is above another by more than a gauge's reading, which
/// is 1 % (common practice, no source).
pub(super) fn above(one: Pressure, other: Pressure) -> bool {
    one.kpa() > other.kpa() * 1.01
}
