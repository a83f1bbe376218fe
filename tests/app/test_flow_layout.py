"""A layout that goes on in the next line where it is full."""

import pytest
from PySide6.QtCore import QSize
from PySide6.QtWidgets import QLabel, QWidget

from app.flow_layout import FlowLayout


@pytest.fixture
def held(qtbot):
    """Four boxes of 100 by 20, with gaps of 4."""
    made = QWidget()
    qtbot.addWidget(made)
    flow = FlowLayout(made, gap=4)
    made.boxes = [QLabel() for _ in range(4)]
    for box in made.boxes:
        box.setFixedSize(100, 20)
        flow.addWidget(box)
    made.flow = flow
    return made


@pytest.mark.parametrize(
    ("width", "height"),
    [(412, 20), (411, 44), (204, 44), (203, 92), (50, 92)],
)
def test_height_follows_from_width(held, width, height):
    assert held.flow.heightForWidth(width) == height


def test_hidden_ones_take_no_room(held):
    held.resize(204, 100)
    held.show()
    held.boxes[1].hide()
    held.flow.activate()
    assert held.boxes[2].pos().x() == 104
    assert held.boxes[2].pos().y() == 0
    assert held.flow.heightForWidth(308) == 20


def test_it_needs_no_more_than_its_largest(held):
    assert held.flow.minimumSize() == QSize(100, 20)
    assert held.flow.takeAt(9) is None
    assert held.flow.count() == 4
