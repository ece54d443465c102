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

/// The same cases each time, so that no run draws lots. `PROPTEST_RNG_SEED=7
/// PROPTEST_CASES=5000` looks at others, which whoever changes a walk should.
pub(crate) fn same_cases(cases: u32) -> ProptestConfig {
    let asked = ProptestConfig::default();
    ProptestConfig {
        cases: match std::env::var_os("PROPTEST_CASES") {
            Some(_) => asked.cases,
            None => cases,
        },
        rng_seed: match asked.rng_seed {
            RngSeed::Random => RngSeed::Fixed(8),
            RngSeed::Fixed(_) => asked.rng_seed,
        },
        failure_persistence: None,
        ..asked
    }
}
