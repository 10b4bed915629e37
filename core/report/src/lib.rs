//! State to condition report.
