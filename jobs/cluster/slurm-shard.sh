#!/bin/bash
# One task of a Slurm array: runs the shard given by the array index.
#   sbatch --requeue --open-mode=append --signal=B:TERM@120 --array=0-7 -c 2 slurm-shard.sh PLAN RESULTS
# This shell's trap forwards TERM to forkfront 120 s before the time limit; forkfront then
# publishes the finished cases and a checkpoint, and exits with 75. The task requeues itself, which
# needs no site configuration. Running the same index twice at once is harmless. FORKFRONT is the
# path of the program if it is not on the PATH.
#SBATCH --job-name=forkfront
set -u
plan="$1" results="$2"
"${FORKFRONT:-forkfront}" run --plan "$plan" --out "$results" --workers "${SLURM_CPUS_PER_TASK:-${SLURM_CPUS_ON_NODE:-0}}" &
child=$!
trap 'kill -TERM "$child"' TERM INT
# wait returns when the trap runs, while the program is still writing its checkpoint.
while :; do
	wait "$child"
	code=$?
	kill -0 "$child" 2> /dev/null || break
done
if [ "$code" -eq 75 ] && [ -n "${SLURM_ARRAY_JOB_ID:-}" ]; then
	scontrol requeue "${SLURM_ARRAY_JOB_ID}_${SLURM_ARRAY_TASK_ID}" && exit 0
fi
exit "$code"
