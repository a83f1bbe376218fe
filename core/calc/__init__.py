"""The physics of a motor station: pure functions on SI floats, rotation in rad/s.

Each function states its formula, its range of validity and its source, and refuses what lies
outside of that range with :class:`core.errors.RangeError`. Nothing here knows a line, a file or a
window.
"""
