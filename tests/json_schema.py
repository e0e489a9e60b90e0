#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Checks JSON Lines on standard input against the schema of explanations.

usage: json_schema.py SCHEMA             exit 1 at the first line that violates it
       json_schema.py --self-check SCHEMA  breaks a good line from standard input in
                                         many ways and sees each one refused
"""
import copy
import json
import sys

import jsonschema


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


def broken(document):
    """Copies of a good document, each with one thing wrong."""
    for path in objects(document):
        is_attributes = path and path[-1] == "attributes"
        extra = copy.deepcopy(document)
        at(extra, path)["Not in the schema"] = 1
        yield f"unknown member in {path}", extra
        for name in at(document, path):
            if is_attributes or name == "sources" and not path:
                continue
            poorer = copy.deepcopy(document)
            del at(poorer, path)[name]
            yield f"{name} missing in {path}", poorer
    for name in document:
        odd = copy.deepcopy(document)
        odd[name] = {"wrong": "kind"}
        yield f"{name} of the wrong kind", odd


def self_check(validator, lines):
    checked = 0
    for line in lines:
        document = parse(line)
        problem = violation(validator, document)
        if problem:
            sys.exit(f"json_schema.py: the good document is refused: {problem}")
        for what, bad in broken(document):
            if violation(validator, bad) is None:
                sys.exit(f"json_schema.py: not refused: {what}")
            checked += 1
    if checked == 0:
        sys.exit("json_schema.py: no good document to break")
    return checked


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
