# Publishing while the disk fails. A fault is named by the call, the file, and which of the calls on it.

mkdir -p "$work/now"
cd "$work/now"
site=site

# The book: a guide with a picture, one without; an entry with a paper, one of nobody else's business.
fresh_book() {
  rm -rf "$work/now"/*
  cp -r "$base" content
  mkdir -p content/guides/hull/pump content/log/2026/2026-05-02-pump themes/jobsheet
  cp "$theme_icon" content/guides/hull/pump/pump.png
  printf -- '---\ntitle: Clean the pump\nevery: {calendar: 12 months}\n---\n## Work\n\n1. Clean it.\n\n   ![The pump](pump/pump.png)\n' >content/guides/hull/pump.md
  printf 'paid\n' >content/log/2026/2026-05-02-pump/bill.txt
  printf -- '---\njobs: [pump]\ndate: 2026-05-02\npapers: [bill.txt]\n---\nWorn.\n' >content/log/2026/2026-05-02-pump.md
  printf -- '---\nwork: [Talk with the yard]\ndate: 2026-05-03\nprivate: true\n---\nToo dear.\n' >content/log/2026/2026-05-03-talk.md
  printf '/* our own */\n' >themes/jobsheet/own.css
}
older_book() { # one entry another, and a guide that is there no more in the new one
  fresh_book
  printf -- '---\njobs: [pump]\ndate: 2026-05-01\n---\nAs new.\n' >content/log/2026/2026-05-02-pump.md
  printf -- '---\ntitle: Grease the windlass\n---\n## Work\n\n1. Grease it.\n' >content/guides/hull/windlass.md
}

publish() { "${tracing[@]}" "$program" publish --on 2026-06-01 "${options[@]}" >"$work/out" 2>"$work/err"; }

both() { cat "$work/err" "$work/out" >"$work/said"; }

# The calls of a run, with their files, from its trace: CALL FILE NUMBER.
calls_of() {
  awk -v ours="$work/" '{
    call = $2; sub(/\(.*/, "", call)
    if (/resumed>/ || !match($0, call == "openat" || call ~ /^re?name|^link|^mkdir/ ? "\"[^\"]*\"" : "[0-9]<[^>]*>")) next
    path = substr($0, RSTART, RLENGTH); gsub(/^[0-9]<|^"|["<>]$/, "", path)
    # Libraries and the like are opened and read before anything of ours runs.
    if (path ~ /^\// && index(path, ours) != 1) next
    number = ++seen[$1, call, path]
    if (!told[call, path, number]++) print call, path, number
  }' "$work/trace"
}

check() { # check MODE WHAT STATUS
  local mode=$1 what="publish $1, $2" status=$3
  both
  hashes content | cmp -s - "$work/book" || bad "$what: the book has changed"
  hashes "$site" | grep -v ' \./\.garboard-new/' >"$work/found" || true
  comm -23 "$work/found" "$work/whole-$mode" >"$work/strange"
  if [ -s "$work/strange" ]; then bad "$what: torn or strange: $(cut -c67- "$work/strange" | tr '\n' ' ')"; fi
  comm -23 "$work/lasting-$mode" <(cut -c67- "$work/found" | sort) >"$work/missing"
  if [ -s "$work/missing" ]; then bad "$what: missing: $(tr '\n' ' ' <"$work/missing")"; fi
  case $status in
    0) cmp -s "$work/found" "$work/new-$mode" || bad "$what: it says that it is done, and it is not" ;;
    1) # What cannot be said is not said, and all is done.
      if ! [[ $2 == "write $work/err "* ]]; then
        speaks_plainly "$what"
        grep -qE '`(site|content|themes)[/`]|--> (content|themes)/|cannot print' "$work/said" || bad "$what: it does not say which file"
      fi ;;
    137) ;; # killed
    *) bad "$what: exit status $status" ;;
  esac
  tracing=()
  publish || { both; bad "$what: the next run fails with $?"; }
  hashes "$site" | cmp -s - "$work/new-$mode" || { both; bad "$what: the next run did not put all right"; }
  if [ -e "$site/.garboard-new" ]; then bad "$what: the next run left its staging folder"; fi
}

# What should come of a mode: the new site, the older one, and the manifest that owns up to both.
expect() { # expect MODE
  prepare "$1"
  hashes "$site" >"$work/old"
  tracing=(strace -f -o "$work/trace" -e trace=rename -e inject=rename:signal=KILL:when=2)
  publish || true
  hashes "$site" | grep garboard-manifest >"$work/journal"
  prepare "$1"
  hashes content >"$work/book"
  tracing=(strace -f -y -o "$work/trace" -e "trace=$every")
  publish
  hashes "$site" >"$work/new-$1"
  sort -u "$work/new-$1" "$work/old" "$work/journal" >"$work/whole-$1"
  comm -12 <(cut -c67- "$work/old" | sort) <(cut -c67- "$work/new-$1" | sort) >"$work/lasting-$1"
  calls_of >"$work/calls"
}

prepare() { # prepare MODE: the book, and the site that was there before
  rm -rf "$work/now"/*
  cp -r "$work/before-$1/." .
}

sweep() { # sweep MODE MOST: of each call, on at most MOST of its files
  local call path number fault status
  expect "$1"
  for call in ${every//,/ }; do
    while read -r call path number; do
      for fault in $faults; do
        prepare "$1"
        tracing=(strace -f -o "$work/trace" -P "$path" -e "trace=$call" -e "inject=$call:$fault:when=$number")
        status=0
        publish || status=$?
        hit || { [ "$RAYON_NUM_THREADS" != 1 ] || bad "publish $1, $call $path $number $fault: not met, exit status $status"; continue; }
        begun
        check "$1" "$call $path $number $fault" "$status"
        ended "$status"
      done
    done < <(grep "^$call " "$work/calls" | spread "$2")
  done
}

theme_icon=$(find "$home/themes/jobsheet" -name '*.png' -size -20k | sort | head -n 1)
every=openat,write,fsync,fdatasync,rename,renameat,renameat2,link,linkat
if [ -n "$all" ]; then every=$every,read,mkdir,unlink,unlinkat,rmdir,getdents64; fi

for mode in first again public; do
  mkdir -p "$work/before-$mode"
  if [ $mode = public ]; then options=(--edition public --to site); else options=(); fi
  if [ $mode != first ]; then
    older_book
    tracing=()
    publish
    cp -r site "$work/before-$mode"
  fi
  fresh_book
  cp -r content themes "$work/before-$mode"
  sweep $mode 2
done
if [ -n "$all" ]; then
  # Two threads: the calls come in any order, and what a fault must not do is the same.
  export RAYON_NUM_THREADS=2
  options=()
  sweep again 4
  # Of the demo book a sample: it has every kind of page.
  export RAYON_NUM_THREADS=1
  all=
  mkdir -p "$work/before-demo"
  cp -r "$home/content" "$work/before-demo"
  sweep demo 5
  all=1
fi
cd "$home"
