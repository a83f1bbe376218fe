"""Few reads of many registers: which registers of a drive to ask for at once."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from core.readback.registers import RegisterForm, Table, Words

# The most that one reply can carry (MODBUS Application Protocol V1.1b3, 6.3).
LONGEST = 125
# A request of its own costs about as many characters as this many registers that nobody needs.
GAP = 8


@dataclass(frozen=True, slots=True)
class Block:
    """Registers that stand together, and the settings that they hold."""

    table: Table
    first: int
    count: int
    forms: tuple[RegisterForm, ...]

    def shares(self, words: Words) -> Iterator[tuple[RegisterForm, Words]]:
        """Each setting with its own words out of those of the block."""
        for form in self.forms:
            start = form.register - self.first
            yield form, words[start : start + form.words]


def plan_blocks(
    forms: Iterable[RegisterForm], *, gap: int = GAP, longest: int = LONGEST
) -> tuple[Block, ...]:
    """Gather settings into few blocks, none of which parts the words of a setting.

    Parameters
    ----------
    forms : iterable of RegisterForm
        The settings to read, in any order; several may share a register
    gap : int
        The most registers in a row that may be read though no setting needs them
    longest : int
        The most registers in a block

    Returns
    -------
    tuple of Block
        By table and register; every form is in exactly one of them

    Examples
    --------
    >>> listed = [RegisterForm(100), RegisterForm(102, "u32"), RegisterForm(300)]
    >>> [(block.first, block.count) for block in plan_blocks(listed)]
    [(100, 4), (300, 1)]
    """
    blocks: list[Block] = []
    for form in sorted(set(forms), key=lambda form: (form.table, form.register, form.last)):
        last = blocks[-1] if blocks else None
        if last and _fits(last, form, gap, longest):
            count = max(last.count, form.last - last.first + 1)
            blocks[-1] = Block(last.table, last.first, count, (*last.forms, form))
        else:
            blocks.append(alone(form))
    return tuple(blocks)


def alone(form: RegisterForm) -> Block:
    """The block of one setting."""
    return Block(form.table, form.register, form.words, (form,))


def _fits(block: Block, form: RegisterForm, gap: int, longest: int) -> bool:
    return (
        form.table == block.table
        and form.register - (block.first + block.count) <= gap
        and form.last - block.first < longest
    )
