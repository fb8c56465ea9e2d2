#!/usr/bin/env bash
# How long a cold release build of the core takes on two cores, beside one of a small crate that
# depends on jiff. Builds each three times, alternating, and fails if ours takes more than 2.5 times as long.
set -euo pipefail
cd "$(dirname "$0")/.."
limit=2.5
jiff='=0.2.46'

mkdir -p target
work=$(mktemp -d "$PWD/target/build_cost.XXXXXX")
trap 'rm -rf "$work"' EXIT
# A cache of compiled crates would answer in the compiler's place.
export CARGO_TERM_COLOR=never RUSTC_WRAPPER='' TIMEFORMAT=%R

mkdir -p "$work/jiff/src"
cat > "$work/jiff/Cargo.toml" <<MANIFEST
[package]
name = "depends-on-jiff"
version = "0.0.0"
edition = "2021"

[dependencies]
jiff = "$jiff"

[workspace]
MANIFEST
echo 'pub use jiff::Zoned;' > "$work/jiff/src/lib.rs"

# Downloads are not part of the time.
cargo fetch --quiet --locked
cargo fetch --quiet --manifest-path "$work/jiff/Cargo.toml"

# Prints the seconds that a build takes from nothing.
seconds() {
    rm -rf "$work/target"
    { time cargo build --offline --release --jobs 2 --target-dir "$work/target" "$@" > "$work/log" 2>&1; } \
        2> "$work/seconds" || { cat "$work/log" >&2; exit 1; }
    cat "$work/seconds"
}

ratios=()
for round in 1 2 3; do
    theirs=$(seconds --manifest-path "$work/jiff/Cargo.toml")
    ours=$(seconds --locked --no-default-features)
    ratio=$(awk "BEGIN { printf \"%.2f\", $ours / $theirs }")
    echo "round $round: effloresce $ours s, jiff $theirs s, ratio $ratio"
    ratios+=("$ratio")
done
median=$(printf '%s\n' "${ratios[@]}" | sort -n | sed -n 2p)
echo "median ratio $median, at most $limit"
awk "BEGIN { exit !($median <= $limit) }"
