//! What was measured, how sure it is, and what it says against the spec.
//!
//! Pure: no files, no clock, no randomness; the same input gives the same
//! answer on every machine. Facts come in as plain structs, answers go out as
//! plain structs with their reasons in words, so that a report can show how
//! each number was made.
//!
//! | module | question |
//! | --- | --- |
//! | [`unit`] | what kind of number is it: the table of `swarfbook_job` |
//! | [`input`] | what did the technician type |
//! | [`uncertainty`] | how sure is a number |
//! | [`meter`] | how far off can the meter be |
//! | [`contact`] | did the probe sit |
//! | [`resistance`] | leads, copper and temperature, NTC sensors |
//! | [`conformity`] | how likely is it within limits |
//! | [`judge`] | a reading against its spec |
//! | [`siblings`] | does one part differ from its like |
//! | [`code`] | what a trouble code is made of, and whether a finding explains it |
//! | [`vin`] | the vehicle's number |
//! | [`torque`] | tightening |
//! | [`fluid`] | what came out, what went in, is the level right |
//!
//! Every formula names its source, and every test value says where it is from:
//! a standard, a published table, a reference library; `from memory` where the
//! source was not at hand, `common practice, no published source` where the
//! trade does it so.

pub mod code;
pub mod conformity;
pub mod contact;
pub mod fluid;
pub mod input;
pub mod judge;
pub mod meter;
pub mod resistance;
pub mod siblings;
pub mod torque;
pub mod uncertainty;
pub mod vin;

pub use swarfbook_job::unit;
