"""Every text of the program that can come on a sheet, gathered from where it is declared."""

import ast
import dataclasses
import importlib
import inspect
import pkgutil
from collections.abc import Iterator
from importlib.resources import files
from types import ModuleType

import core.calc
import core.line
from core.line.checks.base import CHECKS
from core.line.checks.listing import STATE_WORDS
from core.line.figures import Rule, words_of
from core.line.findings.view import LINE_RULES, PLAN_RULES, STATION_RULES
from core.model import RECORDS, choices
from core.records.comparing import EMPTY, GROUPS
from core.records.effect import CUPS_UNITS, LABELS, NEEDS
from core.sheets.charts import ChartWords
from core.sheets.picture_data import PictureWords
from core.sheets.words import CATALOGUES
from core.tables import load_table

Spoken = Iterator[tuple[str, str]]
_GUARDS = {"finite", "in_range", "not_negative", "positive", "ratio", "span", "whole"}
_NO_INPUTS = {"also", "key", "assumed"}


def spoken() -> Spoken:
    """Where and text, one for each; templates with their blanks."""
    for part in (_words, _declared, _figures, _findings, _checks, _drawn, _told):
        yield from ((where, text) for where, text in part() if text)


def _words() -> Spoken:
    yield from ((f"word:{key}", text) for key, text in CATALOGUES["en"].items())


def _declared() -> Spoken:
    for record in RECORDS.values():
        yield "record", record.label
        for field in record.fields:
            # The label of a text as typed is the name of the field beside which it stands.
            if field.sort != "typed":
                yield "field", field.label
            yield from (("choice", word) for word in field.choices.values())
    for name, held in vars(choices).items():
        if name.isupper() and isinstance(held, dict):
            yield from (("choice", word) for word in held.values())


def _figures() -> Spoken:
    for module in _modules(core.line):
        for held in vars(module).values():
            several = held.values() if isinstance(held, dict) else held
            for rule in several if isinstance(held, list | tuple | dict) else (held,):
                if isinstance(rule, Rule):
                    for part in ("label", "formula", "source", "note"):
                        yield f"figure.{part}", getattr(rule, part)


def _findings() -> Spoken:
    for rules in (STATION_RULES, LINE_RULES, PLAN_RULES):
        for rule, _ in rules.values():
            for part in ("says", "follows", "mend", "source"):
                yield f"finding.{part}", getattr(rule, part)


def _checks() -> Spoken:
    for entered in CHECKS.values():
        for part in ("label", "how", "source"):
            yield f"check.{part}", getattr(entered.rule, part)


def _drawn() -> Spoken:
    for kind in (PictureWords, ChartWords):
        yield from (("drawing", field.default) for field in dataclasses.fields(kind))


def _told() -> Spoken:
    yield from (("group", text) for text in GROUPS.values())
    yield from (("state", text) for text in STATE_WORDS.values())
    yield "state", EMPTY
    yield from (
        ("composed", text) for text in (*LABELS.values(), *NEEDS.values(), *CUPS_UNITS.values())
    )
    for row in load_table("wire_colours"):
        yield "colour", row["colour"]


def inputs() -> set[str]:
    """Words of the inputs of figures, as workings name them, by the names of their parameters."""
    found = set()
    for module in _modules(core.line):
        for node in ast.walk(ast.parse(inspect.getsource(module))):
            if isinstance(node, ast.Call) and getattr(node.func, "attr", "") == "figure":
                found |= {word.arg for word in node.keywords if word.arg} - _NO_INPUTS
                found |= {name for given in node.args for name in _keys(given)}
    return {words_of(name) for name in found}


def _keys(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.Dict):
        for key in node.keys:
            if isinstance(key, ast.Constant) and isinstance(key.value, str):
                yield key.value


def refusals() -> set[str]:
    """What the formulas say of a value they do not take, with a figure in each blank."""
    found = set()
    for package in (core.calc, core.line):
        for module in _modules(package):
            for node in ast.walk(ast.parse(inspect.getsource(module))):
                if not isinstance(node, ast.Call):
                    continue
                name = getattr(node.func, "attr", getattr(node.func, "id", ""))
                if name == "RangeError":
                    found |= {text for given in node.args for text in _example(given)}
                elif name in _GUARDS:
                    named = [*node.args, *(word.value for word in node.keywords)]
                    texts = {text for given in named for text in _example(given)}
                    # A guard is given the name of its quantity and a unit; a unit has no blank.
                    found |= {text for text in texts if " " in text}
    return found


def _example(node: ast.expr) -> Iterator[str]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value:
        yield node.value
    elif isinstance(node, ast.JoinedStr):
        parts = (part.value if isinstance(part, ast.Constant) else "7" for part in node.values)
        text = "".join(map(str, parts))
        if any(sign.isalpha() for sign in text):
            yield text


def _modules(package: ModuleType) -> Iterator[ModuleType]:
    for found in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
        yield importlib.import_module(found.name)


def sample(name: str) -> bytes:
    """The file of a sample line."""
    return files("sample_projects").joinpath(f"{name}.linebook").read_bytes()
