"""A small line with a record as commissioned, shown in the view of present settings."""

from app.present_view import PresentView
from app.session import Session
from core.records import canonical_text
from core.store.schema import FORMAT
from tests.app.keyboard import show_active
from tests.app.made_line import make_book

# What make_book lists: four settings at A01 and A03, five at A02 and A04; hz-max 60 is entered.
SETTINGS = 4 + 5 + 4 + 5


def commission(book, person="R. Vale"):
    """Freeze the line as it stands as commissioned."""
    return book.freeze("as_commissioned", person, "Handover", canonical_text(book.line, FORMAT))


def open_session(path, *, with_record=True):
    """A session over a new file, or over the one that is there."""
    session = Session()
    if path.exists():
        session.open(path)
    else:
        session.take(make_book(path))
        if with_record:
            commission(session.book)
    return session


def open_view(session, qtbot, size=(1366, 670)):
    """The view, in sight and with the keys going to it."""
    view = PresentView(session)
    qtbot.addWidget(view)
    view.resize(*size)
    show_active(qtbot, view)
    view.way.first_focus.setFocus()
    return view


def texts(view, column):
    """One column of what was found."""
    from app.present_model import HEADINGS

    model = view.result.model
    place = HEADINGS.index(column)
    return [model.index(row, place).data() for row in range(model.rowCount())]
