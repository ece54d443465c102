//! What of a layout differs.

/// What kind of thing differs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ItemKind {
    /// The main as a whole.
    Main,
    /// A connection to a tank.
    Connection,
    /// An outlet.
    Outlet,
    /// A drain of the main.
    Drain,
    /// A line valve.
    Valve,
    /// A leg of the main.
    Leg,
}

impl ItemKind {
    /// The word for one of them.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Main => "main",
            Self::Connection => "connection",
            Self::Outlet => "outlet",
            Self::Drain => "drain",
            Self::Valve => "line valve",
            Self::Leg => "leg",
        }
    }
}

/// What became of a thing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fate {
    /// It is new.
    Added,
    /// It falls away.
    Removed,
    /// It stays and differs.
    Changed,
}

/// One thing of the layout that differs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Item {
    /// What it is.
    pub kind: ItemKind,
    /// Its name, the new one if it has two; empty for the main.
    pub name: String,
    /// What became of it.
    pub fate: Fate,
    /// Its old name, if it has another one now.
    pub was: Option<String>,
    /// How far it moved over the floor: `2'-0" east`.
    pub moved: Option<String>,
    /// What of it differs; all of it where it is new or falls away.
    pub facts: Vec<Fact>,
}

impl Item {
    /// `added`, `removed`, `renamed`, `moved 2'-0" east` or `changed`, or several.
    #[must_use]
    pub fn fate_words(&self) -> String {
        match self.fate {
            Fate::Added => return "added".to_owned(),
            Fate::Removed => return "removed".to_owned(),
            Fate::Changed => {}
        }
        let renamed = self.was.as_ref().map(|_| "renamed".to_owned());
        let moved = self.moved.as_ref().map(|by| format!("moved {by}"));
        let mut others = self.facts.iter().filter(|fact| fact.label != PLACE);
        let changed = others.next().map(|_| "changed".to_owned());
        let words: Vec<String> = [renamed, moved, changed].into_iter().flatten().collect();
        words.join(", ")
    }
}

/// One thing that is said of an item.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fact {
    /// What is said: `height`, `size`.
    pub label: &'static str,
    /// As it was; none where the item is new.
    pub old: Option<String>,
    /// As it is; none where the item falls away.
    pub new: Option<String>,
}

/// Where a thing is, over the floor.
pub(super) const PLACE: &str = "place";
