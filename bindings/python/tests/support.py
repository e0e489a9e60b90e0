# SPDX-License-Identifier: MIT
"""What the tests share."""

import os
import shutil
import subprocess
import sys
import tempfile

#: The library under test; the package loads what this variable names.
LIBRARY = os.environ["PLATEWRIGHT_LIBRARY"]

# Printed in Automotive Mileposts: 1963 Lincoln Continental, first unit of the year.
LINCOLN = "3Y86N400001"

PACKAGE_FOLDER = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))


def run_python(code, **variables):
    """Runs a program in a fresh interpreter, with these environment variables;
    None takes one away."""
    environment = {name: value for name, value in {**os.environ, **variables}.items()
                   if value is not None}
    return subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True,
                          text=True, timeout=60)


def image(scheme="port-ellery"):
    """The tables of a fixture, compiled by the client that is installed."""
    client = os.environ["stage"] + os.environ["bindir"] + "/platewright"
    source = os.path.join(os.environ["srcdir"], "tests", "fixtures", scheme + ".scheme")
    with tempfile.TemporaryDirectory() as folder:
        path = os.path.join(folder, "image")
        subprocess.run([client, "compile", "--image", path, source], check=True,
                       stdout=subprocess.DEVNULL, timeout=60,
                       env={**os.environ, "LD_LIBRARY_PATH": os.path.dirname(LIBRARY)})
        with open(path, "rb") as file:
            return file.read()


class Scratch:
    """A folder for one test, and the C libraries it has built."""

    def __init__(self, test):
        self.path = tempfile.mkdtemp()
        test.addCleanup(shutil.rmtree, self.path)

    def library(self, source):
        """The library under test with some functions of it replaced by this C."""
        code, built = os.path.join(self.path, "other.c"), os.path.join(self.path, "other.so")
        with open(code, "w", encoding="utf-8") as file:
            file.write("#include <stdint.h>\n" + source)
        compiler = os.environ.get("CC", "cc").split()
        subprocess.run([*compiler, "-shared", "-fPIC", "-o", built, code, "-Wl,--no-as-needed",
                        LIBRARY, "-Wl,-rpath," + os.path.dirname(LIBRARY)], check=True,
                       timeout=60)
        return built
