#!/bin/sh
# Judges a shelf in parts with GNU parallel, on this machine's cores.
#
#   parallel.sh SHELF ROWS [PARTS]
#
# ROWS is a folder for the rows. Run it again after an interruption: parts go
# on where they stopped. For other machines add --sshlogin to parallel; they
# must see SHELF and ROWS under the same paths.
set -eu
shelf=$1 rows=$2 parts=${3:-8}
mkdir -p "$rows"
seq "$parts" | parallel -q --halt soon,fail=1 \
  threewire batch "$shelf" --quiet --workers 1 --shard "{}/$parts" --out "$rows/part-{}.jsonl"
threewire batch --merge "$rows"/part-*.jsonl --out "$rows/shelf.jsonl" --csv "$rows/shelf.csv"
