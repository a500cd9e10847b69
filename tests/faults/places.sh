# Places that give out: a disk that is full, a folder that is read-only or not ours, one that is taken away
# while a run is at work; and two runs at once. What cannot be tried here is named and passed over.

mkdir -p "$work/now"
chmod 755 "$work" "$work/now"
cd "$work/now"
book=$base
on='--on 2026-06-01'

fresh() { # a book, no site, nothing mounted
  rm -rf "$work/now"/*
  cp -r "$book" content
  hashes content >"$work/book"
  printf -- '---\n# record: 0123456789abcdef\njobs: [oil]\ndate: 2026-05-30\n---\nAs usual.\n' >saved.md
}

run() { # run COMMAND…: garboard; its status is in $status, what it said in $work/said
  status=0
  # shellcheck disable=SC2086
  "$program" "$@" $on >"$work/said" 2>&1 || status=$?
}

ends() { # ends WHAT STATUS [WORDS]: and speaks plainly where it failed
  [ "$status" = "$2" ] || bad "places, $1: exit status $status, not $2"
  if [ "$2" = 1 ]; then speaks_plainly "$1"; fi
  grep -q -e "${3:-}" "$work/said" || bad "places, $1: it does not say \`$3\`"
}

whole() { # whole WHAT: no file is torn, and the book is as it was
  hashes content | cmp -s - "$work/book" || bad "places, $1: the book has changed"
  hashes site | { grep -v -e ' \./\.garboard-new/' -e garboard-manifest || true; } | comm -23 - "$work/sound" >"$work/strange"
  if [ -s "$work/strange" ]; then bad "places, $1: torn: $(cut -c67- "$work/strange" | tr '\n' ' ')"; fi
}

right() { # right WHAT: the next publish puts all right
  run publish
  ends "$1, next" 0
  hashes site | cmp -s - "$work/sound" || bad "places, $1: the next run did not put all right"
  if [ -e site/.garboard-new ]; then bad "places, $1: the next run left its staging folder"; fi
}

fresh
run publish
hashes site >"$work/sound"
"$program" publish --edition public --to public --on 2026-06-01 >/dev/null
hashes public >"$work/sound-public"

if [ -n "$apart" ]; then
  # A disk of so many kilobytes; the whole site has some four hundred.
  for size in 4 40 100 200 300 400 600; do
    fresh
    mkdir site
    mount -t tmpfs -o "size=${size}k" none site
    begun
    run publish
    if [ "$status" != 0 ]; then ends "a disk of $size kB" 1 'the disk is full'; fi
    whole "a disk of $size kB"
    mount -o remount,size=20m site
    right "a disk of $size kB"
    ended 1
    umount site
  done

  # The book stands on the disk that is full.
  fresh
  mkdir "$work/disk"
  mount -t tmpfs -o size=512k none "$work/disk"
  cp -r content "$work/disk"
  (dd if=/dev/zero of="$work/disk/filler" bs=1k status=none || true) 2>/dev/null
  begun
  run enter --book "$work/disk/content" --from saved.md
  ends 'entering on a full disk' 1 'the disk is full'
  hashes "$work/disk/content" | cmp -s - "$work/book" || bad 'places, entering on a full disk: the book has changed'
  rm "$work/disk/filler"
  run enter --book "$work/disk/content" --from saved.md
  ends 'entering on a full disk, next' 0 entered
  ended 1
  umount "$work/disk"

  fresh
  mkdir site
  mount --bind site site
  mount -o remount,ro,bind site
  begun
  run publish
  ends 'a write-protected site' 1 'write-protected'
  umount site
  right 'a write-protected site'
  ended 1

  fresh
  mount --bind content content
  mount -o remount,ro,bind content
  begun
  run enter --from saved.md
  ends 'a write-protected book' 1 'write-protected'
  whole 'a write-protected book'
  # It can be read, so there is a site.
  right 'a write-protected book'
  ended 1
  umount content
else
  echo 'places: full and write-protected disks are passed over: this user may not mount any'
fi

# Somebody who may not write there.
if [ "$(id -u)" = 0 ] && setpriv --reuid 65534 --regid 65534 --clear-groups test -x "$program" 2>/dev/null; then
  sound_program=$program
  program=$work/as-nobody
  printf '#!/bin/sh\nexec setpriv --reuid 65534 --regid 65534 --clear-groups "%s" "$@"\n' "$sound_program" >"$program"
  chmod 755 "$program"
  fresh
  mkdir site
  begun
  run publish
  ends 'a site of somebody else' 1 'not permitted'
  run enter --from saved.md
  ends 'a book of somebody else' 1 'not permitted'
  whole 'a book of somebody else'
  ended 1
  fresh
  mkdir site
  chmod 777 site
  chmod 600 content/guides/engine/oil.md
  begun
  run publish
  ends 'a guide that others may not read' 1 'oil.md'
  hashes site | cmp -s - /dev/null || bad 'places, a guide that others may not read: there is a site'
  chmod 644 content/guides/engine/oil.md
  run publish
  ends 'a guide that others may not read, next' 0
  ended 1
  program=$sound_program
else
  echo 'places: folders of somebody else are passed over: this user cannot become another'
fi

stopped() { # stopped CALL PATH NUMBER COMMAND…: starts the program and waits until it stands still at that call
  local call=$1 path=$2 number=$3
  shift 3
  rm -f "$work/trace"
  # shellcheck disable=SC2086
  strace -f -o "$work/trace" -P "$path" -e "trace=$call" -e "inject=$call:signal=STOP:when=$number" "$program" "$@" $on >"$work/said" 2>&1 &
  running=$!
  for _ in $(seq 1 1000); do
    if grep -q 'stopped by SIGSTOP' "$work/trace" 2>/dev/null; then return; fi
    sleep 0.02
  done
  bad "places, $call $path: it never came there"
}

go_on() { # and its status
  kill -CONT "$(awk '/stopped by SIGSTOP/ { print $1; exit }' "$work/trace")"
  status=0
  wait "$running" || status=$?
}

# The site is taken away while its files are made, and while they are put in place.
for at in 'openat site/.garboard-new/9' 'rename site/.garboard-new/manifest' 'rename site/.garboard-new/9'; do
  fresh
  begun
  # shellcheck disable=SC2086
  stopped $at 1 publish
  rm -rf site
  go_on
  ends "the site is taken away at $at" 1 'taken away meanwhile'
  whole "the site is taken away at $at"
  right "the site is taken away at $at"
  ended 1
done

# So is the book, while it is read.
for at in content content/guides content/stores.yaml content/guides/engine/oil.md; do
  fresh
  run publish
  begun
  on="--on 2026-06-02"
  stopped openat "$at" 1 publish
  on="--on 2026-06-01"
  mv content elsewhere
  go_on
  mv elsewhere content
  ends "the book is taken away at $at" 1 'the site is as it was\|cannot read the book'
  whole "the book is taken away at $at"
  right "the book is taken away at $at"
  ended 1
done

# While one is at work, another is refused, and the first ends well.
fresh
begun
stopped rename site/.garboard-new/9 1 publish
run publish
ends 'a publish while one is at work' 1 'another publish is at work'
go_on
[ "$status" = 0 ] || bad "places, a publish while another was refused: exit status $status"
right 'two publishes'
ended 1

# Many at once, of both editions: the site is of the one or of the other, and nothing of both.
rounds=3
if [ -n "$all" ]; then rounds=20; fi
for _ in $(seq 1 $rounds); do
  fresh
  begun
  for edition in crew public crew public; do
    (
      run publish --edition $edition --to site
      case $status in 0 | 1) ;; *) echo "$status" >>"$work/statuses" ;; esac
    ) &
  done
  wait
  if [ -e "$work/statuses" ]; then bad "places, four at once: exit status $(cat "$work/statuses")"; fi
  hashes site >"$work/found"
  cmp -s "$work/found" "$work/sound" || cmp -s "$work/found" "$work/sound-public" || bad 'places, four at once: neither the one edition nor the other'
  ended 1
done
cd "$home"
