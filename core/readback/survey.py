"""What can be asked over the buses of a line, before anything is asked."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from core.errors import InputError
from core.model import Bus, Line, Station
from core.readback.bus import (
    NO_ADDRESS,
    NO_BUS,
    OTHER_PROTOCOL,
    addresses_twice,
    form_or_reason,
    link_to,
)
from core.readback.client import Link, Patience, TcpLink, tcp_link
from core.readback.registers import RegisterForm
from core.readback.results import Wanted, wanted_of
from core.units import System, parse_number, parse_quantity

NO_LIST = "Nothing is known to read: its drive has no type with a list, and no setting is entered."
NO_REGISTERS = "The list of its drive type names no register for any setting."
LONGEST_REPLY_S = 10.0
MOST_ATTEMPTS = 10


@dataclass(frozen=True, slots=True)
class Reach:
    """What a bus can tell of one station.

    ``with_register`` of its ``settings`` can be asked for; ``obstacle`` says why none can, and is
    empty where there is none.
    """

    station: Station
    bus: Bus | None
    settings: int
    with_register: int
    obstacle: str


def survey(line: Line) -> tuple[Reach, ...]:
    """What the buses can tell of each station, in the line's order.

    Parameters
    ----------
    line : Line
        The line, with its buses and the lists of its drive types

    Returns
    -------
    tuple of Reach
        One for each station
    """
    twice = addresses_twice(line)
    wanted: dict[int, list[Wanted]] = {station.id: [] for station in line.stations}
    for one in wanted_of(line):
        wanted[one.station.id].append(one)
    return tuple(_reach(line, station, wanted[station.id], twice) for station in line.stations)


def _reach(
    line: Line, station: Station, wanted: list[Wanted], twice: Mapping[tuple[int, int], str]
) -> Reach:
    drive = station.drive
    bus = line.bus(drive.bus_id)
    counted = sum(isinstance(form_or_reason(one), RegisterForm) for one in wanted)
    address = drive.bus_id or 0, drive.bus_address or 0
    if not wanted:
        obstacle = NO_LIST
    elif bus is None:
        obstacle = NO_BUS
    elif bus.protocol not in ("modbus_rtu", "modbus_tcp"):
        obstacle = OTHER_PROTOCOL
    elif drive.bus_address is None:
        obstacle = NO_ADDRESS
    else:
        obstacle = twice.get(address, "" if counted else NO_REGISTERS)
    return Reach(station, bus, len(wanted), counted, obstacle)


def links_to(bus: Bus, where: str) -> Link | Mapping[int, TcpLink]:
    """The link to a bus, or on a network that to each drive by its bus address.

    Parameters
    ----------
    bus : Bus
        The bus
    where : str
        A port or a host, as for :func:`link_to`; on a network also a host for each address:
        ``3 = 192.0.2.13; 4 = 192.0.2.14``

    Raises
    ------
    InputError
        What :func:`link_to` refuses; an address that is none or stands twice.
    """
    if bus.protocol != "modbus_tcp" or "=" not in where:
        return link_to(bus, where)
    links: dict[int, TcpLink] = {}
    for part in filter(str.strip, re.split(r"[;,\n]", where)):
        address, _, host = (piece.strip() for piece in part.partition("="))
        if not address.isdecimal() or not 0 < int(address) < 248 or int(address) in links:
            raise InputError(
                f"Bus '{bus.name}' was not read.",
                f"'{part.strip()}' does not begin with a bus address of its own.",
                "Type each drive as its bus address and its host: 3 = 192.0.2.13; 4 = 192.0.2.14.",
            )
        links[int(address)] = tcp_link(host)
    return links


def patience_of(reply: str, attempts: str, system: System) -> Patience:
    """How long and how often to ask, as typed.

    Parameters
    ----------
    reply : str
        Time that a drive has to answer, with or without its unit; seconds without
    attempts : str
        How often it is asked
    system : "metric" or "us"
        The line's unit system

    Raises
    ------
    InputError
        No time up to 10 s, or no whole number up to 10.
    """
    reply_s = parse_quantity(reply, "time", system)
    if not 0.0 < reply_s <= LONGEST_REPLY_S:
        raise InputError(
            "The time for a reply was not taken.",
            f"'{reply.strip()}' is not above 0 s and up to {LONGEST_REPLY_S:g} s.",
            "Type a time such as 0.3 s.",
        )
    times = parse_number(attempts)
    if times not in range(1, MOST_ATTEMPTS + 1):
        raise InputError(
            "The number of attempts was not taken.",
            f"'{attempts.strip()}' is no whole number from 1 to {MOST_ATTEMPTS}.",
            "Type a number such as 3.",
        )
    return Patience(reply_s=reply_s, attempts=int(times))
