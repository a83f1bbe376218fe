"""Running the migrations; the only module that loads Alembic, and only when there is work."""

import contextlib
from pathlib import Path

from alembic import command
from alembic.config import Config

import migrations
from core.store.connection import connect, make_engine
from core.store.schema import APPLICATION_ID, FORMAT


def configuration() -> Config:
    """Alembic's settings, found beside the installed package and not in the current folder."""
    config = Config()
    config.set_main_option("script_location", str(Path(migrations.__file__).parent))
    return config


def run_migrations(path: Path, to: str = "head") -> None:
    """Run every step that a file lacks, all in one transaction.

    Parameters
    ----------
    path : pathlib.Path
        A file that nobody else has open; it is created when it is not there.
    to : str
        Revision to stop at; the newest by default.
    """
    engine = make_engine(path, mode="rwc", foreign_keys=False)
    try:
        with engine.begin() as connection:
            config = configuration()
            config.attributes["connection"] = connection
            command.upgrade(config, to)
            number = FORMAT if to == "head" else int(to)
            connection.exec_driver_sql(f"PRAGMA application_id={APPLICATION_ID}")
            connection.exec_driver_sql(f"PRAGMA user_version={number}")
    finally:
        engine.dispose()
    # Rebuilt tables leave empty pages behind.
    with contextlib.closing(connect(path)) as raw:
        raw.execute("VACUUM")
