"""Frozen records of a line: their canonical text, the line rebuilt from it, and comparison."""

from core.records.canonical import canonical_json, canonical_text, digest, number_text
from core.records.rebuild import RecordError, format_of, line_of

__all__ = [
    "RecordError",
    "canonical_json",
    "canonical_text",
    "digest",
    "format_of",
    "line_of",
    "number_text",
]
