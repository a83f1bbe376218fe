"""The line as the knob in hand would make it: computed in passing, stored when it is let go."""

from PySide6.QtCore import QObject, QTimer, Signal

from app.session import Session
from core.errors import RangeError
from core.line import LineResults, compute_line
from core.line.findings import Findings, find
from core.line.turning import turned, values_at
from core.store import actions

_PAUSE_MS = 25
"""At least so long after what a turned knob moved has been shown it is shown again."""


class Preview(QObject):
    """Results and findings to show: those of the open line, or of the line with a knob elsewhere.

    Signals:
        changed: There is something else to show; nothing was stored.
    """

    changed = Signal()

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self._results: LineResults | None = None
        self._findings: Findings | None = None
        self._asked: tuple[int, float] | None = None
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE_MS)
        self._pause.timeout.connect(self._follow)

    @property
    def results(self) -> LineResults:
        """The results to show."""
        return self._results or self.session.results

    @property
    def findings(self) -> Findings:
        """What the rules say about what is shown."""
        return self._findings or self.session.findings

    def turn(self, station_id: int, share: float) -> None:
        """Show the line with the knob of a station elsewhere, now or as soon as there is time."""
        self._asked = station_id, share
        if not self._pause.isActive():
            self._follow()

    def forget(self) -> bool:
        """Show the line as it stands again; tells whether anything else was shown."""
        was_on = self._results is not None
        self._results = self._findings = self._asked = None
        return was_on

    def store(self, station_id: int, share: float) -> None:
        """Let the knob stand there: one step, or none where it stands there already."""
        self.forget()
        if not self.session.is_open:
            return
        result = self.session.results.station(station_id)
        held = result.station.reference
        try:
            values = values_at(result, share)
        except RangeError as error:
            self.session.refused.emit(error)
            values = {}
        if any(getattr(held, name) != value for name, value in values.items()):
            self.session.do(actions.set_fields, "speed_reference", held.id, **values)
        else:
            self.changed.emit()

    def _follow(self) -> None:
        asked, self._asked = self._asked, None
        if asked is None or not self.session.is_open:
            return
        station_id, share = asked
        line = self.session.line
        try:
            line = turned(line, self.session.results.station(station_id), share)
        except RangeError:
            return
        findings = self.findings
        self._results = compute_line(line, self.results)
        self._findings = find(self._results, findings)
        self.changed.emit()
        self._pause.start()
