//! Names the shell's own commands, so that each needs a permission to be called, and lays the
//! phone's library out for its memory.

fn main() {
    let commands = tauri_build::AppManifest::new().commands(&[
        "call",
        "put_photo",
        "hand_over",
        "hand_over_everything",
        "handed_in",
        "take_in",
        "strays",
        "drop_stray",
        "keep_awake",
    ]);
    // Phones with memory pages of 16 KB (Android 15 and later) load no library that is laid out for
    // smaller ones. The NDK of README.md does so by itself, an older one does not.
    if std::env::var("CARGO_CFG_TARGET_OS").as_deref() == Ok("android") {
        println!("cargo::rustc-link-arg-cdylib=-Wl,-z,max-page-size=16384");
    }
    let attributes = tauri_build::Attributes::new().app_manifest(commands);
    if let Err(error) = tauri_build::try_build(attributes) {
        println!("cargo::error={error:#}");
    }
}
