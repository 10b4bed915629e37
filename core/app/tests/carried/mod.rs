//! The data that travel in a signed page.

#![allow(clippy::expect_used)] // in helpers of tests, too

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// What a signed page says, as its data.
pub fn content<T: DeserializeOwned>(html: &str) -> T {
    let [_, seal, _] = swarfbook_seal::page::open(html).expect("a seal");
    let seal = STANDARD.decode(seal.trim()).expect("base64");
    let seal: Value = serde_json::from_slice(&seal).expect("a seal");
    let carried = seal["content"].as_str().expect("carried");
    let carried = STANDARD.decode(carried).expect("base64");
    let text = miniz_oxide::inflate::decompress_to_vec_zlib(&carried).expect("deflated");
    serde_json::from_slice(&text).expect("content")
}
