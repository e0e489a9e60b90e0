# SPDX-License-Identifier: MIT
"""README.md tells the truth, and so do the examples in the package."""

import doctest
import os
import re
import unittest

import platewright
from platewright import _car, _expect

from support import PACKAGE_FOLDER, run_python


class Readme(unittest.TestCase):
    def test_every_snippet_prints_what_stands_behind_it(self):
        with open(os.path.join(PACKAGE_FOLDER, "README.md"), encoding="utf-8") as file:
            snippets = re.findall(r"```python\n(.*?)```\n\n```text\n(.*?)```", file.read(),
                                  re.DOTALL)
        self.assertTrue(snippets)
        for code, printed in snippets:
            done = run_python(code)
            self.assertEqual(done.stdout, printed, done.stderr)


def load_tests(loader, tests, pattern):
    for module in (platewright, _car, _expect):
        tests.addTests(doctest.DocTestSuite(module))
    return tests


if __name__ == "__main__":
    unittest.main()
