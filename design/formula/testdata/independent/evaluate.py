"""Works expressions out with pint, an independent library of quantities.

Reads lines of JSON, each a text in this program's own operators: Q(number, unit)
and the functions below. Answers each by a line of JSON:

    {"si": number in SI base units, "dim": [length, mass, time, temperature]}
    {"truth": true or false}
    {"fails": "dimension"} or {"fails": "undefined"}
    {"unsure": true} where numbers that differ by a part in 10^13 lead elsewhere
"""

import json
import math
import random
import sys

import pint

units = pint.UnitRegistry()
random.seed(1)
wobble = 0.0
PURE = units.Quantity(1, "").dimensionality


def Q(x, unit=""):
    return units.Quantity(x * (1 + wobble * random.uniform(-1, 1)), unit)


def plain(x):
    if x.dimensionality != PURE:
        raise pint.DimensionalityError(x.units, "")
    return x.to_base_units().magnitude


def of_plain(f):
    return lambda x: units.Quantity(f(plain(x)), "")


def agree(x, y):
    if x.dimensionality != y.dimensionality:
        raise pint.DimensionalityError(x.units, y.units)


def least(*xs):
    for x in xs[1:]:
        agree(x, xs[0])
    return min(xs)


def most(*xs):
    for x in xs[1:]:
        agree(x, xs[0])
    return max(xs)


def cases(*args):
    for when, then in zip(args[:-1:2], args[1::2]):
        if when():
            return then()
    return args[-1]()


def total(things, term):
    result = term(things[0])
    for thing in things[1:]:
        result = result + term(thing)
    return result


def absolute(x):
    if isinstance(x.magnitude, complex):
        raise ValueError
    return abs(x)


def nearest(x, step):
    agree(x, step)
    steps = (x / step).to_base_units().magnitude
    return math.copysign(math.floor(abs(steps) + 0.5), steps) * step


def direction(y, x):
    agree(y, x)
    return units.Quantity(math.atan2(y.to_base_units().magnitude, x.to_base_units().magnitude), "radian")


def tangent(x):
    if abs(math.cos(x)) < 1e-9:
        raise ValueError
    return math.tan(x)


known = {
    "Q": Q, "cases": cases, "total": total, "least": least, "most": most, "nearest": nearest, "direction": direction,
    "absolute": absolute, "root": lambda x: x ** 0.5, "pi": units.Quantity(math.pi, ""),
    "sin": of_plain(math.sin), "cos": of_plain(math.cos), "tan": of_plain(tangent), "asin": of_plain(math.asin), "acos": of_plain(math.acos),
    "atan": of_plain(math.atan), "exp": of_plain(math.exp), "ln": of_plain(math.log), "log10": of_plain(math.log10),
    "twice": lambda v: 2 * v, "mean": lambda v, w: (v + w) / 2, "lever": lambda f, a, b: f * a / b,
}


def once(code):
    try:
        result = eval(code, {"__builtins__": {}, **known})
        if isinstance(result, bool) or type(result).__name__ == "bool_":
            return {"truth": bool(result)}
        base = result.to_base_units()
        x = complex(base.magnitude)
        if x.imag != 0 or not math.isfinite(x.real):
            return {"fails": "undefined"}
        d = base.dimensionality
        return {"si": x.real, "dim": [float(d.get(k, 0)) for k in ("[length]", "[mass]", "[time]", "[temperature]")]}
    except pint.DimensionalityError:
        return {"fails": "dimension"}
    except (ZeroDivisionError, OverflowError, ValueError, TypeError):
        return {"fails": "undefined"}  # complex numbers are not ordered: TypeError


def same(a, b):
    if a.keys() != b.keys():
        return False
    if "si" in a:
        return abs(a["si"] - b["si"]) <= 1e-10 * max(abs(a["si"]), abs(b["si"]))
    return a == b


def answer(text):
    global wobble
    code = compile(text, "expression", "eval")
    wobble = 0.0
    first = once(code)
    wobble = 1e-13
    if not same(first, once(code)):
        return {"unsure": True}
    return first


for line in sys.stdin:
    print(json.dumps(answer(json.loads(line))))
