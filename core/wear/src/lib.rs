//! Census and history to wear score, band and advice, each with reasons. Pure.
