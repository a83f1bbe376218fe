"""Verbs of the command line for proving a line and for later visits: check, freeze, compare."""

import argparse
import dataclasses
import json
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from core.errors import InputError, LinebookError
from core.model import Line
from core.model.choices import LANGUAGES
from core.store import RECORD_KINDS, FrozenRecord, LineFile

NOW = "now"
"""Name of the line as it stands in the file, where a record is asked for."""


def fill_check(verb: argparse.ArgumentParser) -> None:
    """Arguments of ``check``."""
    _line_file(verb)
    verb.add_argument("--json", action="store_true", help="as data, in SI")
    verb.add_argument("--take", type=Path, metavar="TABLE", help="bring in filled answers first")
    verb.add_argument(
        "--level",
        choices=["open", "out", "none"],
        default="open",
        help="exit code 1 for checks that are open or out of limits (default), for those out of "
        "limits only, or never",
    )


def check(parsed: argparse.Namespace) -> int:
    """Print the checks of a line and where they stand."""
    from core.line import compute_line
    from core.line.checks import checks_of
    from core.line.checks.listing import checks_as_data, checks_as_text

    if parsed.take is not None:
        _take_answers(parsed.file, parsed.take)
    line = LineFile.read(parsed.file)
    items = checks_of(compute_line(line))
    if parsed.json:
        print(json.dumps(checks_as_data(items, line), indent=2, ensure_ascii=False))
    else:
        print(checks_as_text(items, line))
    states = {item.state for item in items}
    bad = {"open": {"open", "out"}, "out": {"out"}, "none": set[str]()}[parsed.level]
    return 1 if states & bad else 0


def _take_answers(path: Path, table: Path) -> None:
    from core.exchange import apply_import, plan_import, read_tables

    with LineFile.open(path) as book:
        apply_import(book, plan_import(book.line, read_tables(table)))


def fill_freeze(verb: argparse.ArgumentParser) -> None:
    """Arguments of ``freeze``."""
    _line_file(verb)
    verb.add_argument("--by", required=True, metavar="NAME", help="who freezes it")
    verb.add_argument("--why", required=True, metavar="TEXT", help="the reason")
    verb.add_argument("--as", dest="kind", choices=list(RECORD_KINDS), default="as_commissioned")


def freeze(parsed: argparse.Namespace) -> int:
    """Freeze the line as it stands in the file."""
    from core.line import compute_line
    from core.line.findings import find
    from core.records import keeping

    with LineFile.open(parsed.file) as book:
        results = compute_line(book.line)
        for words in keeping.standing_of(results, find(results)).words():
            print(words, file=sys.stderr)
        made = keeping.freeze(book, book.line, parsed.kind, parsed.by, parsed.why)
    print(f"{made.name}  {made.sha256}")
    return 0


def fill_records(verb: argparse.ArgumentParser) -> None:
    """Arguments of ``records``."""
    _line_file(verb)
    verb.add_argument("--json", action="store_true", help="as data")


def records(parsed: argparse.Namespace) -> int:
    """List the frozen records and whether each, with its photographs, is still what was frozen."""
    from core.store.photos import FAULT_WORDS

    held, faults = LineFile.read_frozen(parsed.file), LineFile.read_photo_faults(parsed.file)
    broken = {record.id: sorted(record.photo_digests & faults.keys()) for record in held}
    if parsed.json:
        told = [
            {
                **{
                    name: value
                    for name, value in dataclasses.asdict(record).items()
                    if name != "content"
                },
                "sound": record.is_sound,
                "photos": len(record.photo_digests),
                "photos_at_fault": {digest: faults[digest] for digest in broken[record.id]},
            }
            for record in held
        ]
        print(json.dumps(told, indent=2, ensure_ascii=False))
    else:
        for record in held:
            state = "verified" if record.is_sound else "ALTERED OUTSIDE LINEBOOK"
            print(f"{record.kind}:{record.revision}  {record.at}  {record.person}  {record.reason}")
            print(f"    {record.sha256}  {state}")
            for digest in broken[record.id]:
                print(f"    photograph {digest}  {FAULT_WORDS[faults[digest]]}")
        if not held:
            print("No record has been frozen.")
    return 1 if any(not record.is_sound or broken[record.id] for record in held) else 0


