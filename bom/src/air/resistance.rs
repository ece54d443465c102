//! What fittings and devices resist.
