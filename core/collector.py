"""Making very many small frozen records without the garbage collector in between."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def without_collector() -> Iterator[None]:
    """Hold the collector while many records are made that all stay.

    It was measured to take two thirds of the time of loading a large line: it looks again and
    again at records of which none can be let go.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
