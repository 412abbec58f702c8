"""Spreads a list of jobs over the workers of Dask: a job a line in, an answer a line out, in the same order.

    python spread.py JOBS ANSWERS --program lengthwise --looks 100000 --workers 2
    python spread.py JOBS ANSWERS --program lengthwise --looks 100000 --scheduler tcp://...

JOBS holds a job file in each line. The list is cut in pieces, and `lengthwise plan --stream` answers each piece in a process of its own,
one at a time on a worker. An answer depends on its line alone, so the pieces are put together in order and nothing else is to be done.
Without --scheduler, workers are started on this machine and reached through its own address only; with it they are elsewhere, where the
program has to be installed under the same name. With --looks the answers are the same bytes as those of one process; with --seconds a
busy worker may find less.

Needs the package `distributed`.
"""

import argparse
import contextlib
import subprocess
import sys

from distributed import Client, LocalCluster


def answered(program, limit, lines):
    """The answers to some of the lines, or what the program said where it failed."""
    ended = subprocess.run([program, "plan", "--stream", *limit], input=b"".join(lines), capture_output=True)
    if ended.returncode != 0:
        raise RuntimeError(f"{program} ended with {ended.returncode}: {ended.stderr.decode(errors='replace')}")
    answers = ended.stdout.splitlines(keepends=True)
    if len(answers) != len(lines):
        raise RuntimeError(f"{len(lines)} jobs and {len(answers)} answers")
    return answers


def words():
    asked = argparse.ArgumentParser(description="Spreads a list of jobs over the workers of Dask.")
    asked.add_argument("jobs")
    asked.add_argument("answers")
    asked.add_argument("--program", default="lengthwise")
    asked.add_argument("--looks", type=int)
    asked.add_argument("--seconds", type=float)
    asked.add_argument("--workers", type=int, default=2)
    asked.add_argument("--scheduler")
    asked.add_argument("--piece", type=int, default=8, help="jobs that a worker is given at a time")
    return asked.parse_args()


@contextlib.contextmanager
def connected(asked):
    if asked.scheduler:
        with Client(asked.scheduler) as client:
            yield client
        return
    # A thread each, since a worker only waits for the process that it started.
    with LocalCluster(
        n_workers=asked.workers, threads_per_worker=1, host="127.0.0.1", dashboard_address=None
    ) as cluster, Client(cluster) as client:
        yield client


def main():
    asked = words()
    limit = []
    if asked.looks is not None:
        limit = ["--looks", str(asked.looks)]
    elif asked.seconds is not None:
        limit = ["--seconds", str(asked.seconds)]
    with open(asked.jobs, "rb") as file:
        lines = [line if line.endswith(b"\n") else line + b"\n" for line in file]
    pieces = [lines[at : at + asked.piece] for at in range(0, len(lines), asked.piece)]
    with connected(asked) as client:
        # A program that fails fails again: nothing is tried twice.
        tasks = client.map(lambda piece: answered(asked.program, limit, piece), pieces, retries=0, pure=False)
        with open(asked.answers, "wb") as file:
            for task in tasks:
                file.writelines(task.result())
        workers = len(client.scheduler_info(n_workers=-1)["workers"])
    print(f"{len(lines)} jobs, {len(pieces)} pieces, {workers} workers", file=sys.stderr)


if __name__ == "__main__":
    main()
