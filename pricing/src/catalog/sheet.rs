use super::mapping::Mapping;
use bom::source::Source;

/// A price list with what says how to read it.
#[derive(Debug)]
pub struct Sheet {
    list: Source,
    mapping: Option<(Source, Mapping)>,
    workbook: bool,
}

impl From<Source> for Sheet {
    /// A list in our own form.
    fn from(list: Source) -> Self {
        Self {
            list,
            mapping: None,
            workbook: false,
        }
    }
}

impl Sheet {
    /// A supplier's sheet and the mapping that reads it.
    #[must_use]
    pub const fn mapped(list: Source, source: Source, mapping: Mapping) -> Self {
        Self {
            list,
            mapping: Some((source, mapping)),
            workbook: false,
        }
    }

    /// The same sheet, whose text was a workbook: its cells have names.
    #[must_use]
    pub fn of_workbook(mut self) -> Self {
        self.workbook = true;
        self
    }

    /// The list's text.
    #[must_use]
    pub const fn list(&self) -> &Source {
        &self.list
    }

    /// All texts that its prices come from: the list, and the mapping.
    pub fn sources(&self) -> impl Iterator<Item = &Source> {
        let mapping = self.mapping.iter().map(|(source, _)| source);
        std::iter::once(&self.list).chain(mapping)
    }

    /// What reads it, if it is not in our own form.
    #[must_use]
    pub fn mapping(&self) -> Option<&Mapping> {
        self.mapping.as_ref().map(|(_, mapping)| mapping)
    }

    pub(super) const fn is_workbook(&self) -> bool {
        self.workbook
    }
}
