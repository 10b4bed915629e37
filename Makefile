# One command for each thing that people do here; see DEVELOPERS.md.
.DEFAULT_GOAL := help
SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.ONESHELL:
.SILENT:

DEMO_DATA ?= target/demo
LISTEN ?= 127.0.0.1:8350
TOOLS := $(CURDIR)/target/tools
export PATH := $(TOOLS)/bin:$(PATH)

.PHONY: help run run-window ui program programs test fmt lint deny unit outside e2e window android service faults simulate fuzz bench types check-android

help:
	echo "make run         build, and open the app with a demo job"
	echo "make run-window  the same in its own window"
	echo "make test        everything a landing must pass"
	echo "make faults      the disk, the power and the network fail, programs are killed: hours (SEED=, KILLS=, SCHEDULES=)"
	echo "make fuzz        parsers under changed bytes, an hour each (FUZZ_SECONDS=)"
	echo "make bench       speed and memory"
	echo "make types       the TypeScript of the door, made anew"
	echo "make check-android  our Rust and Kotlin type-checked for the phone; ten minutes and more"

# ---------------------------------------------------------------- using it
# Screens and program are built side by side, the program as the tests have it: optimising
# all of it takes longer than who looks at a demo wants to wait.
run:
	.ci/packages run
	echo "1 of 2: building the screens and the program, some minutes at first."
	$(MAKE) --jobs 2 ui program
	echo "2 of 2: opening the demo."
	target/debug/swarfbook serve --demo --data $(DEMO_DATA) --listen $(LISTEN)

program:
	cargo build --locked -p swarfbook-hub

run-window: ui
	.ci/packages window
	cargo build --release -p swarfbook-shell --features custom-protocol,demo
	SWARFBOOK_DATA=$(DEMO_DATA)-window SWARFBOOK_DEMO=1 target/release/swarfbook-shell

# npm's own stamp tells whether the packages are those of the lock file.
ui: ui/node_modules/.package-lock.json ui/public/verify.html
	npm --prefix ui run --silent build

# The camera's guidance and the page that checks a report, in one build; Debian's
# compiler where the own one has no WebAssembly target.
WASM_FROM := $(shell find core/guide core/debris/src core/meter core/display/src core/frame core/verifier core/seal core/words core/job/src -type f) \
	ui/tools/wasm.sh ui/tools/verify-page.mjs Cargo.lock

ui/public/verify.html: $(WASM_FROM) ui/node_modules/.package-lock.json
	.ci/packages wasm
	ui/tools/wasm.sh
	touch $@

ui/node_modules/.package-lock.json: ui/package-lock.json
	npm --prefix ui ci --no-audit --no-fund --silent
	touch $@

# ---------------------------------------------------------------- proving it
test:
	.ci/packages test
	$(MAKE) fmt lint deny unit outside android service e2e window

fmt:
	cargo fmt --all --check

lint: ui
	npm --prefix ui run --silent check
	npm --prefix ui run --silent lint
	cargo clippy --workspace --all-targets --all-features --locked -- -D warnings

deny: $(TOOLS)/bin/cargo-deny
	cargo deny --locked check bans licenses sources

$(TOOLS)/bin/cargo-deny:
	cargo install cargo-deny --version 0.20.2 --locked --quiet --root $(TOOLS)

unit: ui
	npm --prefix ui test --silent
	cargo test --workspace --all-features --locked

# The same call as in `unit`, so that nothing is built twice with other features.
programs: ui
	cargo test --workspace --all-features --locked --no-run --quiet

# Beside reference libraries of Python, in an environment of its own.
outside: programs
	tests/outside/run.sh

e2e: programs
	tests/e2e/run.sh

window: programs
	tests/window/run.sh

android:
	tests/android/check.sh

# The hub's unit, as systemd reads it.
service: programs
	tests/deploy/check.sh

# ---------------------------------------------------------------- breaking it
# Each change of the disk fails, tears or is lost with the power; kills in jobs with photos;
# exchanges of phones and a hub under all kinds of trouble. `unit` has a part of each. The same
# seed gives the same faults, and the same work and waits before a kill.
SEED ?= $(shell date +%s)
faults:
	echo "seed $(SEED)"
	# To the simulator it would be the one schedule to run.
	unset SEED
	KILLS=$${KILLS:-10000} KILLS_SEED=$(SEED) FAULTS=all FAULTS_SEED=$(SEED) SCHEDULES=$${SCHEDULES:-10000} \
		cargo test --workspace --all-features --locked --no-fail-fast --test faults --test kills --test simulate -- --nocapture

# A seed of the simulator that failed is printed: `make simulate SEED=7` tells what happens in it.
simulate:
	SCHEDULES=$${SCHEDULES:-10000} cargo test --workspace --all-features --locked --test simulate whatever -- --nocapture

# From another seed each time; `make test` gives each parser three seconds.
fuzz:
	FUZZ_SECONDS=$${FUZZ_SECONDS:-3600} FUZZ_SEED=$${FUZZ_SEED:-$$(date +%s)} \
		cargo test --workspace --all-features --locked --no-fail-fast --test fuzz -- --nocapture

# ---------------------------------------------------------------- measuring it
bench: ui
	.ci/packages test
	cargo bench -p swarfbook-hub --locked --bench door --bench census --bench report --bench shop --bench clients
	# How well counts and lengths repeat (ISO 5725): eight patches, each drawn by three cameras in three lights.
	test -f target/triples/hints.json || cargo run --release --locked -p swarfbook-debris --example render_debris -- --again 3 target/triples 8 9101
	cargo run --release --locked -p swarfbook-debris --example repeatability -- target/triples
	cargo build --release -p swarfbook-hub
	test -d tests/e2e/node_modules || npm --prefix tests/e2e ci --no-audit --no-fund --silent
	SWARFBOOK_BIN=$(CURDIR)/target/release/swarfbook node tests/e2e/bench.mjs

types:
	UPDATE=1 cargo test -p swarfbook-app --test door_types
	UPDATE=1 cargo test -p swarfbook-words --test screens

# Ten minutes and more: before a release, and after a change of src-tauri or of what core stands on.
check-android:
	.ci/packages check-android
	tests/android/kotlin.sh
	tests/android/type-check.sh
