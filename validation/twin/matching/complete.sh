#!/bin/sh
# LEMON and NetworkX on complete graphs: every pair an edge, points drawn anew by complete.py; writes
# complete.txt. NetworkX takes minutes at 500 points, so it is not asked for more.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
g++ -O3 -DNDEBUG -o "$work/lemon" "$here/lemon.cpp"
python3 "$here/complete.py" "$work" 100 200 500 1000 2000
{
  echo "# Least sums over perfect matchings of complete graphs, every pair listed; seconds of one core."
  echo "## LEMON: nodes cost seconds"
  for n in 100 200 500 1000 2000; do
    echo "$n $("$work/lemon" "$work/complete_$n.txt")"
  done
  echo "## NetworkX"
  python3 "$here/networkx_and_scipy.py" "$work/complete_100.txt" "$work/complete_200.txt" "$work/complete_500.txt" |
    grep '^networkx'
} >"$work/complete.txt"
mv "$work/complete.txt" "$here/complete.txt"
cat "$here/complete.txt"
