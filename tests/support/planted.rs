//! Plans planted in large jobs.