def fill_readback(verb: argparse.ArgumentParser) -> None:
    """Arguments of ``readback``."""
    _line_file(verb)
    way = verb.add_mutually_exclusive_group(required=True)
    way.add_argument("--table", type=Path, metavar="TABLE", help=".xlsx or .csv of code and value")
    way.add_argument("--bus", action="store_true", help="over the buses of the line, read only")
    verb.add_argument(
        "--port", action="append", metavar="BUS=PORT", help="port of a bus; may be repeated"
    )
    verb.add_argument("--by", required=True, metavar="NAME", help="who reads")
    verb.add_argument("--why", default="Present settings read back", metavar="TEXT")
    verb.add_argument("--json", action="store_true", help="every entry as data")


def readback(parsed: argparse.Namespace) -> int:
    """Read the present settings into an as-found record."""
    from core.readback import read_table
    from core.readback.present import with_present
    from core.records import keeping

    with LineFile.open(parsed.file) as book:
        told: Sequence[str] = ()
        if parsed.bus:
            present = _over_buses(book.line, parsed.port or ())
        else:
            reading = read_table(book.line, parsed.table)
            present, told = reading.settings, reading.faults
        if not (present.counts["read"] or present.counts["refused"]):
            reasons = ", ".join(dict.fromkeys(entry.reason for entry in present.entries))
            raise LinebookError(
                "Nothing was read, and nothing was frozen.",
                reasons or "No drive of the line has a list of settings.",
                "Look at ports, addresses and power, or at the table, and read again.",
            )
        found = with_present(book.line, present)
        made = keeping.freeze(book, found, "as_found", parsed.by, parsed.why)
    counts = present.counts
    if parsed.json:
        entries = [dataclasses.asdict(entry) for entry in present.entries]
        print(json.dumps({"record": made.name, "entries": entries}, indent=2, ensure_ascii=False))
    else:
        print(f"{made.name}  {made.sha256}")
        print(", ".join(f"{count} {state.replace('_', ' ')}" for state, count in counts.items()))
        tags = {station.id: station.tag for station in found.stations}
        for entry in present.entries:
            if entry.state != "read":
                state = entry.state.replace("_", " ")
                print(f"  {tags[entry.station_id]} {entry.code}: {state}. {entry.reason}")
        for station_id in present.without_list:
            print(f"  {tags[station_id]}: nothing is known to read; it has no list of settings.")
        for line in told:
            print(f"  {line}")
    return 0 if present.complete else 1


def _over_buses(line: Line, given: Sequence[str]) -> Any:
    from core.readback import links_to, read_drives

    ports = dict(entry.partition("=")[::2] for entry in given)
    unknown = set(ports) - {bus.name for bus in line.buses}
    if unknown:
        raise InputError(f"There is no bus '{unknown.pop()}'.", "", "See the buses of the line.")
    where = {bus.id: ports.get(bus.name, bus.port) for bus in line.buses}
    links = {bus.id: links_to(bus, where[bus.id]) for bus in line.buses if where[bus.id].strip()}
    if not links:
        raise InputError(
            "Nothing was read.", "No bus of the line has a port.", "Give it with --port BUS=PORT."
        )
    return read_drives(line, links, progress=_progress)


def _progress(progress: Any) -> None:
    told = f"{progress.done} of {progress.total} drives done, {progress.tag}"
    print(told, file=sys.stderr, flush=True)


def fill_compare(verb: argparse.ArgumentParser) -> None:
    """Arguments of ``compare``."""
    _line_file(verb)
    verb.add_argument(
        "before", nargs="?", default="as_commissioned", help="a record; the newest as_commissioned"
    )
    verb.add_argument(
        "after",
        nargs="?",
        help="a record, or 'now'; the newest as_found since that record, or else now",
    )
    verb.add_argument("--json", action="store_true", help="as data")
    verb.add_argument("--to", type=Path, metavar="FOLDER", help="write the difference sheet too")
    language_option(verb, "language of that sheet")


