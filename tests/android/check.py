"""The Android project against what is written elsewhere in the house.

usage: check.py ROOT; prints what is wrong and exits 1, or prints nothing.
"""

import json
import re
import sys
import tomllib
import xml.etree.ElementTree as ET
from pathlib import Path

ANDROID = "{http://schemas.android.com/apk/res/android}"


def main(root: Path) -> int:
    shell = root / "src-tauri"
    app = shell / "gen/android/app"
    wrong = [
        *permissions(shell, app),
        *backup(app),
        *references(app / "src/main"),
        *names(shell, app),
        *versions(root, shell),
        *commands(shell),
        *pages(shell),
        *handover(shell, app),
    ]
    for line in wrong:
        print(line, file=sys.stderr)
    return 1 if wrong else 0


def manifest(app: Path) -> ET.Element:
    return ET.parse(app / "src/main/AndroidManifest.xml").getroot()


def permissions(shell: Path, app: Path):
    asked = {e.get(ANDROID + "name") for e in manifest(app).iter("uses-permission")}
    told = set(re.findall(r"^\| `(android\.permission\.\w+)` \|", (shell / "README.md").read_text(), re.M))
    if not told:
        yield "src-tauri/README.md lists no permission"
    for name in sorted(asked ^ told):
        yield f"{name}: {'asked in the manifest without a reason in README.md' if name in asked else 'in README.md, not in the manifest'}"
    for name in ("android.hardware.camera", "android.hardware.camera.autofocus"):
        if not any(
            e.get(ANDROID + "name") == name and e.get(ANDROID + "required") == "false"
            for e in manifest(app).iter("uses-feature")
        ):
            yield f"{name} is not said to be optional"
    actions = {e.get(ANDROID + "name") for e in manifest(app).findall("queries/intent/action")}
    if "android.media.action.IMAGE_CAPTURE" not in actions:
        yield "the manifest's <queries> do not ask for IMAGE_CAPTURE"


def backup(app: Path):
    application = manifest(app).find("application")
    for name in ("allowBackup", "fullBackupContent"):
        if application.get(ANDROID + name) != "false":
            yield f"{name} is not false: evidence would leave the phone by the system's backup"
    rules = ET.parse(app / "src/main/res/xml/data_extraction_rules.xml").getroot()
    for way in ("cloud-backup", "device-transfer"):
        left_out = {e.get("domain") for e in rules.findall(f"{way}/exclude")}
        for domain in sorted({"root", "file", "database", "sharedpref", "external"} - left_out):
            yield f"{way} does not leave out {domain}"


def references(main: Path):
    """Each @type/name of our own stands somewhere under res."""
    have = set()
    for file in (main / "res").glob("*/*"):
        folder = file.parent.name.split("-")[0]
        if folder == "values":
            for e in ET.parse(file).getroot():
                have.add((e.tag, e.get("name")))
        else:
            have.add((folder, file.stem))
    for file in [main / "AndroidManifest.xml", *(main / "res").glob("*/*.xml")]:
        for kind, name in re.findall(r'[">]@(\w+)/([\w.]+)', file.read_text()):
            if (kind, name) not in have:
                yield f"{file.name}: there is no @{kind}/{name}"


def names(shell: Path, app: Path):
    conf = json.loads((shell / "tauri.conf.json").read_text())
    gradle = (app / "build.gradle.kts").read_text()
    identifier = conf["identifier"]
    for key in ("namespace", "applicationId"):
        if f'{key} = "{identifier}"' not in gradle:
            yield f"build.gradle.kts: {key} is not {identifier}"
    least = conf["bundle"]["android"]["minSdkVersion"]
    if f"minSdk = {least}\n" not in gradle:
        yield f"build.gradle.kts: minSdk is not {least}"
    activity = app / "src/main/java" / identifier.replace(".", "/") / "MainActivity.kt"
    if f"package {identifier}\n" not in activity.read_text():
        yield f"MainActivity.kt is not in package {identifier}"


def handover(shell: Path, app: Path):
    """Rust names the Kotlin class, and the share sheet may read just where Rust lays files down."""
    rust = (shell / "src/handover/phone.rs").read_text()
    package = re.search(r'PACKAGE: &str = "([\w.]+)"', rust)[1]
    name = re.search(r'register_android_plugin\(PACKAGE, "(\w+)"\)', rust)[1]
    kotlin = (app / "src/main/java" / package.replace(".", "/") / f"{name}.kt").read_text()
    if f"package {package}\n" not in kotlin or f"class {name}(" not in kotlin:
        yield f"{name}.kt does not hold {package}.{name}"
    if f"@TauriPlugin\nclass {name}(" not in kotlin:
        yield f"{name} is not annotated, so R8 would take it away"
    for command in re.findall(r'run_mobile_plugin(?:::<\(\)>)?\("(\w+)"', rust):
        if not re.search(rf"@Command\s+fun {command}\(", kotlin):
            yield f"{name}.kt has no command {command}"
    outbox = re.search(r'app_cache_dir\(\)\?\.join\("(\w+)"\)', (shell / "src/start.rs").read_text())[1]
    paths = ET.parse(app / "src/main/res/xml/file_paths.xml").getroot()
    if [e.get("path") for e in paths.findall("cache-path")] != [f"{outbox}/"]:
        yield f"file_paths.xml does not open just {outbox}/ of the cache"


def versions(root: Path, shell: Path):
    ours = tomllib.loads((root / "Cargo.toml").read_text())["workspace"]["package"]["version"]
    for place in (root / "ui/package.json", shell / "package.json"):
        if (theirs := json.loads(place.read_text())["version"]) != ours:
            yield f"{place.relative_to(root)}: version {theirs}, the workspace has {ours}"
    if "version" in json.loads((shell / "tauri.conf.json").read_text()):
        yield "tauri.conf.json has a version of its own; it should take the crate's"
    locked = {p["name"]: p["version"] for p in tomllib.loads((root / "Cargo.lock").read_text())["package"]}
    cli = json.loads((shell / "package.json").read_text())["devDependencies"]["@tauri-apps/cli"]
    lock = json.loads((shell / "package-lock.json").read_text())["packages"]
    if (got := lock["node_modules/@tauri-apps/cli"]["version"]) != cli:
        yield f"package-lock.json has @tauri-apps/cli {got}, package.json {cli}"
    if minor(cli) != minor(locked["tauri"]):
        yield f"@tauri-apps/cli {cli} is not in step with the crate tauri {locked['tauri']}"


def pages(shell: Path):
    """The library is laid out for memory pages of 16 KB."""
    if "rustc-link-arg-cdylib=-Wl,-z,max-page-size=16384" not in (shell / "build.rs").read_text():
        yield "src-tauri/build.rs does not lay the library out for pages of 16 KB"


def commands(shell: Path):
    """What the window may call is what the shell has, and nothing of Tauri's own."""
    ours = set(re.findall(r'"(\w+)"', re.search(r"commands\(&\[(.*?)\]\)", (shell / "build.rs").read_text(), re.S)[1]))
    allowed = set(tomllib.loads((shell / "capabilities/main.toml").read_text())["permissions"])
    if (wanted := {f"allow-{name.replace('_', '-')}" for name in ours}) != allowed:
        yield f"capabilities/main.toml allows {sorted(allowed)}, the shell has {sorted(wanted)}"
    if len(list((shell / "capabilities").iterdir())) != 1:
        yield "capabilities/ holds more than main.toml"


def minor(version: str) -> tuple[str, ...]:
    return tuple(version.split(".")[:2])


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1])))
