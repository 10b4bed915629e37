#!/usr/bin/env bash
# What can be known of the Android project without its toolchain: every XML is
# well formed, every resource compiles (aapt2), references resolve, permissions
# are those that src-tauri/README.md gives reasons for, versions and names are in
# step. It builds nothing: no APK comes of it.
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(cd "$here/../.." && pwd)
main=$root/src-tauri/gen/android/app/src/main

for tool in xmllint aapt2 python3; do
  command -v "$tool" >/dev/null || { echo "$tool is missing: .ci/packages test" >&2; exit 1; }
done

mapfile -t files < <(git -C "$root" ls-files --cached --others --exclude-standard -- 'src-tauri/gen/android/*.xml')
[ "${#files[@]}" -ge 8 ] || { echo "Only ${#files[@]} XML files found in the Android project." >&2; exit 1; }
for file in "${files[@]}"; do xmllint --noout "$root/$file"; done

compiled=$(mktemp -d)
trap 'rm -rf "$compiled"' EXIT
aapt2 compile --dir "$main/res" -o "$compiled/resources.zip"

python3 "$here/check.py" "$root"
echo "Android project: ${#files[@]} XML files well formed, resources compile, permissions and versions in step."
