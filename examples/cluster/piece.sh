#!/bin/sh
# Plans one piece of a city: lines (N - 1) * PIECE + 1 to N * PIECE of JOBS, into FOLDER/N.jsonl. Called again it goes on
# where it stopped, and does nothing when all is there. The pieces in their order are the stream's own output.
#   piece.sh JOBS FOLDER N
# PIECE: lines a piece (1000). YARD: yard file. PATCHWRIGHT: the program, where it is not on the path.
set -eu
jobs=$1 folder=$2 number=$3
size=${PIECE:-1000}
first=$(((number - 1) * size + 1))
last=$((number * size))
plans=$folder/$(printf '%06d' "$number").jsonl
mkdir -p "$folder"
sed -n "$first,${last}p;${last}q" "$jobs" |
  "${PATCHWRIGHT:-patchwright}" plan --stream --threads 1 ${YARD:+--yard "$YARD"} --first-line "$first" \
    -o "$plans" --skip-done "$plans"
