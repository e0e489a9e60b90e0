#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Checks JSON Lines on standard input against the schema of an explanation.

usage: json_schema.py SCHEMA             exit 1 at the first line that violates it
       json_schema.py --self-check SCHEMA  breaks a good line from standard input in
                                         many ways and sees each one refused
"""
import copy
import json
import sys

import jsonschema

# Members of the document that stand there only when asked for.
OPTIONAL = ("sources", "claims")


def unique_members(pairs):
    """Refuses an object that has a member twice; json would keep the last."""
    members = dict(pairs)
    if len(members) != len(pairs):
        raise ValueError("an object has a member twice")
    return members


def parse(line):
    return json.loads(line, object_pairs_hook=unique_members)


def violation(validator, document):
    """The gravest violation in words, or None."""
    error = jsonschema.exceptions.best_match(validator.iter_errors(document))
    if error is None:
        return None
    where = "/".join(str(step) for step in error.absolute_path) or "the whole document"
    return f"{where}: {error.message[:200]}"


def check_lines(validator, lines):
    """Number of lines checked; leaves the program at a bad one."""
    count = 0
    for count, line in enumerate(lines, start=1):
        try:
            problem = violation(validator, parse(line))
        except ValueError as error:
            problem = str(error)
        if problem:
            sys.exit(f"json_schema.py: line {count}: {problem}")
    if count == 0:
        sys.exit("json_schema.py: no line to check")
    return count


def objects(node, path=()):
    """Every object in a document, with its path."""
    if isinstance(node, dict):
        yield path
        for name, child in node.items():
            yield from objects(child, path + (name,))
    elif isinstance(node, list):
        for index, child in enumerate(node):
            yield from objects(child, path + (index,))


def at(document, path):
    for step in path:
        document = document[step]
    return document


def kind(path):
    """A path without the indices: "readings/fields/meanings"."""
    return "/".join(step for step in path if isinstance(step, str)) or "the document"


def harms(document):
    """Ways to break a good document: what is done, and a function that does it."""
    for path in objects(document):
        yield (f"unknown member in {kind(path)}",
               lambda bad, path=path: at(bad, path).update({"Not in the schema": 1}))
        if path and path[-1] == "attributes":
            continue
        for name in at(document, path):
            yield (f"{name} of {kind(path)} is of the wrong kind",
                   lambda bad, path=path, name=name: at(bad, path).update({name: {"wrong": []}}))
            if name not in OPTIONAL or path:
                yield (f"{name} of {kind(path)} is missing",
                       lambda bad, path=path, name=name: at(bad, path).pop(name))


def self_check(validator, lines):
    """Number of broken documents refused; each kind of harm is tried once."""
    tried = set()
    for line in lines:
        document = parse(line)
        problem = violation(validator, document)
        if problem:
            sys.exit(f"json_schema.py: the good document is refused: {problem}")
        for what, harm in harms(document):
            if what in tried:
                continue
            tried.add(what)
            bad = copy.deepcopy(document)
            harm(bad)
            if violation(validator, bad) is None:
                sys.exit(f"json_schema.py: not refused: {what}")
    if not tried:
        sys.exit("json_schema.py: no good document to break")
    return len(tried)


def main(arguments):
    wants_self_check = arguments[:1] == ["--self-check"]
    names = arguments[1:] if wants_self_check else arguments
    if len(names) != 1:
        sys.exit(__doc__)
    with open(names[0], encoding="utf-8") as file:
        schema = json.load(file)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    sys.stdin.reconfigure(encoding="utf-8", errors="strict")
    if wants_self_check:
        print(f"{self_check(validator, sys.stdin)} broken documents refused")
    else:
        print(f"{check_lines(validator, sys.stdin)} lines follow the schema")


if __name__ == "__main__":
    main(sys.argv[1:])
