"""The verbs of the command line; each does the window's work without a window."""

import argparse
import json
import shutil
import sys
import tempfile
from collections.abc import Callable, Mapping, Sequence
from importlib.resources import as_file, files
from pathlib import Path
from typing import Any, NoReturn

from app import record_verbs
from core.errors import LinebookError
from core.model.choices import UNIT_SYSTEMS, WIRING_RULES
from core.store import SUFFIX, LineFile

LEVELS = ("blocker", "fault", "advice")
EPILOG = """Linebook calculates and records. It does not license anyone to work on live equipment:
local code, the authority and a licensed person decide."""
_SAMPLE = "quillback_hollow"


class _Parser(argparse.ArgumentParser):
    def error(self, message: str) -> NoReturn:
        raise LinebookError(f"{message[:1].upper()}{message[1:]}.", "", f"Try: {self.prog} --help")


def run(arguments: Sequence[str]) -> int:
    """Do what the command line asks; gives the exit code.

    Raises
    ------
    LinebookError
        The words or files given cannot be used.
    """
    if not arguments or (arguments[0] not in _VERBS and not arguments[0].startswith("-")):
        return _window(Path(arguments[0]) if arguments else None, arguments[1:])
    parsed = _parser().parse_args(arguments)
    act: Callable[[argparse.Namespace], int] = parsed.act
    return act(parsed)


def _window(path: Path | None, rest: Sequence[str]) -> int:
    if rest:
        raise LinebookError(
            f"'{path}' is no verb of linebook, and a file takes no more words.",
            "",
            "Try: linebook --help",
        )
    if path is not None and not path.exists():
        raise LinebookError(
            f"There is no file '{path}'.", "", f"Make one with: linebook new {path.stem}{SUFFIX}"
        )
    from app.display import check_display

    check_display()
    from app.window import run_window

    return run_window(path)


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="linebook",
        description="The workbook of a fruit-handling line. 'linebook FILE' opens the window.",
        epilog=EPILOG,
    )
    verbs = parser.add_subparsers(required=True, metavar="VERB")
    for name, (help_text, fill, act) in _VERBS.items():
        verb = verbs.add_parser(name, help=help_text, description=help_text, epilog=EPILOG)
        fill(verb)
        verb.set_defaults(act=act)
    return parser


