"""Writes smooth.csv beside this file: tables and what an independent library
reads from them along a monotone cubic. Run with Debian's python3-scipy
(recorded with scipy 1.10.1):

    /usr/bin/python3 make.py

Each table is a line "table", its x and its y; the lines "read" after it hold a
place and the value there.
"""

import csv
import pathlib
import random

from scipy.interpolate import PchipInterpolator

random.seed(5)


def spaced(n):
    x = [random.uniform(-3, 3)]
    while len(x) < n:
        x.append(round(x[-1] + random.choice([0.01, 0.3, 1, 1, 4]) * random.uniform(0.5, 2), 4))
    return x


def tables():
    yield [0, 1], [2, 5]
    yield [0, 1, 2], [0, 1, 4]
    yield [0, 1, 3], [0, 1, 0.5]
    yield [0, 1, 1.1], [0, 0.01, 4]
    yield [0, 600, 1200, 1800, 2400, 3000], [1.9, 1.86, 1.7, 1.35, 0.8, 0]
    yield [0, 1, 2, 3, 4, 5], [0, 0, 0, 1, 1, 1]
    yield [-2, -1, 0, 1, 2], [4, 1, 0, 1, 4]
    for n in (3, 4, 7, 12):
        for _ in range(4):
            yield spaced(n), [round(random.gauss(0, 10), 3) for _ in range(n)]


with open(pathlib.Path(__file__).with_name("smooth.csv"), "w", newline="") as out:
    write = csv.writer(out, lineterminator="\n").writerow
    for x, y in tables():
        write(["table"] + [repr(float(v)) for pair in zip(x, y) for v in pair])
        curve = PchipInterpolator(x, y)
        for i in range(25):
            at = x[0] + (x[-1] - x[0]) * i / 24 if i < 24 else x[-1]
            write(["read", repr(float(at)), repr(float(curve(at)))])
