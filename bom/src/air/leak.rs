//! What a leak lets out.
