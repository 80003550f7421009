#!/usr/bin/env bash
# Draws the pictures of the README anew from the shipped captures. The same
# captures and the same program give the same bytes, so "git diff" shows
# whether a change touched a picture.
set -euo pipefail
cd "$(dirname "$0")/.."
in=fixtures/captures out=plots/pictures
mkdir -p "$out"
tw=$(mktemp)
trap 'rm -f "$tw"' EXIT
go build -o "$tw" ./cmd/threewire

"$tw" draw "$in/rig3-left-temperature-door-dead-spot.csv" --force --dpi 100 -o "$out/dead-spot.png"
"$tw" draw "$in/rig3-right-temperature-door-hunting.csv" --force --dpi 100 -o "$out/hunting.png"
"$tw" draw "$in/rig8-left-temperature-door-binding.csv" --free "$in/rig8-left-temperature-door-binding-free.csv" \
  --force --dpi 100 -o "$out/coupled-and-free.png"
"$tw" draw "$in/rig3-right-temperature-door-hunting.csv" --blank --title "Exercise: what is wrong?" --force --dpi 100 -o "$out/exercise.png"
"$tw" draw "$in"/rig*.csv* --panel contact --style mono --for print --force --dpi 90 -o "$out/contact-sheet.png"
