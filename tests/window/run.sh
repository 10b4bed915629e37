#!/usr/bin/env bash
# The real window, driven by WebDriver on a screen of its own: builds the shell
# with the screens inside (ui/dist must be there: `make ui`), and the driver.
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(cd "$here/../.." && pwd)
tools=$root/target/tools
driver=2.1.0

[ -f "$root/ui/dist/index.html" ] || { echo "ui/dist is not built: make ui" >&2; exit 1; }
for tool in WebKitWebDriver xvfb-run; do
  command -v "$tool" >/dev/null || { echo "$tool is missing: .ci/packages test" >&2; exit 1; }
done

if ! grep -qs "\"tauri-driver $driver " "$tools/.crates.toml"; then
  cargo install tauri-driver --version "$driver" --locked --quiet --root "$tools"
fi

# npm's own stamp tells whether the packages are those of the lock file.
stamp=$here/node_modules/.package-lock.json
if [ ! -f "$stamp" ] || [ "$here/package-lock.json" -nt "$stamp" ]; then
  npm --prefix "$here" ci --ignore-scripts --no-audit --no-fund --silent
  touch "$stamp"
fi

# The call of `make programs`, so that nothing is built twice with other features.
cargo test --workspace --all-features --locked --no-run --quiet --manifest-path "$root/Cargo.toml"

export SWARFBOOK_SHELL=${CARGO_TARGET_DIR:-$root/target}/debug/swarfbook-shell
export TAURI_DRIVER=$tools/bin/tauri-driver

# A process group of its own, so that whatever happens no window and no driver is left.
set -m
xvfb-run -a -s '-screen 0 500x1000x24 -nolisten tcp' \
  node --test --test-concurrency=1 --test-reporter=spec "$here"/*.test.mjs &
group=$!
# At an end in good order the group is gone already.
trap 'kill -TERM -- -$group 2>/dev/null || true' EXIT
wait "$group"
