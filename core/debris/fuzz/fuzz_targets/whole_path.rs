//! `cargo +nightly fuzz run --features libfuzzer whole_path core/debris/tests/bad`
#![no_main]

libfuzzer_sys::fuzz_target!(|data: &[u8]| {
    let _ = swarfbook_debris_fuzz::whole_path(data, None);
});
