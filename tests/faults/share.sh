# Sharing while the disk fails, over no file and over an earlier one. A fault is named as for entering.

shared=$work/now/shared.html
share() { (cd "$work/now" && "${tracing[@]}" "$program" share oil --to shared.html --replace); }

fresh() { # fresh MODE: a book, and the file that was there before
  rm -rf "$work/now"
  mkdir -p "$work/now"
  cp -r "$base" "$work/now/content"
  if [ "$1" = again ]; then cp "$work/older.html" "$shared"; fi
}

check() { # check MODE WHAT STATUS
  hashes "$work/now/content" | cmp -s - "$work/book" || bad "share $1, $2: the book has changed"
  if [ -e "$shared" ]; then
    cmp -s "$shared" "$work/whole.html" || { [ "$1" = again ] && cmp -s "$shared" "$work/older.html"; } || bad "share $1, $2: the file is torn"
  else
    [ "$1" = first ] || bad "share $1, $2: the earlier file is gone"
  fi
  case $3 in
    0) cmp -s "$shared" "$work/whole.html" || bad "share $1, $2: it says that it is done, and it is not" ;;
    # What goes to standard error may be just what failed.
    1) if [ -s "$work/said" ]; then speaks_plainly "share $1, $2"; fi ;;
    127 | 137) ;;
    *) bad "share $1, $2: exit status $3" ;;
  esac
  tracing=()
  share >"$work/said" 2>&1 || bad "share $1, $2: the next run fails with $?"
  cmp -s "$shared" "$work/whole.html" || bad "share $1, $2: the next run did not put all right"
}

fresh first
hashes "$work/now/content" >"$work/book"
tracing=()
share 2>/dev/null
cp "$shared" "$work/whole.html"
sed -i 's/^Once a season\.$/Twice a season./' "$work/now/content/guides/engine/oil.md"
share 2>/dev/null
cp "$shared" "$work/older.html"
calls='write,pwrite64 fsync,fdatasync link,linkat,rename,renameat,renameat2'
if [ -n "$all" ]; then calls="openat read,pread64 $calls"; fi
for mode in first again; do
  sweep_numbers share $mode 2
done
