#!/bin/bash
# Joins the shards of a plan. With --dependency=afterany it runs once all tasks have ended, failed
# or not, and after those that were requeued; it says itself which shards are missing (exit 75),
# in the form that --array takes.
#   sbatch --dependency=afterany:JOB slurm-merge.sh PLAN RESULTS
#SBATCH --job-name=forkfront-merge
exec "${FORKFRONT:-forkfront}" merge --plan "$1" --out "$2"
