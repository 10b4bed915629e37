#!/usr/bin/env bash
# Type-checks all Rust code, core and shell, for aarch64-linux-android: Debian's
# own compiler with the standard library built from Debian's source. No Android
# toolchain is needed, and none is fetched.
#
# It checks types, borrows and conditional code. It does NOT compile C (SQLite),
# does not link and makes no APK.
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(cd "$here/../.." && pwd)

for package in rustc-web cargo-web rust-web-src; do
  dpkg-query -W -f '${Status}' "$package" 2>/dev/null | grep -q 'install ok installed' || {
    echo "$package is missing: .ci/packages check-android" >&2
    exit 1
  }
done

stand_ins=$root/target/android-check/stand-ins
mkdir -p "$stand_ins"
cat >"$stand_ins/cc-checks-nothing" <<'EOF'
#!/bin/sh
# Stands in for the NDK's C compiler: writes an empty object and checks nothing.
out=
while [ $# -gt 0 ]; do [ "$1" = -o ] && out=$2; shift; done
[ -z "$out" ] || : >"$out"
EOF
cat >"$stand_ins/ar-checks-nothing" <<'EOF'
#!/bin/sh
# Stands in for the NDK's archiver: writes an empty archive and checks nothing.
for word in "$@"; do case $word in *.a) printf '!<arch>\n' >"$word" ;; esac; done
EOF
chmod +x "$stand_ins"/*

cd "$root"
# The path of Debian's programs comes first, so that rustup's do not answer.
PATH=/usr/bin:$PATH RUSTC_BOOTSTRAP=1 CARGO_TARGET_DIR=target/android-check \
  CC_aarch64_linux_android=$stand_ins/cc-checks-nothing \
  AR_aarch64_linux_android=$stand_ins/ar-checks-nothing \
  nice cargo check -Zbuild-std=std,panic_abort --target aarch64-linux-android \
  --locked --lib -p swarfbook-shell "$@"
echo "The shell and all of core that it stands on type-check for aarch64-linux-android (no C, no link, no APK)."
