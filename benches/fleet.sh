#!/bin/sh
# How many books an hour one machine publishes: `benches/fleet.sh [BOOKS]`, 200 unless said otherwise.
#
# Every book is a folder with a `content/`; one book is one process, and no two share anything. The site is written
# beside it. Each run begins without sites.
set -eu
here=$(cd "$(dirname "$0")/.." && pwd)
books=${1:-200}
cd "$here"
cargo build --locked --release --bin garboard --example big-book
program=$here/target/release/garboard
room=/dev/shm
[ -d "$room" ] || room=${TMPDIR:-/tmp}
fleet=$(mktemp -d "$room/fleet.XXXXXX")
trap 'rm -rf "$fleet"' EXIT INT TERM
target/release/examples/big-book --guides 20 --entries 200 "$fleet/first/content" >"$fleet/made"
n=1
while [ "$n" -le "$books" ]; do
    cp -r "$fleet/first" "$fleet/boat-$n"
    n=$((n + 1))
done
rm -rf "$fleet/first"

# $1: workers; $2: threads of each, 0 for as many as there are processors.
run() {
    rm -rf "$fleet"/boat-*/site
    begun=$(date +%s%N)
    printf '%s\0' "$fleet"/boat-*/ |
        RAYON_NUM_THREADS=$2 xargs -0 -P "$1" -I{} sh -c '"$1" publish --book "$2content" --on 2026-05-31 >"$2said" 2>&1' - "$program" {}
    took=$((($(date +%s%N) - begun) / 1000000))
    made=$(ls -d "$fleet"/boat-*/site/index.html | wc -l)
    [ "$made" -eq "$books" ] || { echo "only $made of $books sites were made" >&2; exit 1; }
    echo "| $1 | ${3} | $((took / 1000)).$(printf '%03d' $((took % 1000))) s | $((made * 1000 / took)) | $((made * 3600 / took * 1000)) |"
}

echo "$books books of 20 guides and 200 entries, in $room, $(nproc) processors"
echo
echo "| at a time | threads of each | took | books a second | an hour |"
echo "| ---: | ---: | ---: | ---: | ---: |"
run 1 1 1
run 1 0 all
run 2 1 1
