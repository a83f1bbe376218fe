"""The words of the difference sheet, for `core.sheets.words`."""

from collections.abc import Mapping

ENGLISH: Mapping[str, str] = {
    "difference": "Difference",
    "difference_subtitle": "What changed, what that does to the line, and what to put back",
    "diff_before": "Compared with",
    "diff_after": "Found",
    "diff_none": "Nothing differs.",
    "diff_follows": "What follows, the gravest first",
    "diff_key": (
        "Figures of both sides from the same calculation. + a finding that came, − one that went."
    ),
    "diff_cause": "What changed",
    "diff_effect": "What it does",
    "diff_findings": "Findings",
    "diff_elsewhere": "a change at another station",
    "diff_changes": "Every change",
    "diff_where": "Where",
    "diff_what": "What",
    "diff_was": "Was",
    "diff_now": "Is",
    "diff_wanted": "Put back to",
    "diff_done": "Done",
    "diff_added": "added",
    "diff_removed": "removed",
    "diff_put_back": "To put back, drive by drive in keypad order",
    "diff_put_back_key": (
        "A person at the keypad does this; the machine is stopped and may start by itself. Ask "
        "first why the value was changed."
    ),
    "diff_not_read": "Not read",
    "diff_not_read_key": "These settings could not be read, so nothing can be said of them.",
    "diff_turned": "Changed and changed back",
    "diff_turned_key": (
        "These stand as they stood, and were changed in between; nothing is to be put back."
    ),
    "diff_stands": "Stands at",
    "diff_meanwhile": "Meanwhile",
    "diff_times": "Changes",
    "record_line": "{name} · SHA-256 {digest}",
    "record_changed": "A private copy of {name}, changed since: no frozen record",
}
