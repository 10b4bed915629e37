#!/usr/bin/env bash
# Whole jobs in a browser at phone size, against a real hub. Expects the program
# built (`make e2e` builds it first). Arguments choose files: `run.sh whole-job`.
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(cd "$here/../.." && pwd)

export SWARFBOOK_BIN=${SWARFBOOK_BIN:-${CARGO_TARGET_DIR:-$root/target}/debug/swarfbook}
export CHROMIUM=${CHROMIUM:-/usr/bin/chromium}
[ -x "$SWARFBOOK_BIN" ] || { echo "$SWARFBOOK_BIN is not built: cargo build -p swarfbook-hub" >&2; exit 1; }
[ -f "$root/ui/dist/index.html" ] || { echo "ui/dist is not built: make ui" >&2; exit 1; }
[ -x "$CHROMIUM" ] || { echo "No Chromium at $CHROMIUM: .ci/packages test" >&2; exit 1; }
command -v ffmpeg >/dev/null || { echo "ffmpeg makes the fake camera's picture: .ci/packages test" >&2; exit 1; }

# npm's own stamp tells whether the packages are those of the lock file.
stamp=$here/node_modules/.package-lock.json
if [ ! -f "$stamp" ] || [ "$here/package-lock.json" -nt "$stamp" ]; then
  npm --prefix "$here" ci --no-audit --no-fund --silent
  touch "$stamp"
fi

files=()
for name in "$@"; do files+=("$here/$name.test.mjs"); done
[ ${#files[@]} -gt 0 ] || files=("$here"/*.test.mjs)

# A process group of its own, so that whatever happens no hub and no browser is left.
set -m
node --test --test-concurrency=2 --test-reporter=spec "${files[@]}" &
group=$!
# At an end in good order the group is gone already.
trap 'kill -TERM -- -$group 2>/dev/null || true' EXIT
wait "$group"
