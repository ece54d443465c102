//! Shops and the ways to write them, as properties draw them.

use super::{Form, Plan, Shop};
use proptest::prelude::{ProptestConfig, Strategy, any};
use proptest::sample::select;
use proptest::test_runner::RngSeed;
use std::ops::Range;

/// Shops of every plan with so many outlets.
pub(crate) fn shops(outlets: Range<usize>) -> impl Strategy<Value = Shop> {
    (select(&Plan::ALL[..]), outlets, any::<u64>())
        .prop_map(|(plan, outlets, seed)| Shop::new(plan, outlets, seed))
}

/// Every way to write the same shop.
pub(crate) fn forms() -> impl Strategy<Value = Form> {
    (0_u8..4, any::<[bool; 4]>()).prop_map(|(rotate, [mirror, metric, reorder, rename])| Form {
        rotate,
        mirror,
        metric,
        reorder,
        rename,
    })
}

/// For drawings: the same shops each time. A sheet is judged as a whole, and whoever
/// changes how one is laid out looks at these, and at others with another seed.
pub(crate) fn sheets_of(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(8),
        ..ProptestConfig::default()
    }
}
