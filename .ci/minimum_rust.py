"""Fails where a package that the library depends on claims to need a newer Rust than the library."""
import json
import subprocess
import sys

minimum = tuple(int(part) for part in sys.argv[1].split("."))
metadata = json.loads(
    subprocess.run(
        ["cargo", "metadata", "--locked", "--format-version", "1", "--all-features"],
        check=True, capture_output=True, text=True,
    ).stdout
)
packages = {package["id"]: package for package in metadata["packages"]}
nodes = {node["id"]: node for node in metadata["resolve"]["nodes"]}
seen, open_ids = set(), [metadata["resolve"]["root"]]
while open_ids:
    identifier = open_ids.pop()
    if identifier in seen:
        continue
    seen.add(identifier)
    for dependency in nodes[identifier]["deps"]:
        # kind null: a normal dependency, not one for development or building.
        if any(kind["kind"] is None for kind in dependency["dep_kinds"]):
            open_ids.append(dependency["pkg"])
late = []
for identifier in seen:
    package = packages[identifier]
    claimed = package.get("rust_version")
    if claimed and tuple(int(part) for part in claimed.split(".")[: len(minimum)]) > minimum:
        late.append(f"{package['name']} {package['version']} needs Rust {claimed}")
print(f"{len(seen)} packages claim to build with Rust {sys.argv[1]}" if not late else "\n".join(late))
sys.exit(bool(late) or len(seen) < 10)
