"""Every calculation says its units, refusals, example and source, and its examples run."""

import doctest
import importlib
import inspect
import pkgutil
import re

import pytest

import core.calc

MODULES = [
    importlib.import_module(f"core.calc.{info.name}")
    for info in pkgutil.iter_modules(core.calc.__path__)
]
SECTIONS = ("Parameters", "Returns", "Raises", "Examples", "References")
GUARDS = "core.calc.checks"  # no formula in it, so nothing to refer to
PARAMETER = re.compile(r"^(\w+) : (.+)\n((?:    .*\n?)+)", re.M)


def public_functions():
    for module in MODULES:
        for name in module.__all__:
            if inspect.isfunction(getattr(module, name)):
                yield pytest.param(getattr(module, name), id=f"{module.__name__}.{name}")


FUNCTIONS = list(public_functions())


def short(annotation):
    """A type as people write it: without the modules that its names come from."""
    return re.sub(r"\b(?:\w+\.)+(?=\w)", "", annotation)


def section(function, name):
    found = re.search(
        rf"^{name}\n-+\n(.*?)(?=^\w+\n-+\n|\Z)", inspect.getdoc(function), re.M | re.S
    )
    assert found, f"no section {name}"
    return found[1]


@pytest.mark.parametrize("function", FUNCTIONS)
def test_sections_are_complete(function):
    needed = SECTIONS[:-1] if function.__module__ == GUARDS else SECTIONS
    for name in needed:
        assert section(function, name).strip()
    assert ">>>" in section(function, "Examples")


@pytest.mark.parametrize("function", FUNCTIONS)
def test_parameters_agree_with_the_signature_and_have_units(function):
    told = PARAMETER.findall(section(function, "Parameters"))
    signature = inspect.signature(function)
    assert [(name, short(kind)) for name, kind, _text in told] == [
        (parameter.name, short(inspect.formatannotation(parameter.annotation)))
        for parameter in signature.parameters.values()
    ]
    for name, _kind, text in told:
        assert re.search(r"\[[^\]]+\]$", text.strip()), f"{name} has no [unit]"


@pytest.mark.parametrize("function", FUNCTIONS)
def test_result_agrees_with_the_signature_and_has_a_unit(function):
    kind, text = section(function, "Returns").split("\n", 1)
    annotation = inspect.signature(function).return_annotation
    assert short(kind) == short(inspect.formatannotation(annotation))
    if annotation is not None:
        assert re.search(r"\[[^\]]+\]$", text.strip())


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_module_names_its_public_things_in_order(module):
    assert module.__all__ == sorted(module.__all__)
    own = [
        name
        for name, thing in vars(module).items()
        if inspect.isfunction(thing) and thing.__module__ == module.__name__ and name[0] != "_"
    ]
    assert set(own) <= set(module.__all__)


@pytest.mark.parametrize("module", MODULES, ids=lambda module: module.__name__)
def test_examples_run(module):
    results = doctest.testmod(module)
    assert results.attempted > 0
    assert results.failed == 0
