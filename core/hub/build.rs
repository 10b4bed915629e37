//! The screens are embedded: a new build of them is a new build of this crate.

fn main() {
    println!("cargo:rerun-if-changed=../../ui/dist");
}
