# SPDX-License-Identifier: MIT
"""A wheel that carries the library, if PLATEWRIGHT_LIBRARY names its file; one
that loads the installed library, if it does not. All else is in pyproject.toml."""

import atexit
import os
import shutil
import tempfile

from setuptools import Distribution, setup
from setuptools.command.build_py import build_py
from wheel.bdist_wheel import bdist_wheel

LIBRARY = os.environ.get("PLATEWRIGHT_LIBRARY")
CARRIED_AS = "libplatewright.1.dylib" if (LIBRARY or "").endswith(".dylib") \
    else "libplatewright.so.1"

#: setuptools would work in this folder, which may be read-only and stays clean.
SCRATCH = tempfile.mkdtemp()
atexit.register(shutil.rmtree, SCRATCH)


class BuildWithLibrary(build_py):
    def run(self):
        super().run()
        if LIBRARY:
            shutil.copyfile(LIBRARY, os.path.join(self.build_lib, "platewright", CARRIED_AS))


class OfPlatform(Distribution):
    """Belongs to a kind of machine if the library is in it."""

    def has_ext_modules(self):
        return bool(LIBRARY)


class ForEveryPython(bdist_wheel):
    """ctypes does not care which Python 3 it is."""

    def get_tag(self):
        return ("py3", "none", super().get_tag()[2])


setup(
    distclass=OfPlatform,
    cmdclass={"build_py": BuildWithLibrary, "bdist_wheel": ForEveryPython},
    options={"build": {"build_base": SCRATCH}, "egg_info": {"egg_base": SCRATCH},
             "bdist_wheel": {"bdist_dir": os.path.join(SCRATCH, "wheel")}})
