"""A plan run on numbers: straight-line, + − × ÷ and roots by these alone, scalars or numpy arrays alike.

A *program* is the plan flattened into instructions over registers, so that running it needs no recursion and no
algebra; generation runs it on thousands of candidates at a time, a solution on one.
Values are in SI (°C for temperatures).
"""

from __future__ import annotations

import operator
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property
from typing import Any

import numpy as np

from tutor.plan.plan import Plan
from tutor.quantities.expression import (
    Add,
    Div,
    Expr,
    Func,
    Mul,
    Neg,
    Num,
    Parallel,
    Partial,
    Pow,
    Sym,
    Val,
    children,
    cube_root,
)

Number = Any  # a float or a numpy array of floats
PLUS, MINUS = 0, 1  # which root of a quadratic


class Op(IntEnum):
    """What an instruction does with its operands."""

    ADD = 0
    SUB = 1
    MUL = 2
    DIV = 3
    NEG = 4
    SQRT = 5
    ROOT = 6
    CBRT = 7


@dataclass(frozen=True)
class Program:
    """Registers: inputs first, then constants, then one per instruction; `outputs` maps names to registers."""

    inputs: tuple[str, ...]
    constants: tuple[float, ...]
    code: tuple[tuple[Op, tuple[int, ...]], ...]
    outputs: tuple[tuple[str, int], ...]

    def run(self, values: Mapping[str, Number], roots: Sequence[int] = ()) -> dict[str, Number]:
        """Every quantity the plan finds, in SI. `roots` chooses PLUS or MINUS for each quadratic in turn.

        KeyError names a missing input. Division by zero and roots of negative numbers give inf and nan, never an
        exception: the caller checks.
        """
        given = [values[name] for name in self.inputs]
        registers: list[Number] = [item if isinstance(item, np.ndarray) else np.float64(item) for item in given]
        registers += self._constants
        chosen = iter(roots)
        with np.errstate(all="ignore"):
            for op, args in self.code:
                if op < Op.NEG:
                    one, other = args
                    registers.append(_OF_TWO[op](registers[one], registers[other]))
                else:
                    registers.append(_apply(op, [registers[index] for index in args], chosen))
        return {name: registers[index] for name, index in self.outputs}

    @cached_property
    def _constants(self) -> list[Number]:
        return [np.float64(value) for value in self.constants]


_OF_TWO = (operator.add, operator.sub, operator.mul, operator.truediv)  # by the instructions before Op.NEG


def _apply(op: Op, args: list[Number], chosen: Any) -> Number:
    if op is Op.NEG:
        return -args[0]
    if op is Op.SQRT:
        return np.sqrt(args[0])
    if op is Op.CBRT:
        return cube_root(args[0])
    return polynomial_root(args, next(chosen, PLUS))


def polynomial_root(coefficients: list[Number], which: int) -> Number:
    """A root of a polynomial, constant term first: of a quadratic the one with + or − before the square root, of a
    higher one the `which`-th real root in rising order (scalars only).

    Where that sum would cancel, the root comes from the product of both (low/high) instead: so it keeps its figures,
    and where the square term vanishes one root is that of the linear equation and the other infinite. Source: Press et
    al., Numerical Recipes, section on quadratic and cubic equations (from memory).
    """
    if len(coefficients) == 3:
        low, middle, high = (np.asarray(item, dtype=np.float64) for item in coefficients)
        with np.errstate(all="ignore"):
            root = np.sqrt(middle * middle - 4 * high * low)
            if which == PLUS:
                return np.where(middle > 0, 2 * low / (-middle - root), (-middle + root) / (2 * high))[()]
            return np.where(middle > 0, (-middle - root) / (2 * high), 2 * low / (-middle + root))[()]
    found = np.roots([float(item) for item in reversed(coefficients)])
    real = sorted(float(root.real) for root in found if abs(root.imag) <= 1e-9 * max(1e-30, abs(root)))
    return np.float64(real[which]) if which < len(real) else np.float64("nan")


