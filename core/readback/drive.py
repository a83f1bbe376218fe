"""Ask one drive for all of its settings, and take no reply for another."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from core.readback import faults
from core.readback.blocks import Block, alone, plan_blocks
from core.readback.client import ReadOnlyClient
from core.readback.registers import RegisterForm, Table, Words

# Questions in a row, each asked to the last attempt, after which a drive is given up: one that
# never answered, and one that did.
_GIVE_UP = {False: 2, True: 3}

Found = Words | str
"""The words of a setting, or why they were not read."""


@dataclass(slots=True)
class DriveReader:
    """The exchange with one drive.

    A reply on a serial bus does not say which question it answers. One that comes after its wait is
    over could be taken for the answer to a later question, if it is of the same length. So every
    question that went without its reply is counted, and where n replies of the same length may
    still come from earlier questions, a question counts as answered only after n + 1 replies that
    agree: one of them at least is its own.
    """

    client: ReadOnlyClient
    address: int
    found: dict[RegisterForm, Found] = field(default_factory=dict)
    _owed: Counter[tuple[Table, int]] = field(default_factory=Counter)
    _heard: bool = False
    _failures: int = 0
    _pace: int = 1
    _last: str = ""

    def read(self, forms: Iterable[RegisterForm]) -> None:
        """Read settings in few blocks, and where a block fails, in smaller parts.

        Parameters
        ----------
        forms : iterable of RegisterForm
            The settings to read

        Raises
        ------
        LinkLostError
            The connection cannot be opened
        StoppedError
            The user stopped the reading

        Notes
        -----
        ``found`` grows as the drive answers: each form with its words, or with the reason why it
        was not read. It holds what was read until an exception came.
        """
        for block in plan_blocks(forms):
            self._take(block)

    def _take(self, block: Block) -> None:
        """Read a block; where that fails, its runs without gaps, and then each setting."""
        told = self._told(block)
        if isinstance(told, str) and len(block.forms) > 1:
            runs = plan_blocks(block.forms, gap=0)
            for part in runs if len(runs) > 1 else map(alone, block.forms):
                self._take(part)
        else:
            self.found |= _shared(block, told)

    def _told(self, block: Block) -> Found:
        """The words of a block or why there are none; a drive that was given up is not asked."""
        if self._failures >= _GIVE_UP[self._heard]:
            return self._last
        try:
            words = self._asked(block)
        except faults.DeclinedError as fault:
            self._heard, self._failures = True, 0
            return fault.reason
        except (faults.UnansweredError, faults.BusyError) as fault:
            self._failures += 1
            self._last = fault.reason
            return fault.reason
        self._heard, self._failures = True, 0
        return words

    def _asked(self, block: Block) -> Words:
        patience = self.client.patience
        owed = self._owed[block.table, block.count]
        # Whether anybody is there at all is worth no second series of waits.
        attempts = 1 if self._failures and not self._heard else patience.attempts
        last: faults.BusFaultError
        for attempt in range(self._pace, self._pace + attempts):
            try:
                words = self._confirmed(block, owed, attempt)
            except faults.BusyError as fault:
                last = fault
                if self.client.stop.wait(patience.reply_s):
                    raise faults.StoppedError from None
            except faults.UnansweredError as fault:
                last = fault
            else:
                # A drive that was slow once is given as long from the start.
                self._pace = min(attempt, patience.attempts)
                return words
        raise last

    def _confirmed(self, block: Block, owed: int, attempt: int) -> Words:
        words = self._once(block, attempt)
        for _ in range(owed):
            if self._once(block, attempt) != words:
                raise faults.UnansweredError(faults.DISAGREE)
        return words

    def _once(self, block: Block, attempt: int) -> Words:
        client = self.client
        ask = (
            client.read_holding_registers
            if block.table == "holding"
            else client.read_input_registers
        )
        try:
            return ask(block.first, block.count, device=self.address, attempt=attempt)
        except faults.ReplyError:
            # While a reply is owed, a refusal too may be that to an earlier question.
            self._owed[block.table, block.count] += bool(self._owed.total())
            raise
        except faults.UnansweredError:
            self._owed[block.table, block.count] += 1
            raise


def _shared(block: Block, told: Found) -> dict[RegisterForm, Found]:
    if isinstance(told, str):
        return dict.fromkeys(block.forms, told)
    return dict(block.shares(told))
