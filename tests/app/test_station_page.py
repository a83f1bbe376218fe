"""The page of one station: what stands beside its fields."""

from importlib.resources import files

import pytest

from app.session import Session
from app.stations_page import StationsPage
from core.store import LineFile


def test_figures_of_the_plan_stand_beside_the_wanted_speed(qtbot, tmp_path):
    path = tmp_path / "sample.linebook"
    path.write_bytes(files("sample_projects").joinpath("quillback_hollow.linebook").read_bytes())
    session = Session()
    session.take(LineFile.open(path))
    stations = StationsPage(session)
    qtbot.addWidget(stations)
    stations.resize(1300, 700)
    stations.show()
    stations.choose(session.line.station_tagged("A10").id)
    shown = {
        row.figure.key: row.figure.value
        for row in stations.station_page.figure_lists["station"]._rows
        if row.figure is not None and not row.isHidden()
    }
    # demo_a.csv: A10 44.75 ft/min at 42.5 Hz; it follows from the fruit, not from an entry.
    assert shown["surface_speed_wanted_m_s"] == pytest.approx(44.75 * 0.3048 / 60.0, rel=2e-3)
    assert shown["frequency_wanted_hz"] == pytest.approx(42.5, abs=0.05)
    session.close()
