#!/usr/bin/env bash
# Builds what runs inside pages as WebAssembly into ui/public: the camera's guidance
# (core/guide), the reading of a meter (core/meter), and the page that checks a report
# offline (core/verifier). All in one go, so that the standard library is built once.
# With the toolchain's own target when it is there, else with Debian's compiler and the
# standard library built from Debian's source. Nothing is fetched but crates.
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(cd "$here/../.." && pwd)
target=wasm32-unknown-unknown
dir=${GUIDE_TARGET_DIR:-$root/target/guide}
cd "$root"

build=(build --locked --lib --profile guide --target "$target" -p swarfbook-guide -p swarfbook-meter -p swarfbook-verifier
  --target-dir "$dir")
export CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS="-C target-feature=+simd128"
if [ -d "$(rustc --print target-libdir --target "$target" 2>/dev/null)" ]; then
  cargo "${build[@]}"
else
  for package in rustc-web cargo-web rust-web-src lld; do
    dpkg-query -W -f '${Status}' "$package" 2>/dev/null | grep -q 'install ok installed' || {
      echo "$package is missing: .ci/packages wasm" >&2
      exit 1
    }
  done
  PATH=/usr/bin:$PATH RUSTC_BOOTSTRAP=1 CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_LINKER=/usr/bin/wasm-ld \
    cargo "${build[@]}" -Zbuild-std=std,panic_abort
fi
mkdir -p "$root/ui/public"
cp "$dir/$target/guide/swarfbook_guide.wasm" "$root/ui/public/guide.wasm"
cp "$dir/$target/guide/swarfbook_meter.wasm" "$root/ui/public/meter.wasm"
node "$here/verify-page.mjs" "$dir/$target/guide/swarfbook_verifier.wasm" "$root/ui/public/verify.html"

# usage: at_most FILE KB; how much a phone fetches of it.
at_most() {
  local size
  size=$(gzip -9c "$root/ui/public/$1" | wc -c)
  echo "$1: $size bytes gz"
  ((size <= $2 * 1024)) || { echo "$1 is larger than $2 KiB gz" >&2; exit 1; }
}
at_most guide.wasm 600
at_most meter.wasm 600
at_most verify.html 600
