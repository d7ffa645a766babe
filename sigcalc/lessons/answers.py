"""Reading what a learner types into an exercise: as kindly as can be done without guessing, and never evaluated.

Kinder than the library's own text: a sum such as "(9.5 - 1.9)/470", "2.2 K" where ohms are asked, "16 ma" where
nothing but mA can be meant, and a word for what is counted.
"""

from __future__ import annotations

import ast
import math
import operator
import re

from ..errors import UnitError
from ..units import Q, QuantityKind
from ..units.quantity import symbols_like
from ..units.reading import ALIKE, quoted
from ..units.typed import typed

_LONGEST_SUM = 60
_NAMED = re.compile(r"^\s*[A-Za-z]\w?\s*=")  # "I = 16 mA"
_SIGNS = str.maketrans({"×": "*", "·": "*", "÷": "/", ":": "/"})
_COMMA = re.compile(r"(?<![\d.,])(\d+),(\d+)(?![\d.,])")
_TIMES = re.compile(r"(?<=[\d)])\s*[xX]\s*(?=[\d(])")
_SUM = re.compile(r"((?:[\d.+\-*/()\s]|(?<=\d)[eE](?=[+-]?\d))+)(.*)", re.DOTALL)
_RANGE = re.compile(r"\s*[\d.]+\s*-\s*[\d.]+\s*")
_MIXED = re.compile(r"\s*\d+\s+\d+/\d+\s*")  # "5 1/2 in"
_OPERATION = re.compile(r"\(|[\d)]\s*[+\-*/]")
_OPERATIONS = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv}
_THOUSANDS = {"k": "kohm", "K": "kohm", "M": "Mohm", "R": "ohm", "r": "ohm"}
_OHMS = re.compile(r"^(.*[\d.)])\s*([kKMRr])\s*$")


def readings(given: str, kind: QuantityKind, unit: str) -> list[float]:
    """What was typed, in the SI unit of `kind`: one value, or two for a sum without a unit.

    A number alone is in `unit`, the unit beside the box; a sum alone may be in that or in the SI unit, as its numbers
    are. Raises UnitError with what to type instead.
    """
    text = _NAMED.sub("", given.strip()).rstrip(".;! ")
    if kind.bare:
        return [_plain_number(text, unit, kind.example)]
    text = _right_unit(text, kind.unit)
    summed = _sum_and_rest(text)
    if summed is None:
        return [_in_si(text, kind, unit)]
    value, rest = summed
    if rest:
        return [_in_si(f"{value:.6g} {rest}", kind, unit)]
    return [_in_si(f"{value!r}", kind, unit), value]


def _in_si(text: str, kind: QuantityKind, unit: str) -> float:
    return float(Q(typed(text, unit, kind.need, kind.example), unit).m_as(kind.pint_unit))


def _plain_number(text: str, word: str, example: str) -> float:
    """A count, without the word for what is counted: "4 contacts", "4x", "4 times"."""
    words = "times( as (much|many|bright))?|-?fold|x|×" if word == "times" else f"{word.removesuffix('s')}s?"
    bare = re.sub(rf"\s*({words})\s*$", "", text, flags=re.IGNORECASE) if word else text
    summed = _sum_and_rest(bare)
    if summed is not None and not summed[1]:
        return summed[0]
    try:
        return typed(bare, "", "a plain number", example)
    except UnitError as error:
        if "," in text:
            raise
        raise UnitError(f'{quoted(text)} is not a plain number: type for example "{example}".') from error


def _right_unit(text: str, si_unit: str) -> str:
    """The text with the one unit that can be meant: "2.2 K" of a resistance, "16 ma" of a current."""
    if si_unit == "ohm" and (found := _OHMS.match(text)):
        return f"{found[1]} {_THOUSANDS[found[2]]}"
    found = re.search(r"([A-Za-z\u00b5\u03bc]+)\s*$", text)
    meant = symbols_like(si_unit)
    if found is None or found[1].translate(ALIKE) in meant or not re.search(r"[\d)]\s*$", text[: found.start()]):
        return text
    alike = [each for each in meant if each.lower() == found[1].translate(ALIKE).lower()]
    return f"{text[: found.start()]} {alike[0]}" if len(alike) == 1 else text


def _sum_and_rest(text: str) -> tuple[float, str] | None:
    """The value of the sum that a text begins with, and what follows it; None where there is no sum.

    Raises UnitError where there seems to be one that cannot be worked out.
    """
    plain = _TIMES.sub("*", _COMMA.sub(_with_point, text.translate(ALIKE).translate(_SIGNS)))
    found = _SUM.match(plain)
    if found is None or not _OPERATION.search(found[1]) or _MIXED.fullmatch(found[1]):
        return None
    value = _value(found[1])
    if value is not None:
        between = value < 0 and _RANGE.fullmatch(found[1])  # "10-12 mA" is no sum
        return None if between else (value, found[2].strip())
    if re.search(r"[*/(+]", found[1]):
        said = 'type one number, or a sum of plain numbers with one unit after it, such as "(9 - 2)/400 A"'
        raise UnitError(f"{quoted(text)} cannot be read: {said}")
    return None


def _with_point(found: re.Match[str]) -> str:
    """A decimal comma as a point, where it cannot part thousands."""
    either = len(found[2]) == 3 and found[1][0] != "0" and len(found[1]) <= 3
    return found[0] if either else f"{found[1]}.{found[2]}"


def _value(text: str) -> float | None:
    """The value of a sum of numbers; None where it is none, is too long, or has no finite value."""
    if len(text) > _LONGEST_SUM:
        return None
    try:
        value = _worked_out(ast.parse(text.strip(), mode="eval").body)
    except (SyntaxError, ValueError, ArithmeticError, RecursionError, MemoryError):
        return None
    return value if math.isfinite(value) else None


def _worked_out(node: ast.expr) -> float:
    """A tree of numbers and the four operations; ValueError for anything else in it."""
    match node:
        case ast.Constant(value=int() | float() as number):
            return float(number)
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_worked_out(operand)
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _OPERATIONS:
            return _OPERATIONS[type(op)](_worked_out(left), _worked_out(right))
    raise ValueError("no sum")
