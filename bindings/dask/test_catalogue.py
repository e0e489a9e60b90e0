# SPDX-License-Identifier: MIT
"""The example against a scheduler and two workers, each a process of its own on
this machine's own address. All of them end with the test, or by themselves."""

import csv
import os
import re
import subprocess
import sys
import tempfile
import unittest
from collections import Counter
from contextlib import ExitStack

import platewright
import psutil
from distributed import Client

import check_catalogue
import parts

HERE = os.path.dirname(os.path.abspath(__file__))
SECONDS = 90

# Printed in references, and one that is too long to be a number.
NUMBERS = ["3Y86N400001", "1M8GDM9A1KP042788", "RM23V0A149789", "5F08F100001", "3Y86N4O0001",
           "", "1" * 300]


def write_part(path, numbers, column="number", more=()):
    with open(path, "w", newline="", encoding="utf-8") as file:
        rows = csv.writer(file)
        rows.writerow(["lot", "title", column])
        rows.writerows([lot, "a car, or two", number] for lot, number in enumerate(numbers, 1))
        rows.writerows(more)


def expected(numbers):
    """What the parts must add up to, found number by number."""
    counts = Counter()
    for number in numbers:
        counts["rows", "all"] += 1
        try:
            result = platewright.validate(number)
        except platewright.TooLongError as error:
            counts["error", error.status] += 1
            continue
        counts["grade", result.grade] += 1
        if result.findings:
            counts["finding", result.findings[0].name] += 1
        if result.readings:
            counts["scheme", result.readings[0].scheme] += 1
    return counts


class Folder(unittest.TestCase):
    def setUp(self):
        self.stack = ExitStack()
        self.addCleanup(self.stack.close)
        self.folder = self.stack.enter_context(tempfile.TemporaryDirectory())

    def path(self, name):
        return os.path.join(self.folder, name)

    def catalogue(self, count=6):
        """Parts of different sizes; their paths and all their numbers."""
        paths, everything = [], []
        for part in range(count):
            numbers = NUMBERS[part:] * (part * 40 + 1)
            paths.append(self.path(f"part-{part}.csv"))
            write_part(paths[-1], numbers)
            everything += numbers
        return paths, everything


