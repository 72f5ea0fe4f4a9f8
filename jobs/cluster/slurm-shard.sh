#!/bin/bash
# One task of a Slurm array: runs the shard of the plan that Slurm's index names.
#   sbatch --requeue --open-mode=append --signal=B:TERM@120 --array=0-7 -c 2 slurm-shard.sh PLAN RESULTS
# TERM reaches forkfront 120 s before the time limit, by way of this shell's trap; it then
# publishes the cases that are done and a checkpoint, and ends with 75. The task is put back into
# the queue by itself, which needs no setting of the site. A task whose index runs twice at once does no
# harm. FORKFRONT names the program where it is not on the PATH.
#SBATCH --job-name=forkfront
set -u
plan="$1" results="$2"
"${FORKFRONT:-forkfront}" run --plan "$plan" --out "$results" --workers "${SLURM_CPUS_PER_TASK:-${SLURM_CPUS_ON_NODE:-0}}" &
child=$!
trap 'kill -TERM "$child"' TERM INT
# wait comes back when the trap runs; the program is still at its checkpoint then.
while :; do
	wait "$child"
	code=$?
	kill -0 "$child" 2> /dev/null || break
done
if [ "$code" -eq 75 ] && [ -n "${SLURM_ARRAY_JOB_ID:-}" ]; then
	scontrol requeue "${SLURM_ARRAY_JOB_ID}_${SLURM_ARRAY_TASK_ID}" && exit 0
fi
exit "$code"