class _Assembler:
    """Collects instructions; equal subexpressions are computed once."""

    def __init__(self, inputs: Sequence[str]) -> None:
        self.inputs = tuple(inputs)
        self.place = {name: index for index, name in enumerate(inputs)}
        self.constants: list[float] = []
        self.code: list[tuple[Op, list[tuple[str, int]]]] = []
        self.seen: dict[tuple[Op, tuple[tuple[str, int], ...]], int] = {}

    def constant(self, value: float) -> tuple[str, int]:
        if value not in self.constants:
            self.constants.append(value)
        return ("c", self.constants.index(value))

    def emit(self, op: Op, *args: tuple[str, int]) -> tuple[str, int]:
        key = (op, args)
        if op is Op.ROOT or key not in self.seen:
            self.code.append((op, list(args)))
            self.seen[key] = len(self.code) - 1
        return ("t", self.seen[key])

    def expression(self, expr: Expr, names: Mapping[str, tuple[str, int]]) -> tuple[str, int]:
        if isinstance(expr, Sym):
            return names[expr.name]
        if isinstance(expr, Num | Val):
            return self.constant(float(expr.value))
        if isinstance(expr, Partial):
            raise ValueError(f"the sensitivity of {expr.of} to {expr.by} cannot be run")
        if isinstance(expr, Add):
            total = self.expression(expr.terms[0], names)
            for term in expr.terms[1:]:
                taken = isinstance(term, Neg)
                value = self.expression(term.arg if isinstance(term, Neg) else term, names)
                total = self.emit(Op.SUB if taken else Op.ADD, total, value)
            return total
        parts = [self.expression(part, names) for part in children(expr)]
        if isinstance(expr, Mul):
            product = parts[0]
            for part in parts[1:]:
                product = self.emit(Op.MUL, product, part)
            return product
        if isinstance(expr, Div):
            return self.emit(Op.DIV, *parts)
        if isinstance(expr, Parallel):
            return self.emit(Op.DIV, self.emit(Op.MUL, *parts), self.emit(Op.ADD, *parts))
        if isinstance(expr, Neg):
            return self.emit(Op.NEG, parts[0])
        if isinstance(expr, Func):
            return self.emit(Op.CBRT if expr.name == "cbrt" else Op.SQRT, parts[0])
        assert isinstance(expr, Pow)
        product = parts[0]
        for _ in range(expr.exponent - 1):
            product = self.emit(Op.MUL, product, parts[0])
        return product


def assemble(inputs: Sequence[str], outputs: Mapping[str, Expr]) -> Program:
    """A program for named expressions over named inputs; a later output may use an earlier one by name."""
    assembler = _Assembler(inputs)
    names: dict[str, tuple[str, int]] = {name: ("i", index) for name, index in assembler.place.items()}
    for name, expr in outputs.items():
        names[name] = assembler.expression(expr, names)
    return _link(assembler, {name: names[name] for name in outputs})


def compile_plan(plan: Plan) -> Program:
    """The program of a plan: every step's target is an output."""
    assembler = _Assembler(plan.known)
    names: dict[str, tuple[str, int]] = {name: ("i", index) for name, index in assembler.place.items()}
    for step in plan.steps:
        if step.expr is not None:
            names[step.target] = assembler.expression(step.expr, names)
        else:
            names[step.target] = assembler.emit(
                Op.ROOT, *(assembler.expression(item, names) for item in step.coefficients)
            )
    return _link(assembler, {step.target: names[step.target] for step in plan.steps})


def _link(assembler: _Assembler, outputs: Mapping[str, tuple[str, int]]) -> Program:
    base = {"i": 0, "c": len(assembler.inputs), "t": len(assembler.inputs) + len(assembler.constants)}
    code = tuple((op, tuple(base[kind] + index for kind, index in args)) for op, args in assembler.code)
    where = tuple((name, base[kind] + index) for name, (kind, index) in outputs.items())
    return Program(assembler.inputs, tuple(assembler.constants), code, where)


def root_counts(plan: Plan) -> tuple[int, ...]:
    """For each step with several roots, how many it may have."""
    return tuple(step.degree for step in plan.steps if step.degree > 1)