class OnePart(Folder):
    def test_counts(self):
        write_part(self.path("part.csv"), NUMBERS, more=[["8", "too short a row"], []])
        self.assertEqual(parts.check_part(self.path("part.csv"), "number"),
                         expected(NUMBERS + [""]))

    def test_more_than_one_batch(self):
        numbers = NUMBERS * (parts.BATCH // len(NUMBERS) + 1)
        write_part(self.path("part.csv"), numbers, "serial")
        self.assertEqual(parts.check_part(self.path("part.csv"), "serial"), expected(numbers))

    def test_no_such_column(self):
        write_part(self.path("part.csv"), NUMBERS)
        with self.assertRaisesRegex(ValueError, "part.csv has no column 'vin'.*number"):
            parts.check_part(self.path("part.csv"), "vin")

    def test_an_empty_file(self):
        open(self.path("part.csv"), "w").close()
        with self.assertRaisesRegex(ValueError, "has no column"):
            parts.check_part(self.path("part.csv"), "number")


class SchedulerAndWorkers(Folder):
    def setUp(self):
        super().setUp()
        contact = self.path("scheduler.json")
        self.processes = [
            self.start("dask_scheduler", "--port", "0", "--scheduler-file", contact,
                       "--idle-timeout", f"{SECONDS} seconds")]
        for name in ("first", "second"):
            self.processes.append(self.start(
                "dask_worker", "--scheduler-file", contact, "--name", name, "--nthreads", "1",
                "--no-nanny", "--death-timeout", str(SECONDS),
                "--local-directory", self.path(name)))
        self.client = self.stack.enter_context(
            Client(scheduler_file=contact, timeout=SECONDS))
        self.client.wait_for_workers(2, timeout=SECONDS)

    def start(self, program, *arguments):
        log = self.stack.enter_context(open(self.path(program + ".log"), "ab"))
        process = subprocess.Popen(
            [sys.executable, "-m", f"distributed.cli.{program}", "--host", "127.0.0.1",
             "--dashboard-address", "127.0.0.1:0", *arguments], stdout=log, stderr=log)
        self.stack.callback(self.stop, process)
        return process

    @staticmethod
    def stop(process):
        process.terminate()
        try:
            process.wait(10)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()

    def test_a_catalogue(self):
        paths, numbers = self.catalogue()
        total, failures = check_catalogue.check(self.client, paths, "number")
        self.assertEqual((total, failures), (expected(numbers), {}))

    def test_both_workers_work_and_no_other_machine_can_reach_them(self):
        paths, _ = self.catalogue()
        check_catalogue.check(self.client, paths * 5, "number")
        done = self.client.run(lambda dask_worker: dask_worker.state.executed_count)
        self.assertEqual(len(done), 2)
        self.assertTrue(all(done.values()), done)
        listening = [connection.laddr.ip for process in self.processes
                     for connection in psutil.Process(process.pid).connections()
                     if connection.status == psutil.CONN_LISTEN]
        self.assertGreaterEqual(len(listening), 3)
        self.assertEqual(set(listening), {"127.0.0.1"})

    def test_a_worker_that_is_lost(self):
        paths, numbers = self.catalogue(3)
        self.stop(self.processes[1])
        total, failures = check_catalogue.check(self.client, paths, "number")
        self.assertEqual((total, failures), (expected(numbers), {}))

    def test_a_part_that_cannot_be_read(self):
        paths, numbers = self.catalogue(2)
        write_part(self.path("other.csv"), NUMBERS, "serial")
        total, failures = check_catalogue.check(
            self.client, [*paths, self.path("other.csv"), self.path("nowhere.csv")], "number")
        self.assertEqual(total, expected(numbers))
        self.assertIn("no column 'number'", failures.pop(self.path("other.csv")))
        self.assertIn("FileNotFoundError", failures.pop(self.path("nowhere.csv")))
        self.assertEqual(failures, {})


class Command(Folder):
    def run_command(self, *arguments):
        return subprocess.run([sys.executable, os.path.join(HERE, "check_catalogue.py"),
                               *arguments], capture_output=True, text=True, timeout=SECONDS)

    def test_it_starts_two_workers_itself(self):
        paths, numbers = self.catalogue()
        done = self.run_command(*paths)
        self.assertEqual(done.returncode, 0, done.stderr)
        lines = [line.split("\t") for line in done.stdout.splitlines()]
        self.assertEqual({(what, which): int(times) for what, which, times in lines},
                         expected(numbers))
        self.assertEqual(lines[0], ["rows", "all", str(len(numbers))])

    def test_a_part_that_cannot_be_read(self):
        paths, numbers = self.catalogue(1)
        done = self.run_command(*paths, self.path("nowhere.csv"))
        self.assertEqual(done.returncode, 1)
        self.assertIn(f"not checked: {self.path('nowhere.csv')}", done.stderr)
        self.assertIn(f"rows\tall\t{len(numbers)}\n", done.stdout)

    def test_the_readme_tells_the_truth(self):
        with open(os.path.join(HERE, "README.md"), encoding="utf-8") as file:
            (command, printed), = re.findall(r"```sh\n(.*?)```\n\n```text\n(.*?)```",
                                             file.read(), re.DOTALL)
        os.mkdir(self.path("bin"))
        with open(self.path("bin/python3"), "w", encoding="utf-8") as file:
            file.write(f'#!/bin/sh\nexec "{sys.executable}" "$@"\n')
        os.chmod(self.path("bin/python3"), 0o755)
        os.symlink(check_catalogue.__file__, self.path("check_catalogue.py"))
        done = subprocess.run(
            ["sh", "-e", "-c", command], cwd=self.folder, capture_output=True, text=True,
            timeout=SECONDS,
            env={**os.environ, "PATH": self.path("bin") + ":" + os.environ["PATH"]})
        self.assertEqual(done.stdout, printed, done.stderr)

    def test_nobody_can_reach_its_own_workers(self):
        with check_catalogue.connected(None, 2) as client:
            self.assertEqual(len(client.scheduler_info()["workers"]), 2)
            me = psutil.Process()
            listening = [connection.laddr.ip for process in (me, *me.children(recursive=True))
                         for connection in process.connections()
                         if connection.status == psutil.CONN_LISTEN]
        self.assertGreaterEqual(len(listening), 3)
        self.assertEqual(set(listening), {"127.0.0.1"})


if __name__ == "__main__":
    unittest.main()
