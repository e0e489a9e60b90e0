# SPDX-License-Identifier: MIT
"""python.py NUMBERS: the package's batch beside one call a number, and a call that
reads the whole result. Microseconds for each number."""

import sys
import time

import platewright

with open(sys.argv[1], encoding="ascii") as file:
    numbers = file.read().split()[:20000]


def measured(name, work):
    best = min(timed(work) for _ in range(3))
    print("  %-40s %8.2f us a number" % (name, best * 1e6 / len(numbers)))
    return best


def timed(work):
    start = time.process_time()
    work()
    return time.process_time() - start


batch = measured("platewright.batch(numbers)", lambda: platewright.batch(numbers))
calls = measured("platewright.grade(number)", lambda: [platewright.grade(n) for n in numbers])
numbers = numbers[:500]
measured("platewright.validate(number)", lambda: [platewright.validate(n) for n in numbers])
print("  a call for each number is %.1f x the batch" % (calls / batch))
