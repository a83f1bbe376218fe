"""What can come between a question to a drive and its answer.

These are told as the reason of a setting that was not read; none of them leaves the read-back.
"""

SILENT = "No reply came."
BROKEN = "The connection broke off."
SPOILED = "The reply was spoiled on its way: its checksum is wrong."
NOISE = "What came was no reply: noise, wrong speed or parity, or two drives at one address."
CUT = "Only a part of the reply came."
LATE = "A reply to another question came."
STOPPED = "The reading was stopped."
DISAGREE = "Its replies to the same question differ."
BUSY = "It was busy each time it was asked."

# Codes 1 to 11: MODBUS Application Protocol V1.1b3, section 7.
_DECLINED = {
    1: "it knows no such kind of register (code 1)",
    2: "it has no such register (code 2)",
    3: "it does not take the request (code 3)",
    4: "it failed while reading (code 4)",
    8: "its memory is damaged (code 8)",
}
_BUSY = {5, 6}
_GATEWAY = {
    10: "The gateway has no path to the drive (code 10).",
    11: "No reply came to the gateway (code 11).",
}


class BusFaultError(Exception):
    """Why a question to a drive brought no registers."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


class UnansweredError(BusFaultError):
    """Nothing that can be taken for an answer came; asking again may help."""


class ReplyError(BusFaultError):
    """A sound reply came that holds no registers."""


class DeclinedError(ReplyError):
    """The drive answered that it will not tell these registers."""


class BusyError(ReplyError):
    """The drive, or the gateway to it, answered that it cannot now; asking again may help."""


class LinkLostError(BusFaultError):
    """The port or the connection cannot be opened; no drive behind it can be asked."""


class StoppedError(BusFaultError):
    """The user stopped the reading."""

    def __init__(self) -> None:
        super().__init__(STOPPED)


def of_exception(code: int) -> BusFaultError:
    """The fault that an exception code stands for.

    Examples
    --------
    >>> of_exception(2).reason
    'The drive declined: it has no such register (code 2).'
    """
    if code in _BUSY:
        return BusyError(BUSY)
    if code in _GATEWAY:
        return BusyError(_GATEWAY[code])
    return DeclinedError(f"The drive declined: {_DECLINED.get(code, f'code {code}')}.")


def other_drive(address: int, asked: int) -> str:
    """The words for a reply that carries the address of another drive."""
    return f"Address {address} replied instead of {asked}."
