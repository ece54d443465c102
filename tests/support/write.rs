//! Writes a generated shop as a job file, in any form.

use super::generate::{Leg, MAIN_HEIGHT, Name, Outlet, PORT_HEIGHT, Shop, Way};
use super::luck::Luck;
use std::fmt::Write;

/// A way of writing the shop that changes none of its parts.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Form {
    /// Quarter turns against the clock.
    pub(crate) rotate: u8,
    /// East and west exchanged, before the turn.
    pub(crate) mirror: bool,
    /// Lengths in millimetres.
    pub(crate) metric: bool,
    /// Tables and marks shuffled; every leg says where it starts.
    pub(crate) reorder: bool,
    /// Other names, which sort the other way round.
    pub(crate) rename: bool,
}

/// A kind of drop; only the kinds that a shop uses are written.
pub(super) struct Kind {
    take_off: &'static str,
    size: Option<&'static str>,
    lengths: &'static [(&'static str, u64)],
    foot: &'static str,
    sides: &'static str,
    drain: Option<&'static str>,
}

#[rustfmt::skip]
pub(super) const KINDS: [Kind; 8] = [
    Kind { take_off: "top", size: Some("3/4in"), lengths: &[("rise", 6), ("reach", 6), ("drip_leg", 8)], foot: "cross",
        sides: r#"[["valve", "coupler"], ["valve", "filter 1/2in", "regulator", "coupler"]]"#, drain: Some("valve") },
    Kind { take_off: "top", size: Some("auto"), lengths: &[("drip_leg", 8)], foot: "tee",
        sides: r#"[["valve", "coupler 3/8in"]]"#, drain: Some("valve") },
    Kind { take_off: "top", size: Some("1/2in"), lengths: &[("rise", 9), ("reach", 12)], foot: "elbow",
        sides: r#"[["valve", "union", "filter", "coupler"]]"#, drain: None },
    Kind { take_off: "side", size: Some("1/2in"), lengths: &[("drip_leg", 6)], foot: "tee",
        sides: r#"[["valve", "filter", "regulator", "lubricator", "coupler"]]"#, drain: Some("automatic") },
    Kind { take_off: "side", size: None, lengths: &[("reach", 10)], foot: "elbow",
        sides: r#"[["valve", "coupler"]]"#, drain: None },
    Kind { take_off: "side", size: Some("3/4in"), lengths: &[("drip_leg", 8)], foot: "tee",
        sides: r#"[["coupler"]]"#, drain: Some("none") },
    Kind { take_off: "bottom", size: Some("1/2in"), lengths: &[], foot: "elbow",
        sides: r#"[["valve", "regulator", "coupler"]]"#, drain: None },
    Kind { take_off: "bottom", size: Some("auto"), lengths: &[("drip_leg", 10)], foot: "cross",
        sides: r#"[["valve", "coupler"], ["valve", "coupler 3/8in"]]"#, drain: Some("valve 1/4in") },
];

impl Shop {
    /// The job file in one of its forms.
    pub(crate) fn job(&self, form: Form) -> String {
        let mut luck = Luck(self.seed ^ 0x5eed);
        let pen = Pen { form };
        let mut tables = vec![
            pen.job(),
            pen.supply(),
            pen.main(self.size, self.fall, self.unions),
        ];
        if let Some((wide, deep)) = self.room {
            tables.push(pen.room(wide, deep));
        }
        for low in &self.lows {
            tables.push(format!(
                "[drain.{}]\nvalve = \"1/2in\"\n",
                pen.name(Name::Low(*low))
            ));
        }
        for valve in 0..self.valves {
            tables.push(format!("[valve.{}]\n", pen.name(Name::Valve(valve))));
        }
        for (index, leg) in self.legs.iter().enumerate() {
            let goes_on = index > 0 && self.legs[index - 1].to == Some(leg.from);
            tables.push(pen.leg(leg, self.fall, goes_on, &mut luck));
        }
        for (index, kind) in KINDS.iter().enumerate() {
            if self.outlets.iter().any(|outlet| outlet.kind == index) {
                tables.push(pen.kind(index, kind));
            }
        }
        for (index, outlet) in self.outlets.iter().enumerate() {
            tables.push(pen.outlet(index, outlet));
        }
        if form.reorder {
            luck.shuffle(&mut tables);
        }
        tables.join("\n")
    }
}

/// Writes tables in one form.
struct Pen {
    form: Form,
}

impl Pen {
    fn job(&self) -> String {
        let units = if self.form.metric { "metric" } else { "feet" };
        format!("[job]\ntitle = \"Generated shop\"\nunits = \"{units}\"\n")
    }

    fn room(&self, wide: u64, deep: u64) -> String {
        let (wide, deep) = match self.form.rotate % 2 {
            0 => (wide, deep),
            _ => (deep, wide),
        };
        format!(
            "[room.hall]\nsize = \"{} x {}\"\neave = \"{}\"\n",
            self.length(wide),
            self.length(deep),
            self.length(MAIN_HEIGHT + 24)
        )
    }

    fn supply(&self) -> String {
        format!(
            "[supply.{}]\nfree_air = \"24 cfm\"\ncut_in = \"125 psi\"\ncut_out = \"150 psi\"\n\
             relief = \"175 psi\"\ntank = \"80 gal\"\nport = \"1in female\"\nheight = \"{}\"\n\
             connect = [\"valve\", \"hose {}\"]\n",
            self.name(Name::Supply),
            self.length(PORT_HEIGHT),
            if self.form.metric { "609.6mm" } else { "24in" }
        )
    }

    fn main(&self, size: &str, fall: &str, unions: &str) -> String {
        format!(
            "[main]\nsystem = \"black-iron\"\nsize = \"{size}\"\nheight = \"{}\"\nfall = \"{fall}\"\nunions = \"{unions}\"\n",
            self.length(MAIN_HEIGHT)
        )
    }

    fn leg(&self, leg: &Leg, fall: &str, goes_on: bool, luck: &mut Luck) -> String {
        let mut text = String::from("[[leg]]\n");
        if self.form.reorder || !goes_on {
            self.line(&mut text, "from", &self.name(leg.from));
        }
        if let Some(wall) = leg.along {
            self.line(&mut text, "along", &format!("{} wall", self.way(wall)));
        }
        if let Some(size) = leg.size {
            self.line(&mut text, "size", size);
        }
        if leg.back && fall != "level" {
            self.line(&mut text, "fall", &format!("{fall} back"));
        }
        if let Some(clear) = leg.clear {
            self.line(&mut text, "clear", &self.length(clear));
        }
        let walk: Vec<String> = leg
            .go
            .iter()
            .map(|(way, length)| format!("\"{} {}\"", self.way(*way), self.length(*length)))
            .collect();
        match walk.as_slice() {
            [one] => push(&mut text, format_args!("go = {one}\n")),
            several => push(&mut text, format_args!("go = [{}]\n", several.join(", "))),
        }
        let mut marks: Vec<String> = leg
            .marks
            .iter()
            .map(|(name, at)| format!("{} = \"{}\"", self.name(*name), self.length(*at)))
            .collect();
        if self.form.reorder {
            luck.shuffle(&mut marks);
        }
        if !marks.is_empty() {
            push(
                &mut text,
                format_args!("marks = {{ {} }}\n", marks.join(", ")),
            );
        }
        if let Some(to) = leg.to.filter(|_| self.form.reorder || leg.named_end) {
            self.line(&mut text, "to", &self.name(to));
        }
        text
    }

    fn kind(&self, index: usize, kind: &Kind) -> String {
        let mut text = format!("[drop.{}]\n", self.name(Name::Kind(index)));
        self.line(&mut text, "take_off", kind.take_off);
        if let Some(size) = kind.size {
            self.line(&mut text, "size", size);
        }
        for (key, length) in kind.lengths {
            self.line(&mut text, key, &self.length(*length));
        }
        self.line(&mut text, "foot", kind.foot);
        push(&mut text, format_args!("sides = {}\n", kind.sides));
        if let Some(drain) = kind.drain {
            self.line(&mut text, "drain", drain);
        }
        text
    }

    fn outlet(&self, index: usize, outlet: &Outlet) -> String {
        format!(
            "[outlet.{}]\ndrop = \"{}\"\nheight = \"{}\"\n",
            self.name(Name::Outlet(index)),
            self.name(Name::Kind(outlet.kind)),
            self.length(outlet.height)
        )
    }

    fn line(&self, text: &mut String, key: &str, value: &str) {
        push(text, format_args!("{key} = \"{value}\"\n"));
    }

    fn length(&self, inches: u64) -> String {
        if self.form.metric {
            let tenths = inches * 254;
            format!("{}.{}mm", tenths / 10, tenths % 10)
        } else {
            format!("{}-{}", inches / 12, inches % 12)
        }
    }

    fn way(&self, way: Way) -> &'static str {
        const ROUND: [&str; 4] = ["east", "north", "west", "south"];
        let quarter = match (way, self.form.mirror) {
            (Way::East, false) | (Way::West, true) => 0,
            (Way::North, _) => 1,
            (Way::West, false) | (Way::East, true) => 2,
            (Way::South, _) => 3,
            (Way::Up, _) => return "up",
        };
        ROUND[(quarter + usize::from(self.form.rotate)) % 4]
    }

    fn name(&self, name: Name) -> String {
        let (word, number) = match name {
            Name::Supply => {
                return if self.form.rename {
                    "air"
                } else {
                    "compressor"
                }
                .to_owned();
            }
            Name::Low(number) => ("low", number),
            Name::Place(number) => ("place", number),
            Name::Outlet(number) => ("outlet", number),
            Name::Kind(number) => ("kind", number),
            Name::Valve(number) => ("valve", number),
        };
        if self.form.rename {
            format!("z-{word}-{}", 1_000_000 - number)
        } else {
            format!("{word}-{number}")
        }
    }
}

fn push(text: &mut String, arguments: std::fmt::Arguments<'_>) {
    // Writing to a string cannot fail.
    let _ = text.write_fmt(arguments);
}
