"""Read back the present settings of a line: at the keypads, from a table, over its buses.

Three ways to one result: :class:`PresentSettings`, with an entry for every setting of every drive.
Nothing here writes to a drive.
"""

from core.readback.bus import Links, Progress, link_to, read_drives
from core.readback.client import Link, Patience, RtuLink, TcpLink, tcp_link
from core.readback.half_done import HalfDone, gone_on, kept_text
from core.readback.results import (
    Entry,
    PresentSettings,
    State,
    Wanted,
    brought_to,
    wanted_of,
)
from core.readback.survey import Reach, links_to, patience_of, survey
from core.readback.table import TableReading, read_table
from core.readback.walk import Step, Walk, start_walk

__all__ = [
    "Entry",
    "HalfDone",
    "Link",
    "Links",
    "Patience",
    "PresentSettings",
    "Progress",
    "Reach",
    "RtuLink",
    "State",
    "Step",
    "TableReading",
    "TcpLink",
    "Walk",
    "Wanted",
    "brought_to",
    "gone_on",
    "kept_text",
    "link_to",
    "links_to",
    "patience_of",
    "read_drives",
    "read_table",
    "start_walk",
    "survey",
    "tcp_link",
    "wanted_of",
]
