"""Read back the present settings of a line: at the keypads, from a table, over its buses.

Three ways to one result: :class:`PresentSettings`, with an entry for every setting of every drive.
Nothing here writes to a drive.
"""

from core.readback.bus import Links, Progress, link_to, read_drives
from core.readback.client import Link, Patience, RtuLink, TcpLink, tcp_link
from core.readback.results import Entry, PresentSettings, State, Wanted, wanted_of
from core.readback.table import TableReading, read_table
from core.readback.walk import Step, Walk, start_walk

__all__ = [
    "Entry",
    "Link",
    "Links",
    "Patience",
    "PresentSettings",
    "Progress",
    "RtuLink",
    "State",
    "Step",
    "TableReading",
    "TcpLink",
    "Walk",
    "Wanted",
    "link_to",
    "read_drives",
    "read_table",
    "start_walk",
    "tcp_link",
    "wanted_of",
]
