"""Spreadsheets: the template to fill in, reading, importing, and exporting a whole line."""

from core.exchange.exporting import export_line
from core.exchange.importing import apply_import, plan_import
from core.exchange.plan import ImportPlan
from core.exchange.reading import Table, read_tables
from core.exchange.template import write_template

__all__ = [
    "ImportPlan",
    "Table",
    "apply_import",
    "export_line",
    "plan_import",
    "read_tables",
    "write_template",
]
