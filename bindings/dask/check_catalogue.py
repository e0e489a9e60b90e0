# SPDX-License-Identifier: MIT
"""Checks a catalogue that lies in many CSV files, on all workers of a Dask
scheduler, and prints what came of it.

    python3 check_catalogue.py PART...                      two workers, here
    python3 check_catalogue.py --scheduler tcp://HOST:PORT PART...

Every worker needs the package platewright and sees the parts under the same
names. Status 1: a part could not be read; it is named, and all others count."""

import argparse
import os
import sys
from collections import Counter
from contextlib import contextmanager

from distributed import Client, LocalCluster, as_completed

import parts


def arguments():
    parser = argparse.ArgumentParser(description="Checks a catalogue in parts.")
    parser.add_argument("--scheduler", help="address of a scheduler that runs already")
    parser.add_argument("--workers", type=int, default=2, help="without one: how many here")
    parser.add_argument("--column", default="number", help="the column that has the numbers")
    parser.add_argument("parts", nargs="+", metavar="PART", help="CSV file with a header line")
    return parser.parse_args()


@contextmanager
def connected(scheduler, workers):
    """A client of that scheduler, or of one that lives as long as the client and
    that nobody can reach from another machine."""
    if scheduler:
        with Client(scheduler, timeout=30) as client:
            yield client
        return
    with LocalCluster(n_workers=workers, threads_per_worker=1, host="127.0.0.1",
                      dashboard_address="127.0.0.1:0",
                      worker_dashboard_address="127.0.0.1:0") as cluster:
        with Client(cluster) as client:
            yield client


def check(client, paths, column):
    """The counts of all parts, and for each part that failed what it said."""
    client.upload_file(parts.__file__)
    futures = client.map(parts.check_part, paths, column=column, pure=False)
    names = dict(zip(futures, paths))
    total, failures = Counter(), {}
    for future in as_completed(futures):
        try:
            total += future.result()
        except Exception as error:      # of whatever kind: it belongs to one part
            failures[names[future]] = f"{type(error).__name__}: {error}"
        future.release()                # the scheduler need not remember it
    return total, failures


def report(total):
    """Lines of what, which and how many, the most frequent first."""
    order = ("rows", "grade", "finding", "error", "scheme")
    for (what, which), times in sorted(
            total.items(), key=lambda item: (order.index(item[0][0]), -item[1], item[0])):
        print(what, which, times, sep="\t")


def main():
    given = arguments()
    paths = [os.path.abspath(path) for path in given.parts]
    with connected(given.scheduler, given.workers) as client:
        total, failures = check(client, paths, given.column)
    report(total)
    for path, message in sorted(failures.items()):
        print(f"not checked: {path}: {message}", file=sys.stderr)
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
