#!/usr/bin/env bash
# The systemd unit as systemd reads it, with the built program in place of the installed
# one; and how exposed systemd rates it. It starts nothing.
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(cd "$here/../.." && pwd)
program=${SWARFBOOK_BIN:-${CARGO_TARGET_DIR:-$root/target}/debug/swarfbook}
[ -x "$program" ] || { echo "$program is not built: cargo build -p swarfbook-hub" >&2; exit 1; }
command -v systemd-analyze >/dev/null || { echo "systemd-analyze is missing: .ci/packages test" >&2; exit 1; }

folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
unit=$folder/swarfbook.service

verify() {
  # What systemd has to say it says here; its exit status alone misses unknown names.
  local said
  said=$(systemd-analyze verify --man=no --recursive-errors=no "$unit" 2>&1) || return 1
  [ -z "$said" ] || { echo "$said" >&2; return 1; }
}

sed "s#/usr/local/bin/swarfbook#$program#" "$root/deploy/swarfbook.service" >"$unit"
verify || { echo "systemd does not take deploy/swarfbook.service." >&2; exit 1; }
# The options that the unit names are the program's.
options=$(sed -n 's/^ExecStart=[^ ]* //p' "$root/deploy/swarfbook.service" | grep -oE -- '--[a-z-]+')
for option in $options; do
  "$program" serve --help | grep -q -- "$option" ||
    { echo "The unit asks for $option, which \`serve\` does not have." >&2; exit 1; }
done
exposure=$(systemd-analyze security --offline=yes --threshold=20 "$unit" 2>&1 | tail -1) ||
  { echo "$exposure" >&2; exit 1; }

# A check that takes everything is none.
sed -i 's/^ProtectSystem=strict/ProtectSistem=strict/' "$unit"
if verify 2>/dev/null; then
  echo "systemd-analyze takes a unit with a name that does not exist." >&2
  exit 1
fi
echo "systemd takes the unit. ${exposure#→ }"
