# Entering while the disk fails. A fault is named by the kind of call and which of the calls of that kind:
# the names of the hidden files are never the same twice.

fresh() { # a new book, and what is to be entered, in $work/now
  rm -rf "$work/now"
  mkdir -p "$work/now"
  cp -r "$base" "$work/now/content"
  printf -- '---\n# record: 0123456789abcdef\njobs: [oil]\ndate: 2026-05-30\nmeters: {engine: 1850}\n---\nAs usual.\n' >"$work/now/saved.md"
  printf 'Date,Job,Engine hours\n2024-05-30,oil,1600\n2025-05-30,oil,1700\n2025-08-01,oil,1750\n' >"$work/now/history.csv"
}

enter() { # enter MODE: what is run
  if [ "$1" = from ]; then set -- --from saved.md; else set -- --csv history.csv --yes; fi
  (cd "$work/now" && "${tracing[@]}" "$program" enter --on 2026-06-01 "$@")
}

survey() { (cd "$work/now" && "$program" survey --on 2026-06-01 --format json); }

files() { (cd "$work/now" && find . -type f ! -name '.garboard-entering-*' | sort); }

check() { # check MODE WHAT STATUS
  local file
  # Nothing of the crew's is lost or changed.
  for file in $(cd "$base" && find . -type f); do
    cmp -s "$base/$file" "$work/now/content/$file" || bad "$1 $2: $file has changed"
  done
  # Every entry is one that should be, whole.
  for file in $(files); do
    [ -e "$work/whole-$1/$file" ] && cmp -s "$work/whole-$1/$file" "$work/now/$file" || bad "$1 $2: $file is torn or strange"
  done
  [ "$(survey)" = "$sound" ] || bad "$1 $2: the survey says something else"
  case $3 in
    0) [ "$(files)" = "$(cat "$work/files-$1")" ] || bad "$1 $2: it says that it is done, and it is not" ;;
    1) speaks_plainly "enter $1, $2"
       # What cannot be said is said, and stands in the log whole all the same.
       if grep -q 'cannot print' "$work/said" && [ "$(files)" = "$(cat "$work/files-$1")" ]; then :
       else [ "$(files | wc -l)" = "$before" ] || bad "$1 $2: it failed and left something"; fi ;;
    127 | 137) ;; # not even started; killed
    *) bad "$1 $2: exit status $3" ;;
  esac
  # The next run puts all right.
  tracing=()
  enter "$1" >"$work/said" 2>&1 || bad "$1 $2: the next run fails with $?"
  [ "$(files)" = "$(cat "$work/files-$1")" ] || bad "$1 $2: the next run did not put all right"
  [ -z "$(find "$work/now" -name '.garboard-*')" ] || bad "$1 $2: the next run left a hidden file"
}

fresh
before=$(files | wc -l)
sound=$(survey)
calls='write,pwrite64 fsync,fdatasync link,linkat,rename,renameat,renameat2'
if [ -n "$all" ]; then calls="openat read,pread64 mkdir,unlink,unlinkat $calls"; fi
for mode in from csv; do
  fresh
  tracing=()
  enter $mode >/dev/null 2>&1
  rm -rf "$work/whole-$mode"
  cp -r "$work/now" "$work/whole-$mode"
  files >"$work/files-$mode"
  sweep_numbers enter $mode 3
done

if [ -n "$all" ]; then
  # Two hundred at once.
  fresh
  for number in $(seq 1 200); do
    id=$(printf 'record%010d' "$number")
    printf -- '---\n# record: %s\njobs: [oil]\ndate: 2026-05-30\n---\nNumber %s.\n' "$id" "$number" >"$work/now/$number.md"
  done
  for number in $(seq 1 200); do (cd "$work/now" && "$program" enter --on 2026-06-01 --from "$number.md" >/dev/null 2>&1) & done
  wait
  found=$(grep -rhoE 'Number [0-9]+\.' "$work/now/content/log" | sort -u | wc -l)
  [ "$found" = 200 ] || bad "200 at once: $found in the log"
  for _ in $(seq 1 50); do (cd "$work/now" && "$program" enter --on 2026-06-01 --from saved.md >/dev/null 2>&1) & done
  wait
  found=$(grep -rl 'record: 0123456789abcdef' "$work/now/content/log" | wc -l)
  [ "$found" = 1 ] || bad "one record 50 times at once: $found in the log"
  echo "200 records at once, and one record 50 times at once: tried"
fi
