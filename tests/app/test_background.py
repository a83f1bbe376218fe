"""Work in the background: success, failure, progress, a stop, a fault, a gone owner."""

import threading
import time

import pytest
from PySide6.QtCore import QObject
from pytestqt.exceptions import capture_exceptions
from shiboken6 import delete

from app.background import run_in_background, stop_all
from core.errors import LinebookError


@pytest.fixture
def owner(qtbot):
    return QObject()


def run(owner, work, told, **more):
    return run_in_background(
        owner,
        work,
        on_success=lambda result: told.append(("success", result, threading.get_ident())),
        on_failure=lambda error: told.append(("failure", error, threading.get_ident())),
        **more,
    )


def test_the_result_comes_back_in_the_thread_that_asked(owner, qtbot):
    told = []
    job = run(owner, lambda _progress: threading.get_ident(), told)
    with qtbot.waitSignal(job.ended):
        pass
    ((how, worker, teller),) = told
    assert how == "success"
    assert teller == threading.get_ident() != worker


def test_what_the_user_can_act_on_is_told(owner, qtbot):
    def work(_progress):
        raise LinebookError("No.", "Because.", "Do this.")

    told = []
    with qtbot.waitSignal(run(owner, work, told).ended):
        pass
    assert [(how, str(error)) for how, error, _ in told] == [("failure", "No. Because. Do this.")]


def test_a_fault_of_the_program_is_raised_in_the_windows_thread(owner, qtbot):
    def work(_progress):
        raise ZeroDivisionError

    told = []
    with capture_exceptions() as raised, qtbot.waitSignal(run(owner, work, told).ended):
        pass
    assert told == []
    assert [kind for kind, *_ in raised] == [ZeroDivisionError]


def test_progress_is_told_and_a_stop_reaches_the_work(owner, qtbot):
    go_on = threading.Event()
    asked, steps, told = [], [], []

    def work(progress):
        asked.append(progress(1, 2))
        go_on.wait(5)
        asked.append(progress(2, 2))
        return "done"

    job = run(owner, work, told, on_progress=lambda done, of: steps.append((done, of)))
    qtbot.waitUntil(lambda: steps == [(1, 2)])
    job.cancel()
    with qtbot.waitSignal(job.ended):
        go_on.set()
    assert asked == [True, False]
    assert steps == [(1, 2)]
    assert told == []


def test_nobody_is_told_once_the_owner_is_gone(owner, qtbot):
    go_on = threading.Event()
    told = []
    job = run(owner, lambda _progress: go_on.wait(5), told)
    delete(owner)
    with qtbot.waitSignal(job.ended):
        go_on.set()
    assert told == []


def test_all_work_is_stopped_before_the_program_ends(owner, qtbot):
    began, asked, steps = threading.Event(), [], []

    def work(progress):
        began.set()
        while progress(1, 2):
            time.sleep(0.001)
        asked.append(progress(2, 2))

    job = run(owner, work, [], on_progress=lambda done, of: steps.append((done, of)))
    assert began.wait(5)
    assert stop_all()
    assert job.is_cancelled
    assert asked == [False]
    assert (2, 2) not in steps


def test_work_that_does_not_listen_is_not_waited_for_without_end(owner, qtbot):
    go_on = threading.Event()
    job = run(owner, lambda _progress: go_on.wait(5), [])
    assert not stop_all(50)
    with qtbot.waitSignal(job.ended):
        go_on.set()


def test_what_writes_a_file_is_finished_before_the_program_ends(owner, qtbot, tmp_path):
    target = tmp_path / "sheet.txt"

    def work(progress):
        time.sleep(0.1)
        if progress(1, 2):
            target.write_text("whole")

    run(owner, work, [], finishes=True)
    assert stop_all()
    assert target.read_text() == "whole"
