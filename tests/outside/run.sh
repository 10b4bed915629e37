#!/usr/bin/env bash
# The core beside reference libraries from the registries, in a Python environment
# of its own (`.venv` at the root, made once for each set of pinned versions).
# Expects the examples built (`make outside` builds them first).
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(cd "$here/../.." && pwd)

export EXAMPLES=${EXAMPLES:-${CARGO_TARGET_DIR:-$root/target}/debug/examples}
for example in ask ask_debris; do
  [ -x "$EXAMPLES/$example" ] || { echo "$EXAMPLES/$example is not built: make outside" >&2; exit 1; }
done

export SWARFBOOK_BIN=${SWARFBOOK_BIN:-${CARGO_TARGET_DIR:-$root/target}/debug/swarfbook}
[ -x "$SWARFBOOK_BIN" ] || { echo "$SWARFBOOK_BIN is not built: make outside" >&2; exit 1; }

stamp=$root/.venv/made
if ! cmp -s "$here/requirements.txt" "$stamp"; then
  rm -rf "$root/.venv"
  python3 -m venv "$root/.venv"
  "$root/.venv/bin/pip" install --quiet --disable-pip-version-check -r "$here/requirements.txt"
  cp "$here/requirements.txt" "$stamp"
fi

cd "$here"
[ $# -gt 0 ] || set -- measure debris painting no_debris attachment
"$root/.venv/bin/python" -B -m unittest --verbose "$@"
