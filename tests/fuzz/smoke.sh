#!/usr/bin/env bash
# Each fuzz target on its corpus, then some time on inputs of its own.
#   tests/fuzz/smoke.sh BUILD_DIR SECONDS [TARGET...]
# Nothing is written into the source tree. Status 1 when a target falls over: the input that does it is kept and named.
# FUZZ_TIMEOUT: seconds that one input may take, for slow machines. FUZZ_FOUND: folder that keeps the inputs found.
set -euo pipefail
[ $# -ge 2 ] || { sed -n 's/^# \{0,1\}//p' "$0" | sed -n 3p >&2; exit 2; }
build=$(cd "$1" && pwd)
seconds=$2
shift 2
[ $# -gt 0 ] || set -- job yard record quantity survey survey_xml plan whole
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
work=$(mktemp -d)
bad=0
# What fontconfig keeps for the life of the process is no leak of ours.
export LSAN_OPTIONS=suppressions=$root/tests/support/leaks.supp:print_suppressions=0

# Files of the project that serve a target as further seeds.
seeds() {
  case $1 in
    job) echo "$root/examples" "$root/tests/io/bad" ;;
    yard | record) echo "$root/tests/io/bad" ;;
    survey | survey_xml) echo "$root/examples" ;;
  esac
}

for target in "$@"; do
  program=$build/tests/fuzz/fuzz_$target
  found=${FUZZ_FOUND:-$work}/$target
  mkdir -p "$found"
  dictionary=()
  [ ! -f "$here/$target.dict" ] || dictionary=("-dict=$here/$target.dict")
  # The first folder takes what is found; the others are only read.
  # shellcheck disable=SC2046
  if "$program" -seed=1 -max_total_time="$seconds" -timeout="${FUZZ_TIMEOUT:-30}" -rss_limit_mb=2048 \
    -artifact_prefix="$work/$target-" -print_final_stats=1 -verbosity=1 "${dictionary[@]}" \
    "$found" "$here/corpus/$target" $(seeds "$target") > "$work/$target.log" 2>&1; then
    printf 'fuzz_%-10s %s executions, %s a second, %s edges, nothing broken\n' "$target" \
      "$(sed -n 's/^stat::number_of_executed_units: *//p' "$work/$target.log")" \
      "$(sed -n 's/^stat::average_exec_per_sec: *//p' "$work/$target.log")" \
      "$(sed -n 's/.* cov: \([0-9]*\) .*/\1/p' "$work/$target.log" | tail -1)"
  else
    bad=1
    grep -vE '^#[0-9]+' "$work/$target.log" | tail -60 >&2
    input=$(find "$work" -maxdepth 1 -name "$target-*" ! -name '*-slow-unit-*' | head -1)
    printf 'fuzz_%s fell over. Again with: %s %s\n' "$target" "$program" "${input:-(no input kept)}" >&2
  fi
done
[ "$bad" -ne 0 ] || rm -rf "$work"
exit "$bad"
