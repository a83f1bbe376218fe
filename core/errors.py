"""The one family of errors that Linebook tells its user.

Everything a user can act on is a :class:`LinebookError`. Any other exception is a fault of the
program: the outer edge (window or command line) writes it to the log and says so in one sentence.
"""


class LinebookError(Exception):
    """Something the electrician can understand and act on.

    Parameters
    ----------
    what : str
        What did not happen, as a sentence ("The rated power was not taken.").
    why : str
        The cause, with the value found ("'abc' is no number.").
    fix : str
        The next step ("Type a power such as 0.75 kW or 3/4 hp.").
    """

    def __init__(self, what: str, why: str, fix: str) -> None:
        super().__init__(" ".join(part for part in (what, why, fix) if part))
        self.what, self.why, self.fix = what, why, fix


class InputError(LinebookError, ValueError):
    """A typed or imported value was refused; the value that stood there still stands."""


class RangeError(LinebookError, ValueError):
    """A quantity lies outside the range in which a formula holds."""


class LineFileError(LinebookError):
    """A line file could not be read, written, upgraded or locked; its content is untouched."""


class ImportRefusedError(LinebookError):
    """A spreadsheet was refused as a whole.

    ``faults`` lists every bad cell, each with sheet, row and column, so that all can be mended
    in one go.
    """

    def __init__(self, what: str, faults: list[str], fix: str) -> None:
        super().__init__(what, "; ".join(faults), fix)
        self.faults = faults