def compare(parsed: argparse.Namespace) -> int:
    """Compare two records, or a record with the line as it is; say what follows."""
    from core.records.comparing import compare as compared
    from core.records.consequences import consequences
    from core.records.listing import difference_as_data, difference_as_text
    from core.store.frozen import named

    if parsed.language is not None and parsed.to is None:
        raise InputError(
            "--language is that of the difference sheet, and none is asked for.",
            "",
            "Name the folder that it goes to with --to FOLDER.",
        )
    held = LineFile.read_frozen(parsed.file)
    parsed.after = parsed.after or _found_since(held, parsed.before)
    before, after = (_side(parsed.file, held, name) for name in (parsed.before, parsed.after))
    print(f"{_name(held, parsed.before)} → {_name(held, parsed.after)}", file=sys.stderr)
    difference = compared(before, after)
    follows = consequences(difference)
    turned: Sequence[Any] = ()
    if parsed.before != NOW:
        until = "" if parsed.after == NOW else named(held, parsed.after).at
        turned = _back_and_forth(parsed.file, named(held, parsed.before).at, until, after)
    if parsed.json:
        data = difference_as_data(difference, follows, turned)
        print(json.dumps(data, indent=2, ensure_ascii=False))
    else:
        print(difference_as_text(difference, follows))
        if turned:
            print("\nChanged and changed back since then")
        for each in turned:
            print(f"  {each.sentence()}")
    if parsed.to is not None:
        words: dict[str, Any] = {"turned": turned, "digests": _digests(held, parsed)}
        words["language"] = parsed.language
        names = (_name(held, parsed.before), _name(held, parsed.after))
        _write_difference(difference, follows, names, words, parsed.to)
    return 1 if difference.changes else 0


def _found_since(held: Sequence[FrozenRecord], before: str) -> str:
    """What a visit found since a record was frozen: whoever reads back and compares means that."""
    from core.store.frozen import named

    if before == NOW:
        return NOW
    first = named(held, before)
    found = [each for each in held if each.kind == "as_found" and each.id > first.id]
    return str(found[-1].id) if found else NOW


def _back_and_forth(path: Path, since: str, until: str, line: Line) -> Sequence[Any]:
    from core.records.back_and_forth import back_and_forth, told_back_and_forth

    return told_back_and_forth(back_and_forth(LineFile.read_history(path), since, until), line)


def _digests(held: Sequence[FrozenRecord], parsed: argparse.Namespace) -> tuple[str, str]:
    from core.store.frozen import named

    before, after = (
        "" if name == NOW else named(held, name).sha256 for name in (parsed.before, parsed.after)
    )
    return before, after


def _name(held: Sequence[FrozenRecord], name: str) -> str:
    from core.store.frozen import named

    return "The line as it stands in the file" if name == NOW else named(held, name).name


def _write_difference(
    difference: Any, follows: Any, names: tuple[str, str], words: dict[str, Any], folder: Path
) -> None:
    import datetime

    from core.sheets import write_pdf, write_xlsx
    from core.sheets.difference_sheet import difference_sheet

    folder.mkdir(parents=True, exist_ok=True)
    today = datetime.date.today()
    document = difference_sheet(difference, follows, *names, today=today, **words)
    write_pdf(document, folder / "difference.pdf")
    write_xlsx(document, folder / "difference.xlsx")
    for ending in ("pdf", "xlsx"):
        print(folder / f"difference.{ending}", file=sys.stderr)


def _side(path: Path, held: Sequence[FrozenRecord], name: str) -> Line:
    from core.records.keeping import line_of_record
    from core.store.frozen import named

    return LineFile.read(path) if name == NOW else line_of_record(named(held, name))


def frozen_line(path: Path, name: str, language: str | None = None) -> tuple[Line, Any]:
    """The line of a frozen record, and the `Origin` that sheets of it name.

    Both speak the language that is given; without one that which the record stores.
    """
    from core.sheets import printed_in
    from core.sheets.front import record_origin
    from core.store.frozen import named

    held = LineFile.read_frozen(path)
    line, record = printed_in(_side(path, held, name), language), named(held, name)
    return line, record_origin(line, record.name, record.sha256)


def language_option(verb: argparse.ArgumentParser, of: str) -> None:
    """Add ``--language``: which language is printed, whatever the line or its record stores."""
    verb.add_argument(
        "--language",
        choices=list(LANGUAGES),
        help=f"{of}, whatever the line or the record is stored with",
    )


def _line_file(verb: argparse.ArgumentParser) -> None:
    verb.add_argument("file", type=Path, metavar="FILE", help="a .linebook file")
