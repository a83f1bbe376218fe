"""Where Linebook starts: a verb of the command line, or the window."""

import sys
from collections.abc import Sequence

from app.log import note_fault, start_log
from core.errors import ImportRefusedError, LinebookError

DONE, FOUND, REFUSED = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run Linebook; gives the exit code (0 done, 1 findings or differences, 2 refused)."""
    start_log()
    # The command line is told in the words of its user's locale, but never dies of one sign.
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        from app.command_line import run

        return run(list(sys.argv[1:] if arguments is None else arguments))
    except ImportRefusedError as error:
        _tell(error.what)
        for fault in error.faults:
            print(f"  {fault}", file=sys.stderr)
        _tell(error.fix)
        return REFUSED
    except LinebookError as error:
        _tell(str(error))
        return REFUSED
    except BrokenPipeError:
        return DONE
    except KeyboardInterrupt:
        _tell("Stopped.")
        return REFUSED
    except Exception as error:
        _tell(note_fault(error))
        return REFUSED


def _tell(sentence: str) -> None:
    print(f"linebook: {sentence}", file=sys.stderr)


if __name__ == "__main__":
    sys.exit(main())
