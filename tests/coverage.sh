#!/usr/bin/env bash
# Which lines and branches of src/ and include/ the tests reach, by module. Fails below 95 % of the core's lines.
#   tests/coverage.sh [FOLDER]     FOLDER takes the build, build/coverage if none is named
# The list by file, with the lines missed, is left in FOLDER/coverage.csv and FOLDER/coverage.txt.
set -euo pipefail
cd "$(dirname "$0")/.."
folder=${1:-build/coverage}
command -v gcovr > /dev/null || { echo "gcovr is not installed (Debian: apt install gcovr)" >&2; exit 1; }

cmake --preset coverage -B "$folder" > /dev/null
cmake --build "$folder"
find "$folder" -name '*.gcda' -delete
ctest --test-dir "$folder" -j "$(nproc)" --label-exclude slow --output-on-failure | tail -n 20

# Branches that only an exception takes (std::bad_alloc at every string) would drown the others.
gcovr --root . --filter src/ --filter include/ --exclude-throw-branches --exclude-unreachable-branches \
  --csv "$folder/coverage.csv" --txt "$folder/coverage.txt" --gcov-ignore-parse-errors "$folder" > /dev/null

# The core is all but the command line and the pages.
awk -F, '
  NR > 1 {
    split($1, part, "/")
    module = part[1] == "include" ? part[3] : part[2]
    if ($1 ~ /^src\/sheet\/page\//) module = "sheet/page"
    add(module, $2, $3, $5, $6)
    if (module != "cli" && module != "sheet/page") add("core", $2, $3, $5, $6)
  }
  function add(name, a, b, c, d) { lines[name] += a; hit[name] += b; branches[name] += c; taken[name] += d }
  function row(name) {
    printf "%-12s%8d%8.1f %%%10d%8.1f %%\n", name, lines[name], lines[name] ? 100 * hit[name] / lines[name] : 100,
           branches[name], branches[name] ? 100 * taken[name] / branches[name] : 100
  }
  END {
    printf "%-12s%8s%10s%10s%10s\n", "module", "lines", "reached", "branches", "taken"
    count = split("units working job survey layout load leaktest liner packer resin cure schedule cutting excavation " \
                  "price safety plan sheet core sheet/page cli", order, " ")
    for (i = 1; i <= count; ++i) row(order[i])
    if (hit["core"] < 0.95 * lines["core"]) { print "The core is below 95 % of its lines."; exit 1 }
  }' "$folder/coverage.csv"
