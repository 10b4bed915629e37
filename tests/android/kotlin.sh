#!/usr/bin/env bash
# Compiles our own Kotlin against hand-written stand-ins for what it uses of
# Android, androidx and Tauri (kotlin/stand-ins): letters, types and nulls. Where
# a stand-in is wrong about the real thing, so is this; nothing of it runs.
set -euo pipefail
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(cd "$here/../.." && pwd)

command -v java >/dev/null || { echo "java is missing: .ci/packages check-android" >&2; exit 1; }
compiler=$here/kotlin/node_modules/kotlin-compiler
[ -d "$compiler" ] || npm --prefix "$here/kotlin" ci --no-audit --no-fund --silent

mapfile -t ours < <(git -C "$root" ls-files --cached --others --exclude-standard -- 'src-tauri/gen/android/app/*.kt')
[ "${#ours[@]}" -ge 2 ] || { echo "Only ${#ours[@]} files of our Kotlin found." >&2; exit 1; }
classes=$(mktemp -d)
trap 'rm -rf "$classes"' EXIT
cd "$root"
# Of the language version that gen/android/build.gradle.kts names.
java -jar "$compiler/lib/kotlin-compiler.jar" -kotlin-home "$compiler" -Werror -no-reflect \
  -language-version 2.2 -jvm-target 1.8 -d "$classes" "${ours[@]}" "$here"/kotlin/stand-ins/*.kt
echo "Our Kotlin (${#ours[@]} files) compiles against its stand-ins; it was not run."
