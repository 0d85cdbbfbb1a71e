//! Exit status.
