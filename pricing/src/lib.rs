//! What the counted parts cost and what the job sells for.
//!
//! * [`money`]: exact sums, and the only rounding there is
//! * [`catalog`]: the user's prices, read and checked
//! * [`rates`]: the contractor's wage, hours, percentages and terms
//! * [`matching`]: which packs are bought for each counted part
//! * [`buying`]: the cheapest whole purchase, with suppliers' charges
//! * [`stand_ins`]: parts made of others, where no offer prices them
//! * [`labour`]: hours of work from the take-off
//! * [`estimate`]: costs, overhead and margin, for the contractor's eyes only
//! * [`quote`]: what the customer sees
//! * [`offer`]: from the estimate to the quote
//! * [`change`]: what two revisions of a job differ in
//! * [`compare`]: the same layout in several pipe systems
//! * [`cut_sheet`]: which piece is cut from which stick
//! * [`drawing`]: the cut sheet and the comparison as drawings
//! * [`size_costs`]: what a size costs, for choosing sizes
//! * [`request`]: the request for prices that goes to suppliers
//! * [`shop`]: what to buy, for the owner who stands in the store

pub mod buying;
pub mod catalog;
pub mod change;
pub mod compare;
pub mod cut_sheet;
pub mod drawing;
pub mod estimate;
mod exact;
#[cfg(test)]
mod fixture;
pub mod labour;
pub mod matching;
pub mod money;
pub mod offer;
pub mod quote;
pub mod rates;
pub mod request;
pub mod shop;
pub mod size_costs;
pub mod stand_ins;
