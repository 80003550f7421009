#!/bin/sh
# Judges a shelf as a Slurm job array.
#
#   job=$(sbatch --parsable slurm.sh SHELF ROWS)
#   sbatch --dependency=afterok:$job --wrap \
#     'threewire batch --merge ROWS/part-*.jsonl --out ROWS/shelf.jsonl --csv ROWS/shelf.csv'
#
# ROWS is a folder for the rows; it and SHELF are on a file system that all
# nodes share. A task that was stopped goes on where it stopped when it is
# started again: scontrol requeue, or the same sbatch.
#SBATCH --job-name=threewire
#SBATCH --array=1-8
#SBATCH --cpus-per-task=1
#SBATCH --mem=512M
#SBATCH --requeue
set -eu
mkdir -p "$2"
exec threewire batch "$1" --quiet --workers "${SLURM_CPUS_PER_TASK:-1}" \
  --shard "$SLURM_ARRAY_TASK_ID/$SLURM_ARRAY_TASK_COUNT" --out "$2/part-$SLURM_ARRAY_TASK_ID.jsonl"
