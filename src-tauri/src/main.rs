//! The window on a desk: the same app as on the phone, at phone size.
#![cfg_attr(not(debug_assertions), windows_subsystem = "windows")]

fn main() {
    swarfbook_shell::run();
}
