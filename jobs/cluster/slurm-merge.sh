#!/bin/bash
# Merges the shards of a plan. With --dependency=afterany it runs once all tasks have ended, failed
# or not, including requeued ones; if shards are missing, it lists them in the form that --array
# takes (exit 75).
#   sbatch --dependency=afterany:JOB slurm-merge.sh PLAN RESULTS
#SBATCH --job-name=forkfront-merge
exec "${FORKFRONT:-forkfront}" merge --plan "$1" --out "$2"
