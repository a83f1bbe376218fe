"""Faults of the program reach the log and one sentence; refusals reach the window."""

import logging
import sys

import pytest
from PySide6.QtWidgets import QMessageBox

from app import failures
from core.errors import InputError


@pytest.fixture
def hook(monkeypatch, qapp):
    monkeypatch.setattr(sys, "excepthook", sys.__excepthook__)
    refused = []
    failures.install(refused.append)
    return sys.excepthook, refused


def test_a_fault_is_told_in_one_sentence_and_logged(hook, monkeypatch, caplog):
    told = []
    monkeypatch.setattr(QMessageBox, "exec", lambda box: told.append(box.text()))
    monkeypatch.setattr(logging.getLogger("linebook"), "propagate", True)
    try:
        raise ZeroDivisionError("division by zero")
    except ZeroDivisionError as error:
        hook[0](type(error), error, error.__traceback__)
    [sentence] = told
    assert "Something went wrong in the program (ZeroDivisionError)" in sentence
    assert "Traceback" not in sentence
    assert "division by zero" in caplog.text


def test_a_refusal_that_nobody_caught_goes_to_the_window(hook):
    error = InputError("Nothing was taken.", "It was wrong.", "Type it right.")
    hook[0](InputError, error, None)
    assert hook[1] == [error]
