#!/usr/bin/env python3
# SPDX-License-Identifier: MIT
"""Holds the client's check digits against a second implementation.

usage: check_digit.py CLIENT EXAMPLES...

This one is written from the text of 49 CFR 565.15(c) and shares nothing with the
library: each character has an assigned value (table III), each position a weight
(table IV); the products are added up and divided by 11, and the remainder, with
X for ten, is the check digit in position 9.

The numbers are those of 17 characters in the first columns of the example files,
the regulation's own sample, and composed ones.
"""
import json
import random
import subprocess
import sys

# The regulation's sample calculation: 1G4AH59H45G118341, total 411, remainder 4.
SAMPLE = "1G4AH59H45G118341"
COMPOSED = 2000
CHECK_PLACE = 8

LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ"  # I, O and Q are not used
DIGITS = "0123456789"


def assigned_values():
    """Table III: digits stand for themselves; the letters count on from A, J and S,
    and where a letter is left out its value is left out, too."""
    values = {digit: int(digit) for digit in DIGITS}
    for start, letters in ((1, "ABCDEFGH"), (1, "JKLMN"), (7, "P"), (9, "R"), (2, "STUVWXYZ")):
        values.update({letter: start + i for i, letter in enumerate(letters)})
    return values


VALUES = assigned_values()
# Table IV, 1st to 17th position.
WEIGHTS = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2]


def check_digit(number, values=None, weights=None):
    """The check digit of a number, or None when a character has no value."""
    values = values or VALUES
    total = 0
    for place, (character, weight) in enumerate(zip(number, weights or WEIGHTS)):
        if place == CHECK_PLACE:
            continue
        if character not in values:
            return None
        total += values[character] * weight
    return "0123456789X"[total % 11]


def expected_check(number, **tables):
    """What the client should say: the state and the character that would fit."""
    digit = check_digit(number, **tables)
    if digit is None:
        return {"state": "open", "expected": None}
    found = number[CHECK_PLACE]
    if found == "?":
        return {"state": "open", "expected": digit}
    return {"state": "fits" if found == digit else "fails", "expected": digit}


def examples(paths):
    for path in paths:
        with open(path, encoding="utf-8") as file:
            for line in file:
                number = line.split("\t")[0].strip()
                if not line.startswith(("#", "stamp:")) and number:
                    yield number


def composed():
    """Numbers of the right form; in every other one the check digit is right."""
    chance = random.Random(565)
    for index in range(COMPOSED):
        number = [chance.choice(LETTERS + DIGITS) for _ in range(13)]
        number += [chance.choice(DIGITS) for _ in range(4)]
        number[0] = chance.choice("12345JSWZ")
        number[2] = chance.choice(LETTERS)
        number[9] = chance.choice("BCDEFGHJKLMNPRSTVWXY")
        right = check_digit("".join(number))
        wrong = [digit for digit in DIGITS + "X" if digit != right]
        number[CHECK_PLACE] = right if index % 2 else chance.choice(wrong)
        yield "".join(number)


def ask(client, numbers):
    """The number as read and the check of each 17-character reading that has one."""
    answer = subprocess.run([client, "decode", "-f", "json"], input="\n".join(numbers) + "\n",
                            capture_output=True, encoding="utf-8", check=False)
    documents = [json.loads(line) for line in answer.stdout.splitlines()]
    if len(documents) != len(numbers):
        sys.exit(f"check_digit.py: {len(numbers)} numbers, {len(documents)} answers: "
                 f"{answer.stderr}")
    return [(reading["number"], reading["check"])
            for document in documents if document["positions"] == 17
            for reading in document["readings"] if reading["check"]["state"] != "none"]


def differences(answers, **tables):
    return [f"{number}: the client says {check}, the regulation {expected_check(number, **tables)}"
            for number, check in answers if check != expected_check(number, **tables)]


def self_check(answers):
    """Every wrong weight and every wrong value must be noticed."""
    if check_digit(SAMPLE) != SAMPLE[CHECK_PLACE]:
        sys.exit("check_digit.py: the regulation's sample does not come out")
    for place in range(len(WEIGHTS)):
        weights = list(WEIGHTS)
        weights[place] += 1
        if place != CHECK_PLACE and not differences(answers, weights=weights):
            sys.exit(f"check_digit.py: a wrong weight of position {place + 1} goes unnoticed")
    for character in VALUES:
        values = {**VALUES, character: VALUES[character] + 1}
        if not differences(answers, values=values):
            sys.exit(f"check_digit.py: a wrong value of {character} goes unnoticed")


def main(arguments):
    if len(arguments) < 2:
        sys.exit(__doc__)
    client, paths = arguments[0], arguments[1:]
    printed = ask(client, [SAMPLE, *examples(paths)])
    if len(printed) < 40:
        sys.exit(f"check_digit.py: only {len(printed)} printed numbers were judged")
    answers = printed + ask(client, list(composed()))
    if len(answers) - len(printed) < COMPOSED:
        sys.exit("check_digit.py: the client did not judge every composed number")
    self_check(answers)
    problems = differences(answers)
    print("\n".join(problems + [f"{len(answers)} check digits compared"]))
    sys.exit(1 if problems else 0)


if __name__ == "__main__":
    main(sys.argv[1:])
