//! What is written out. Every renderer reads a finished model and prints it;
//! none of them computes a sum.

pub mod csv;
pub mod json;
pub mod pdf;
pub mod terminal;
pub(crate) mod words;
pub mod xlsx;

use bom::Plan;
use bom::air::answer::Air;
use bom::air::answer::yearly::Yearly;
use bom::air::sizes::MainIn;
use pricing::money::Currency;

/// What the paper on air is made of.
#[derive(Debug)]
pub struct AirPaper<'a> {
    /// The job and its layout.
    pub plan: &'a Plan,
    /// The answer.
    pub air: &'a Air,
    /// The tool whose way is shown, by its number in the demand.
    pub shown: Option<usize>,
    /// What a year takes, if it was asked for.
    pub yearly: Option<&'a Yearly>,
    /// The main in several sizes, if it was asked for.
    pub mains: &'a [MainIn],
    /// The currency of what they cost.
    pub currency: Option<Currency>,
    /// Why something has its size, if it was asked for.
    pub why_size: Option<String>,
}

#[cfg(test)]
mod fixture;
