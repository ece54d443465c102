//! What a job offers besides, takes as it is, and was frozen from.

use crate::quantity::Size;
use crate::source::Spanned;

/// The job from which one was frozen when it was built.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AsBuilt {
    /// The mark of its papers.
    pub mark: String,
    /// The day, as it was written.
    pub date: String,
}

/// Outlets whose tools run at the same time.
#[derive(Debug, Clone)]
pub struct Together {
    /// What the job calls it.
    pub name: Spanned<String>,
    /// Indices of the outlets.
    pub outlets: Vec<usize>,
}

/// Outlets that are offered besides: they are no part of the job until they are taken.
#[derive(Debug, Clone)]
pub struct Alternate {
    /// What the job calls it.
    pub name: Spanned<String>,
    /// What the customer reads; empty if the job says nothing.
    pub text: String,
    /// The names of its outlets.
    pub outlets: Vec<String>,
}

/// The same work in another way.
#[derive(Debug, Clone)]
pub struct JobOption {
    /// What it is called: `A`.
    pub name: Spanned<String>,
    /// Index of its pipe system in the library; the job's own if none.
    pub system: Option<usize>,
    /// The size of its main, where legs do not state their own; the job's if none.
    pub size: Option<Spanned<Size>>,
    /// The names of the outlets that it leaves out.
    pub leave_out: Vec<String>,
}

impl JobOption {
    /// Whether it is the job as it stands, whose pipe system is this.
    #[must_use]
    pub fn is_as_described(&self, system: usize) -> bool {
        self.system.is_none_or(|own| own == system)
            && self.size.is_none()
            && self.leave_out.is_empty()
    }
}

/// A finding that the user has read and takes as it is.
#[derive(Debug, Clone)]
pub struct Accepted {
    /// The rule that finds it.
    pub rule: Spanned<String>,
    /// Why the user takes it.
    pub reason: String,
}