def _line_file(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("file", type=Path, metavar="FILE", help="a .linebook file")


def _line_or_record(verb: argparse.ArgumentParser) -> None:
    _line_file(verb)
    verb.add_argument("--record", metavar="NAME", help="of a frozen record, not of the line now")


def _line_of(parsed: argparse.Namespace) -> Any:
    if parsed.record is None:
        return LineFile.read(parsed.file)
    return record_verbs.frozen_line(parsed.file, parsed.record)[0]


def _fill_new(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("file", type=Path, metavar="FILE", help="the .linebook file to make")
    verb.add_argument("--name", default="", help="name of the line")
    verb.add_argument("--units", choices=list(UNIT_SYSTEMS), default="metric")
    verb.add_argument("--rules", choices=list(WIRING_RULES), default=None, help="wiring rules")


def _new(parsed: argparse.Namespace) -> int:
    path = _with_suffix(parsed.file)
    us = parsed.units == "us"
    rules = parsed.rules or ("nec" if us else "iec")
    paper = "letter" if us else "a4"
    LineFile.create(
        path,
        name=parsed.name or path.stem,
        unit_system=parsed.units,
        wiring_rules=rules,
        paper=paper,
    ).close()
    print(f"Made {path}")
    return 0


def _with_suffix(path: Path) -> Path:
    return path if path.suffix == SUFFIX else path.with_name(path.name + SUFFIX)


def _fill_template(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("target", type=Path, metavar="TARGET", help="an .xlsx file, or a folder")
    verb.add_argument("--units", choices=list(UNIT_SYSTEMS), default="metric")
    verb.add_argument(
        "--from", dest="source", type=Path, metavar="FILE", help="fill it from a line"
    )


def _template(parsed: argparse.Namespace) -> int:
    from core.exchange import export_line, write_template

    if parsed.source is None:
        made = write_template(parsed.target, parsed.units)
    else:
        made = export_line(LineFile.read(parsed.source), parsed.target)
    for path in made:
        print(path)
    return 0


def _fill_import(verb: argparse.ArgumentParser) -> None:
    _line_file(verb)
    verb.add_argument("table", type=Path, metavar="TABLE", help=".xlsx, .csv or a folder of .csv")
    verb.add_argument("--dry-run", action="store_true", help="tell what would change, no more")


def _import(parsed: argparse.Namespace) -> int:
    from core.exchange import apply_import, plan_import, read_tables

    tables = read_tables(parsed.table)
    if parsed.dry_run:
        plan = plan_import(LineFile.read(parsed.file), tables)
        print("\n".join(plan.summary) or "Nothing would change.")
        return 0
    with LineFile.open(parsed.file) as book:
        plan = plan_import(book.line, tables)
        apply_import(book, plan)
    print("\n".join(plan.summary) or "Nothing changed.")
    return 0


def _fill_results(verb: argparse.ArgumentParser) -> None:
    _line_or_record(verb)
    verb.add_argument(
        "--json", action="store_true", help="every figure, with its SI unit in its key"
    )


def _results(parsed: argparse.Namespace) -> int:
    from core.line import compute_line, results_as_data, results_as_text

    line = _line_of(parsed)
    results = compute_line(line)
    if parsed.json:
        print(json.dumps(results_as_data(results), indent=2, ensure_ascii=False))
    else:
        print(results_as_text(results))
    return 0


def _fill_findings(verb: argparse.ArgumentParser) -> None:
    _line_or_record(verb)
    verb.add_argument("--json", action="store_true", help="as data")
    verb.add_argument(
        "--level",
        choices=[*LEVELS, "none"],
        default="fault",
        help="exit code 1 when an open finding is at least as heavy (default: fault)",
    )


def _findings(parsed: argparse.Namespace) -> int:
    from core.line import compute_line
    from core.line.findings import find
    from core.line.findings.listing import findings_as_data, findings_as_text

    line = _line_of(parsed)
    findings = find(compute_line(line))
    if parsed.json:
        print(json.dumps(findings_as_data(findings, line), indent=2, ensure_ascii=False))
    else:
        print(findings_as_text(findings, line))
    if parsed.level == "none":
        return 0
    heavy = LEVELS[: LEVELS.index(parsed.level) + 1]
    return 1 if any(entry.level in heavy for entry in findings.open) else 0


def _fill_plan(verb: argparse.ArgumentParser) -> None:
    _line_or_record(verb)
    verb.add_argument("--json", action="store_true", help="as data, in SI, with workings")
    verb.add_argument("--recipe", metavar="NAME", help="this recipe only")


def _plan(parsed: argparse.Namespace) -> int:
    from core.line import compute_line
    from core.line.plan_listing import plan_as_data, plan_as_text

    results = compute_line(_line_of(parsed))
    names = [plan.recipe.name if plan.recipe else "" for plan in results.plans]
    if parsed.recipe is not None and parsed.recipe not in names:
        raise LinebookError(
            f"There is no recipe '{parsed.recipe}'.",
            "",
            f"There are: {', '.join(filter(None, names)) or 'none'}.",
        )
    if parsed.json:
        print(json.dumps(plan_as_data(results, parsed.recipe), indent=2, ensure_ascii=False))
    else:
        print(plan_as_text(results, parsed.recipe))
    return 0


def _fill_sheets(verb: argparse.ArgumentParser) -> None:
    _line_file(verb)
    verb.add_argument("--to", type=Path, default=Path("handover"), metavar="FOLDER")
    verb.add_argument("--sheet", action="append", metavar="NAME", help="one sheet; may be repeated")
    verb.add_argument("--format", choices=["pdf", "xlsx", "both"], default="both")
    verb.add_argument("--record", metavar="NAME", help="of a frozen record, not of the line now")
    record_verbs.language_option(verb, "language of the sheets")
    for kind in ("wire", "station"):
        verb.add_argument(
            f"--first-{kind}-label",
            type=int,
            default=1,
            metavar="N",
            help=f"place of the first {kind} label on a sheet that is used in part",
        )


def _sheets(parsed: argparse.Namespace) -> int:
    from core.sheets import printed_in

    line, origin = printed_in(LineFile.read(parsed.file), parsed.language), None
    if parsed.record is not None:
        line, origin = record_verbs.frozen_line(parsed.file, parsed.record, parsed.language)
    firsts = (parsed.first_wire_label, parsed.first_station_label)
    photos = LineFile.read_photos(parsed.file, line.photo_digests)
    written = write_sheets(
        line, parsed.to, parsed.sheet, parsed.format, origin, firsts, photos=photos
    )
    for path in written:
        print(path)
    return 0


def write_sheets(
    line: Any,
    folder: Path,
    names: Sequence[str] | None = None,
    form: str = "both",
    origin: Any = None,
    first_labels: tuple[int, int] = (1, 1),
    photos: Mapping[str, bytes] | None = None,
) -> list[Path]:
    """Write the sheets of a line into a folder; gives the files written.

    ``origin`` names the frozen record that the line comes from, with its digest;
    ``first_labels`` is where wire labels and station labels begin on their sheets; ``photos`` are
    the bytes of the line's photographs by their digest.
    """
    import dataclasses
    import datetime

    from core.line import compute_line
    from core.sheets import SHEETS, starting_at, write_pdf, write_xlsx

    unknown = [name for name in names or () if name not in SHEETS]
    if unknown:
        raise LinebookError(
            f"There is no sheet '{unknown[0]}'.", "", f"There are: {', '.join(SHEETS)}."
        )
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise LinebookError(
            f"The folder {folder} was not made.", f"The system says: {error.strerror}.", ""
        ) from error
    results = compute_line(line)
    written = []
    for name in names or SHEETS:
        document = SHEETS[name].build(line, results, today=datetime.date.today())
        document = starting_at(document, *first_labels)
        document = dataclasses.replace(document, photos=photos or {})
        if origin is not None:
            document = origin.on(document)
        if form in ("pdf", "both"):
            written.append(folder / f"{name}.pdf")
            write_pdf(document, written[-1])
        if form in ("xlsx", "both"):
            written.append(folder / f"{name}.xlsx")
            write_xlsx(document, written[-1])
    return written


def _fill_demo(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("--sample", choices=["quillback_hollow", "lindenmoor"], default=_SAMPLE)


def _demo(parsed: argparse.Namespace) -> int:
    from app.display import missing_display

    private = Path(tempfile.mkdtemp(prefix="linebook-demo-")) / f"{parsed.sample}{SUFFIX}"
    with as_file(files("sample_projects").joinpath(private.name)) as sample:
        shutil.copyfile(sample, private)
    reason = missing_display()
    if reason is None:
        return _window(private, [])
    print(f"{reason} The sheets of the sample line go to ./handover instead:", file=sys.stderr)
    for path in write_sheets(LineFile.read(private), Path("handover")):
        print(path)
    shutil.rmtree(private.parent, ignore_errors=True)
    return 0


_Verb = tuple[str, Callable[[argparse.ArgumentParser], None], Callable[[argparse.Namespace], int]]
_VERBS: dict[str, _Verb] = {
    "demo": ("open a private copy of a sample line", _fill_demo, _demo),
    "new": ("make a line file", _fill_new, _new),
    "template": ("write the spreadsheet to fill in", _fill_template, _template),
    "import": ("bring a filled spreadsheet into a line file", _fill_import, _import),
    "results": ("print what is computed from a line file", _fill_results, _results),
    "findings": ("print what the rules say about a line", _fill_findings, _findings),
    "plan": ("print the speed plan of every recipe", _fill_plan, _plan),
    "check": (
        "print the checks of a line and where they stand",
        record_verbs.fill_check,
        record_verbs.check,
    ),
    "freeze": (
        "freeze the line as a record that never changes",
        record_verbs.fill_freeze,
        record_verbs.freeze,
    ),
    "records": (
        "list the frozen records and verify them",
        record_verbs.fill_records,
        record_verbs.records,
    ),
    "readback": (
        "read the present settings into an as-found record",
        record_verbs.fill_readback,
        record_verbs.readback,
    ),
    "compare": (
        "compare two records, or a record with the line, and say what follows",
        record_verbs.fill_compare,
        record_verbs.compare,
    ),
    "sheets": ("write the sheets as PDF and XLSX", _fill_sheets, _sheets),
}
