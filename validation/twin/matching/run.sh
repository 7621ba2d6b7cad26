#!/bin/sh
# Ours, LEMON, NetworkX and SciPy on the same graphs, one after the other; writes figures.txt.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
g++ -O3 -DNDEBUG -o "$work/lemon" "$here/lemon.cpp"
(cd "$here/../../.." && cargo bench -q -p whirlwright-kit --bench matching -- graphs "$work") >"$work/ours.txt"
{
  echo "# Seconds of one core of a shared two-core virtual machine, least of several runs."
  echo "## ours"
  cat "$work/ours.txt"
  echo "## LEMON: nodes cost seconds ratio (LEMON / ours, same graph)"
  for n in 1000 2000 10000 100000; do
    repeats=$((n < 50000 ? 5 : 1))
    "$work/lemon" "$work/gauss_$n.txt" $repeats >"$work/answer"
    read -r cost seconds <"$work/answer"
    awk -v n="$n" -v cost="$cost" -v s="$seconds" '$1 == "sparse" && $2 == n {
      if ($6 != cost) { print n, "COSTS DIFFER", $6, cost; exit 1 }
      print n, cost, s, s / ($7 > 0 ? $7 : 1e-6) }' "$work/ours.txt"
  done
  echo "## NetworkX and SciPy"
  python3 "$here/networkx_and_scipy.py" "$work/gauss_1000.txt"
} >"$here/figures.txt"
cat "$here/figures.txt"
