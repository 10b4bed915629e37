#!/usr/bin/env bash
# Builds the camera's guidance (core/guide) as WebAssembly into ui/public. With the
# toolchain's own target when it is there, else with Debian's compiler and the
# standard library built from Debian's source. Nothing is fetched but crates.
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(cd "$here/../.." && pwd)
target=wasm32-unknown-unknown
out=$root/ui/public/guide.wasm
dir=${GUIDE_TARGET_DIR:-$root/target/guide}
cd "$root"

build=(build --locked --lib --profile guide --target "$target" -p swarfbook-guide --target-dir "$dir")
export CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS="-C target-feature=+simd128"
if [ -d "$(rustc --print target-libdir --target "$target" 2>/dev/null)" ]; then
  cargo "${build[@]}"
else
  for package in rustc-web cargo-web rust-web-src lld; do
    dpkg-query -W -f '${Status}' "$package" 2>/dev/null | grep -q 'install ok installed' || {
      echo "$package is missing: .ci/packages guide" >&2
      exit 1
    }
  done
  PATH=/usr/bin:$PATH RUSTC_BOOTSTRAP=1 CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER=/usr/bin/wasm-ld \
    cargo "${build[@]}" -Zbuild-std=std,panic_abort
fi
mkdir -p "$root/ui/public"
cp "$dir/$target/guide/swarfbook_guide.wasm" "$out"

most=$((600 * 1024))
size=$(gzip -9c "$out" | wc -c)
echo "guide.wasm: $size bytes gz"
[ "$size" -le "$most" ] || { echo "guide.wasm is larger than $most bytes gz" >&2; exit 1; }
