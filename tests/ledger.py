"""An evaluator of the formulas that figures carry, written apart from the code that made them.

Grammar: names, numbers, ``+ - * / ^``, parentheses, calls of the functions below, and a product
where two factors stand beside each other. Angles are degrees, as on a shop calculator.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from typing import Any

TOKEN = re.compile(r"\s*(?:(\d+\.?\d*(?:[eE][+-]?\d+)?|\.\d+)|([A-Za-z_][A-Za-z0-9_']*)|(.))")

FUNCTIONS: dict[str, Callable[..., float]] = {
    "sqrt": math.sqrt,
    "sin": lambda x: math.sin(math.radians(x)),
    "cos": lambda x: math.cos(math.radians(x)),
    "tan": lambda x: math.tan(math.radians(x)),
    "asin": lambda x: math.degrees(math.asin(x)),
    "acos": lambda x: math.degrees(math.acos(x)),
    "atan": lambda x: math.degrees(math.atan(x)),
    "exp": math.exp,
    "ln": math.log,
    "log10": math.log10,
    "min": min,
    "max": max,
    "abs": abs,
    "floor": math.floor,
    "ceil": math.ceil,
    "round": round,
}


class Evaluator:
    """Works a formula out; what stands for numbers may be anything that has their operators."""

    def __init__(
        self,
        text: str,
        inputs: Mapping[str, Any],
        functions: Mapping[str, Callable[..., Any]] = FUNCTIONS,
    ) -> None:
        self.tokens = [match.groups() for match in TOKEN.finditer(text) if match.group().strip()]
        self.at = 0
        self.inputs = inputs
        self.functions = functions
        self.text = text

    def value(self) -> Any:
        result = self.sum()
        assert self.at == len(self.tokens), f"left over in {self.text!r}: {self.tokens[self.at :]}"
        return result

    def peek(self) -> tuple[str, str]:
        if self.at >= len(self.tokens):
            return ("end", "")
        number, name, sign = self.tokens[self.at]
        if number:
            return ("number", number)
        return ("name", name) if name else ("sign", sign)

    def take(self, sign: str) -> bool:
        if self.peek() == ("sign", sign):
            self.at += 1
            return True
        return False

    def sum(self) -> Any:
        result = self.product()
        while True:
            if self.take("+"):
                result += self.product()
            elif self.take("-"):
                result -= self.product()
            else:
                return result

    def product(self) -> Any:
        result = self.factor()
        while True:
            kind, text = self.peek()
            if self.take("*"):
                result *= self.factor()
            elif self.take("/"):
                result /= self.factor()
            elif kind in {"number", "name"} or text == "(":
                result *= self.factor()
            else:
                return result

    def factor(self) -> Any:
        if self.take("-"):
            return -self.factor()
        result = self.atom()
        return result ** self.factor() if self.take("^") else result

    def number(self, text: str) -> Any:
        return float(text)

    def atom(self) -> Any:
        kind, text = self.peek()
        if self.take("("):
            result = self.sum()
            assert self.take(")"), self.text
            return result
        self.at += 1
        if kind == "number":
            return self.number(text)
        assert kind == "name", f"{text!r} in {self.text!r}"
        if text in self.functions and self.take("("):
            arguments = [self.sum()]
            while self.take(","):
                arguments.append(self.sum())
            assert self.take(")"), self.text
            return self.functions[text](*arguments)
        return math.pi if text == "pi" else self.inputs[text]


def evaluate(formula: str, inputs: Mapping[str, float]) -> float:
    return float(Evaluator(formula, inputs).value())
