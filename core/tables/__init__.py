"""Published tables as data files, each row with its source, and the one loader of them all."""

from core.tables.loader import Table, load_table

__all__ = ["Table", "load_table"]
