"""Pages catch up when they are shown, and not before."""

import pytest

from app.page import Page
from app.session import Session
from core.store import actions
from tests.app.made_line import make_book


class Counting(Page):
    """Counts how often it shows the line."""

    def __init__(self, session):
        super().__init__(session)
        self.shown = 0
        self.catch_up()

    def show_line(self):
        """Count."""
        self.shown += 1


@pytest.fixture
def session(tmp_path, qtbot):
    made = Session()
    made.take(make_book(tmp_path / "test.linebook"))
    yield made
    made.close()


@pytest.fixture
def page(session, qtbot):
    made = Counting(session)
    qtbot.addWidget(made)
    return made


def test_a_page_in_sight_shows_each_step(page, session):
    page.show()
    assert page.shown == 1
    session.do(actions.add_station)
    assert page.shown == 2


def test_a_page_out_of_sight_waits_and_catches_up_once(page, session):
    for _ in range(3):
        session.do(actions.add_station)
    assert page.shown == 1
    page.show()
    assert page.shown == 2
    page.hide()
    page.show()
    assert page.shown == 2


def test_another_file_is_shown(page, session, tmp_path):
    page.show()
    session.take(make_book(tmp_path / "other.linebook"))
    assert page.shown == 2
