#!/bin/bash
# A city over several hosts by GNU parallel; they share no disk.
#   parallel.sh JOBS FOLDER [HOSTS]
# Cuts JOBS into pieces of PIECE lines (1000), sends each to a host of HOSTS (one a line, as hosts.txt; without it: this
# machine), fetches its plans, and puts them together as FOLDER/plans.jsonl. Called again with the same arguments it runs
# what had not ended: whole pieces by the log, on this machine broken ones from the line where they stopped.
# YARD: yard file, sent along. PATCHWRIGHT: the program on the hosts. SSH: how they are reached.
set -euo pipefail
jobs=$(realpath "$1") folder=$2 hosts=${3:+$(realpath "$3")}
own=${YARD:+$(realpath "$YARD")}
size=${PIECE:-1000}
mkdir -p "$folder"
cd "$folder"
if ! cat [0-9]*.jobs 2> /dev/null | cmp -s - "$jobs"; then
  [ ! -e log ] || { echo "$folder was begun with other jobs: take a new folder" >&2; exit 2; }
  rm -f [0-9]*.jobs
  split -l "$size" --numeric-suffixes=1 -a 6 --additional-suffix=.jobs "$jobs" ''
fi
yard=()
if [ -n "$own" ]; then
  cp "$own" yard.json
  yard=(--yard yard.json)
fi
where=(--sshlogin :)
[ -z "$hosts" ] || where=(--sshloginfile "$hosts" --transferfile '{}' --return '{.}.jsonl' --cleanup --workdir patchwright-city)
[ -z "$hosts" ] || [ -z "$own" ] || where+=(--basefile yard.json)
[ -z "${SSH:-}" ] || where+=(--ssh "$SSH")
# The number of the first line follows from the name of the piece.
printf '%s\n' [0-9]*.jobs |
  parallel "${where[@]}" --joblog log --resume-failed --retries 3 \
    "${PATCHWRIGHT:-patchwright}" plan --stream {} --threads 1 "${yard[@]}" \
    --first-line "{= s/\\.jobs//; \$_ = (\$_ - 1) * $size + 1 =}" -o {.}.jsonl --skip-done {.}.jsonl
cat [0-9]*.jsonl > plans.jsonl
