# What the sweeps share. Read by `run`, anew for each part.

program=$(realpath "${GARBOARD:-target/debug/garboard}")
as_root() { if [ "$(id -u)" = 0 ]; then "$@"; else sudo "$@"; fi; }
if ! command -v strace >/dev/null; then
  as_root apt-get update -qq
  as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends strace >/dev/null
fi

home=$PWD
base=$home/tests/broken/base
# The name that the system gives to open files.
work=${work:-$(realpath "$(mktemp -d)")}
trap 'rm -rf "$work"' EXIT
# One thread reads, so that the calls come in the same order every time.
export RAYON_NUM_THREADS=1
faults='error=ENOSPC error=EIO signal=KILL'
tried=0 survived=0 finished=0 checks_before=0 failed=0
total_tried=${total_tried:-0} total_survived=${total_survived:-0}

bad() {
  printf 'FAILED: %s\n' "$*"
  cat "$work/said" 2>/dev/null || true
  failed=$((failed + 1))
}

begun() { # a fault is met
  tried=$((tried + 1)) checks_before=$failed
}

ended() { # ended STATUS: all its checks are made
  if [ "$failed" = "$checks_before" ]; then survived=$((survived + 1)); fi
  if [ "$1" = 0 ]; then finished=$((finished + 1)); fi
}

told() { # told PART
  echo "$1: $tried faults tried, $survived survived; $finished were met by a run that finished all the same"
  total_tried=$((total_tried + tried)) total_survived=$((total_survived + survived))
}

hit() { grep -qE 'INJECTED|killed by SIGKILL' "$work/trace"; }

spread() { # spread MOST: of the lines that come in, as many, first and last among them
  if [ -n "$all" ]; then cat; else
    awk -v most="$1" '{ line[NR] = $0 }
      END { for (n = 0; n < most; n++) { at = NR > most ? 1 + int(n * (NR - 1) / (most - 1) + 0.5) : n + 1; if (at <= NR) print line[at] } }'
  fi
}

hashes() { # hashes FOLDER: every file in it, with its hash; nothing where there is no folder
  if [ -d "$1" ]; then (cd "$1" && find . -type f -exec sha256sum {} + | sort); fi
}

# Nothing that only a programmer reads, and the name of what it is about.
speaks_plainly() { # speaks_plainly WHAT: $work/said holds what was said
  grep -q 'error[:[]' "$work/said" || bad "$1: it failed and does not say so"
  if grep -qE 'panicked|os error|Os \{|Err\(|Error \{|IO error' "$work/said"; then bad "$1: it speaks to programmers"; fi
}

most() { # of the calls in a trace, those of the thread that makes most of them
  awk '!/resumed>|\+\+\+|---/ && ++made[$1] > most { most = made[$1] } END { print most + 0 }' "$work/trace"
}

# A sweep over calls by number, for runs whose files have other names each time: `fresh MODE` makes what is
# there before, `COMMAND MODE` runs, `check MODE WHAT STATUS` looks at what came of it.
sweep_numbers() { # sweep_numbers COMMAND MODE MOST: of each kind in $calls, at most so many
  local call fault number status
  for call in $calls; do
    fresh "$2"
    tracing=(strace -f -o "$work/trace" -e "trace=$call")
    "$1" "$2" >/dev/null 2>&1
    for number in $(seq 1 "$(most)" | spread "$3"); do
      for fault in $faults; do
        fresh "$2"
        tracing=(strace -f -o "$work/trace" -e "trace=$call" -e "inject=$call:$fault:when=$number")
        status=0
        "$1" "$2" >"$work/said" 2>&1 || status=$?
        hit || continue
        begun
        check "$2" "$call $fault $number" "$status"
        ended "$status"
      done
    done
  done
}
