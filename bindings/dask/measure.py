# SPDX-License-Identifier: MIT
"""What this machine makes of a large catalogue: rows for each second of a core,
memory, what Dask adds, and what that means for a billion rows. Seconds of a core
do not depend on what else the machine does; what is said of the clock does.

    python3 measure.py [--rows N] FILE...

FILE has numbers in its first column, separated by tabs; lines with '#' are
comments. They are repeated until there are N rows (200000)."""

import argparse
import csv
import itertools
import multiprocessing
import os
import platform
import resource
import tempfile
import time

import platewright
import psutil

import check_catalogue
import parts


def numbers_of(path):
    with open(path, encoding="utf-8") as file:
        return [line.split("\t")[0].strip() for line in file
                if line.strip() and not line.startswith("#")]


def write_part(path, numbers, count):
    """A part of that many rows; its size in bytes."""
    with open(path, "w", newline="", encoding="utf-8") as file:
        rows = csv.writer(file)
        rows.writerow(["lot", "number", "title"])
        for lot, number in enumerate(itertools.islice(itertools.cycle(numbers), count), 1):
            rows.writerow([lot, number, "a car of some make, two doors"])
    return os.path.getsize(path)


def rate_of_batches(numbers, count):
    """Numbers a second, once they are in memory."""
    chunk = list(itertools.islice(itertools.cycle(numbers), parts.BATCH))
    start, done = time.process_time(), 0
    while done < count:
        done += len(platewright.batch(chunk))
    return done / (time.process_time() - start)


def check_and_measure(path):
    """What a worker does: rows, seconds, peak of memory in MB."""
    start = time.process_time()
    rows = parts.check_part(path, "number")["rows", "all"]
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return rows, time.process_time() - start, peak


def in_a_process(path):
    """The same in a fresh process, so that the peak is of this part alone."""
    with multiprocessing.get_context("spawn").Pool(1) as pool:
        return pool.apply(check_and_measure, [path])


def on_all_workers(client, paths):
    """Seconds by the clock, and seconds that the workers' cores were busy."""
    def busy():
        return sum(client.run(lambda: sum(psutil.Process().cpu_times()[:2])).values())

    start, busy_before = time.perf_counter(), busy()
    _, failures = check_catalogue.check(client, paths, "number")
    if failures:
        raise RuntimeError(failures)
    return time.perf_counter() - start, busy() - busy_before


def with_dask(workers, large, tiny):
    """For one large part among several, with all workers busy: seconds by the
    clock, seconds of a core. For a part of one row, and so for any: milliseconds by
    the clock. Memory of the largest worker in MB."""
    large_parts, tiny_parts = [large] * workers * 2, [tiny] * 200
    with check_catalogue.connected(None, workers) as client:
        on_all_workers(client, tiny_parts[:workers])    # imports and connections
        clock_of_tiny, _ = on_all_workers(client, tiny_parts)
        clock, busy = on_all_workers(client, large_parts)
        memory = max(client.run(lambda: psutil.Process().memory_info().rss).values())
    return (clock / len(large_parts), busy / len(large_parts),
            clock_of_tiny / len(tiny_parts) * 1000, memory / 2**20)


def main():
    parser = argparse.ArgumentParser(description="Measures the checking of a catalogue.")
    parser.add_argument("--rows", type=int, default=200_000)
    parser.add_argument("files", nargs="+", metavar="FILE")
    given = parser.parse_args()
    numbers = [number for path in given.files for number in numbers_of(path)]
    cores = os.cpu_count()
    with tempfile.TemporaryDirectory() as folder:
        tiny, small, large = (os.path.join(folder, f"{name}.csv")
                              for name in ("tiny", "small", "large"))
        write_part(tiny, numbers, 1)
        write_part(small, numbers, given.rows // 10)
        size = write_part(large, numbers, given.rows)
        batches = rate_of_batches(numbers, given.rows)
        _, _, small_peak = in_a_process(small)
        rows, seconds, large_peak = in_a_process(large)
        clock, busy, for_each, memory = with_dask(cores, large, tiny)

    print(f"machine              {platform.machine()}, {cores} cores, "
          f"Python {platform.python_version()}, platewright {platewright.library_version()}")
    print(f"numbers              {len(numbers)} different ones, repeated to {rows} rows")
    print(f"batch                {batches:,.0f} numbers for each second of a core")
    print(f"part                 {rows / seconds:,.0f} rows for each second of a core, "
          "CSV included")
    print(f"memory for that      peak of {small_peak:.0f} MB for {rows // 10} rows, "
          f"{large_peak:.0f} MB for {rows}")
    print(f"Dask, {cores} workers      {rows / busy:,.0f} rows for each second of a core, "
          f"{rows / clock:,.0f} a second by the clock")
    print(f"Dask, for each part  {for_each:.1f} ms by the clock; a worker has {memory:.0f} MB")
    print(f"a billion rows       {busy / rows * 1e9 / 3600:.1f} hours of a core, "
          f"{size / rows:.0f} GB of CSV to read")


if __name__ == "__main__":
    main()
