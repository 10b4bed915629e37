//! Names the shell's own commands, so that each needs a permission to be called.

fn main() {
    let commands = tauri_build::AppManifest::new().commands(&[
        "call",
        "put_photo",
        "hand_over",
        "hand_over_everything",
        "handed_in",
        "take_in",
        "keep_awake",
    ]);
    let attributes = tauri_build::Attributes::new().app_manifest(commands);
    if let Err(error) = tauri_build::try_build(attributes) {
        println!("cargo::error={error:#}");
    }
}
