"""What is changed in the source: the mutants of a file, each the whole file with one small slip in it.

Cosmic Ray knows the places and makes the slips. Of its operators only those are taken that make a slip a
person could make: the others, such as a shift for a sum, fail at once and would flatter the figure.
"""

import ast
import random
from dataclasses import dataclass
from pathlib import Path

from cosmic_ray.ast import ast_nodes, get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator

OPERATORS = (
    "NumberReplacer",  # one more, and one less
    "ReplaceBinaryOperator_Add_Sub",
    "ReplaceBinaryOperator_Sub_Add",
    "ReplaceBinaryOperator_Mul_Div",
    "ReplaceBinaryOperator_Div_Mul",
    "ReplaceBinaryOperator_FloorDiv_Div",
    "ReplaceBinaryOperator_Mod_Mul",
    "ReplaceUnaryOperator_Delete_USub",
    "ReplaceUnaryOperator_Delete_Not",
    "ReplaceComparisonOperator_Lt_LtE",
    "ReplaceComparisonOperator_LtE_Lt",
    "ReplaceComparisonOperator_Gt_GtE",
    "ReplaceComparisonOperator_GtE_Gt",
    "ReplaceComparisonOperator_Lt_GtE",
    "ReplaceComparisonOperator_LtE_Gt",
    "ReplaceComparisonOperator_Gt_LtE",
    "ReplaceComparisonOperator_GtE_Lt",
    "ReplaceComparisonOperator_Eq_NotEq",
    "ReplaceComparisonOperator_NotEq_Eq",
    "ReplaceComparisonOperator_Is_IsNot",
    "ReplaceComparisonOperator_IsNot_Is",
    "AddNot",
    "ReplaceAndWithOr",
    "ReplaceOrWithAnd",
    "ReplaceTrueWithFalse",
    "ReplaceFalseWithTrue",
    "ReplaceBreakWithContinue",
    "ReplaceContinueWithBreak",
    "ZeroIterationForLoop",
)


@dataclass(frozen=True)
class Mutant:
    """One slip: where it is, the source with it in, and the line before and after."""

    path: Path
    line: int
    operator: str
    occurrence: int
    code: str
    before: str
    after: str


def mutants_of(path: Path) -> list[Mutant]:
    """Every mutant of a file, by line; those that no Python would read, and twins, are left out."""
    source = path.read_text(encoding="utf-8")
    tree = get_ast(source)
    seen = {source}
    found: list[Mutant] = []
    for name in OPERATORS:
        operator = get_operator(f"core/{name}")()
        lines = [place[0][0] for node in ast_nodes(tree) for place in operator.mutation_positions(node)]
        for occurrence, line in enumerate(lines):
            code = mutate_code(source, operator, occurrence)
            if code in seen or not _reads(code):
                continue
            seen.add(code)
            found.append(Mutant(path, line, name, occurrence, code, *_changed_line(source, code)))
    return sorted(
        found, key=lambda mutant: (mutant.line, OPERATORS.index(mutant.operator), mutant.occurrence)
    )


def sample(mutants: list[Mutant], size: int, seed: int) -> list[Mutant]:
    """So many of them, always the same for a seed, in their order."""
    if size >= len(mutants):
        return mutants
    return [mutants[i] for i in sorted(random.Random(seed).sample(range(len(mutants)), size))]


def span_of_function(source: str, line: int) -> range | None:
    """The lines of the innermost function around a line, decorators counted; None outside any function."""
    spans = [
        range(min([node.lineno, *(d.lineno for d in node.decorator_list)]), (node.end_lineno or 0) + 1)
        for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.FunctionDef)
    ]
    around = [span for span in spans if line in span]
    return min(around, key=len) if around else None


def _reads(code: str) -> bool:
    try:
        compile(code, "mutant", "exec")
    except SyntaxError:
        return False
    return True


def _changed_line(source: str, code: str) -> tuple[str, str]:
    for before, after in zip(source.splitlines(), code.splitlines(), strict=False):
        if before != after:
            return before.strip(), " ".join(after.split())
    return "", ""
