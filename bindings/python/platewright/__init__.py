# SPDX-License-Identifier: MIT
"""Platewright for Python: read the numbers stamped on collector cars.

    >>> import platewright
    >>> result = platewright.validate("3Y86N400001")
    >>> result.readings[0].years
    (1963,)
    >>> print(platewright.explain("3Y86N400001"))      # doctest: +SKIP

The package calls the installed C library through ctypes and adds no logic of its
own. Functions may be called from several threads at once. Results are plain,
immutable objects. Every number can be read, however odd: what is strange about
it comes back as findings, not as an exception.
"""

from ._batch import Batch, Verdict, batch
from ._car import Car, compare, explain_car
from ._comparison import (
    CarReading, Comparison, Date, Days, Difference, Disagreement, Joined, Missing, Plate)
from ._errors import (
    ClaimError, Error, FormatError, HintError, LibraryError, TablesError, TooLongError)
from ._expect import (
    Coverage, Expectation, ExpectedClaim, Pattern, covers, expect, explain_expectation)
from ._library import MAX_TEXT, library_version
from ._names import NameProblem, Names
from ._results import (
    Change, Check, Claim, Edition, Field, Finding, Meaning, Prefix, Reading, Result, Row,
    Settling, Source, Suggestion)
from ._tables import Layout, Scheme, Tables
from ._verbs import decode, explain, grade, prefix, suggest, validate

__all__ = [
    "MAX_TEXT",
    "Batch", "Car", "CarReading", "Change", "Check", "Claim", "ClaimError", "Comparison",
    "Coverage", "Date", "Days", "Difference", "Disagreement", "Edition", "Error",
    "Expectation", "ExpectedClaim", "Field", "Finding", "FormatError", "HintError", "Joined",
    "Layout", "LibraryError", "Meaning", "Missing", "NameProblem", "Names", "Pattern",
    "Plate", "Prefix", "Reading", "Result", "Row", "Scheme", "Settling", "Source",
    "Suggestion", "Tables", "TablesError", "TooLongError", "Verdict",
    "batch", "compare", "covers", "decode", "expect", "explain", "explain_car",
    "explain_expectation", "grade", "library_version", "prefix", "suggest", "validate",
]
