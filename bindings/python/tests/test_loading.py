# SPDX-License-Identifier: MIT
"""How the library is found, and what is refused."""

import ctypes.util
import os
import re
import unittest

import platewright
from platewright import _library

from support import LIBRARY, PACKAGE_FOLDER, Scratch, run_python

IMPORT = "import platewright; print(platewright.grade('3Y86N400001'))"


class Loading(unittest.TestCase):
    def test_a_library_that_is_named(self):
        self.assertEqual(run_python(IMPORT, PLATEWRIGHT_LIBRARY=LIBRARY).stdout, "clear\n")

    def test_a_library_that_is_installed(self):
        done = run_python(IMPORT, PLATEWRIGHT_LIBRARY=None,
                          LD_LIBRARY_PATH=os.path.dirname(LIBRARY))
        self.assertEqual(done.stdout, "clear\n", done.stderr)

    def test_a_missing_library_is_named(self):
        done = run_python(IMPORT, PLATEWRIGHT_LIBRARY="/nowhere/libplatewright.so")
        self.assertIn("LibraryError", done.stderr)
        self.assertIn("/nowhere/libplatewright.so", done.stderr)

    def test_a_program_can_go_on_without_it(self):
        done = run_python("try:\n    import platewright\nexcept ImportError:\n    print('none')",
                          PLATEWRIGHT_LIBRARY="/nowhere/libplatewright.so")
        self.assertEqual(done.stdout, "none\n", done.stderr)

    def test_another_library_is_refused(self):
        done = run_python(IMPORT, PLATEWRIGHT_LIBRARY=ctypes.util.find_library("c"))
        self.assertIn("the library found is not platewright", done.stderr)

    def test_another_version_is_refused(self):
        scratch = Scratch(self)
        for number in ((_library.MAJOR + 1) * 10000, _library.OLDEST - 1):
            other = scratch.library(
                f"uint32_t plw_version_number(void) {{ return {number}; }}")
            done = run_python(IMPORT, PLATEWRIGHT_LIBRARY=other)
            self.assertIn("LibraryError", done.stderr)
            self.assertIn(f"has number {number}", done.stderr)

    def test_no_memory(self):
        other = Scratch(self).library(
            "int32_t plw_result_new(void **p) { *p = 0; return -4; }\n"
            "int32_t plw_car_new(void **p) { *p = 0; return -4; }\n"
            "int32_t plw_expectation_new(void **p) { *p = 0; return -4; }\n"
            "int32_t plw_names_new(void *t, char *s, long n, void **p) { *p = 0; return -4; }")
        for call in ("decode('1')", "Car()", "Names('')", "expect({})"):
            done = run_python(f"import platewright as p; p.{call}", PLATEWRIGHT_LIBRARY=other)
            self.assertRegex(done.stderr, r"MemoryError: .*\(PLW_E_MEMORY\)", call)


class Versions(unittest.TestCase):
    def test_the_package_has_the_version_of_the_library(self):
        with open(os.path.join(PACKAGE_FOLDER, "pyproject.toml"), encoding="utf-8") as file:
            (version,) = re.findall(r'^version = "(.*)"$', file.read(), re.MULTILINE)
        self.assertEqual(version, platewright.library_version())

    def test_constants_come_from_the_library(self):
        self.assertEqual(platewright.MAX_TEXT, 256)
        self.assertEqual(_library.family("PLW_STANDING_"),
                         {"published": 0, "practice": 1, "memory": 2})


if __name__ == "__main__":
    unittest.main()
