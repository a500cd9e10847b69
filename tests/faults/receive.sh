# Taking in a guide of another boat while the disk fails: a list that grows, a picture, the guide. All or nothing,
# and after a run that was killed half-way the next takes the guide.

receive() { (cd "$work/now" && "${tracing[@]}" "$program" receive "$work/shared.html" --yes --on 2026-06-01); }

fresh() { # a book that has neither the guide nor what it needs
  rm -rf "$work/now"
  mkdir -p "$work/now"
  cp -r "$work/ours" "$work/now/content"
}

check() { # check MODE WHAT STATUS
  local what="receive, $2"
  hashes "$work/now/content" | grep -v '/\.garboard-entering-' >"$work/found" || true
  # Every file is as it was, or as it will be.
  comm -23 "$work/found" "$work/both" >"$work/strange"
  if [ -s "$work/strange" ]; then bad "$what: torn or strange: $(cut -c67- "$work/strange" | tr '\n' ' ')"; fi
  comm -13 <(cut -c67- "$work/found" | sort) <(cut -c67- "$work/old" | sort) >"$work/missing"
  if [ -s "$work/missing" ]; then bad "$what: missing: $(tr '\n' ' ' <"$work/missing")"; fi
  case $3 in
    0) cmp -s "$work/found" "$work/new" || bad "$what: it says that it is done, and it is not" ;;
    1)
      if [ -s "$work/said" ]; then speaks_plainly "$what"; fi
      # What is there and cannot be said is there whole; else there is nothing.
      cmp -s "$work/found" "$work/old" || { cmp -s "$work/found" "$work/new" && grep -q 'cannot print' "$work/said"; } || bad "$what: it failed and left something"
      ;;
    127 | 137) ;;
    *) bad "$what: exit status $3" ;;
  esac
  tracing=()
  if cmp -s "$work/found" "$work/new"; then
    # It is all there, so the next run says that the guide is known.
    receive >"$work/said" 2>&1 || true
  else
    receive >"$work/said" 2>&1 || bad "$what: the next run fails with $?"
  fi
  hashes "$work/now/content" >"$work/after"
  cmp -s "$work/after" "$work/new" || {
    # Killed between its pictures and the guide: they may be the crew's own by now, so the guide gets another name.
    [ "$3" = 137 ] && [ -e "$work/now/content/guides/engine/oil-from-test-boat.md" ] && [ -z "$(comm -13 "$work/after" "$work/found")" ]
  } || bad "$what: the next run did not put all right"
}

# Theirs: the sound book, with a picture. Ours: the boat alone.
rm -rf "$work/theirs" "$work/ours"
mkdir -p "$work/theirs" "$work/ours"
cp -r "$base" "$work/theirs/content"
mkdir -p "$work/theirs/content/guides/engine/oil"
cp "$home/themes/jobsheet/icon-192.png" "$work/theirs/content/guides/engine/oil/plug.png"
printf '\n   ![The plug](oil/plug.png)\n' >>"$work/theirs/content/guides/engine/oil.md"
(cd "$work/theirs" && "$program" share oil --to "$work/shared.html") 2>/dev/null
cp "$base/boat.yaml" "$work/ours"
printf -- '- {id: belt, title: Belt, minimum: 1}\n' >"$work/ours/stores.yaml"

fresh
hashes "$work/now/content" >"$work/old"
tracing=()
receive >"$work/said" 2>&1 || { cat "$work/said"; exit 1; }
hashes "$work/now/content" >"$work/new"
sort -u "$work/old" "$work/new" >"$work/both"
calls='write,pwrite64 fsync,fdatasync link,linkat,rename,renameat,renameat2'
if [ -n "$all" ]; then calls="openat read,pread64 mkdir,unlink,unlinkat $calls"; fi
sweep_numbers receive into 3
