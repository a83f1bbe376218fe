"""Linebook without a window: what a line file holds, what is computed from it, what is printed."""
